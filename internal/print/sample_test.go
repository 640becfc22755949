package print_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"bookstead/internal/print"
	"bookstead/internal/print/fonts"
	"bookstead/internal/print/hyphen"
	"bookstead/internal/print/layout"
	"bookstead/internal/print/pdf"
)

func roman(s string) print.Text  { return print.Plain(s) }
func italic(s string) print.Text { return print.Styled(s, print.Italic) }
func bold(s string) print.Text   { return print.Styled(s, print.Bold) }

func engine(t testing.TB) *layout.Engine {
	t.Helper()
	families, err := fonts.Families()
	if err != nil {
		t.Fatal(err)
	}
	e, err := layout.New(families, func(lang string) print.Hyphenator {
		d, err := hyphen.English(lang)
		if err != nil {
			return nil
		}
		return d
	})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func lay(t testing.TB, doc print.Document, style print.Style) *print.Frames {
	t.Helper()
	f, err := engine(t).Layout(context.Background(), doc, style, nil)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func write(t testing.TB, f *print.Frames, e print.Edition) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := pdf.Write(&buf, f, pdf.Options{Edition: e}); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// TestSample writes a document with everything in it, in each style and
// edition, for looking at: into $SAMPLES, or a temporary folder.
func TestSample(t *testing.T) {
	dir := os.Getenv("SAMPLES")
	if dir == "" {
		dir = t.TempDir()
	}
	for _, c := range []struct {
		name  string
		style print.Style
	}{
		{"standard", print.Standard(print.Letter())}, {"young", print.Young(print.Letter())}, {"large", print.LargePrint(print.A4())},
	} {
		f := lay(t, sample(), c.style)
		if len(f.Pages) < 4 {
			t.Errorf("%s has only %d pages", c.name, len(f.Pages))
		}
		for _, e := range []print.Edition{print.Student, print.Teacher} {
			path := filepath.Join(dir, fmt.Sprintf("%s-%v.pdf", c.name, e))
			if err := os.WriteFile(path, write(t, f, e), 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// sample is a document that holds each kind of block.
func sample() print.Document {
	doc := print.Document{
		Title: "The Ferry at Low Reach: student pages", Creator: "Bookstead", Language: "en-US",
		Date: time.Date(2026, 9, 1, 8, 0, 0, 0, time.UTC),
		Running: print.Running{Left: "The Ferry at Low Reach", Right: "Teacher’s edition", Name: "Name",
			Foot: "Short quotations for use in class."},
	}
	add := func(b ...print.Block) { doc.Blocks = append(doc.Blocks, b...) }
	section := func(s string) { add(print.Heading{Level: 2, Text: roman(s)}) }

	add(print.Heading{Level: 1, Text: roman("Lesson 4"), Subtitle: roman("Chapter 3, “The Bell Under the Water”, pages 27–36")})
	section("Before you read")
	add(print.Paragraph{Text: print.Join(bold("Ferry toll."), roman(" Money paid to be carried over a river. In Wren’s day it was a halfpenny, less than the price of a loaf. A ferryman who was caught taking more could lose his boat, and in some towns the right to keep a ferry was handed down from a father to his children for two hundred years."))})
	add(print.Paragraph{Text: print.Join(bold("Flood bell."), roman(" Villages beside a difficult river hung a bell where the water would reach it first. When the river rose, it rang by itself—and everybody, however comfortable in bed, knew what to do: carry the children, the hens and the flour upstairs, unfasten the animals, and wait for morning."))})
	section("Words from the page")
	add(print.Word{Head: roman("doleful"), Note: roman("adjective"), Sentence: print.Emphasise("“Old Tamsin, who kept the ferry, said it was a doleful sound, like a cow that has lost her calf.”", "doleful", print.Bold), Lines: 1, Answer: roman("mournful; full of sadness"), Mark: "quiz"},
		print.Word{Head: roman("coiling"), Note: roman("verb"), Sentence: print.Emphasise("… coiling the wet rope as neatly as if it were her own white hair.", "coiling", print.Bold), Lines: 1, Answer: roman("winding in rings"), Mark: "test"},
		print.Word{Head: roman("uncomfortable"), Note: roman("adjective"), Sentence: print.Emphasise("It was an uncomfortable silence, and it lasted the whole width of the river.", "uncomfortable", print.Bold), Lines: 1, Answer: roman("not easy; making a person wish to be somewhere else, or to say something that cannot be said"), Mark: "quiz, test"})
	add(print.Heading{Level: 3, Text: roman("Write the letter of the meaning beside each word")},
		print.Matching{
			Prompts: []print.Prompt{{Number: "1", Text: roman("doleful"), Key: "C"}, {Number: "2", Text: roman("coiling"), Key: "A"}, {Number: "3", Text: roman("uncomfortable"), Key: "D"}, {Number: "4", Text: roman("toll"), Key: "B"}},
			Choices: []print.Choice{{Letter: "A", Text: roman("winding in rings")}, {Letter: "B", Text: roman("money paid to use a road, a bridge or a ferry")}, {Letter: "C", Text: roman("mournful; full of sadness")}, {Letter: "D", Text: roman("not easy; making a person wish to be somewhere else")}},
		})
	section("What happened, and why")
	add(print.Question{Number: "1", Text: roman("Why does Wren lie down on the boards of the ferry?"), Lines: 2, Answer: roman("She wants to hear the bell. Tamsin has told her that the river rings it before a flood. (page 29)"), Mark: "test"},
		print.Question{Number: "2", Text: roman("What two things does Tamsin say happened in years when the bell rang?"), Lines: 2, Answer: roman("The mill was swept away; and once it was the year before Wren was born. (page 31)")},
		print.Question{Number: "3", Text: roman("Wren counts the strokes of the pole and then stops counting. What has she noticed, and what does she think that it means for the people who live on the far side of the river?"), Lines: 2, Answer: roman("The strokes are shorter than they were in spring, so the river is shallower than it has ever been. She thinks that something is holding the water back further up, and that whatever holds it may let it go all at once, with nobody on the far side awake to see it come. (pages 33–34)"), Mark: "quiz"},
		print.Question{Number: "4", Text: roman("Who hears the bell first?"), Options: []print.Option{{Text: roman("Wren")}, {Text: roman("Old Tamsin"), Right: true}, {Text: roman("the miller")}, {Text: roman("nobody")}}, Points: "1 point"},
		print.Question{Number: "5", Text: roman("Why is the toll not taken on the last crossing?"), Options: []print.Option{{Text: roman("because it is dark, and Tamsin cannot see the coins")}, {Text: roman("because Tamsin wants Wren to come back and tell her what she finds"), Right: true}, {Text: roman("because the river is low enough to walk across")}}, Points: "2 points"})
	section("Who said it")
	add(print.Question{Number: "6", Text: roman("“A river doesn’t forget. It only takes its time.”"), Detail: italic("Who says this, and to whom?"), Lines: 1, Answer: roman("Tamsin, to Wren (page 30)"), Mark: "quiz"})
	section("Another way of saying")
	add(print.Question{Number: "7", Text: roman("“… as neatly as if it were her own white hair.” What are alike here?"), Lines: 1, Answer: roman("the rope and Tamsin’s hair: both are long, pale and cared for")})
	section("A passage to keep")
	add(print.Paragraph{Kind: print.Quote, Text: roman("There was no bell. There was only the water going by under the boards, on and on, as if it had been told a secret in the hills and was taking it down to the sea without stopping.")},
		print.Paragraph{Kind: print.Verse, Text: roman("Low water, slow water,\nsilver in the sun;\nhigh water, sly water,\nbetter to have run.")})
	section("Fill in")
	add(print.Paragraph{Text: print.Join(roman("Tamsin kept the "), print.Styled("ferry", print.Blank), roman(" for forty years, and took a toll of one "), print.Styled("halfpenny", print.Blank), roman(" from everyone but the children.")), Mark: "test"})
	section("To talk over")
	add(print.Question{Text: roman("Tamsin is sure of something that no one has ever heard. Do you trust her? What in the chapter makes you trust her or doubt her?"), Answer: roman("Listen for reasons from the text: her years on the river; that she does not take the toll.")})
	section("Further on")
	add(print.List{Items: []print.ListItem{{Text: roman("Draw the river as Wren hears it, with the ferry, the mill and the place of the bell.")}, {Text: roman("Find out how a bell is hung so that water can ring it.")}}},
		print.Drawing{Height: print.Millimetres(60), Alt: "A frame to draw the river in"})

	add(print.Heading{Level: 1, Text: roman("Lesson 5"), Subtitle: roman("Chapter 4, “What the Miller Knew”"), NewPage: true, Short: "Lesson 5"})
	section("Words to read")
	add(print.Heading{Level: 3, Text: roman("ea")}, print.Grid{Words: []print.Text{roman("stream"), roman("beak"), roman("leaf"), roman("reach"), roman("bread"), roman("dream"), roman("steady")}})
	add(print.Heading{Level: 2, Text: roman("The week")}, print.Table{
		Columns: []print.Column{{Head: roman("Day"), Share: 3}, {Head: roman("Lesson"), Share: 4}, {Head: roman("What to do"), Share: 10}, {Head: roman("Minutes"), Share: 2, Align: print.Right}},
		Rows: []print.Row{
			{Head: true, Least: print.Millimetres(16), Cells: []print.Cell{{Texts: []print.Text{roman("Mon 7 Sep")}}, {Texts: []print.Text{roman("Lesson 4")}}, {Texts: []print.Text{roman("Background and words"), roman("Reading aloud in turns"), roman("Questions")}}, {Texts: []print.Text{roman("10"), roman("25"), roman("15")}}}},
			{Head: true, Least: print.Millimetres(16), Cells: []print.Cell{{Texts: []print.Text{roman("Tue 8 Sep")}}, {Texts: []print.Text{roman("Lesson 5")}}, {Box: true, Texts: []print.Text{roman("Background"), roman("Silent reading")}}, {Texts: []print.Text{roman("10"), roman("25")}}}},
			{Head: true, Cells: []print.Cell{{Texts: []print.Text{roman("Wed 9 Sep")}}, {Span: 2, Texts: []print.Text{roman("No school")}}, {}}},
		}})
	add(print.Heading{Level: 2, Text: roman("My checklist")}, print.List{Boxes: true, Items: []print.ListItem{{Text: roman("Read chapter 4, pages 37 to 45")}, {Text: roman("Write the meanings of the six words")}, {Text: roman("Answer questions 1 to 5")}}})
	add(print.Matching{Bank: true,
		Prompts: []print.Prompt{{Number: "1", Text: roman("“A river doesn’t forget. It only takes its time.”"), Key: "B"}, {Number: "2", Text: roman("“If it rings, I shall be the last to hear it, because I shall be asleep, and nobody has ever woken a miller before six.”"), Key: "C"}},
		Choices: []print.Choice{{Letter: "A", Text: roman("Wren")}, {Letter: "B", Text: roman("Tamsin")}, {Letter: "C", Text: roman("the miller")}}})
	add(print.Lines{Count: 3}, print.Rule{}, print.Paragraph{Kind: print.Notice, Text: roman("The words quoted from the book are one in two hundred of it. Ask the holder of the rights before copying more; what the law allows in a classroom differs from country to country.")})
	add(print.Cards{Columns: 2, Rows: 5, Cards: []print.Card{
		{Front: roman("doleful"), Detail: roman("Lesson 4"), Back: roman("mournful; full of sadness")}, {Front: roman("coiling"), Detail: roman("Lesson 4"), Back: roman("winding in rings")}, {Front: roman("uncomfortable"), Detail: roman("Lesson 4"), Back: roman("not easy; making a person wish to be somewhere else")}}})
	return doc
}
