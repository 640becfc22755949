package sense

import (
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// WordNet's sentence frames, wninput(5WN), by what they ask for.
var (
	frameObject   = bits(8, 9, 10, 11, 14, 15, 16, 17, 18, 19, 20, 21, 24, 25, 30, 31)
	frameNoObject = bits(1, 2, 3, 4, 6, 7, 12, 13, 22, 23, 27)
	frameThat     = bits(26, 34, 29)
	frameTo       = bits(28, 32, 35)
	frameObjTo    = bits(24, 25)
	frameIng      = bits(33)
	frameComplete = bits(5, 6, 7)
)

func bits(frames ...int) uint64 {
	var m uint64
	for _, f := range frames {
		m |= 1 << f
	}
	return m
}

// pattern is how a verb is used where it stands.
type pattern struct {
	known           bool
	subject, object bool
	somebody        bool // the subject is a person, as far as can be told
	that, to, ing   bool // a clause, an infinitive, a participle that it governs
	complement      bool
}

// patternOf reads the tree.
func (j *Judge) patternOf(u Unit) pattern {
	var p pattern
	if u.POS != lexicon.Verb || !j.d.Has(lang.LayerTrees) {
		return p
	}
	p.known = true
	passive := false
	s := j.d.Sentences[j.d.SentenceAt(j.d.Tokens[u.Head].Start)]
	for i := s.First; i < s.Last; i++ {
		t := &j.d.Tokens[i]
		if t.Head != u.Head {
			continue
		}
		rel, _, _ := strings.Cut(t.Deprel, ":")
		switch rel {
		case "obj", "iobj":
			p.object = true
		case "nsubj":
			passive = passive || strings.HasSuffix(t.Deprel, ":pass")
		case "csubj", "ccomp":
			p.that = true
		case "xcomp":
			switch {
			case t.UPOS == "ADJ" || t.UPOS == "NOUN":
				p.complement = true
			case t.XPOS == "VBG":
				p.ing = true
			default:
				p.to = true
			}
		}
	}
	// "She was resolved to go" is as good as "she resolved to go".
	p.object = p.object || passive && !p.to
	return p
}

// match says how well the frames of a sense take what stands there: 1 for each
// thing that they ask for and get, less 1 for each that they do not.
func (p pattern) match(frames uint64) float64 {
	if !p.known || frames == 0 {
		return 0
	}
	v := 0.0
	want := func(on bool, m uint64) {
		if !on {
			return
		}
		if frames&m != 0 {
			v++
		} else {
			v--
		}
	}
	want(p.object && !p.to, frameObject)
	want(p.object && p.to, frameObjTo)
	want(!p.object && p.to, frameTo)
	want(!p.object && !p.that && !p.to && !p.ing, frameNoObject)
	want(p.that, frameThat)
	want(p.ing, frameIng)
	want(p.complement, frameComplete)
	return v
}
