// Package layout sets a document: it turns blocks into frames, every letter at
// its place.
//
// Three steps. Text is shaped with the font's own tables (ligatures, kerning,
// small capitals, old-style figures) and broken into lines by the total-fit
// method of Knuth and Plass. Blocks become strips, slices as wide as the
// measure that no page break may cut, with the white below each and what a
// break there costs. The strips of a run of pages are then divided so that the
// whole costs least. What only the teacher sees is laid out like all else and
// carries its role, so there is one layout for both editions. Start with [New].
package layout

import (
	"context"
	"fmt"
	"strings"

	"bookstead/internal/print"
)

// Engine lays out documents with a set of typefaces. It may be used from
// several goroutines at once.
type Engine struct {
	families    []*family
	hyphenators func(language string) print.Hyphenator
}

// New parses the typefaces. Hyphenators gives the hyphenator of a language tag,
// or nil where there is none; it may itself be nil.
func New(families []print.Family, hyphenators func(language string) print.Hyphenator) (*Engine, error) {
	e := &Engine{hyphenators: hyphenators}
	for _, f := range families {
		parsed, err := parseFamily(f)
		if err != nil {
			return nil, err
		}
		e.families = append(e.families, parsed)
	}
	if len(e.families) == 0 {
		return nil, fmt.Errorf("laying out needs at least one typeface")
	}
	return e, nil
}

// Layout sets the document in the style. It stops with the context's error when
// the context ends. Progress, which may be nil, is called now and then with the
// share done, from 0 to 1.
func (e *Engine) Layout(ctx context.Context, doc print.Document, style print.Style, progress func(done float64)) (*print.Frames, error) {
	fam := e.families[0]
	for _, f := range e.families {
		if f.name == style.Family {
			fam = f
		}
	}
	if fam.name != style.Family {
		return nil, fmt.Errorf("there is no typeface %q", style.Family)
	}
	if style.Left+style.Right >= style.Paper.Width || style.Top+style.Bottom+3*style.Text.Leading >= style.Paper.Height {
		return nil, fmt.Errorf("the margins leave no room on %s", style.Paper.Name)
	}
	s := &setter{
		engine: e, family: fam, style: style, doc: doc,
		shapes: map[shapeKey]*shaped{}, words: map[string][]int{},
		frames: &print.Frames{
			Title: doc.Title, Creator: doc.Creator, Subject: doc.Subject, Language: doc.Language,
			Date: doc.Date, Paper: style.Paper, Nodes: []print.Node{{Tag: print.TagDocument, Parent: -1}},
		},
		fonts: map[*face]int{},
	}
	if style.Hyphenate && e.hyphenators != nil {
		s.hyphenator = e.hyphenators(doc.Language)
	}
	strips, err := s.flow(ctx, doc.Blocks, progress)
	if err != nil {
		return nil, err
	}
	s.paginate(strips)
	if progress != nil {
		progress(1)
	}
	return s.frames, nil
}

// setter is the state of laying out one document.
type setter struct {
	engine     *Engine
	family     *family
	style      print.Style
	doc        print.Document
	hyphenator print.Hyphenator
	frames     *print.Frames
	fonts      map[*face]int
	shaper     shaper
	shapes     map[shapeKey]*shaped
	words      map[string][]int // where words divide

	section int // node of the lesson under way
	list    int // node of the list under way, 0 outside
	listOf  string
}

// area is a column of the page: everything is set between X and X+Width.
type area struct {
	x, width print.Length
	// margin is set where marks in the margin may stand.
	margin bool
}

// inset is the area less room at both sides.
func (a area) inset(left, right print.Length) area {
	return area{x: a.x + left, width: a.width - left - right}
}

func (s *setter) measure() area {
	return area{x: s.style.Left, width: s.style.Paper.Width - s.style.Left - s.style.Right, margin: true}
}

func (s *setter) pageHeight() print.Length {
	return s.style.Paper.Height - s.style.Top - s.style.Bottom
}

// node adds an element to the structure.
func (s *setter) node(tag print.Tag, parent int) int {
	s.frames.Nodes = append(s.frames.Nodes, print.Node{Tag: tag, Parent: parent})
	return len(s.frames.Nodes) - 1
}

// fontIndex is the place of a face in the frames' fonts.
func (s *setter) fontIndex(f *face) int {
	i, ok := s.fonts[f]
	if !ok {
		i = len(s.frames.Fonts)
		s.fonts[f] = i
		s.frames.Fonts = append(s.frames.Fonts, print.Font{Family: f.family, Data: f.data, UnitsPerEm: f.upem})
	}
	return i
}

// blank reports whether a text has nothing to set.
func blank(t print.Text) bool { return strings.TrimSpace(t.String()) == "" }
