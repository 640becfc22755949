package vocabulary

import (
	"context"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/phonics"
)

func decoder(t *testing.T, steps *phonics.Sequence) *Decoder {
	t.Helper()
	d, err := NewDecoder(opened(t), steps)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

const shipText = "The ship went fast. A cat sat on the deck in the rain. The night was bright, and the boat was near. Everybody thought about extraordinary neighbours."

func TestShareGrowsWithTheStep(t *testing.T) {
	d := decoder(t, nil)
	p := split(shipText, understood(t, shipText), 1, 1)[0]
	last := phonics.Share{Decodable: -1}
	for step := 1; step <= len(d.Steps().Steps); step++ {
		s := d.Share(p, step)
		if s.Decodable < last.Decodable || s.Words != 27 {
			t.Errorf("step %d: %+v after %+v", step, s, last)
		}
		last = s
	}
	if first := d.Share(p, 1); first.Part() > 0.75 || last.Part() < 0.85 {
		t.Errorf("the share is %.2f at first and %.2f at last", first.Part(), last.Part())
	}
}

func TestMissingNamesTheSpelling(t *testing.T) {
	d := decoder(t, nil)
	p := split(shipText, understood(t, shipText), 1, 1)[0]
	missing := map[string][]string{}
	for _, h := range d.Missing(p, 4) { // long vowels spelled with a final e are the last that is known
		missing[h.Label] = h.Words
	}
	if !slices.Contains(missing["igh as in night"], "bright") || !slices.Contains(missing["ai as in rain"], "rain") || missing["sh as in ship"] != nil {
		t.Errorf("missing at step 4: %v", missing)
	}
}

func TestOrderOfSpellings(t *testing.T) {
	d := decoder(t, nil)
	ps := split(shipText+" "+shipText, understood(t, shipText+" "+shipText), 2, 1)
	order := d.Order(ps)
	at := func(label string) int {
		return slices.IndexFunc(order[0], func(m Met) bool { return m.Label == label })
	}
	if sh, igh := at("sh as in ship"), at("igh as in night"); sh < 0 || igh < 0 || sh > igh || len(order[1]) == 0 || slices.ContainsFunc(order[1], func(m Met) bool { return at(m.Label) >= 0 }) {
		t.Errorf("the order is %v", order)
	} else if m := order[0][sh]; m.Word != "ship" || m.Place.Exact != "ship" || m.Times != 2 {
		t.Errorf("sh is met at %+v", m)
	}
}

// Every line can be read by a child at the step: each of its words by its letters
// or by heart.
func TestLinesCanBeRead(t *testing.T) {
	text, doc := readNovel(t)
	d := decoder(t, nil)
	p := split(text, doc, 1, 1)[0]
	for _, step := range []int{2, 4, 6, 9} {
		lines := d.Lines(p, step, nil, 40)
		for _, l := range lines {
			if p.Doc.Text[l.Place.Start:l.Place.End] != l.Place.Exact {
				t.Errorf("%q does not stand at its place", l.Text)
			}
			for i := p.Doc.TokenAt(l.Place.Start); i < len(p.Doc.Tokens) && p.Doc.Tokens[i].End <= l.Place.End; i++ {
				if w, r := d.read(p.Doc, i); w != "" && !d.can(w, r, step) {
					t.Errorf("step %d: %q in %q cannot be read", step, w, l.Text)
				}
			}
		}
		if len(lines) < 5 {
			t.Errorf("step %d: only %d lines", step, len(lines))
		}
	}
}

// Two children of one class, at different steps, practise different words.
func TestChildrenAtDifferentSteps(t *testing.T) {
	text, doc := readNovel(t)
	ps := split(text, doc, 3, 1)
	words := func(step int) string {
		ds, err := Practice(opened(t), ps, nil, step)
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, x := range ds[1] {
			if !x.Spare && x.Content.Sentence == "" {
				out = append(out, x.Content.Head+"/"+x.Content.Letters)
				if plainLetters := strings.NewReplacer("[", "", "]", "").Replace(x.Content.Letters); plainLetters != x.Content.Head {
					t.Errorf("%q is marked %q", x.Content.Head, x.Content.Letters)
				}
			}
		}
		return strings.Join(out, " ")
	}
	if a, b := words(2), words(8); a == b || a == "" || b == "" {
		t.Errorf("step 2: %q\nstep 8: %q", a, b)
	}
}

func BenchmarkDraft(b *testing.B) {
	text, d := readNovel(b)
	ps := split(text, d, 4, 4)
	for b.Loop() {
		if _, err := Draft(context.Background(), opened(b), ps, Options{Words: 6, Backgrounds: 3}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(strings.Fields(text)))*float64(b.N)/b.Elapsed().Seconds(), "words/s")
}
