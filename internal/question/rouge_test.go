package question

import (
	"math"
	"testing"
)

// The first rows are the worked example of Lin, "ROUGE: A Package for Automatic
// Evaluation of Summaries" (2004), section 3.1: with β = 1 the candidates score
// 3/4, 2/4 and 2/4. The row on "testing" is the example in the README of Google
// Research's rouge_score.
func TestRougeLAgainstPublishedExamples(t *testing.T) {
	const reference = "police killed the gunman"
	for _, x := range []struct {
		a, b string
		want float64
	}{
		{reference, "police kill the gunman", 0.75},
		{reference, "the gunman kill police", 0.5},
		{reference, "the gunman police killed", 0.5},
		{"The quick brown fox jumps over the lazy dog", "The quick brown dog jumps on the log.", 2 * (5.0 / 8) * (5.0 / 9) / (5.0/8 + 5.0/9)},
		{"It's 10 o'clock", "it s 10 o clock", 1},
		{"", "words", 0},
		{"?", "!", 0},
	} {
		if got := RougeL(x.a, x.b); math.Abs(got-x.want) > 1e-9 {
			t.Errorf("RougeL(%q, %q) = %.4f, want %.4f", x.a, x.b, got, x.want)
		}
		if RougeL(x.a, x.b) != RougeL(x.b, x.a) {
			t.Errorf("RougeL(%q, %q) is not the same both ways", x.a, x.b)
		}
	}
}
