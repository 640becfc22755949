package shelf

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/planner"
)

// Column is a fact by which books can be sorted and bounded.
type Column struct {
	Key  string // "words"
	Name string // for people
	// Text says how it is shown, Value is what it is sorted by; Value is nil for
	// what is sorted by its text.
	Text  func(*Facts) string
	Value func(*Facts) float64
}

// Columns are all of them in the order in which they are shown.
func Columns() []Column {
	number := func(key, name, format string, v func(*Facts) float64) Column {
		return Column{key, name, func(f *Facts) string { return fmt.Sprintf(format, v(f)) }, v}
	}
	share := func(key, name string, v func(*Facts) float64) Column {
		return Column{key, name, func(f *Facts) string {
			if v(f) < 0 {
				return "–"
			}
			return fmt.Sprintf("%.1f %%", 100*v(f))
		}, v}
	}
	seen := func(f *Facts, k SightKind) float64 {
		n := 0
		for _, s := range f.See {
			if s.Kind == k {
				n++
			}
		}
		return float64(n)
	}
	return []Column{
		{"title", "Title", func(f *Facts) string { return f.Title }, nil}, {"author", "Author", func(f *Facts) string { return f.Author }, nil},
		number("words", "Words", "%.0f", func(f *Facts) float64 { return float64(f.Words) }),
		number("lessons", "Lessons", "%.0f", func(f *Facts) float64 { return float64(f.Lessons) }),
		number("weeks", "Weeks", "%.1f", func(f *Facts) float64 { return f.Weeks }),
		number("ease", "Reading ease", "%.0f", func(f *Facts) float64 { return f.Ease }),
		number("grade", "Grade by formula", "%.1f", func(f *Facts) float64 { return f.Grade }),
		share("beyond", "Words beyond the class", func(f *Facts) float64 { return f.Beyond }),
		share("decodable", "Can be sounded out", func(f *Facts) float64 { return f.Decodable }),
		share("names", "Names", func(f *Facts) float64 { return f.Names }),
		share("dialogue", "In speech", func(f *Facts) float64 { return f.Dialogue }),
		number("terms", "Dated or offensive terms", "%.0f", func(f *Facts) float64 { return seen(f, Term) }),
		number("death", "Death", "%.0f", func(f *Facts) float64 { return seen(f, Death) }),
		number("cruelty", "Cruelty", "%.0f", func(f *Facts) float64 { return seen(f, Cruelty) }),
	}
}

func column(key string) (Column, error) {
	for _, c := range Columns() {
		if c.Key == key {
			return c, nil
		}
	}
	return Column{}, fault.New(fault.Invalid, fmt.Sprintf("Books cannot be sorted by %q.", key), "Choose one of the columns.")
}

// Sort orders books by a column; books that are equal in it stay in the order of
// their titles.
func Sort(list []*Facts, key string, down bool) error {
	c, err := column(key)
	if err != nil {
		return err
	}
	slices.SortStableFunc(list, func(a, b *Facts) int {
		n := 0
		if c.Value == nil {
			n = cmp.Compare(strings.ToLower(c.Text(a)), strings.ToLower(c.Text(b)))
		} else {
			n = cmp.Compare(c.Value(a), c.Value(b))
		}
		if down {
			n = -n
		}
		return cmp.Or(n, cmp.Compare(strings.ToLower(a.Title), strings.ToLower(b.Title)), cmp.Compare(a.Book, b.Book))
	})
	return nil
}

// Bound keeps the books whose column lies between Least and Most.
type Bound struct {
	Key         string
	Least, Most float64
}

// Filter returns the books that keep all bounds and whose title or author holds
// the words, whatever their case.
func Filter(list []*Facts, words string, bounds []Bound) ([]*Facts, error) {
	var values []func(*Facts) float64
	for _, b := range bounds {
		c, err := column(b.Key)
		if err != nil {
			return nil, err
		}
		if c.Value == nil {
			return nil, fault.New(fault.Invalid, fmt.Sprintf("%s has no number to bound.", c.Name), "Choose another column.")
		}
		values = append(values, c.Value)
	}
	want := strings.Fields(strings.ToLower(words))
	var out []*Facts
	for _, f := range list {
		ok := true
		if len(want) > 0 {
			text := strings.ToLower(f.Title + " " + f.Author)
			for _, w := range want {
				ok = ok && strings.Contains(text, w)
			}
		}
		for i, v := range values {
			ok = ok && v(f) >= bounds[i].Least && v(f) <= bounds[i].Most
		}
		if ok {
			out = append(out, f)
		}
	}
	return out, nil
}

// Stay is where a book would lie in the year.
type Stay struct {
	First, Last calendar.Date
	// Whole is false when the year does not hold all of it; Why says so.
	Whole bool
	Why   string
}

// Fits plans the year with a book behind those that it has, and tells its days.
func Fits(ctx context.Context, r planner.Request, candidate planner.Book) (Stay, error) {
	r.Books = append(slices.Clone(r.Books), candidate)
	res, err := planner.Plan(ctx, r)
	if err != nil {
		return Stay{}, err
	}
	s := Stay{Whole: true}
	for _, d := range res.Plan.Days {
		for _, x := range d.Steps {
			if x.Kit == candidate.Kit {
				if s.First == calendar.None {
					s.First = d.Date
				}
				s.Last = d.Date
			}
		}
	}
	for _, f := range res.Plan.Shortfalls {
		if f.Kit == candidate.Kit {
			s.Whole = false
			s.Why = fmt.Sprintf("%d minutes of its work find no day.", f.Minutes)
		}
	}
	return s, nil
}
