package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"bookstead/internal/demo"
	"bookstead/internal/prepare"
	"bookstead/internal/store/sqlite"
)

var january = time.Date(2027, time.January, 2, 9, 0, 0, 0, time.UTC)

// terminal runs the program on a data folder of its own.
type terminal struct {
	t    *testing.T
	dir  string
	Out  bytes.Buffer
	Err  bytes.Buffer
	Code int
}

func newTerminal(t *testing.T) *terminal {
	t.Helper()
	x := &terminal{t: t, dir: t.TempDir()}
	for name, text := range map[string][]byte{demo.NovelFile: demo.Novel(), demo.ReaderFile: demo.Reader()} {
		if err := os.WriteFile(filepath.Join(x.dir, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return x
}

func (x *terminal) path(name string) string { return filepath.Join(x.dir, name) }

func (x *terminal) run(ctx context.Context, in string, args ...string) {
	x.t.Helper()
	x.Out.Reset()
	x.Err.Reset()
	x.Code = Run(ctx, World{In: strings.NewReader(in), Out: &x.Out, Err: &x.Err, Now: func() time.Time { return january }, Version: "test",
		Open: func(ctx context.Context, _ string) (*prepare.Workshop, error) {
			st, err := sqlite.Open(ctx, x.path("data"), january)
			if err != nil {
				return nil, err
			}
			return prepare.New(st, func() time.Time { return january }), nil
		}}, args)
}

func TestKitWritesEverything(t *testing.T) {
	x := newTerminal(t)
	x.run(context.Background(), "", "kit", x.path(demo.NovelFile), "--grade", "4", "--start", "2027-01-04", "--out", x.path("kit"), "--json")
	if x.Code != 0 {
		t.Fatalf("exit code %d: %s", x.Code, x.Err.String())
	}
	var rep struct {
		Book struct {
			Title    string
			Chapters []struct {
				Title string
				Kind  string
				Words int
			}
		}
		Lessons []struct {
			FirstChapter, LastChapter int
			Words                     int
			Minutes                   float64
			Items                     map[string]int
		}
		Files []struct {
			Path  string
			Pages int
		}
		Plan    struct{ First, Last string }
		Seconds map[string]float64
	}
	if err := json.Unmarshal(x.Out.Bytes(), &rep); err != nil {
		t.Fatalf("standard output is not one JSON object: %v", err)
	}
	chapters := 0
	for _, c := range rep.Book.Chapters {
		if c.Kind == "chapter" {
			chapters++
		}
	}
	if rep.Book.Title != demo.NovelTitle || chapters != 9 {
		t.Errorf("%q with %d chapters", rep.Book.Title, chapters)
	}
	if rep.Plan.First != "2027-01-04" || rep.Plan.Last <= rep.Plan.First {
		t.Errorf("the plan goes from %s to %s", rep.Plan.First, rep.Plan.Last)
	}
	pages := map[string]int{}
	for _, f := range rep.Files {
		if st, err := os.Stat(f.Path); err != nil || st.Size() == 0 {
			t.Errorf("%s was not written: %v", f.Path, err)
		}
		pages[filepath.Base(f.Path)] = f.Pages
	}
	for _, want := range []string{"student-pages.pdf", "teachers-edition.pdf", "quizzes.pdf", "quizzes-key.pdf", "test.pdf", "test-key.pdf", "weekly-sheets.pdf", "checklist.pdf", "plan.ics"} {
		if _, ok := pages[want]; !ok {
			t.Errorf("there is no %s", want)
		}
	}
	if pages["student-pages.pdf"] != pages["teachers-edition.pdf"] {
		t.Errorf("%d student pages, %d pages of the teacher's edition", pages["student-pages.pdf"], pages["teachers-edition.pdf"])
	}
	words := 0
	for _, l := range rep.Lessons {
		words += l.Words
		if l.Items["vocabulary"] == 0 || l.Items["vocabulary"] > 6 || l.Items["question"] == 0 {
			t.Errorf("the lesson from chapter %d holds %v", l.FirstChapter, l.Items)
		}
	}
	told := 0
	for _, c := range rep.Book.Chapters {
		if c.Kind == "chapter" {
			told += c.Words
		}
	}
	if words != told {
		t.Errorf("the lessons have %d words, the chapters %d", words, told)
	}
}

func TestKitIsTheSameTwice(t *testing.T) {
	x := newTerminal(t)
	for _, out := range []string{"one", "two"} {
		x.run(context.Background(), "", "kit", x.path(demo.ReaderFile), "--grade", "1", "--start", "2027-01-04", "--out", x.path(out), "--quiet")
		if x.Code != 0 {
			t.Fatal(x.Err.String())
		}
	}
	files, err := os.ReadDir(x.path("one"))
	if err != nil || len(files) < 5 {
		t.Fatalf("%d files: %v", len(files), err)
	}
	for _, f := range files {
		a, err1 := os.ReadFile(filepath.Join(x.path("one"), f.Name()))
		b, err2 := os.ReadFile(filepath.Join(x.path("two"), f.Name()))
		if err1 != nil || err2 != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs between two runs (%v, %v)", f.Name(), err1, err2)
		}
	}
}

func TestSaysWhatIsWrong(t *testing.T) {
	x := newTerminal(t)
	novel := x.path(demo.NovelFile)
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"kit", novel, "--start", "2027-13-04"}, 1, `"2027-13-04" is not a date`},
		{[]string{"kit", novel, "--grade", "9"}, 1, "not grade 9"},
		{[]string{"kit", novel, "--minutes", "5"}, 1, "5 minutes cannot hold a lesson"},
		{[]string{"kit", x.path("missing.epub")}, 1, "There is no file"},
		{[]string{"kit", x.dir}, 1, "is a folder"},
		{[]string{"kit", novel, "--out", novel}, 1, "cannot be made"},
		{[]string{"kit"}, 2, `expected "<book>"`},
		{[]string{"fly"}, 2, "unexpected argument fly"},
		{[]string{"export", "Nothing"}, 1, `no kit called "Nothing"`},
	} {
		x.run(context.Background(), "", c.args...)
		if got := x.Err.String(); x.Code != c.code || !strings.Contains(got, c.want) || strings.Contains(got, "goroutine") {
			t.Errorf("%q: exit code %d, %s", c.args, x.Code, got)
		}
		if x.Out.Len() > 0 {
			t.Errorf("%q: a fault is written to standard output: %s", c.args, x.Out.String())
		}
	}
}

