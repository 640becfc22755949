package vocabulary

import (
	"fmt"
	"math"
	"strings"
)

// A measure of another time with its size today. Lengths in metres, volumes in
// litres, weights in kilograms, money in pence of the old pound (240 to the
// pound, before 1971); exact by definition where the law defines them (yard
// 0.9144 m and pound 0.45359237 kg, international agreement of 1959), else the
// usual value, from memory.
type measure struct {
	shown, kind string
	size        float64
}

var measures = map[string]measure{
	"league": {"League", "length", 4828}, "furlong": {"Furlong", "length", 201.168}, "fathom": {"Fathom", "length", 1.8288}, "rod": {"Rod", "length", 5.0292},
	"pint": {"Pint", "volume", 0.473}, "quart": {"Quart", "volume", 0.946}, "gill": {"Gill", "volume", 0.118}, "bushel": {"Bushel", "volume", 35.239}, "peck": {"Peck", "volume", 8.81}, "gallon": {"Gallon", "volume", 3.785},
	"stone":  {"Stone", "weight", 6.35},
	"guinea": {"Guinea", "money", 252}, "sovereign": {"Sovereign", "money", 240}, "shilling": {"Shilling", "money", 12}, "sixpence": {"Sixpence", "money", 6}, "halfpenny": {"Halfpenny", "money", 0.5},
	"farthing": {"Farthing", "money", 0.25}, "half-crown": {"Half-crown", "money", 30}, "florin": {"Florin", "money", 24}, "tuppence": {"Tuppence", "money", 2}, "twopence": {"Twopence", "money", 2},
}

var numberWords = map[string]float64{"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "hundred": 100, "half": 0.5}

// measureAt reads a measure at token i and says what it is today.
func (e *engine) measureAt(i, pi int) (form string, end int, t term, ok bool) {
	d := e.passages[pi].Doc
	tok := d.Tokens[i]
	if tok.UPOS != "NOUN" {
		return "", 0, term{}, false
	}
	l := fold(tok.Lemma)
	m, ok := measures[l]
	if !ok {
		return "", 0, term{}, false
	}
	n := 0.0
	if i > 0 {
		n = numberWords[fold(d.Tokens[i-1].Form)]
	}
	if l == "stone" || l == "rod" || l == "peck" || l == "gill" || l == "sovereign" {
		if n < 2 { // the thing, not the measure
			return "", 0, term{}, false
		}
	}
	return l, tok.End, term{m.shown, m.explain(l, n)}, true
}

func (m measure) explain(name string, n float64) string {
	var s string
	switch m.kind {
	case "length":
		s = fmt.Sprintf("An old measure of length, about %s.", lengthToday(m.size))
		if n > 1 {
			s += fmt.Sprintf(" So this is about %s.", lengthToday(n*m.size))
		}
	case "volume":
		s = fmt.Sprintf("A measure for liquids and grain, about %s.", litres(m.size))
	case "weight":
		s = fmt.Sprintf("An English measure of weight, about %.0f pounds.", m.size/0.45359237)
	case "money":
		s = "Old English money: " + moneyToday(name, m.size)
	}
	return strings.TrimSpace(s)
}

func lengthToday(metres float64) string {
	switch {
	case metres >= 1500:
		return fmt.Sprintf("%s miles, or %s kilometers", tidy(metres/1609.344), tidy(metres/1000))
	case metres >= 100:
		return fmt.Sprintf("%s yards, or %s meters", tidy(metres/0.9144), tidy(metres))
	}
	return fmt.Sprintf("%s feet, or %s meters", tidy(metres/0.3048), tidy(metres))
}

func litres(l float64) string {
	if l < 1 {
		return fmt.Sprintf("%s of a liter", map[bool]string{true: "an eighth", false: "half"}[l < 0.2])
	}
	return fmt.Sprintf("%s liters", tidy(l))
}

// tidy rounds to two figures that a child can say.
func tidy(x float64) string {
	if x >= 10 {
		return fmt.Sprintf("%.0f", x)
	}
	if r := math.Round(x*2) / 2; r == math.Trunc(r) {
		return fmt.Sprintf("%.0f", r)
	} else {
		return fmt.Sprintf("%.1f", r)
	}
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
	case "halfpenny":
		return "half a penny; twelve pence made a shilling, and twenty shillings a pound."
	case "farthing":
		return "a quarter of a penny, the smallest coin."
	}
	if s := pence / 12; s >= 1 {
		if s == math.Trunc(s) {
			return fmt.Sprintf("%.0f shillings; twenty shillings made a pound.", s)
		}
		return fmt.Sprintf("%.0f shillings and %.0f pence; twenty shillings made a pound.", math.Trunc(s), pence-12*math.Trunc(s))
	}
	return fmt.Sprintf("%.0f pence; twelve pence made a shilling.", pence)
}
