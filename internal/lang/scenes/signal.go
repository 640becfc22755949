package scenes

import (
	"math"
	"strings"

	"bookstead/internal/lang"
)

// The bar that the signals of a break must reach together, and the words that a
// scene must have before the next may begin. Set by reading what is found in six
// children's novels and against the chapters marked in testdata.
const (
	bar      = 0.7
	shortest = 90
	forCast  = 0.5  // times the difference in company
	forTurn  = 0.25 // "presently", "not long after", "when she had finished"
	talking  = -0.6 // speech before and behind
)

// signal is what speaks for a break.
type signal struct {
	kind                    string
	cue                     lang.Span
	time, place, cast, talk float64
	turn                    float64 // a word that goes on to what comes next
}

func (s signal) total() float64 { return s.time + s.place + s.cast + s.talk + s.turn }

// due reports whether a scene of so many words may end here: a day may be told
// in a sentence, but not a place.
func (s signal) due(words int) bool {
	return s.total() >= bar && (words >= shortest || s.time >= 1 && words >= shortest/4)
}

// judge weighs a break before paragraph p of the scene that begins at open.
func (f *finder) judge(open, p int) signal {
	s := f.timeCue(p)
	place, cue := f.placeCue(open, p)
	s.place = place
	s.cast = max(forCast*f.difference(open, p), f.newcomer(open, p))
	s.turn = f.turn(p)
	if f.speaks(f.previous(open, p)) && f.opensWithSpeech(p) {
		s.talk = talking
	}
	switch {
	case s.time >= s.place && s.time >= s.cast:
		s.kind = "time"
	case s.place >= s.cast:
		s.kind, s.cue = "place", cue
	default:
		s.kind, s.cue = "cast", lang.Span{}
	}
	return s
}

// How much words of time weigh at the head of a paragraph.
var timeWeight = func() map[string]float64 {
	m := map[string]float64{}
	for w, list := range map[float64]string{
		1.0: "day morning afternoon evening night week month year spring summer autumn winter fortnight monday tuesday wednesday thursday friday saturday sunday january february march april june july august september october november december christmas midnight dawn daybreak noon sunrise sunset dusk twilight nightfall daylight sun-up sundown to-day today tomorrow to-morrow yesterday season",
		0.8: "breakfast dinner supper luncheon lunch tea bedtime recess school o'clock holiday holidays",
		0.4: "hour minute while",
	} {
		for x := range strings.FieldsSeq(list) {
			m[x] = w
		}
	}
	return m
}()

var awaking = words("awake awaken wake waken")

// timeCue looks for a shift of time at the head of paragraph p.
func (f *finder) timeCue(p int) signal {
	var s signal
	q := &f.paras[p]
	if q.first < 0 {
		return s
	}
	t := f.d.Tokens
	sent := f.d.Sentences[q.first]
	last := min(sent.Last, sent.First+14)
	for i := sent.First; i < last; i++ {
		if f.saying[i] >= 0 {
			return s
		}
		w := strings.ToLower(t[i].Lemma)
		form := strings.ReplaceAll(strings.ToLower(t[i].Form), "’", "'")
		x := timeWeight[w]
		switch {
		case (form == "meanwhile" || form == "meantime") && i < sent.First+4 && s.time < 1:
			s.time, s.cue = 1, lang.Span{Start: t[i].Start, End: t[i].End}
			continue
		case awaking[w] && t[i].UPOS == "VERB" && s.time < 1 && f.somebody(f.tree.Child(i, "nsubj")):
			s.time, s.cue = 1, f.clauseOf(i, sent)
			continue
		}
		if form == "o'clock" {
			x = 0.8
		}
		if x == 0 || t[i].UPOS != "NOUN" && t[i].UPOS != "PROPN" && t[i].UPOS != "ADV" && form != "o'clock" {
			continue
		}
		switch rel := lang.Relation(t[i].Deprel); rel {
		case "obl", "nmod", "advmod", "advcl", "obj", "nsubj", "root", "conj", "ccomp", "dep", "nummod", "appos":
			if rel == "nmod" && t[i].Head > i || rel == "nmod" && !f.timely(t[i].Head) && i > sent.First+3 {
				continue
			}
			if rel == "nsubj" || rel == "obj" || rel == "root" || rel == "ccomp" {
				x *= f.asSubject(i, sent)
			}
		default:
			continue
		}
		// Before the main verb it sets the scene; behind it, it only tells when.
		if v := f.rootOf(i); v >= 0 && v < i && !f.itWas(sent) {
			x *= 0.6
		}
		if w == "year" && i+1 < sent.Last && strings.EqualFold(t[i+1].Form, "old") && !strings.EqualFold(t[sent.First].Form, "when") {
			continue // an age, but "when I was four years old"
		}
		switch d := f.before(i, sent.First); d {
		case "every", "each", "all", "any", "no":
			x *= 0.5
		case "same", "good", "whole":
			x *= 0.3
		}
		if t[i].Deprel == "obl" && w == "while" {
			x *= 0.5
		}
		if x > s.time {
			s.time, s.cue = x, f.phrase(i, sent)
		}
	}
	return s
}

