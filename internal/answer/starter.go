package answer

import (
	"context"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lang/inflect"
)

// Starter returns the beginning of an answer in a whole sentence, made of the
// question's own words: "Mary cried because" for "Why did Mary cry?", and
// "Mary cried to" where the full answer goes on so. It is "" where none can be
// made safely.
func (j *Judge) Starter(ctx context.Context, question, full string) (string, error) {
	t, err := j.read(ctx, clip(question, mostRead), nil)
	if err != nil {
		return "", err
	}
	return starter(t, full), nil
}

func starter(q *text, full string) string {
	s := begun(q)
	if base, ok := strings.CutSuffix(s, " because"); ok {
		for _, joint := range []string{" to ", " so that ", " in order to "} {
			if strings.HasPrefix(normal(full), normal(base)+joint) {
				return base + strings.TrimRight(joint, " ")
			}
		}
	}
	return s
}

// begun is the beginning by the question alone.
func begun(q *text) string {
	d := q.doc
	if len(d.Sentences) == 0 {
		return ""
	}
	s := d.Sentences[len(d.Sentences)-1]
	for _, w := range []string{"when", "after", "as soon as"} {
		if rest, ok := strings.CutPrefix(normal(q.raw), "what happened "+w+" "); ok && len(strings.Fields(rest)) <= 12 {
			return upperFirst(w) + strings.TrimRight(q.raw[len("what happened ")+len(w):], " ?.!") + ","
		}
	}
	end := s.Last
	for end > s.First && !lang.IsWord(d.Tokens[end-1].Form) {
		end--
	}
	ask := normal(d.Tokens[s.First].Form)
	switch ask {
	case "why", "what", "where", "when", "how", "who", "whom":
	default:
		return ""
	}
	root := -1
	for i := s.First; i < s.Last; i++ {
		if d.Tokens[i].Head < 0 {
			root = i
		}
	}
	// The order of a question: what asks, auxiliary or "be", subject, the rest.
	help := -1
	for i := s.First + 1; i < min(s.First+4, end); i++ {
		if t := d.Tokens[i]; t.Head == root && (t.Deprel == "aux" || t.Deprel == "aux:pass" || t.Deprel == "cop") || i == root && t.Lemma == "be" {
			help = i
			break
		}
	}
	if help < 0 || root < 0 {
		return ""
	}
	first, last := subject(d, root, help, end)
	if first != help+1 {
		return ""
	}
	if last <= root && d.Tokens[root].Head < 0 && root > help && root < first {
		return ""
	}
	who := words(d, first, last)
	rest := last
	var verb string
	switch lemma := normal(d.Tokens[help].Form); {
	case lemma == "did" || lemma == "does" || lemma == "do":
		if root < last || root >= end || d.Tokens[root].UPOS != "VERB" {
			return ""
		}
		before := words(d, last, root) // "not", "suddenly"
		if b := " " + normal(before); strings.Contains(b, " not") || strings.Contains(b, "n't") {
			return ""
		}
		tag := map[string]string{"did": "VBD", "does": "VBZ", "do": "VBP"}[lemma]
		form := inflect.Like(d.Tokens[root].Lemma, tag)
		if tag == "VBP" {
			form = d.Tokens[root].Lemma
		}
		verb, rest = strings.TrimSpace(before+" "+form), root+1
		if d.Tokens[root].Lemma == "do" && ask == "what" {
			return upperFirst(who)
		}
	case lemma == "n't":
		return ""
	default:
		verb = d.Tokens[help].Form
		if root >= last && root < end { // "was crying", "was sad"
			verb, rest = verb+" "+words(d, last, root+1), root+1
		}
	}
	for rest < end && d.Tokens[rest].Deprel == "compound:prt" {
		verb += " " + d.Tokens[rest].Form
		rest++
	}
	whole := ask == "why" || ask == "where" || ask == "when" || ask == "how" && d.Tokens[root].Lemma != "feel"
	out := who + " " + verb
	if whole && rest < end {
		out += " " + words(d, rest, end)
	}
	if ask == "why" {
		out += " because"
	}
	if n := len(strings.Fields(out)); n > 16 {
		return ""
	}
	return upperFirst(out)
}

// subject returns the tokens of the subject of root behind help, half-open.
func subject(d *lang.Doc, root, help, end int) (first, last int) {
	head := -1
	for i := help + 1; i < end; i++ {
		if t := d.Tokens[i]; (t.Deprel == "nsubj" || t.Deprel == "nsubj:pass") && (t.Head == root || root == help) {
			head = i
			break
		}
	}
	if head < 0 {
		return -1, -1
	}
	return reach(d, head)
}

// reach returns the tokens from the first to the last that hang on one, half-open.
func reach(d *lang.Doc, head int) (first, last int) {
	s := d.Sentences[d.SentenceAt(d.Tokens[head].Start)]
	first, last = head, head+1
	for i := s.First; i < s.Last; i++ {
		for h, n := i, 0; h >= 0 && n < 100; h, n = d.Tokens[h].Head, n+1 {
			if h == head {
				first, last = min(first, i), max(last, i+1)
				break
			}
		}
	}
	return first, last
}

// words are tokens as the text spaces them, in one line.
func words(d *lang.Doc, first, last int) string {
	if first >= last {
		return ""
	}
	return strings.Join(strings.Fields(d.Text[d.Tokens[first].Start:d.Tokens[last-1].End]), " ")
}
