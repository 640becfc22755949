package tagger

import "strings"

// featsOf returns the features of a word under a label.
func (m *Model) featsOf(w *word, label uint8) string {
	if f, ok := m.feats[featKey{w.hash, label}]; ok {
		return f
	}
	l := &m.labels[label]
	if l.XPOS == "CD" && l.UPOS == "NUM" {
		return numberFeats(w.form)
	}
	return l.Feats
}

// numberFeats describes a numeral that was not seen in training.
func numberFeats(form string) string {
	digits, slash, letters := false, false, false
	for i := 0; i < len(form) && i < longest; i++ {
		switch c := form[i]; {
		case c >= '0' && c <= '9':
			digits = true
		case c == '/':
			slash = true
		case c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z':
			letters = true
		}
	}
	switch {
	case digits && slash && len(form) <= 5:
		return "NumForm=Digit|NumType=Frac"
	case digits && letters:
		return "NumForm=Combi|NumType=Card"
	case digits:
		return "NumForm=Digit|NumType=Card"
	case roman(form):
		return "NumForm=Roman|NumType=Card"
	}
	return "NumForm=Word|NumType=Card"
}

func roman(s string) bool {
	for i := 0; i < len(s); i++ {
		if strings.IndexByte("IVXLCDM", s[i]) < 0 {
			return false
		}
	}
	return len(s) > 0
}
