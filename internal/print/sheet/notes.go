package sheet

import (
	"fmt"
	"strconv"

	"bookstead/internal/class"
	"bookstead/internal/lead"
	"bookstead/internal/print"
)

// NotesStyle is the style of what the teacher alone reads: that of grades 3 to
// 6, whatever the class.
func NotesStyle(c class.Class) print.Style {
	c.Grade, c.Settings.LargePrint = 6, false
	s := Style(c)
	s.Text, s.Small = print.Type{Size: print.Points(10), Leading: print.Points(13)}, print.Type{Size: print.Points(9.5), Leading: print.Points(12)}
	s.Headings[0].Type, s.Headings[0].Above = print.Type{Size: print.Points(15), Leading: print.Points(18)}, print.Points(18) // lessons follow each other on the page
	s.Headings[1].Type, s.Headings[1].Above, s.Headings[1].Below = print.Type{Size: print.Points(10), Leading: print.Points(13)}, print.Points(7), print.Points(1)
	s.Gap, s.SmallGap = print.Points(2), print.Points(1)
	return s
}

// Wider gives a child more room to write.
func Wider(s print.Style) print.Style {
	s.Pitch += s.Pitch / 4
	s.Hand += s.Hand / 4
	return s
}

// TeachingNotes are half a page on each lesson, for the teacher.
func TeachingNotes(k Kit, all []lead.Notes) print.Document {
	d := k.document(k.Title+": how to teach each lesson", "For the teacher")
	d.Running.Name = ""
	for _, n := range all {
		name := fmt.Sprintf("Lesson %d", n.Number)
		d.Blocks = append(d.Blocks, print.Heading{Level: 1, Text: text(name), Subtitle: text(n.Title), Bookmark: name + ": " + n.Title})
		if len(n.Words) > 0 {
			d.Blocks = append(d.Blocks, print.Heading{Level: 2, Text: text("The words")})
			var list print.List
			for _, w := range n.Words {
				list.Items = append(list.Items, print.ListItem{Text: join(bold(w.Word+". "), text(w.Advice))})
			}
			d.Blocks = append(d.Blocks, list)
		}
		if len(n.Aloud) > 0 {
			d.Blocks = append(d.Blocks, print.Heading{Level: 2, Text: text("Read it to them first")})
			for _, a := range n.Aloud {
				d.Blocks = append(d.Blocks, print.Paragraph{Kind: print.Quote, Text: text(a.Text), KeepNext: true}, print.Paragraph{Text: italic(a.Why)})
			}
		}
		if t := n.Together; t != nil {
			d.Blocks = append(d.Blocks, print.Heading{Level: 2, Text: text(fmt.Sprintf("Question %d together", t.Number))})
			var list print.List
			for i, s := range t.Steps {
				list.Items = append(list.Items, print.ListItem{Label: strconv.Itoa(i + 1), Text: text(s)})
			}
			d.Blocks = append(d.Blocks, list)
		}
		if len(n.Answers) > 0 {
			d.Blocks = append(d.Blocks, print.Heading{Level: 2, Text: text("What a child may write")})
			var list print.List
			for _, a := range n.Answers {
				list.Items = append(list.Items, print.ListItem{Label: strconv.Itoa(a.Number), Text: text(a.Written)})
			}
			d.Blocks = append(d.Blocks, list)
		}
		if n.Marked != "" {
			d.Blocks = append(d.Blocks, print.Heading{Level: 2, Text: text("For later")}, print.Paragraph{Text: text(n.Marked)})
		}
	}
	return d
}
