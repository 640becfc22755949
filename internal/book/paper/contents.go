package paper

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"bookstead/internal/book"
)

// Entry is a line of a contents list.
type Entry struct {
	Part   bool   `json:"part,omitempty"`   // the line names a group of chapters
	Label  string `json:"label,omitempty"`  // "Chapter 3", "" when it has no number
	Number int    `json:"number,omitempty"` // 0 when it has none
	Title  string `json:"title,omitempty"`
	Page   int    `json:"page,omitempty"` // 0 when not known
}

// LineProblem is a line that could not be read as it was meant, in the
// teacher's words.
type LineProblem struct {
	Line    int // counted from 1
	Message string
	Hint    string
}

var (
	// sure page numbers stand behind dots, a tab, a wide space, a dash, "p." or
	// in brackets; a number behind one space may belong to the title.
	surePage  = regexp.MustCompile(`(?i)(?:(?:\s*\.\s?){2,}|\s*…+\s*|\t+|\s{2,}|[\s,;:–—-]+(?:on )?(?:pp?\.|pages?|pg\.?)\s*|\s*[\[(]\s*(?:pp?\.?|pages?)?\s*|\s[–—-]+\s+)(\d{1,4}|[ivxl]+)\s*[\])]?\.?\s*$`)
	romanPage = regexp.MustCompile(`\s[ivxl]+$`)
	maybePage = regexp.MustCompile(`[\s,]+(\d{1,4})\s*$`)
)

// ParseContents reads a contents list, one chapter a line, as typed or pasted:
// "1  The Pond ... 7", "Chapter 3: The Hill, p. 27", "Prologue 1", "PART TWO".
// Lines without a page are fine. Problems name lines whose pages go backwards or
// whose numbers jump; the entries are returned all the same.
func ParseContents(text string) ([]Entry, []LineProblem) {
	type row struct {
		line  int
		text  string
		page  int
		maybe int // a number that may be the page
	}
	var rows []row
	for i, l := range strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n") {
		l = strings.Trim(l, " \u00a0\t•*")
		switch book.Letters(l) {
		case "", "contents", "table of contents", "page", "chapter page", "chapters":
			continue
		}
		r := row{line: i + 1, text: l}
		if m := surePage.FindStringSubmatchIndex(l); m != nil && m[0] > 0 {
			r.page, _ = strconv.Atoi(l[m[2]:m[3]]) // 0 for the Roman pages of a preface
			r.text = strings.TrimSpace(l[:m[0]])
		} else if m := maybePage.FindStringSubmatchIndex(l); m != nil && m[0] > 0 {
			r.maybe, _ = strconv.Atoi(l[m[2]:m[3]])
		}
		rows = append(rows, r)
	}
	paged, chapters := 0, 0
	for _, r := range rows {
		if r.page > 0 || r.maybe > 0 {
			paged++
		}
		if !readEntry(r.text).Part {
			chapters++
		}
	}
	most := paged*5 >= chapters*3
	var out []Entry
	var problems []LineProblem
	last, lastNumber := 0, 0
	for i, r := range rows {
		// "Catch 22" alone among titles has no page; with pages on most lines, and
		// rising, it has.
		if r.maybe >= max(last, 1) && most {
			fits := true
			for _, later := range rows[i+1:] {
				if p := max(later.page, later.maybe); p > 0 {
					fits = p >= r.maybe
					break
				}
			}
			if m := maybePage.FindStringIndex(r.text); fits && m != nil {
				if _, onlyNumber := book.ParseLabel(r.text); !onlyNumber || book.Letters(r.text[:m[0]]) != "chapter" {
					r.page, r.text = r.maybe, strings.TrimSpace(r.text[:m[0]])
				}
			}
		}
		if m := romanPage.FindStringIndex(r.text); m != nil && most {
			if _, named := book.KindOfTitle(r.text[:m[0]]); named {
				r.text = r.text[:m[0]] // a preface's own numbering
			}
		}
		e := readEntry(r.text)
		e.Page = r.page
		if e.Page > 0 && e.Page < last {
			problems = append(problems, LineProblem{r.line, fmt.Sprintf("Line %d says page %d, but the chapter before begins on page %d.", r.line, e.Page, last), "Check both against the copy: pages only go up."})
		}
		if !e.Part && e.Number > 0 {
			if lastNumber > 0 && e.Number > lastNumber+1 {
				problems = append(problems, LineProblem{r.line, fmt.Sprintf("Line %d is chapter %d, but the one before is chapter %d.", r.line, e.Number, lastNumber), "Add the chapters between, or leave it if the book is numbered so."})
			}
			lastNumber = e.Number
		}
		last = max(last, e.Page)
		out = append(out, e)
	}
	return out, problems
}

func readEntry(text string) Entry {
	text = strings.TrimRight(text, " .,;:–—-\t")
	if l, ok := book.ParseLabel(text); ok {
		return Entry{Part: l.Part, Label: l.String(), Number: l.Number, Title: book.TidyTitle(l.Rest)}
	}
	return Entry{Title: book.TidyTitle(text)}
}
