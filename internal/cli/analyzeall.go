package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

// endingOf is the ending of a file of each format.
var endingOf = map[prepare.Format]string{prepare.FormatCoNLLU: ".conllu", prepare.FormatJSON: ".json", prepare.FormatText: ".text"}

// folder analyses the books of a folder one after another, each into a file of
// its own. What is there already is left, so that a run that was stopped goes on
// where it stopped; memory is that of the longest book.
func (c analyzeCmd) folder(r *runContext) error {
	if c.Out == "" {
		return fault.New(fault.Invalid, fmt.Sprintf("%q is a folder, and nothing says where the results go.", c.Book), "Add --out and a folder.")
	}
	entries, err := os.ReadDir(c.Book)
	if err != nil {
		return fault.Wrap(fault.Unreadable, err, fmt.Sprintf("The folder %q cannot be read.", c.Book), "")
	}
	var names []string
	sizes, total := map[string]int64{}, int64(0)
	for _, e := range entries {
		st, err := e.Info()
		if err != nil || !st.Mode().IsRegular() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		switch strings.ToLower(filepath.Ext(e.Name())) {
		case ".txt", ".epub":
			names = append(names, e.Name())
			sizes[e.Name()] = st.Size()
			total += st.Size()
		}
	}
	slices.Sort(names)
	if len(names) == 0 {
		return fault.New(fault.NotFound, fmt.Sprintf("There are no books (.epub, .txt) in %q.", c.Book), "")
	}
	if err := os.MkdirAll(c.Out, 0o777); err != nil {
		return fault.Wrap(fault.Full, err, fmt.Sprintf("The folder %q cannot be made.", c.Out), "Check its name and that the disk has room.")
	}
	bar := newBar(r.Err, true)
	defer bar.done()
	before, fresh, kept, failed := int64(0), 0, 0, 0
	for _, name := range names {
		at := func(_ string, done float64) {
			bar.at("read", (float64(before)+done*float64(sizes[name]))/float64(max(1, total)))
		}
		at("", 0)
		target := filepath.Join(c.Out, name+endingOf[prepare.Format(c.Format)])
		if _, err := os.Stat(target); err == nil {
			kept++
			before += sizes[name]
			continue
		}
		skipped, err := c.one(r.ctx, filepath.Join(c.Book, name), target, at)
		switch {
		case errors.Is(err, context.Canceled) || fault.Is(err, fault.Canceled):
			bar.done()
			fmt.Fprintf(r.Err, "bookstead: %d of %d books are done. The same command goes on from here.\n", fresh+kept, len(names))
			return err
		case fault.Is(err, fault.Full):
			return err // the next would fail as well
		case err != nil:
			failed++
			fmt.Fprintf(r.Err, "bookstead: %s: %s\n", name, fault.Of(err).Message)
		default:
			fresh++
			for _, s := range skipped {
				fmt.Fprintf(r.Err, "bookstead: %s: %s\n", name, s)
			}
		}
		before += sizes[name]
	}
	bar.done()
	fmt.Fprintf(r.Err, "bookstead: books read: %d; read before: %d; not readable: %d.\n", fresh, kept, failed)
	if failed > 0 {
		return fault.New(fault.Unreadable, "Not all books could be read.", "The lines above say which and why.")
	}
	return nil
}

// one analyses a book into a file that appears only when it is whole.
func (c analyzeCmd) one(ctx context.Context, path, target string, progress prepare.Progress) (skipped []string, err error) {
	f, st, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	full := func(err error) error {
		return fault.Wrap(fault.Full, err, fmt.Sprintf("%q cannot be written.", target), "Check that the disk has room.")
	}
	part, err := os.Create(target + ".part")
	if err != nil {
		return nil, full(err)
	}
	defer os.Remove(part.Name()) // gone already when all went well
	out := bufio.NewWriter(part)
	in := prepare.Text{Name: filepath.Base(path), File: f, Size: st.Size(), Pretokenized: c.Pretokenized, Fast: c.Fast}
	skipped, err = prepare.WriteAnalysis(ctx, out, in, prepare.Format(c.Format), progress)
	if e := out.Flush(); err == nil && e != nil {
		err = full(e)
	}
	if e := part.Close(); err == nil && e != nil {
		err = full(e)
	}
	if err == nil {
		if e := os.Rename(part.Name(), target); e != nil {
			err = full(e)
		}
	}
	return skipped, err
}
