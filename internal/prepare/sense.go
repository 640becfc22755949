package prepare

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"bookstead/internal/fault"
	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
	"bookstead/internal/vocabulary"
)

// longestPassage is the longest line, in bytes, that is read as a question about
// a word.
const longestPassage = 16 << 20

// asked is a line of the input.
type asked struct {
	ID    json.RawMessage `json:"id"`
	Text  string          `json:"text"`
	Start int             `json:"start"`
	End   int             `json:"end"`
	Lemma string          `json:"lemma"`
	POS   string          `json:"pos"`
}

// answered is a line of the output.
type answered struct {
	ID     json.RawMessage `json:"id"`
	Senses []senseJSON     `json:"senses"`
}

type senseJSON struct {
	Key     string  `json:"key"`
	Score   float64 `json:"score"`
	Why     string  `json:"why"`
	Meaning string  `json:"meaning"`
	Synonym string  `json:"synonym"`
}

// Senses reads a question on each line, as JSON: id, text, start and end of a
// word or of several, and perhaps its lemma and part of speech; and writes a line
// for each with the WordNet senses, the likeliest first. A word that the
// dictionary does not have gets none. A text that stands on several lines is
// analysed once when they follow each other.
func Senses(ctx context.Context, w io.Writer, r io.Reader) error {
	lex, err := lexicon.Open()
	if err != nil {
		return err
	}
	in := bufio.NewScanner(r)
	in.Buffer(nil, longestPassage)
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	s := senser{lex: lex}
	for n := 1; in.Scan(); n++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		line := strings.TrimSpace(strings.TrimPrefix(in.Text(), "\ufeff"))
		if line == "" {
			continue
		}
		var q asked
		if err := json.Unmarshal([]byte(line), &q); err != nil {
			return fault.Wrap(fault.Unreadable, err, fmt.Sprintf("Line %d is not the JSON that is asked for.", n), `Write one object on each line: {"id": 1, "text": "…", "start": 4, "end": 9}.`)
		}
		if q.Start < 0 || q.End <= q.Start || q.End > len(q.Text) {
			return fault.New(fault.Unreadable, fmt.Sprintf("On line %d start and end do not lie in the text.", n), "Both count bytes of the text, from 0; end is the first behind the word.")
		}
		a, err := s.answer(ctx, q)
		if err != nil {
			return err
		}
		if err := enc.Encode(a); err != nil {
			return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
		}
	}
	if err := in.Err(); errors.Is(err, bufio.ErrTooLong) {
		return fault.Wrap(fault.Unreadable, err, "A line is too long.", "Give the passage around the word, not a library.")
	} else if err != nil {
		return fault.Wrap(fault.Unreadable, err, "The questions could not be read.", "")
	}
	return nil
}

// senser keeps the last text with its analysis.
type senser struct {
	lex  *lexicon.Lexicon
	text string
	d    *lang.Doc
	g    *vocabulary.Glosser
}

func (s *senser) answer(ctx context.Context, q asked) (answered, error) {
	a := answered{ID: q.ID, Senses: []senseJSON{}}
	if a.ID == nil {
		a.ID = json.RawMessage("null")
	}
	if s.g == nil || q.Text != s.text {
		d, err := english.Cut(ctx, q.Text, nil, english.Options{})
		if err != nil {
			return a, err
		}
		if err := english.Understand(ctx, d, english.Options{}); err != nil {
			return a, err
		}
		s.text, s.d, s.g = q.Text, d, vocabulary.NewGlosser(s.lex, d)
	}
	u, ok := s.unit(q)
	if !ok {
		return a, nil
	}
	for _, r := range s.g.Explain(u) {
		key := s.lex.Key30(r.Key)
		if key == "" {
			key = r.Key
		}
		a.Senses = append(a.Senses, senseJSON{Key: key, Score: round(r.Score), Why: r.Why, Meaning: r.Meaning, Synonym: r.Synonym})
	}
	return a, nil
}

func round(x float64) float64 { return float64(int(x*1e4+0.5)) / 1e4 }

// unit is what is asked about: the tokens of the span, by the lemma and part of
// speech that are given or else those that were read.
func (s *senser) unit(q asked) (sense.Unit, bool) {
	start, end := s.span(q)
	first := s.d.TokenAt(start)
	if first >= len(s.d.Tokens) || s.d.Tokens[first].Start >= end {
		return sense.Unit{}, false
	}
	last := first + 1
	for last < len(s.d.Tokens) && s.d.Tokens[last].Start < end {
		last++
	}
	if sent := s.d.Sentences[s.d.SentenceAt(s.d.Tokens[first].Start)]; last > sent.Last {
		last = sent.Last
	}
	u := sense.Unit{First: first, Last: last, Head: last - 1}
	try := func(pos lexicon.POS) bool {
		form := strings.Join(strings.Fields(s.d.Text[s.d.Tokens[first].Start:s.d.Tokens[last-1].End]), " ")
		for _, l := range []string{strings.ReplaceAll(strings.TrimSpace(q.Lemma), "_", " "), s.d.Tokens[first].Lemma, form} {
			if l == "" || l == s.d.Tokens[first].Lemma && last > first+1 {
				continue
			}
			if found := s.lex.Lemmas(l, pos); len(found) > 0 {
				u.Lemma, u.POS = found[0], pos
				if pos == lexicon.Verb {
					u.Head = first
				}
				return true
			}
		}
		return false
	}
	if pos, ok := partOf(q.POS); ok && try(pos) {
		return u, true
	}
	for _, head := range []int{last - 1, first} {
		if pos, ok := sense.POSOf(s.d.Tokens[head].UPOS); ok && try(pos) {
			return u, true
		}
	}
	for _, pos := range lexicon.PartsOfSpeech() {
		if try(pos) {
			return u, true
		}
	}
	return u, false
}

// span is the place in bytes. Who counts characters instead, as many programs do,
// is understood when only so the place bounds words.
func (s *senser) span(q asked) (start, end int) {
	if s.bounds(q.Start, q.End) || utf8.RuneCountInString(s.text) == len(s.text) {
		return q.Start, q.End
	}
	at, runes := 0, 0
	start, end = -1, len(s.text)
	for i := range s.text {
		if runes == q.Start {
			start = i
		}
		if runes == q.End {
			end = i
			break
		}
		runes++
		at = i
	}
	if start < 0 || start > at || !s.bounds(start, end) {
		return q.Start, q.End
	}
	return start, end
}

func (s *senser) bounds(start, end int) bool {
	i := s.d.TokenAt(start)
	j := s.d.TokenAt(end - 1)
	return i < len(s.d.Tokens) && j < len(s.d.Tokens) && s.d.Tokens[i].Start == start && s.d.Tokens[j].End == end
}

// partOf reads a part of speech as WordNet or Universal Dependencies write it.
func partOf(s string) (lexicon.POS, bool) {
	switch strings.ToLower(s) {
	case "n", "noun", "propn":
		return lexicon.Noun, true
	case "v", "verb", "aux":
		return lexicon.Verb, true
	case "a", "s", "j", "adj", "adjective":
		return lexicon.Adjective, true
	case "r", "adv", "adverb":
		return lexicon.Adverb, true
	}
	return 0, false
}
