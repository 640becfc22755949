package pace

import (
	"fmt"

	"bookstead/internal/class"
)

// PracticeMinutes is the time for the words to practise before reading in the
// early grades (common practice, no source).
const PracticeMinutes = 5

// leastReading is the time for reading that a day keeps however much else it
// holds: a lesson without reading is none.
const leastReading = 5

// againShare is the part, in percent, that reading once more silently takes of
// the minutes for both: in grades 1 and 2 children read silently about a quarter
// faster than aloud (the medians of [Oral] and [Silent]).
const againShare = 44

// Budget is how the minutes of a usual day with one lesson are shared out.
type Budget struct {
	Day, Vocabulary, Practice, Reading, Again, Questions, Discussion int
}

// For shares out the minutes of a class's day: what background, vocabulary,
// practice, questions and discussion leave is for reading, and for reading again
// where the class does that. When they leave too
// little, reading still gets a third of the day, and a lesson takes more than
// one day.
func For(s class.Settings) Budget {
	b := Budget{Day: s.Minutes, Vocabulary: s.VocabularyMinutes, Questions: s.QuestionMinutes, Discussion: s.DiscussionMinutes}
	if s.Practice {
		b.Practice = PracticeMinutes
	}
	b.Reading = b.Day - b.Vocabulary - b.Practice - b.Questions - b.Discussion
	b.Reading = max(b.Reading, b.Day/3, min(b.Day, leastReading))
	if s.Again && s.Mode != class.Silent {
		b.Again = b.Reading * againShare / 100
		b.Reading -= b.Again
	}
	return b
}

// String says the shares in a sentence.
func (b Budget) String() string {
	return fmt.Sprintf("Of %d minutes a day, up to %d are for reading.", b.Day, b.Reading)
}
