package cli

import (
	"bufio"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

type pronounceCmd struct {
	Predict bool `help:"Ask the model alone, without the dictionary."`
}

// Help is shown by "bookstead pronounce --help".
func (pronounceCmd) Help() string {
	return `Reads words from standard input, one a line, and writes a line for each with
these columns, parted by tabs:

  word       as it was given
  source     dictionary; derived, from a word of the dictionary; predicted, by a
             model that can be wrong; or not known
  phones     ARPAbet, without stress
  stressed   the same with stress: 1 main, 2 secondary, 0 none
  letters    each group of letters with its sounds: n=N igh=AY t=T. In a_e the
             letters stand around a consonant; - is a silent letter
  syllables  as written, parted by a dot
  step       the first of the usual spelling steps at which the word can be
             read; - when some of its letters are taught at none`
}

// Run says words.
func (c pronounceCmd) Run(r *runContext) error {
	out := bufio.NewWriter(r.Out)
	if err := prepare.Pronounce(r.ctx, out, r.In, c.Predict); err != nil {
		out.Flush()
		return err
	}
	if err := out.Flush(); err != nil {
		return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
	}
	return nil
}
