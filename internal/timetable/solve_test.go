package timetable

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

var ctx = context.Background()

// random is a small day: some children, some blocks, each with or without the
// teacher, alone or shared, some with a novel of which there are one or two.
func random(rnd *rand.Rand) Problem {
	p := Problem{Begins: 8 * 60}
	children := 2 + rnd.IntN(4)
	for c := range children {
		ch := Child{ID: fmt.Sprint("c", c)}
		if rnd.IntN(5) == 0 {
			ch.From = p.Begins + calendar.Clock(1+rnd.IntN(4))
		}
		if rnd.IntN(6) == 0 {
			from := p.Begins + calendar.Clock(rnd.IntN(8))
			ch.Away = append(ch.Away, Away{"lesson", from, from + calendar.Clock(1+rnd.IntN(3))})
		}
		p.Children = append(p.Children, ch)
	}
	if rnd.IntN(5) == 0 {
		from := p.Begins + calendar.Clock(rnd.IntN(8))
		p.Teacher = append(p.Teacher, Away{"telephone", from, from + 2})
	}
	blocks := children + rnd.IntN(5)
	for i := range blocks {
		b := Block{ID: fmt.Sprint("b", i), Minutes: 1 + rnd.IntN(4), Teacher: rnd.IntN(2) == 0}
		for c := range children {
			if rnd.IntN(children) == 0 {
				b.Children = append(b.Children, fmt.Sprint("c", c))
			}
		}
		if b.Children == nil {
			b.Children = []string{fmt.Sprint("c", rnd.IntN(children))}
		}
		if rnd.IntN(3) == 0 {
			b.Kit, b.Copies = "k", 1+rnd.IntN(2)
		}
		p.Blocks = append(p.Blocks, b)
	}
	p.Copies = []Copies{{"k", 1 + rnd.IntN(2)}}
	p.Weights = &Weights{Wait: 1 + rnd.IntN(3), End: rnd.IntN(3)}
	if rnd.IntN(5) == 0 {
		p.Pins = append(p.Pins, Pin{p.Blocks[rnd.IntN(blocks)].ID, p.Begins + calendar.Clock(rnd.IntN(9))})
	}
	return p
}

// lawful checks a day against the rules, from the problem and not from the search.
func lawful(t *testing.T, p Problem, r *Result) {
	t.Helper()
	at := map[string]int{}
	for _, x := range r.Placed {
		if _, twice := at[x.Block]; twice {
			t.Fatalf("%s lies twice", x.Block)
		}
		at[x.Block] = int(x.At)
	}
	copies := map[kit.ID]int{}
	for _, c := range p.Copies {
		copies[c.Kit] = c.Count
	}
	last := map[string]int{}
	for _, b := range p.Blocks {
		from, ok := at[b.ID]
		if !ok || from < int(p.Begins) {
			t.Fatalf("%s lies at %d, %v", b.ID, from, ok)
		}
		for _, c := range b.Children {
			i := slices.IndexFunc(p.Children, func(x Child) bool { return x.ID == c })
			if from < last[c] || from < int(p.Children[i].From) {
				t.Fatalf("%s begins at %d, when %s is not ready", b.ID, from, c)
			}
			last[c] = from + b.Minutes
			for _, a := range p.Children[i].Away {
				if from < int(a.To) && int(a.From) < from+b.Minutes {
					t.Fatalf("%s lies where %s is away", b.ID, c)
				}
			}
		}
		for _, a := range p.Teacher {
			if b.Teacher && from < int(a.To) && int(a.From) < from+b.Minutes {
				t.Fatalf("%s lies where the teacher is away", b.ID)
			}
		}
	}
	for _, pin := range p.Pins {
		if at[pin.Block] != int(pin.At) {
			t.Fatalf("%s was put at %d and lies at %d", pin.Block, pin.At, at[pin.Block])
		}
	}
	for minute := int(p.Begins); minute < int(r.Ends); minute++ {
		teacher, used := 0, map[kit.ID]int{}
		for _, b := range p.Blocks {
			if at[b.ID] <= minute && minute < at[b.ID]+b.Minutes {
				if b.Teacher {
					teacher++
				}
				if n := copies[b.Kit]; n > 0 {
					used[b.Kit] += min(b.Copies, n)
				}
			}
		}
		if teacher > 1 {
			t.Fatalf("the teacher is needed %d times at %d", teacher, minute)
		}
		for k, n := range used {
			if n > copies[k] {
				t.Fatalf("%d copies of %s are needed at %d", n, k, minute)
			}
		}
	}
}

