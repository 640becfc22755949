package print_test

import (
	"context"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"bookstead/internal/print"
	"bookstead/internal/print/pdf"
)

// long is a document of about n pages in words of their own, as in a book: each
// lesson has 1,500 words, one in ten of them new.
func long(n int) print.Document {
	r := rand.New(rand.NewPCG(1, 2))
	var known []string
	syllables := strings.Fields("ba den fri go hap ing jo kel lum mer na ow per qui ri sto ter un ver wa yel th sh ment tion")
	words := func(n int) print.Text {
		var b strings.Builder
		for i := range n {
			if len(known) == 0 || r.IntN(10) == 0 {
				w := ""
				for range 1 + r.IntN(4) {
					w += syllables[r.IntN(len(syllables))]
				}
				known = append(known, w)
			}
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(known[r.IntN(len(known))])
		}
		return print.Plain(b.String())
	}
	doc := print.Document{Title: "Long", Language: "en-US", Running: print.Running{Left: "Long", Right: "Teacher", Name: "Name"}}
	add := func(b ...print.Block) { doc.Blocks = append(doc.Blocks, b...) }
	for range n / 4 {
		add(print.Heading{Level: 1, Text: words(2), Subtitle: words(6), NewPage: true})
		add(print.Heading{Level: 2, Text: words(3)})
		for range 5 {
			add(print.Paragraph{Text: words(60)})
		}
		for range 6 {
			add(print.Word{Head: words(1), Note: words(1), Sentence: words(22), Lines: 1, Answer: words(6), Mark: "quiz"})
		}
		for range 12 {
			add(print.Question{Number: "1", Text: words(18), Lines: 2, Answer: words(30), Mark: "test"})
		}
		add(print.Paragraph{Kind: print.Quote, Text: words(80)})
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
