package assess

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/kit"
)

// novel makes lessons with items of every kind, n of each, marked as asked.
func novel(lessons, n, marked int) []Lesson {
	people := []string{"Mary", "Dickon", "Colin", "Martha", "Ben", "Susan", "Archibald", "Basil"}
	things := []string{"lantern", "kettle", "harness", "ribbon", "ladder", "candle", "pebble", "whistle", "saddle", "basket", "button", "feather", "hammer", "pillow", "mirror", "carpet", "anchor", "barrel", "cradle", "dagger", "emerald", "fiddle", "goblet", "helmet"}
	verbs := []string{"found", "hid", "broke", "carried", "painted", "buried", "sold", "cleaned"}
	var out []Lesson
	at := 0
	for l := range lessons {
		x := Lesson{Number: l + 1}
		for i := range n {
			at += 1000
			k := l*n + i
			place := func(s string) book.Place { return book.Place{Span: book.Span{Start: at, End: at + len(s)}, Exact: s} }
			marks := kit.Marks{Quiz: i < marked, Test: i < marked}
			who, thing, verb := people[k%len(people)], things[k%len(things)], verbs[(k/3)%len(verbs)]
			word := fmt.Sprintf("gorm%c%c", 'a'+k%26, 'a'+k/26)
			sentence := "The " + word + " stood in the hall."
			x.Items = append(x.Items,
				kit.Item{ID: kit.ItemID(fmt.Sprintf("v%d", k)), Kind: kit.Vocabulary, State: kit.Drafted, Marks: marks, Score: float64(i), Place: place(sentence),
					Content: kit.Content{Head: word, Lemma: word, PartOfSpeech: "noun", Sentence: sentence, Meaning: "a kind of " + thing + fmt.Sprint(k)}},
				kit.Item{ID: kit.ItemID(fmt.Sprintf("q%d", k)), Kind: kit.Question, State: kit.Drafted, Marks: marks, Score: float64(i), Place: place(who + " " + verb + " the " + thing + "."),
					Content: kit.Content{Head: "Who " + verb + " the " + thing + "?", Answer: who + " " + verb + " the " + thing + "."}},
				kit.Item{ID: kit.ItemID(fmt.Sprintf("s%d", k)), Kind: kit.Quotation, State: kit.Drafted, Marks: marks, Score: float64(i), Place: place("“Good morning " + word + "”"),
					Content: kit.Content{Sentence: "“Good morning " + word + "”", Speaker: who}})
		}
		out = append(out, x)
	}
	return out
}

func every(p Paper, do func(Section, Entry)) {
	for _, s := range p.Sections {
		for _, e := range s.Entries {
			do(s, e)
		}
	}
}

func request(b Blueprint) Request {
	return Request{Kind: Quiz, Number: 1, Lessons: novel(4, 6, 2), Blueprint: b, Seed: 7}
}

var full = Blueprint{{Kind: Short, Count: 4}, {Kind: Match, Count: 5}, {Kind: Fill, Count: 4}, {Kind: Choose, Count: 3}, {Kind: WhoSaid, Count: 4}, {Kind: Order, Count: 1}}

func TestBlueprintIsKept(t *testing.T) {
	for _, p := range Make(request(full)) {
		got := map[SectionKind]int{}
		every(p, func(s Section, e Entry) { got[s.Kind]++ })
		want := map[SectionKind]int{Short: 4, Match: 5, Fill: 4, Choose: 3, WhoSaid: 4, Order: 5}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("form %s has %v, want %v", p.Form, got, want)
		}
	}
	b := Blueprint{{Kind: Short, Count: 2, First: 2, Last: 3}}
	for _, p := range Make(request(b)) {
		every(p, func(_ Section, e Entry) {
			if e.Lesson < 2 || e.Lesson > 3 {
				t.Errorf("a question of lesson %d, want 2 or 3", e.Lesson)
			}
		})
	}
}

