// Package quotes finds direct speech: where each quotation begins and ends, and
// the words that tell who speaks.
//
// [Finder] pairs quotation marks paragraph by paragraph (curly or straight,
// double or single, speech that runs over several paragraphs), leaves out words
// that are only set in marks (the so-called "garden"), looks for a verb of
// saying with its subject beside each stretch of speech (cue.go), and joins the
// stretches of one speaker that "said he" breaks. Who the subject is, is not
// asked here: lang/people does. It needs tokens, sentences, tags and trees.
package quotes

import (
	"context"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// Finder is the annotator of LayerQuotations. It leaves speakers and those
// spoken to open.
type Finder struct{}

// Needs says what must have been run.
func (Finder) Needs() lang.Layer {
	return lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerTrees
}

// Gives says what is run.
func (Finder) Gives() lang.Layer { return lang.LayerQuotations }

// Annotate fills Doc.Quotations.
func (Finder) Annotate(ctx context.Context, d *lang.Doc) error {
	style := StyleOf(d.Text)
	d.Quotations = nil
	f := finder{d: d}
	for pi, p := range d.Paragraphs {
		if pi%256 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if p.Skip || p.Kind == "heading" || p.Kind == "scenebreak" {
			continue
		}
		spans, _ := Spans(d.Text[p.Start:p.End], style)
		for i := range spans {
			spans[i].Start += p.Start
			spans[i].End += p.Start
		}
		f.paragraph(pi, spans)
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
	start, weak := -1, -1 // weak: the end of the last mark that may have been a close
	prev := ' '
	for i, r := range text {
		next := rune(0)
		if j := i + utf8.RuneLen(r); j < len(text) {
			next, _ = utf8.DecodeRuneInString(text[j:])
		}
		opens, closes, maybe := mark(r, prev, next, style, start >= 0)
		switch {
		case closes && start >= 0:
			out = append(out, lang.Span{Start: start, End: i + utf8.RuneLen(r)})
			start, weak = -1, -1
		case opens && start < 0:
			start, weak = i, -1
		case opens && weak > start: // it was closed after all
			out = append(out, lang.Span{Start: start, End: weak})
			start, weak = i, -1
		case maybe && start >= 0:
			weak = i + utf8.RuneLen(r)
		}
		prev = r
	}
	switch {
	case start >= 0 && weak > start && weak-start < 60: // ‘Orange Marmalade’ on a jar
		return append(out, lang.Span{Start: start, End: weak}), false
	case start >= 0:
		// Opened and not closed: to the paragraph's end; the speech goes on.
		return append(out, lang.Span{Start: start, End: len(strings.TrimRightFunc(text, unicode.IsSpace))}), true
	}
	return out, false
}

// mark tells whether a rune opens or closes speech, or may close it.
func mark(r, prev, next rune, style Style, inside bool) (opens, closes, maybe bool) {
	letterNext, spaceNext := unicode.IsLetter(next) || unicode.IsDigit(next), next == 0 || unicode.IsSpace(next)
	spacePrev := unicode.IsSpace(prev) || strings.ContainsRune("—-(_–[", prev)
	if style == Double {
		switch r {
		case '“':
			return true, false, false
		case '”':
			return false, true, false
		case '"':
			if inside {
				return false, !spacePrev || spaceNext || prev == '-' || prev == '—' || prev == '_', false
			}
			return spacePrev && !spaceNext || letterNext, false, false
		}
		return false, false, false
	}
	switch r {
	case '‘':
		return true, false, false
	case '’', '\'':
		if inside { // closes behind a stop, if it is no apostrophe
			stop := strings.ContainsRune(".,!?;:—-…", prev)
			return false, stop && !letterNext, !stop && !letterNext && !unicode.IsSpace(prev)
		}
		return r == '\'' && spacePrev && unicode.IsUpper(next), false, false
	}
	return false, false, false
}
