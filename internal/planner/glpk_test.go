package planner

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// lateDay is what a late day costs in the models: more than all wishes of a
// problem as small as these, and not so much that floating point loses them.
const lateDay = 100_000

// expr is a linear expression: coefficients by variable, "" for the constant.
type expr map[string]int

func (e expr) plus(c int, o expr) expr {
	for v, k := range o {
		e[v] += c * k
	}
	return e
}

// text is the expression without its constant.
func (e expr) text() string {
	var names []string
	for v, k := range e {
		if v != "" && k != 0 {
			names = append(names, v)
		}
	}
	slices.Sort(names)
	var out strings.Builder
	for k, v := range names {
		if k > 0 && k%8 == 0 {
			out.WriteString("\n")
		}
		fmt.Fprintf(&out, " %+d %s", e[v], v)
	}
	if out.Len() == 0 {
		return " 0 one"
	}
	return out.String()
}

// model writes the problem as a mixed-integer program in CPLEX LP format, from
// the objective as docs/planning.md states it and not from the search: x(i,d)
// is 1 when atom i lies on day d, and s(i,d), the sum of x(i,0) to x(i,d), is 1
// when it is done by the evening of day d.
func model(p *problem) string {
	n, days := len(p.atoms), len(p.days)
	x := func(i, d int) expr { return expr{fmt.Sprintf("x_%d_%d", i, d): 1} }
	v := func(name string, i int) expr { return expr{fmt.Sprintf("%s_%d", name, i): 1} }
	s := func(i, d int) expr {
		out := expr{}
		for e := p.atoms[i].first; e <= d; e++ {
			out.plus(1, x(i, e))
		}
		return out
	}
	cost := expr{}
	var rows, binary strings.Builder
	// atMost states that an expression is 0 or less.
	row := func(e expr, op string) {
		fmt.Fprintf(&rows, "%s %s %d\n", e.text(), op, -e[""])
	}
	atMost := func(e expr) { row(e, "<=") }

	for i, a := range p.atoms {
		row(s(i, days-1).plus(-1, expr{"": 1}), "=")
		for d := range days {
			if d >= a.first {
				fmt.Fprintf(&binary, " x_%d_%d\n", i, d)
				atMost(x(i, d).plus(-1, v("used", d)))
				if p.days[d].edge {
					cost.plus(a.test, x(i, d))
				}
				if a.agreed >= 0 {
					cost.plus(a.moved*distance(d, a.agreed), x(i, d))
				}
			}
		}
		if i == 0 {
			continue
		}
		cost.plus(a.cut, v("cut", i))
		for d, day := range p.days {
			before := d
			if a.fresh {
				before = d - 1
			}
			atMost(s(i, d).plus(-1, s(i-1, before))) // in order, fresh atoms on a later day
			between := s(i-1, d).plus(-1, s(i, d))   // 1 when day d ends between the two
			atMost(expr{}.plus(1, between).plus(-1, v("cut", i)))
			if a.inside && day.gap == weekend {
				cost.plus(p.w.Weekend, between)
			}
			if a.inside && day.gap == daysOff {
				cost.plus(p.w.Break, between)
			}
		}
	}
	for d, day := range p.days {
		load, give, done, all, can := expr{}, expr{}, expr{}, 0, -1
		for i, a := range p.atoms {
			all += a.minutes
			done.plus(a.minutes, s(i, d))
			if d >= a.first {
				load.plus(a.minutes, x(i, d))
				give.plus(a.give, x(i, d))
				can = i
			}
		}
		atMost(expr{"": -day.cap}.plus(1, load).plus(-1, v("short", d)))
		atMost(v("short", d).plus(-1, give))
		cost.plus(p.w.Short, v("short", d))
		for k, floor := range []int{day.cap * 3 / 4, day.cap / 2} { // not on the last day with work
			thin := v(fmt.Sprint("thin", k), d)
			atMost(expr{}.plus(floor, v("used", d)).plus(-floor, s(n-1, d)).plus(-1, load).plus(-1, thin))
			cost.plus(p.w.Thin, thin)
		}
		if day.light {
			atMost(expr{"": -(day.cap * 3 / 4)}.plus(1, load).plus(-1, v("light", d)))
			cost.plus(p.w.Light, v("light", d))
		}
		if can >= 0 { // some work that can be done by now is still open
			cost.plus(p.w.Day, expr{"": 1}).plus(-p.w.Day, s(can, d-1))
		}
		for _, e := range p.ends {
			if e.day < d {
				cost.plus(lateDay, expr{"": 1}).plus(-lateDay, s(e.last, d-1))
			}
		}
		if p.line != nil { // not once all is done
			rest := v("off", d).plus(all+p.line[d], s(n-1, d-1)).plus(p.band, expr{"": 1})
			atMost(expr{"": -p.line[d]}.plus(1, done).plus(-1, rest))
			atMost(expr{"": p.line[d]}.plus(-1, done).plus(-1, rest))
			cost.plus(p.w.Reserve, v("off", d))
		}
	}
	cost["one"] = cost[""]
	return "Minimize\n cost:" + cost.text() + "\nSubject To\n" + rows.String() + "Bounds\n one = 1\nBinary\n" + binary.String() + "End\n"
}

// glpsol solves a model with the GNU Linear Programming Kit.
func glpsol(t *testing.T, dir, model string) int {
	t.Helper()
	lp, out := filepath.Join(dir, "plan.lp"), filepath.Join(dir, "plan.out")
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
			if status != "o" || math.Abs(obj-math.Round(obj)) > 1e-4 {
				t.Fatalf("glpsol: status %s, %g", status, obj)
			}
			return int(math.Round(obj))
		}
	}
	t.Fatalf("glpsol wrote no solution:\n%s\n%s", said, b)
	return 0
}

// An independent solver, the GNU Linear Programming Kit, finds no plan that is
// cheaper and none that is dearer, on random problems.
func TestAgreesWithAnIntegerProgram(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Fatal("This check needs glpsol. Install the Debian package glpk-utils (`make debian`).")
	}
	draw := problems(9, 18)
	dir := t.TempDir()
	for seed := range 500 {
		p := draw.Example(seed)
		at, err := p.solve(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		c := p.total(at)
		if c.Points() >= lateDay {
			t.Fatalf("problem %d: %d points are too many for the model", seed, c.Points())
		}
		if got, want := c.Late*lateDay+c.Points(), glpsol(t, dir, model(p)); got != want {
			t.Fatalf("problem %d: the plan %v costs %d, the solver finds %d\n%+v", seed, at, got, want, p)
		}
	}
}
