package print_test

import (
	"fmt"
	"regexp"
	"sort"
	"strings"
	"testing"

	"bookstead/internal/print"
)

var word = regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*)</word>`)

// words are all words of a file with their places, by page, as poppler finds them.
func words(t *testing.T, path string) [][]string {
	t.Helper()
	var pages [][]string
	for _, l := range strings.Split(tool(t, "pdftotext", "-bbox", path, "-"), "\n") {
		if strings.Contains(l, "<page ") {
			pages = append(pages, nil)
		} else if m := word.FindStringSubmatch(l); m != nil {
			pages[len(pages)-1] = append(pages[len(pages)-1], fmt.Sprintf("%s %s %s", m[5], m[1], m[2]))
		}
	}
	return pages
}

// TestEditions holds the two editions against each other from outside: the same
// pages, and each word of the student pages at its place in the teacher's edition.
func TestEditions(t *testing.T) {
	for name, style := range map[string]print.Style{
		"standard": print.Standard(print.A4()), "young": print.Young(print.Letter()), "large": print.LargePrint(print.Letter()),
	} {
		t.Run(name, func(t *testing.T) {
			f := lay(t, sample(), style)
			student := words(t, save(t, write(t, f, print.Student)))
			teacher := words(t, save(t, write(t, f, print.Teacher)))
			if len(student) != len(teacher) || len(student) != len(f.Pages) {
				t.Fatalf("%d student pages, %d of the teacher's, %d laid out", len(student), len(teacher), len(f.Pages))
			}
			more := 0
			for p := range student {
				at := map[string]bool{}
				for _, w := range teacher[p] {
					at[w] = true
				}
				for _, w := range student[p] {
					if !at[w] && !strings.HasPrefix(w, "Name ") {
						t.Errorf("page %d: %s is not there in the teacher's edition", p+1, w)
					}
				}
				more += len(teacher[p]) - len(student[p])
				if got, want := rules(f, p, print.Student), rules(f, p, print.Teacher); got != want {
					t.Errorf("page %d: lines of the student pages\n%s\nof the teacher's\n%s", p+1, got, want)
				}
			}
			if more < 100 {
				t.Errorf("the teacher's edition has only %d words more", more)
			}
		})
	}
}

// rules are the places of the lines to write on, as each edition draws them.
func rules(f *print.Frames, page int, e print.Edition) string {
	var out []string
	for _, it := range f.Pages[page].Items {
		if it.Role.In(e) && it.Role == print.Content && len(it.Glyphs) == 0 && it.Shape != print.Ring {
			out = append(out, fmt.Sprint(it.X, it.Y, it.W, it.H))
		}
	}
	sort.Strings(out)
	return strings.Join(out, "\n")
}

// TestNothingForTheTeacherAlone looks for answers in the bytes of a student
// file: they must be left out, not hidden.
func TestNothingForTheTeacherAlone(t *testing.T) {
	f := lay(t, sample(), print.Standard(print.Letter()))
	path := save(t, write(t, f, print.Student))
	got := tool(t, "pdftotext", path, "-")
	for _, secret := range []string{"She wants to hear", "quiz", "Teacher’s edition", "halfpenny, from", "swept away"} {
		if strings.Contains(got, secret) {
			t.Errorf("%q stands on a student page", secret)
		}
	}
	if raw := tool(t, "qpdf", "--qdf", "--object-streams=disable", path, "-"); strings.Contains(raw, "608 0.176") {
		t.Error("red ink on a student page")
	}
}
