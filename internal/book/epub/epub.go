// Package epub reads a novel from an EPUB 2 or 3 file.
//
// The container is opened with limits and without trust (archive.go, drm.go).
// The documents of the spine become a tree each and then blocks (tree.go,
// blocks.go); the table of contents, the sections' epub:type, the guide and the
// headings say where chapters begin and what they are (division.go,
// classify.go, parts.go). Broken markup, missing lists and unknown types are
// forgiven as long as the text can be read. Start with [Read].
//
// Formats: EPUB 3.3 (https://www.w3.org/TR/epub-33/), EPUB 2.0.1 with its NCX,
// and the EPUB Structural Semantics Vocabulary 1.1.
package epub

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/fault"
)

// Read makes a book of an EPUB file of that size. progress may be nil; it is
// called with the documents done of all. Read leaves ID and Source.File and
// SHA256 to the caller.
func Read(ctx context.Context, r io.ReaderAt, size int64, progress func(done, total int)) (*book.Book, error) {
	if progress == nil {
		progress = func(int, int) {}
	}
	a, err := openArchive(r, size)
	if err != nil {
		return nil, err
	}
	if err := a.checkLocks(); err != nil {
		return nil, err
	}
	name, err := a.findPackage()
	if err != nil {
		return nil, err
	}
	p, err := a.readPackage(name)
	if err != nil {
		return nil, err
	}
	tables := a.readTables(p)
	w := &walker{styles: a.readStyles(p.styles), ids: map[string]spot{}}
	d := &divider{pack: p, tables: tables}
	var notes []string
	for i, item := range p.spine {
		progress(i, len(p.spine))
		if err := ctx.Err(); err != nil {
			return nil, fault.Wrap(fault.Canceled, err, "Bringing the book in was stopped.", "")
		}
		d.docs, d.linear = append(d.docs, item.name), append(d.linear, item.linear)
		data, err := a.read(item.name)
		if errors.Is(err, errMissing) {
			notes = append(notes, fmt.Sprintf("The file lacks a part that it lists, %q; some text may be missing.", item.name))
			continue
		}
		if err != nil {
			return nil, err
		}
		root, err := parse(data)
		if err != nil {
			notes = append(notes, fmt.Sprintf("A part of the file, %q, cannot be read; its text is missing.", item.name))
			continue
		}
		w.walk(i, item.name, root)
	}
	progress(len(p.spine), len(p.spine))
	switch text := textOf(w.blocks); {
	case text != "":
	case len(notes) > 0:
		return nil, fault.New(fault.Unreadable, "This EPUB is damaged: none of its chapters can be read.", hintAgain)
	default:
		return nil, fault.New(fault.Unreadable, "This EPUB holds no text; its pages may be pictures.", "Use another file of this book, or type the passages you need.")
	}
	d.blocks, d.spots = w.settle(), w.ids
	b := lay(d)
	b.Title, b.Author, b.Language = p.title, p.author, p.language
	if b.Title == "" {
		b.Notes = append(b.Notes, "The file states no title.")
	}
	if b.Language == "" {
		b.Language = "en"
	}
	b.Source.Format = "epub3"
	if strings.HasPrefix(p.version, "2") || strings.HasPrefix(p.version, "1") || p.version == "" {
		b.Source.Format = "epub2"
	}
	b.Notes = append(b.Notes, notes...)
	return b, nil
}

func textOf(blocks []block) string {
	var sb strings.Builder
	for _, b := range blocks {
		if b.kind != book.SceneBreak {
			sb.WriteString(b.text)
		}
	}
	return strings.TrimSpace(sb.String())
}

// settle decides what empty paragraphs are: scene breaks where they are rare,
// nothing where most paragraphs have one between them. Indices stay; an empty
// block is laid down as nothing.
func (w *walker) settle() []block {
	soft, paragraphs := 0, 0
	for _, b := range w.blocks {
		if b.soft {
			soft++
		} else if b.kind == book.Paragraph {
			paragraphs++
		}
	}
	for i := range w.blocks {
		if w.blocks[i].soft && soft*6 > paragraphs {
			w.blocks[i].text = ""
		}
	}
	return w.blocks
}
