package book

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Check returns the first rule of the model that the book breaks, nil when it
// keeps them all: text that is UTF-8; blocks in order, filled, with exactly one
// blank line between them; emphasis inside its block; chapters in order that
// cover every block; parts and pages that exist. A broken rule is a defect of
// the reader, never of the file.
func (b *Book) Check() error {
	if !utf8.ValidString(b.Text) {
		return fmt.Errorf("the text is not UTF-8")
	}
	at := 0
	for i, bl := range b.Blocks {
		if i > 0 {
			if bl.Start != at+2 || b.Text[at:bl.Start] != "\n\n" {
				return fmt.Errorf("block %d starts at %d, not one blank line behind %d", i, bl.Start, at)
			}
		} else if bl.Start != 0 {
			return fmt.Errorf("the first block starts at %d", bl.Start)
		}
		if bl.End <= bl.Start || bl.End > len(b.Text) {
			return fmt.Errorf("block %d has the span %v", i, bl.Span)
		}
		t := b.Slice(bl.Span)
		if strings.Contains(t, "\n\n") || strings.TrimFunc(t, unicode.IsSpace) != t {
			return fmt.Errorf("block %d holds a blank line or has space around it: %q", i, t)
		}
		from := bl.Start
		for _, e := range bl.Emphasis {
			if e.Start < from || e.End <= e.Start || e.End > bl.End || !utf8.RuneStart(b.Text[e.Start]) {
				return fmt.Errorf("block %d has the emphasis %v out of order or out of place", i, e)
			}
			from = e.End
		}
		at = bl.End
	}
	if at != len(b.Text) {
		return fmt.Errorf("the blocks end at %d, the text at %d", at, len(b.Text))
	}
	return b.checkChapters()
}

func (b *Book) checkChapters() error {
	k := 0
	for i, c := range b.Chapters {
		if k >= len(b.Blocks) || c.Start != b.Blocks[k].Start {
			return fmt.Errorf("chapter %d starts at %d, where no uncovered block starts", i, c.Start)
		}
		for k < len(b.Blocks) && b.Blocks[k].End <= c.End {
			k++
		}
		if b.Blocks[k-1].End != c.End {
			return fmt.Errorf("chapter %d ends at %d, inside a block", i, c.End)
		}
		if c.Body < c.Start || c.Body > c.End {
			return fmt.Errorf("chapter %d has its body at %d, outside of %v", i, c.Body, c.Span)
		}
		if c.Part < -1 || c.Part >= len(b.Parts) {
			return fmt.Errorf("chapter %d is in part %d of %d", i, c.Part, len(b.Parts))
		}
	}
	if k != len(b.Blocks) {
		return fmt.Errorf("%d blocks lie in no chapter", len(b.Blocks)-k)
	}
	last := 0
	for i, p := range b.Pages {
		if p.Offset < last || p.Offset >= len(b.Text) || !utf8.RuneStart(b.Text[p.Offset]) || p.Label == "" {
			return fmt.Errorf("page %d, %q, stands at %d", i, p.Label, p.Offset)
		}
		last = p.Offset
	}
	return nil
}
