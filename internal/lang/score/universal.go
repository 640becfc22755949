package score

import (
	"slices"
	"strings"
)

func set(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}

// The task's lists of content and functional relations and of universal
// features. They are those of UD version 2.2 and stay so, to keep scores
// comparable.
var (
	contentRels = set(`nsubj obj iobj csubj ccomp xcomp obl vocative expl dislocated advcl advmod discourse nmod
		appos nummod acl amod conj fixed flat compound list parataxis orphan goeswith reparandum root dep`)
	functionRels      = set("aux cop mark det clf case cc")
	universalFeatures = set(`PronType NumType Poss Reflex Foreign Abbr Gender Animacy Number Case Definite Degree
		VerbForm Mood Tense Aspect Voice Evident Polarity Person Polite`)
)

// universal keeps the universal features, in order.
func universal(feats string) string {
	if feats == "" || feats == "_" {
		return ""
	}
	fs := strings.Split(feats, "|")
	fs = slices.DeleteFunc(fs, func(f string) bool {
		name, _, _ := strings.Cut(f, "=")
		return !universalFeatures[name]
	})
	slices.Sort(fs)
	return strings.Join(fs, "|")
}
