package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

type wordsCmd struct {
	Book  string `arg:"" help:"The book: an EPUB or a plain text file." type:"path"`
	Grade int    `help:"The grade to choose for, 1 to 6." default:"4"`
	Words int    `help:"Vocabulary words of a lesson; 0 for what is usual in the grade." default:"0"`
	List  string `help:"A file with your own words, one a line, with a meaning behind a colon or without." placeholder:"FILE" type:"path"`
	Had   string `help:"A file with words that the class had before, one a line: they are left out." placeholder:"FILE" type:"path"`
	Steps string `help:"A file of your own spelling steps." placeholder:"FILE" type:"path"`
	Step  int    `help:"The spelling step that the class has reached; 0 for what is usual in the grade." default:"0"`
	JSON  bool   `help:"Write one JSON object for each lesson, one a line." name:"json"`
	Quiet bool   `help:"No progress bar."`
}

// Help is shown by "bookstead words --help".
func (wordsCmd) Help() string {
	return `Chooses the vocabulary of a book and says why: for each lesson the words with
their meaning, their sentence, the reason and the clue that the text gives; the
background notes; in the early grades the words and lines to practise; and how
much of the lesson the class can read by its letters.

With --json each line is one lesson:
  {"lesson", "title", "words": [{"word", "lemma", "partOfSpeech", "meaning",
  "synonym", "sense", "sentence", "why", "clue", "gap", "gapWord", "build",
  "reason", "start", "end"}], "spare": [the same], "background": [{"term",
  "explanation", "why", "start", "end"}], "practice": [{"word", "letters",
  "pattern"}], "lines": [text], "decodable": {"words", "decodable"},
  "missing": [{"label", "step", "times", "words"}], "new": [{"label", "step",
  "word"}]}
Offsets are half-open, in bytes of the book's text (bookstead analyze --format
text); "sense" is a key of WordNet 3.1.

Example:
  bookstead words my-novel.epub --grade 3 --words 5 --had last-book.txt`
}

func (c wordsCmd) class() (class.Class, error) {
	cl := class.Class{ID: "cli", Name: fmt.Sprintf("Grade %d", c.Grade), Grade: c.Grade, Settings: class.Defaults(c.Grade)}
	cl.Calendar = calendar.PlainYear(calendar.Of(2000, 1, 3), cl.Settings.Minutes)
	if c.Words > 0 {
		cl.Settings.Words = c.Words
	}
	if c.Steps != "" {
		text, err := readText(c.Steps)
		if err != nil {
			return cl, err
		}
		cl.Settings.Spelling.Sequence = text
	}
	if c.Step != 0 {
		cl.Settings.Spelling.Standing = []class.Standing{{Since: 1, Step: c.Step}}
	}
	if c.Had != "" {
		text, err := readText(c.Had)
		if err != nil {
			return cl, err
		}
		for _, w := range prepare.ReadOwnWords(text) {
			cl.Had = append(cl.Had, class.Had{Word: w.Word})
		}
	}
	if err := cl.Validate(); err != nil {
		return cl, err
	}
	return cl, prepare.CheckSpelling(cl)
}

// mostList is the size, in bytes, of the largest file that is taken for a list.
const mostList = 1 << 20

func readText(path string) (string, error) {
	f, _, err := openFile(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostList+1))
	if err != nil {
		return "", fault.Wrap(fault.Unreadable, err, fmt.Sprintf("%q cannot be read.", path), "")
	}
	if len(data) > mostList {
		return "", fault.New(fault.Invalid, fmt.Sprintf("%q is too long for a list.", path), "Give one word on each line.")
	}
	return strings.ToValidUTF8(string(data), "\ufffd"), nil
}

// Run chooses words.
func (c wordsCmd) Run(r *runContext) error {
	cl, err := c.class()
	if err != nil {
		return err
	}
	f, st, err := openFile(c.Book)
	if err != nil {
		return err
	}
	defer f.Close()
	var own []kit.OwnWord
	if c.List != "" {
		text, err := readText(c.List)
		if err != nil {
			return err
		}
		own = prepare.ReadOwnWords(text)
	}
	bar := newBar(r.Err, !c.Quiet && !c.JSON)
	p, err := prepare.WordsOf(r.ctx, f, st.Size(), filepath.Base(c.Book), cl, own, bar.at)
	bar.done()
	if err != nil {
		return err
	}
	reading, err := p.Reading("")
	if err != nil {
		return err
	}
	if c.JSON {
		enc := json.NewEncoder(r.Out)
		enc.SetEscapeHTML(false)
		for i, l := range p.Lessons {
			if err := enc.Encode(wordsOf(l, reading.Lessons[i])); err != nil {
				return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
			}
		}
		return nil
	}
	return tellWords(r.Out, p, reading)
}

