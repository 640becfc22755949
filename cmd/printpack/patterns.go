package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// packPatterns writes en-us.txt and en-gb.txt: one pattern a line as TeX has
// them ("hy3ph", ".ach4"), then after a line "=" the exceptions ("ta-ble").
func packPatterns(modules, out string) error {
	for _, lang := range []string{"en-us", "en-gb"} {
		src, err := os.ReadFile(filepath.Join(modules, "hyphen", "patterns", lang+".js"))
		if err != nil {
			return fmt.Errorf("reading the patterns of %s: %w", lang, err)
		}
		text, err := patternText(src)
		if err != nil {
			return fmt.Errorf("reading the patterns of %s: %w", lang, err)
		}
		if err := write(filepath.Join(out, lang+".txt"), text); err != nil {
			return err
		}
	}
	return nil
}

// patternText turns the module's data into lines. The data is an array of a
// table of levels, a trie of letters whose leaves index that table, and the
// places of breaks in the words that are exceptions.
func patternText(src []byte) ([]byte, error) {
	_, data, ok := bytes.Cut(src, []byte("})(this, "))
	if !ok {
		return nil, fmt.Errorf("the data does not start where it should")
	}
	v, err := parseLiteral(string(data))
	if err != nil {
		return nil, err
	}
	parts, ok := v.([]any)
	if !ok || len(parts) < 2 {
		return nil, fmt.Errorf("the data has %T, not levels and a trie", v)
	}
	levels, ok1 := parts[0].([]any)
	trie, ok2 := parts[1].(map[string]any)
	if !ok1 || !ok2 {
		return nil, fmt.Errorf("the data has no levels or no trie")
	}
	var lines []string
	if err := walkTrie(trie, "", levels, &lines); err != nil {
		return nil, err
	}
	sort.Strings(lines)
	var words []string
	if len(parts) > 2 {
		exceptions, _ := parts[2].(map[string]any)
		for w, at := range exceptions {
			words = append(words, divided(w, at.([]any)))
		}
		sort.Strings(words)
	}
	return []byte(strings.Join(lines, "\n") + "\n=\n" + strings.Join(words, "\n") + "\n"), nil
}

func walkTrie(node map[string]any, letters string, levels []any, lines *[]string) error {
	for letter, child := range node {
		word := letters + letter
		if pair, ok := child.([]any); ok && len(pair) == 2 { // both a pattern and the start of others
			if err := addPattern(word, pair[1], levels, lines); err != nil {
				return err
			}
			child = pair[0]
		}
		switch c := child.(type) {
		case map[string]any:
			if err := walkTrie(c, word, levels, lines); err != nil {
				return err
			}
		case int:
			if err := addPattern(word, c, levels, lines); err != nil {
				return err
			}
		default:
			return fmt.Errorf("the trie has a %T at %q", child, word)
		}
	}
	return nil
}

// addPattern writes one pattern. Levels count from the first letter; the dot
// that stands for the start of a word has none before it.
func addPattern(word string, index any, levels []any, lines *[]string) error {
	i, ok := index.(int)
	if !ok || i < 0 || i >= len(levels) {
		return fmt.Errorf("pattern %q has no levels", word)
	}
	row, _ := levels[i].([]any)
	var b strings.Builder
	k := 0
	digit := func() {
		if k < len(row) && row[k] != 0 {
			fmt.Fprintf(&b, "%d", row[k])
		}
		k++
	}
	for i, r := range word {
		if r != '.' || i > 0 {
			digit()
		}
		b.WriteRune(r)
	}
	digit()
	*lines = append(*lines, b.String())
	return nil
}

// divided puts the hyphens into an exception. The module counts each place in
// the word with its hyphens ("dec-li-na-tion" has 3, 6 and 9), though it then
// uses them without; so place i is i too far.
func divided(word string, at []any) string {
	var b strings.Builder
	from := 0
	for i, a := range at {
		to := a.(int) - i
		b.WriteString(word[from:to] + "-")
		from = to
	}
	return b.String() + word[from:]
}
