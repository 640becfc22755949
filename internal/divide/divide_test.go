package divide

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/pace"
)

// write makes a book from a script, one block a line:
//
//	# 3 The Bell     chapter 3 with a title        #! Preface   introduction
//	## Part Two      a part begins                 #- Notes     back matter
//	#s The Fox       a story of a collection       ***          scene mark
//	120              a paragraph of so many words  120q         … in quotation marks
//	120t             … that opens with a step in time
//	120l             a letter                      =            a heading inside the chapter
func write(script string) *book.Book {
	var w book.Builder
	part := -1
	for _, line := range strings.Split(strings.TrimSpace(script), "\n") {
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "## "):
			part = w.Part(book.Part{Label: line[3:]})
		case strings.HasPrefix(line, "#! "):
			w.Chapter(book.Chapter{Kind: book.Introduction, Title: line[3:], Part: -1})
			w.Add(book.Heading, line[3:])
		case strings.HasPrefix(line, "#- "):
			w.Chapter(book.Chapter{Kind: book.Back, Title: line[3:], Part: -1})
			w.Add(book.Heading, line[3:])
		case strings.HasPrefix(line, "#s "):
			w.Chapter(book.Chapter{Kind: book.Story, Title: line[3:], Part: -1})
			w.Add(book.Heading, line[3:])
		case strings.HasPrefix(line, "# "):
			var n int
			var rest string
			fmt.Sscanf(line, "# %d", &n)
			_, rest, _ = strings.Cut(line[2:], " ")
			w.Chapter(book.Chapter{Kind: book.Body, Number: n, Label: fmt.Sprintf("Chapter %d", n), Title: rest, Part: part})
			w.Add(book.Heading, fmt.Sprintf("Chapter %d", n))
		case line == "***":
			w.Add(book.SceneBreak, "* * *")
		case line == "=":
			w.Add(book.Heading, "A heading")
		case line != "":
			var n int
			fmt.Sscanf(line, "%d", &n)
			text := strings.TrimSpace(strings.Repeat("word ", n)) + "."
			kind := book.Paragraph
			switch line[len(line)-1] {
			case 'q':
				text = "“" + text + "”"
			case 't':
				text = "The next day " + strings.TrimSpace(strings.Repeat("word ", n-3)) + "."
			case 'l':
				kind = book.Letter
			}
			w.Add(kind, text)
		}
	}
	return w.Book()
}

// options aim at target words and allow most (0 for no limit), at 100 a minute.
func options(target, most int) Options {
	return Options{Rate: pace.Rate{WPM: 100, Mode: class.Turns}, Target: float64(target) / 100, Most: float64(most) / 100}
}

func divide(t *testing.T, b *book.Book, o Options) ([]kit.Lesson, Explanation) {
	t.Helper()
	ls, ex, err := Divide(b, o)
	if err != nil {
		t.Fatal(err)
	}
	return ls, ex
}

func titles(ls []kit.Lesson) string {
	var out []string
	for _, l := range ls {
		out = append(out, l.Title)
	}
	return strings.Join(out, " | ")
}