type wordJSON struct {
	Word         string `json:"word"`
	Lemma        string `json:"lemma,omitempty"`
	PartOfSpeech string `json:"partOfSpeech,omitempty"`
	Meaning      string `json:"meaning,omitempty"`
	Synonym      string `json:"synonym,omitempty"`
	Sense        string `json:"sense,omitempty"`
	Sentence     string `json:"sentence,omitempty"`
	Why          string `json:"why"`
	Clue         string `json:"clue,omitempty"`
	Gap          string `json:"gap,omitempty"`
	GapWord      string `json:"gapWord,omitempty"`
	Build        string `json:"build,omitempty"`
	Reason       string `json:"reason,omitempty"`
	Warning      string `json:"warning,omitempty"`
	Start        int    `json:"start"`
	End          int    `json:"end"`
}

type noteJSON struct {
	Term        string `json:"term"`
	Explanation string `json:"explanation"`
	Why         string `json:"why"`
	Start       int    `json:"start"`
	End         int    `json:"end"`
}

type practiceJSON struct {
	Word    string `json:"word"`
	Letters string `json:"letters,omitempty"`
	Pattern string `json:"pattern"`
}

type hurdleJSON struct {
	Label string   `json:"label"`
	Step  int      `json:"step"`
	Times int      `json:"times"`
	Words []string `json:"words,omitempty"`
}

type lessonWordsJSON struct {
	Lesson     int            `json:"lesson"`
	Title      string         `json:"title"`
	Words      []wordJSON     `json:"words"`
	Spare      []wordJSON     `json:"spare,omitempty"`
	Background []noteJSON     `json:"background,omitempty"`
	Practice   []practiceJSON `json:"practice,omitempty"`
	Lines      []string       `json:"lines,omitempty"`
	Decodable  struct {
		Words     int `json:"words"`
		Decodable int `json:"decodable"`
	} `json:"decodable"`
	Missing []hurdleJSON `json:"missing,omitempty"`
	New     []hurdleJSON `json:"new,omitempty"`
}

func wordsOf(l kit.Prepared, reading prepare.LessonReading) lessonWordsJSON {
	out := lessonWordsJSON{Lesson: l.Number, Title: l.Title, Words: []wordJSON{}}
	for _, it := range l.Items {
		c := it.Content
		switch {
		case it.Kind == kit.Vocabulary:
			w := wordJSON{c.Head, c.Lemma, c.PartOfSpeech, c.Meaning, c.Synonym, c.Sense, c.Sentence, it.Why, c.Note, c.Gap, c.GapWord, c.Build, c.Reason, it.Warning, it.Place.Start, it.Place.End}
			if it.Spare {
				out.Spare = append(out.Spare, w)
			} else {
				out.Words = append(out.Words, w)
			}
		case it.Spare:
		case it.Kind == kit.Background:
			out.Background = append(out.Background, noteJSON{c.Head, c.Answer, it.Why, it.Place.Start, it.Place.End})
		case it.Kind == kit.Practice && c.Sentence != "":
			out.Lines = append(out.Lines, c.Head)
		case it.Kind == kit.Practice:
			out.Practice = append(out.Practice, practiceJSON{c.Head, c.Letters, c.Pattern})
		}
	}
	out.Decodable.Words, out.Decodable.Decodable = reading.Share.Words, reading.Share.Decodable
	for _, h := range reading.Missing {
		out.Missing = append(out.Missing, hurdleJSON{h.Label, h.Step, h.Times, h.Words})
	}
	for _, m := range reading.New {
		out.New = append(out.New, hurdleJSON{Label: m.Label, Step: m.Step, Times: m.Times, Words: []string{m.Word}})
	}
	return out
}

// tellWords writes the words for a person.
func tellWords(w io.Writer, p *prepare.Prepared, reading prepare.Reading) error {
	var err error
	say := func(format string, args ...any) {
		if err == nil {
			_, err = fmt.Fprintf(w, format+"\n", args...)
		}
	}
	guessed := ""
	if reading.Guessed {
		guessed = ", as is usual in the grade"
	}
	say("%s. At spelling step %d (%s)%s, %.0f %% of its words can be read by their letters or by heart.", p.Book.Title, reading.Step, reading.StepName, guessed, 100*reading.Book.Part())
	for i, l := range p.Lessons {
		j := wordsOf(l, reading.Lessons[i])
		say("\nLesson %d, %s", j.Lesson, j.Title)
		for _, b := range j.Background {
			say("  before reading  %s: %s", b.Term, b.Explanation)
		}
		for _, x := range j.Words {
			meaning := x.Meaning
			if x.Synonym != "" && x.Synonym != meaning {
				meaning = x.Synonym + "; " + meaning
			}
			say("  %s (%s): %s", x.Word, x.PartOfSpeech, meaning)
			say("      %s", x.Sentence)
			say("      %s %s", x.Why, x.Clue)
		}
		var practice []string
		for _, x := range j.Practice {
			practice = append(practice, x.Word)
		}
		if len(practice) > 0 {
			say("  to practice: %s", strings.Join(practice, ", "))
		}
		if len(j.Missing) > 0 && reading.Lessons[i].Share.Part() < 0.98 {
			say("  can be read: %.0f %%; most in the way: %s", 100*reading.Lessons[i].Share.Part(), j.Missing[0].Label)
		}
	}
	return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
}
