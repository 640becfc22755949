package english

import (
	"context"
	"os"
	"strings"
	"testing"
)

// demoNovel is the short novel that the demo reads.
func demoNovel(b *testing.B) string {
	b.Helper()
	text, err := os.ReadFile("../../demo/novel.txt")
	if err != nil {
		b.Fatal(err)
	}
	return string(text)
}

func perWord(b *testing.B, text string) {
	words := float64(len(strings.Fields(text)) * b.N)
	b.ReportMetric(words/b.Elapsed().Seconds(), "words/s")
}

// BenchmarkAnnotate is the fast way: tokens, sentences, tags, lemmas and types.
func BenchmarkAnnotate(b *testing.B) {
	text := strings.Repeat(demoNovel(b)+"\n\n", 11) // about as long as a novel
	for b.Loop() {
		if _, err := Annotate(context.Background(), text, nil, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	perWord(b, text)
}

// BenchmarkUnderstand is everything.
func BenchmarkUnderstand(b *testing.B) {
	text := demoNovel(b)
	for b.Loop() {
		d, err := Cut(context.Background(), text, nil, Options{})
		if err == nil {
			err = Understand(context.Background(), d, Options{})
		}
		if err != nil {
			b.Fatal(err)
		}
	}
	perWord(b, text)
}
