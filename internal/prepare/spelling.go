package prepare

import (
	"bookstead/internal/class"
	"bookstead/internal/phonics"
)

// SpellingSteps are the names of a class's spelling steps, in order: those of its
// own sequence where that can be read, else the usual ones.
func SpellingSteps(c class.Class) []string {
	seq := phonics.UsualSequence()
	if text := c.Settings.Spelling.Sequence; text != "" {
		if own, err := phonics.ReadSequence(text); err == nil {
			seq = own
		}
	}
	names := make([]string, len(seq.Steps))
	for i, s := range seq.Steps {
		names[i] = s.Name
	}
	return names
}

// SequenceText is the usual sequence as a file to change.
func SequenceText() string { return phonics.SequenceText() }

// validClass says the first thing that is wrong with a class.
func validClass(c class.Class) error {
	if err := c.Validate(); err != nil || c.Settings.Spelling.Sequence == "" {
		return err
	}
	_, err := phonics.ReadSequence(c.Settings.Spelling.Sequence)
	return err
}
