package prepare

import (
	"bufio"
	"context"
	"errors"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"bookstead/internal/fault"
	"bookstead/internal/lexicon"
	"bookstead/internal/phonics"
)

// longestWord is the longest line, in bytes, that is read as a word.
const longestWord = 1 << 16

// NotKnown stands for the source of a line that is no word.
const NotKnown = "not known"

// Pronounce reads a word a line and writes a line of TSV for each: the word as
// it stands, source, phones without stress, phones with stress, letters with
// their sounds, syllables, and the first of the usual spelling steps at which the
// word can be read ("-" for none). A line that is no word has [NotKnown] for its
// source and nothing behind it. With predict the model alone is asked.
func Pronounce(ctx context.Context, w io.Writer, r io.Reader, predict bool) error {
	lex, err := lexicon.Open()
	if err != nil {
		return err
	}
	speaker, err := phonics.NewSpeaker(lex)
	if err != nil {
		return err
	}
	steps := phonics.UsualSequence()
	in := bufio.NewScanner(r)
	in.Buffer(nil, longestWord)
	for in.Scan() {
		if err := ctx.Err(); err != nil {
			return err
		}
		word := strings.TrimSpace(strings.ToValidUTF8(strings.TrimPrefix(in.Text(), "\ufeff"), string(utf8.RuneError)))
		if _, err := io.WriteString(w, pronounceLine(speaker, steps, word, predict)); err != nil {
			return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
		}
	}
	if err := in.Err(); errors.Is(err, bufio.ErrTooLong) {
		return fault.Wrap(fault.Unreadable, err, "A line is too long to be a word.", "Give one word on each line.")
	} else if err != nil {
		return fault.Wrap(fault.Unreadable, err, "The words could not be read.", "")
	}
	return nil
}

func pronounceLine(speaker *phonics.Speaker, steps *phonics.Sequence, word string, predict bool) string {
	said, ok := phonics.Spoken{}, false
	if predict {
		said, ok = speaker.Predict(word)
	} else {
		said, ok = speaker.Say(word, phonics.AnyPart)
	}
	word = strings.ReplaceAll(word, "\t", " ")
	if !ok {
		return word + "\t" + NotKnown + "\t\t\t\t\t\n"
	}
	r := steps.Read(word, said.Phones)
	var syllables []string
	for _, s := range phonics.Syllables(word, r.Links) {
		syllables = append(syllables, strings.TrimRight(s.Text, "-"))
	}
	step := "-"
	if r.Step > 0 {
		step = strconv.Itoa(r.Step)
	}
	return strings.Join([]string{word, string(said.Source), strings.Join(said.Plain(), " "), strings.Join(said.Phones, " "),
		r.Links.String(), strings.Join(syllables, "·"), step}, "\t") + "\n"
}
