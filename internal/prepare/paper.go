package prepare

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/book/paper"
	"bookstead/internal/fault"
)

// PaperBook is a form for a book that the teacher has only on paper, as typed.
type PaperBook struct {
	Title, Author string
	Chapters      string // a contents list, one chapter on a line
	Last          string // last page of the story
	Passages      string // text under lines such as "Chapter 3"
	Lists         string // "3: doleful, coil = to wind in rings", a chapter on a line
}

var (
	chapterLine = regexp.MustCompile(`(?i)^\s*(?:chapter\s+)?(\d{1,3})\s*[.:]?\s*$`)
	listLine    = regexp.MustCompile(`(?i)^\s*(?:chapter\s+)?(\d{1,3})\s*[:.)]\s*(\S.*)$`)
)

// TypeBook makes a book from what was typed and puts it into the library.
func (w *Workshop) TypeBook(ctx context.Context, in PaperBook) (*book.Book, error) {
	b, err := readPaper(in)
	if err != nil {
		return nil, err
	}
	_, err = w.store.Books().Put(ctx, b, w.now())
	return b, err
}

func readPaper(in PaperBook) (*book.Book, error) {
	entries, problems := paper.ParseContents(in.Chapters)
	if len(problems) > 0 {
		p := problems[0]
		return nil, fault.New(fault.Invalid, fmt.Sprintf("Line %d of the chapters: %s", p.Line, p.Message), p.Hint)
	}
	typed := paper.Input{Title: in.Title, Author: in.Author}
	if s := strings.TrimSpace(in.Last); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			return nil, fault.New(fault.Invalid, fmt.Sprintf("%q is not a page number.", s), "Type the last page of the story as a number, or leave it empty.")
		}
		typed.Last = n
	}
	byNumber := map[int]int{} // chapter number -> index in typed.Chapters
	n := 0
	for _, e := range entries {
		typed.Chapters = append(typed.Chapters, paper.Chapter{Entry: e})
		if e.Part {
			continue
		}
		n++
		byNumber[n] = len(typed.Chapters) - 1
	}
	for i, c := range typed.Chapters { // a number that stands in the list wins over its place
		if c.Number > 0 && !c.Part {
			byNumber[c.Number] = i
		}
	}
	if err := readPassages(in.Passages, byNumber, &typed); err != nil {
		return nil, err
	}
	if err := readLists(in.Lists, byNumber, &typed); err != nil {
		return nil, err
	}
	made, err := paper.Make(typed)
	if err != nil {
		return nil, err
	}
	b := made.Book
	for c, words := range made.Words {
		for _, x := range words {
			b.Words = append(b.Words, book.TypedWord{Chapter: c, Word: x.Word, Meaning: x.Meaning})
		}
	}
	for c, page := range made.Edition.First { // the copy's pages come with the book
		b.Pages = append(b.Pages, book.Page{Offset: b.Chapters[c].Start, Label: strconv.Itoa(page)})
	}
	if typed.Last > 0 {
		b.Pages = append(b.Pages, book.Page{Offset: len(b.Text) - 1, Label: strconv.Itoa(typed.Last)})
	}
	slices.SortStableFunc(b.Pages, func(a, b book.Page) int { return a.Offset - b.Offset })
	return b, nil
}

func readPassages(text string, byNumber map[int]int, typed *paper.Input) error {
	at := -1
	var lines []string
	flush := func() error {
		t := strings.TrimSpace(strings.Join(lines, "\n"))
		lines = nil
		if t == "" {
			return nil
		}
		if at < 0 {
			return fault.New(fault.Invalid, "The passages do not say to which chapter they belong.", "Put a line such as “Chapter 3” above the first of them.")
		}
		typed.Chapters[at].Passages = append(typed.Chapters[at].Passages, paper.ParsePassages(t)...)
		return nil
	}
	for i, line := range strings.Split(text, "\n") {
		m := chapterLine.FindStringSubmatch(line)
		if m == nil {
			lines = append(lines, line)
			continue
		}
		if err := flush(); err != nil {
			return err
		}
		n, _ := strconv.Atoi(m[1]) //nolint:errcheck // digits alone
		c, ok := byNumber[n]
		if !ok {
			return fault.New(fault.Invalid, fmt.Sprintf("Line %d of the passages: the list of chapters has no chapter %d.", i+1, n), "Check the number, or add the chapter to the list.")
		}
		at = c
	}
	return flush()
}

func readLists(text string, byNumber map[int]int, typed *paper.Input) error {
	for i, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		m := listLine.FindStringSubmatch(line)
		if m == nil {
			return fault.New(fault.Invalid, fmt.Sprintf("Line %d of the words does not begin with a chapter’s number.", i+1), "Write it as in “3: doleful, coil”.")
		}
		n, _ := strconv.Atoi(m[1]) //nolint:errcheck // digits alone
		c, ok := byNumber[n]
		if !ok {
			return fault.New(fault.Invalid, fmt.Sprintf("Line %d of the words: the list of chapters has no chapter %d.", i+1, n), "Check the number, or add the chapter to the list.")
		}
		typed.Chapters[c].Words = append(typed.Chapters[c].Words, paper.ParseWords(strings.ReplaceAll(m[2], ", ", "\n"))...)
	}
	return nil
}
