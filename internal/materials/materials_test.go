package materials

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

func day(n int) calendar.Date { return calendar.Of(2026, 9, 1) + calendar.Date(n) }

// fewestByHand tries every way to hand copies on, one copy after the other.
func fewestByHand(uses []stretch) int {
	var units []stretch
	for _, u := range uses {
		for range u.count {
			units = append(units, u)
		}
	}
	slices.SortStableFunc(units, func(a, b stretch) int { return int(a.first - b.first) })
	best := len(units)
	var at func(k int, ends []stretch)
	at = func(k int, ends []stretch) {
		if len(ends) >= best {
			return
		}
		if k == len(units) {
			best = len(ends)
			return
		}
		for i, e := range ends {
			if !e.marks && e.last < units[k].first {
				next := slices.Clone(ends)
				next[i] = units[k]
				at(k+1, next)
			}
		}
		at(k+1, append(slices.Clone(ends), units[k]))
	}
	at(0, nil)
	return best
}

func TestFewest(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	handed := 0
	for range 500 {
		var uses []stretch
		n := 0
		for range 1 + rnd.IntN(5) {
			f := rnd.IntN(20)
			u := stretch{day(f), day(f + rnd.IntN(8)), 1 + rnd.IntN(3), rnd.IntN(3) == 0}
			if n+u.count > 8 {
				break
			}
			n += u.count
			uses = append(uses, u)
		}
		got, want := fewest(uses), fewestByHand(uses)
		if got != want {
			t.Fatalf("%d copies, %d would do: %+v", got, want, uses)
		}
		if got < n {
			handed++
		}
	}
	if handed < 100 {
		t.Errorf("copies were handed on only %d times", handed)
	}
}

// cheapestByHand tries every number of packs of every offer.
func cheapestByHand(wants []want, offers []Offer, sources []Source) (Cents, bool) {
	best, ok := Cents(0), false
	packs := make([]int, len(offers))
	var at func(k int)
	at = func(k int) {
		if k == len(offers) {
			have := map[string]int{}
			used := map[string]bool{}
			var c Cents
			for i, n := range packs {
				have[offers[i].Book] += n * pack(offers[i])
				c += Cents(n) * offers[i].Price
				used[offers[i].Source] = used[offers[i].Source] || n > 0
			}
			for _, w := range wants {
				if have[w.book] < w.count {
					return
				}
			}
			for _, s := range sources {
				if used[s.Name] {
					c += s.Postage
				}
			}
			if !ok || c < best {
				best, ok = c, true
			}
			return
		}
		for packs[k] = 0; packs[k] <= 4 && (offers[k].Most == 0 || packs[k] <= offers[k].Most); packs[k]++ {
			at(k + 1)
		}
		packs[k] = 0
	}
	at(0)
	return best, ok
}

func TestBuy(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	met := 0
	for range 300 {
		wants := []want{{"a", 1 + rnd.IntN(4)}, {"b", 1 + rnd.IntN(4)}}
		var offers []Offer
		for range 2 + rnd.IntN(4) {
			offers = append(offers, Offer{Book: string(rune('a' + rnd.IntN(2))), Source: fmt.Sprint("s", rnd.IntN(3)), Price: Cents(100 + rnd.IntN(900)), Pack: rnd.IntN(4), Most: rnd.IntN(3)})
		}
		sources := []Source{{Name: "s0", Postage: Cents(rnd.IntN(500))}, {Name: "s1", Postage: Cents(rnd.IntN(500))}}
		got, err := buy(wants, offers, sources)
		if err != nil {
			t.Fatal(err)
		}
		want, ok := cheapestByHand(wants, offers, sources)
		if ok != (got[0].packs != nil && got[1].packs != nil) {
			t.Fatalf("can be met: %v; %+v", ok, got)
		}
		if !ok {
			continue
		}
		met++
		c := got[0].price + got[1].price
		for _, s := range sources {
			if slices.ContainsFunc(got, func(p purchase) bool {
				return slices.ContainsFunc(p.offers, func(o Offer) bool { return o.Source == s.Name && p.packs[slices.Index(p.offers, o)] > 0 })
			}) {
				c += s.Postage
			}
		}
		if c != want {
			t.Fatalf("costs %s, could %s\n%+v\n%+v", c, want, got, offers)
		}
	}
	if met < 100 {
		t.Errorf("only %d of 300 could be met", met)
	}
}

func children(n int) []Child {
	var out []Child
	for i := range n {
		out = append(out, Child{Name: fmt.Sprint("Child ", i+1)})
	}
	return out
}