// Every day keeps the rules, its cost is that of its waits and its end, and the
// same problem gives the same day.
func TestLawful(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	solved := 0
	for range 400 {
		p := random(rnd)
		r, err := Solve(ctx, p)
		if err != nil {
			if f := fault.Of(err); f.Kind != fault.Invalid || f.Hint == "" {
				t.Fatalf("%v: %+v", err, p)
			}
			continue
		}
		solved++
		lawful(t, p, r)
		if !r.Exact || r.Gap != 0 || r.Cost != r.Bound {
			t.Fatalf("a small day is not solved: %+v", r)
		}
		again, err := Solve(ctx, p)
		if err != nil || !reflect.DeepEqual(r, again) {
			t.Fatal("another day the second time")
		}
		if len(p.Children) > 0 && p.Weights.End == 0 && !anyAway(p) {
			waits := 0
			for _, w := range r.Waits {
				waits += int(w.To - w.From)
			}
			if got := p.Weights.Wait * waits; got != r.Cost {
				t.Fatalf("the waits cost %d, the day %d\n%+v\n%+v", got, r.Cost, p, r)
			}
		}
	}
	if solved < 250 {
		t.Errorf("only %d of 400 days could be", solved)
	}
}

func anyAway(p Problem) bool {
	return slices.ContainsFunc(p.Children, func(c Child) bool { return len(c.Away) > 0 })
}

// When the search is cut short, it says by how much it may be off, and is not
// off by more.
func TestGap(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	cut := 0
	for range 30 {
		p := family(rnd, 5)
		whole, err := Solve(ctx, p)
		if err != nil {
			t.Fatal(err)
		}
		p.States = 30
		short, err := Solve(ctx, p)
		if err != nil {
			t.Fatal(err)
		}
		lawful(t, p, short)
		if short.Bound > whole.Cost || short.Cost < whole.Cost || short.Gap != short.Cost-short.Bound || short.Exact != (short.Gap == 0) {
			t.Fatalf("cut short %d..%d, truly %d", short.Bound, short.Cost, whole.Cost)
		}
		if !short.Exact {
			cut++
			if !strings.Contains(strings.Join(short.Notes, " "), "at most") {
				t.Errorf("%v", short.Notes)
			}
		}
	}
	if cut == 0 {
		t.Error("no day was cut short")
	}
}

// Two children of their own books, and what they do together.
func two() Problem {
	return Problem{Begins: 9 * 60, Ends: 10 * 60,
		Children: []Child{{ID: "a", Name: "Ann"}, {ID: "b", Name: "Ben"}},
		Blocks: []Block{
			{ID: "a1", Children: []string{"a"}, Minutes: 10, Teacher: true, Kind: plan.Background},
			{ID: "b1", Children: []string{"b"}, Minutes: 10, Teacher: true, Kind: plan.Background},
			{ID: "a2", Children: []string{"a"}, Minutes: 15, Kind: plan.Questions},
			{ID: "b2", Children: []string{"b"}, Minutes: 15, Kind: plan.Questions},
			{ID: "ab", Children: []string{"a", "b"}, Minutes: 10, Teacher: true, Kind: plan.Discussion},
		}}
}

func show(r *Result) string {
	var out []string
	for _, p := range r.Placed {
		out = append(out, fmt.Sprint(p.Block, " ", p.At))
	}
	return strings.Join(out, ", ")
}

func TestTwo(t *testing.T) {
	r, err := Solve(ctx, two())
	if err != nil {
		t.Fatal(err)
	}
	if got := show(r); got != "a1 09:00, b1 09:10, a2 09:10, b2 09:20, ab 09:35" || r.Ends != 9*60+45 || r.Cost != 20+45 {
		t.Errorf("%s, ends %s, cost %d", got, r.Ends, r.Cost)
	}
	// Ben waits at first, Ann before what they do together.
	if want := []Waiting{{"b", 540, 550}, {"a", 565, 575}}; !reflect.DeepEqual(r.Waits, want) {
		t.Errorf("%v", r.Waits)
	}
	// Ben's first block is dragged to the beginning: the rest follows.
	p := two()
	p.Before, p.Pins = r.Placed, []Pin{{"b1", 9 * 60}}
	if r, err = Solve(ctx, p); err != nil || show(r) != "b1 09:00, a1 09:10, b2 09:10, a2 09:20, ab 09:35" {
		t.Errorf("%v %v", r, err)
	}
	// Dragged nowhere, the day stays as it was, though another is as good.
	p.Pins, p.Before = nil, r.Placed
	if again, err := Solve(ctx, p); err != nil || show(again) != show(r) {
		t.Errorf("%v %v", again, err)
	}
	// The teacher is away, the day lasts too long.
	p = two()
	p.Teacher = []Away{{"telephone", 9*60 + 20, 9*60 + 50}}
	r, err = Solve(ctx, p)
	if err != nil || r.Ends != 10*60 || !r.Exact {
		t.Errorf("%v %v", r, err)
	}
	p.Ends = 9*60 + 55
	if r, err = Solve(ctx, p); err != nil || !strings.Contains(strings.Join(r.Notes, " "), "The day lasts until 10:00, 5 minutes past its end. You alone are needed for 30 minutes, and have 25. What would help: 5 minutes fewer with you") {
		t.Errorf("%v %v", r.Notes, err)
	}
}

