package timetable

import (
	"fmt"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/plan"
)

// Group is a class on the day: its children and the steps that its plan has.
type Group struct {
	Class    class.ID
	Grade    int
	Children []Child
	Steps    []plan.Step
	// Away are the hours of the whole class.
	Away []Away
}

// Hours are how the day is shaped.
type Hours struct {
	Begins  calendar.Clock `json:"begins"`
	Ends    calendar.Clock `json:"ends,omitzero"`
	Teacher []Away         `json:"teacher,omitempty"`
	// Work is the longest that a child works without a pause, 0 for [UsualWork],
	// and Pause how long that is, 0 for [UsualPause]; negative for no pauses.
	Work  int `json:"work,omitempty"`
	Pause int `json:"pause,omitempty"`
	// Copies of novels of which there are fewer than children.
	Copies []Copies `json:"copies,omitempty"`
}

// How long children work, and rest, in minutes (common practice, no source).
const (
	UsualWork  = 45
	UsualPause = 5
)

// Day makes the problem of a day: a block for each step that children do
// together, one for each child of what they do alone where they cannot do it at
// the same time anyway, and short pauses before a stretch of work grows too
// long. With more children than a timetable has rows ([MostGroups]) each class
// keeps step throughout: copies are looked into together, and who is heard
// singly is heard while the class is there. Classes that read the same lesson of the same book do together what
// they do with the teacher.
func Day(h Hours, groups []Group) (Problem, error) {
	p := Problem{Begins: h.Begins, Ends: h.Ends, Teacher: h.Teacher, Copies: h.Copies}
	if h.Work == 0 {
		h.Work = UsualWork
	}
	if h.Pause == 0 {
		h.Pause = UsualPause
	}
	children := 0
	for _, g := range groups {
		if len(g.Steps) > 0 {
			children += len(g.Children)
		}
	}
	for _, g := range groups {
		if len(g.Steps) == 0 {
			continue
		}
		if len(g.Children) == 0 {
			return Problem{}, fault.New(fault.Invalid, fmt.Sprintf("The class %q has work on that day and no students.", g.Class), "Add its students, or leave it out of the timetable.")
		}
		for _, c := range g.Children {
			c.Away = slices.Concat(g.Away, c.Away)
			if slices.ContainsFunc(p.Children, func(x Child) bool { return x.ID == c.ID }) {
				return Problem{}, fault.New(fault.Invalid, fmt.Sprintf("%q is in two classes that both have work on that day.", c.ID), "Give each child one class on a day.")
			}
			p.Children = append(p.Children, c)
		}
		p.Blocks = merge(p.Blocks, h.blocks(g, children > MostGroups))
	}
	return p, nil
}

// blocks are a class's blocks in order; keep says that its children keep step.
func (h Hours) blocks(g Group, keep bool) []Block {
	var ids []string
	for _, c := range g.Children {
		ids = append(ids, c.ID)
	}
	single := !keep && h.singly(g)
	var out []Block
	busy := 0
	seen := map[string]int{}
	for _, s := range g.Steps {
		if s.Minutes <= 0 {
			continue
		}
		with := plan.WithOf(s, g.Grade)
		b := Block{Minutes: s.Minutes, Teacher: with == plan.WithTeacher || with == plan.WithEach, Kit: s.Kit, Lesson: s.Lesson, Kind: s.Kind}
		id := fmt.Sprintf("%s/%d/%s", s.Kit, s.Lesson, s.Kind)
		if seen[id]++; seen[id] > 1 {
			id += fmt.Sprintf("/%d", seen[id])
		}
		if h.Pause > 0 && busy > 0 && busy+s.Minutes > h.Work {
			pause := Block{Minutes: h.Pause, Kind: Break, Kit: s.Kit, Lesson: s.Lesson}
			out = put(out, pause, fmt.Sprintf("%s/break@%s", id, g.Class), ids, single)
			busy = 0
		}
		busy += s.Minutes
		apart := !keep && with == plan.WithEach || with == plan.Alone && single
		if with == plan.Alone { // at the same time, but not with another class
			id += "@" + string(g.Class)
		}
		if plan.NeedsNovel(s) {
			b.Copies = len(ids)
			if apart {
				b.Copies = 1
			}
		}
		out = put(out, b, id, ids, apart)
	}
	return out
}

// put adds a block for all, or one for each child.
func put(out []Block, b Block, id string, children []string, apart bool) []Block {
	if !apart {
		b.ID, b.Children = id, children
		return append(out, b)
	}
	for _, c := range children {
		b.ID, b.Children = id+"/"+c, []string{c}
		out = append(out, b)
	}
	return out
}

// singly reports whether the children of a class cannot keep step in what they
// do alone: a novel that is short, a child heard by itself, hours of their own.
func (h Hours) singly(g Group) bool {
	for _, c := range g.Children {
		if len(c.Away) > 0 || c.From != g.Children[0].From {
			return true
		}
	}
	for _, s := range g.Steps {
		if plan.WithOf(s, g.Grade) == plan.WithEach {
			return true
		}
		for _, c := range h.Copies {
			if c.Kit == s.Kit && c.Count < len(g.Children) && plan.NeedsNovel(s) {
				return true
			}
		}
	}
	return false
}

// merge lays the blocks of another class behind those there are; what both do
// with the teacher, or together, becomes one block, unless their orders differ.
func merge(all, more []Block) []Block {
	last := -1
	var at []int // where each of more stands in all, -1 if nowhere
	for _, b := range more {
		k := slices.IndexFunc(all, func(x Block) bool { return x.ID == b.ID && x.Minutes == b.Minutes && x.Teacher == b.Teacher })
		if k >= 0 && k < last {
			return apart(all, more)
		}
		if last = max(last, k); len(b.Children) == 0 {
			k = -1
		}
		at = append(at, k)
	}
	var out []Block
	done := 0
	for i, b := range more {
		if at[i] < 0 {
			continue
		}
		// What stands before the shared block, in either class.
		out = append(out, all[done:at[i]]...)
		for k := i - 1; k >= 0 && at[k] < 0; k-- {
			out = slices.Insert(out, len(out)-(i-1-k), more[k])
		}
		b.Children = slices.Concat(all[at[i]].Children, b.Children)
		b.Copies += all[at[i]].Copies
		out = append(out, b)
		done = at[i] + 1
	}
	out = append(out, all[done:]...)
	first := len(more)
	for first > 0 && at[first-1] < 0 {
		first--
	}
	return apart(out, more[first:])
}

// apart adds blocks as they are, under names of their own.
func apart(all, more []Block) []Block {
	for _, b := range more {
		id := b.ID
		for n := 2; slices.ContainsFunc(all, func(x Block) bool { return x.ID == b.ID }); n++ {
			b.ID = fmt.Sprintf("%s#%d", id, n)
		}
		all = append(all, b)
	}
	return all
}
