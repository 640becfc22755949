package cli

import (
	"bufio"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

type questionsCmd struct {
	Number int `short:"n" default:"10" help:"At most so many questions for each text."`
}

// Help is shown by "bookstead questions --help".
func (questionsCmd) Help() string {
	return `Reads JSON Lines from standard input, a text on each line:

  {"id": "ch1", "text": "Once there was a king …"}

and writes a line for each, best question first:

  {"id": "ch1", "drafts": [{"question", "answer", "full", "start", "end",
   "kind", "score", "sure"}, …]}

  answer     in few words, as a child says it
  full       in a sentence, as a teacher writes it
  start end  the sentences that prove it, as a half-open span of UTF-8 bytes
  kind       character, setting, action, feeling, cause, outcome or prediction
  score      how likely an expert would ask and answer so, 0 to 1
  sure       false where the text only suggests the answer; a text long enough
             to give thirty sure questions gets no others`
}

// Run drafts questions.
func (c questionsCmd) Run(r *runContext) error {
	out := bufio.NewWriter(r.Out)
	if err := prepare.Questions(r.ctx, out, r.In, c.Number); err != nil {
		out.Flush()
		return err
	}
	if err := out.Flush(); err != nil {
		return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
	}
	return nil
}
