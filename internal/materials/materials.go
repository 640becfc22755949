// Package materials works out what a year of books needs: copies of the novels,
// paper and ink; and the cheapest way to have them.
//
// A [Use] says that a class reads a novel for some weeks under a policy. A copy
// that is not marked can serve one use after another; one that is marked is used
// up. So the fewest copies of a novel are the fewest rows into which its uses can
// be laid one behind the other, a marking use last ([fewest]). What is at hand
// is taken first; the rest is bought from the offers at the least sum of prices
// and postage ([buy]). Both are exact. Start with [Plan].
package materials

import (
	"cmp"
	"fmt"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/plan"
)

// What the teacher says of novels and paper, as the plan of a class keeps it.
type (
	Policy = plan.Policy
	Cents  = plan.Cents
	Owned  = plan.Owned
	Offer  = plan.Offer
	Source = plan.Source
	Paper  = plan.Paper
)

const (
	OneEach    = plan.OneEach
	SharedCopy = plan.SharedCopy
	Teachers   = plan.Teachers
)

// Use is a class's reading of a novel.
type Use struct {
	Book  string `json:"book"` // its title
	Class string `json:"class"`
	// Policy of the class for this novel. The teacher has a copy under each.
	Policy   Policy  `json:"policy"`
	Children []Child `json:"children"`
	// PerCopy is how many children share a copy, 2 when 0.
	PerCopy int `json:"perCopy,omitempty"`
	// First and Last day of the reading.
	First calendar.Date `json:"first"`
	Last  calendar.Date `json:"last"`
	// Marked says that copies marked by others will do.
	Marked bool `json:"marked,omitempty"`
}

// Child of a use. Children of one family share the family's copies when the
// class leaves buying to families.
type Child struct {
	Name string `json:"name"`
	// Family that has the child's copy; empty for the school.
	Family string `json:"family,omitempty"`
}

// Printing is what is printed for a class.
type Printing struct {
	What     string `json:"what"`  // "Student pages"
	Class    string `json:"class"` // for people
	Pages    int    `json:"pages"`
	Copies   int    `json:"copies"`
	TwoSided bool   `json:"twoSided,omitempty"`
}

// Request is all that the list is made from.
type Request struct {
	Uses     []Use      `json:"uses"`
	Owned    []Owned    `json:"owned,omitempty"`
	Offers   []Offer    `json:"offers,omitempty"`
	Sources  []Source   `json:"sources,omitempty"`
	Printing []Printing `json:"printing,omitempty"`
	Paper    Paper      `json:"paper"`
}

// Line is one line of the shopping list.
type Line struct {
	What  string `json:"what"`
	For   string `json:"for,omitempty"` // a family's name; empty for the school
	Need  int    `json:"need"`
	Have  int    `json:"have"`
	Buy   int    `json:"buy"`
	From  string `json:"from,omitempty"`
	Each  Cents  `json:"each"`  // of a pack
	Packs int    `json:"packs"` // bought
	Total Cents  `json:"total"`
	Why   string `json:"why"`
}

// Carry is what can be kept for next year.
type Carry struct {
	Book   string `json:"book"`
	Family string `json:"family,omitempty"`
	Clean  int    `json:"clean"`
	Marked int    `json:"marked"`
}

// List is the answer.
type List struct {
	Lines []Line  `json:"lines"`
	Total Cents   `json:"total"`
	Carry []Carry `json:"carry,omitempty"`
	// Unmet are sentences on what no offer gives.
	Unmet []string `json:"unmet,omitempty"`
}

// mostSources is how many sources with postage the search takes on.
const mostSources = 12

// Plan makes the list. It is Invalid when dates or numbers make no sense, a
// policy is not known or a class has no children; TooLarge with more than twelve
// sources that ask for postage.
func Plan(r Request) (*List, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	pools := r.pools()
	out := &List{}
	var wants []want
	for _, p := range pools {
		if n := p.need - p.have; n > 0 {
			wants = append(wants, want{book: p.book, count: n})
		}
	}
	bought, err := buy(wants, r.Offers, r.Sources)
	if err != nil {
		return nil, err
	}
	k := 0
	for _, p := range pools {
		l := Line{What: p.book, For: p.family, Need: p.need, Have: min(p.have, p.need), Why: p.why()}
		if p.need > p.have {
			b := bought[k]
			k++
			out.buyLines(l, p.need-p.have, b)
		} else {
			out.Lines = append(out.Lines, l)
		}
		out.Carry = append(out.Carry, p.carry())
	}
	out.postage(r.Sources, bought)
	out.paper(r)
	for _, l := range out.Lines {
		out.Total += l.Total
	}
	out.Carry = slices.DeleteFunc(out.Carry, func(c Carry) bool { return c.Clean+c.Marked == 0 })
	return out, nil
}

