package phonics

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"bookstead/internal/fault"
)

// Feature is something that is taught besides spellings.
type Feature string

const (
	// Blends are consonants side by side in one syllable.
	Blends Feature = "blends"
	// ManySyllables are words of more than one syllable.
	ManySyllables Feature = "syllables"
)

// Step is one step of a sequence.
type Step struct {
	Number   int // from 1
	Name     string
	Spelling []Taught
	Features []Feature
}

// Taught is a correspondence with its key word.
type Taught struct {
	Correspondence
	KeyWord string
}

// Label names it for a teacher: "igh as in night".
func (t Taught) Label() string {
	return strings.ReplaceAll(string(t.Grapheme), "_", "–") + " as in " + t.KeyWord
}

// Sequence is the order in which correspondences are taught.
type Sequence struct {
	Steps    []Step
	at       map[Correspondence]int // the first step that teaches it
	key      map[Correspondence]Taught
	features map[Feature]int
}

//go:embed sequence.txt
var sequenceText string

var usual = sync.OnceValue(func() *Sequence {
	s, err := ReadSequence(sequenceText)
	if err != nil {
		panic(err) // the embedded file is wrong: a defect that every run would show
	}
	return s
})

// UsualSequence is the one that ships, in the usual order of the trade (common
// practice, no source).
func UsualSequence() *Sequence { return usual() }

// SequenceText is the file of the usual sequence, for a teacher to change.
func SequenceText() string { return sequenceText }

// ReadSequence reads a sequence as sequence.txt tells; that file is an example.
// Faults name the line.
func ReadSequence(text string) (*Sequence, error) {
	s := &Sequence{at: map[Correspondence]int{}, key: map[Correspondence]Taught{}, features: map[Feature]int{}}
	wrong := func(n int, hint, format string, args ...any) error {
		return fault.New(fault.Invalid, fmt.Sprintf("Line %d of the spelling steps: ", n)+fmt.Sprintf(format, args...), hint)
	}
	for i, line := range strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n") {
		n := i + 1
		f := strings.Fields(line)
		if len(f) == 0 || strings.HasPrefix(f[0], "#") {
			continue
		}
		if f[0] == "step" {
			name := strings.Join(f[1:], " ")
			if name == "" {
				return nil, wrong(n, "Write a name behind it: step Vowel teams.", "a step has no name.")
			}
			s.Steps = append(s.Steps, Step{Number: len(s.Steps) + 1, Name: name})
			continue
		}
		if len(s.Steps) == 0 {
			return nil, wrong(n, "Begin with a line such as: step Short vowels.", "it stands before the first step.")
		}
		step := &s.Steps[len(s.Steps)-1]
		if name, ok := strings.CutPrefix(f[0], "*"); ok {
			ft := Feature(name)
			if len(f) != 1 || ft != Blends && ft != ManySyllables {
				return nil, wrong(n, "Lines with a star are *blends and *syllables.", "%q is not known.", strings.TrimSpace(line))
			}
			step.Features = append(step.Features, ft)
			if s.features[ft] == 0 {
				s.features[ft] = step.Number
			}
			continue
		}
		if len(f) != 3 {
			return nil, wrong(n, "Write letters, sound and key word: igh AY night.", "%q does not have three parts.", strings.TrimSpace(line))
		}
		t, problem := taught(f)
		if problem != "" {
			return nil, wrong(n, "Write letters, sound and key word: igh AY night.", "%s", problem)
		}
		if was := s.at[t.Correspondence]; was == step.Number {
			return nil, wrong(n, "Take one of the two lines out.", "%s is already taught at this step.", t.Label())
		} else if was == 0 {
			s.at[t.Correspondence], s.key[t.Correspondence] = step.Number, t
		}
		step.Spelling = append(step.Spelling, t)
	}
	if len(s.Steps) == 0 {
		return nil, fault.New(fault.Invalid, "The file has no spelling steps.", "Begin with a line such as: step Short vowels.")
	}
	return s, nil
}

func taught(f []string) (t Taught, problem string) {
	letters := strings.ToLower(f[0])
	for _, r := range letters {
		if (r < 'a' || r > 'z') && r != '_' {
			return t, fmt.Sprintf("%q are not letters.", f[0])
		}
	}
	if letters == "_" || strings.Count(letters, "_") > 1 || strings.Contains(letters, "_") && !strings.HasSuffix(letters, "_e") {
		return t, fmt.Sprintf("%q is not written like a_e.", f[0])
	}
	sound := strings.ToUpper(f[1])
	if sound == "-" {
		sound = ""
	} else {
		for _, p := range strings.Split(sound, "+") {
			if respelled[p] == "" {
				return t, fmt.Sprintf("%q is not a sound.", p)
			}
		}
	}
	return Taught{Correspondence{Grapheme(letters), sound}, f[2]}, ""
}

// StepOf is the number of the step that teaches a correspondence, 0 for none.
func (s *Sequence) StepOf(c Correspondence) int { return s.at[c] }

// Label names a correspondence for a teacher by the key word of the sequence;
// for others by the sound: "ough said uf".
func (s *Sequence) Label(c Correspondence) string {
	if t, ok := s.key[c]; ok {
		return t.Label()
	}
	letters := strings.ReplaceAll(string(c.Grapheme), "_", "–")
	if c.Sound == "" {
		return "silent " + letters
	}
	said := ""
	for _, p := range strings.Split(c.Sound, "+") {
		said += respelled[p]
	}
	return letters + " said " + said
}
