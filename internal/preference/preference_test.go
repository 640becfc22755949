package preference

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"bookstead/internal/kit"
)

func decided(state kit.State, of string, n int) []kit.Decision {
	var out []kit.Decision
	for range n {
		out = append(out, kit.Decision{Kind: kit.Question, State: state, Content: kit.Content{Note: of}})
	}
	return out
}

func drafts() []kit.Draft {
	q := func(id, of string, score float64, spare bool) kit.Draft {
		return kit.Draft{ID: kit.ItemID(id), Kind: kit.Question, Score: score, Spare: spare, Content: kit.Content{Note: of}}
	}
	return []kit.Draft{q("1", "setting", 2, false), q("2", "cause", 2, false), q("3", "cause", 1, true), q("4", "cause", 1.5, true), q("5", "setting", 1.9, true)}
}

func printed(d []kit.Draft) string {
	var out []string
	for _, x := range d {
		if !x.Spare {
			out = append(out, string(x.ID))
		}
	}
	return strings.Join(out, " ")
}

func TestPreferExchangesDislikedForLiked(t *testing.T) {
	l := Learn(append(decided(kit.Dropped, "setting", 9), decided(kit.Kept, "cause", 9)...))
	got := l.Prefer(drafts())
	if s := printed(got); s != "2 4" {
		t.Errorf("printed %s, want the two that ask why, the better spare first", s)
	}
	if !strings.Contains(got[3].Why, "9 of 9") {
		t.Errorf("the new draft says %q, not why it stands there", got[3].Why)
	}
	if s := strings.Join(l.Say(), " "); !strings.Contains(s, "You dropped 9 of 9 questions about where or when.") || !strings.Contains(s, "kept 9 of 9 questions that ask why") {
		t.Errorf("said %q", s)
	}
}

func TestFewDecisionsTeachNothing(t *testing.T) {
	for _, d := range [][]kit.Decision{nil, decided(kit.Dropped, "setting", 1), append(decided(kit.Dropped, "setting", 1), decided(kit.Kept, "cause", 1)...), decided(kit.Dropped, "setting", 40)} {
		l := Learn(d)
		if got := l.Prefer(drafts()); !reflect.DeepEqual(got, drafts()) || len(l.Say()) != 0 {
			t.Errorf("%d decisions changed the drafts: %s, %v", len(d), printed(got), l.Say())
		}
	}
}

// Push is drawn toward nought with few decisions, and grows with more.
func TestPushShrinks(t *testing.T) {
	last := 0.0
	for _, n := range []int{1, 3, 9, 30} {
		l := Learn(append(decided(kit.Dropped, "setting", n), decided(kit.Kept, "cause", n)...))
		p := l.Push(Sort{kit.Question, "cause"})
		if p <= last || p >= 0.5 {
			t.Errorf("%d decisions push %.3f, want more than %.3f and less than .5", n, p, last)
		}
		if q := l.Push(Sort{kit.Question, "setting"}); math.Abs(p+q) > 1e-9 {
			t.Errorf("pushes %.3f and %.3f are not level", p, q)
		}
		last = p
	}
	l := Learn(append(decided(kit.Changed, "setting", 9), decided(kit.Kept, "cause", 9)...))
	if a, b := -l.Push(Sort{kit.Question, "setting"}), 0.3; a <= 0 || a >= b {
		t.Errorf("changing pushes %.3f, want less than dropping", a)
	}
}

// Undoing the decisions undoes what was learned, whatever their order.
func TestReversible(t *testing.T) {
	d := append(decided(kit.Dropped, "setting", 9), decided(kit.Kept, "cause", 9)...)
	back := append([]kit.Decision{}, d[9:]...)
	back = append(back, d[:9]...)
	if !reflect.DeepEqual(Learn(d), Learn(back)) {
		t.Error("the order of decisions counts")
	}
	if got := Learn(nil).Prefer(drafts()); !reflect.DeepEqual(got, drafts()) {
		t.Error("without decisions the drafts are not the program's own")
	}
}

func TestAWarnedDraftIsNeverPreferred(t *testing.T) {
	d := drafts()
	d[2].Warning, d[3].Warning = "holds a slur", "holds a slur"
	l := Learn(append(decided(kit.Dropped, "setting", 9), decided(kit.Kept, "cause", 9)...))
	if s := printed(l.Prefer(d)); s != "1 2" {
		t.Errorf("printed %s", s)
	}
}
