// Command answertrain trains the small models by which package answer tells right
// answers from wrong ones, on the training part of the Student Response Analysis
// data, and prints what it scores when parts of the questions are held out:
//
//	go run ./cmd/answertrain -bench ../shared/bench
//
// The questions of each set are sorted by id; question i is held out in fold
// i mod 5. The data are CC BY-SA; the test parts are never read. The same data
// give the same bytes.
package main

import (
	"context"
	"encoding/gob"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"bookstead/internal/answer/forest"
	"bookstead/internal/answer/sra"
	"bookstead/internal/lexicon"
)

func main() {
	bench := flag.String("bench", "../shared/bench", "folder of the data")
	out := flag.String("out", "internal/answer", "folder that the models are written to; empty to score alone")
	cache := flag.String("cache", "", "file that keeps the rows of the data between runs")
	flag.Parse()
	if err := run(*bench, *out, *cache); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(bench, out, cache string) error {
	rows, err := read(bench, cache)
	if err != nil {
		return err
	}
	fmt.Println(sra.CrossValidate(rows))
	if out == "" {
		return nil
	}
	m := sra.Train(rows, -1)
	if err := write(filepath.Join(out, "one.txt"), m.One); err != nil {
		return err
	}
	return write(filepath.Join(out, "several.txt"), m.Several)
}

func write(name string, m *forest.Forest) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := m.Write(f); err != nil {
		f.Close()
		return fmt.Errorf("writing %s: %w", name, err)
	}
	return f.Close()
}

func read(bench, cache string) ([]sra.Row, error) {
	var rows []sra.Row
	if f, err := os.Open(cache); err == nil {
		defer f.Close()
		return rows, gob.NewDecoder(f).Decode(&rows)
	}
	qs, err := sra.Read(filepath.Join(bench, sra.Archive))
	if err != nil {
		return nil, err
	}
	lex, err := lexicon.Open()
	if err != nil {
		return nil, err
	}
	rows, err = sra.Rows(context.Background(), lex, qs)
	if err != nil || cache == "" {
		return rows, err
	}
	f, err := os.Create(cache)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return rows, gob.NewEncoder(f).Encode(rows)
}
