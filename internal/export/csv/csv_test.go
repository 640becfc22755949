package csv

import (
	"bytes"
	"encoding/csv"
	"errors"
	"reflect"
	"testing"

	"bookstead/internal/materials"
)

func TestShopping(t *testing.T) {
	l := &materials.List{Lines: []materials.Line{
		{What: "The Bell, the Quay", Need: 6, Have: 4, Buy: 2, From: "=SUM(A1)", Packs: 2, Each: 850, Total: 1700, Why: "Grade 4: 9 children, \"2\" to a copy."},
	}, Total: 1700, Unmet: []string{"No offer.", "None."}}
	var b bytes.Buffer
	if err := Shopping(&b, l); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"Item", "For", "Needed", "At hand", "To buy", "From", "Packs", "Price each", "Price", "Why"},
		{"The Bell, the Quay", "", "6", "4", "2", "'=SUM(A1)", "2", "8.50", "17.00", "Grade 4: 9 children, \"2\" to a copy."},
		{"Total", "", "", "", "", "", "", "", "17.00", "No offer. None."}}
	if !reflect.DeepEqual(rows, want) {
		t.Errorf("%q", rows)
	}
}

func TestHarmless(t *testing.T) {
	for in, want := range map[string]string{"": "", "-5": "-5", "+1.5": "+1.5", "-a": "'-a", "@x": "'@x", "\tx": "'\tx", "plain": "plain", "é=": "é="} {
		if got := harmless(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestDiskFull(t *testing.T) {
	if err := Write(full{}, []string{"a"}, nil); err == nil {
		t.Error("a full disk went unnoticed")
	}
}
