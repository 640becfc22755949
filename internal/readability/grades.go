package readability

import "math"

// Grades are the school grades, lowest and highest, that a score stands for. A
// low of 0 means "and below"; 13 to 15 is college; a high of 16 means "and above".
type Grades struct{ Low, High int }

// DaleChall1948Grades turns the raw score of 1948 into grades by the authors'
// table, as reprinted by the National Adult Literacy Database: 4.9 and below is
// grade 4 and below, 5.0 to 5.9 grades 5 and 6, up to 10 and above. A score
// between, as 4.95, belongs to the lower line until it reaches the next.
func DaleChall1948Grades(score float64) Grades {
	switch {
	case score < 5:
		return Grades{0, 4}
	case score < 6:
		return Grades{5, 6}
	case score < 7:
		return Grades{7, 8}
	case score < 8:
		return Grades{9, 10}
	case score < 9:
		return Grades{11, 12}
	case score < 10:
		return Grades{13, 15}
	}
	return Grades{16, 16}
}

// DaleChall1995Grades turns the cloze score of 1995, rounded, into grades. The
// table is from memory and was not checked against the book.
func DaleChall1995Grades(cloze float64) Grades {
	switch c := math.Round(cloze); {
	case c >= 58:
		return Grades{0, 1}
	case c >= 54:
		return Grades{2, 2}
	case c >= 50:
		return Grades{3, 3}
	case c >= 45:
		return Grades{4, 4}
	case c >= 40:
		return Grades{5, 6}
	case c >= 34:
		return Grades{7, 8}
	case c >= 28:
		return Grades{9, 10}
	case c >= 22:
		return Grades{11, 12}
	case c >= 16:
		return Grades{13, 15}
	}
	return Grades{16, 16}
}

// Score is one formula's verdict, for showing.
type Score struct {
	Name  string  // "Flesch-Kincaid grade"
	Value float64 // as the formula gives it
	// Grades that it stands for; nil for the reading ease, which names none.
	Grades *Grades
	// Unsure says why the number should be taken with more than usual care, ""
	// when there is no special reason.
	Unsure string
}

// Scores are all formulas that are defined for the text, in a fixed order.
func (c Counts) Scores() []Score {
	if !c.defined() {
		return nil
	}
	short := ""
	if c.Words < 100 {
		short = "The text has fewer than 100 words."
	}
	grade := func(name string, v float64, unsure string) Score {
		g := int(math.Round(math.Max(v, 0)))
		return Score{name, v, &Grades{min(g, 16), min(g, 16)}, unsure}
	}
	smog := short
	if smog == "" && c.Sentences < SMOGSentences {
		smog = "The text has fewer than 30 sentences."
	}
	spache, daleChall := short, short
	if v := c.Spache(); spache == "" && v > 4 {
		spache = "This formula is made for grades 1 to 4."
	}
	old, fresh := DaleChall1948Grades(c.DaleChall1948()), DaleChall1995Grades(c.DaleChall1995())
	if daleChall == "" && old.High <= 4 {
		daleChall = "This formula is made for grade 4 and above."
	}
	return []Score{
		{"Flesch reading ease", c.FleschReadingEase(), nil, short},
		grade("Flesch-Kincaid grade", c.FleschKincaid(), short),
		grade("Spache grade (1974)", c.Spache(), spache),
		{"Dale-Chall score (1948)", c.DaleChall1948(), &old, daleChall},
		{"Dale-Chall cloze score (1995)", c.DaleChall1995(), &fresh, short},
		grade("Coleman-Liau grade", c.ColemanLiau(), short),
		grade("Automated readability index", c.AutomatedReadability(), short),
		grade("SMOG grade", c.SMOG(), smog),
	}
}
