//go:build bench

package g2p

import (
	"compress/gzip"
	"os"
	"testing"
)

// The word error rate on the words held out of training. Published joint n-gram
// models reach about 24.5 % on the test words of the same list (from memory of
// Bisani and Ney 2008); those are not looked at here.
func TestBenchHeldOut(t *testing.T) {
	const mostWER, mostPER = 0.245, 0.060
	f, err := os.Open("../../../../shared/bench/g2p/g014b2b.train.gz")
	if err != nil {
		t.Fatalf("the list of words is needed: %v", err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	examples, err := ReadExamples(z)
	if err != nil {
		t.Fatal(err)
	}
	_, dev := Split(examples)
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	words, accepted := Group(dev)
	if len(words) != DevWords {
		t.Fatalf("%d words are held out, not %d", len(words), DevWords)
	}
	var s Score
	for _, w := range words {
		var said []string
		if g := m.Predict(w, 1); g != nil {
			said = g[0].Phones
		}
		s.Add(said, accepted[w])
	}
	t.Logf("%d words held out: WER %.2f%%, PER %.2f%%", s.Words, 100*s.WER(), 100*s.PER())
	if s.WER() > mostWER || s.PER() > mostPER {
		t.Errorf("WER %.2f%% (at most %.2f%%), PER %.2f%% (at most %.2f%%)", 100*s.WER(), 100*mostWER, 100*s.PER(), 100*mostPER)
	}
}

func BenchmarkPredict(b *testing.B) {
	m, err := Load()
	if err != nil {
		b.Fatal(err)
	}
	words := []string{"gryphon", "dolefully", "rapunzel", "yggdrasil", "mowgli"}
	for i := 0; b.Loop(); i++ {
		m.Predict(words[i%len(words)], 1)
	}
}
