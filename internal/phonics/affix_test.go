package phonics

import (
	"strings"
	"testing"
)

func TestBuildOf(t *testing.T) {
	words := map[string]bool{}
	for _, w := range strings.Fields("help happy run hope kind read agree lead friend corn garden teach box care move sorrow unhappy") {
		words[w] = true
	}
	known := func(_, base, affix string) bool { return words[base] && !(base == "corn" && affix == "-er") }
	for word, want := range map[string]string{
		"unhelpfulness": "un help ful ness", "running": " run ing", "hoped": " hope ed", "happily": " happy ly",
		"disagreement": "dis agree ment", "misleading": "mis lead ing", "friendship": " friend ship", "corner": "", "garden": "",
		"teacher": " teach er", "boxes": " box es", "Carelessly": " care less ly", "unkind": "un kind", "removable": "re move able",
		"sorrowful": " sorrow ful", "unhappy": "un happy", "reread": "re read",
	} {
		b, ok := BuildOf(word, known)
		got := ""
		if ok {
			got = strings.Join(append([]string{b.Prefix, b.Base}, b.Suffixes...), " ")
		}
		if got != want {
			t.Errorf("BuildOf(%s) = %q, want %q", word, got, want)
		}
	}
}

func TestBuild(t *testing.T) {
	s := speaker(t)
	for word, want := range map[string]string{
		"gently": " gentle ly", "simply": " simple ly", "kindly": " kind ly", "gladly": " glad ly",
		"corner": "", "garden": "", "pony": "", "wing": "", "teacher": " teach er", "unkindly": "un kind ly", "hopelessness": " hope less ness",
		"gardeners": " garden er s", "running": " run ing", "sorrowful": " sorrow ful", "careless": " care less", "unhappiness": "un happy ness",
		"reopened": "re open ed", "butter": "", "winter": "", "master": "", "flower": "", "king": "", "bed": "", "family": "", "needless": " need less",
	} {
		b, ok := s.Build(word)
		got := ""
		if ok {
			got = strings.Join(append([]string{b.Prefix, b.Base}, b.Suffixes...), " ")
		}
		if got != want {
			t.Errorf("Build(%s) = %q, want %q", word, got, want)
		}
	}
}
