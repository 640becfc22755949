package hyphen

import (
	"strings"
	"testing"
)

func divide(d *Dictionary, word string) string {
	var b strings.Builder
	from := 0
	for _, at := range d.Breaks(word) {
		b.WriteString(word[from:at] + "-")
		from = at
	}
	return b.String() + word[from:]
}

// The example that Liang's thesis works through by hand (chapter 2, "hyphenation"):
// its eight patterns and the word that they divide.
func TestLiangByHand(t *testing.T) {
	d, err := Parse("hy3ph he2n hena4 hen5at 1na n2at 1tio 2io\n=\n")
	if err != nil {
		t.Fatal(err)
	}
	if got := divide(d, "hyphenation"); got != "hy-phen-ation" {
		t.Errorf("got %s, want hy-phen-ation", got)
	}
}

// Words as TeX 3.141592653 prints them with \showhyphens and its own patterns
// (hyphen.tex). Ours hold all of those and add some, so a few words differ:
// "every-thing" where plain TeX has "ev-ery-thing".
func TestAmericanAsTeX(t *testing.T) {
	d, err := English("en-US")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range strings.Fields(`
		hy-phen-ation con-cate-na-tion su-per-cal-ifrag-ilis-tic-ex-pi-ali-do-cious al-go-rithm
		as-so-ciate ta-ble present dec-li-na-tion oblig-a-tory
		com-puter type-set-ting para-graph beau-ti-ful won-der-ful ad-ven-ture gar-dener
		chil-dren hand-writ-ing com-pre-hen-sion vo-cab-u-lary ques-tion teacher re-mem-bered
		qui-etly strength mourn-ful light-house whis-pered af-ter-noon mys-te-ri-ous
		un-com-fort-able jour-ney trea-sure to-gether`) {
		if got := divide(d, strings.ReplaceAll(want, "-", "")); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

func TestBritish(t *testing.T) {
	d, err := English("en-GB")
	if err != nil {
		t.Fatal(err)
	}
	// British practice divides by the word's making: the exceptions of the
	// British pattern file, and one pattern word where the two languages part.
	for _, want := range []string{"how-ever", "ma-nu-script", "uni-ver-sity", "demo-cracy"} {
		if got := divide(d, strings.ReplaceAll(want, "-", "")); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

func TestWhole(t *testing.T) {
	d, err := English("en")
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []string{"", "a", "the", "don’t", "x1234567", "table-top"} {
		if at := d.Breaks(w); at != nil {
			t.Errorf("%q is divided at %v", w, at)
		}
	}
	if got := divide(d, "Wonderful"); got != "Won-der-ful" {
		t.Errorf("capitals: got %s", got)
	}
	if _, err := English("fr"); err == nil {
		t.Error("French was divided by English patterns")
	}
}

func BenchmarkBreaks(b *testing.B) {
	d, err := English("en-US")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		d.Breaks("comprehension")
	}
}
