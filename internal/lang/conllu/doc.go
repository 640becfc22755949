package conllu

import (
	"fmt"
	"strconv"
	"strings"

	"bookstead/internal/lang"
)

// ToDoc builds the text and the layers that the rows hold. Tokens and
// sentences are always there; tags, lemmas, trees and types are marked done
// when at least one row holds them. Forms of words inside a multiword token
// that are not cut from it keep their Form; their spans then share the surface
// token's: the first takes all of it, the others stand empty at its end.
func ToDoc(ss []Sentence) *lang.Doc {
	d := &lang.Doc{}
	b := builder{d: d, text: &strings.Builder{}}
	for i := range ss {
		b.sentence(&ss[i], i == 0)
	}
	b.closeParagraph()
	d.Text = b.text.String()
	for i := range d.Tokens {
		t := &d.Tokens[i]
		if t.End-t.Start == len(t.Form) && d.Text[t.Start:t.End] == t.Form {
			t.Form = d.Text[t.Start:t.End]
		}
	}
	d.Done(lang.LayerTokens | lang.LayerSentences | b.seen)
	return d
}

type builder struct {
	d       *lang.Doc
	text    *strings.Builder
	pending string // space owed before the next token
	seen    lang.Layer
}

func (b *builder) closeParagraph() {
	if n := len(b.d.Paragraphs); n > 0 {
		b.d.Paragraphs[n-1].End = b.text.Len()
	}
}

func (b *builder) sentence(s *Sentence, first bool) {
	_, par := s.Comment("newpar")
	_, doc := s.Comment("newdoc")
	if !par && !doc {
		_, par = s.Comment("newpar id")
		_, doc = s.Comment("newdoc id")
	}
	if first || par || doc {
		b.closeParagraph()
		if !first {
			b.text.WriteString("\n\n")
		}
		b.pending = ""
		b.d.Paragraphs = append(b.d.Paragraphs, lang.Paragraph{Start: b.text.Len(), Kind: "paragraph"})
	}
	base := len(b.d.Tokens)
	out := lang.Sentence{First: base, Paragraph: len(b.d.Paragraphs) - 1}
	if v, ok := s.Comment("s_type"); ok {
		if out.Type = sentenceType(v); out.Type != "" {
			b.seen |= lang.LayerTypes
		}
	}
	rangeEnd, rangeRow := 0, (*Row)(nil) // the multiword token that is open
	offset, whole := 0, false
	for i := range s.Rows {
		r := &s.Rows[i]
		switch {
		case r.ID.Sub > 0:
			continue
		case r.ID.To > 0:
			rangeEnd, rangeRow = r.ID.To, r
			b.text.WriteString(b.pending)
			b.pending = ""
			offset = b.text.Len()
			b.text.WriteString(r.Form)
			whole = joined(s.Rows[i+1:], r) != r.Form
			continue
		}
		t := lang.Token{Form: r.Form, Head: -1}
		if rangeRow != nil {
			if r.ID.N == rangeRow.ID.N {
				t.Multi = int8(rangeRow.ID.To - rangeRow.ID.N + 1)
			} else {
				t.Multi = -1
			}
			end := b.text.Len()
			switch {
			case !whole:
				t.Start, t.End = offset, offset+len(r.Form)
				offset += len(r.Form)
			case t.Multi > 0:
				t.Start, t.End = offset, end
			default:
				t.Start, t.End = end, end
			}
			if r.ID.N == rangeEnd {
				b.pending = spaceAfter(rangeRow)
				rangeRow = nil
			}
		} else {
			b.text.WriteString(b.pending)
			t.Start = b.text.Len()
			b.text.WriteString(r.Form)
			t.End = b.text.Len()
			b.pending = spaceAfter(r)
		}
		b.layers(&t, r, base)
		b.d.Tokens = append(b.d.Tokens, t)
	}
	if out.Last = len(b.d.Tokens); out.Last > out.First {
		b.d.Sentences = append(b.d.Sentences, out)
	}
}

func joined(rows []Row, r *Row) string {
	var s strings.Builder
	for i := range rows {
		if rows[i].ID.N > r.ID.To {
			break
		}
		if rows[i].ID.Word() {
			s.WriteString(rows[i].Form)
		}
	}
	return s.String()
}

func (b *builder) layers(t *lang.Token, r *Row, base int) {
	if r.Lemma != "_" || r.Form == "_" {
		t.Lemma = r.Lemma
		b.seen |= lang.LayerLemmas
	}
	if r.UPOS != "_" {
		t.UPOS = r.UPOS
		b.seen |= lang.LayerTags
	}
	if r.XPOS != "_" {
		t.XPOS = r.XPOS
	}
	if r.Feats != "_" {
		t.Feats = r.Feats
	}
	if h, err := strconv.Atoi(r.Head); err == nil {
		t.Head = -1
		if h > 0 {
			t.Head = base + h - 1
		}
		t.Deprel = r.Deprel
		b.seen |= lang.LayerTrees
	}
}

