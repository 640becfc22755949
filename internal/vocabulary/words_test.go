package vocabulary

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/demo"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
)

func opened(t testing.TB) *lexicon.Lexicon {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	return lex
}

// understood reads a text as the program does.
func understood(t testing.TB, text string) *lang.Doc {
	t.Helper()
	d, err := english.Cut(context.Background(), text, nil, english.Options{})
	if err == nil {
		err = english.Understand(context.Background(), d, english.Options{})
	}
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// novel is the beginning of the novel that ships with the program, read once.
var novel = sync.OnceValues(func() (*lang.Doc, error) {
	text := string(demo.Novel())
	text = text[:20000+strings.Index(text[20000:], "\n\n")]
	d, err := english.Cut(context.Background(), text, nil, english.Options{})
	if err == nil {
		err = english.Understand(context.Background(), d, english.Options{})
	}
	return d, err
})

func readNovel(t testing.TB) (string, *lang.Doc) {
	t.Helper()
	d, err := novel()
	if err != nil {
		t.Fatal(err)
	}
	return d.Text, d
}

// split makes n lessons of about equal length.
func split(text string, d *lang.Doc, n, grade int) []passage.Passage {
	b := &book.Book{ID: "b", Text: text, Chapters: []book.Chapter{{Span: book.Span{End: len(text)}}}}
	var lessons []kit.Lesson
	start := 0
	for i := range n {
		end := len(text)
		if i < n-1 {
			end = (i + 1) * len(text) / n
			if s := d.SentenceAt(end); s >= 0 {
				end = d.SentenceSpan(s).Start
			}
		}
		lessons = append(lessons, kit.Lesson{Number: i + 1, Span: book.Span{Start: start, End: end}})
		start = end
	}
	return passage.Split(b, d, lessons, grade)
}

func drafted(t testing.TB, ps []passage.Passage, o Options) [][]kit.Draft {
	t.Helper()
	out, err := Draft(context.Background(), opened(t), ps, o)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// The laws of a choice, on the novel that ships with the program.
func TestChoiceOfWordsKeepsItsLaws(t *testing.T) {
	text, d := readNovel(t)
	lex := opened(t)
	const lessons = 4
	for _, grade := range []int{2, 5} {
		ps := split(text, d, lessons, grade)
		o := Options{Words: 6, Backgrounds: 3}
		got := drafted(t, ps, o)
		lemmas := map[string]bool{}
		total := 0
		for pi, ds := range got {
			chosen, background := 0, 0
			var contents []kit.Content
			for _, x := range ds {
				if x.Kind == kit.Background && !x.Spare {
					background++
				}
				if x.Kind != kit.Vocabulary {
					continue
				}
				c := x.Content
				if _, bad := lex.Offensive(c.Lemma); bad || lex.Warning(c.Sentence, c.Meaning, c.Synonym, c.Gap) != "" && x.Warning == "" {
					t.Errorf("grade %d: %q is offensive or its sentence is", grade, c.Lemma)
				}
				if x.Place.Start < ps[pi].Lesson.Start || x.Place.Start >= ps[pi].Lesson.End || text[x.Place.Start:x.Place.End] != c.Head {
					t.Errorf("grade %d, lesson %d: %q does not stand at its place", grade, pi+1, c.Head)
				}
				if x.Spare {
					continue
				}
				chosen++
				if lemmas[c.Lemma] {
					t.Errorf("grade %d: %q is taught twice", grade, c.Lemma)
				}
				lemmas[c.Lemma] = true
				if c.Meaning == "" || len(strings.Fields(c.Meaning)) > 8 || !strings.Contains(c.Sentence, c.Head) || x.Why == "" {
					t.Errorf("grade %d: %+v is not fit to print", grade, c)
				}
				if c.Gap != "" && (strings.Count(c.Gap, Blank) != 1 || strings.Contains(fold(c.Gap), c.Lemma)) {
					t.Errorf("the gap gives %q away: %q", c.Lemma, c.Gap)
				}
				for _, other := range contents {
					if Clash(lex, c, other) {
						t.Errorf("grade %d, lesson %d: %s and %s could be taken for each other", grade, pi+1, c.Lemma, other.Lemma)
					}
				}
				contents = append(contents, c)
			}
			if chosen > o.Words || background > o.Backgrounds {
				t.Errorf("grade %d, lesson %d has %d words and %d notes", grade, pi+1, chosen, background)
			}
			total += chosen
		}
		if total < 3*lessons {
			t.Errorf("grade %d: only %d words are found for %d lessons", grade, total, lessons)
		}
		for a := range lemmas {
			for b := range lemmas {
				if a < b && family(a) == family(b) {
					t.Errorf("grade %d: %s and %s are of one family", grade, a, b)
				}
			}
		}
		if again := drafted(t, split(text, d, lessons, grade), o); fmt.Sprint(again) != fmt.Sprint(got) {
			t.Errorf("grade %d: the same book gives other words", grade)
		}
	}
}

// What is said of a choice is what was reckoned.
func TestReasonsAreTrue(t *testing.T) {
	text, d := readNovel(t)
	ps := split(text, d, 4, 4)
	e := newEngine(opened(t), ps, Options{Words: 6})
	all, err := e.candidates(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	sel, err := e.choose(context.Background(), all, e.own(all))
	if err != nil {
		t.Fatal(err)
	}
	if sel.value > sel.bound+1e-9 || sel.value < 0.97*sel.bound {
		t.Errorf("a choice worth %g is not near its bound, %g", sel.value, sel.bound)
	}
	times := regexp.MustCompile(`It comes (once|\d+ times) more`)
	checked := 0
	for _, cs := range sel.chosen {
		for _, c := range cs {
			if got := UsualWeights().of(c.parts); got != c.value {
				t.Errorf("%s is worth %g, its parts %g", c.lemma, c.value, got)
			}
			n := 0
			for i := range d.Tokens {
				if fold(d.Tokens[i].Lemma) == c.lemma && d.Tokens[i].Start >= ps[c.passage].Lesson.End {
					n++
				}
			}
			want := ""
			switch {
			case n == 1:
				want = "once"
			case n > 1:
				want = fmt.Sprintf("%d times", n)
			}
			got := ""
			if m := times.FindStringSubmatch(e.why(c)); m != nil {
				got = m[1]
			}
			if got != want {
				t.Errorf("%s: %q, but it comes %d times more", c.lemma, e.why(c), n)
			}
			if strings.Contains(e.why(c), "helps to guess") != (c.clue.note != "") {
				t.Errorf("%s: %q with the clue %q", c.lemma, e.why(c), c.clue.note)
			}
			checked++
		}
	}
	if checked < 16 {
		t.Errorf("only %d reasons were looked at", checked)
	}
}

// A part that the teacher leaves out does not count; one that counts more
// changes the choice its way.
func TestWeightsAreTheTeachers(t *testing.T) {
	text, d := readNovel(t)
	ps := split(text, d, 4, 4)
	tells := map[int]told{} // what a word means does not hang on weights
	mean := func(w Weights, part func(parts) float64) float64 {
		e := newEngine(opened(t), ps, Options{Words: 6, Weights: w})
		e.tells = tells
		all, err := e.candidates(context.Background(), nil)
		if err != nil {
			t.Fatal(err)
		}
		sel, err := e.choose(context.Background(), all, e.own(all))
		if err != nil {
			t.Fatal(err)
		}
		sum, n := 0.0, 0
		for _, cs := range sel.chosen {
			for _, c := range cs {
				sum += part(c.parts)
				n++
			}
		}
		return sum / float64(n)
	}
	for name, c := range map[string]struct {
		set  func(*Weights, float64)
		part func(parts) float64
	}{
		"worth": {func(w *Weights, x float64) { w.Worth = x }, func(p parts) float64 { return p.worth }},
		"guess": {func(w *Weights, x float64) { w.Guess = x }, func(p parts) float64 { return p.guess }},
		"again": {func(w *Weights, x float64) { w.Again = x }, func(p parts) float64 { return p.again }},
		"fit":   {func(w *Weights, x float64) { w.Fit = x }, func(p parts) float64 { return p.fit }},
	} {
		out, much := UsualWeights(), UsualWeights()
		c.set(&out, 0)
		c.set(&much, 2)
		if a, b := mean(out, c.part), mean(much, c.part); a >= b {
			t.Errorf("%s: %.3f on average when it counts double, %.3f when it does not count", name, b, a)
		}
	}
}

// Words that the class had before are left out, and come back for review where
// that is asked for.
func TestWordsOfEarlierBooks(t *testing.T) {
	text, d := readNovel(t)
	ps := split(text, d, 4, 4)
	o := Options{Words: 6}
	known := map[string]string{}
	for _, ds := range drafted(t, ps, o) {
		for _, x := range ds {
			if x.Kind == kit.Vocabulary && !x.Spare {
				known[x.Content.Lemma] = "Heidi"
			}
		}
	}
	o.Known, o.Review = known, 1
	reviewed := 0
	for _, ds := range drafted(t, ps, o) {
		for _, x := range ds {
			if x.Kind != kit.Vocabulary || known[x.Content.Lemma] == "" {
				continue
			}
			if !strings.Contains(x.Why, "Heidi") {
				t.Errorf("%s was had before and is chosen: %q", x.Content.Lemma, x.Why)
			} else if !x.Spare {
				reviewed++
			}
		}
	}
	if reviewed < 2 {
		t.Errorf("%d words came back for review", reviewed)
	}
}

const oddText = `THE 3RD of May, 1867, was WET. “Th' garden's wick, tha' knows,” said Old Gribblethwap, “an' th' snozzlewump's awake.” ` +
	`He’d a half-finished, never-ending, well-to-do sort of smile. The café’s owner, a naïve señor, gave him 12½ crêpes à la carte for £3. ` +
	`The wretched snozzlewump glimmered, and the SOLEMN procession HALTED.

Half a league, half a league,
 Half a league onward,
All in the valley of Death
 Rode the six hundred.

Alone.`

func TestOddTexts(t *testing.T) {
	for _, text := range []string{oddText, "Alone.", "!!!", "12 34 56", "Zzz.\n\nZzz.\n\nZzz."} {
		for _, grade := range []int{1, 4} {
			d := understood(t, text)
			for _, ds := range drafted(t, split(text, d, 1, grade), Options{Words: 6, Backgrounds: 3, Practice: true}) {
				for _, x := range ds {
					if w := fold(x.Content.Head); x.Kind == kit.Vocabulary && !x.Spare && (strings.Contains(w, "snozzle") || strings.ContainsAny(w, "'’-0123456789") || w != "" && strings.ToUpper(x.Content.Head) == x.Content.Head) {
						t.Errorf("%q is taught: %+v", w, x.Content)
					}
				}
			}
		}
	}
}

func TestOwnList(t *testing.T) {
	text, d := readNovel(t)
	ps := split(text, d, 4, 4)
	// A word of the book, one that is given a meaning, one with a slip, one that the
	// book does not have, one that is no word, one twice.
	var word string
	for _, ds := range drafted(t, ps, Options{Words: 6}) {
		for _, x := range ds {
			if x.Kind == kit.Vocabulary && word == "" {
				word = x.Content.Lemma
			}
		}
	}
	got := map[string]kit.Draft{}
	var order []string
	for _, ds := range drafted(t, ps, Options{Words: 6, Own: []Own{{Word: strings.ToUpper(word)}, {Word: "gardin"}, {Word: "brontosaurus", Meaning: "a great beast"}, {Word: "xqzzt"}, {Word: word}}}) {
		chosen := 0
		for _, x := range ds {
			if x.Kind != kit.Vocabulary {
				continue
			}
			if strings.HasPrefix(x.Why, onYourList) {
				got[x.Content.Lemma] = x
				order = append(order, x.Content.Lemma)
			}
			if !x.Spare {
				chosen++
			}
		}
		if chosen > 6 {
			t.Errorf("a lesson has %d words", chosen)
		}
	}
	if x := got[word]; x.Spare || x.Content.Meaning == "" || x.Content.Sentence == "" || slices.Index(order, word) != len(order)-1-slices.Index(reversed(order), word) {
		t.Errorf("%s of the list: %+v, in %v", word, x, order)
	}
	if x := got["gardin"]; !x.Spare || x.Content.Meaning != "" || !strings.Contains(x.Why, "I do not know the word. Did you mean “garden”?") {
		t.Errorf("a slip: %+v", x)
	}
	if x := got["brontosaurus"]; !x.Spare || x.Content.Meaning != "a great beast" || !strings.Contains(x.Why, "The book does not have it") {
		t.Errorf("a word that is not there: %+v", x)
	}
	if x := got["xqzzt"]; x.Content.Meaning != "" || !strings.Contains(x.Why, "I do not know the word") {
		t.Errorf("no word: %+v", x)
	}
}

func reversed(s []string) []string {
	out := slices.Clone(s)
	slices.Reverse(out)
	return out
}