func TestDivide(t *testing.T) {
	for _, c := range []struct{ name, script, want string }{
		{"each its own", "# 1 A\n900\n# 2 B\n950\n# 3 C\n880", "Chapter 1, “A” | Chapter 2, “B” | Chapter 3, “C”"},
		{"short ones joined", "# 1 A\n440\n# 2 B\n440\n# 3 C\n300\n# 4 D\n300\n# 5\n300", "Chapters 1 and 2 | Chapters 3 to 5"},
		{"a long one split at the scene, not in the middle", "# 1 A\n400\n300\n***\n300\n500\n# 2 B\n900", "Chapter 1, first part | Chapter 1, second part | Chapter 2, “B”"},
		{"never across parts", "## Part One\n# 1 A\n400\n## Part Two\n# 2 B\n400", "Chapter 1, “A” | Chapter 2, “B”"},
		{"numbers that begin again name their part", "## Part One\n# 1 A\n900\n## Part Two\n# 1 B\n900", "Part One, Chapter 1, “A” | Part Two, Chapter 1, “B”"},
		{"front and back left out", "#! Preface\n100\n# 1 A\n900\n#- Notes\n100", "Chapter 1, “A”"},
		{"a prologue belongs to the story", "#! Prologue\n100\n# 1 A\n800", "Prologue and chapter 1"},
		{"a lesson for each story", "#s The Fox\n500\n#s The Crow\n450", "The Fox | The Crow"},
		{"very short stories together", "#s The Fox\n100\n#s The Crow\n110\n#s The Ant\n90", "The Fox to The Ant"},
		{"by scenes", "450\n***\n430\n***\n420\n***\n440", "Scenes 1 and 2 | Scenes 3 and 4"},
		{"no pieces of two chapters together", "# 1 A\n450\n450\n450\n# 2 B\n450\n450\n450", "Chapter 1, first part | Chapter 1, second part | Chapter 2, first part | Chapter 2, second part"},
		{"three pieces", "# 1 A\n300\n300\n300\n300\n300\n300\n300\n300\n300", "Chapter 1, first part | Chapter 1, second part | Chapter 1, third part"},
	} {
		t.Run(c.name, func(t *testing.T) {
			ls, _ := divide(t, write(c.script), options(900, 1000))
			if got := titles(ls); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
	ls, _ := divide(t, write("#! Preface\n100\n# 1 A\n800"), Options{Rate: pace.Rate{WPM: 100}, Target: 9, Most: 10, Introduction: true})
	if got := titles(ls); got != "Preface and chapter 1" {
		t.Errorf("with its introduction: %s", got)
	}
}

// A conversation or a letter is a worse place to stop than telling.
func TestWhereALongChapterSplits(t *testing.T) {
	for _, c := range []struct {
		name, script string
		first        int // words of the first lesson, heading included
	}{
		{"not in a conversation", "# 1 A\n500\n100q\n100q\n100\n500", 802},
		{"not in a letter", "# 1 A\n400\n100l\n100l\n100l\n500\n100", 702},
		{"at a step in time", "# 1 A\n400\n200\n100t\n600", 602},
		{"not behind a heading", "# 1 A\n600\n=\n700", 602},
	} {
		t.Run(c.name, func(t *testing.T) {
			ls, _ := divide(t, write(c.script), options(900, 1000))
			if len(ls) != 2 || ls[0].Words != c.first {
				t.Errorf("%d lessons, the first of %d words, want %d", len(ls), ls[0].Words, c.first)
			}
		})
	}
}

func TestALessonMayTakeMoreThanADay(t *testing.T) {
	b := write("# 1 A\n700\n600\n# 2 B\n850")
	o := options(900, 0)
	ls, _ := divide(t, b, o)
	if len(ls) != 2 {
		t.Errorf("without a limit: %s", titles(ls))
	}
}

func TestNothingToCutAt(t *testing.T) {
	ls, ex := divide(t, write("# 1 A\n1500\n# 2 B\n900"), options(900, 1000))
	if len(ls) != 2 || ex.Lessons[0].Over == 0 || ex.Lessons[1].Over != 0 || !strings.Contains(ex.Reasons[0], "no place to cut") {
		t.Errorf("%s: %+v, %q", titles(ls), ex.Lessons, ex.Reasons)
	}
}

// books draws a small book in the script of [write].
func books() *rapid.Generator[*book.Book] {
	return rapid.Custom(func(t *rapid.T) *book.Book {
		var s strings.Builder
		blocks, number := 0, 0
		chapters := rapid.IntRange(0, 5).Draw(t, "chapters")
		for c := 0; c <= chapters && blocks < 13; c++ {
			if c > 0 {
				switch rapid.IntRange(0, 9).Draw(t, "kind") {
				case 0:
					fmt.Fprintf(&s, "## Part %d\n", c)
				case 1:
					fmt.Fprintf(&s, "#s Story %d\n", c)
				case 2:
					fmt.Fprintf(&s, "#- Notes %d\n", c)
				case 3:
					fmt.Fprintf(&s, "#! Preface %d\n", c)
				default:
					number++
					fmt.Fprintf(&s, "# %d Title\n", number)
				}
			}
			for n := rapid.IntRange(1, 5).Draw(t, "paragraphs"); n > 0; n-- {
				blocks++
				tail := rapid.SampledFrom([]string{"", "", "", "q", "t", "l", "\n***", "\n="}).Draw(t, "tail")
				fmt.Fprintf(&s, "%d%s\n", rapid.IntRange(4, 60).Draw(t, "words"), tail)
			}
		}
		return write(s.String())
	})
}

// bruteForce is the price of the cheapest division, by trying all of them.
func bruteForce(t *table) int {
	n := len(t.bs)
	best := math.MaxInt
	for mask := 0; mask < 1<<(n-1); mask++ {
		total, ok := 0, true
		for i := 0; i < n && ok; {
			j := i + 1
			for j < n && mask&(1<<(j-1)) == 0 {
				ok = ok && !t.gap[j]
				j++
			}
			ok = ok && (j == i+1 || t.words[j]-t.words[i] <= t.most)
			total += t.cost(i, j).Total()
			i = j
		}
		if ok {
			best = min(best, total)
		}
	}
	return best
}

func TestCheapestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := books().Draw(t, "book")
		o := options(rapid.IntRange(10, 120).Draw(t, "target"), rapid.IntRange(0, 150).Draw(t, "most"))
		o.Introduction = rapid.Bool().Draw(t, "introduction")
		ls, ex, err := Divide(b, o)
		bs, words := units(b, o.Introduction)
		if len(bs) == 0 && !o.Introduction {
			bs, words = units(b, true)
		}
		if len(bs) == 0 {
			if !fault.Is(err, fault.Invalid) {
				t.Fatalf("a book without told text: %v", err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		tab := newTable(b, bs, words, ex.Target, ex.Most)
		if want := bruteForce(tab); ex.Cost.Total() != want {
			t.Fatalf("the division costs %d, the cheapest %d: %s", ex.Cost.Total(), want, titles(ls))
		}
		var sum Cost
		for _, c := range ex.Lessons {
			sum.add(c)
		}
		if sum != ex.Cost {
			t.Fatalf("lessons cost %+v, the division %+v", sum, ex.Cost)
		}
	})
}

// laws hold of every division, the teacher's own too.
func laws(t interface{ Fatalf(string, ...any) }, b *book.Book, ls []kit.Lesson, o Options) {
	intro := o.Introduction
	if len(Boundaries(b, intro)) == 0 {
		intro = true
	}
	blocks, words, k := 0, 0, 0
	for _, c := range b.Chapters {
		if !told(c, intro) {
			continue
		}
		for _, bl := range b.BlocksIn(c.Span) {
			blocks++
			words += book.Words(b.Slice(bl.Span))
			for k < len(ls) && ls[k].End <= bl.Start {
				k++
			}
			if k == len(ls) || !ls[k].Contains(bl.Span) {
				t.Fatalf("block %v is in no lesson", bl.Span)
			}
		}
	}
	for i, l := range ls {
		words -= l.Words
		blocks -= len(b.BlocksIn(l.Span))
		if l.Number != i+1 || l.Title == "" || l.Len() <= 0 || i > 0 && l.Start < ls[i-1].End {
			t.Fatalf("lesson %d: %+v", i, l)
		}
		if l.First != b.ChapterAt(l.Start) || l.Last != b.ChapterAt(l.End-1) {
			t.Fatalf("lesson %d lies in chapters %d to %d, not %d to %d", i, b.ChapterAt(l.Start), b.ChapterAt(l.End-1), l.First, l.Last)
		}
		if l.Words != book.Words(b.Slice(l.Span)) {
			t.Fatalf("lesson %d has %d words, not %d", i, book.Words(b.Slice(l.Span)), l.Words)
		}
	}
	if words != 0 || blocks != 0 {
		t.Fatalf("%d words and %d blocks are lost or doubled", words, blocks)
	}
}

func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := books().Draw(t, "book")
		o := options(rapid.IntRange(10, 120).Draw(t, "target"), rapid.IntRange(10, 150).Draw(t, "most"))
		ls, ex, err := Divide(b, o)
		if err != nil {
			t.Skip()
		}
		laws(t, b, ls, o)
		again, ex2, _ := Divide(b, o)
		if !slices.Equal(ls, again) || ex.String() != ex2.String() {
			t.Fatalf("not the same twice")
		}
		// The program's own division, held as cuts, is the same division.
		o.Cuts = Cuts(b, ls, nil)
		kept, ex3, err := Divide(b, o)
		if err != nil || !slices.Equal(ls, kept) || !ex3.Teacher || ex3.Cost != ex.Cost {
			t.Fatalf("as cuts: %v\n%v\n%v", err, ls, kept)
		}
		// As pins it is the cheapest that keeps them, so it is itself again.
		o.Pins, o.Cuts = o.Cuts, nil
		pinned, _, err := Divide(b, o)
		if err != nil || !slices.Equal(ls, pinned) {
			t.Fatalf("as pins: %v\n%v\n%v", err, ls, pinned)
		}
	})
}

func TestPinsAreKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := books().Draw(t, "book")
		bs := Boundaries(b, false)
		if len(bs) == 0 {
			t.Skip()
		}
		o := options(60, 80)
		pin := rapid.SampledFrom(bs).Draw(t, "pin")
		o.Pins = []kit.Cut{cutAt(b, pin.Offset)}
		o.Pins[0].Title = "Mine"
		ls, _, err := Divide(b, o)
		if err != nil {
			t.Fatal(err)
		}
		laws(t, b, ls, o)
		s, _ := b.Find(o.Pins[0].Place) // the same words may stand twice
		if i := slices.IndexFunc(ls, func(l kit.Lesson) bool { return l.Start == s.Start }); i < 0 || ls[i].Title != "Mine" {
			t.Fatalf("no lesson begins at %d: %v", s.Start, ls)
		}
	})
}

// A cut finds its words again in a corrected file, and a lost one is said.
func TestCutsSurviveACorrectedFile(t *testing.T) {
	var old, corrected book.Builder
	text := []string{"The bell rang under the water.", "Nobody had pulled the rope.", "Tom ran to the quay at once.", "The boats were all gone."}
	for i, s := range text {
		old.Add(book.Paragraph, s)
		if i == 1 {
			corrected.Add(book.Paragraph, "A line that was missing.")
		}
		if i != 3 {
			corrected.Add(book.Paragraph, s)
		}
	}
	a, z := old.Book(), corrected.Book()
	ls, _ := divide(t, a, options(6, 6))
	if len(ls) != 4 {
		t.Fatalf("%d lessons", len(ls))
	}
	o := options(6, 6)
	o.Cuts = Cuts(a, ls, nil)
	got, ex := divide(t, z, o)
	if len(got) != 3 || !strings.HasPrefix(z.Slice(got[2].Span), "Tom ran") || len(ex.Notes) != 1 || !strings.Contains(ex.Notes[0], "The boats were all gone.") {
		t.Errorf("%v, %q", got, ex.Notes)
	}
	laws(t, z, got, o)
}

