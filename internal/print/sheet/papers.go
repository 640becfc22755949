package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"bookstead/internal/assess"
	"bookstead/internal/kit"
	"bookstead/internal/print"
)

// Papers are quizzes or tests, one after another; drawn for the teacher they
// are the keys.
func Papers(k Kit, title string, papers []assess.Paper) print.Document {
	d := k.document(k.Title+": "+title, "Key")
	for _, p := range papers {
		name := p.Title()
		d.Blocks = append(d.Blocks, print.Heading{Level: 1, Text: text(name), NewPage: true,
			Subtitle: text(fmt.Sprintf("Form %s · %d points", p.Form, p.Points())), Bookmark: name + ", form " + p.Form, Short: name + ", form " + p.Form})
		number := 1
		for _, s := range p.Sections {
			d.Blocks = append(d.Blocks, section(s, &number)...)
		}
	}
	return d
}

func section(s assess.Section, number *int) []print.Block {
	out := []print.Block{print.Heading{Level: 2, Text: text(s.Heading)}, print.Paragraph{Text: italic(s.Task), KeepNext: true}}
	switch s.Kind {
	case assess.Match:
		var m print.Matching
		for _, e := range s.Entries {
			m.Prompts = append(m.Prompts, print.Prompt{Number: next(number), Text: text(e.Prompt), Key: e.Key})
		}
		for i, c := range s.Choices {
			m.Choices = append(m.Choices, print.Choice{Letter: assess.Letter(i), Text: text(c)})
		}
		return append(out, m)
	case assess.Order:
		m := print.Matching{Bank: true} // over the whole measure
		for _, e := range s.Entries {
			m.Prompts = append(m.Prompts, print.Prompt{Text: text(e.Prompt), Key: e.Key})
		}
		return []print.Block{print.Group{Blocks: append(out, m)}}
	case assess.WhoSaid, assess.Fill:
		if len(s.Choices) > 0 {
			var bank print.Text
			for i, c := range s.Choices {
				if i > 0 {
					bank = join(bank, text(" · "))
				}
				bank = join(bank, bold(c))
			}
			out = append(out, print.Paragraph{Kind: print.Centred, Text: bank, KeepNext: true})
		}
	}
	for _, e := range s.Entries {
		prompt := e.Prompt
		if s.Kind == assess.WhoSaid {
			prompt = quoted(prompt)
		}
		if s.Kind == assess.Explain {
			prompt = "What does “" + prompt + "” mean?"
		}
		q := print.Question{Number: next(number), Text: text(prompt), Detail: italic(e.Detail), Lines: e.Lines,
			Answer: text(e.Key), Points: points(e.Points)}
		if len(e.Options) > 0 {
			q.Answer = print.Text{}
			for _, o := range e.Options {
				q.Options = append(q.Options, print.Option{Text: text(o), Right: o == e.Key})
			}
		}
		if len(e.Counts) > 1 {
			q.Source = "a point each: " + strings.Join(e.Counts, "; ")
		}
		out = append(out, q)
	}
	return out
}

func next(n *int) string {
	s := strconv.Itoa(*n)
	*n++
	return s
}

func points(n int) string {
	if n == 1 {
		return "1 point"
	}
	return strconv.Itoa(n) + " points"
}

// Cards are the practice words to cut out, each with the spelling it shows, the
// words of every lesson in order, none twice. A kit without practice words
// gives cards of its vocabulary, with the meaning on the back.
func Cards(k Kit) print.Document {
	d := k.document(k.Title+": word cards", "")
	d.Running.Name = ""
	var cards []print.Card
	seen := map[string]bool{}
	for _, l := range k.Lessons {
		for _, it := range k.printed(l, kit.Practice) {
			if !seen[it.Content.Head] && !line(it) {
				seen[it.Content.Head] = true
				cards = append(cards, print.Card{Front: marked(it.Content), Detail: text(fmt.Sprintf("Lesson %d", l.Number))})
			}
		}
	}
	if len(cards) == 0 {
		for _, l := range k.Lessons {
			for _, it := range k.printed(l, kit.Vocabulary) {
				cards = append(cards, print.Card{Front: text(it.Content.Head), Detail: text(fmt.Sprintf("Lesson %d", l.Number)), Back: text(meaning(it.Content))})
			}
		}
	}
	if len(cards) > 0 {
		d.Blocks = append(d.Blocks, print.Cards{Columns: 2, Rows: 5, Cards: cards})
	}
	return d
}
