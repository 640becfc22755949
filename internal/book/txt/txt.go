// Package txt reads a novel from plain text.
//
// The bytes become text ([Decode]), licence and credits are set aside, lines
// become groups by blank lines (or by whatever the file marks paragraphs with),
// and each group is looked at as a heading and as a piece of text. What is a
// chapter is decided over the whole file, not line by line: numbers must count
// up, titles must be usual, a contents list is read and believed. Start with
// [Read].
package txt

import (
	"context"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/fault"
)

// introductionWords is how long unnamed text in front of the first chapter must
// be to count as an introduction rather than as a title page.
const introductionWords = 250

// Read makes a book of a text file. name is the file's name, from which comes
// the title where the text states none. progress may be nil; it is called with
// what is done of a total. Read leaves ID and Source.File and SHA256 to the
// caller.
func Read(ctx context.Context, name string, data []byte, progress func(done, total int)) (*book.Book, error) {
	if progress == nil {
		progress = func(int, int) {}
	}
	text, notes, err := Decode(data)
	if err != nil {
		return nil, err
	}
	lines, aside, head := setAside(readLines(text))
	groups, width := groupLines(lines)
	groups, credits := creditGroups(splitGlued(groups, width))
	if len(groups) == 0 {
		return nil, fault.New(fault.Unreadable, "This file holds no text of a book.", "Choose another file, or type the chapters of the printed copy.")
	}
	o := &outliner{groups: groups, width: width}
	heads := o.outline()
	r := &reader{groups: groups, width: width, join: newJoiner(text), letter: letters(groups)}
	total, next := len(groups), 0
	step := func(i int) error {
		if i >= next {
			progress(i, total)
			next = i + 200
		}
		return ctx.Err()
	}
	if err := r.lay(heads, o, step); err != nil {
		return nil, fault.Wrap(fault.Canceled, err, "Bringing the book in was stopped.", "")
	}
	progress(total, total)
	b := r.out.Book()
	b.Setaside = append(aside, credits...)
	b.Notes = append(notes, o.notes...)
	b.Language = "en"
	b.Source.Format = "text"
	r.nameBook(b, name, head, heads)
	return b, nil
}

// nameBook sets title, author and language from the licence header, the title
// page or the file's name, in this order.
func (r *reader) nameBook(b *book.Book, name string, head header, heads []heading) {
	front := len(r.groups)
	if len(heads) > 0 {
		front = heads[0].at
	}
	title, author := titlePage(r.groups[:min(front, 12)])
	b.Title, b.Author = head.title, head.author
	if b.Author == "" {
		b.Author = author
	}
	if b.Title == "" {
		b.Title = title
	}
	if b.Title == "" {
		b.Title = fileTitle(name, b.Text)
		b.Notes = append(b.Notes, "The file states no title; “"+b.Title+"” is taken from its name.")
	}
	if head.language != "" {
		b.Language = languageTag(head.language)
	}
}

// languageTag makes a BCP 47 tag of a language's English name; a name that it
// does not know stays as it is.
func languageTag(name string) string {
	tags := map[string]string{"english": "en", "french": "fr", "german": "de", "spanish": "es", "italian": "it", "dutch": "nl",
		"portuguese": "pt", "latin": "la", "swedish": "sv", "danish": "da", "norwegian": "no", "finnish": "fi", "polish": "pl"}
	if t, ok := tags[strings.ToLower(strings.TrimSpace(name))]; ok {
		return t
	}
	return strings.ToLower(name)
}

// reader lays the groups down.
type reader struct {
	groups []group
	width  int
	join   *joiner
	letter []bool
	out    book.Builder
}

// lay lays all groups down in order, chapter by chapter.
func (r *reader) lay(heads []heading, o *outliner, step func(int) error) error {
	if len(heads) == 0 {
		return r.layWhole(o, step)
	}
	if err := r.layFront(0, heads[0].at, o, step); err != nil {
		return err
	}
	part := -1
	pending := []heading(nil) // part headings not yet laid down
	for k, h := range heads {
		end := len(r.groups)
		if k+1 < len(heads) {
			end = heads[k+1].at
		}
		if h.part {
			part = r.beginPart(h, part, heads[:k])
			pending = append(pending, h)
			// A text of its own in front of the part's first chapter.
			alone := k+1 == len(heads) || heads[k+1].part && r.words(h.to, end) > 0
			if r.words(h.to, end) > introductionWords || alone {
				kind := book.Introduction
				if alone {
					kind = book.Body // a part without chapters is one
				}
				r.out.Chapter(book.Chapter{Kind: kind, Title: h.title, Label: label(h), Part: part})
				r.layHeadings(pending, o)
				pending = nil
				if err := r.layBody(h.to, end, o, step); err != nil {
					return err
				}
			}
			continue
		}
		c := book.Chapter{Kind: h.kind, Title: h.title, Label: label(h), Number: h.label.Number, Part: part}
		if h.kind == book.Back || h.kind == book.Front || h.kind == book.Conclusion && k+1 == len(heads) {
			c.Part = -1
		}
		r.out.Chapter(c)
		if n := len(pending); n > 0 {
			r.layHeadings(pending[:n-1], o)
			r.heading(pending[n-1].at, pending[n-1].to)
			if err := r.layBody(pending[n-1].to, h.at, o, step); err != nil {
				return err
			}
			pending = nil
		}
		r.heading(h.at, h.to)
		r.out.BodyHere()
		if err := r.layBody(h.to, end, o, step); err != nil {
			return err
		}
	}
	return nil
}

