//go:build bench

package neural

import (
	"archive/tar"
	"bufio"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

// litBank is one document with gold sentences and mentions.
type litBank struct {
	name  string
	doc   *lang.Doc
	names []Name
}

// readLitBank reads the documents held out of training: every sixth by name.
func readLitBank(t *testing.T) []litBank {
	t.Helper()
	shared := os.Getenv("BOOKSTEAD_SHARED")
	if shared == "" {
		shared = "../../../../shared"
	}
	f, err := os.Open(filepath.Join(shared, "bench", "entities", "tsv.tar.gz"))
	if err != nil {
		t.Fatalf("the names of people in novels are missing: %v", err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	var all []litBank
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(h.Name, ".tsv") {
			all = append(all, parseLitBank(path.Base(h.Name), r))
		}
	}
	slices.SortFunc(all, func(a, b litBank) int { return strings.Compare(a.name, b.name) })
	var held []litBank
	for i := 0; i < len(all); i += 6 {
		held = append(held, all[i])
	}
	if len(held) != 13 {
		t.Fatalf("%d documents held out, not 13", len(held))
	}
	return held
}

func parseLitBank(name string, r io.Reader) litBank {
	l := litBank{name: name, doc: &lang.Doc{}}
	d := l.doc
	first, open := 0, map[int]*Name{}
	shut := func(column int) {
		if n := open[column]; n != nil {
			n.Last = len(d.Tokens)
			l.names = append(l.names, *n)
			delete(open, column)
		}
	}
	end := func() {
		for c := range 8 {
			shut(c)
		}
		if first < len(d.Tokens) {
			d.Paragraphs = append(d.Paragraphs, lang.Paragraph{Start: d.Tokens[first].Start, End: len(d.Text)})
			d.Sentences = append(d.Sentences, lang.Sentence{First: first, Last: len(d.Tokens), Paragraph: len(d.Paragraphs) - 1})
		}
		first = len(d.Tokens)
	}
	for s := bufio.NewScanner(r); s.Scan(); {
		c := strings.Split(s.Text(), "\t")
		if c[0] == "" {
			end()
			continue
		}
		var tags []string
		for _, x := range c[1:] {
			if x != "" {
				tags = append(tags, x)
			}
		}
		for k := range 8 {
			tag := "O"
			if k < len(tags) {
				tag = tags[k]
			}
			if tag[0] != 'I' {
				shut(k)
			}
			if tag[0] == 'B' {
				open[k] = &Name{First: len(d.Tokens), Kind: tag[2:]}
			}
		}
		d.Tokens = append(d.Tokens, lang.Token{Start: len(d.Text), End: len(d.Text) + len(c[0]), Form: c[0], Head: -1})
		d.Text += c[0] + " "
	}
	end()
	d.Done(lang.LayerTokens | lang.LayerSentences)
	return l
}

// TestNamesGate scores mentions in novels against LitBank, strictly: both ends
// and the kind must be right. The gate is on people whose mention holds a proper
// noun, by the reader's own tags.
func TestNamesGate(t *testing.T) {
	r := reader(t, hasVector())
	type sum struct{ both, got, want int }
	var all, people sum
	f1 := func(s sum) float64 { return 2 * float64(s.both) / float64(s.got+s.want) }
	for _, l := range readLitBank(t) {
		read, err := r.Read(context.Background(), l.doc)
		if err != nil {
			t.Fatal(err)
		}
		person := func(n Name) bool {
			return n.Kind == "PER" && slices.ContainsFunc(l.doc.Tokens[n.First:n.Last], func(t lang.Token) bool { return t.UPOS == "PROPN" })
		}
		want := map[Name]bool{}
		for _, n := range l.names {
			if !want[n] {
				want[n] = true
				all.want++
				if person(n) {
					people.want++
				}
			}
		}
		for _, n := range read.Names {
			n.Confidence = 0
			all.got++
			if person(n) {
				people.got++
			}
			if want[n] {
				all.both++
				if person(n) {
					people.both++
				}
			}
		}
	}
	fmt.Printf("LitBank, 13 documents: people with a proper noun %.3f (precision %.3f, recall %.3f), all mentions %.3f\n", f1(people),
		float64(people.both)/float64(people.got), float64(people.both)/float64(people.want), f1(all))
	if f1(people) < 0.85 {
		t.Errorf("people %.4f, under .85", f1(people))
	}
	if f1(all) < 0.7 {
		t.Errorf("all mentions %.4f, under .70", f1(all))
	}
}