// spaceAfter follows SpaceAfter=No and, for anything but one blank, the
// SpacesAfter of UDPipe (https://ufal.mff.cuni.cz/udpipe/1/users-manual).
func spaceAfter(r *Row) string {
	if v, ok := r.Misc("SpacesAfter"); ok {
		return spacesIn.Replace(v)
	}
	if v, ok := r.Misc("SpaceAfter"); ok && v == "No" {
		return ""
	}
	return " "
}

var (
	spacesIn  = strings.NewReplacer(`\\`, `\`, `\s`, " ", `\t`, "\t", `\r`, "\r", `\n`, "\n", `\p`, "|")
	spacesOut = strings.NewReplacer(`\`, `\\`, " ", `\s`, "\t", `\t`, "\r", `\r`, "\n", `\n`, "|", `\p`)
)

// sentenceType reads GUM's s_type (https://gucorpling.org/gum/). Its "sub",
// "inf", "ger" (clauses that stand alone), "multiple" and "other" are left
// open, "": none is a type of ours.
func sentenceType(s string) lang.SentenceType {
	for t, name := range typeNames {
		if name == s {
			return t
		}
	}
	if s == "wh" {
		return lang.Question
	}
	return ""
}

var typeNames = map[lang.SentenceType]string{
	lang.Statement:   "decl",
	lang.Question:    "q",
	lang.Command:     "imp",
	lang.Exclamation: "intj",
	lang.Fragment:    "frag",
}

// FromDoc writes the layers that were run. White space other than one blank is
// kept in SpacesAfter, so that ToDoc gives back the text of every paragraph.
func FromDoc(d *lang.Doc) []Sentence {
	out := make([]Sentence, 0, len(d.Sentences))
	for i, s := range d.Sentences {
		c := Sentence{Rows: make([]Row, 0, s.Last-s.First)}
		if i == 0 || d.Sentences[i-1].Paragraph != s.Paragraph {
			c.Comments = append(c.Comments, "# newpar")
		}
		c.Comments = append(c.Comments, fmt.Sprintf("# sent_id = %d", i+1))
		if d.Has(lang.LayerTypes) && s.Type != "" {
			c.Comments = append(c.Comments, "# s_type = "+typeNames[s.Type])
		}
		span := d.SentenceSpan(i)
		c.Comments = append(c.Comments, "# text = "+oneLine(d.Text[span.Start:span.End]))
		for k := s.First; k < s.Last; k++ {
			c.Rows = append(c.Rows, rows(d, i, k)...)
		}
		out = append(out, c)
	}
	return out
}

// oneLine turns line breaks into blanks; other white space stays.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\r' || r == '\t' {
			return ' '
		}
		return r
	}, s)
}

// rows returns the rows of token k in sentence i: two for the first word of a
// multiword token.
func rows(d *lang.Doc, i, k int) []Row {
	t, s := &d.Tokens[k], &d.Sentences[i]
	id := k - s.First + 1
	r := Row{ID{N: id}, t.Form, "_", "_", "_", "_", "_", "_", "_", "_"}
	if d.Has(lang.LayerTags) {
		r.UPOS, r.XPOS, r.Feats = or(t.UPOS), or(t.XPOS), or(t.Feats)
	}
	if d.Has(lang.LayerLemmas) {
		r.Lemma = or(t.Lemma)
	}
	if d.Has(lang.LayerTrees) {
		r.Deprel = or(t.Deprel)
		r.Head = "0"
		if t.Head >= 0 {
			r.Head = strconv.Itoa(t.Head - s.First + 1)
		}
	}
	if t.Multi == 0 {
		r.MiscField = space(d, i, k)
		return []Row{r}
	}
	if t.Multi < 0 {
		return []Row{r}
	}
	last := k + int(t.Multi) - 1
	whole := Row{ID{N: id, To: id + int(t.Multi) - 1}, d.Text[t.Start:d.Tokens[last].End], "_", "_", "_", "_", "_", "_", "_", space(d, i, last)}
	return []Row{whole, r}
}

func or(s string) string {
	if s == "" {
		return "_"
	}
	return s
}

// space says what stands between the surface token that ends with k and the next.
func space(d *lang.Doc, i, k int) string {
	next := k + 1
	if next >= len(d.Tokens) {
		return "_"
	}
	if next == d.Sentences[i].Last && d.Sentences[i+1].Paragraph != d.Sentences[i].Paragraph {
		return "_" // the newpar of the next sentence speaks
	}
	switch gap := d.Text[d.Tokens[k].End:d.Tokens[next].Start]; gap {
	case " ":
		return "_"
	case "":
		return "SpaceAfter=No"
	default:
		return "SpacesAfter=" + spacesOut.Replace(gap)
	}
}