func TestStoppedLeavesNothing(t *testing.T) {
	x := newTerminal(t)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	x.run(ctx, "", "kit", x.path(demo.NovelFile), "--out", x.path("kit"))
	if x.Code != 130 {
		t.Errorf("exit code %d: %s", x.Code, x.Err.String())
	}
	if files, _ := os.ReadDir(x.path("kit")); len(files) > 0 { //nolint:errcheck // no folder is as good
		t.Errorf("%d files were left", len(files))
	}
}

func TestNothingHalfWritten(t *testing.T) {
	dir := t.TempDir()
	files := []prepare.File{{Name: "a.pdf", Data: []byte("a")}}
	if err := os.WriteFile(filepath.Join(dir, "a.pdf"), []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := writeFiles(dir, append(files, prepare.File{Name: strings.Repeat("x", 300)})); err == nil {
		t.Error("a file with an impossible name was written")
	}
	left, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	names := make([]string, len(left))
	for i, f := range left {
		names[i] = f.Name()
	}
	if !slices.Equal(names, []string{"a.pdf"}) {
		t.Errorf("left in the folder: %q", names)
	}
}

func TestImportAndAnalyze(t *testing.T) {
	x := newTerminal(t)
	x.run(context.Background(), "", "import", x.path(demo.NovelFile))
	if x.Code != 0 || !strings.Contains(x.Out.String(), demo.NovelTitle+" is in your library") {
		t.Fatalf("exit code %d: %s%s", x.Code, x.Out.String(), x.Err.String())
	}
	const said = "“Oh!” said she.  The hen sat.\n"
	x.run(context.Background(), said, "analyze", "--format", "text")
	if x.Code != 0 || strings.TrimSpace(x.Out.String()) == "" {
		t.Fatalf("exit code %d: %s", x.Code, x.Err.String())
	}
	text := x.Out.String()
	x.run(context.Background(), said, "analyze", "--format", "conllu")
	forms := 0
	for _, line := range strings.Split(x.Out.String(), "\n") {
		f := strings.Split(line, "\t")
		if len(f) != 10 {
			continue
		}
		forms++
		if !strings.Contains(text, f[1]) {
			t.Errorf("the token %q is not in the text %q", f[1], text)
		}
	}
	if forms != 11 { // “ Oh ! ” said she . The hen sat .
		t.Errorf("%d tokens", forms)
	}
}
