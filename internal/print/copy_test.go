package print_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"bookstead/internal/print"
)

// tool runs a program on a file. Its absence fails the test: make test installs
// what is needed.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Fatalf("%s is needed for this test (make debian installs it)", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func save(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "out.pdf")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestCopy wants the text of a page back as it was given: ligatures and small
// capitals as letters, and words that were divided whole again once the soft
// hyphens are taken out, which ISO 32000-1, 14.8.2.2.3, asks readers to do.
// (Poppler leaves them in; a plain hyphen it would take out, but so it would
// the hyphen of "lime-tree".)
func TestCopy(t *testing.T) {
	text := "The difficult affair of the unfortunate caterpillar bewildered everybody: extraordinary circumstances notwithstanding, Florence “fiddled” in the office, comfortably flourishing understanding, independence—and vocabulary. Nevertheless the headquarters’ well-known mathematician considered multiplication unimportant; perseverance, immediately afterwards, became particularly necessary."
	style := print.Standard(print.Letter())
	style.Left, style.Right = 200*print.Point, 220*print.Point
	f := lay(t, print.Document{Title: "Copying", Language: "en-US", Running: print.Running{NoNumbers: true}, Blocks: []print.Block{
		print.Paragraph{Text: print.Plain(text)},
		print.Heading{Level: 2, Text: print.Plain("Words from the Page")},
	}}, style)
	got := tool(t, "pdftotext", save(t, write(t, f, print.Student)), "-")
	if n := strings.Count(got, "\u00ad\n"); n < 2 {
		t.Fatalf("%d words are divided; the test needs some\n%s", n, got)
	}
	got = strings.ReplaceAll(got, "\u00ad\n", "")
	got = strings.Join(strings.Fields(got), " ")
	got = strings.ReplaceAll(got, "— ", "—") // a line may end behind a dash
	if want := text + " Words from the Page"; got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestFiles holds the files of the sample against outside readers.
func TestFiles(t *testing.T) {
	f := lay(t, sample(), print.Standard(print.Letter()))
	for _, e := range []print.Edition{print.Student, print.Teacher} {
		t.Run(e.String(), func(t *testing.T) {
			path := save(t, write(t, f, e))
			if out := tool(t, "qpdf", "--check", path); !strings.Contains(out, "No syntax or stream encoding errors found") {
				t.Errorf("qpdf:\n%s", out)
			}
			fonts := strings.Split(strings.TrimSpace(tool(t, "pdffonts", path)), "\n")[2:]
			if len(fonts) < 3 {
				t.Errorf("only %d fonts", len(fonts))
			}
			for _, l := range fonts {
				if !strings.Contains(l, "CID TrueType") || !strings.Contains(l, "yes yes yes") || l[6] != '+' {
					t.Errorf("a font that is not embedded as a subset with its text: %s", l)
				}
			}
			info := tool(t, "pdfinfo", path)
			for _, want := range []string{"The Ferry at Low Reach: student pages", "Tagged:          yes", "Suspects:        no", "2026", "PDF version:     1.7", "612 x 792 pts (letter)"} {
				if !strings.Contains(info, want) {
					t.Errorf("pdfinfo has no %q:\n%s", want, info)
				}
			}
			meta := tool(t, "pdfinfo", "-meta", path)
			if !strings.Contains(meta, "<pdfuaid:part>1</pdfuaid:part>") {
				t.Errorf("the metadata do not name PDF/UA:\n%s", meta)
			}
		})
	}
}

// TestStructure reads the tree back with poppler.
func TestStructure(t *testing.T) {
	f := lay(t, sample(), print.Standard(print.Letter()))
	student := tool(t, "pdfinfo", "-struct-text", save(t, write(t, f, print.Student)))
	teacher := tool(t, "pdfinfo", "-struct-text", save(t, write(t, f, print.Teacher)))
	for _, c := range []struct {
		part             string
		student, teacher int
	}{
		{"\n    H1 ", 2, 2}, {"    H2 ", 12, 12}, {"/Scope /Column", 4, 4}, {"/Scope /Row", 3, 3}, {"/ColSpan 2", 1, 1},
		{"Figure", 1, 1}, {"BlockQuote", 2, 2},
		{"mournful; full of sadness\"", 2, 3}, {"\"quiz\"", 0, 3}, {"The strokes are shorter", 0, 1},
	} {
		if n := strings.Count(student, c.part); n != c.student {
			t.Errorf("student pages: %q stands %d times, want %d", c.part, n, c.student)
		}
		if n := strings.Count(teacher, c.part); n != c.teacher {
			t.Errorf("teacher's edition: %q stands %d times, want %d", c.part, n, c.teacher)
		}
	}
	// Reading order within an item: mark, number, question, answer.
	at := strings.Index(teacher, "\"What happened, and why\"")
	if at < 0 {
		t.Fatal("the section is not there")
	}
	for _, part := range []string{"\"1.\"", "\"test\"", "\"Why does Wren lie down", "\"She wants to hear the bell", "\"2.\""} {
		i := strings.Index(teacher[at:], part)
		if i < 0 {
			t.Fatalf("%s does not follow in reading order", part)
		}
		at += i
	}
	if strings.Contains(teacher, "Short quotations for use in class") {
		t.Error("the running foot is read out as content")
	}
	if t.Failed() {
		t.Log(teacher)
	}
}

// TestSameBytes makes everything twice, side by side.
func TestSameBytes(t *testing.T) {
	e := engine(t)
	results := make(chan string, 8)
	for range 4 {
		go func() {
			f, err := e.Layout(t.Context(), sample(), print.Young(print.A4()), nil)
			if err != nil {
				results <- err.Error()
				return
			}
			results <- string(write(t, f, print.Teacher))
		}()
	}
	first := <-results
	for range 3 {
		if next := <-results; next != first {
			t.Fatal("the same document gave other bytes")
		}
	}
	if !strings.HasPrefix(first, "%PDF-1.7") {
		t.Fatal(first)
	}
}
