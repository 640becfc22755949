package prepare

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"bookstead/internal/book/importer"
	"bookstead/internal/fault"
	"bookstead/internal/lang"
	"bookstead/internal/lang/conllu"
	"bookstead/internal/lang/english"
	"bookstead/internal/passage"
)

// LargestBook is the largest file, in bytes, that is taken for a book.
const LargestBook = importer.MaxSize

// Format of an analysis.
type Format string

const (
	FormatCoNLLU Format = "conllu"
	FormatJSON   Format = "json"
	FormatText   Format = "text"
)

// Text is what is to be analysed: a book's file, or plain text or CoNLL-U in Data.
type Text struct {
	Name         string
	File         io.ReaderAt
	Size         int64
	Data         []byte
	Pretokenized bool
	// Fast gives tags and lemmas by rule and table, and nothing that needs trees.
	Fast bool
}

// WriteAnalysis reads a text and writes its analysis. skipped says in sentences
// what was not analysed and why.
func WriteAnalysis(ctx context.Context, w io.Writer, in Text, f Format, progress Progress) (skipped []string, err error) {
	d, err := analyzeText(ctx, in, f, progress)
	if err != nil {
		return nil, err
	}
	switch f {
	case FormatText:
		_, err = io.WriteString(w, d.Text)
	case FormatJSON:
		err = writeJSON(w, d)
	default:
		err = conllu.Write(w, conllu.FromDoc(d))
	}
	return d.Skipped, fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
}

func analyzeText(ctx context.Context, in Text, f Format, progress Progress) (*lang.Doc, error) {
	opt := english.Options{Progress: progress.bytes(StageRead)}
	understand := english.Understand
	if in.Fast {
		understand = english.Fill
	}
	switch {
	case in.Pretokenized:
		r := io.Reader(bytes.NewReader(in.Data))
		if in.File != nil {
			r = io.NewSectionReader(in.File, 0, in.Size)
		}
		rows, err := conllu.Read(r)
		if err != nil {
			return nil, err
		}
		d := conllu.ToDoc(rows)
		return d, understand(ctx, d, opt)
	case in.File == nil: // a text is taken as it stands: nothing is set aside
		text, broken := readable(in.Data)
		if f == FormatText {
			return &lang.Doc{Text: text, Skipped: broken}, nil
		}
		d, err := english.Cut(ctx, text, nil, english.Options{})
		if err != nil {
			return nil, err
		}
		d.Skipped = append(broken, d.Skipped...)
		return d, understand(ctx, d, opt)
	}
	b, err := ReadBook(ctx, in.Name, in.File, in.Size, progress)
	if err != nil {
		return nil, err
	}
	if f == FormatText {
		return &lang.Doc{Text: b.Text}, nil
	}
	d, err := english.Cut(ctx, b.Text, passage.Paragraphs(b), english.Options{})
	if err != nil {
		return nil, err
	}
	return d, understand(ctx, d, opt)
}

// readable is a text with what is no UTF-8 replaced, and a sentence that says
// so where there was any.
func readable(data []byte) (text string, broken []string) {
	if utf8.Valid(data) {
		return string(data), nil
	}
	bad := 0
	for rest := data; len(rest) > 0; {
		r, n := utf8.DecodeRune(rest)
		if r == utf8.RuneError && n == 1 {
			bad++
		}
		rest = rest[n:]
	}
	what := fmt.Sprintf("%d bytes are no readable text (not UTF-8); � stands for them.", bad)
	if bad == 1 {
		what = "One byte is no readable text (not UTF-8); � stands for it."
	}
	return strings.ToValidUTF8(string(data), "�"), []string{what}
}

type memberJSON struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Aliases  []string `json:"aliases"`
	Kind     string   `json:"kind"`
	Gender   string   `json:"gender,omitempty"`
	Mentions [][2]int `json:"mentions"`
}

type quotationJSON struct {
	Start     int     `json:"start"`
	End       int     `json:"end"`
	Speaker   *string `json:"speaker"`
	Addressee *string `json:"addressee"`
	Cue       *[2]int `json:"cue"`
}

func idOrNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func spanOrNull(s lang.Span) *[2]int {
	if s.End <= s.Start {
		return nil
	}
	return &[2]int{s.Start, s.End}
}

var layerNames = []struct {
	layer lang.Layer
	name  string
}{
	{lang.LayerTokens, "tokens"}, {lang.LayerSentences, "sentences"}, {lang.LayerTags, "tags"}, {lang.LayerLemmas, "lemmas"}, {lang.LayerTrees, "trees"},
	{lang.LayerTypes, "types"}, {lang.LayerCast, "cast"}, {lang.LayerQuotations, "quotations"}, {lang.LayerScenes, "scenes"}, {lang.LayerEvents, "events"}, {lang.LayerFigures, "figures"},
}

// writeJSON writes the object of docs/analysis.md, each entry of a list on a line
// of its own: a novel has tens of thousands, and none waits in memory for the
// others.
func writeJSON(w io.Writer, d *lang.Doc) error {
	out := &lists{w: w}
	layers := []string{}
	for _, l := range layerNames {
		if d.Has(l.layer) {
			layers = append(layers, l.name)
		}
	}
	out.field("layers", layers)
	out.list("cast", d.Has(lang.LayerCast), len(d.Cast), func(i int) any {
		m := &d.Cast[i]
		j := memberJSON{ID: m.ID, Name: m.Name, Aliases: m.Aliases, Kind: string(m.Kind), Gender: m.Gender, Mentions: [][2]int{}}
		for _, x := range m.Mentions {
			if x.Confidence >= 0.5 || x.Form == "name" || x.Form == "title" { // what is less sure is left open
				j.Mentions = append(j.Mentions, [2]int{x.Start, x.End})
			}
		}
		return j
	})
	out.list("quotations", d.Has(lang.LayerQuotations), len(d.Quotations), func(i int) any {
		q := &d.Quotations[i]
		return quotationJSON{q.Start, q.End, idOrNull(q.Speaker), idOrNull(q.Addressee), spanOrNull(q.Cue)}
	})
	out.story(d)
	if len(d.Skipped) > 0 {
		out.field("skipped", d.Skipped)
	}
	out.text("\n}\n")
	return out.err
}

// lists writes the fields of one JSON object.
type lists struct {
	w    io.Writer
	some bool // has a field been written?
	err  error
}

func (l *lists) text(s string) {
	if l.err == nil {
		_, l.err = io.WriteString(l.w, s)
	}
}

func (l *lists) value(v any) {
	data, err := json.Marshal(v)
	if l.err == nil {
		l.err = err
	}
	l.text(string(data))
}

func (l *lists) name(name string) {
	if l.some {
		l.text(",\n")
	} else {
		l.text("{\n")
	}
	l.some = true
	l.text(" \"" + name + "\": ")
}

func (l *lists) field(name string, v any) {
	l.name(name)
	l.value(v)
}

// list writes n entries; null where the layer was not run, which is not the same
// as an empty list.
func (l *lists) list(name string, ran bool, n int, at func(i int) any) {
	l.name(name)
	if !ran {
		l.text("null")
		return
	}
	l.text("[")
	for i := range n {
		if i > 0 {
			l.text(",")
		}
		l.text("\n  ")
		l.value(at(i))
	}
	if n > 0 {
		l.text("\n ")
	}
	l.text("]")
}
