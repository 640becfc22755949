package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const (
	modules = "../../node_modules"
	data    = "../../data"
)

// The same packages give the same bytes, which are those that the program is
// built with.
func TestSameBytes(t *testing.T) {
	out := filepath.Join(t.TempDir(), "pack.bin")
	if err := run(modules, data, out, false); err != nil {
		t.Fatal(err)
	}
	fresh, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	embedded, err := os.ReadFile("../../internal/lexicon/packed/pack.bin")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(fresh, embedded) {
		t.Errorf("packing again gives %d other bytes than the %d of the embedded pack (make generate renews it)", len(fresh), len(embedded))
	}
	// A file that is already right keeps its date.
	before, _ := os.Stat(out)
	if err := run(modules, data, out, false); err != nil {
		t.Fatal(err)
	}
	if after, _ := os.Stat(out); !after.ModTime().Equal(before.ModTime()) {
		t.Error("an unchanged pack was written again")
	}
}

// A file that is not the one in sources.json stops the packing.
func TestChecksums(t *testing.T) {
	dir := t.TempDir()
	pkg := filepath.Join(dir, "node_modules", "thing")
	if err := os.MkdirAll(pkg, 0o777); err != nil {
		t.Fatal(err)
	}
	write := func(path, text string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	list := func(sum, licence string) {
		raw, _ := json.Marshal(map[string]any{"sources": []source{{Package: "thing", Version: "1", Licence: licence, Seen: "license", Files: map[string]string{"a.txt": sum}}}})
		write(filepath.Join(dir, "sources.json"), string(raw))
	}
	write(filepath.Join(pkg, "a.txt"), "abc")
	const sum = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" // SHA-256 of "abc", FIPS 180-4
	list(sum, "MIT")
	s, err := openSources(filepath.Join(dir, "node_modules"), dir)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := s.file("thing", "a.txt"); err != nil || got != "abc" {
		t.Errorf("file = %q, %v", got, err)
	}
	if err := s.unread(); err != nil {
		t.Error(err)
	}
	for _, c := range []struct{ pkg, path string }{{"thing", "b.txt"}, {"other", "a.txt"}} {
		if _, err := s.file(c.pkg, c.path); err == nil {
			t.Errorf("%s of %q was read", c.path, c.pkg)
		}
	}
	write(filepath.Join(pkg, "a.txt"), "abd")
	if _, err := s.file("thing", "a.txt"); err == nil || !strings.Contains(err.Error(), "checksum") {
		t.Errorf("a changed file gives %v", err)
	}
	list(sum, "")
	if _, err := openSources(dir, dir); err == nil {
		t.Error("a package without a licence was taken")
	}
	list(sum, "MIT")
	s, _ = openSources(filepath.Join(dir, "node_modules"), dir)
	if err := s.unread(); err == nil {
		t.Error("a file that nobody reads was taken")
	}
}

// The sources are the packages of package.json in the same versions.
func TestSourcesAreInstalled(t *testing.T) {
	s, err := openSources(modules, data)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile("../../package.json")
	if err != nil {
		t.Fatal(err)
	}
	var npm struct{ Dependencies map[string]string }
	if err := json.Unmarshal(raw, &npm); err != nil {
		t.Fatal(err)
	}
	if len(s.packages) < 8 {
		t.Errorf("there are %d sources", len(s.packages))
	}
	notice, err := os.ReadFile("../../NOTICE")
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range s.packages {
		if npm.Dependencies[name] != p.Version {
			t.Errorf("%s is %q in package.json and %q in sources.json", name, npm.Dependencies[name], p.Version)
		}
		if !strings.Contains(string(notice), name) {
			t.Errorf("NOTICE does not name %s", name)
		}
	}
}

func TestMarks(t *testing.T) {
	g := &guard{}
	for _, c := range []struct {
		definition string
		code       byte
	}{
		{"offensive term for a homosexual man", 1},
		{"(ethnic slur) offensive term for a person of Italian descent", 1},
		{"the action of attacking an enemy; an offensive against the town", 0},
		{"lacking refinement or cultivation or taste; vulgar", 0},
		{"sexual activity between individuals", 2},
		{"having no sexual organs or reproducing without them", 2},
		{"plants that reproduce by sexual reproduction", 0},
		{"Homosexual or arousing homosexual desires", 2},
		{"the fleshy part of the human body that you sit on", 3},
		{"a seminar", 0},
		{"the thick white fluid (semen)", 3},
		{"eliminate urine", 4},
		{"street names for cocaine", 5},
		{"a street name and number", 0},
		{"filled with or evoking sadness", 0},
		{"semenlike", 0},
		{`a plain thing; "obscene terms are only in the example"`, 0},
	} {
		if got := g.meaning(&synset{gloss: c.definition}, nil); got != c.code {
			t.Errorf("meaning(%q) = %d, want %d", c.definition, got, c.code)
		}
	}
}

func TestGuardedExamples(t *testing.T) {
	g := &guard{words: map[string]offence{"vile": {level: 3}, "old": {level: 2, reason: "an old word"}, "drat": {level: 2, reason: "a swear word"}}}
	for gloss, want := range map[string]string{
		`a thing; "a vile thing"; "a fine thing"`:       `a thing; "a fine thing"`,
		`a thing; "viles are many"; "old ones"; "drat"`: `a thing; "old ones"`,
		`a thing`: `a thing`,
	} {
		if got := g.examples(gloss); got != want {
			t.Errorf("examples(%q) = %q, want %q", gloss, got, want)
		}
	}
}

func TestLiterals(t *testing.T) {
	got, err := literals("/** don't */\nexport const a = [\n  'b',\n  \"o'clock\",\n]\n")
	if err != nil || strings.Join(got, "|") != "b|o'clock" {
		t.Errorf("%q, %v", got, err)
	}
	for _, bad := range []string{"nothing", `x = ['a\'b']`} {
		if _, err := literals(bad); err == nil {
			t.Errorf("literals(%q) gave no error", bad)
		}
	}
}

func TestParseSynset(t *testing.T) {
	line := "01365303 00 s 02 doleful 0 mournful(p) a 003 & 01364993 a 0000 + 04994610 n 0201 + 07548154 n 0101 | filled with or evoking sadness; \"x\"  \n"
	s, rest, err := parseSynset(line, 2)
	if err != nil || len(s.words) != 2 || s.words[1].form != "mournful" || s.words[1].lexid != 10 || !s.satellite || rest[0] != "003" || s.gloss != `filled with or evoking sadness; "x"` {
		t.Errorf("%+v, %v, %v", s, rest, err)
	}
	for _, bad := range []string{"", "x | y", "01365303 00 s zz doleful 0 000 | x", "01365303 00 s 09 doleful 0 | x"} {
		if _, _, err := parseSynset(bad, 2); err == nil {
			t.Errorf("parseSynset(%q) gave no error", bad)
		}
	}
}
