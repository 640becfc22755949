package demo

import (
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

var heading = regexp.MustCompile(`(?m)^CHAPTER [A-Z]+\n`)

// chapters are the texts after each heading, title included.
func chapters(s string) []string { return heading.Split(s, -1)[1:] }

func TestNovelLength(t *testing.T) {
	chs := chapters(string(Novel()))
	if len(chs) != 9 {
		t.Fatalf("%d chapters, want 9", len(chs))
	}
	numbers := strings.Fields("ONE TWO THREE FOUR FIVE SIX SEVEN EIGHT NINE")
	for i, h := range heading.FindAllString(string(Novel()), -1) {
		if want := "CHAPTER " + numbers[i] + "\n"; h != want {
			t.Errorf("heading %d is %q, want %q", i+1, h, want)
		}
	}
	for i, c := range chs {
		title, rest, _ := strings.Cut(c, "\n")
		if title == "" || strings.HasSuffix(title, ".") || !strings.HasPrefix(rest, "\n") {
			t.Errorf("chapter %d has no title on a line of its own: %q", i+1, title)
		}
		if n := len(strings.Fields(c)); n < 700 || n > 1100 {
			t.Errorf("chapter %d has %d words, want 700 to 1100", i+1, n)
		}
	}
}

func TestReaderLength(t *testing.T) {
	s := string(Reader())
	if n := len(strings.Fields(s)); n < 1100 || n > 1350 {
		t.Errorf("%d words, want about 1200", n)
	}
	if n := strings.Count(s, "\n* * *\n") + 1; n < 6 || n > 8 {
		t.Errorf("%d scenes, want 6 to 8", n)
	}
	if heading.MatchString(s) {
		t.Error("the early reader has chapters")
	}
}

func TestTypesetting(t *testing.T) {
	for _, f := range []struct{ name, title, text string }{
		{NovelFile, NovelTitle, string(Novel())},
		{ReaderFile, ReaderTitle, string(Reader())},
	} {
		t.Run(f.name, func(t *testing.T) {
			if want := strings.ToUpper(f.title) + "\n\nby " + Author + "\n"; !strings.HasPrefix(f.text, want) {
				t.Errorf("does not open with %q", want)
			}
			for _, bad := range []string{`"`, "'", "--", "\t", "\r", "\u00a0", "…", " \n", "\ufffd"} {
				if strings.Contains(f.text, bad) {
					t.Errorf("contains %q", bad)
				}
			}
			for i, l := range strings.Split(f.text, "\n") {
				if n := utf8.RuneCountInString(l); n > 76 {
					t.Errorf("line %d has %d columns", i+1, n)
				}
			}
			for _, p := range strings.Split(f.text, "\n\n") {
				if open, shut := strings.Count(p, "“"), strings.Count(p, "”"); open != shut {
					t.Errorf("%d quotation marks open and %d close in %q", open, shut, p)
				}
				if strings.Count(p, "_")%2 != 0 {
					t.Errorf("italics do not close in %q", p)
				}
			}
		})
	}
}

// The novel is there to exercise an importer, so it keeps what one must know.
func TestNovelHasItsKinds(t *testing.T) {
	s := string(Novel())
	for what, re := range map[string]string{
		"a letter's signature": `(?m)^    Hepzibah Thorne\n    Warden of Measures$`,
		"a salutation":         `(?m)^    Good people,$`,
		"verse":                `(?m)(^    Aggie.*\n)(^    Maggie.*\n)(^    Up goes.*$)`,
		"italics":              `_Patient Goat_`,
		"a dash":               `\S—\S`,
	} {
		if !regexp.MustCompile(re).MatchString(s) {
			t.Errorf("no %s", what)
		}
	}
	if n := strings.Count(s, "\n* * *\n"); n != 1 {
		t.Errorf("%d scene breaks, want 1", n)
	}
}

func TestTextsCannotBeSpoiled(t *testing.T) {
	Novel()[0] = 'x'
	if Novel()[0] != 'S' {
		t.Error("a caller can change the novel")
	}
}

func TestClasses(t *testing.T) {
	name := regexp.MustCompile(`^\p{Lu}\p{Ll}+ \p{Lu}\.$`)
	for _, c := range []struct {
		Class
		size int
	}{{Grade4(), 8}, {Grade1(), 5}} {
		if len(c.Students) != c.size || c.Minutes != 60 || c.Copies == 0 || c.Teacher == "" {
			t.Errorf("%s: %d students, %d minutes, %d copies", c.Name, len(c.Students), c.Minutes, c.Copies)
		}
		seen := map[string]bool{}
		for _, s := range c.Students {
			if !name.MatchString(s.Name) || seen[s.Name] || s.WCPM < 0 {
				t.Errorf("%s: student %+v", c.Name, s)
			}
			seen[s.Name] = true
		}
	}
}

func TestSchoolYear(t *testing.T) {
	day := func(s string) time.Time {
		d, err := time.Parse(time.DateOnly, s)
		if err != nil {
			t.Fatal(err)
		}
		if wd := d.Weekday(); wd == time.Saturday || wd == time.Sunday {
			t.Errorf("%s is a %s", s, wd)
		}
		return d
	}
	y := SchoolYear()
	first, last := day(y.First), day(y.Last)
	if first.Weekday() != time.Monday || y.Terms[0].First != y.First || y.Terms[len(y.Terms)-1].Last != y.Last {
		t.Error("the terms do not span the year from a Monday")
	}
	for _, list := range [][]Span{y.Terms, y.DaysOff} {
		end := first.AddDate(0, 0, -1)
		for _, s := range list {
			a, b := day(s.First), day(s.Last)
			if b.Before(a) || !a.After(end) || b.After(last) {
				t.Errorf("%+v is out of order", s)
			}
			end = b
		}
	}
	// Where the law puts them: 5 U.S.C. 6103(a).
	for name, want := range map[string]string{
		"Labor Day": nth(2026, time.September, time.Monday, 1), "Martin Luther King Jr. Day": nth(2027, time.January, time.Monday, 3),
		"Presidents’ Day": nth(2027, time.February, time.Monday, 3), "Indigenous Peoples’ Day": nth(2026, time.October, time.Monday, 2),
		"Memorial Day": nth(2027, time.May, time.Monday, 5), "Veterans Day": "2026-11-11",
	} {
		found := false
		for _, s := range y.DaysOff {
			found = found || s.Name == name && s.First == want
		}
		if !found {
			t.Errorf("%s is not on %s", name, want)
		}
	}
	for _, h := range y.HalfDays {
		if d := day(h.Date); d.Before(first) || d.After(last) || h.Minutes <= 0 || h.Minutes >= 60 {
			t.Errorf("half day %+v", h)
		}
	}
}

func nth(year int, m time.Month, wd time.Weekday, n int) string {
	d := time.Date(year, m, 1, 0, 0, 0, 0, time.UTC)
	d = d.AddDate(0, 0, (int(wd-d.Weekday())+7)%7+7*(n-1))
	return d.Format(time.DateOnly)
}
