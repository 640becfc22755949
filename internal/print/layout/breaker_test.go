package layout

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"bookstead/internal/print"
)

const sp = print.Length(1) // TeX's scaled point stands for ours: the breaker knows no units

// TestAsTeX breaks the paragraph of Knuth and Plass at many widths, with and
// without divided words, tight and loose, and wants the very lines of TeX. The
// head of testdata/frog.txt says how they were got.
func TestAsTeX(t *testing.T) {
	data, err := os.ReadFile("testdata/frog.txt")
	if err != nil {
		t.Fatal(err)
	}
	type piece struct {
		width print.Length
		end   string
		text  string
	}
	var pieces []piece
	var hyphen print.Length
	type par struct {
		name                     string
		width, tol, emerg, ragge int
		divide                   string
		lines                    []string
	}
	var pars []par
	for _, l := range strings.Split(string(data), "\n") {
		word, rest, _ := strings.Cut(l, " ")
		switch word {
		case "piece":
			var p piece
			fmt.Sscanf(rest, "%d %s %s", &p.width, &p.end, &p.text)
			pieces = append(pieces, p)
		case "hyphen":
			fmt.Sscanf(rest, "%d", &hyphen)
		case "par":
			p := par{name: strings.ReplaceAll(rest, " ", "_")}
			fmt.Sscanf(rest, "%d %s %d %d %d", &p.width, &p.divide, &p.tol, &p.emerg, &p.ragge)
			pars = append(pars, p)
		case "|":
			pars[len(pars)-1].lines = append(pars[len(pars)-1].lines, rest)
		}
	}
	if len(pieces) < 100 || len(pars) < 60 {
		t.Fatalf("only %d pieces and %d paragraphs were read", len(pieces), len(pars))
	}
	for _, c := range pars {
		t.Run(c.name, func(t *testing.T) {
			pt := func(n int) print.Length { return print.Length(n) * 65536 * sp }
			var items []item
			for i, p := range pieces {
				items = append(items, item{kind: boxItem, width: p.width, ref: i})
				switch p.end {
				case "-":
					pen := 50
					if c.divide == "n" {
						pen = infPenalty
					}
					items = append(items, item{kind: penaltyItem, width: hyphen, penalty: pen, flagged: true, soft: true})
				case "=":
					items = append(items, item{kind: penaltyItem, penalty: 50, flagged: true})
				case ".":
					if i == len(pieces)-1 {
						items = append(items, item{kind: penaltyItem, penalty: infPenalty}, item{kind: glueItem, fil: true})
						items = append(items, item{kind: penaltyItem, penalty: -infPenalty, flagged: true})
						break
					}
					g := item{kind: glueItem, width: 218453, stretch: 109226, shrink: 72818}
					if c.ragge > 0 {
						g.stretch, g.shrink = 0, 0
					}
					items = append(items, g)
				}
			}
			breaks := breakLines(items, rules{
				width: func(int) print.Length { return pt(c.width) }, stretch: pt(c.ragge), pretolerance: -1,
				tolerance: c.tol, emergency: pt(c.emerg), linePenalty: 10,
				adjDemerits: 10000, doubleHyphen: 10000, finalHyphen: 5000,
			})
			var got []string
			from := 0
			for _, b := range breaks {
				var line strings.Builder
				for i := from; i < b; i++ {
					switch it := items[i]; it.kind {
					case boxItem:
						line.WriteString(pieces[it.ref].text)
					case glueItem:
						line.WriteByte(' ')
					}
				}
				if items[b].width > 0 && items[b].kind == penaltyItem {
					line.WriteByte('-')
				}
				got = append(got, strings.TrimSpace(line.String()))
				from = b
			}
			if g, w := strings.Join(got, "\n"), strings.Join(c.lines, "\n"); g != w {
				t.Errorf("got\n%s\nwant\n%s", g, w)
			}
		})
	}
}
