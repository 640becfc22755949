package question

import (
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// engine is an analysed text with what questions are made from.
type engine struct {
	lex *lexicon.Lexicon
	d   *lang.Doc
	// kids are the tokens that hang on each token, in order.
	kids [][]int
	// sayings are the stretches of direct speech; sayingAt gives each token the
	// index of its saying, -1 in the telling.
	sayings  []saying
	sayingAt []int
	entities []entity
	refs     []reference     // by token
	narrator int             // entity of the "I" of the telling, -1 when it has none
	weight   map[int]float64 // importance of the event whose predicate a token is
	signs    map[int][]string
	unreal   map[int]bool // predicates of what is not told as fact
	sentence []int        // by token
	pastTold bool

	animate  map[string]bool
	lexnames map[string]string
	names    map[int]string
}

func newEngine(lex *lexicon.Lexicon, d *lang.Doc, title string) *engine {
	e := &engine{lex: lex, d: d, kids: make([][]int, len(d.Tokens)), narrator: -1, sentence: make([]int, len(d.Tokens)),
		animate: map[string]bool{}, lexnames: map[string]string{}, names: map[int]string{}, weight: map[int]float64{}, unreal: map[int]bool{}, signs: map[int][]string{}}
	for si, s := range d.Sentences {
		for i := s.First; i < s.Last; i++ {
			e.sentence[i] = si
			if h := d.Tokens[i].Head; h >= s.First && h < s.Last {
				e.kids[h] = append(e.kids[h], i)
			}
		}
	}
	past, present := 0, 0
	for _, t := range d.Tokens {
		switch t.XPOS {
		case "VBD":
			past++
		case "VBZ", "VBP":
			present++
		}
	}
	e.pastTold = past > present
	e.findSayings()
	e.resolve()
	e.findNarrator(title)
	e.attribute()
	if d.Has(lang.LayerEvents) {
		for _, x := range d.Events {
			e.weight[x.Verb] = x.Importance
			e.signs[x.Verb] = x.Reasons
			if x.Modality != lang.Told && x.Saying < 0 {
				e.unreal[x.Verb] = true
			}
		}
	}
	return e
}

func (e *engine) sentenceOf(i int) int { return e.sentence[i] }

// findNarrator makes an entity of the "I" that tells the story: the one for whom
// the book is named, when it is somebody of the cast, else "the narrator".
func (e *engine) findNarrator(title string) {
	i, all := 0, 0
	for k, t := range e.d.Tokens {
		if e.sayingAt[k] < 0 {
			all++
			if t.Form == "I" {
				i++
			}
		}
	}
	rare := 50 // in a page or two, an "I" may be that of speech without marks
	if all > 5000 {
		rare = 120
	}
	if i < 5 || i*rare < all {
		return
	}
	title, _, _ = strings.Cut(title, ":")
	title = strings.TrimSpace(title)
	for x, n := range e.entities {
		if n.member != nil && title != "" && slices.Contains(append(n.member.Aliases, n.member.Name), title) {
			e.narrator = x
			return
		}
	}
	e.narrator = len(e.entities)
	e.names[e.narrator] = "the narrator"
	if title != "" && len(strings.Fields(title)) <= 3 && strings.Count(e.d.Text, title) >= 3 {
		e.names[e.narrator] = title // the book calls its teller so
	}
	e.entities = append(e.entities, entity{at: 0})
}