// Two children with one novel between them never read at the same time; with
// two they do.
func TestSharedCopy(t *testing.T) {
	p := Problem{Begins: 9 * 60, Children: []Child{{ID: "a"}, {ID: "b"}}, Copies: []Copies{{"k", 1}}}
	for _, c := range []string{"a", "b"} {
		p.Blocks = append(p.Blocks, Block{ID: c + "r", Children: []string{c}, Minutes: 20, Kit: "k", Copies: 1},
			Block{ID: c + "q", Children: []string{c}, Minutes: 10})
	}
	r, err := Solve(ctx, p)
	if err != nil || show(r) != "ar 09:00, aq 09:20, br 09:20, bq 09:40" || !r.Exact {
		t.Errorf("%v %v", r, err)
	}
	p.Copies[0].Count = 2
	if r, err = Solve(ctx, p); err != nil || show(r) != "ar 09:00, br 09:00, aq 09:20, bq 09:20" {
		t.Errorf("%v %v", r, err)
	}
}

func TestBadDays(t *testing.T) {
	for says, change := range map[string]func(*Problem){
		"before it begins at 09:00":                  func(p *Problem) { p.Ends = 8 * 60 },
		"has 0 minutes":                              func(p *Problem) { p.Blocks[1].Minutes = 0 },
		"has no children":                            func(p *Problem) { p.Blocks[1].Children = nil },
		"a child that is not there":                  func(p *Problem) { p.Blocks[1].Children = []string{"z"} },
		`have the same id, or one has none`:          func(p *Problem) { p.Blocks[1].ID = "a1" },
		"Two children have the same id":              func(p *Problem) { p.Children[1].ID = "a" },
		`Ann: "lunch" ends at 09:00`:                 func(p *Problem) { p.Children[0].Away = []Away{{"lunch", 9 * 60, 9 * 60}} },
		"cannot be at 09:00: the work before":        func(p *Problem) { p.Pins = []Pin{{"ab", 9 * 60}} },
		"both need the teacher":                      func(p *Problem) { p.Pins = []Pin{{"a1", 9 * 60}, {"b1", 9*60 + 5}} },
		"before the day begins":                      func(p *Problem) { p.Pins = []Pin{{"a1", 8 * 60}} },
		"put at 09:00 and at 09:30":                  func(p *Problem) { p.Pins = []Pin{{"a1", 540}, {"a1", 540}, {"a1", 570}} },
		"not there any more":                         func(p *Problem) { p.Pins = []Pin{{"zz", 9 * 60}} },
		"because the teacher is away then":           func(p *Problem) { p.Teacher, p.Pins = []Away{{"lunch", 545, 550}}, []Pin{{"a1", 9 * 60}} },
		"more than a day has":                        func(p *Problem) { p.Blocks[0].Minutes = 1500 },
		"9:40: the work before it takes until 09:45": func(p *Problem) { p.Pins = []Pin{{"a1", 9*60 + 10}, {"b1", 9*60 + 20}, {"ab", 9*60 + 40}} },
		"what must be done before them does not":     func(p *Problem) { p.Pins, p.Blocks = []Pin{{"ab", 9*60 + 15}}, slices.Delete(p.Blocks, 2, 4) },
	} {
		p := two()
		change(&p)
		_, err := Solve(ctx, p)
		if f := fault.Of(err); err == nil || f.Kind == fault.Internal || !strings.Contains(f.Message, says) || f.Hint == "" {
			t.Errorf("%s: %v", says, err)
		}
	}
	var many Problem
	for i := range MostGroups + 1 {
		id := fmt.Sprint(i)
		many.Children = append(many.Children, Child{ID: id})
		many.Blocks = append(many.Blocks, Block{ID: id, Children: []string{id}, Minutes: 1 + i, Teacher: true})
	}
	if _, err := Solve(ctx, many); !fault.Is(err, fault.TooLarge) {
		t.Errorf("%v", err)
	}
	if r, err := Solve(ctx, Problem{Begins: 540}); err != nil || !r.Exact || r.Ends != 540 {
		t.Errorf("an empty day: %v %v", r, err)
	}
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := Solve(stopped, two()); !fault.Is(err, fault.Canceled) {
		t.Errorf("%v", err)
	}
}

