//go:build bench

package bench

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

// shared is where the test data lies: beside the checkout, or where the
// environment says.
func shared() string {
	if d := os.Getenv("BOOKSTEAD_SHARED"); d != "" {
		return d
	}
	return "../../../shared"
}

// Chapters of six public-domain novels, counted in their own tables of contents.
var books = []struct {
	file                string
	chapters, parts     int
	introductions, ends int
}{
	{"the-secret-garden.epub", 27, 0, 0, 0},
	{"the-wonderful-wizard-of-oz.epub", 24, 0, 1, 0},
	{"black-beauty.epub", 49, 4, 0, 0},
	{"alices_adventures_in_wonderland.txt", 12, 0, 0, 0},
	{"the_adventures_of_tom_sawyer.txt", 35, 0, 0, 1},
	{"little_women.txt", 47, -1, 0, 0},
}

func class4(grade int) class.Class {
	c := class.Class{ID: "bench", Name: fmt.Sprintf("Grade %d", grade), Grade: grade, Settings: class.Defaults(grade)}
	c.Calendar = calendar.PlainYear(calendar.Of(2026, 9, 7), c.Settings.Minutes)
	return c
}

// TestSharedBooks makes the whole kit of each novel and prints what came out.
func TestSharedBooks(t *testing.T) {
	fmt.Printf("%-38s %8s %8s %8s %8s %8s %9s %8s\n", "book", "chapters", "words", "lessons", "items", "pages", "seconds", "words/s")
	for _, b := range books {
		path := filepath.Join(shared(), "books", b.file)
		f, err := os.Open(path)
		if err != nil {
			t.Fatalf("the novels are missing: %v", err)
		}
		st, _ := f.Stat()
		start := time.Now()
		m, err := prepare.WholeKit(context.Background(), f, st.Size(), b.file, class4(4), time.Date(2026, 9, 1, 0, 0, 0, 0, time.UTC), nil)
		f.Close()
		if err != nil {
			t.Errorf("%s: %v", b.file, err)
			continue
		}
		secs := time.Since(start).Seconds()
		n := map[book.ChapterKind]int{}
		words := 0
		for _, c := range m.Book.Chapters {
			n[c.Kind]++
			if c.Kind.Told() {
				words += book.Words(m.Book.Slice(c.Span))
			}
		}
		items, pages := 0, 0
		vocabulary := map[string]int{}
		for _, l := range m.Lessons {
			for _, it := range l.Items {
				if it.Printed(false) {
					items++
					if it.Kind == kit.Vocabulary {
						vocabulary[strings.ToLower(it.Content.Lemma)]++
					}
				}
			}
		}
		for _, f := range m.Files {
			pages += f.Pages
		}
		fmt.Printf("%-38s %8d %8d %8d %8d %8d %9.2f %8.0f\n", b.file, n[book.Body], words, len(m.Lessons), items, pages, secs, float64(words)/secs)
		if n[book.Body] != b.chapters || b.parts >= 0 && len(m.Book.Parts) != b.parts || n[book.Introduction] < b.introductions || n[book.Conclusion] != b.ends {
			t.Errorf("%s: %v and %d parts", b.file, n, len(m.Book.Parts))
		}
		for w, k := range vocabulary {
			if k > 1 {
				t.Errorf("%s: %q is taught %d times", b.file, w, k)
			}
		}
	}
	var ms runtime.MemStats
	runtime.ReadMemStats(&ms)
	fmt.Printf("memory taken from the system: %d MB\n", ms.Sys>>20)
}