func TestMarkedFirstAndInBothForms(t *testing.T) {
	papers := Make(request(Blueprint{{Kind: Short, Count: 10}}))
	marked := map[kit.ItemID]bool{}
	for _, l := range Marked(Quiz, novel(4, 6, 2), false) {
		for _, it := range l.Items {
			marked[it.ID] = true
		}
	}
	for _, p := range papers {
		n := 0
		every(p, func(_ Section, e Entry) {
			if marked[e.Item] {
				n++
			}
		})
		if n != 8 {
			t.Errorf("form %s asks %d marked questions, want all 8", p.Form, n)
		}
	}
	a, b := map[kit.ItemID]bool{}, 0
	every(papers[0], func(_ Section, e Entry) { a[e.Item] = true })
	every(papers[1], func(_ Section, e Entry) {
		if a[e.Item] {
			b++
		}
	})
	if b != 8 {
		t.Errorf("the forms share %d questions, want the 8 marked ones alone", b)
	}
}

// The laws of a paper: forms equal in points, size and difficulty; no item twice;
// none answered by another; right keys; the same again from the same seed.
func TestLaws(t *testing.T) {
	for seed := range uint64(20) {
		for _, b := range []Blueprint{nil, full, {{Kind: Choose, Count: 8}}, {{Kind: Order, Count: 2}, {Kind: Short, Count: 9}}} {
			r := request(b)
			r.Seed, r.Minutes = seed, 40
			papers := Make(r)
			if len(papers) != 2 {
				t.Fatalf("%d forms", len(papers))
			}
			if !reflect.DeepEqual(papers, Make(r)) {
				t.Fatal("the same request gave another paper")
			}
			x, y := papers[0], papers[1]
			if x.Points() != y.Points() || x.Entries() != y.Entries() {
				t.Errorf("forms of %d and %d points, %d and %d entries", x.Points(), y.Points(), x.Entries(), y.Entries())
			}
			if d := math.Abs(x.Difficulty() - y.Difficulty()); d > 0.05*x.Difficulty() {
				t.Errorf("difficulty %.2f and %.2f", x.Difficulty(), y.Difficulty())
			}
			for _, p := range papers {
				law(t, p)
			}
		}
	}
}

func law(t *testing.T, p Paper) {
	t.Helper()
	seen := map[kit.ItemID]bool{}
	var all []Entry
	every(p, func(s Section, e Entry) {
		if seen[e.Item] {
			t.Errorf("%s is asked twice", e.Item)
		}
		seen[e.Item] = true
		all = append(all, e)
		switch s.Kind {
		case Choose:
			if len(e.Options) != 4 || !slices.Contains(e.Options, e.Key) {
				t.Errorf("options %q, key %q", e.Options, e.Key)
			}
			for i, o := range e.Options {
				if slices.Contains(e.Options[:i], o) {
					t.Errorf("option %q twice", o)
				}
			}
		case Fill:
			if !strings.Contains(e.Prompt, Blank) || strings.Contains(e.Prompt, e.Key) || !slices.Contains(s.Choices, e.Key) {
				t.Errorf("fill in %q, key %q of %q", e.Prompt, e.Key, s.Choices)
			}
		}
	})
	for _, s := range p.Sections {
		if s.Kind == Order {
			var keys []string
			for _, e := range s.Entries {
				keys = append(keys, e.Key)
			}
			if slices.IsSorted(keys) {
				t.Errorf("the events stand in order already: %q", keys)
			}
		}
	}
	for _, a := range all {
		for _, b := range all {
			if Answers(a, b) {
				t.Errorf("%q answers %q", a.Prompt, b.Prompt)
			}
		}
	}
}

func TestHappens(t *testing.T) {
	for s, want := range map[string]bool{"Jim ran home.": true, "Tom was entirely happy.": false, "Mary had gone.": false, "Ida didn’t go.": false,
		"The dog would not come.": false, "After the bell rang, he came round.": true} {
		if happens(s) != want {
			t.Errorf("%q happens: %v", s, !want)
		}
	}
}

