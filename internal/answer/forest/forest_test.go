package forest_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bookstead/internal/answer/forest"
)

var columns = []string{"x", "y", "noise"}

// data are points that are right where x and y are both high or both low.
func data() (rows [][]float64, yes []bool) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 800 {
		x, y := rng.Float64(), rng.Float64()
		rows, yes = append(rows, []float64{x, y, rng.Float64()}), append(yes, (x > 0.5) == (y > 0.5))
	}
	return rows, yes
}

func options() forest.Options {
	return forest.Options{Trees: 60, Depth: 3, Rate: 0.2, Least: 3, Shrink: 1, Rows: 0.9, Columns: 1, Bins: 32, Seed: 1}
}

func TestTrainLearns(t *testing.T) {
	rows, yes := data()
	f := forest.Train(columns, rows[:600], yes[:600], options())
	wrong := 0
	for i := 600; i < 800; i++ {
		if (f.Chance(rows[i]) >= 0.5) != yes[i] {
			wrong++
		}
	}
	if wrong > 16 {
		t.Errorf("%d of 200 new points are wrong", wrong)
	}
	if f.Trees() != 60 {
		t.Errorf("%d trees", f.Trees())
	}
}

// With a sign, more of a column never makes yes less likely, whatever the other
// columns are.
func TestSigns(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 1))
	var rows [][]float64
	var yes []bool
	for range 900 { // rising in x but for a dip, deeper where y is high
		x, y := rng.Float64(), rng.Float64()
		rows, yes = append(rows, []float64{x, y, rng.Float64()}), append(yes, x > 0.3 && (x < 0.6-0.2*y || x > 0.7))
	}
	falls := func(f *forest.Forest) (n int) {
		for _, y := range []float64{0.1, 0.5, 0.9} {
			last := math.Inf(-1)
			for x := 0.0; x <= 1; x += 0.01 {
				now := f.Log([]float64{x, y, 0.5})
				if now < last-1e-12 {
					n++
				}
				last = now
			}
		}
		return n
	}
	if falls(forest.Train(columns, rows, yes, options())) == 0 {
		t.Fatal("without a sign it should fall at the dip")
	}
	o := options()
	o.Signs = []int8{1, 0, 0}
	if n := falls(forest.Train(columns, rows, yes, o)); n > 0 {
		t.Errorf("with a sign it falls %d times", n)
	}
}

func TestWriteRead(t *testing.T) {
	rows, yes := data()
	f := forest.Train(columns, rows, yes, options())
	var a, b bytes.Buffer
	if err := f.Write(&a); err != nil {
		t.Fatal(err)
	}
	if err := forest.Train(columns, rows, yes, options()).Write(&b); err != nil {
		t.Fatal(err)
	}
	if a.String() != b.String() {
		t.Error("the same rows gave other bytes")
	}
	g, err := forest.Read(bytes.NewReader(a.Bytes()), columns)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows[:50] {
		if d := math.Abs(f.Chance(r) - g.Chance(r)); d > 0.05 { // five figures are kept; a row may lie on a cut
			t.Errorf("%v: %.4f and %.4f", r, f.Chance(r), g.Chance(r))
		}
	}
	if _, err := forest.Read(bytes.NewReader(a.Bytes()), []string{"x", "z", "noise"}); err == nil {
		t.Error("rows of other columns were taken")
	}
}

func TestReadRefuses(t *testing.T) {
	for _, s := range []string{"", "forest 2\nx y noise\n0\n", "forest 1\nx y noise\nnought\n", "forest 1\nx y noise\n0\n0<1 =1\n",
		"forest 1\nx y noise\n0\n=1 =2\n", "forest 1\nx y noise\n0\n9<1 =1 =2\n", "forest 1\nx y noise\n0\n0<NaN =1 =2\n", "forest 1\nx y noise\n0\n\n"} {
		if _, err := forest.Read(strings.NewReader(s), columns); err == nil {
			t.Errorf("%q was read", s)
		}
	}
}
