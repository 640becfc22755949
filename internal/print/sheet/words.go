package sheet

import (
	"strconv"
	"strings"

	"bookstead/internal/kit"
	"bookstead/internal/print"
)

// marked is a word with the letters between brackets in bold: letter groups are
// told by the weight of the type, not by colour.
func marked(c kit.Content) print.Text {
	if c.Letters == "" {
		return text(c.Head)
	}
	var out print.Text
	rest := c.Letters
	for rest != "" {
		before, after, ok := strings.Cut(rest, "[")
		out = append(out, text(before)...)
		if !ok {
			break
		}
		letters, tail, _ := strings.Cut(after, "]")
		out = append(out, bold(letters)...)
		rest = tail
	}
	return out
}

// line reports a sentence or a phrase to read, rather than a word.
func line(it kit.Item) bool { return it.Content.Sentence != "" && it.Kind == kit.Practice }

// lines are the sentences and phrases to read, below the words.
func (k Kit) lines(items []kit.Item) (out []print.Block) {
	var list print.List
	for _, it := range items {
		if line(it) {
			list.Items = append(list.Items, print.ListItem{Text: text(it.Content.Head)})
		}
	}
	if len(list.Items) == 0 {
		return nil
	}
	return []print.Block{print.Heading{Level: 3, Text: text("Lines to read")}, list}
}

// guess asks what in the text gives a word away; the clues are the teacher's.
func (k Kit) guess(items []kit.Item) []print.Block {
	var clues []string
	for _, it := range items {
		if note := strings.TrimSuffix(strings.TrimPrefix(it.Content.Note, "Clue: "), "."); note != "" {
			clues = append(clues, it.Content.Head+": "+note)
		}
	}
	if len(clues) == 0 {
		return nil
	}
	return []print.Block{print.Question{Text: text("What on the page helps you to guess what a word means?"), Answer: text(strings.Join(clues, "; ") + ".")}}
}

// leastFillIn is how many sentences make an exercise.
const leastFillIn = 3

// fillIn are sentences from elsewhere in the book, each with a gap for one of
// the words.
func (k Kit) fillIn(items []kit.Item) (out []print.Block) {
	var bank []string
	var questions []print.Block
	for _, it := range items {
		c := it.Content
		before, after, ok := strings.Cut(c.Gap, blankMark)
		if !ok || c.GapWord == "" {
			continue
		}
		bank = append(bank, strings.ToLower(c.GapWord))
		questions = append(questions, print.Question{Number: strconv.Itoa(len(questions) + 1),
			Text: join(text(before), print.Styled(c.GapWord, print.Blank), text(after))})
	}
	if len(questions) < leastFillIn || k.young() {
		return nil
	}
	var words print.Text
	for i := range bank { // in another order than the sentences: the last half first
		if i > 0 {
			words = join(words, text(" · "))
		}
		words = join(words, bold(bank[(i+(len(bank)+1)/2)%len(bank)]))
	}
	out = append(out, print.Heading{Level: 3, Text: text("These sentences stand elsewhere in the book: write the missing word")},
		print.Paragraph{Kind: print.Centred, Text: words, KeepNext: true})
	return append(out, questions...)
}

// blankMark is how vocabulary writes a gap.
const blankMark = "______"

// built shows how some of the words are made, and asks which part of speech they
// are; why is the teacher's.
func (k Kit) built(items []kit.Item) (out []print.Block) {
	if k.young() {
		return nil
	}
	var list print.List
	var reasons []string
	for _, it := range items {
		c := it.Content
		if strings.Contains(c.Build, " + ") {
			list.Items = append(list.Items, print.ListItem{Text: join(bold(c.Lemma+": "), text(c.Build))})
		}
		if c.Reason != "" {
			reasons = append(reasons, c.Head+" is "+c.Reason)
		}
	}
	if len(list.Items) > 0 {
		out = append(out, print.Heading{Level: 3, Text: text("How these words are built")}, list)
	}
	if len(reasons) > 1 {
		out = append(out, print.Question{Text: text("Which part of speech is each word, and how can you tell?"), Answer: text(strings.Join(reasons, "; ") + ".")})
	}
	return out
}