func TestAnswers(t *testing.T) {
	who := Entry{Item: "1", Prompt: "Who found the key to the garden?", Key: "Mary found the key to the garden."}
	for _, c := range []struct {
		prompt string
		want   bool
	}{
		{"Why was Mary glad when she found the garden’s key?", true},
		{"Why was Mary sad?", false},           // her name alone says nothing
		{"Where did she find the key?", false}, // does not say who
	} {
		if got := Answers(Entry{Item: "2", Prompt: c.prompt}, who); got != c.want {
			t.Errorf("%q answers %q: %v", c.prompt, who.Prompt, got)
		}
	}
	papers := Make(Request{Kind: Quiz, Seed: 1, Blueprint: Blueprint{{Kind: Short, Count: 3}}, Lessons: []Lesson{{Number: 1, Items: []kit.Item{
		{ID: "a", Kind: kit.Question, State: kit.Kept, Marks: kit.Marks{Quiz: true}, Content: kit.Content{Head: who.Prompt, Answer: who.Key}},
		{ID: "b", Kind: kit.Question, State: kit.Kept, Content: kit.Content{Head: "Why was Mary glad when she found the garden’s key?", Answer: "She could go in."}},
	}}}})
	if n := papers[0].Entries(); n != 1 {
		t.Errorf("%d questions, want the marked one alone", n)
	}
}

// A wrong choice must not be right as well.
func TestWrongChoicesAreWrong(t *testing.T) {
	word := func(id, head, pos, meaning, synonym string) kit.Item {
		return kit.Item{ID: kit.ItemID(id), Kind: kit.Vocabulary, State: kit.Kept, Content: kit.Content{Head: head, Lemma: head, PartOfSpeech: pos, Meaning: meaning, Synonym: synonym, Sentence: "The " + head + " stood there."}}
	}
	l := []Lesson{{Number: 1, Items: []kit.Item{
		word("1", "lantern", "noun", "a light with glass sides", "lamp"), word("2", "beacon", "noun", "a light on a hill", ""),
		word("3", "kettle", "noun", "a pot for boiling water", ""), word("4", "trudge", "verb", "to walk heavily", ""),
		word("5", "harness", "noun", "straps for a horse", ""), word("6", "cradle", "noun", "a small bed that rocks", ""),
	}}}
	m := &maker{Request: Request{Book: l}}
	got := m.otherMeanings(l[0].Items[0])
	want := []string{"a pot for boiling water", "straps for a horse", "a small bed that rocks"}
	if !slices.Equal(got, want) {
		t.Errorf("wrong meanings %q, want %q: neither a light nor a verb", got, want)
	}
	m.Near = func(a, b string) bool { return strings.Contains(b, "horse") }
	l[0].Items = append(l[0].Items, word("7", "anvil", "noun", "a block for a smith", ""))
	if got := m.otherMeanings(l[0].Items[0]); slices.Contains(got, "straps for a horse") || len(got) != 3 {
		t.Errorf("wrong meanings %q hold one that is near", got)
	}
	said := func(id, who, to string) kit.Item {
		return kit.Item{ID: kit.ItemID(id), Kind: kit.Quotation, State: kit.Kept, Content: kit.Content{Sentence: "Go!", Speaker: who, Addressee: to}, Place: book.Place{Prefix: to + " and Ben came in. "}}
	}
	m.Book = []Lesson{{Number: 1, Items: []kit.Item{said("1", "Mary Lennox", "Colin"), said("2", "Colin", ""), said("3", "Mary", ""), said("4", "Dickon", ""), said("5", "Ben", ""), said("6", "Martha", "")}}}
	if got := m.otherNames(m.Book[0].Items[0], "Mary Lennox"); !slices.Equal(got, []string{"Dickon", "Martha"}) {
		t.Errorf("wrong names %q, want Dickon and Martha: the others are there, or the same person", got)
	}
}

