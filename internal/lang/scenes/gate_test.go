//go:build bench

package scenes_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bookstead/internal/book/importer"
	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lang/score"
	"bookstead/internal/passage"
)

// TestScenesGate looks how many of the scenes that a reader marked in chapters
// of five novels are found, at the paragraph or the next to it, and how many
// that are found were marked. The floor only keeps it from getting worse.
func TestScenesGate(t *testing.T) {
	const floor = 0.62
	shared := os.Getenv("BOOKSTEAD_SHARED")
	if shared == "" {
		shared = "../../../../shared"
	}
	marked, err := os.ReadFile("testdata/scenes.tsv")
	if err != nil {
		t.Fatal(err)
	}
	gold := map[string][][]string{} // by book: chapters, each its first words and those of its scenes
	var books []string
	for line := range strings.Lines(string(marked)) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		switch {
		case len(f) != 3:
		case f[1] == "chapter":
			if gold[f[0]] == nil {
				books = append(books, f[0])
			}
			gold[f[0]] = append(gold[f[0]], []string{f[2]})
		default:
			g := gold[f[0]]
			g[len(g)-1] = append(g[len(g)-1], f[2])
		}
	}
	var all score.F
	for _, name := range books {
		d := understood(t, filepath.Join(shared, "books", name))
		var f score.F
		for _, chapter := range gold[name] {
			first, last := chapterOf(d, chapter[0])
			if first < 0 {
				t.Fatalf("%s: no chapter begins %q", name, chapter[0])
			}
			found := map[int]bool{}
			for _, s := range d.Scenes {
				if p := paragraphAt(d, s.Start); p > first && p < last && s.Break != "mark" {
					found[p] = true
				}
			}
			f.Gold, f.System = f.Gold+len(chapter)-1, f.System+len(found)
			for _, words := range chapter[1:] {
				p := first
				for p < last && !strings.HasPrefix(oneLine(d, p), words) {
					p++
				}
				if p == last {
					t.Fatalf("%s: no paragraph begins %q", name, words)
				}
				for _, near := range []int{p, p - 1, p + 1} {
					if found[near] {
						f.Correct++
						delete(found, near)
						break
					}
				}
			}
		}
		fmt.Printf("%-38s marked %d, found %d, right %d\n", name, f.Gold, f.System, f.Correct)
		all = all.Add(f)
	}
	fmt.Printf("scenes: precision %.2f recall %.2f F1 %.3f\n", float64(all.Correct)/float64(max(1, all.System)), float64(all.Correct)/float64(all.Gold), all.F1())
	if all.F1() < floor {
		t.Errorf("F1 %.3f is under its floor of %.2f", all.F1(), floor)
	}
}

func understood(t *testing.T, path string) *lang.Doc {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatalf("the novels are missing: %v", err)
	}
	defer f.Close()
	st, _ := f.Stat()
	b, err := importer.Import(context.Background(), filepath.Base(path), f, st.Size(), nil)
	if err != nil {
		t.Fatal(err)
	}
	d, err := english.Cut(context.Background(), b.Text, passage.Paragraphs(b), english.Options{})
	if err == nil {
		err = english.Understand(context.Background(), d, english.Options{})
	}
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func oneLine(d *lang.Doc, p int) string {
	return strings.Join(strings.Fields(d.Text[d.Paragraphs[p].Start:d.Paragraphs[p].End]), " ")
}

// chapterOf returns the paragraphs of the chapter that begins so: [first, last).
func chapterOf(d *lang.Doc, words string) (first, last int) {
	first = -1
	for p := range d.Paragraphs {
		heading := d.Paragraphs[p].Kind == "heading"
		switch {
		case first < 0 && strings.HasPrefix(oneLine(d, p), words):
			first = p
		case first >= 0 && heading:
			return first, p
		}
	}
	return first, len(d.Paragraphs)
}

func paragraphAt(d *lang.Doc, offset int) int {
	for p := range d.Paragraphs {
		if d.Paragraphs[p].Start == offset {
			return p
		}
	}
	return -1
}