// timely reports whether a token is a word of time too ("the morning of the
// second day", "the rest of that day").
func (f *finder) timely(i int) bool {
	if i < 0 {
		return false
	}
	w := strings.ToLower(f.d.Tokens[i].Lemma)
	return timeWeight[w] > 0 || partsOfTime[w]
}

var partsOfTime = words("rest remainder end middle beginning part close course time")

// turns are openings by which tellers go on to what comes next.
var turns = [][]string{{"presently"}, {"soon"}, {"then"}, {"afterwards"}, {"afterward"}, {"by", "and", "by"}, {"not", "long", "after"}, {"long", "after"}, {"after", "a", "time"}, {"after", "a", "while"}, {"after", "this"},
	{"after", "that"}, {"at", "last"}, {"at", "length"}, {"shortly"}, {"when"}, {"as", "soon", "as"}, {"after"}, {"as"}, {"by", "this", "time"}, {"by", "the", "time"}, {"just", "then"}, {"just", "here"}, {"about", "this", "time"}, {"in", "due", "course"}, {"so"}}

// turn weighs the opening of paragraph p.
func (f *finder) turn(p int) float64 {
	q := &f.paras[p]
	if q.first < 0 || f.opensWithSpeech(p) {
		return 0
	}
	s := f.d.Sentences[q.first]
	at := s.First
	if w := strings.ToLower(f.d.Tokens[at].Form); (w == "and" || w == "but") && at+1 < s.Last {
		at++
	}
	for _, t := range turns {
		n := 0
		for n < len(t) && at+n < s.Last && strings.EqualFold(f.d.Tokens[at+n].Form, t[n]) {
			n++
		}
		if n == len(t) {
			return forTurn
		}
	}
	return 0
}

// asSubject weighs a word of time that is subject, object or predicate: "the
// day came" and "it was evening" shift, "the night was cold" may not.
func (f *finder) asSubject(i int, s lang.Sentence) float64 {
	if f.itWas(s) && i < s.First+9 {
		return 1
	}
	h := f.d.Tokens[i].Head
	if h >= 0 {
		switch strings.ToLower(f.d.Tokens[h].Lemma) {
		case "come", "arrive", "pass", "begin", "break", "fall", "dawn", "go", "follow", "draw":
			return 0.9
		}
	}
	return 0.3
}

// itWas reports whether a sentence opens "It was …".
func (f *finder) itWas(s lang.Sentence) bool {
	return s.First+1 < s.Last && strings.EqualFold(f.d.Tokens[s.First].Form, "it") && strings.EqualFold(f.d.Tokens[s.First+1].Lemma, "be")
}

func (f *finder) rootOf(i int) int {
	for n := 0; i >= 0 && n < 40; n++ {
		if f.d.Tokens[i].Head < 0 {
			return i
		}
		i = f.d.Tokens[i].Head
	}
	return -1
}

// before is the determiner or adjective before token i.
func (f *finder) before(i, first int) string {
	for k := i - 1; k >= max(first, i-3); k-- {
		switch u := f.d.Tokens[k].UPOS; u {
		case "DET", "ADJ":
			if w := strings.ToLower(f.d.Tokens[k].Form); w != "the" {
				return w
			}
		case "NUM":
		default:
			return ""
		}
	}
	return ""
}

