package vocabulary

// Weights say how much each part counts when words are chosen. 1 is as we think
// right, 0 leaves the part out, 2 doubles it.
type Weights struct {
	Fit     float64 // difficulty right for the grade
	Worth   float64 // useful beyond this book
	Guess   float64 // the sentence gives it away
	Again   float64 // the book brings it back later
	Variety float64 // of parts of speech in a lesson
	Spread  float64 // through the lesson's pages
}

// UsualWeights weigh all parts as we think right.
func UsualWeights() Weights { return Weights{1, 1, 1, 1, 1, 1} }

// How much each part counts (our choice: difficulty first, since a word that all
// know or none can learn teaches nothing; then its worth; the others decide
// between words alike). A sentence fit to print and a meaning that is certain are
// not for the teacher to weigh.
const (
	fitCounts      = 1.3
	worthCounts    = 1.2
	guessCounts    = 0.8
	againCounts    = 0.4
	sentenceCounts = 0.5
	toldCounts     = 0.6
	toldUnasked    = 0.7  // before the meaning was asked for
	varietyCounts  = 0.08 // for the second of a kind; see crowd in optimum.go
	spreadCounts   = 0.05
)

// of is the value of a candidate with these parts.
func (w Weights) of(p parts) float64 {
	return w.Fit*fitCounts*p.fit + w.Worth*worthCounts*p.worth + w.Guess*guessCounts*p.guess + w.Again*againCounts*p.again + sentenceCounts*p.sentence + toldCounts*p.told
}
