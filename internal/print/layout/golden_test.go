package layout

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bookstead/internal/print"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestGolden keeps small pages as they are, one line for each thing on them:
// role, ink, structure, place and text. Run with -update after a change that is
// meant, and look at the difference.
func TestGolden(t *testing.T) {
	quiz := []print.Block{
		print.Heading{Level: 1, Text: print.Plain("Quiz 2"), Subtitle: print.Plain("Lessons 3 and 4")},
		print.Heading{Level: 2, Text: print.Plain("What happened, and why")},
		print.Question{Number: "1", Text: print.Plain("Why does Wren lie down on the boards?"), Lines: 2, Answer: print.Plain("She wants to hear the bell."), Points: "2 points", Mark: "quiz"},
		print.Question{Number: "2", Text: print.Plain("Who hears it first?"), Options: []print.Option{{Text: print.Plain("Wren")}, {Text: print.Plain("Tamsin"), Right: true}}},
	}
	words := []print.Block{
		print.Word{Head: print.Plain("doleful"), Note: print.Plain("adjective"), Sentence: print.Emphasise("It was a doleful sound, like a cow that has lost her calf in the difficult office of the night.", "doleful", print.Bold), Lines: 1, Answer: print.Plain("mournful"), Mark: "test"},
		print.Table{Columns: []print.Column{{Head: print.Plain("Day"), Share: 1}, {Head: print.Plain("Minutes"), Share: 2, Align: print.Right}}, Rows: []print.Row{{Head: true, Cells: []print.Cell{{Texts: []print.Text{print.Plain("Mon")}}, {Box: true, Texts: []print.Text{print.Plain("10"), print.Plain("25")}}}}}},
	}
	for _, c := range []struct {
		name   string
		style  print.Style
		blocks []print.Block
	}{
		{"quiz-standard", print.Standard(print.Letter()), quiz},
		{"words-standard", print.Standard(print.A4()), words},
		{"words-young", print.Young(print.Letter()), words},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := dump(lay(t, c.style, c.blocks...))
			path := filepath.Join("testdata", c.name+".golden")
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("the page has changed (go test ./internal/print/layout -update):\n%s", difference(string(want), got))
			}
		})
	}
}

func dump(f *print.Frames) string {
	var b strings.Builder
	for i, p := range f.Pages {
		fmt.Fprintf(&b, "page %d\n", i+1)
		for _, it := range p.Items {
			fmt.Fprintf(&b, "%s %s %-9s %7.2f %7.2f %7.2f ", [...]string{"all    ", "teacher", "student"}[it.Role], [...]string{"black", "red  ", "grey "}[it.Ink], f.Nodes[it.Node].Tag, it.X.Points(), it.Y.Points(), it.W.Points())
			if len(it.Glyphs) == 0 {
				fmt.Fprintf(&b, "%s %.2f\n", [...]string{"line", "box", "ring"}[it.Shape], it.H.Points())
				continue
			}
			fmt.Fprintf(&b, "%.2f ", it.Size.Points())
			for _, g := range it.Glyphs {
				b.WriteString(g.Text)
			}
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// difference shows the lines that only one of the two has.
func difference(a, b string) string {
	count := map[string]int{}
	for _, l := range strings.Split(b, "\n") {
		count[l]++
	}
	var out []string
	for _, l := range strings.Split(a, "\n") {
		if count[l]--; count[l] < 0 {
			out = append(out, "- "+l)
			count[l] = 0
		}
	}
	for _, l := range strings.Split(b, "\n") {
		if count[l] > 0 {
			out = append(out, "+ "+l)
			count[l]--
		}
	}
	return strings.Join(out, "\n")
}
