package cli

import (
	"bufio"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

type senseCmd struct{}

// Help is shown by "bookstead sense --help".
func (senseCmd) Help() string {
	return `Reads JSON Lines from standard input, a question on each line:

  {"id": 1, "text": "He spoke in a husky voice.", "start": 14, "end": 19}

start and end bound the word, or several words that belong together, in bytes of
the text. "lemma" and "pos" (n, v, a, r) may be given; else they are read from the
text. All of the text is looked at. Writes a line for each:

  {"id": 1, "senses": [{"key": …, "score": …, "why": …, "meaning": …, "synonym": …}]}

  senses   those of WordNet, the likeliest first; none for a word that it does
           not have. What does not belong on a child's page comes last
  key      sense key of WordNet 3.0
  score    how likely it is, 0 to 1
  why      what speaks for it
  meaning  at most eight words that are easier than the word itself; empty when
           it cannot be said so
  synonym  a word in the right form that can stand in its place; may be empty`
}

// Run tells senses.
func (senseCmd) Run(r *runContext) error {
	out := bufio.NewWriter(r.Out)
	if err := prepare.Senses(r.ctx, out, r.In); err != nil {
		out.Flush()
		return err
	}
	if err := out.Flush(); err != nil {
		return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
	}
	return nil
}
