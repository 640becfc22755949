package print_test

import (
	"context"
	"io"
	"testing"

	"bookstead/internal/print"
	"bookstead/internal/print/pdf"
)

// long is a document of about n pages.
func long(n int) print.Document {
	doc := sample()
	one := doc.Blocks[:len(doc.Blocks)-1] // without the sheet of cards
	doc.Blocks = nil
	for i := 0; i < n/4; i++ {
		doc.Blocks = append(doc.Blocks, one...)
		doc.Blocks = append(doc.Blocks, print.PageBreak{})
	}
	return doc
}

func BenchmarkLayout300(b *testing.B) {
	e, doc := engine(b), long(300)
	b.ReportAllocs()
	for b.Loop() {
		f, err := e.Layout(context.Background(), doc, print.Standard(print.Letter()), nil)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(f.Pages)), "pages")
	}
}

func BenchmarkWrite300(b *testing.B) {
	f := lay(b, long(300), print.Standard(print.Letter()))
	b.ReportAllocs()
	for b.Loop() {
		if err := pdf.Write(io.Discard, f, pdf.Options{Edition: print.Teacher}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEngine(b *testing.B) {
	for b.Loop() {
		engine(b)
	}
}
