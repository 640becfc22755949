package sra

import (
	"math"
	"testing"
)

func TestMacroF1(t *testing.T) {
	var c Counts
	for _, x := range []struct {
		judged, right bool
		n             int
	}{{true, true, 6}, {true, false, 2}, {false, true, 4}, {false, false, 8}} {
		for range x.n {
			c.Add(x.judged, x.right)
		}
	}
	// F1 of correct 12/18, of incorrect 16/22.
	if got, want := c.MacroF1(), (12.0/18+16.0/22)/2; math.Abs(got-want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
	if (Counts{}).MacroF1() != 0 {
		t.Error("nothing counted should score 0")
	}
}

func TestMissingData(t *testing.T) {
	if _, err := Read("no such file"); err == nil {
		t.Error("a missing file was read")
	}
}