// phrase is the words of time around token i: all that hangs on it, with
// "later" or "after" behind it, but no clause.
func (f *finder) phrase(i int, s lang.Sentence) lang.Span {
	t := f.d.Tokens
	for lang.Relation(t[i].Deprel) == "nmod" && t[i].Head >= s.First && t[i].Head < i {
		i = t[i].Head
	}
	if r := lang.Relation(t[i].Deprel); r == "nsubj" || r == "obj" || r == "root" {
		return lang.Span{Start: t[i].Start, End: t[i].End}
	}
	sp := f.tree.Span(i, func(c int) bool {
		r := lang.Relation(t[c].Deprel)
		return r == "acl" || r == "advcl" || r == "cop" || r == "nsubj"
	})
	for z := f.d.TokenAt(sp.End - 1); z+1 < s.Last; z++ {
		switch w := strings.ToLower(t[z+1].Form); w {
		case "later", "after", "afterwards", "afterward", "before", "ago":
			if t[z+1].UPOS == "ADV" {
				sp.End = t[z+1].End
				continue
			}
		}
		break
	}
	return sp
}

// clauseOf is the stretch from the sentence's head to the mark behind token i.
func (f *finder) clauseOf(i int, s lang.Sentence) lang.Span {
	z := i
	for z+1 < s.Last && f.d.Tokens[z+1].UPOS != "PUNCT" && z < i+8 {
		z++
	}
	return lang.Span{Start: f.d.Tokens[s.First].Start, End: f.d.Tokens[z].End}
}

var (
	arriving = words("reach arrive enter return land")
	moving   = words("come go get turn run walk ride drive climb hurry pass cross step journey travel follow lead march fly sail row creep steal slip wander start")
	resting  = words("be sit stand lie stay live work wait play")
	leaving  = words("leave depart vanish disappear sleep retire part")
)

// placeCue weighs whether the company comes to another place at the head of
// paragraph p, or left the last one at the end of the paragraph before.
func (f *finder) placeCue(open, p int) (weight float64, cue lang.Span) {
	q := &f.paras[p]
	if q.first < 0 {
		return 0, cue
	}
	for k := max(0, q.firstEvent); k < q.lastEvent; k++ {
		e := &f.d.Events[k]
		if e.Sentence > q.first+1 || e.Saying >= 0 {
			break
		}
		if e.Negated || e.Modality != lang.Told {
			continue
		}
		if e.Sentence == q.first && f.itWas(f.d.Sentences[e.Sentence]) && f.places.is(f.d, f.refs, e.Verb) && !f.seen(open, p, e.Verb) {
			weight, cue = 0.7, lang.Span{Start: e.Start, End: e.End} // "It was a graveyard …"
			continue
		}
		if e.Agent == "" && !f.personal(e.Subject) {
			continue
		}
		where := e.Place
		if where.None() && arriving[strings.ToLower(f.d.Tokens[e.Verb].Lemma)] {
			where = e.Object
		}
		switch strings.ToLower(f.d.Tokens[f.d.TokenAt(where.Start)].Form) {
		case "from", "out", "over", "off", "through", "past", "along": // not where they come to
			continue
		}
		if where.None() || !f.places.is(f.d, f.refs, where.Head) || f.seen(open, p, where.Head) {
			continue
		}
		x := 0.0
		switch l := strings.ToLower(f.d.Tokens[e.Verb].Lemma); {
		case arriving[l]:
			x = 0.65
		case moving[l], l == "find" && strings.HasSuffix(strings.ToLower(f.d.Text[e.Object.Start:e.Object.End]), "way"):
			x = 0.5
		case resting[l] || e.Stative:
			x = 0.45
		}
		if e.Sentence > q.first {
			x *= 0.6
		}
		if x > weight {
			weight, cue = x, lang.Span{Start: where.Start, End: where.End}
		}
	}
	// Who fell asleep or went away ended the last scene.
	prev := &f.paras[f.previous(open, p)]
	for k := prev.lastEvent - 1; k >= max(0, prev.firstEvent); k-- {
		e := &f.d.Events[k]
		if e.Sentence < prev.last-1 {
			break
		}
		if e.Saying >= 0 || e.Negated || e.Modality != lang.Told {
			continue
		}
		l := strings.ToLower(f.d.Tokens[e.Verb].Lemma)
		asleep := l == "fall" && strings.Contains(strings.ToLower(f.d.Text[e.Start:e.End]), "asleep")
		away := (l == "go" || l == "run" || l == "walk") && !e.Place.None() && strings.Contains(" away out home off bed upstairs downstairs ", " "+strings.ToLower(f.d.Tokens[e.Place.Head].Form)+" ")
		switch {
		case asleep:
			return weight + 0.5, cue
		case leaving[l] || away:
			return weight + 0.3, cue
		}
	}
	return weight, cue
}

