package prepare

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"bookstead/internal/fault"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/question"
)

// longestText is the longest line, in bytes, that is read as a text with its id.
const longestText = 4 << 20

// mostDrafts is how many questions are drafted for a text when nobody says.
const mostDrafts = 10

type askedText struct {
	ID   json.RawMessage `json:"id"`
	Text *string         `json:"text"`
}

type askedJSON struct {
	Question string  `json:"question"`
	Answer   string  `json:"answer"`
	Full     string  `json:"full"`
	Start    int     `json:"start"`
	End      int     `json:"end"`
	Kind     string  `json:"kind"`
	Score    float64 `json:"score"`
	Sure     bool    `json:"sure"`
}

// Questions reads a JSON object a line with "id" and "text" and writes one for
// each with the same id and "drafts", best first, at most n of them (0 for the
// usual number).
func Questions(ctx context.Context, w io.Writer, r io.Reader, n int) error {
	if n <= 0 {
		n = mostDrafts
	}
	lex, err := lexicon.Open()
	if err != nil {
		return err
	}
	in := bufio.NewScanner(r)
	in.Buffer(nil, longestText)
	out := json.NewEncoder(w)
	out.SetEscapeHTML(false)
	for line := 1; in.Scan(); line++ {
		raw := bytes.TrimSpace(bytes.TrimPrefix(in.Bytes(), []byte("\ufeff")))
		if len(raw) == 0 {
			continue
		}
		var t askedText
		err := json.Unmarshal(raw, &t)
		if err == nil && t.Text == nil {
			err = errors.New("no text")
		}
		if err != nil {
			return fault.Wrap(fault.Unreadable, err, fmt.Sprintf("Line %d is no object with a text.", line), `Give {"id": …, "text": "…"} on each line.`)
		}
		d, err := english.Cut(ctx, *t.Text, nil, english.Options{})
		if err != nil {
			return err
		}
		if err := english.Understand(ctx, d, english.Options{}); err != nil {
			return err
		}
		asked, err := question.Ask(ctx, lex, d, n)
		if err != nil {
			return err
		}
		drafts := make([]askedJSON, len(asked))
		for i, x := range asked {
			drafts[i] = askedJSON{x.Question, x.Answer, x.Full, x.Start, x.End, x.Kind, float64(int(x.Score*1e4+0.5)) / 1e4, x.Sure}
		}
		if t.ID == nil {
			t.ID = json.RawMessage("null")
		}
		if err := out.Encode(struct {
			ID     json.RawMessage `json:"id"`
			Drafts []askedJSON     `json:"drafts"`
		}{t.ID, drafts}); err != nil {
			return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
		}
	}
	if err := in.Err(); errors.Is(err, bufio.ErrTooLong) {
		return fault.Wrap(fault.TooLarge, err, "A line is too long.", "Give one chapter on each line; it may have 4 MB.")
	} else if err != nil {
		return fault.Wrap(fault.Unreadable, err, "The texts could not be read.", "")
	}
	return nil
}