// Large days with hours away, short copies and blocks that were put at a time
// keep the rules, too, when the search is cut short.
func TestLawfulLarge(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 9))
	solved := 0
	for range 80 {
		p := family(rnd, 4+rnd.IntN(5))
		p.States = 200
		for i := range p.Children {
			if rnd.IntN(3) == 0 {
				from := p.Begins + calendar.Clock(rnd.IntN(120))
				p.Children[i].Away = []Away{{"lesson", from, from + calendar.Clock(10+rnd.IntN(30))}}
			}
			if rnd.IntN(4) == 0 {
				p.Children[i].From = p.Begins + calendar.Clock(rnd.IntN(60))
			}
		}
		p.Teacher = []Away{{"lunch", p.Begins + 120, p.Begins + 150}}
		for range rnd.IntN(3) {
			p.Pins = append(p.Pins, Pin{p.Blocks[rnd.IntN(len(p.Blocks))].ID, p.Begins + calendar.Clock(60+rnd.IntN(200))})
		}
		r, err := Solve(ctx, p)
		if err != nil {
			if fault.Of(err).Kind != fault.Invalid {
				t.Fatalf("%v\n%+v", err, p)
			}
			continue
		}
		solved++
		lawful(t, p, r)
		if r.Cost < r.Bound {
			t.Fatalf("costs %d, less than the bound %d", r.Cost, r.Bound)
		}
		// Put where it lies already, every block stays.
		q := p
		q.Pins, q.Before = nil, r.Placed
		for _, x := range r.Placed[:3] {
			q.Pins = append(q.Pins, Pin(x))
		}
		again, err := Solve(ctx, q)
		if err != nil {
			t.Fatalf("%v\n%+v", err, q)
		}
		lawful(t, q, again)
		if again.Cost > r.Cost {
			t.Fatalf("the day as it stood costs %d and was given up for %d", r.Cost, again.Cost)
		}
	}
	if solved < 40 {
		t.Errorf("only %d of 80 days could be", solved)
	}
}

// busy is a day on which copies are short and the teacher is in demand.
func busy(rnd *rand.Rand) Problem {
	p := Problem{Begins: 9 * 60, Weights: &Weights{Wait: 1 + rnd.IntN(2), End: rnd.IntN(3)}}
	children := 3 + rnd.IntN(3)
	for c := range children {
		id := fmt.Sprint("c", c)
		p.Children = append(p.Children, Child{ID: id})
		for k := range 2 + rnd.IntN(3) {
			b := Block{ID: fmt.Sprint(id, k), Children: []string{id}, Minutes: 1 + rnd.IntN(9), Teacher: rnd.IntN(3) == 0}
			if rnd.IntN(2) == 0 {
				b.Kit, b.Copies = kit.ID(fmt.Sprint("k", rnd.IntN(2))), 1+rnd.IntN(2)
			}
			p.Blocks = append(p.Blocks, b)
		}
	}
	p.Copies = []Copies{{"k0", 1 + rnd.IntN(3)}, {"k1", 2}}
	return p
}

// Leaving out dominated states loses no cheapest day.
func TestDominationLosesNothing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	fewer, compared := 0, 0
	for range 400 {
		p := busy(rnd)
		m, err := compile(p)
		if err != nil {
			t.Fatal(err)
		}
		all := &search{m: m, limit: 20_000, all: true}
		if err := all.run(ctx); err != nil {
			t.Fatal(err)
		}
		if all.open {
			continue
		}
		compared++
		some := &search{m: m, limit: 20_000}
		if err := some.run(ctx); err != nil {
			t.Fatal(err)
		}
		if some.price != all.price {
			t.Fatalf("%d with all states, %d with fewer\n%+v", all.price, some.price, p)
		}
		if some.count < all.count {
			fewer++
		}
	}
	if compared < 300 || fewer < 100 {
		t.Errorf("%d compared, fewer states in %d", compared, fewer)
	}
}
