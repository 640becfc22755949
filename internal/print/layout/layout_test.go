package layout

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"

	"bookstead/internal/print"
	"bookstead/internal/print/fonts"
	"bookstead/internal/print/hyphen"
)

var theEngine = sync.OnceValues(func() (*Engine, error) {
	families, err := fonts.Families()
	if err != nil {
		return nil, err
	}
	return New(families, func(tag string) print.Hyphenator {
		d, err := hyphen.English(tag)
		if err != nil {
			return nil
		}
		return d
	})
})

func newEngine(t testing.TB) *Engine {
	t.Helper()
	e, err := theEngine()
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func lay(t testing.TB, style print.Style, blocks ...print.Block) *print.Frames {
	t.Helper()
	f, err := newEngine(t).Layout(context.Background(), print.Document{Title: "Test", Language: "en-US", Blocks: blocks}, style, nil)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// text is what an edition shows of a page, one line for each baseline, from
// the top; the page number is left out.
func text(p print.Page, role ...print.Role) []string {
	type row struct {
		y print.Length
		b strings.Builder
	}
	var rows []*row
	for _, it := range p.Items {
		if len(it.Glyphs) == 0 || it.Node == 0 || len(role) > 0 && it.Role != role[0] {
			continue
		}
		var r *row
		for _, o := range rows {
			if o.y == it.Y {
				r = o
			}
		}
		if r == nil {
			r = &row{y: it.Y}
			rows = append(rows, r)
		}
		for _, g := range it.Glyphs {
			r.b.WriteString(g.Text)
		}
	}
	var out []string
	for i := 1; i < len(rows); i++ {
		for j := i; j > 0 && rows[j].y < rows[j-1].y; j-- {
			rows[j], rows[j-1] = rows[j-1], rows[j]
		}
	}
	for _, r := range rows {
		out = append(out, strings.TrimSpace(r.b.String()))
	}
	return out
}

const prose = "The river ran low that summer, and the ferry lay for hours against the landing with nobody to carry. Wren counted the strokes of the pole, forgot the number, and began again. "

func prosePara(n int) print.Paragraph {
	return print.Paragraph{Text: print.Plain(strings.TrimSpace(strings.Repeat(prose, n)))}
}

func TestNoWidowsOrOrphans(t *testing.T) {
	style := print.Standard(print.Letter())
	pages := 0
	for first := 1; first < 40; first++ { // each start puts the page break elsewhere
		f := lay(t, style, print.Lines{Count: first}, prosePara(9), prosePara(9), prosePara(9))
		for i, p := range f.Pages {
			lines := text(p)
			if i > 0 && len(lines) > 0 {
				pages++
				// A page starts with the first line of a paragraph, or has the line
				// before it behind it by two.
				if !strings.HasPrefix(lines[0], "The river ran low") && len(lines) > 1 && strings.HasPrefix(lines[1], "The river ran low that summer") && strings.HasSuffix(lines[0], "again.") {
					t.Errorf("start %d: page %d starts with a widow: %q", first, i+1, lines[0])
				}
			}
		}
	}
	if pages < 20 {
		t.Fatalf("only %d pages were turned", pages)
	}
}

func TestHeadingStaysWithText(t *testing.T) {
	style := print.Standard(print.Letter())
	for first := 1; first < 40; first++ {
		f := lay(t, style, print.Lines{Count: first}, print.Heading{Level: 2, Text: print.Plain("Section")},
			print.Question{Number: "1", Text: print.Plain("Why?"), Lines: 3})
		for i, p := range f.Pages {
			lines := text(p)
			for j, l := range lines {
				if l == "Section" && (j+1 >= len(lines) || !strings.Contains(lines[j+1], "Why?")) {
					t.Errorf("start %d: the heading on page %d stands alone: %q", first, i+1, lines)
				}
			}
		}
	}
}

func TestQuestionStaysWhole(t *testing.T) {
	style := print.Standard(print.A4())
	for first := 1; first < 40; first++ {
		f := lay(t, style, print.Lines{Count: first}, print.Question{Number: "1", Text: print.Plain("Why?"), Lines: 4})
		for _, p := range f.Pages {
			if l := text(p); len(l) == 0 {
				continue
			}
			rules, below := 0, print.Length(0)
			for _, it := range p.Items {
				if len(it.Glyphs) > 0 && it.Node > 0 {
					below = it.Y
				}
			}
			for _, it := range p.Items {
				if len(it.Glyphs) == 0 && it.Y > below {
					rules++
				}
			}
			if rules != 4 {
				t.Errorf("start %d: the question has %d lines on its page", first, rules)
			}
		}
	}
}

func TestGroup(t *testing.T) {
	style := print.Standard(print.Letter())
	for first := 1; first < 40; first++ {
		f := lay(t, style, print.Lines{Count: first}, print.Group{Blocks: []print.Block{
			print.Paragraph{Text: print.Plain("first")}, print.Paragraph{Text: print.Plain("second")}, print.Paragraph{Text: print.Plain("third")}}})
		for _, p := range f.Pages {
			if n := len(text(p)); n != 0 && n != 3 {
				t.Errorf("start %d: %d of the group on one page", first, n)
			}
		}
	}
}

// TestAnswerLines: as many lines as asked, more when the answer is longer in a
// child's hand, up to the most, and always enough for the type.
func TestAnswerLines(t *testing.T) {
	style := print.Standard(print.Letter())
	for _, c := range []struct {
		name  string
		least int
		words int
		want  int
	}{
		{"asked", 3, 2, 3}, {"no answer", 2, 0, 2}, {"short", 1, 3, 1}, {"by hand", 1, 20, 2}, {"most", 1, 70, 6}, {"type", 1, 150, 9},
		{"source", 1, 7, 1}, // its six words would take a second line by hand
	} {
		answer := print.Plain(strings.TrimSpace(strings.Repeat("river ", c.words)))
		q := print.Question{Number: "1", Text: print.Plain("Why?"), Lines: c.least, Answer: answer}
		if c.name == "source" {
			q.Source = "pages 31 and 32 of the copy"
		}
		f := lay(t, style, q)
		rules, typed := 0, 0
		for _, it := range f.Pages[0].Items {
			if len(it.Glyphs) == 0 {
				rules++
			} else if it.Role == print.TeacherOnly {
				typed++
			}
		}
		if rules != c.want || typed > rules {
			t.Errorf("%s: %d lines for %d of type, want %d", c.name, rules, typed, c.want)
		}
	}
}

func TestTeacherTextKeepsItsPlace(t *testing.T) {
	style := print.Standard(print.Letter())
	mixed := print.Join(print.Plain("Before "), print.Styled("only the teacher reads this", print.Rubric), print.Plain(" after."))
	f := lay(t, style, print.Paragraph{Text: mixed})
	plain := lay(t, style, print.Paragraph{Text: print.Join(print.Plain("Before "), print.Styled("only the teacher reads this", print.Italic), print.Plain(" after."))})
	at := func(f *print.Frames, s string) print.Length {
		for _, it := range f.Pages[0].Items {
			x := it.X
			var b strings.Builder
			for _, g := range it.Glyphs {
				if b.Len() == 0 && g.Text == " " {
					x += g.Advance // the space before a word may belong to either run
					continue
				}
				b.WriteString(g.Text)
			}
			if strings.HasPrefix(s, b.String()) && b.Len() > 0 || strings.HasSuffix(b.String(), " "+s) {
				return x
			}
		}
		t.Fatalf("%q is not there", s)
		return 0
	}
	if a, b := at(f, "after."), at(plain, "after."); a != b || a == 0 {
		t.Errorf("the text after stands at %v, without the rubric at %v", a.Points(), b.Points())
	}
	if got := text(f.Pages[0], print.Content); len(got) != 1 || strings.Contains(got[0], "teacher") {
		t.Errorf("content is %q", got)
	}
}

func TestTableHeadRepeats(t *testing.T) {
	var rows []print.Row
	for i := range 90 {
		rows = append(rows, print.Row{Cells: []print.Cell{{Texts: []print.Text{print.Plain(fmt.Sprintf("row %d", i))}}, {Texts: []print.Text{print.Plain("x")}}}})
	}
	f := lay(t, print.Standard(print.Letter()), print.Table{Columns: []print.Column{{Head: print.Plain("Heading")}, {Head: print.Plain("Other")}}, Rows: rows})
	if len(f.Pages) < 3 {
		t.Fatalf("%d pages", len(f.Pages))
	}
	found := 0
	for i, p := range f.Pages {
		heads, read := 0, 0
		for _, it := range p.Items {
			if len(it.Glyphs) > 0 && it.Glyphs[0].Text == "H" {
				heads++
				if it.Node > 0 {
					read++
				}
			}
		}
		want := 0
		if i == 0 {
			want = 1
		}
		if heads != 1 || read != want {
			t.Errorf("page %d: the head stands %d times, %d of them read out", i+1, heads, read)
		}
		for _, l := range text(p) {
			if strings.HasPrefix(l, "row") {
				found++
			}
		}
	}
	if found != 90 {
		t.Errorf("%d of 90 rows are there", found)
	}
}

func TestRowTallerThanAPage(t *testing.T) {
	f := lay(t, print.Standard(print.Letter()), print.Table{Columns: []print.Column{{}}, Rows: []print.Row{{Cells: []print.Cell{{Texts: []print.Text{print.Plain(strings.Repeat(prose, 40))}}}}}})
	if len(f.Pages) < 2 {
		t.Fatalf("%d page", len(f.Pages))
	}
	checkBounds(t, f)
}

func TestCards(t *testing.T) {
	var cards []print.Card
	for i := range 11 {
		cards = append(cards, print.Card{Front: print.Plain(fmt.Sprintf("word%d", i)), Back: print.Plain(fmt.Sprintf("back%d", i))})
	}
	f := lay(t, print.Young(print.Letter()), prosePara(1), print.Cards{Columns: 2, Rows: 5, Cards: cards}, prosePara(1))
	if len(f.Pages) != 6 { // text, two sheets of fronts and backs, text
		t.Fatalf("%d pages", len(f.Pages))
	}
	where := func(page int, s string) print.Length {
		for _, it := range f.Pages[page].Items {
			var b strings.Builder
			for _, g := range it.Glyphs {
				b.WriteString(g.Text)
			}
			if b.String() == s {
				return it.X + it.W/2
			}
		}
		t.Fatalf("%s is not on page %d", s, page+1)
		return 0
	}
	width := f.Paper.Width
	front, back := where(1, "word0"), where(2, "back0")
	if d := front + back - width; d > print.Point || d < -print.Point {
		t.Errorf("front at %v and back at %v do not lie back to back", front.Points(), back.Points())
	}
}

// checkBounds wants everything on the paper, and text within the margins but
// for marks and running heads.
func checkBounds(t *testing.T, f *print.Frames) {
	t.Helper()
	for i, p := range f.Pages {
		for _, it := range p.Items {
			if it.X < 0 || it.Y < 0 || it.X+it.W > f.Paper.Width || it.Y+it.H > f.Paper.Height {
				var b strings.Builder
				for _, g := range it.Glyphs {
					b.WriteString(g.Text)
				}
				t.Errorf("page %d: %q lies off the paper at %v, %v", i+1, b.String(), it.X.Points(), it.Y.Points())
			}
		}
	}
}

func TestOddInput(t *testing.T) {
	style := print.Standard(print.Letter())
	for name, blocks := range map[string][]print.Block{
		"nothing":      nil,
		"empty":        {print.Paragraph{}, print.Heading{}, print.Question{}, print.Word{}, print.Matching{}, print.List{}, print.Table{}, print.Grid{}, print.Cards{}, print.Lines{}, print.Drawing{}, print.Group{}, print.Space{}, print.PageBreak{}},
		"white":        {print.Paragraph{Text: print.Plain(" \n \u00a0 ")}, print.Paragraph{Text: print.Styled("", print.Blank)}},
		"long word":    {print.Paragraph{Text: print.Plain(strings.Repeat("pneumonoultramicroscopic", 40))}},
		"huge drawing": {print.Drawing{Height: 5000 * print.Point}},
		"many lines":   {print.Lines{Count: 200}},
		"verse":        {print.Paragraph{Kind: print.Verse, Text: print.Plain("\n\none\ntwo\n\n")}},
		"symbols":      {print.Paragraph{Text: print.Plain("✓ 漢字 🙂 ½ é ﬁ e\u0301 \u200d")}},
		"few choices":  {print.Matching{Prompts: []print.Prompt{{Text: print.Plain("a")}}}, print.Matching{Bank: true, Prompts: []print.Prompt{{Text: print.Plain("a")}}}},
		"long points":  {print.Question{Text: print.Plain("Why?"), Points: "a great many points indeed"}},
		"wide mark":    {print.Paragraph{Text: print.Plain("a"), Mark: "quiz, test and everything else"}},
		"span":         {print.Table{Columns: []print.Column{{}, {}}, Rows: []print.Row{{Cells: []print.Cell{{Span: 9}, {}, {}}}}}},
	} {
		t.Run(name, func(t *testing.T) {
			f := lay(t, style, blocks...)
			if len(f.Pages) == 0 {
				t.Fatal("no page")
			}
			if name != "long word" {
				checkBounds(t, f)
			}
		})
	}
}

func TestRefusals(t *testing.T) {
	e := newEngine(t)
	style := print.Standard(print.Letter())
	style.Family = "Comic"
	if _, err := e.Layout(context.Background(), print.Document{}, style, nil); err == nil {
		t.Error("an unknown typeface was accepted")
	}
	style = print.Standard(print.Letter())
	style.Left = 600 * print.Point
	if _, err := e.Layout(context.Background(), print.Document{}, style, nil); err == nil {
		t.Error("margins wider than the paper were accepted")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := e.Layout(ctx, print.Document{Blocks: []print.Block{prosePara(1)}}, print.Standard(print.Letter()), nil); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled layout gave %v", err)
	}
	if _, err := New(nil, nil); err == nil {
		t.Error("no typeface was accepted")
	}
	if _, err := New([]print.Family{{Name: "Bad", Roman: []byte("not a font")}}, nil); err == nil {
		t.Error("a broken typeface was accepted")
	}
}

func TestProgress(t *testing.T) {
	var blocks []print.Block
	for range 200 {
		blocks = append(blocks, prosePara(1))
	}
	last, calls := -1.0, 0
	_, err := newEngine(t).Layout(context.Background(), print.Document{Blocks: blocks}, print.Standard(print.Letter()), func(d float64) {
		if d < last {
			t.Errorf("progress fell from %v to %v", last, d)
		}
		last = d
		calls++
	})
	if err != nil || last != 1 || calls < 3 {
		t.Errorf("err %v, last %v after %d calls", err, last, calls)
	}
}

// TestBlank: a gap is as long as the style asks, longer for a long answer, and
// the answer stands on it for the teacher.
func TestBlank(t *testing.T) {
	style := print.Standard(print.Letter())
	for _, c := range []struct {
		answer string
		least  bool
	}{{"", true}, {"ox", true}, {"a very much longer answer", false}} {
		f := lay(t, style, print.Paragraph{Text: print.Join(print.Plain("It is "), print.Text{{Text: c.answer, Face: print.Blank}}, print.Plain("."))})
		var gap, answer print.Item
		for _, it := range f.Pages[0].Items {
			switch {
			case len(it.Glyphs) == 0:
				gap = it
			case it.Role == print.TeacherOnly:
				answer = it
			}
		}
		if c.least != (gap.W == style.Blank) || gap.W < style.Blank {
			t.Errorf("%q: the gap is %v points long", c.answer, gap.W.Points())
		}
		if c.answer != "" && (answer.X < gap.X || answer.X+answer.W > gap.X+gap.W) {
			t.Errorf("%q does not stand on its gap", c.answer)
		}
	}
}

// TestInStep: cells with as many texts keep their lines together, and a cell
// with fewer does not push them apart.
func TestInStep(t *testing.T) {
	long := strings.Repeat("word ", 8)
	f := lay(t, print.Standard(print.Letter()), print.Table{Columns: []print.Column{{}, {Share: 2}, {}}, Rows: []print.Row{{Cells: []print.Cell{
		{Texts: []print.Text{print.Plain(long)}},
		{Texts: []print.Text{print.Plain(long + long), print.Plain("second"), print.Plain("third")}},
		{Texts: []print.Text{print.Plain("1"), print.Plain("2"), print.Plain("3")}},
	}}}})
	y := map[string]print.Length{}
	for _, it := range f.Pages[0].Items {
		var b strings.Builder
		for _, g := range it.Glyphs {
			b.WriteString(g.Text)
		}
		if it.Node > 0 {
			y[b.String()] = it.Y
		}
	}
	leading := print.Standard(print.Letter()).Small.Leading
	if y["2"] != y["second"] || y["3"] != y["third"] || y["3"]-y["2"] != leading || y["2"]-y["1"] != 2*leading {
		t.Errorf("lines stand at %v", y)
	}
}

// TestFrameGrows: a frame to draw in takes the rest of its page, but only when
// it is the last thing on it.
func TestFrameGrows(t *testing.T) {
	style := print.Standard(print.Letter())
	frame := func(f *print.Frames) print.Item {
		for _, it := range f.Pages[0].Items {
			if it.Shape == print.Box && len(it.Glyphs) == 0 {
				return it
			}
		}
		t.Fatal("no frame")
		return print.Item{}
	}
	d := print.Drawing{Height: 100 * print.Point}
	if it := frame(lay(t, style, prosePara(1), d)); it.Y+it.H != style.Paper.Height-style.Bottom {
		t.Errorf("the frame ends at %v", (it.Y + it.H).Points())
	}
	if it := frame(lay(t, style, prosePara(1), d, prosePara(1))); it.H != d.Height {
		t.Errorf("the frame is %v high", it.H.Points())
	}
}
