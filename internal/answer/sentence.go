package answer

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// Sentence says whether an answer is made of whole sentences.
type Sentence struct {
	// Whole: each sentence has a subject and a finite verb and can stand alone.
	Whole   bool
	Subject bool
	Verb    bool
	// Alone is false for "Because he was tired.", which hangs on nothing.
	Alone   bool
	Capital bool // each begins with a capital letter
	End     bool // each has an end mark
	Count   int
	Words   int
}

// whether looks at all sentences of an answer.
func whether(t *text) Sentence {
	d := t.doc
	s := Sentence{Subject: true, Verb: true, Alone: true, Capital: true, End: true}
	for i, x := range d.Sentences {
		if !wordsIn(d, x) {
			continue
		}
		s.Count++
		subject, verb, alone := made(d, i)
		s.Subject, s.Verb, s.Alone = s.Subject && subject, s.Verb && verb, s.Alone && alone
		s.Capital = s.Capital && capital(d, x)
		s.End = s.End && ended(d, x)
	}
	if s.Count == 0 {
		return Sentence{}
	}
	s.Whole = s.Subject && s.Verb && s.Alone
	return s
}

func wordsIn(d *lang.Doc, s lang.Sentence) bool {
	for i := s.First; i < s.Last; i++ {
		if lang.IsWord(d.Tokens[i].Form) || unicode.IsDigit(rune(d.Tokens[i].Form[0])) {
			return true
		}
	}
	return false
}

// made says of what sentence i is made. A command needs no subject.
func made(d *lang.Doc, i int) (subject, verb, alone bool) {
	s := d.Sentences[i]
	root := -1
	for k := s.First; k < s.Last; k++ {
		if d.Tokens[k].Head < 0 {
			root = k
			break
		}
	}
	if root < 0 {
		return false, false, false
	}
	verb = finite(d.Tokens[root])
	auxiliary := false
	main, mark := s.Last, -1 // the first word of the clause, and what makes it hang on another
	for k := s.First; k < s.Last; k++ {
		t := d.Tokens[k]
		if t.Head != root {
			continue
		}
		switch rel, _, _ := strings.Cut(t.Deprel, ":"); rel {
		case "nsubj", "csubj", "expl":
			subject = true
			main = min(main, k)
		case "aux", "cop":
			verb = verb || finite(t)
			auxiliary = true
			main = min(main, k)
		case "mark":
			if mark < 0 && subordinating[normal(t.Form)] {
				mark = k
			}
		}
	}
	alone = mark < 0 || mark > main // "It was because he was tired." stands alone
	// "he seen it": said so at home, and a verb with its subject all the same.
	if subject && !auxiliary && d.Tokens[root].XPOS == "VBN" {
		verb = true
	}
	if s.Type == lang.Command && d.Tokens[root].UPOS == "VERB" && !subject && d.Tokens[root].XPOS == "VB" {
		return true, true, alone
	}
	return subject, verb, alone
}

var subordinating = set("because if when while although though unless until since as before after that")

func finite(t lang.Token) bool {
	switch t.XPOS {
	case "VBD", "VBZ", "VBP", "MD":
		return true
	}
	return strings.Contains(t.Feats, "VerbForm=Fin")
}

func capital(d *lang.Doc, s lang.Sentence) bool {
	for i := s.First; i < s.Last; i++ {
		r, _ := utf8.DecodeRuneInString(d.Tokens[i].Form)
		if unicode.IsLetter(r) {
			return !unicode.IsLower(r)
		}
		if unicode.IsDigit(r) {
			return true
		}
	}
	return true
}

func ended(d *lang.Doc, s lang.Sentence) bool {
	for i := s.Last - 1; i >= s.First; i-- {
		f := d.Tokens[i].Form
		if strings.ContainsAny(f, ".!?…") {
			return true
		}
		if lang.IsWord(f) || unicode.IsDigit(rune(f[0])) {
			return false
		}
	}
	return false
}
