package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// run carries out a command line and returns what it wrote.
func run(t *testing.T, ctx context.Context, in string, args ...string) (code int, out, said string) {
	t.Helper()
	var o, e bytes.Buffer
	code = Run(ctx, World{In: strings.NewReader(in), Out: &o, Err: &e}, args)
	return code, o.String(), e.String()
}

func TestAnalyzeJSON(t *testing.T) {
	text := "Ellen ran to the mill because she had lost her cap. “Did you see my cap?” asked Ellen. She was as white as milk."
	code, out, said := run(t, context.Background(), text, "analyze", "--format", "json", "-")
	if code != 0 || said != "" {
		t.Fatalf("code %d, said %q", code, said)
	}
	var a struct {
		Layers  []string
		Cast    []any
		Scenes  []struct{ Start, End int }
		Figures []struct{ Start, End int }
		Events  []struct {
			Verb      string
			Cause     []int
			Quotation *int
		}
		Links []struct{ Kind string }
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	if len(a.Layers) != 11 {
		t.Errorf("layers %q", a.Layers)
	}
	if len(a.Events) == 0 || a.Events[0].Verb != "run" || len(a.Events[0].Cause) != 2 || text[a.Events[0].Cause[0]:a.Events[0].Cause[1]] != "she had lost her cap" {
		t.Errorf("events %+v", a.Events)
	}
	if len(a.Links) == 0 || a.Links[0].Kind != "cause" || len(a.Scenes) != 1 {
		t.Errorf("links %+v, scenes %+v", a.Links, a.Scenes)
	}
	if len(a.Figures) != 1 || text[a.Figures[0].Start:a.Figures[0].End] != "as white as milk" {
		t.Errorf("figures %+v", a.Figures)
	}
}

// What was not run is null, what found nothing is an empty list.
func TestAnalyzeFast(t *testing.T) {
	_, fast, _ := run(t, context.Background(), "Rain fell.", "analyze", "--fast", "--format", "json", "-")
	_, whole, _ := run(t, context.Background(), "Rain fell.", "analyze", "--format", "json", "-")
	for _, list := range []string{"cast", "quotations", "scenes", "events", "figures"} {
		if !strings.Contains(fast, `"`+list+`": null`) || strings.Contains(fast, `"`+list+`",`) {
			t.Errorf("fast: %s is not told to be left out:\n%s", list, fast)
		}
		if strings.Contains(whole, `"`+list+`": null`) {
			t.Errorf("%s was run and is null", list)
		}
	}
	code, out, _ := run(t, context.Background(), "The dogs ran.", "analyze", "--fast", "-")
	if code != 0 || !strings.Contains(out, "2\tdogs\tdog\tNOUN\tNNS\tNumber=Plur\t_\t_") {
		t.Errorf("code %d\n%s", code, out)
	}
}

func TestAnalyzeTells(t *testing.T) {
	french := strings.Repeat("Il était une fois une petite fille qui aimait beaucoup les pommes de son jardin. ", 3)
	for _, c := range []struct{ in, said string }{
		{french, "does not look like English"},
		{"She ran \xff\xfe home.", "2 bytes are no readable text"},
		{"She ran\x00 home.", "Control characters (1)"},
	} {
		code, out, said := run(t, context.Background(), c.in, "analyze", "--format", "json", "-")
		if code != 0 || !strings.Contains(said, c.said) || !strings.Contains(out, c.said) {
			t.Errorf("%.20q: code %d, said %q; in the JSON: %v", c.in, code, said, strings.Contains(out, c.said))
		}
	}
}

// A folder is read book by book; what is there already is left, and a run that
// is stopped leaves nothing half-written.
func TestAnalyzeFolder(t *testing.T) {
	books, out := t.TempDir(), filepath.Join(t.TempDir(), "results")
	story := strings.Repeat("Chapter 1\n\nEllen ran to the mill. The dog barked at Ellen all day, and she laughed.\n\n", 20)
	for _, n := range []string{"a.txt", "b.txt", "notes.md"} {
		if err := os.WriteFile(filepath.Join(books, n), []byte(story), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	args := []string{"analyze", books, "--fast", "--out", out}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	if code, _, said := run(t, stopped, "", args...); code != exitCanceled || !strings.Contains(said, "0 of 2") {
		t.Errorf("stopped: code %d, %q", code, said)
	}
	if left, _ := filepath.Glob(filepath.Join(out, "*")); len(left) != 0 {
		t.Errorf("a stopped run left %q", left)
	}
	if code, _, said := run(t, context.Background(), "", args...); code != 0 || !strings.Contains(said, "books read: 2; read before: 0") {
		t.Errorf("code %d, %q", code, said)
	}
	first, err := os.ReadFile(filepath.Join(out, "a.txt.conllu"))
	if err != nil || !bytes.Contains(first, []byte("\tEllen\tEllen\tPROPN\t")) {
		t.Fatalf("%v: %.200s", err, first)
	}
	if err := os.Remove(filepath.Join(out, "b.txt.conllu")); err != nil {
		t.Fatal(err)
	}
	if code, _, said := run(t, context.Background(), "", args...); code != 0 || !strings.Contains(said, "books read: 1; read before: 1") {
		t.Errorf("again: code %d, %q", code, said)
	}
	if code, _, said := run(t, context.Background(), "", "analyze", books); code != exitFault || !strings.Contains(said, "--out") {
		t.Errorf("without --out: code %d, %q", code, said)
	}
}
