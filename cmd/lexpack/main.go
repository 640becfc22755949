// Command lexpack packs open word data into the one file that package lexicon
// embeds. It reads npm packages under node_modules, compares what it reads with
// the checksums in data/sources.json (where licences stand too), adds our own
// lists from data/ and writes the same bytes each time. It is run by go generate;
// its result is not kept in version control. The sections that it writes are
// described in internal/lexicon/sections.go.
//
//	lexpack -modules node_modules -data data -out internal/lexicon/packed/pack.bin
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"bookstead/internal/lexicon/pack"
)

func main() {
	modules := flag.String("modules", "node_modules", "folder of the installed packages")
	data := flag.String("data", "data", "folder of our own lists and of sources.json")
	out := flag.String("out", "internal/lexicon/packed/pack.bin", "file to write")
	verbose := flag.Bool("v", false, "print the size of each section")
	flag.Parse()
	if err := run(*modules, *data, *out, *verbose); err != nil {
		fmt.Fprintln(os.Stderr, "lexpack:", err)
		os.Exit(1)
	}
}

// builder gathers the sections of the pack.
type builder struct {
	src     *sources
	w       pack.Writer
	verbose bool
	guard   *guard
	db      *wordnet
}

func (b *builder) add(name string, data []byte, err error) error {
	if err != nil {
		return fmt.Errorf("packing section %q: %w", name, err)
	}
	if b.verbose {
		fmt.Printf("%s %9d\n", name, len(data))
	}
	b.w.Add(name, data)
	return nil
}

func run(modules, data, out string, verbose bool) error {
	src, err := openSources(modules, data)
	if err != nil {
		return err
	}
	b := &builder{src: src, verbose: verbose}
	for _, step := range []struct {
		what string
		do   func() error
	}{
		{"pronunciations", b.pronunciations},
		{"offensive words", b.offensive},
		{"WordNet", b.wordnet},
		{"exception lists", b.exceptions},
		{"sense keys of WordNet 3.0", b.keys30},
		{"frequencies", b.frequencies},
		{"words of definitions", b.defining},
		{"familiar words", b.familiar},
		{"spelling", b.spelling},
		{"lists", b.lists},
	} {
		if err := step.do(); err != nil {
			return fmt.Errorf("packing %s: %w", step.what, err)
		}
	}
	if err := src.unread(); err != nil {
		return err
	}
	bytes := b.w.Bytes()
	if verbose {
		fmt.Printf("all  %9d\n", len(bytes))
	}
	if old, err := os.ReadFile(out); err == nil && string(old) == string(bytes) {
		return nil // leave its date, so that nothing is built again for it
	}
	if err := os.MkdirAll(filepath.Dir(out), 0o777); err != nil {
		return err
	}
	part := out + ".part"
	if err := os.WriteFile(part, bytes, 0o666); err != nil {
		return err
	}
	return os.Rename(part, out)
}
