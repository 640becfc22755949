package main

import (
	"math"
	"testing"
)

// words with one measured feature, one that is there for half of them, and one
// that is too seldom.
func made() []map[string]float64 {
	var rows []map[string]float64
	for i := range 400 {
		f := map[string]float64{"x": float64(i % 20)}
		if i%2 == 0 {
			f["kind:a"] = 1
		}
		if i == 7 {
			f["kind:b"] = 1
		}
		rows = append(rows, f)
	}
	return rows
}

func TestRidgeFindsTheLine(t *testing.T) {
	rows := made()
	m := newMatrix(rows)
	if len(m.names) != 3 || m.names[1] != "x" || m.names[2] != "kind:a" {
		t.Fatalf("features %q", m.names)
	}
	y := make([]float64, len(rows))
	for i, f := range rows {
		y[i] = 2*f["x"] - 3*f["kind:a"] + 1
	}
	w := m.unscale(m.ridge(y))
	for k, want := range []float64{1, 2, -3} {
		if math.Abs(w[k]-want) > 0.35 { // the penalty draws them a little to 0
			t.Errorf("%s: %.3f, want about %v", m.names[k], w[k], want)
		}
	}
}

func TestLogisticFindsTheSide(t *testing.T) {
	rows := made()
	m := newMatrix(rows)
	y := make([]float64, len(rows))
	for i, f := range rows {
		if f["x"] >= 10 {
			y[i] = 1
		}
	}
	w := m.logistic(y)
	wrong := 0
	for i, s := range m.times(w) {
		if (s > 0) != (y[i] == 1) {
			wrong++
		}
	}
	if wrong > 0 || math.Abs(w[2]) > 0.2 {
		t.Errorf("%d wrong, a feature without meaning weighs %.2f", wrong, w[2])
	}
	// At the best weights the slope is nothing: Mᵀ(y-p) equals the penalty's.
	e := make([]float64, len(y))
	for i, s := range m.times(w) {
		e[i] = y[i] - 1/(1+math.Exp(-s))
	}
	for k, g := range m.back(e) {
		if math.Abs(g-m.penalty[k]*w[k]) > 1e-3 {
			t.Errorf("%s: slope %v", m.names[k], g-m.penalty[k]*w[k])
		}
	}
}

func TestBorder(t *testing.T) {
	if got := border([]float64{5, 1, 4, 2, 3}, []float64{1, 0, 1, 0, 0}); got != 4 {
		t.Errorf("border = %v: two of five stand above or at 4", got)
	}
}
