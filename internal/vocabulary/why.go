package vocabulary

import (
	"fmt"
	"math"
	"strings"

	"bookstead/internal/difficulty"
)

// why tells the teacher in a sentence or two why a word was chosen. It says
// what the parts of the choice say and nothing else.
func (e *engine) why(c candidate) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s would know it; %s.", share(difficulty.Known(c.hard, e.grade), e.grade), e.howOften(c.lemma))
	if times, next := e.seen.later(c.lemma, c.passage); times > 0 {
		n := e.passages[next].Lesson.Number
		switch times {
		case 1:
			fmt.Fprintf(&b, " It comes once more, in lesson %d.", n)
		default:
			fmt.Fprintf(&b, " It comes %d times more, next in lesson %d.", times, n)
		}
	}
	if c.clue.note != "" {
		b.WriteString(" The text helps to guess it.")
	}
	return b.String()
}

// share tells in words how many of a class know a word, as the measure guesses.
func share(known float64, grade int) string {
	part := "Few in"
	switch {
	case known >= 0.85:
		part = "Nearly all in"
	case known >= 0.65:
		part = "Most in"
	case known >= 0.42:
		part = "About half of"
	case known >= 0.2:
		part = "Some in"
	}
	return fmt.Sprintf("%s grade %d", part, grade)
}

// howOften tells how usual a word is in talk and in old novels.
func (e *engine) howOften(lemma string) string {
	z, _ := e.lex.Zipf(lemma)
	talk := "heard now and then"
	switch {
	case z < 2:
		talk = "hardly ever heard in talk"
	case z < 3:
		talk = "seldom heard in talk"
	case z >= 4:
		talk = "often heard"
	}
	n := int(math.Round(100 * e.lex.BookRange(lemma)))
	switch {
	case n == 0:
		return talk
	case n < 15:
		return fmt.Sprintf("%s, and rare in old novels", talk)
	case z < 3:
		return fmt.Sprintf("%s, but met in %d of 100 old novels", talk, n)
	}
	return fmt.Sprintf("%s, and met in %d of 100 old novels", talk, n)
}
