package vocabulary

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bookstead/internal/lang"
)

// A measure of another time or place with its size. Lengths in metres, areas in
// square metres, volumes in litres, weights in kilograms, money in pence of the
// old pound (240 to the pound, before 1971). Exact where the law defines them
// (yard 0.9144 m and pound 0.45359237 kg, international agreement of 1959; US
// gallon 231 cubic inches), else the usual value, from memory.
type measure struct {
	shown string
	kind  string
	size  float64
	// counted: only with a number before it is it the measure ("two stone").
	counted bool
	// daily: children in America know it; only a sum of it is worth a note.
	daily bool
}

const (
	foot  = 0.3048
	yard  = 3 * foot
	mile  = 1609.344
	pound = 0.45359237 // kg
)

var measures = map[string]measure{
	"league": {shown: "League", kind: "length", size: 3 * mile, counted: true}, "furlong": {shown: "Furlong", kind: "length", size: mile / 8},
	"fathom": {shown: "Fathom", kind: "length", size: 6 * foot}, "rod": {shown: "Rod", kind: "length", size: 5.5 * yard, counted: true},
	"cubit": {shown: "Cubit", kind: "length", size: 0.457}, "ell": {shown: "Ell", kind: "length", size: 45.0 / 36 * yard, counted: true},
	"pace": {shown: "Pace", kind: "length", size: 2.5 * foot, counted: true}, "mile": {shown: "Mile", kind: "length", size: mile, counted: true, daily: true},
	"acre":  {shown: "Acre", kind: "area", size: 4046.86},
	"pint":  {shown: "Pint", kind: "volume", size: 0.473, daily: true},
	"quart": {shown: "Quart", kind: "volume", size: 0.946, daily: true}, "gill": {shown: "Gill", kind: "volume", size: 0.118, counted: true},
	"bushel": {shown: "Bushel", kind: "volume", size: 35.239}, "peck": {shown: "Peck", kind: "volume", size: 8.81, counted: true},
	"stone": {shown: "Stone", kind: "weight", size: 14 * pound, counted: true}, "hundredweight": {shown: "Hundredweight", kind: "weight", size: 112 * pound},
	"guinea": {shown: "Guinea", kind: "money", size: 252}, "sovereign": {shown: "Sovereign", kind: "money", size: 240, counted: true},
	"half-sovereign": {shown: "Half-sovereign", kind: "money", size: 120}, "crown": {shown: "Crown", kind: "money", size: 60, counted: true},
	"half-crown": {shown: "Half-crown", kind: "money", size: 30}, "halfcrown": {shown: "Half-crown", kind: "money", size: 30},
	"florin": {shown: "Florin", kind: "money", size: 24}, "shilling": {shown: "Shilling", kind: "money", size: 12},
	"sixpence": {shown: "Sixpence", kind: "money", size: 6}, "groat": {shown: "Groat", kind: "money", size: 4}, "fourpence": {shown: "Fourpence", kind: "money", size: 4},
	"threepence": {shown: "Threepence", kind: "money", size: 3}, "tuppence": {shown: "Twopence", kind: "money", size: 2}, "twopence": {shown: "Twopence", kind: "money", size: 2},
	"ninepence": {shown: "Ninepence", kind: "money", size: 9}, "eightpence": {shown: "Eightpence", kind: "money", size: 8}, "tenpence": {shown: "Tenpence", kind: "money", size: 10},
	"eighteenpence": {shown: "Eighteenpence", kind: "money", size: 18}, "halfpenny": {shown: "Halfpenny", kind: "money", size: 0.5}, "ha'penny": {shown: "Halfpenny", kind: "money", size: 0.5},
	"farthing": {shown: "Farthing", kind: "money", size: 0.25},
}

// measureAt reads a measure at token i and says what it is today.
func (e *engine) measureAt(i int, d *lang.Doc) (term, bool) {
	tok := &d.Tokens[i]
	if tok.UPOS != "NOUN" {
		return term{}, false
	}
	l := fold(tok.Lemma)
	m, ok := measures[l]
	if !ok && strings.HasSuffix(l, "s") {
		l = strings.TrimSuffix(l, "s") // "twopences"
		m, ok = measures[l]
	}
	if !ok || joined(d, i) { // "guinea-pig"
		return term{}, false
	}
	start := i
	if joined(d, i-1) { // "half-crown", "five-mile": the words before the hyphen
		half := wordBeside(d, i-1, -1)
		if whole, is := measures[half+"-"+l]; is {
			m, l, start = whole, half+"-"+l, i-2
		} else if _, number := numberWord(half); !number {
			return term{}, false
		}
	}
	n, counted := numberBefore(d, start)
	if m.counted && (!counted || n == 1 && m.kind != "length") || m.daily && (!counted || n < 2) {
		return term{}, false
	}
	switch next := wordBeside(d, i+1, 1); {
	case l == "guinea" && (strings.HasPrefix(next, "pig") || strings.HasPrefix(next, "fowl") || strings.HasPrefix(next, "hen")),
		(l == "stone" || l == "rod" || l == "crown") && tok.Deprel == "compound",
		l == "stone" && m.kind == "weight" && !heavy(d, i):
		return term{}, false
	}
	return term{key: m.shown, shown: m.shown, explanation: m.explain(l, n)}, true
}

// heavy reports that weight is spoken of near: "he weighs twelve stone", but not
// "three stones lay there".
func heavy(d *lang.Doc, i int) bool {
	for j := max(0, i-12); j < min(len(d.Tokens), i+12); j++ {
		switch fold(d.Tokens[j].Lemma) {
		case "weigh", "weight", "heavy", "ride", "rider", "jockey":
			return true
		}
	}
	return false
}

