package timetable

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// mixedInteger writes a day as a mixed-integer program in CPLEX LP format, from
// the rules as docs/planning.md states them and not from the search: x(b,s) is 1
// when block b begins at minute s of the day.
func mixedInteger(p Problem, horizon int) string {
	w := Usual()
	if p.Weights != nil {
		w = *p.Weights
	}
	var cost, rows, binary strings.Builder
	pin := map[string]int{}
	for _, x := range p.Pins {
		pin[x.Block] = int(x.At - p.Begins)
	}
	free := func(list []Away, from, minutes int) bool {
		return !slices.ContainsFunc(list, func(a Away) bool {
			return from < int(a.To-p.Begins) && int(a.From-p.Begins) < from+minutes
		})
	}
	child := func(id string) Child {
		return p.Children[slices.IndexFunc(p.Children, func(c Child) bool { return c.ID == id })]
	}
	starts := make([][]int, len(p.Blocks))
	for b, x := range p.Blocks {
		for s := 0; s+x.Minutes <= horizon; s++ {
			ok := !x.Teacher || free(p.Teacher, s, x.Minutes)
			for _, id := range x.Children {
				c := child(id)
				ok = ok && free(c.Away, s, x.Minutes) && s >= int(c.From-p.Begins)
			}
			if at, is := pin[x.ID]; ok && (!is || at == s) {
				starts[b] = append(starts[b], s)
				fmt.Fprintf(&binary, " x_%d_%d\n", b, s)
			}
		}
		fmt.Fprintf(&rows, " 0 one")
		for _, s := range starts[b] {
			fmt.Fprintf(&rows, " + x_%d_%d", b, s)
		}
		fmt.Fprintf(&rows, " = 1\n")
	}
	// begin writes the time of a block's beginning, times a sign.
	begin := func(out *strings.Builder, sign string, b int) {
		for _, s := range starts[b] {
			fmt.Fprintf(out, " %s %d x_%d_%d", sign, s, b, s)
		}
	}
	for _, c := range p.Children {
		last := -1
		for b, x := range p.Blocks {
			if !slices.Contains(x.Children, c.ID) {
				continue
			}
			if last >= 0 {
				begin(&rows, "+", b)
				begin(&rows, "-", last)
				fmt.Fprintf(&rows, " + 0 one >= %d\n", p.Blocks[last].Minutes)
			}
			last = b
		}
		if last >= 0 {
			fmt.Fprintf(&rows, " end_%s", c.ID)
			begin(&rows, "-", last)
			fmt.Fprintf(&rows, " >= %d\n day - end_%s >= 0\n", p.Blocks[last].Minutes, c.ID)
			fmt.Fprintf(&cost, " + %d end_%s", w.Wait, c.ID)
		}
	}
	fmt.Fprintf(&cost, " + %d day", w.End)
	atMost := func(need func(Block) int, most, minute int) {
		var row strings.Builder
		for b, x := range p.Blocks {
			if n := need(x); n > 0 {
				for _, s := range starts[b] {
					if s <= minute && minute < s+x.Minutes {
						fmt.Fprintf(&row, " + %d x_%d_%d", n, b, s)
					}
				}
			}
		}
		if row.Len() > 0 {
			fmt.Fprintf(&rows, "%s <= %d\n", row.String(), most)
		}
	}
	for minute := range horizon {
		atMost(func(b Block) int {
			if b.Teacher {
				return 1
			}
			return 0
		}, 1, minute)
		for _, c := range p.Copies {
			atMost(func(b Block) int {
				if b.Kit == c.Kit {
					return min(b.Copies, c.Count)
				}
				return 0
			}, c.Count, minute)
		}
	}
	return "Minimize\n cost:" + cost.String() + " + 0 one\nSubject To\n" + rows.String() + "Bounds\n one = 1\nBinary\n" + binary.String() + "End\n"
}

// glpsol solves a model with the GNU Linear Programming Kit; ok is false when
// no day is possible.
func glpsol(t *testing.T, dir, model string) (cost int, ok bool) {
	t.Helper()
	lp, out := filepath.Join(dir, "day.lp"), filepath.Join(dir, "day.out")
	if err := os.WriteFile(lp, []byte(model), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command("glpsol", "--lp", lp, "-w", out).CombinedOutput()
	if err != nil {
		t.Fatalf("running glpsol (Debian package glpk-utils): %v\n%s", err, said)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range bytes.Split(b, []byte("\n")) {
		var rows, cols int
		var status string
		var obj float64
		if n, _ := fmt.Sscanf(string(line), "s mip %d %d %s %g", &rows, &cols, &status, &obj); n == 4 {
			if status == "n" || status == "u" && bytes.Contains(said, []byte("NO ")) {
				return 0, false
			}
			if status != "o" || math.Abs(obj-math.Round(obj)) > 1e-4 {
				t.Fatalf("glpsol: status %s, %g\n%s", status, obj, said)
			}
			return int(math.Round(obj)), true
		}
	}
	t.Fatalf("glpsol wrote no solution:\n%s\n%s", said, b)
	return 0, false
}

// An independent solver, the GNU Linear Programming Kit, finds the same price
// for the cheapest day, and no day where there is none, on random problems.
func TestAgreesWithAnIntegerProgram(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Fatal("This check needs glpsol. Install the Debian package glpk-utils (`make debian`).")
	}
	rnd := rand.New(rand.NewPCG(5, 6))
	dir := t.TempDir()
	possible := 0
	for i := range 300 {
		p := random(rnd)
		horizon := 12 // when all are there again, everything fits one behind the other
		for _, b := range p.Blocks {
			horizon += b.Minutes
		}
		want, ok := glpsol(t, dir, mixedInteger(p, horizon))
		r, err := Solve(ctx, p)
		if ok != (err == nil) {
			t.Fatalf("problem %d: the solver finds a day: %v; here %v\n%+v", i, ok, err, p)
		}
		if !ok {
			continue
		}
		possible++
		m, err := compile(p)
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Cost + m.arrivals(); got != want || !r.Exact {
			t.Fatalf("problem %d: %s costs %d, the solver finds %d\n%+v", i, show(r), got, want, p)
		}
	}
	if possible < 200 {
		t.Errorf("only %d of 300 days could be", possible)
	}
}
