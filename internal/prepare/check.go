package prepare

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"sync"

	"bookstead/internal/answer"
	"bookstead/internal/fault"
	"bookstead/internal/lexicon"
)

// longestLine is the longest line of JSON Lines, in bytes, that is read.
const longestLine = 8 << 20

// AnswerLine is one answer to be judged.
type AnswerLine struct {
	ID         string   `json:"id"`
	Question   string   `json:"question"`
	References []string `json:"references"`
	Answer     string   `json:"answer"`
	Grade      int      `json:"grade"` // 1 to 6, 0 when not told
}

// JudgedLine is what was found in it; its fields are those of [answer.Result].
type JudgedLine struct {
	ID        string         `json:"id"`
	Verdict   answer.Verdict `json:"verdict"`
	Score     float64        `json:"score"`
	Points    []pointJSON    `json:"points"`
	Sentence  sentenceJSON   `json:"sentence"`
	Mechanics []slipJSON     `json:"mechanics"`
	Brief     bool           `json:"brief"`
	Advice    string         `json:"advice"`
	Evidence  string         `json:"evidence"`
}

type pointJSON struct {
	Point string       `json:"point"`
	State answer.State `json:"state"`
	Words []string     `json:"words"`
}

type sentenceJSON struct {
	Whole   bool `json:"whole"`
	Subject bool `json:"subject"`
	Verb    bool `json:"verb"`
	Alone   bool `json:"alone"`
	Capital bool `json:"capital"`
	End     bool `json:"end"`
	Count   int  `json:"count"`
	Words   int  `json:"words"`
}

type slipJSON struct {
	Kind  answer.SlipKind `json:"kind"`
	Start int             `json:"start"`
	End   int             `json:"end"`
	Text  string          `json:"text"`
	Meant []string        `json:"meant"`
}

// CheckAnswers reads answers as JSON Lines and writes a line for each.
func CheckAnswers(ctx context.Context, w io.Writer, r io.Reader) error {
	j, err := judge()
	if err != nil {
		return err
	}
	in := bufio.NewScanner(r)
	in.Buffer(make([]byte, 0, 1<<16), longestLine)
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	var key *answer.Key // of the question before: answers to one often come together
	var asked string
	for line := 1; in.Scan(); line++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		if len(in.Bytes()) == 0 {
			continue
		}
		var a AnswerLine
		if err := json.Unmarshal(in.Bytes(), &a); err != nil {
			return fault.Wrap(fault.Invalid, err, fmt.Sprintf("Line %d is not an answer as JSON.", line), `Each line is like {"id":"1","question":"…","references":["…"],"answer":"…","grade":4}.`)
		}
		if q := fmt.Sprintf("%q %q", a.Question, a.References); key == nil || q != asked {
			if key, err = j.Key(ctx, a.Question, a.References); err != nil {
				return err
			}
			asked = q
		}
		res, err := key.Judge(ctx, a.Answer, a.Grade)
		if err != nil {
			return err
		}
		if err := enc.Encode(judged(a.ID, res)); err != nil {
			return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
		}
	}
	if err := in.Err(); errors.Is(err, bufio.ErrTooLong) {
		return fault.Wrap(fault.TooLarge, err, "A line is too long to be an answer.", "Give one answer on each line.")
	} else if err != nil {
		return fault.Wrap(fault.Unreadable, err, "The answers could not be read.", "")
	}
	return nil
}

// judge of answers, made when first needed; it never changes.
var judge = sync.OnceValues(func() (*answer.Judge, error) {
	lex, err := lexicon.Open()
	if err != nil {
		return nil, fmt.Errorf("opening the word data: %w", err)
	}
	return answer.New(lex)
})

func judged(id string, r answer.Result) JudgedLine {
	s := r.Sentence
	out := JudgedLine{ID: id, Verdict: r.Verdict, Score: r.Score, Points: []pointJSON{}, Mechanics: []slipJSON{}, Brief: r.Brief, Advice: r.Advice, Evidence: r.Evidence,
		Sentence: sentenceJSON{s.Whole, s.Subject, s.Verb, s.Alone, s.Capital, s.End, s.Count, s.Words}}
	for _, p := range r.Points {
		out.Points = append(out.Points, pointJSON{p.Text, p.State, append([]string{}, p.Words...)})
	}
	for _, m := range r.Mechanics {
		out.Mechanics = append(out.Mechanics, slipJSON{m.Kind, m.Start, m.End, m.Text, append([]string{}, m.Meant...)})
	}
	return out
}
