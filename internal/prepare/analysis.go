package prepare

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"strings"

	"bookstead/internal/book/importer"
	"bookstead/internal/fault"
	"bookstead/internal/lang"
	"bookstead/internal/lang/conllu"
	"bookstead/internal/lang/english"
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
}

// WriteAnalysis reads a text and writes its analysis.
func WriteAnalysis(ctx context.Context, w io.Writer, in Text, f Format, progress Progress) error {
	d, err := analyzeText(ctx, in, f, progress)
	if err != nil {
		return err
	}
	switch f {
	case FormatText:
		_, err = io.WriteString(w, d.Text)
	case FormatJSON:
		err = writeJSON(w, d)
	default:
		err = conllu.Write(w, conllu.FromDoc(d))
	}
	return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
}

func analyzeText(ctx context.Context, in Text, f Format, progress Progress) (*lang.Doc, error) {
	opt := english.Options{Progress: progress.bytes(StageRead)}
	if in.Pretokenized {
		r := io.Reader(bytes.NewReader(in.Data))
		if in.File != nil {
			r = io.NewSectionReader(in.File, 0, in.Size)
		}
		rows, err := conllu.Read(r)
		if err != nil {
			return nil, err
		}
		d := conllu.ToDoc(rows)
		return d, english.Understand(ctx, d)
	}
	if in.File == nil { // a text is taken as it stands: nothing is set aside
		text := strings.ToValidUTF8(string(in.Data), "\ufffd")
		if f == FormatText {
			return &lang.Doc{Text: text}, nil
		}
		d, err := english.Cut(ctx, text, nil, opt)
		if err != nil {
			return nil, err
		}
		return d, english.Understand(ctx, d)
	}
	b, err := ReadBook(ctx, in.Name, in.File, in.Size, progress)
	if err != nil {
		return nil, err
	}
	if f == FormatText {
		return &lang.Doc{Text: b.Text}, nil
	}
	return Analyze(ctx, b, progress)
}

// analysisJSON is the schema of docs/analysis.md.
type analysisJSON struct {
	Layers     []string        `json:"layers"` // those that were run
	Cast       []memberJSON    `json:"cast"`
	Quotations []quotationJSON `json:"quotations"`
	Scenes     []sceneJSON     `json:"scenes"`
	Events     []eventJSON     `json:"events"`
	Skipped    []string        `json:"skipped,omitempty"`
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

type sceneJSON struct {
	Start   int      `json:"start"`
	End     int      `json:"end"`
	Break   string   `json:"break"`
	Place   *string  `json:"place"`
	Present []string `json:"present"`
}

type eventJSON struct {
	Start    int     `json:"start"`
	End      int     `json:"end"`
	Verb     string  `json:"verb"`
	Agent    *string `json:"agent"`
	Patient  *string `json:"patient"`
	Negated  bool    `json:"negated,omitempty"`
	Modality string  `json:"modality,omitempty"`
	Cause    *[2]int `json:"cause"`
	Purpose  *[2]int `json:"purpose"`
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

func writeJSON(w io.Writer, d *lang.Doc) error {
	// Empty lists for layers that ran and found nothing; "layers" tells which ran.
	out := analysisJSON{Cast: []memberJSON{}, Quotations: []quotationJSON{}, Scenes: []sceneJSON{}, Events: []eventJSON{}, Skipped: d.Skipped}
	for _, l := range layerNames {
		if d.Has(l.layer) {
			out.Layers = append(out.Layers, l.name)
		}
	}
	for _, m := range d.Cast {
		j := memberJSON{ID: m.ID, Name: m.Name, Aliases: m.Aliases, Kind: string(m.Kind), Gender: m.Gender, Mentions: [][2]int{}}
		for _, x := range m.Mentions {
			j.Mentions = append(j.Mentions, [2]int{x.Start, x.End})
		}
		out.Cast = append(out.Cast, j)
	}
	for _, q := range d.Quotations {
		out.Quotations = append(out.Quotations, quotationJSON{q.Start, q.End, idOrNull(q.Speaker), idOrNull(q.Addressee), spanOrNull(q.Cue)})
	}
	for _, s := range d.Scenes {
		present := s.Present
		if present == nil {
			present = []string{}
		}
		out.Scenes = append(out.Scenes, sceneJSON{s.Start, s.End, s.Break, idOrNull(s.Place), present})
	}
	for _, e := range d.Events {
		out.Events = append(out.Events, eventJSON{e.Start, e.End, d.Tokens[e.Verb].Lemma, idOrNull(e.Agent), idOrNull(e.Patient), e.Negated, string(e.Modality), spanOrNull(e.Cause), spanOrNull(e.Purpose)})
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	return enc.Encode(out)
}