func (m measure) explain(name string, n float64) string {
	sum := func(f string, args ...any) string {
		if n > 1 {
			return " " + fmt.Sprintf(f, args...)
		}
		return ""
	}
	what := amount(n) + " " + plural(name, n)
	switch m.kind {
	case "length":
		if m.daily {
			return fmt.Sprintf("A mile is about 1.6 kilometers.%s", sum("%s are about %s kilometers.", capital(what), tidy(n*m.size/1000)))
		}
		return fmt.Sprintf("An old measure of length, about %s.%s", lengthToday(m.size), sum("So %s are about %s.", what, lengthToday(n*m.size)))
	case "area":
		return fmt.Sprintf("A measure of land, a little less than a football field.%s", sum("So %s are about %s football fields.", what, tidy(n*m.size/5351)))
	case "volume":
		return fmt.Sprintf("A measure for liquids or grain, about %s.%s", litres(m.size), sum("So %s are about %s.", what, litres(n*m.size)))
	case "weight":
		return fmt.Sprintf("An English measure of weight, %.0f pounds or about %s kilograms.%s", m.size/pound, tidy(m.size), sum("So %s are %.0f pounds.", what, n*m.size/pound))
	}
	s := "Old English money: " + moneyToday(name, m.size)
	if all := poundsAndShillings(n * m.size); n > 1 && all != tidyHalf(n)+" "+plural(name, n) && all != tidyHalf(n*m.size)+" pence" {
		s += fmt.Sprintf(" So %s were %s.", what, all)
	}
	return s
}

// poundsAndShillings writes a sum of pence as people said it.
func poundsAndShillings(pence float64) string {
	if pence < 12 {
		return tidyHalf(pence) + " pence"
	}
	p, rest := math.Trunc(pence/240), math.Mod(pence, 240)
	s, d := math.Trunc(rest/12), math.Mod(rest, 12)
	var parts []string
	add := func(x float64, one, many string) {
		if x > 0 {
			unit := many
			if x == 1 {
				unit = one
			}
			parts = append(parts, tidyHalf(x)+" "+unit)
		}
	}
	add(p, "pound", "pounds")
	add(s, "shilling", "shillings")
	add(d, "penny", "pence")
	return strings.Join(parts, " and ")
}

func tidyHalf(x float64) string { return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64) }

func lengthToday(metres float64) string {
	switch {
	case metres >= 1500:
		return fmt.Sprintf("%s miles, or %s kilometers", tidy(metres/mile), tidy(metres/1000))
	case metres >= 100:
		return fmt.Sprintf("%s yards, or %s meters", tidy(metres/yard), tidy(metres))
	}
	return fmt.Sprintf("%s feet, or %s meters", tidy(metres/foot), tidy(metres))
}

func litres(l float64) string {
	switch {
	case l < 0.2:
		return "an eighth of a liter"
	case l < 0.75:
		return "half a liter"
	case l < 1.2:
		return "one liter"
	}
	return tidy(l) + " liters"
}

// tidy rounds to two figures that a child can say.
func tidy(x float64) string {
	switch {
	case x >= 1000:
		return strconv.Itoa(int(math.Round(x/100) * 100))
	case x >= 100:
		return strconv.Itoa(int(math.Round(x/5) * 5))
	case x >= 10:
		return fmt.Sprintf("%.0f", x)
	}
	return strconv.FormatFloat(math.Round(x*2)/2, 'f', -1, 64)
}

// moneyToday tells a coin in shillings and pence: twelve pence were a shilling
// and twenty shillings a pound.
func moneyToday(name string, pence float64) string {
	switch name {
	case "shilling":
		return "twelve pence; twenty shillings made a pound."
	case "guinea":
		return "twenty-one shillings, one more than a pound."
	case "sovereign":
		return "a gold coin worth one pound, or twenty shillings."
	case "half-sovereign":
		return "a gold coin worth ten shillings, half a pound."
	case "crown":
		return "a silver coin of five shillings; twenty shillings made a pound."
	case "halfpenny", "ha'penny":
		return "half a penny; twelve pence made a shilling, and twenty shillings a pound."
	case "farthing":
		return "a quarter of a penny, the smallest coin."
	}
	if s := pence / 12; s >= 1 {
		return poundsAndShillings(pence) + "; twenty shillings made a pound."
	}
	return fmt.Sprintf("%s pence; twelve pence made a shilling.", tidyHalf(pence))
}

func plural(name string, n float64) string {
	if n <= 1 || strings.HasSuffix(name, "pence") {
		return name
	}
	switch name {
	case "stone", "hundredweight":
		return name
	case "halfpenny":
		return "halfpence"
	}
	return name + "s"
}

// amount writes a number as a text of this kind does: words up to twelve.
func amount(n float64) string {
	words := strings.Fields("zero one two three four five six seven eight nine ten eleven twelve")
	if n == math.Trunc(n) && n >= 0 && int(n) < len(words) {
		return words[int(n)]
	}
	if n == math.Trunc(n) && n >= 1000 {
		s := strconv.Itoa(int(n))
		return s[:len(s)-3] + "," + s[len(s)-3:]
	}
	if f := n - math.Trunc(n); f == 0.5 && n > 1 {
		return strconv.Itoa(int(n)) + "½"
	}
	return strconv.FormatFloat(n, 'f', -1, 64)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
