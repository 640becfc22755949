// Package arrows holds no code: its test keeps the imports of the house going
// downward only, and every package described by exactly one comment.
package arrows

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const module = "bookstead/"

// floors are the levels of the house from the ground up. A package may import
// packages of lower floors and, on its own floor, those that stand to its left.
// A child (book/epub) may always import its parent (book). The reason beside a
// floor is what breaks when an arrow runs upward.
var floors = []struct {
	packages string
	reason   string
}{
	{"internal/fault internal/book internal/calendar internal/class internal/kit internal/plan internal/record",
		"the domain is plain data and its rules: it knows no database, web or PDF"},
	{"internal/lang internal/lexicon/pack internal/lexicon internal/book/epub internal/book/txt internal/book/paper internal/calendar/holidays",
		"what reads files and holds word data must not know what is made of them"},
	{"internal/lang/* internal/lang/english internal/readability internal/passage internal/phonics/g2p internal/phonics internal/phonics/* internal/difficulty internal/sense internal/pace internal/divide internal/book/importer",
		"annotators and measures are used by engines and never use them"},
	{"internal/vocabulary internal/question internal/answer/forest internal/answer internal/answer/sra internal/assess internal/lead internal/preference internal/oral internal/planner internal/timetable internal/planfile internal/materials internal/shelf internal/digest internal/store internal/print",
		"engines propose and contracts promise; neither knows how things are stored or drawn"},
	{"internal/store/* internal/print/hyphen internal/print/fonts internal/print/layout internal/print/pdf internal/print/sheet internal/export/*",
		"one way to store or to draw must be replaceable by another"},
	{"internal/demo internal/prepare", "the use cases are the same for every door"},
	{"internal/cli internal/web internal/bench", "doors call prepare and not each other"},
	{"cmd/*", "only a program wires"},
}

// doors may not reach below prepare for work; these are the plain data and
// contracts that they may show and pass on.
var doorsMay = map[string]bool{
	"internal/prepare": true, "internal/demo": true, "internal/fault": true, "internal/book": true, "internal/calendar": true,
	"internal/class": true, "internal/kit": true, "internal/plan": true, "internal/record": true, "internal/lang": true,
}

func place(pkg string) (floor, column int) {
	for f, fl := range floors {
		best := -1
		for c, pat := range strings.Fields(fl.packages) {
			if pat == pkg {
				return f, c
			}
			if strings.HasSuffix(pat, "/*") && strings.HasPrefix(pkg, strings.TrimSuffix(pat, "*")) {
				best = c
			}
		}
		if best >= 0 && !named(pkg) {
			return f, best
		}
	}
	return -1, -1
}

func named(pkg string) bool {
	for _, fl := range floors {
		for _, pat := range strings.Fields(fl.packages) {
			if pat == pkg {
				return true
			}
		}
	}
	return false
}

// allowed says why an import is not allowed, "" when it is.
func allowed(from, to string) string {
	if strings.HasPrefix(from, to+"/") {
		return ""
	}
	ff, fc := place(from)
	tf, tc := place(to)
	switch {
	case ff < 0:
		return "no floor is named for " + from
	case tf < 0:
		return "no floor is named for " + to
	case tf > ff:
		return "upward: " + floors[tf].reason
	case tf == ff && tc >= fc && !strings.HasPrefix(from, "cmd/"):
		return "to the right on its own floor: " + floors[ff].reason
	case (strings.HasPrefix(from, "internal/cli") || strings.HasPrefix(from, "internal/web")) && !doorsMay[to] && !strings.HasPrefix(to, from):
		return "a door that needs an engine lacks a use case in prepare"
	}
	return ""
}

func TestAllowed(t *testing.T) {
	for _, c := range []struct {
		from, to string
		ok       bool
	}{
		{"internal/book/epub", "internal/book", true},
		{"internal/book", "internal/kit", false},
		{"internal/kit", "internal/book", true},
		{"internal/store/sqlite", "internal/prepare", false},
		{"internal/web", "internal/store", false},
		{"internal/web", "internal/prepare", true},
		{"internal/lang/tagger", "internal/lang/english", false},
		{"internal/unheard", "internal/book", false},
	} {
		if why := allowed(c.from, c.to); (why == "") != c.ok {
			t.Errorf("allowed(%s, %s) = %q, want ok %v", c.from, c.to, why, c.ok)
		}
	}
}

func TestHouse(t *testing.T) {
	root := "../.."
	comments := map[string][]string{}
	seen := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if n := d.Name(); n == "node_modules" || n == ".git" || n == "testdata" {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		rel, _ := filepath.Rel(root, filepath.Dir(path))
		pkg := filepath.ToSlash(rel)
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly|parser.ParseComments)
		if err != nil {
			return err
		}
		isTest := strings.HasSuffix(path, "_test.go")
		if !isTest {
			if _, ok := comments[pkg]; !ok {
				comments[pkg] = nil
			}
			if f.Doc != nil {
				comments[pkg] = append(comments[pkg], filepath.Base(path))
			}
		}
		for _, im := range f.Imports {
			to, _ := strconv.Unquote(im.Path.Value)
			if !strings.HasPrefix(to, module) || isTest {
				continue
			}
			seen++
			if why := allowed(pkg, strings.TrimPrefix(to, module)); why != "" {
				t.Errorf("%s imports %s: %s", path, to, why)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 20 {
		t.Fatalf("only %d imports of ours were seen; is the walk broken?", seen)
	}
	for pkg, files := range comments {
		if len(files) != 1 {
			t.Errorf("package %s has %d package comments (%v), want one", pkg, len(files), files)
		}
	}
}
