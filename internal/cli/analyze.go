package cli

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

type analyzeCmd struct {
	Book         string `arg:"" help:"A book, a folder of books, or - for a text on standard input." default:"-"`
	Format       string `help:"conllu, json or text." enum:"conllu,json,text" default:"conllu"`
	Pretokenized bool   `help:"The input is CoNLL-U: keep its sentences and tokens and fill in the rest."`
	Out          string `help:"For a folder: where each book's result goes, in a file of its own. Books whose file is there are left, so a run that was stopped can go on." placeholder:"DIR" type:"path"`
	Fast         bool   `help:"Only tokens, sentences, tags and dictionary forms: no trees, cast, speech or events."`
}

// Help is shown by "bookstead analyze --help".
func (analyzeCmd) Help() string {
	return `Writes what Bookstead reads in a text.

  conllu  sentences and tokens with lemmas, tags and trees, in the CoNLL-U
          format of Universal Dependencies
  json    cast, quotations, scenes, events and turns of phrase, with byte offsets
  text    the text that all byte offsets index, and nothing else

Offsets are half-open, in bytes of UTF-8. The JSON is described in docs/analysis.md.
What is not analysed (another language, tables, signs) is told on standard error.`
}

// Run analyses a text.
func (c analyzeCmd) Run(r *runContext) error {
	if st, err := os.Stat(c.Book); err == nil && st.IsDir() {
		return c.folder(r)
	}
	out := bufio.NewWriter(r.Out)
	in := prepare.Text{Name: "standard input", Pretokenized: c.Pretokenized, Fast: c.Fast}
	if c.Book == "-" {
		data, err := io.ReadAll(io.LimitReader(r.In, prepare.LargestBook+1))
		if err != nil {
			return fault.Wrap(fault.Unreadable, err, "Standard input could not be read.", "")
		}
		in.Data = data
	} else {
		f, st, err := openFile(c.Book)
		if err != nil {
			return err
		}
		defer f.Close()
		in.Name, in.File, in.Size = filepath.Base(c.Book), f, st.Size()
	}
	bar := newBar(r.Err, true)
	skipped, err := prepare.WriteAnalysis(r.ctx, out, in, prepare.Format(c.Format), bar.at)
	bar.done()
	if err != nil {
		return err
	}
	for _, s := range skipped {
		fmt.Fprintln(r.Err, "bookstead:", s)
	}
	if err := out.Flush(); err != nil {
		return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
	}
	return nil
}