func TestEdit(t *testing.T) {
	b := write("# 1 A\n400\n500\n# 2 B\n900\n# 3 C\n890")
	// The paragraphs of write are alike, so cuts are told apart by place alone.
	ls, _ := divide(t, b, options(900, 1000))
	cuts := Cuts(b, ls, nil)
	if len(cuts) != 3 {
		t.Fatal(titles(ls))
	}
	cuts[1].Title = "The storm"
	bs := Boundaries(b, false)
	more, err := Add(b, cuts, bs[1].Offset+10)
	if err != nil || len(more) != 4 {
		t.Fatal(err, len(more))
	}
	o := options(900, 1000)
	o.Cuts = more
	ls, ex := divide(t, b, o)
	if got := titles(ls); got != "Chapter 1, first part | Chapter 1, second part | The storm | Chapter 3, “C”" || !ex.Teacher {
		t.Error(got)
	}
	if _, err := Add(b, more, bs[1].Offset); !fault.Is(err, fault.Invalid) {
		t.Errorf("the same boundary twice: %v", err)
	}
	moved, err := Move(b, more, 3, bs[1].Offset)
	if !fault.Is(err, fault.Invalid) {
		t.Errorf("moved onto its neighbour: %v, %v", moved, err)
	}
	fewer, err := Remove(b, more, 2)
	if err != nil || len(fewer) != 3 {
		t.Fatal(err)
	}
	moved, err = Move(b, fewer, 2, bs[1].Offset)
	if err != nil || where(b, moved[1]) != bs[1].Offset || moved[1].Title != "The storm" {
		t.Errorf("%v, %v", moved, err)
	}
	for _, n := range []int{0, 1, 9} {
		if _, err := Remove(b, cuts, n); err == nil {
			t.Errorf("lesson %d was removed", n)
		}
		if _, err := Move(b, cuts, n, 0); err == nil {
			t.Errorf("lesson %d was moved", n)
		}
	}
}