// previous is the paragraph with words before p.
func (f *finder) previous(open, p int) int {
	for p--; p > open && f.paras[p].words == 0; {
		p--
	}
	return p
}

var (
	coming  = words("come appear arrive enter approach heave emerge return")
	meeting = words("meet see notice find discover spy")
)

// newcomer weighs whether somebody who was not in the scene comes or is met at
// the head of paragraph p.
func (f *finder) newcomer(open, p int) float64 {
	q := &f.paras[p]
	for k := max(0, q.firstEvent); k < q.lastEvent; k++ {
		e := &f.d.Events[k]
		if e.Sentence > q.first+1 || e.Saying >= 0 {
			break
		}
		if e.Negated || e.Modality != lang.Told || e.Earlier {
			continue
		}
		who, x := "", 0.0
		switch l := strings.ToLower(f.d.Tokens[e.Verb].Lemma); {
		case coming[l]:
			who, x = e.Agent, 0.5
		case meeting[l]:
			who, x = e.Patient, 0.35
		}
		m := f.d.Member(who)
		if m == nil || m.Kind == lang.Place {
			continue
		}
		known := false
		for b := open; b < p && !known; b++ {
			known = f.paras[b].company[who] > 0
		}
		if !known {
			return x
		}
	}
	return 0
}

// personal reports whether a role is somebody, as far as its word tells.
func (f *finder) personal(r lang.Role) bool { return !r.None() && f.somebody(r.Head) }

func (f *finder) somebody(i int) bool {
	if i < 0 {
		return false
	}
	switch strings.ToLower(f.d.Tokens[i].Form) {
	case "i", "he", "she", "we", "they":
		return true
	}
	return f.d.Tokens[i].UPOS == "PROPN" || f.refs[i].Member != nil
}

// seen reports whether a place was named in the last paragraphs of the scene.
func (f *finder) seen(open, p, head int) bool {
	w := strings.ToLower(f.d.Tokens[head].Lemma)
	for b := max(open, p-4); b < p; b++ {
		q := &f.paras[b]
		for s := max(0, q.first); s < q.last; s++ {
			for i := f.d.Sentences[s].First; i < f.d.Sentences[s].Last; i++ {
				if f.d.Tokens[i].UPOS[0] == f.d.Tokens[head].UPOS[0] && strings.EqualFold(f.d.Tokens[i].Lemma, w) {
					return true
				}
			}
		}
	}
	return false
}

// difference is how little the company before and behind a break have in
// common: 1 less the cosine of who is met how often.
func (f *finder) difference(open, p int) float64 {
	const around = 8
	a, b := map[string]float64{}, map[string]float64{}
	for k := max(open, p-around); k < p; k++ {
		for id, n := range f.paras[k].company {
			a[id] += n
		}
	}
	for k := p; k < min(len(f.paras), p+around) && !f.paras[k].heading && !f.paras[k].mark; k++ {
		for id, n := range f.paras[k].company {
			b[id] += n
		}
	}
	dot, na, nb := 0.0, 0.0, 0.0
	for id, x := range a {
		dot += x * b[id]
		na += x * x
	}
	for _, y := range b {
		nb += y * y
	}
	if na < 4 || nb < 4 { // too few to tell
		return 0
	}
	return 1 - dot/math.Sqrt(na*nb)
}

// speaks reports whether there is speech in paragraph p.
func (f *finder) speaks(p int) bool {
	q := &f.paras[p]
	for s := max(0, q.first); s < q.last; s++ {
		for i := f.d.Sentences[s].First; i < f.d.Sentences[s].Last; i++ {
			if f.saying[i] >= 0 {
				return true
			}
		}
	}
	return false
}

func (f *finder) opensWithSpeech(p int) bool {
	q := &f.paras[p]
	return q.first >= 0 && f.saying[f.d.Sentences[q.first].First] >= 0
}

func words(s string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(s) {
		m[w] = true
	}
	return m
}