func (o *List) buyLines(l Line, n int, b purchase) {
	if b.packs == nil {
		l.Buy = n
		o.Lines = append(o.Lines, l)
		who := ""
		if l.For != "" {
			who = " for " + l.For
		}
		o.Unmet = append(o.Unmet, fmt.Sprintf("No offer gives %s of “%s”%s. Add what a shop asks for it.", many(n, "copy", "copies"), l.What, who))
		return
	}
	if !slices.ContainsFunc(b.packs, func(n int) bool { return n > 0 }) {
		l.Why += " From a pack in a line above."
		o.Lines = append(o.Lines, l)
	}
	for i, packs := range b.packs {
		if packs == 0 {
			continue
		}
		x := b.offers[i]
		l.Buy, l.From, l.Each, l.Packs = packs*pack(x), x.Source, x.Price, packs
		l.Total = Cents(packs) * x.Price
		o.Lines = append(o.Lines, l)
		l.Need, l.Have, l.Why = 0, 0, "The rest of the line above."
	}
}

func (o *List) postage(sources []Source, bought []purchase) {
	for _, s := range sources {
		used := slices.ContainsFunc(bought, func(b purchase) bool {
			for i, n := range b.packs {
				if n > 0 && b.offers[i].Source == s.Name {
					return true
				}
			}
			return false
		})
		if used && s.Postage > 0 {
			o.Lines = append(o.Lines, Line{What: "Postage", From: s.Name, Need: 1, Buy: 1, Packs: 1, Each: s.Postage, Total: s.Postage, Why: "Once for all that comes from there."})
		}
	}
}

func (o *List) paper(r Request) {
	sheets, pages := 0, 0
	for _, p := range r.Printing {
		n := p.Pages
		if p.TwoSided {
			n = (n + 1) / 2
		}
		sheets += n * p.Copies
		pages += p.Pages * p.Copies
	}
	if pages == 0 {
		return
	}
	in := r.Paper.InReam
	if in == 0 {
		in = 500
	}
	l := Line{What: "Paper, sheets", Need: sheets, Have: min(sheets, r.Paper.Sheets), Why: fmt.Sprintf("%d pages to print.", pages)}
	if short := sheets - r.Paper.Sheets; short > 0 {
		l.Packs = (short + in - 1) / in
		l.Buy, l.Each = l.Packs*in, r.Paper.Ream
		l.Total = Cents(l.Packs) * r.Paper.Ream
	}
	o.Lines = append(o.Lines, l)
	if r.Paper.Ink > 0 {
		hundreds := (pages + 99) / 100
		o.Lines = append(o.Lines, Line{What: "Ink, for a hundred pages", Need: hundreds, Buy: hundreds, Packs: hundreds, Each: r.Paper.Ink, Total: Cents(hundreds) * r.Paper.Ink, Why: fmt.Sprintf("%d pages to print.", pages)})
	}
}

func (r Request) check() error {
	bad := func(hint, format string, args ...any) error {
		return fault.New(fault.Invalid, fmt.Sprintf(format, args...), hint)
	}
	for _, u := range r.Uses {
		switch {
		case u.Policy != OneEach && u.Policy != SharedCopy && u.Policy != Teachers:
			return bad("Choose one each, shared, or the teacher's own.", "%q is no way to have copies of “%s”.", u.Policy, u.Book)
		case len(u.Children) == 0 && u.Policy != Teachers:
			return bad("Add its students, or let the teacher alone have a copy.", "%s has no students, so nobody needs a copy of “%s”.", u.Class, u.Book)
		case u.Last < u.First:
			return bad("Check the two dates.", "“%s” ends on %s, before it starts on %s.", u.Book, u.Last.Words(), u.First.Words())
		case u.PerCopy < 0:
			return bad("Give at least 1.", "%d children cannot share a copy.", u.PerCopy)
		}
	}
	for _, o := range r.Owned {
		if o.Count < 0 {
			return bad("Give 0 or more.", "There cannot be %d copies of “%s”.", o.Count, o.Book)
		}
	}
	for _, o := range r.Offers {
		if o.Price < 0 || o.Pack < 0 || o.Most < 0 {
			return bad("Check price and numbers.", "The offer of “%s” from %s makes no sense.", o.Book, o.Source)
		}
	}
	for _, s := range r.Sources {
		if s.Postage < 0 {
			return bad("Give 0 or more.", "The postage of %s makes no sense.", s.Name)
		}
	}
	for _, p := range r.Printing {
		if p.Pages < 0 || p.Copies < 0 {
			return bad("Give 0 or more.", "%s for %s: pages and copies make no sense.", p.What, p.Class)
		}
	}
	if p := r.Paper; p.Sheets < 0 || p.Ream < 0 || p.InReam < 0 || p.Ink < 0 {
		return bad("Give 0 or more.", "What paper and ink cost makes no sense.")
	}
	return nil
}

func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

func sortPools(p []*pool) {
	slices.SortStableFunc(p, func(a, b *pool) int { return cmp.Or(cmp.Compare(a.book, b.book), cmp.Compare(a.family, b.family)) })
}