func TestNear(t *testing.T) {
	b := write("# 1 A\n100\n100q\n100\n***\n100\n100t")
	got := Near(Boundaries(b, false), b.Blocks[3].Start, 150)
	var kinds []Kind
	for _, x := range got {
		kinds = append(kinds, x.Kind)
	}
	if !slices.Equal(kinds, []Kind{Scene, Speech, Speech}) {
		t.Errorf("%v", kinds)
	}
}

func TestPaperByPages(t *testing.T) {
	b := write("# 1 A\n5\n# 2 B\n5\n# 3 C\n5\n# 4 D\n5")
	b.Source.Format = "paper"
	o := options(2250, 2500)
	o.Edition = book.Edition{First: map[int]int{0: 1, 1: 10, 3: 20}, Last: 29}
	ls, ex := divide(t, b, o)
	// 9, 5, 5 and 10 pages: the pages of chapters 2 and 3 are shared between them.
	if got := titles(ls); got != "Chapter 1, “A” | Chapters 2 and 3 | Chapter 4, “D”" || ls[0].Words != 9*WordsPerPage || len(ex.Notes) != 1 {
		t.Errorf("%s: %+v, %q", got, ls, ex.Notes)
	}
}

func TestBadInput(t *testing.T) {
	b := write("# 1 A\n100")
	for name, o := range map[string]Options{"no rate": {Target: 20}, "no minutes": {Rate: pace.Rate{WPM: 100}}} {
		if _, _, err := Divide(b, o); !fault.Is(err, fault.Invalid) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, _, err := Divide(&book.Book{}, options(100, 100)); !fault.Is(err, fault.Invalid) {
		t.Errorf("an empty book: %v", err)
	}
}

func TestDisplay(t *testing.T) {
	for in, want := range map[string]string{
		"THERE IS NO ONE LEFT":        "There Is No One Left",
		"Down the Rabbit-Hole":        "Down the Rabbit-Hole",
		"MISTRESS MARY":               "Mistress Mary",
		"THE ROBIN WHO SHOWED":        "The Robin Who Showed",
		"HENRY VIII AND HIS -- DOG'S": "Henry VIII and His — Dog’s",
		"THE RABBIT-HOLE":             "The Rabbit-Hole",
		"I":                           "I",
	} {
		if got := Display(in); got != want {
			t.Errorf("Display(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestExplanation(t *testing.T) {
	_, ex := divide(t, write("# 1 A\n440\n# 2 B\n440\n# 3 C\n600\n700"), options(900, 1000))
	want := "3 chapters become 3 lessons. A lesson aims at 900 words, about 9 minutes read aloud in turns. 1 lesson joins short chapters. 2 lessons hold pieces of long ones."
	if got := ex.String(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestFor(t *testing.T) {
	o := For(class.Class{Grade: 4, Settings: class.Defaults(4)}, kit.Kit{})
	if o.Most != 25 || o.Target != 22.5 || o.Rate.WPM != 120 {
		t.Errorf("%+v", o)
	}
}

func BenchmarkDivide(b *testing.B) {
	var s strings.Builder
	for c := 1; c <= 47; c++ { // as long as the longest children's novels
		fmt.Fprintf(&s, "# %d Title\n", c)
		for p := 0; p < 90; p++ {
			fmt.Fprintf(&s, "%d\n", 20+(p*37+c*11)%60)
		}
	}
	bk := write(s.String())
	for b.Loop() {
		if _, _, err := Divide(bk, options(2700, 3000)); err != nil {
			b.Fatal(err)
		}
	}
}