func TestPlan(t *testing.T) {
	r := Request{
		Uses: []Use{
			{Book: "The Quay", Class: "Grade 4", Policy: SharedCopy, Children: children(9), First: day(0), Last: day(40)},
			{Book: "The Quay", Class: "Grade 5", Policy: SharedCopy, Children: children(6), First: day(50), Last: day(80)},
			{Book: "The Fox", Class: "Grade 2", Policy: OneEach, Children: children(5), First: day(0), Last: day(30)},
			{Book: "The Sea", Class: "Grade 2", Policy: Teachers, First: day(40), Last: day(60)},
		},
		Owned:    []Owned{{Book: "The Quay", Count: 4}, {Book: "The Fox", Count: 3, Marked: true}},
		Offers:   []Offer{{Book: "The Quay", Source: "Shop", Price: 800}, {Book: "The Quay", Source: "Fair", Price: 500, Most: 1}, {Book: "The Fox", Source: "Shop", Price: 3000, Pack: 5}, {Book: "The Fox", Source: "Shop", Price: 700}},
		Sources:  []Source{{Name: "Shop", Postage: 400}, {Name: "Fair", Postage: 0}},
		Printing: []Printing{{What: "Student pages", Class: "Grade 4", Pages: 61, Copies: 9, TwoSided: true}, {What: "Teacher's edition", Class: "Grade 4", Pages: 61, Copies: 1}},
		Paper:    Paper{Sheets: 100, Ream: 550, Ink: 90},
	}
	got, err := Plan(r)
	if err != nil {
		t.Fatal(err)
	}
	find := func(what, from string) Line {
		i := slices.IndexFunc(got.Lines, func(l Line) bool { return l.What == what && l.From == from })
		if i < 0 {
			t.Fatalf("no line for %s from %s: %+v", what, from, got.Lines)
		}
		return got.Lines[i]
	}
	// Five copies for nine children and one for the teacher; grade 5 reads later.
	if l := find("The Quay", "Shop"); l.Need != 6 && l.Need != 0 || l.Buy != 1 || l.Total != 800 {
		t.Errorf("%+v", l)
	}
	if l := find("The Quay", "Fair"); l.Buy != 1 || l.Total != 500 {
		t.Errorf("%+v", l)
	}
	i := slices.IndexFunc(got.Lines, func(l Line) bool { return l.What == "The Quay" && l.Need == 6 })
	if i < 0 || got.Lines[i].Have != 4 || !strings.Contains(got.Lines[i].Why, "Grade 4: 9 children, 2 to a copy") || !strings.Contains(got.Lines[i].Why, "4 copies serve more than once at different times, so 6 copies do.") {
		t.Errorf("%+v", got.Lines)
	}
	// Marked copies do not do for children who mark their own: six, a pack of five and one.
	if l := find("The Fox", "Shop"); l.Need != 6 || l.Have != 0 || l.Total+got.Lines[slices.Index(got.Lines, l)+1].Total != 3700 {
		t.Errorf("%+v", got.Lines)
	}
	if l := find("Postage", "Shop"); l.Total != 400 {
		t.Errorf("%+v", l)
	}
	if l := find("Paper, sheets", ""); l.Need != 31*9+61 || l.Have != 100 || l.Packs != 1 || l.Total != 550 {
		t.Errorf("%+v", l)
	}
	if l := find("Ink, for a hundred pages", ""); l.Need != 7 || l.Total != 630 {
		t.Errorf("%+v", l)
	}
	if len(got.Unmet) != 1 || !strings.Contains(got.Unmet[0], "No offer gives 1 copy of “The Sea”") {
		t.Errorf("%q", got.Unmet)
	}
	if want := Cents(800 + 500 + 3700 + 400 + 550 + 630); got.Total != want {
		t.Errorf("%s, want %s", got.Total, want)
	}
	carry := []Carry{{Book: "The Fox", Clean: 1, Marked: 5}, {Book: "The Quay", Clean: 6}, {Book: "The Sea", Clean: 1}}
	if !reflect.DeepEqual(got.Carry, carry) {
		t.Errorf("%+v", got.Carry)
	}
}

// A brother and a sister read the same novel in different classes.
func TestFamilies(t *testing.T) {
	r := Request{Uses: []Use{
		{Book: "The Quay", Class: "Grade 4", Policy: OneEach, Children: []Child{{"Ann", "Hill"}, {"Ben", "Dale"}}, First: day(0), Last: day(40), Marked: true},
		{Book: "The Quay", Class: "Grade 5", Policy: OneEach, Children: []Child{{"Cal", "Hill"}}, First: day(50), Last: day(90), Marked: true},
	}, Owned: []Owned{{Book: "The Quay", Count: 1, Family: "Hill", Marked: true}, {Book: "The Quay", Count: 1}},
		Offers: []Offer{{Book: "The Quay", Source: "Shop", Price: 700}}}
	got, err := Plan(r)
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, l := range got.Lines {
		lines = append(lines, fmt.Sprint(l.For, " ", l.Need, " ", l.Have, " ", l.Buy))
	}
	if s := strings.Join(lines, "; "); s != " 1 1 0; Dale 1 0 1; Hill 2 1 1" || got.Total != 1400 {
		t.Errorf("%s, %s", s, got.Total)
	}
}

func TestBadRequests(t *testing.T) {
	for says, r := range map[string]Request{
		"has no students":       {Uses: []Use{{Book: "b", Class: "Grade 4", Policy: OneEach}}},
		"is no way to have":     {Uses: []Use{{Book: "b", Policy: "borrowed"}}},
		"before it starts":      {Uses: []Use{{Book: "b", Policy: Teachers, First: day(2), Last: day(1)}}},
		"cannot be -1 copies":   {Owned: []Owned{{Book: "b", Count: -1}}},
		"makes no sense":        {Offers: []Offer{{Book: "b", Price: -1}}},
		"pages and copies":      {Printing: []Printing{{What: "x", Pages: -1}}},
		"-1 children cannot":    {Uses: []Use{{Book: "b", Policy: SharedCopy, Children: children(1), PerCopy: -1}}},
		"what paper and ink":    {Paper: Paper{Ream: -1}},
		"The postage of Shop m": {Sources: []Source{{Name: "Shop", Postage: -1}}},
	} {
		if _, err := Plan(r); !fault.Is(err, fault.Invalid) || !strings.Contains(strings.ToLower(err.Error()), strings.ToLower(says)) || fault.Of(err).Hint == "" {
			t.Errorf("%s: %v", says, err)
		}
	}
	if l, err := Plan(Request{}); err != nil || l.Total != 0 || l.Lines != nil {
		t.Errorf("%v %v", l, err)
	}
	if got := Cents(-1205).String(); got != "-12.05" {
		t.Error(got)
	}
}