// layHeadings lays part headings down that follow each other at once, with
// whatever little stands between.
func (r *reader) layHeadings(hs []heading, o *outliner) {
	for i, h := range hs {
		r.heading(h.at, h.to)
		if i+1 < len(hs) {
			_ = r.layBody(h.to, hs[i+1].at, o, func(int) error { return nil })
		}
	}
}

// beginPart adds the part, and the first one too when the file names only the
// second.
func (r *reader) beginPart(h heading, part int, before []heading) int {
	if part == -1 && h.label.Number == 2 && len(before) > 0 {
		r.out.AdoptPart(book.Part{Label: h.label.First()})
	}
	return r.out.Part(book.Part{Label: label(h), Title: h.title})
}

// layWhole lays a text without chapters down as one, behind its title page.
func (r *reader) layWhole(o *outliner, step func(int) error) error {
	front := 0
	for front < min(len(r.groups)-1, 6) && (o.cand[front].heading || byLine.MatchString(r.groups[front].text()) || strings.EqualFold(r.groups[front].text(), "by")) {
		front++
	}
	if o.to > o.from {
		front = max(front, o.to)
	}
	if err := r.layFront(0, front, o, step); err != nil {
		return err
	}
	c := book.Chapter{Kind: book.Body, Part: -1}
	if front > 0 {
		c.Title = book.TidyTitle(properCase(r.groups[0].text()))
	}
	r.out.Chapter(c)
	return r.layBody(front, len(r.groups), o, step)
}

// layFront lays down what stands in front of the first heading.
func (r *reader) layFront(from, to int, o *outliner, step func(int) error) error {
	cut := []int{from}
	if o.to > o.from && o.from < to {
		cut = append(cut, o.from, min(o.to, to))
	}
	cut = append(cut, to)
	for i := 0; i+1 < len(cut); i++ {
		a, z := cut[i], cut[i+1]
		if a >= z {
			continue
		}
		c := book.Chapter{Kind: book.Front, Part: -1}
		if a == o.from && o.to > o.from {
			c.Title = "Contents"
		} else if r.words(a, z) > introductionWords {
			c.Kind = book.Introduction
		}
		if c.Kind == book.Introduction && o.cand[a].heading {
			c.Title = book.TidyTitle(r.groups[a].text())
		}
		r.out.Chapter(c)
		if c.Kind == book.Introduction && c.Title != "" {
			r.heading(a, a+1)
			a++
		}
		if err := r.layBody(a, z, o, step); err != nil {
			return err
		}
	}
	return nil
}

func (r *reader) words(from, to int) int {
	n := 0
	for _, g := range r.groups[from:to] {
		n += book.Words(g.text())
	}
	return n
}

func (r *reader) heading(from, to int) {
	for _, g := range r.groups[from:to] {
		t, em := italics(r.join.prose(g.lines))
		r.out.Add(book.Heading, t, em...)
	}
}

// layBody lays groups down as text.
func (r *reader) layBody(from, to int, o *outliner, step func(int) error) error {
	for i := from; i < to; i++ {
		if err := step(i); err != nil {
			return err
		}
		g, c := r.groups[i], o.cand[i]
		list := i >= o.from && i < o.to
		if c.over {
			r.out.Add(book.Heading, r.join.prose(g.lines))
			if to == len(r.groups) && r.words(i+1, to) > 0 {
				r.out.Chapter(book.Chapter{Kind: book.Back, Part: -1})
			}
			continue
		}
		if !list && len(g.lines) == 1 && c.label.Number > 0 && c.title == "" {
			r.heading(i, i+1) // a numbered section inside a chapter
			continue
		}
		if n := bracketed(r.groups[i:to], illustration); n > 1 {
			whole := group{before: g.before}
			for _, x := range r.groups[i : i+n] {
				whole.lines = append(whole.lines, x.lines...)
			}
			g, i = whole, i+n-1
		}
		if t, n := marks(r.groups[i:to]); n > 0 {
			r.out.Add(book.SceneBreak, t)
			i += n - 1
			continue
		}
		p := r.join.shape(g, r.width)
		if list {
			p = piece{book.Paragraph, kept(g.lines), true}
		} else if r.letter[i] && p.kind != book.Caption {
			if p.kind != book.Verse || !isPoem(r.groups, r.letter, i) {
				p.kind = book.Letter
			}
		}
		t, em := italics(p.text)
		r.out.Add(p.kind, t, em...)
	}
	return nil
}

// isPoem tells verse inside a letter from its address and signature: it stands
// in the letter's middle.
func isPoem(groups []group, letter []bool, i int) bool {
	return i > 0 && letter[i-1] && len(groups[i].lines) >= 4
}

func label(h heading) string {
	if h.label.Number == 0 {
		return ""
	}
	return h.label.String()
}
