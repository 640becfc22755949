package g2p

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

func TestPredict(t *testing.T) {
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	// Invented words, so that nothing was learned by heart; how they are said is
	// common knowledge.
	for word, want := range map[string]string{
		"flig": "F L IH G", "splate": "S P L EY T", "shoom": "SH UW M", "grock": "G R AA K", "vight": "V AY T",
	} {
		g := m.Predict(word, 3)
		if len(g) == 0 || strings.Join(g[0].Phones, " ") != want {
			t.Errorf("Predict(%q) = %v, want %s", word, g, want)
		}
	}
	if g := m.Predict("123", 1); g != nil {
		t.Errorf("Predict of figures = %v, want nothing", g)
	}
}

func TestTrainWriteRead(t *testing.T) {
	var examples []Example
	for _, l := range strings.Fields("cat:K,AE,T bat:B,AE,T tab:T,AE,B act:AE,K,T cab:K,AE,B") {
		w, p, _ := strings.Cut(l, ":")
		for range 4 {
			examples = append(examples, Example{w, strings.Split(p, ",")})
		}
	}
	m, st := Train(examples, Settings{Order: 3, Prune: 0.01})
	if st.Left != 0 {
		t.Errorf("%d examples were left out", st.Left)
	}
	var a, b bytes.Buffer
	if err := m.Write(&a); err != nil {
		t.Fatal(err)
	}
	again, err := Read(a.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if err := again.Write(&b); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("writing what was read gives other bytes (%v)", err)
	}
	if g := again.Predict("cat", 1); len(g) == 0 || !slices.Equal(g[0].Phones, []string{"K", "AE", "T"}) {
		t.Errorf("Predict(cat) = %v", g)
	}
	for cut := range len(a.Bytes()) - 1 {
		if _, err := Read(a.Bytes()[:cut]); err == nil {
			t.Fatalf("a model cut to %d bytes was read without an error", cut)
		}
	}
}

func TestScore(t *testing.T) {
	var s Score
	f := strings.Fields
	s.Add(f("K AE T"), [][]string{f("K AE T"), f("S AE T")})
	s.Add(f("K AE T S"), [][]string{f("K AE T"), f("B")})
	if s.Wrong != 1 || s.Errors != 1 || s.Phones != 6 {
		t.Errorf("Score = %+v", s)
	}
}

// The net in Go says what PyTorch says: for a word the likeliest phones of each
// letter and their log probability, as train/g2p.py's net gave them for the
// shipped weights before they were rounded to bytes.
func TestNetAgainstPyTorch(t *testing.T) {
	n, err := ReadNet(shippedNet)
	if err != nil {
		t.Fatal(err)
	}
	for word, want := range map[string][]struct {
		phones string
		log    float64
	}{
		"gryphon": {{"G", 0}, {"R", 0}, {"AY", -0.391}, {"F", -0.001}, {"", -0.013}, {"AH", -0.090}, {"N", 0}},
		"o'clock": {{"OW", -0.052}, {"", -0.006}, {"K", -0.001}, {"L", 0}, {"AA", -0.023}, {"", 0}, {"K", 0}},
	} {
		for i, row := range n.Letters(word) {
			best := 0
			for k := range row {
				if row[k] > row[best] {
					best = k
				}
			}
			if d := float64(row[best]) - want[i].log; n.labels[best] != want[i].phones || d > 0.08 || d < -0.08 {
				t.Errorf("%s, letter %d: %q %.3f, want %q %.3f", word, i+1, n.labels[best], row[best], want[i].phones, want[i].log)
			}
		}
	}
	for cut := range len(shippedNet) / 1000 {
		if _, err := ReadNet(shippedNet[:cut*1000]); err == nil {
			t.Fatalf("a net cut to %d bytes was read without an error", cut*1000)
		}
	}
}

func FuzzPredict(f *testing.F) {
	for _, w := range []string{"night", "zzz", "a", "''", "qu", "antidisestablishmentarianism", "naïve"} {
		f.Add(w)
	}
	m, err := Load()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, word string) {
		if len(word) > 60 {
			return
		}
		sum := 0.0
		for i, g := range m.Predict(word, 1000) {
			sum += g.Score
			if len(g.Phones) == 0 || i == 0 && g.Score <= 0 {
				t.Fatalf("%q: an empty guess", word)
			}
		}
		if sum > 1+1e-9 {
			t.Fatalf("%q: the shares are %g together", word, sum)
		}
	})
}
