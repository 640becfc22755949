// Package scenes cuts a book into scenes: stretches with one time, place and
// company.
//
// [Finder] fills Doc.Scenes. Headings and marks ("* * *") always cut. Between
// them every paragraph's start is judged by what stands there (signal.go): words
// of time ("The next morning"), somebody coming to another place or falling
// asleep before it, somebody new, and how far the company before and after
// differs; a talk that goes on speaks against a cut. The signals are added, and where they reach
// a bar, and the scene before is long enough, a scene begins; its Break names
// the strongest. Who is present is who acts or speaks, not who is only spoken
// of; where and when are the words that tell it (company.go).
//
// It needs trees, cast, quotations and events.
package scenes

import (
	"context"
	"fmt"
	"strings"
	"unicode"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Finder is the annotator of LayerScenes.
type Finder struct{}

// Needs says what must have been run.
func (Finder) Needs() lang.Layer {
	return lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerLemmas | lang.LayerTrees | lang.LayerCast | lang.LayerQuotations | lang.LayerEvents
}

// Gives says what is run.
func (Finder) Gives() lang.Layer { return lang.LayerScenes }

// Annotate fills Doc.Scenes.
func (Finder) Annotate(ctx context.Context, d *lang.Doc) error {
	lex, err := lexicon.Open()
	if err != nil {
		return fmt.Errorf("finding scenes: %w", err)
	}
	f := &finder{d: d, tree: lang.NewTree(d), refs: d.Refs(), saying: d.Sayings(), places: newPlaces(lex)}
	f.gather()
	d.Scenes = nil
	open := -1 // first paragraph of the open scene
	var start signal
	end := 0
	flush := func() {
		if open >= 0 {
			d.Scenes = append(d.Scenes, f.scene(open, end, start))
		}
		open = -1
	}
	next := "chapter" // how the next scene begins
	size := 0
	for p := range d.Paragraphs {
		if p%256 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		q := &f.paras[p]
		switch {
		case q.heading:
			flush()
			next = "chapter"
			continue
		case q.mark:
			flush()
			if next != "chapter" || len(d.Scenes) > 0 && d.Scenes[len(d.Scenes)-1].End > d.Paragraphs[max(0, p-1)].Start {
				next = "mark"
			}
			continue
		case q.words == 0:
			continue
		}
		switch {
		case open < 0:
			open, start, size = p, signal{kind: next, cue: f.timeCue(p).cue}, 0
			next = "mark"
		default:
			if s := f.judge(open, p); s.due(size) {
				flush()
				open, start, size = p, s, 0
			}
		}
		size += q.words
		end = p + 1
	}
	flush()
	d.Done(lang.LayerScenes)
	return nil
}

type finder struct {
	d      *lang.Doc
	tree   *lang.Tree
	refs   []lang.Ref
	saying []int
	paras  []para
	places *places
}

// para is what is known of a paragraph.
type para struct {
	heading, mark bool
	first, last   int // sentences [first, last)
	words         int
	// company counts who acts, is acted on or speaks in it.
	company    map[string]float64
	firstEvent int
	lastEvent  int // [firstEvent, lastEvent)
}

// gather looks at every paragraph once.
func (f *finder) gather() {
	d := f.d
	f.paras = make([]para, len(d.Paragraphs))
	for p := range d.Paragraphs {
		q := &f.paras[p]
		text := d.Text[d.Paragraphs[p].Start:d.Paragraphs[p].End]
		q.heading = d.Paragraphs[p].Kind == "heading" || d.Paragraphs[p].Kind == "paragraph" && looksHeading(text)
		q.mark = d.Paragraphs[p].Kind == "scenebreak" || isMark(text)
		if k := d.Paragraphs[p].Kind; k == "note" || k == "caption" || d.Paragraphs[p].Skip {
			q.mark = false
		} else if !q.heading && !q.mark {
			q.words = len(strings.Fields(text))
		}
		q.first, q.firstEvent = -1, -1
	}
	for si, s := range d.Sentences {
		q := &f.paras[s.Paragraph]
		if q.first < 0 {
			q.first = si
		}
		q.last = si + 1
	}
	for k := range d.Events {
		q := &f.paras[d.Sentences[d.Events[k].Sentence].Paragraph]
		if q.firstEvent < 0 {
			q.firstEvent = k
		}
		q.lastEvent = k + 1
	}
	f.companies()
}

// isMark reports whether a paragraph holds signs alone: "* * *", "#", "—".
func isMark(text string) bool {
	n := 0
	for _, r := range text {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			return false
		case !unicode.IsSpace(r):
			n++
		}
	}
	return n > 0 && n < 120
}

// looksHeading reports whether a paragraph of plain text, whose kind nobody
// told, opens a chapter: "CHAPTER IV", "Chapter the First. …".
func looksHeading(text string) bool {
	words := strings.Fields(text)
	if len(words) < 2 || len(words) > 12 {
		return len(words) == 1 && len(text) < 6 && strings.Trim(text, "IVXLC.") == ""
	}
	switch strings.ToLower(words[0]) {
	case "chapter", "part", "book", "letter":
	default:
		return false
	}
	n := strings.ToLower(strings.Trim(words[1], ".:,—"))
	return strings.Trim(n, "ivxlc") == "" || strings.Trim(n, "0123456789") == "" || numbers[n]
}

var numbers = func() map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq("the one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty first second third fourth fifth sixth seventh eighth ninth tenth last") {
		m[w] = true
	}
	return m
}()