func TestSecondChance(t *testing.T) {
	r := request(full)
	papers := Make(r)
	on := map[kit.ItemID]bool{}
	var missed []kit.ItemID
	for _, p := range papers {
		every(p, func(s Section, e Entry) { on[e.Item] = true })
	}
	every(papers[0], func(s Section, e Entry) {
		if s.Kind == Short || s.Kind == WhoSaid {
			missed = append(missed, e.Item)
		}
	})
	p := Second(r, papers, missed)
	if p == nil || p.Entries() != len(missed) {
		t.Fatalf("%+v for %d missed", p, len(missed))
	}
	law(t, *p)
	every(*p, func(s Section, e Entry) {
		if on[e.Item] && s.Kind != Choose {
			t.Errorf("%s stood on the paper already", e.Item)
		}
	})
	lessons := map[int]int{}
	for _, id := range missed {
		_, l, _ := find(r.Lessons, id)
		lessons[l]++
	}
	every(*p, func(_ Section, e Entry) {
		_, l, _ := find(r.Lessons, e.Item)
		lessons[l]--
	})
	for l, n := range lessons {
		if n != 0 {
			t.Errorf("lesson %d: %d items missed and not asked again", l, n)
		}
	}
	if Second(r, papers, nil) != nil {
		t.Error("nothing missed should give no paper")
	}
	if !strings.HasPrefix(p.Title(), "Second chance") {
		t.Errorf("title %q", p.Title())
	}
}

func TestFormsAreDealtByDifficulty(t *testing.T) {
	l := Lesson{Number: 1}
	for i := range 12 {
		ask, say := "What", "a thing"
		if i >= 6 { // the easy ones come first
			ask, say = "Why", "because it was "+strings.Repeat("very ", 12)+"old"
		}
		l.Items = append(l.Items, kit.Item{ID: kit.ItemID(fmt.Sprint(i)), Kind: kit.Question, State: kit.Kept,
			Content: kit.Content{Head: fmt.Sprintf("%s gorm%d?", ask, i), Answer: fmt.Sprintf("%s %d", say, i)}})
	}
	p := Make(Request{Kind: Quiz, Lessons: []Lesson{l}, Blueprint: Blueprint{{Kind: Short, Count: 6}}, Seed: 1})
	if d := math.Abs(p[0].Difficulty() - p[1].Difficulty()); d > 0.1 || p[0].Entries() != 6 || p[1].Entries() != 6 {
		t.Errorf("%d and %d entries, difficulty %.2f and %.2f", p[0].Entries(), p[1].Entries(), p[0].Difficulty(), p[1].Difficulty())
	}
}

func TestDefaultFitsTheTime(t *testing.T) {
	r := request(nil)
	r.Minutes = 40
	for _, p := range Make(r) {
		if m := p.Minutes(); m > 40 {
			t.Errorf("form %s takes %.0f minutes of 40", p.Form, m)
		}
	}
}

func TestProposeFitsTheTimeAndSpreads(t *testing.T) {
	lessons := novel(4, 6, 0)
	got := Propose(Quiz, 15, lessons)
	by := map[kit.Kind]int{}
	each := map[int]int{}
	for i := range lessons {
		for j := range lessons[i].Items {
			it := &lessons[i].Items[j]
			if got[it.ID] {
				it.Marks.Quiz = true
				by[it.Kind]++
				each[i]++
			}
		}
	}
	if want := map[kit.Kind]int{kit.Question: 4, kit.Vocabulary: 8, kit.Quotation: 2}; !reflect.DeepEqual(by, want) {
		t.Errorf("proposed %v, want %v", by, want)
	}
	for i := range 4 {
		if each[i] < 3 || each[i] > 4 {
			t.Errorf("%d of lesson %d, want 3 or 4", each[i], i+1)
		}
	}
	for _, p := range Make(Request{Kind: Quiz, Lessons: lessons, Minutes: 15, Seed: 1}) {
		if m := p.Minutes(); m > 15 || m < 10 {
			t.Errorf("the quiz takes %.1f minutes of 15", m)
		}
	}
	lessons[0].Items[1].State = kit.Kept // a marked question of the teacher's
	lessons[0].Items[1].Marks.Quiz = true
	n := 0
	for _, l := range lessons {
		for _, it := range l.Items {
			if it.Kind == kit.Question && Propose(Quiz, 15, lessons)[it.ID] {
				n++
			}
		}
	}
	if n != 3 {
		t.Errorf("%d questions beside the teacher's own, want 3", n)
	}
}
