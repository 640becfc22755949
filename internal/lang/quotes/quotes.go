// Package quotes finds direct speech and who speaks it.
//
// [Finder] pairs quotation marks paragraph by paragraph (curly or straight,
// double or single, speech that runs over several paragraphs), joins the parts
// of one saying that "said he" breaks, and then names the speaker: by the words
// around ("said Mary"), else by the turn in a conversation. It needs tokens,
// sentences, tags and the cast.
package quotes

import (
	"context"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// Finder is the annotator of LayerQuotations.
type Finder struct{}

// Needs says what must have been run.
func (Finder) Needs() lang.Layer {
	return lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerCast
}

// Gives says what is run.
func (Finder) Gives() lang.Layer { return lang.LayerQuotations }

// Annotate fills Doc.Quotations.
func (Finder) Annotate(ctx context.Context, d *lang.Doc) error {
	style := StyleOf(d.Text)
	var open bool // speech goes on into the next paragraph
	last := talk{who: index(d)}
	for pi, p := range d.Paragraphs {
		if pi%256 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if p.Kind == "heading" || p.Kind == "scenebreak" {
			open, last = false, talk{who: last.who}
			continue
		}
		spans, left := Spans(d.Text[p.Start:p.End], style)
		for i := range spans {
			spans[i].Start += p.Start
			spans[i].End += p.Start
		}
		if len(spans) == 0 {
			open = false
			if p.End-p.Start > 400 {
				last = talk{who: last.who} // a stretch of telling ends the conversation
			}
			continue
		}
		// In novels a paragraph has one speaker (a convention of English prose).
		q := lang.Quotation{Start: spans[0].Start, End: spans[len(spans)-1].End, Parts: spans}
		if open && len(d.Quotations) > 0 { // the same speaker goes on
			prev := &d.Quotations[len(d.Quotations)-1]
			q.Speaker, q.Addressee, q.Confidence = prev.Speaker, prev.Addressee, prev.Confidence
			q.Cue = lang.Span{}
		} else {
			last.attribute(d, p, &q)
		}
		d.Quotations = append(d.Quotations, q)
		open = left
	}
	d.Done(lang.LayerQuotations)
	return nil
}

// Style is the kind of quotation mark that a text uses for speech.
type Style uint8

const (
	Double Style = iota // “…” or "…"
	Single              // ‘…’ or '…'
)

// StyleOf tells the style of a text by counting opening marks: those behind a
// space or at a line's start and before a letter.
func StyleOf(text string) Style {
	double, single := 0, 0
	prev := ' '
	for i, r := range text {
		switch r {
		case '“':
			double++
		case '‘':
			single++
		case '"', '\'':
			next, _ := utf8.DecodeRuneInString(text[i+1:])
			if (unicode.IsSpace(prev) || prev == '—' || prev == '-' || prev == '(') && unicode.IsUpper(next) {
				if r == '"' {
					double++
				} else {
					single++
				}
			}
		}
		prev = r
	}
	if single > 2*double {
		return Single
	}
	return Double
}

// Spans returns the quoted stretches of a paragraph, marks included; left says
// that speech goes on into the next (a quotation that was opened and not closed).
func Spans(text string, style Style) (out []lang.Span, left bool) {
	start := -1
	prev := ' '
	for i, r := range text {
		next := rune(0)
		if j := i + utf8.RuneLen(r); j < len(text) {
			next, _ = utf8.DecodeRuneInString(text[j:])
		}
		opens, closes := mark(r, prev, next, style, start >= 0)
		switch {
		case closes && start >= 0:
			out = append(out, lang.Span{Start: start, End: i + utf8.RuneLen(r)})
			start = -1
		case opens && start < 0:
			start = i
		}
		prev = r
	}
	if start >= 0 {
		// Opened and not closed: to the paragraph's end. With nothing behind it
		// the speech goes on.
		out = append(out, lang.Span{Start: start, End: len(strings.TrimRightFunc(text, unicode.IsSpace))})
		return out, true
	}
	return out, false
}

// mark tells whether a rune opens or closes speech.
func mark(r, prev, next rune, style Style, inside bool) (opens, closes bool) {
	letterNext, spaceNext := unicode.IsLetter(next) || unicode.IsDigit(next), next == 0 || unicode.IsSpace(next)
	spacePrev := unicode.IsSpace(prev) || prev == '—' || prev == '-' || prev == '(' || prev == '_' || prev == '–' || prev == '\u2014'
	if style == Double {
		switch r {
		case '“':
			return true, false
		case '”':
			return false, true
		case '"':
			if inside {
				return false, !spacePrev || spaceNext
			}
			return spacePrev || letterNext, false
		}
		return false, false
	}
	switch r {
	case '‘':
		return true, false
	case '’', '\'':
		if inside { // closes behind a stop or before a space, if it is no apostrophe
			stop := strings.ContainsRune(".,!?;:—-…", prev)
			return false, stop && !letterNext
		}
		return r == '\'' && spacePrev && unicode.IsUpper(next), false
	}
	return false, false
}
