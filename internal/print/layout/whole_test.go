package layout

import (
	"math/rand/v2"
	"sort"
	"strings"
	"testing"

	"bookstead/internal/print"
)

// TestNothingLost lays out random documents and wants every word of them on the
// pages once, whatever the style.
func TestNothingLost(t *testing.T) {
	vocabulary := strings.Fields("river ferry difficult office a of uncomfortable understanding lime-tree halfpenny “Tamsin,” bell—water didn’t children’s 1,000 extraordinary stream the floating waffle")
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 7))
		var given []string
		phrase := func(most int) print.Text {
			var out print.Text
			n := 1 + r.IntN(most)
			for i := range n {
				w := vocabulary[r.IntN(len(vocabulary))]
				given = append(given, w)
				if i > 0 {
					out = append(out, print.Run{Text: " "})
				}
				out = append(out, print.Run{Text: w, Face: []print.Face{0, 0, 0, print.Bold, print.Italic, print.Rubric, print.SmallCaps}[r.IntN(7)]})
			}
			return out
		}
		var blocks []print.Block
		for range 5 + r.IntN(30) {
			switch r.IntN(9) {
			case 0:
				blocks = append(blocks, print.Heading{Level: 1 + r.IntN(3), Text: phrase(4), Subtitle: phrase(5), NewPage: r.IntN(3) == 0})
			case 1:
				blocks = append(blocks, print.Paragraph{Text: phrase(120), Kind: print.ParagraphKind(r.IntN(5))})
			case 2:
				blocks = append(blocks, print.Question{Text: phrase(30), Detail: phrase(10), Lines: r.IntN(4), Answer: phrase(60)})
			case 3:
				blocks = append(blocks, print.Word{Head: phrase(1), Note: phrase(1), Sentence: phrase(25), Lines: 1, Answer: phrase(8)})
			case 4:
				m := print.Matching{Bank: r.IntN(2) == 0}
				for range 1 + r.IntN(6) {
					m.Prompts = append(m.Prompts, print.Prompt{Text: phrase(6)})
					m.Choices = append(m.Choices, print.Choice{Text: phrase(6)})
				}
				blocks = append(blocks, m)
			case 5:
				var l print.List
				l.Boxes = r.IntN(2) == 0
				for range 1 + r.IntN(9) {
					l.Items = append(l.Items, print.ListItem{Text: phrase(20)})
				}
				blocks = append(blocks, l)
			case 6:
				tb := print.Table{Columns: []print.Column{{Head: phrase(1)}, {Head: phrase(1), Share: 3}}}
				for range 1 + r.IntN(6) {
					tb.Rows = append(tb.Rows, print.Row{Cells: []print.Cell{{Texts: []print.Text{phrase(2)}}, {Texts: []print.Text{phrase(20), phrase(90)}}}})
				}
				blocks = append(blocks, tb)
			case 7:
				var g print.Grid
				for range 1 + r.IntN(9) {
					g.Words = append(g.Words, phrase(1))
				}
				blocks = append(blocks, g)
			case 8:
				blocks = append(blocks, print.Group{Blocks: []print.Block{print.Paragraph{Text: phrase(40)}, print.Paragraph{Text: phrase(40)}}})
			}
		}
		style := []print.Style{print.Standard(print.A4()), print.Young(print.Letter()), print.LargePrint(print.Letter())}[r.IntN(3)]
		f := lay(t, style, blocks...)
		got := content(f)
		// Only the letters of letters-to-be-matched lists and options are ours.
		want := strings.Join(given, "")
		if sortedRunes(got) != sortedRunes(want) {
			t.Fatalf("seed %d: %d letters went in, %d came out", seed, len([]rune(want)), len([]rune(got)))
		}
		checkBounds(t, f)
	}
}

// content is all text with a place in the structure, without spaces, hyphens
// that divide, and the dashes of lists.
func content(f *print.Frames) string {
	var b strings.Builder
	for _, p := range f.Pages {
		for _, it := range p.Items {
			if it.Node == 0 || f.Nodes[it.Node].Tag == print.TagLabel && len(it.Glyphs) == 1 && it.Glyphs[0].Text == "–" {
				continue
			}
			for _, g := range it.Glyphs {
				if g.Text != "\u00ad" {
					b.WriteString(strings.TrimSpace(g.Text))
				}
			}
		}
	}
	return b.String()
}

func sortedRunes(s string) string {
	r := []rune(strings.ToLower(s)) // small capitals made of capitals are read as such
	sort.Slice(r, func(i, j int) bool { return r[i] < r[j] })
	return string(r)
}
