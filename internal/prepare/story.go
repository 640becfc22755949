package prepare

import "bookstead/internal/lang"

// What of docs/analysis.md tells of the story: scenes, events and figures.

type sceneJSON struct {
	Start   int      `json:"start"`
	End     int      `json:"end"`
	Break   string   `json:"break"`
	Cue     *[2]int  `json:"cue"`
	Place   *string  `json:"place"`
	Where   *[2]int  `json:"where"`
	When    *[2]int  `json:"when"`
	Present []string `json:"present"`
}

type eventJSON struct {
	Start      int      `json:"start"`
	End        int      `json:"end"`
	Verb       string   `json:"verb"`
	At         [2]int   `json:"at"`
	Agent      *string  `json:"agent"`
	Patient    *string  `json:"patient"`
	To         *string  `json:"to"`
	Subject    *[2]int  `json:"subject"`
	Object     *[2]int  `json:"object"`
	Recipient  *[2]int  `json:"recipient"`
	Place      *[2]int  `json:"place"`
	Time       *[2]int  `json:"time"`
	With       *[2]int  `json:"with"`
	Negated    bool     `json:"negated,omitempty"`
	Modality   string   `json:"modality,omitempty"`
	Quotation  *int     `json:"quotation"`
	Main       bool     `json:"main,omitempty"`
	Earlier    bool     `json:"earlier,omitempty"`
	Stative    bool     `json:"stative,omitempty"`
	Cause      *[2]int  `json:"cause"`
	Purpose    *[2]int  `json:"purpose"`
	Importance float64  `json:"importance"`
	Reasons    []string `json:"reasons,omitempty"`
}

type linkJSON struct {
	Kind string  `json:"kind"`
	From int     `json:"from"`
	To   int     `json:"to"`
	Cue  *[2]int `json:"cue"`
}

type figureJSON struct {
	Start int     `json:"start"`
	End   int     `json:"end"`
	Kind  string  `json:"kind"`
	Note  string  `json:"note"`
	Score float64 `json:"score"`
}

func roleOrNull(r lang.Role) *[2]int { return spanOrNull(lang.Span{Start: r.Start, End: r.End}) }

// story writes the lists of scenes, events, links and figures.
func (l *lists) story(d *lang.Doc) {
	l.list("scenes", d.Has(lang.LayerScenes), len(d.Scenes), func(i int) any {
		s := &d.Scenes[i]
		present := s.Present
		if present == nil {
			present = []string{}
		}
		return sceneJSON{s.Start, s.End, s.Break, spanOrNull(s.Cue), idOrNull(s.Place), spanOrNull(s.Where), spanOrNull(s.When), present}
	})
	l.list("events", d.Has(lang.LayerEvents), len(d.Events), func(i int) any {
		e := &d.Events[i]
		j := eventJSON{
			Start: e.Start, End: e.End, Verb: e.Lemma, At: [2]int{d.Tokens[e.Verb].Start, d.Tokens[e.Verb].End},
			Agent: idOrNull(e.Agent), Patient: idOrNull(e.Patient), To: idOrNull(e.Recipient.Member),
			Subject: roleOrNull(e.Subject), Object: roleOrNull(e.Object), Recipient: roleOrNull(e.Recipient),
			Place: roleOrNull(e.Place), Time: roleOrNull(e.Time), With: roleOrNull(e.With),
			Negated: e.Negated, Modality: string(e.Modality), Main: e.Main, Earlier: e.Earlier, Stative: e.Stative,
			Cause: spanOrNull(e.Cause), Purpose: spanOrNull(e.Purpose), Importance: e.Importance, Reasons: e.Reasons,
		}
		if e.Saying >= 0 {
			j.Quotation = &e.Saying
		}
		return j
	})
	l.list("links", d.Has(lang.LayerEvents), len(d.Links), func(i int) any {
		x := &d.Links[i]
		return linkJSON{string(x.Kind), x.From, x.To, spanOrNull(x.Cue)}
	})
	l.list("figures", d.Has(lang.LayerFigures), len(d.Figures), func(i int) any {
		x := &d.Figures[i]
		return figureJSON{x.Start, x.End, x.Kind, x.Note, x.Score}
	})
}
