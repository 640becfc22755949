package lead

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/kit"
	"bookstead/internal/lang"
)

// A sentence worth reading aloud first is long enough to need a breath and short
// enough to keep in the ear (our judgement).
const (
	leastAloud = 16
	mostAloud  = 30
)

// aloud chooses a long sentence to phrase and a spoken one to sound like its
// speaker.
func aloud(in Input) []Aloud {
	var out []Aloud
	if s, ok := long(in); ok {
		out = append(out, s)
	}
	if s, ok := spoken(in); ok {
		out = append(out, s)
	}
	return out
}

// long is the sentence with the most pauses, and of equals the one nearest to
// the middle of the passage.
func long(in Input) (Aloud, bool) {
	d := in.Doc
	if d == nil || !d.Has(lang.LayerTrees) {
		return Aloud{}, false
	}
	best, most, away := -1, 1, 0
	for i := d.SentenceAt(in.Lesson.Start-1) + 1; i < len(d.Sentences) && d.SentenceSpan(i).Start < in.Lesson.End; i++ {
		s := d.Sentences[i]
		p := d.Paragraphs[s.Paragraph]
		if p.Kind != "paragraph" || p.Skip || s.Type != lang.Statement {
			continue
		}
		n := 0
		for t := s.First; t < s.Last; t++ {
			if lang.IsWord(d.Tokens[t].Form) {
				n++
			}
		}
		text := line(d, s.First, s.Last)
		if n < leastAloud || n > mostAloud || strings.ContainsAny(text, "“”\"()[]_*") || in.Keep != nil && in.Keep(text) {
			continue
		}
		k := len(pauses(d, s))
		mid := d.SentenceSpan(i).Start - (in.Lesson.Start+in.Lesson.End)/2
		if mid < 0 {
			mid = -mid
		}
		if k > 4 {
			k = 4 // more is a list
		}
		if k > most || k == most && best >= 0 && mid < away {
			best, most, away = i, k, mid
		}
	}
	if best < 0 {
		return Aloud{}, false
	}
	return Aloud{Text: stroked(d, d.Sentences[best]), Why: "Read it once in these parts, then once without a stop; then let them."}, true
}

// spoken is a sentence of the lesson's quotations that calls for a voice.
func spoken(in Input) (Aloud, bool) {
	for _, it := range in.printed(kit.Quotation) {
		s := strings.TrimSpace(it.Content.Sentence)
		n := len(strings.Fields(s))
		if it.Content.Speaker == "" || n < 5 || n > mostAloud || in.Keep != nil && in.Keep(s) {
			continue
		}
		how := ""
		switch {
		case strings.Contains(s, "!"):
			how = "a cry"
		case strings.Contains(s, "?"):
			how = "a question: let the voice rise"
		default:
			continue
		}
		if !strings.HasPrefix(s, "“") && !strings.HasPrefix(s, "\"") {
			s = "“" + s + "”"
		}
		return Aloud{Text: s, Why: "Say it as " + it.Content.Speaker + " says it: " + how + "."}, true
	}
	return Aloud{}, false
}

// leastPart is how many words stand between two pauses at least.
const leastPart = 3

// pauses are the tokens before which a reader rests: behind a mark, and where a
// clause begins or a long subject ends.
func pauses(d *lang.Doc, s lang.Sentence) []int {
	var out []int
	since := 0
	for t := s.First; t < s.Last; t++ {
		if !lang.IsWord(d.Tokens[t].Form) {
			continue
		}
		left := 0
		for k := t; k < s.Last; k++ {
			if lang.IsWord(d.Tokens[k].Form) {
				left++
			}
		}
		if since >= leastPart && left >= leastPart && (afterMark(d, s, t) || opens(d, s, t) || since >= 5 && endsSubject(d, s, t)) {
			out = append(out, t)
			since = 0
		}
		since++
	}
	return out
}

func afterMark(d *lang.Doc, s lang.Sentence, t int) bool {
	return t > s.First && slices.Contains([]string{",", ";", ":", "—", "--", "–"}, d.Tokens[t-1].Form) && !inSeries(d, t)
}

// inSeries reports a comma between two words of a list, where nobody rests.
func inSeries(d *lang.Doc, t int) bool {
	r, u := d.Tokens[t].Deprel, d.Tokens[t].UPOS
	return u == "ADJ" && r == "amod" || r == "conj" && u != "VERB"
}

// opens reports the first word of a clause that hangs on another.
func opens(d *lang.Doc, s lang.Sentence, t int) bool {
	tok := d.Tokens[t]
	h := tok.Head
	if h < t || h < 0 {
		return false
	}
	rel, _, _ := strings.Cut(d.Tokens[h].Deprel, ":")
	switch {
	case tok.Deprel == "mark" && (rel == "advcl" || rel == "ccomp" && strings.EqualFold(tok.Form, "that")) && !strings.EqualFold(tok.Form, "to"):
		return h > t && d.Tokens[h].Head < t
	case tok.Deprel == "cc" && d.Tokens[h].UPOS == "VERB":
		return true
	case d.Tokens[h].Deprel == "acl:relcl" && d.Tokens[h].Head == t-1:
		return true
	}
	return false
}

// leastSubject is how many words a subject has before its verb is waited for.
const leastSubject = 5

// endsSubject reports the first word behind a long subject.
func endsSubject(d *lang.Doc, s lang.Sentence, t int) bool {
	tok := d.Tokens[t]
	if tok.UPOS != "VERB" && tok.UPOS != "AUX" {
		return false
	}
	for k := t - 1; k >= s.First; k-- {
		if x := d.Tokens[k]; strings.HasPrefix(x.Deprel, "nsubj") && (x.Head == t || tok.UPOS == "AUX" && tok.Head == x.Head) {
			first := k
			for i := k; i >= s.First; i-- {
				for h, n := i, 0; h >= 0 && n < 50; h, n = d.Tokens[h].Head, n+1 {
					if h == k {
						first = i
						break
					}
				}
			}
			return t-first >= leastSubject && d.Tokens[t-1].UPOS != "AUX"
		}
	}
	return false
}

// stroked is a sentence with a stroke at each pause.
func stroked(d *lang.Doc, s lang.Sentence) string {
	var b strings.Builder
	at := s.First
	for _, p := range pauses(d, s) {
		b.WriteString(line(d, at, p))
		b.WriteString(" / ")
		at = p
	}
	b.WriteString(line(d, at, s.Last))
	return b.String()
}

func line(d *lang.Doc, first, last int) string {
	if first >= last {
		return ""
	}
	return strings.Join(strings.Fields(d.Text[d.Tokens[first].Start:d.Tokens[last-1].End]), " ")
}

// stop ends a text with a period.
func stop(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "!") || strings.HasSuffix(s, "?") || strings.HasSuffix(s, ".”") {
		return s
	}
	return s + "."
}

func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// lower begins a spoken answer with a small letter unless it begins with a name.
func lower(s string) string {
	first, rest, _ := strings.Cut(s, " ")
	switch first {
	case "Because", "In", "On", "At", "To", "The", "A", "An", "When", "Under", "With", "For", "By", "From", "After", "Before", "Into", "His", "Her", "They", "He", "She":
		first = strings.ToLower(first)
	}
	if rest == "" {
		return first
	}
	return first + " " + rest
}
