package assess

import (
	"slices"
	"strings"
	"unicode"
)

// givesAway reports that an entry would give another of the paper its answer, or
// get its own from one.
func (m *maker) givesAway(e Entry) bool {
	for _, o := range m.entries {
		if Answers(o, e) || Answers(e, o) {
			return true
		}
	}
	return false
}

// Answers reports whether what is printed of a says the answer of b: it holds
// all words that b's answer adds to b's question, and is about the same, that is,
// holds half of the words of that question.
func Answers(a, b Entry) bool {
	if a.Item == b.Item {
		return false
	}
	printed := keywords(a.Prompt + " " + a.Detail)
	asked := keywords(b.Prompt + " " + b.Detail)
	fresh := 0
	for _, w := range keywords(b.Key) {
		if slices.Contains(asked, w) {
			continue
		}
		fresh++
		if !slices.Contains(printed, w) {
			return false
		}
	}
	if fresh == 0 || len(asked) == 0 {
		return false
	}
	same := 0
	for _, w := range asked {
		if slices.Contains(printed, w) {
			same++
		}
	}
	return 2*same >= len(asked)
}

// keywords are the words of a text that carry meaning, without their endings,
// each once.
func keywords(s string) []string {
	var out []string
	for _, f := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '’' && r != '\'' }) {
		f = strings.TrimSuffix(strings.TrimSuffix(strings.ReplaceAll(f, "’", "'"), "'s"), "'")
		if f == "" || little[f] {
			continue
		}
		for _, end := range []string{"ing", "ed", "es", "s"} {
			if b, ok := strings.CutSuffix(f, end); ok && len(b) >= 3 {
				f = b
				break
			}
		}
		if !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}

func meets(a, b []string) bool {
	return slices.ContainsFunc(a, func(w string) bool { return slices.Contains(b, w) })
}

// little words say nothing by themselves.
var little = func() map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq("a an the and or but of to in on at by for from with as is are was were be been being it its he she they them him her his their who what where when why how did do does done had has have that this these those not no so than then there very something someone one or which into out up down about i you we my your me us") {
		m[w] = true
	}
	return m
}()
