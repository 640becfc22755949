package neural

import (
	"testing"

	"bookstead/internal/lang"
)

func TestNamesAgree(t *testing.T) {
	d := sentences("Elder saw Elder near Elder .", "Port Elder lay by the old Elder .")
	for i := range d.Tokens {
		if f := d.Tokens[i].Form; f == "Elder" || f == "Port" {
			d.Tokens[i].UPOS = "PROPN"
		}
	}
	names := []Name{
		{0, 1, "PER", 0.9}, {2, 3, "GPE", 0.6}, {4, 5, "PER", 0.8},
		{6, 8, "GPE", 0.9},   // another name
		{10, 13, "FAC", 0.7}, // more than a name
	}
	agree(d, names)
	for i, want := range []string{"PER", "PER", "PER", "GPE", "FAC"} {
		if names[i].Kind != want {
			t.Errorf("name %d is %s, want %s", i, names[i].Kind, want)
		}
	}
	if c := names[1].Confidence; c < 0.73 || c > 0.75 { // (.9+.8) / (.9+.8+.6)
		t.Errorf("confidence %.3f", c)
	}
	agree(&lang.Doc{}, nil)
}
