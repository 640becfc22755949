package phonics

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"
)

// The written syllables are counted against an independent counter that goes by
// letters, npm's syllable. They cannot agree on all words ("every", "chocolate",
// "prism"); the share was set after looking through the differences.
func TestSyllablesAgainstAPackage(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatalf("node is needed to compare with: %v", err)
	}
	s := speaker(t)
	words := frequentWords(s.lex, 3.2)
	in, err := json.Marshal(words)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "../lexicon/testdata/syllable.mjs")
	cmd.Stdin = strings.NewReader(string(in))
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("running the package (npm ci installs it): %v", err)
	}
	var theirs []int
	if err := json.Unmarshal(out, &theirs); err != nil || len(theirs) != len(words) || len(theirs) < 5000 {
		t.Fatalf("the package counted %d of %d words: %v", len(theirs), len(words), err)
	}
	same, shown := 0, 0
	for i, w := range words {
		ours := Syllables(w, Align(w, s.known(w)))
		if len(ours) == theirs[i] {
			same++
		} else if shown < 40 && i%7 == 0 {
			shown++
			t.Logf("%s: %d, by the package %d", w, len(ours), theirs[i])
		}
	}
	share := float64(same) / float64(len(words))
	t.Logf("the same number for %.1f%% of %d words", 100*share, len(words))
	if share < 0.94 {
		t.Errorf("the same number for %.1f%% of %d words", 100*share, len(words))
	}
}
