package sentence

import (
	_ "embed"
	"errors"
	"strings"

	"bookstead/internal/lang"
)

// Types tells what a sentence does, from its words and tags: a linear model
// trained on the sentence types of GUM. It does not change once loaded.
type Types struct {
	weights [typeSlots * typeCount]int8
}

const (
	typeSlots = 1 << 14
	typeCount = 5
	typeMagic = "types001" // then the weights, a byte each, by slot and type
)

var typeOrder = [typeCount]lang.SentenceType{lang.Statement, lang.Question, lang.Command, lang.Exclamation, lang.Fragment}

//go:embed types.bin
var packedTypes []byte

// LoadTypes returns the model that is built in.
func LoadTypes() (*Types, error) { return ReadTypes(packedTypes) }

// ReadTypes takes a packed model.
func ReadTypes(b []byte) (*Types, error) {
	m := &Types{}
	if len(b) != len(typeMagic)+len(m.weights) || string(b[:len(typeMagic)]) != typeMagic {
		return nil, errors.New("reading the model of sentence types: it is not in its form")
	}
	for i, v := range b[len(typeMagic):] {
		m.weights[i] = int8(v)
	}
	return m, nil
}

// Pack writes the model as ReadTypes takes it.
func (m *Types) Pack() []byte {
	b := []byte(typeMagic)
	for _, w := range m.weights {
		b = append(b, byte(w))
	}
	return b
}

// Of returns the type of a tagged sentence. A statement that ends in "!" is an
// exclamation, as in school grammar, unless the mark belongs to somebody quoted
// in it; so is an interjection alone ("Oh!").
func (m *Types) Of(tokens []lang.Token) lang.SentenceType {
	t := m.Plain(tokens)
	if t == lang.Statement && shouts(tokens) {
		return lang.Exclamation
	}
	return t
}

func shouts(tokens []lang.Token) bool {
	for i := len(tokens) - 1; i >= 0 && tokens[i].UPOS == "PUNCT"; i-- {
		if !strings.HasPrefix(tokens[i].Form, "!") {
			continue
		}
		for k := 1; k < i && i < len(tokens)-1; k++ {
			switch tokens[k].Form {
			case "“", "‘", "\"", "'":
				return false
			}
		}
		return true
	}
	return false
}

// Plain returns the type by GUM's classes, where "!" makes no difference.
func (m *Types) Plain(tokens []lang.Token) lang.SentenceType {
	var room [96]uint32
	var score [typeCount]int
	for _, f := range typeFeatures(room[:0], tokens) {
		for t := range score {
			score[t] += int(m.weights[int(f)*typeCount+t])
		}
	}
	best := 0
	for t, s := range score {
		if s > score[best] {
			best = t
		}
	}
	return typeOrder[best]
}

// typeFeatures lists the slots of the features that hold in a sentence.
func typeFeatures(out []uint32, tokens []lang.Token) []uint32 {
	add := func(parts ...string) {
		h := uint32(2166136261)
		for _, p := range parts {
			for i := 0; i < len(p) && i < 24; i++ {
				c := p[i]
				if c >= 'A' && c <= 'Z' {
					c += 'a' - 'A'
				}
				h = (h ^ uint32(c)) * 16777619
			}
			h = (h ^ 0xff) * 16777619
		}
		out = append(out, (h^h>>15)%typeSlots)
	}
	// The words without the marks around them.
	words := make([]*lang.Token, 0, 16)
	last, commas, quotes := "", "0", "0"
	for i := range tokens {
		if tokens[i].UPOS != "PUNCT" {
			words = append(words, &tokens[i])
			continue
		}
		switch f := tokens[i].Form; {
		case i > 0 && strings.ContainsAny(f[:1], ".!?:;,") || f == "…":
			last = f[:1]
			if f == "," {
				commas = "1"
			}
		case f == "\"" || f == "“":
			quotes = "1"
		}
	}
	at := func(i int) *lang.Token {
		if i < len(words) {
			return words[i]
		}
		return &lang.Token{}
	}
	n := len(words)
	length := []string{"0", "1", "2", "3", "4", "5-7", "5-7", "5-7", "8-12", "8-12", "8-12", "8-12", "8-12"}[min(n, 12)]
	if n > 12 {
		length = "13+"
	}
	finite, modal, verbs, nouns, subject := 0, 0, 0, 0, "none"
	firstVerb := -1
	var frame strings.Builder // subject and verb in the first stretch
	for i, w := range words {
		switch w.XPOS {
		case "VBD", "VBZ", "VBP", "MD":
			finite++
			if w.XPOS == "MD" {
				modal++
			}
			if firstVerb < 0 {
				firstVerb = i
				subject = "verb first"
				for k := i - 1; k >= 0; k-- {
					if p := words[k].UPOS; p == "NOUN" || p == "PROPN" || p == "PRON" {
						subject = "after " + p
						break
					}
				}
			}
		case "VB", "VBG", "VBN":
			verbs++
		}
		if w.UPOS == "NOUN" || w.UPOS == "PROPN" || w.UPOS == "PRON" {
			nouns++
		}
		if i < 6 {
			frame.WriteString(w.XPOS + " ")
		}
	}
	count := func(k int) string { return string('0' + rune(min(k, 3))) }
	a, b, c := at(0), at(1), at(2)
	add("bias")
	add("end", last)
	add("length", length)
	add("finite", count(finite), count(verbs))
	add("finite length", count(finite), length)
	add("finite end", count(finite), last)
	add("subject", subject, last)
	add("subject finite", subject, count(finite), count(verbs))
	add("first", a.Form)
	add("first tag", a.XPOS, last)
	add("first feats", a.XPOS, a.Feats)
	add("first tags", a.XPOS, b.XPOS)
	add("three tags", a.XPOS, b.XPOS, c.XPOS)
	add("frame", frame.String())
	add("first words", a.Form, b.Form)
	add("first tag, word", a.XPOS, b.Form)
	add("first word, tag", a.Form, b.XPOS)
	add("first, finite", a.XPOS, count(finite), last)
	add("nouns", count(nouns), count(finite), count(verbs))
	add("commas", commas, count(finite))
	add("quotes", quotes, count(finite), last)
	if n > 0 {
		z := words[n-1]
		add("last", z.XPOS, count(finite))
		add("last word", z.Form)
		add("whole", length, a.UPOS, z.UPOS, count(finite))
	}
	if firstVerb >= 0 {
		v := words[firstVerb]
		add("verb", v.XPOS, v.UPOS, subject)
		if firstVerb > 0 {
			p := words[firstVerb-1]
			add("before verb", p.XPOS, v.XPOS)
			add("before verb word", p.Form, v.XPOS)
		}
		add("verb place", count(firstVerb), v.XPOS, last)
		if firstVerb+1 < n {
			add("behind verb", v.XPOS, words[firstVerb+1].XPOS, last)
		}
	} else {
		for i, w := range words {
			if i < 8 {
				add("bare", w.XPOS, last)
				add("bare word", w.Form)
			}
			if i > 0 && i < 8 {
				add("bare pair", words[i-1].XPOS, w.XPOS)
			}
		}
	}
	for i, w := range words {
		if w.XPOS == "VB" && strings.Contains(w.Feats, "Mood=Imp") {
			add("imperative", count(i), count(finite))
			break
		}
	}
	return out
}
