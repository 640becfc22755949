// Package pdf writes frames as a PDF 1.7 file (ISO 32000-1) that anyone can
// read: text copies out as it reads, fonts are embedded as subsets, and the
// structure that PDF/UA-1 (ISO 14289-1) asks for is there: headings, lists,
// tables, a language, a title, bookmarks; running heads and rules are artifacts.
//
// The file is made only from the frames and the options, so the same frames
// give the same bytes. Pages are drawn, and their streams compressed, side by
// side; all else is in order. Start with [Write].
package pdf

import (
	"fmt"
	"io"
	"runtime"
	"strings"
	"sync"
	"time"

	"bookstead/internal/print"
)

// Options say how frames are written.
type Options struct {
	Edition print.Edition
	// Title replaces that of the frames when it is not empty: the two editions
	// of one document may be named apart.
	Title string
}

// Write writes the frames to w. It returns w's error, or that a font cannot be
// read. Frames are not changed, so both editions may be written at once.
func Write(w io.Writer, f *print.Frames, opt Options) error {
	title := f.Title
	if opt.Title != "" {
		title = opt.Title
	}
	uses, used, err := gather(f, opt.Edition)
	if err != nil {
		return err
	}
	contents := drawAll(f, opt.Edition, uses)

	out := newFile(w)
	catalog, info, tree := out.reserve(), out.reserve(), out.reserve()
	pages := make([]ref, len(f.Pages))
	for i := range pages {
		pages[i] = out.reserve()
	}
	var fonts strings.Builder
	for i, u := range uses {
		if !used[i] {
			continue
		}
		r := out.reserve()
		fmt.Fprintf(&fonts, " /F%d %v", i, r)
		if err := u.embed(out, r); err != nil {
			return err
		}
	}
	resources := out.add("<</Font <<" + fonts.String() + " >>>>")
	byPage := make([][]int, len(f.Pages))
	var kids strings.Builder
	for i, c := range contents {
		stream := out.reserve()
		out.stream(stream, "", c.packed, true)
		byPage[i] = c.nodes
		body := fmt.Sprintf("<</Type /Page /Parent %v /MediaBox [0 0 %s %s] /Resources %v /Contents %v /Tabs /S",
			tree, points(f.Paper.Width), points(f.Paper.Height), resources, stream)
		if len(c.nodes) > 0 {
			body += fmt.Sprintf(" /StructParents %d", i)
		}
		out.put(pages[i], body+">>")
		fmt.Fprintf(&kids, "%v ", pages[i])
	}
	out.put(tree, fmt.Sprintf("<</Type /Pages /Count %d /Kids [%s]>>", len(pages), kids.String()))
	root := newStructure(f, byPage).write(out, pages, byPage)
	metadata := out.reserve()
	out.stream(metadata, "/Type /Metadata /Subtype /XML", xmp(f, title), false)

	body := fmt.Sprintf("<</Type /Catalog /Pages %v /StructTreeRoot %v /MarkInfo <</Marked true>> /Metadata %v /ViewerPreferences <</DisplayDocTitle true>>", tree, root, metadata)
	if f.Language != "" {
		body += " /Lang " + text(f.Language)
	}
	if o := outline(out, f, pages); o > 0 {
		body += fmt.Sprintf(" /Outlines %v /PageMode /UseOutlines", o)
	}
	if len(f.Pages) > 0 && f.Pages[0].Number > 1 {
		body += fmt.Sprintf(" /PageLabels <</Nums [0 <</S /D /St %d>>]>>", f.Pages[0].Number)
	}
	out.put(catalog, body+">>")
	out.put(info, fmt.Sprintf("<</Title %s%s%s /Producer (Bookstead) /CreationDate %s>>", text(title),
		optional("Subject", f.Subject), optional("Creator", f.Creator), date(f.Date)))
	if err := out.close(catalog, info); err != nil {
		return fmt.Errorf("writing the PDF: %w", err)
	}
	return nil
}

func optional(key, value string) string {
	if value == "" {
		return ""
	}
	return " /" + key + " " + text(value)
}

func date(t time.Time) string { return t.UTC().Format("(D:20060102150405Z)") }

// gather numbers the glyphs that the edition uses, page by page.
func gather(f *print.Frames, e print.Edition) ([]*fontUse, []bool, error) {
	uses := make([]*fontUse, len(f.Fonts))
	used := make([]bool, len(f.Fonts))
	for i, font := range f.Fonts {
		u, err := newFontUse(font)
		if err != nil {
			return nil, nil, err
		}
		uses[i] = u
	}
	for p := range f.Pages {
		for i := range f.Pages[p].Items {
			it := &f.Pages[p].Items[i]
			if !it.Role.In(e) {
				continue
			}
			for _, g := range it.Glyphs {
				uses[it.Font].cid(g)
				used[it.Font] = true
			}
		}
	}
	return uses, used, nil
}

type drawn struct {
	packed []byte
	nodes  []int
}

// drawAll draws and compresses the pages, several at a time.
func drawAll(f *print.Frames, e print.Edition, uses []*fontUse) []drawn {
	out := make([]drawn, len(f.Pages))
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			var d deflater
			for i := range next {
				c := draw(f, &f.Pages[i], e, uses)
				out[i] = drawn{d.deflate(c.b), c.nodes}
			}
		})
	}
	for i := range f.Pages {
		next <- i
	}
	close(next)
	wg.Wait()
	return out
}

// outline writes the bookmarks, those of level 2 below those of level 1, and
// returns the root, or 0 when there are none.
func outline(out *file, f *print.Frames, pages []ref) ref {
	if len(f.Outline) == 0 {
		return 0
	}
	type entry struct {
		mark print.Bookmark
		ref  ref
		kids []int
	}
	var entries []entry
	var top []int
	for i, b := range f.Outline {
		entries = append(entries, entry{mark: b, ref: out.reserve()})
		if b.Level > 1 && len(top) > 0 {
			parent := &entries[top[len(top)-1]]
			parent.kids = append(parent.kids, i)
		} else {
			top = append(top, i)
		}
	}
	root := out.reserve()
	var put func(list []int, parent ref)
	put = func(list []int, parent ref) {
		for n, i := range list {
			e := entries[i]
			body := fmt.Sprintf("<</Title %s /Parent %v /Dest [%v /XYZ 0 %s null]", text(e.mark.Title), parent,
				pages[e.mark.Page], points(f.Paper.Height-e.mark.Y+12*print.Point))
			if n > 0 {
				body += fmt.Sprintf(" /Prev %v", entries[list[n-1]].ref)
			}
			if n < len(list)-1 {
				body += fmt.Sprintf(" /Next %v", entries[list[n+1]].ref)
			}
			if k := e.kids; len(k) > 0 { // closed: a minus before the count
				body += fmt.Sprintf(" /First %v /Last %v /Count -%d", entries[k[0]].ref, entries[k[len(k)-1]].ref, len(k))
				put(k, e.ref)
			}
			out.put(e.ref, body+">>")
		}
	}
	put(top, root)
	out.put(root, fmt.Sprintf("<</Type /Outlines /First %v /Last %v /Count %d>>", entries[top[0]].ref, entries[top[len(top)-1]].ref, len(top)))
	return root
}
