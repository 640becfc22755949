package figures

import (
	"strings"
	"testing"

	"bookstead/internal/lexicon"
)

// Every phrase of the lists has a meaning, stands there once, and may be shown
// to a child.
func TestLists(t *testing.T) {
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	f := &finder{lex: lex}
	for _, list := range []string{idiomList, proverbList} {
		seen := map[string]bool{}
		for line := range strings.Lines(list) {
			line = strings.TrimRight(line, "\n")
			if line == "" || line[0] == '#' {
				continue
			}
			phrase, meaning, _ := strings.Cut(line, "\t")
			if seen[phrase] {
				t.Errorf("%q stands there twice", phrase)
			}
			seen[phrase] = true
			if meaning == "" {
				meaning = f.gloss(phrase)
			}
			if meaning == "something else than its words" {
				t.Errorf("%q has no meaning", phrase)
			}
			if w := lex.Warning(phrase, meaning); w != "" {
				t.Errorf("%q (%s) does not belong on a child's page: %s", phrase, meaning, w)
			}
		}
		if len(seen) < 100 {
			t.Errorf("only %d phrases were read", len(seen))
		}
	}
}
