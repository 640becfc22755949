package txt

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bookstead/internal/book"
	"bookstead/internal/fault"
)

// read reads a made-up text and holds the result to the rules of the model.
func read(t testing.TB, text string) *book.Book {
	t.Helper()
	b, err := Read(context.Background(), "the_pond-2.txt", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Check(); err != nil {
		t.Fatalf("%v\n%q", err, b.Text)
	}
	return b
}

// outlineOf writes chapters one a line: kind, part, label, title, first words.
func outlineOf(b *book.Book) string {
	var sb strings.Builder
	for _, p := range b.Parts {
		fmt.Fprintf(&sb, "part | %s | %s\n", p.Label, p.Title)
	}
	for _, c := range b.Chapters {
		first := b.Slice(book.Span{Start: c.Body, End: c.End})
		first, _, _ = strings.Cut(first, "\n")
		fmt.Fprintf(&sb, "%s %d | %s | %s | %.24s\n", c.Kind, c.Part, c.Label, c.Title, first)
	}
	return sb.String()
}

// prose is a paragraph of n lines that starts with the given words.
func para(start string, n int) string {
	var sb strings.Builder
	sb.WriteString(start + " and then went on along the bank of the wide green pond where\n")
	for range n {
		sb.WriteString("the reeds stood in long rows and the heron waited for what the day would\n")
	}
	return sb.String() + "bring.\n\n"
}

// long is 220 words in one line.
func long(start string) string {
	return start + strings.Repeat("  the reeds stood in rows by the wide green pond", 24) + ".\n"
}

func TestHeadings(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"roman, title on the line": {
			"CHAPTER I. Down the Bank\n\n" + para("Mole woke", 3) + "CHAPTER II. The Reeds\n\n" + para("Rat slept", 3),
			"chapter -1 | Chapter I | Down the Bank | Mole woke and then went \nchapter -1 | Chapter II | The Reeds | Rat slept and then went \n"},
		"word numbers, title on a following line": {
			"CHAPTER ONE\n\nTHE BANK\n\n" + para("Mole woke", 3) + "CHAPTER TWO\n\nTHE P.C. AND P.O.\n\n" + para("Rat slept", 3) + "CHAPTER THREE\n\nHOME.\n\n" + para("Toad ran", 2),
			"chapter -1 | Chapter One | THE BANK | Mole woke and then went \nchapter -1 | Chapter Two | THE P.C. AND P.O. | Rat slept and then went \nchapter -1 | Chapter Three | HOME | Toad ran and then went o\n"},
		"no titles, speech in capitals first": {
			"CHAPTER I\n\n“MOLE!”\n\nNo answer.\n\n" + para("She", 3) + "CHAPTER II\n\n" + para("SATURDAY came", 3) + "CHAPTER III\n\n" + para("Then", 3) + "CONCLUSION\n\n" + para("So ends", 2),
			"chapter -1 | Chapter I |  | “MOLE!”\nchapter -1 | Chapter II |  | SATURDAY came and then w\nchapter -1 | Chapter III |  | Then and then went on al\nconclusion -1 |  | CONCLUSION | So ends and then went on\n"},
		"bare Roman numerals": {
			"I\n\n" + para("Mole woke", 6) + "II\n\n" + para("Rat slept", 6) + "III\n\n" + para("Toad ran", 6),
			"chapter -1 | Chapter I |  | Mole woke and then went \nchapter -1 | Chapter II |  | Rat slept and then went \nchapter -1 | Chapter III |  | Toad ran and then went o\n"},
		"bare numerals with titles, no blank line below": {
			"I  The Old Bank\n" + para("Mole woke", 6) + "II The New Bank\n" + para("Rat slept", 6) + "III The Last Bank\n" + para("Toad ran", 6),
			"chapter -1 | Chapter I | The Old Bank | Mole woke and then went \nchapter -1 | Chapter II | The New Bank | Rat slept and then went \nchapter -1 | Chapter III | The Last Bank | Toad ran and then went o\n"},
		"arabic": {
			"Chapter 1. The Pump\n\n" + para("Mole woke", 3) + "Chapter 2: The Well\n\n" + para("Rat slept", 3),
			"chapter -1 | Chapter 1 | The Pump | Mole woke and then went \nchapter -1 | Chapter 2 | The Well | Rat slept and then went \n"},
		"parts and preface": {
			"PREFACE\n\n" + para("Dear reader", 3) + "PART ONE\n\nTHE WATER\n\nCHAPTER I\n\n" + para("Mole woke", 3) + "CHAPTER II\n\n" + para("Rat slept", 3) + "PART TWO\n\nTHE LAND\n\nCHAPTER I\n\n" + para("Toad ran", 3),
			"part | Part One | THE WATER\npart | Part Two | THE LAND\nintroduction -1 |  | PREFACE | Dear reader and then wen\nchapter 0 | Chapter I |  | Mole woke and then went \nchapter 0 | Chapter II |  | Rat slept and then went \nchapter 1 | Chapter I |  | Toad ran and then went o\n"},
		"only the second part is named": {
			"CHAPTER ONE\n\n" + para("Mole woke", 3) + "\n\n\nTHE POND PART 2\n\nWhat came after...\n\n\nCHAPTER TWO\n\n" + para("Rat slept", 3),
			"part | Part 1 | \npart | Part 2 | \nchapter 0 | Chapter One |  | Mole woke and then went \nchapter 1 | Chapter Two |  | Rat slept and then went \n"},
		"book and numerals": {
			"BOOK I. The Bank\n\nI\n\n" + para("Mole woke", 6) + "II\n\n" + para("Rat slept", 6) + "BOOK II. The Hill\n\nI\n\n" + para("Toad ran", 6) + "II\n\n" + para("Owl flew", 6),
			"part | Book I | The Bank\npart | Book II | The Hill\nchapter 0 | Chapter I |  | Mole woke and then went \nchapter 0 | Chapter II |  | Rat slept and then went \nchapter 1 | Chapter I |  | Toad ran and then went o\nchapter 1 | Chapter II |  | Owl flew and then went o\n"},
		"a wrong number is put right": {
			"CHAPTER I\n\n" + para("a", 3) + "CHAPTER I\n\n" + para("b", 3) + "CHAPTER III\n\n" + para("c", 3),
			"chapter -1 | Chapter I |  | a and then went on along\nchapter -1 | Chapter II |  | b and then went on along\nchapter -1 | Chapter III |  | c and then went on along\n"},
		"numbered sections inside chapters": {
			"CHAPTER I\n\nI\n\n" + para("a", 5) + "II\n\n" + para("b", 5) + "CHAPTER II\n\nI\n\n" + para("c", 5) + "II\n\n" + para("d", 5),
			"chapter -1 | Chapter I |  | I\nchapter -1 | Chapter II |  | I\n"},
		"a contents list gives titles": {
			"THE POND\n\nby A. Heron\n\n\nCONTENTS\n\n  I.   The Bank ........ 1\n  II.  Reeds and\n         Rushes ........ 20\n  III. Home ............ 44\n\n\nCHAPTER I\n\n" + para("Mole woke", 3) + "CHAPTER II\n\n" + para("Rat slept", 3) + "CHAPTER III\n\n" + para("Toad ran", 3) + "THE END\n",
			"front -1 |  |  | THE POND\nfront -1 |  | Contents | CONTENTS\nchapter -1 | Chapter I | The Bank | Mole woke and then went \nchapter -1 | Chapter II | Reeds and Rushes | Rat slept and then went \nchapter -1 | Chapter III | Home | Toad ran and then went o\n"},
		"a contents list without heading": {
			"THE POND\n\nCHAPTER I\n\nCHAPTER II\n\nCHAPTER III\n\n\nCHAPTER I\n\n" + para("Mole woke", 3) + "CHAPTER II\n\n" + para("Rat slept", 3) + "CHAPTER III\n\n" + para("Toad ran", 3),
			"front -1 |  |  | THE POND\nfront -1 |  | Contents | CHAPTER I\nchapter -1 | Chapter I |  | Mole woke and then went \nchapter -1 | Chapter II |  | Rat slept and then went \nchapter -1 | Chapter III |  | Toad ran and then went o\n"},
		"capitals in the text, ordinary letters in the list": {
			"Contents\n\nChapter 1: The Bank\nChapter 2: The Hill\n\nChapter 1\n\nTHE BANK\n\n" + para("Mole woke", 3) + "Chapter 2\n\nTHE HILL\n\n" + para("Rat slept", 3),
			"front -1 |  | Contents | Contents\nchapter -1 | Chapter 1 | The Bank | Mole woke and then went \nchapter -1 | Chapter 2 | The Hill | Rat slept and then went \n"},
		"collection by its list": {
			"CONTENTS\n\nThe Fox\nThe Crow\nThe Mouse\n\nThe Fox\n\n" + para("Once Kit and then Kit", 5) + "The Crow\n\n" + para("Now Bo and so Bo", 5) + "The Mouse\n\n" + para("Here Lu or else Lu", 5),
			"front -1 |  | Contents | CONTENTS\nstory -1 |  | The Fox | Once Kit and then Kit an\nstory -1 |  | The Crow | Now Bo and so Bo and the\nstory -1 |  | The Mouse | Here Lu or else Lu and t\n"},
		"collection by the room around titles": {
			"THE FOX\n\n" + para("Once", 5) + "\n\nTHE CROW\n\n" + para("Now", 5) + "\n\nTHE MOUSE\n\n" + para("Here", 5),
			"story -1 |  | THE FOX | Once and then went on al\nstory -1 |  | THE CROW | Now and then went on alo\nstory -1 |  | THE MOUSE | Here and then went on al\n"},
		"titles alone, a line for each paragraph": {
			"The Bank\n" + long("Mole and Mole") + "Reeds and Rushes\n" + long("Now Mole or Mole") + "Home\n" + long("So Mole met Mole"),
			"chapter -1 |  | The Bank | Mole and Mole the reeds \nchapter -1 |  | Reeds and Rushes | Now Mole or Mole the ree\nchapter -1 |  | Home | So Mole met Mole the ree\n"},
		"one story with scenes": {
			"THE POND\n\nby A. Heron\n\n" + para("Once", 5) + "* * *\n\n" + para("Now", 5) + "***\n\n" + para("Here", 5),
			"front -1 |  |  | THE POND\nchapter -1 |  | The Pond | Once and then went on al\n"},
		"a sentence that begins like a heading": {
			"CHAPTER I\n\n" + para("a", 3) + "Chapter two of my life began on a wet morning.\n\nPart of it was fun.\n\nI.\n\nI am a frog.\n\nCHAPTER II\n\n" + para("b", 3),
			"chapter -1 | Chapter I |  | a and then went on along\nchapter -1 | Chapter II |  | b and then went on along\n"},
		"a letter among the chapters, and a last one without number": {
			"CHAPTER I\n\n" + para("a", 3) + "LETTER I\n\n" + para("x", 3) + "LETTER II\n\n" + para("y", 3) + "CHAPTER II\n\n" + para("b", 3) + "CHAPTER THE LAST\n\n" + para("c", 3),
			"chapter -1 | Chapter I |  | a and then went on along\nchapter -1 | Chapter II |  | b and then went on along\nchapter -1 | Chapter the Last |  | c and then went on along\n"},
		"letters in front of the chapters": {
			"LETTER I\n\n" + para("x", 3) + "LETTER II\n\n" + para("y", 3) + "CHAPTER I\n\n" + para("a", 3) + "CHAPTER II\n\n" + para("b", 3),
			"chapter -1 | Letter I |  | x and then went on along\nchapter -1 | Letter II |  | y and then went on along\nchapter -1 | Chapter I |  | a and then went on along\nchapter -1 | Chapter II |  | b and then went on along\n"},
		"numbered list in the story": {
			"CHAPTER I\n\n" + para("a", 3) + "1. Eat.\n\n2. Sleep.\n\n3. Swim.\n\nCHAPTER II\n\n" + para("b", 3),
			"chapter -1 | Chapter I |  | a and then went on along\nchapter -1 | Chapter II |  | b and then went on along\n"},
		"back matter behind the end": {
			"CHAPTER I\n\n" + para("a", 3) + "CHAPTER II\n\n" + para("b", 3) + "THE END\n\nBuy our other books!\n",
			"chapter -1 | Chapter I |  | a and then went on along\nchapter -1 | Chapter II |  | b and then went on along\nback -1 |  |  | Buy our other books!\n"},
		"early reader: first sentences are no titles": {
			"Chapter 1\n\nSam sat.\n\nSam sat on a mat.\n\nChapter 2\n\nSam ran.\n\nPip ran too.\n\nChapter 3\n\nPip hid.\n\nSam hid.\n",
			"chapter -1 | Chapter 1 |  | Sam sat.\nchapter -1 | Chapter 2 |  | Sam ran.\nchapter -1 | Chapter 3 |  | Pip hid.\n"},
	} {
		if diff := cmp.Diff(c.want, outlineOf(read(t, c.text))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

func TestNotesForTheTeacher(t *testing.T) {
	b := read(t, "CHAPTER I\n\n"+para("a", 3)+"CHAPTER IV\n\n"+para("b", 3)+"CHAPTER V\n\n"+para("c", 3)+"CHAPTER V\n\n"+para("c", 3)+"CHAPTER VII\n\n"+para("c", 3))
	got := strings.Join(b.Notes, "\n")
	for _, want := range []string{
		"Chapter IV follows Chapter I: a chapter may be missing",
		"between Chapter V and Chapter VII as “V”; it is taken as Chapter VI",
		"The file states no title; “The Pond” is taken from its name.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("notes are %q, want %q among them", got, want)
		}
	}
}

func TestTitlePageWithoutAuthor(t *testing.T) {
	story := "CHAPTER I\n\n" + para("a", 3) + "CHAPTER II\n\n" + para("b", 3)
	if got := read(t, "THE LITTLE POND\n\na story\n\n"+story).Title; got != "The Little Pond" {
		t.Errorf("a title in capitals on a page of its own is read as %q", got)
	}
	if got := read(t, "COPYRIGHT 1911\n\n"+story).Title; got != "The Pond" {
		t.Errorf("a line with a year is taken for the title: %q", got)
	}
}

func TestBlocks(t *testing.T) {
	long := "The old pond lay in the hollow of the hill as it had lain for many years, and\n"
	b := read(t, "CHAPTER I\n\n"+long+"its water-\nlilies grew in the waist-\ncoat of reeds--green, and its waistcoat was\n_green_ in_deed_, he thought--\nand said: “_The Old\nPond_ is_ mine.  Yes.”\n\n"+
		"    The frog sat still,\n    The frog sat long,\n      And then he sang\n    A little song.\n\n"+
		"*       *       *\n\n    *       *\n\n"+
		"[Illustration: The frog\nsings]\n\n[Illustration]\n\n"+
		"My dear Mole,\n\nCome to the pond today. "+long+"bring cake.\n\nYour loving friend,\n\nRat\n\n"+
		"    Two lines of a notice that someone had nailed to the old\n    gate were read by all who came.\n\n"+
		"“Dear me!” said Mole.\n\n[Footnote 1: A pond is small.]\n\nCHAPTER II\n\n"+long+"more.\n")
	var got []string
	for _, bl := range b.Blocks {
		got = append(got, string(bl.Kind)+"|"+b.Slice(bl.Span))
	}
	line := strings.TrimSpace(long)
	want := []string{
		"heading|CHAPTER I",
		"paragraph|" + line + " its water-lilies grew in the waistcoat of reeds--green, and its waistcoat was green indeed, he thought--and said: “The Old Pond is_ mine. Yes.”",
		"verse|The frog sat still,\nThe frog sat long,\nAnd then he sang\nA little song.",
		"scenebreak|* * *\n* *",
		"caption|The frog sings",
		"letter|My dear Mole,",
		"letter|Come to the pond today. " + line + " bring cake.",
		"letter|Your loving friend,",
		"letter|Rat",
		"quote|Two lines of a notice that someone had nailed to the old gate were read by all who came.",
		"paragraph|“Dear me!” said Mole.",
		"note|[Footnote 1: A pond is small.]",
		"heading|CHAPTER II",
		"paragraph|" + line + " more.",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	var em []string
	for _, bl := range b.Blocks {
		for _, e := range bl.Emphasis {
			em = append(em, b.Slice(e))
		}
	}
	if diff := cmp.Diff([]string{"green", "deed", "The Old Pond"}, em); diff != "" {
		t.Error(diff)
	}
}

func TestLicence(t *testing.T) {
	b := read(t, "The Project Gutenberg EBook of The Pond, by A. Heron\n\nThis eBook is for the use of anyone.\n\nTitle: The Pond\n       and the Hill\nAuthor: A. Heron\nRelease Date: May 1, 1900\nLanguage: English\n\n"+
		"*** START OF THIS PROJECT GUTENBERG EBOOK THE POND\nAND THE HILL ***\n\n\nProduced by a volunteer\n\n[Transcriber's Note: a long\n\nnote.]\n\nCHAPTER I\n\n"+para("a", 3)+"CHAPTER II\n\n"+para("b", 3)+
		"End of Project Gutenberg's The Pond, by A. Heron\n\n*** END OF THIS PROJECT GUTENBERG EBOOK THE POND ***\n\nSection 1. Terms of use.\n")
	if want := "chapter -1 | Chapter I |  | a and then went on along\nchapter -1 | Chapter II |  | b and then went on along\n"; outlineOf(b) != want {
		t.Errorf("got %s", outlineOf(b))
	}
	if b.Title != "The Pond and the Hill" || b.Author != "A. Heron" || b.Language != "en" {
		t.Errorf("%q by %q in %q", b.Title, b.Author, b.Language)
	}
	aside := strings.Join(b.Setaside, "\n")
	for _, want := range []string{"for the use of anyone", "AND THE HILL ***", "Produced by", "a long", "note.]", "End of Project", "Terms of use"} {
		if !strings.Contains(aside, want) || strings.Contains(b.Text, want) {
			t.Errorf("%q is not set aside: %q", want, aside)
		}
	}
}

func TestTitleAndAuthor(t *testing.T) {
	body := "CHAPTER I\n\n" + para("Alice’s cat and Alice’s hat", 3) + "CHAPTER II\n\n" + para("b", 3)
	for _, c := range []struct{ name, text, title, author string }{
		{"x.txt", "THE POND OF WATER\n\nBY\n\nA. HERON\n\n" + body, "The Pond of Water", "A. Heron"},
		{"x.txt", "The Pond\nby A. Heron\n\n" + body, "The Pond", "A. Heron"},
		{"dir/1234_black_beauty-0.txt", body, "Black Beauty", ""},
		{"alices_hat.txt", body, "Alice’s Hat", ""},
		{"Own Name.txt", body, "Own Name", ""},
	} {
		b, err := Read(context.Background(), c.name, []byte(c.text), nil)
		if err != nil || b.Title != c.title || b.Author != c.author {
			t.Errorf("%s: %q by %q, %v; want %q by %q", c.name, b.Title, b.Author, err, c.title, c.author)
		}
	}
}

func TestParagraphsMarkedOtherwise(t *testing.T) {
	wrapped := "the reeds stood in long rows and the heron waited for the day to come\n"
	indent := "CHAPTER I\n\n"
	for range 30 {
		indent += "  A frog sat there and then went on along the bank of the wide pond where\n" + wrapped + wrapped + "on.\n"
	}
	if n := len(read(t, indent).Blocks); n != 31 {
		t.Errorf("indented first lines: %d blocks, want 31", n)
	}
	long := strings.Repeat("A frog sat there and then went on along the bank of the wide pond. ", 5) + "\n"
	if n := len(read(t, "Chapter 1\n"+long+long+"“Yes.”\n“No.”\n"+long).Blocks); n != 6 {
		t.Errorf("a line for each paragraph: %d blocks, want 6", n)
	}
	b := read(t, "Chapter 1\n\n"+long+"\n"+long+"\nRoses are red\nViolets are blue\n\n"+long)
	if b.Blocks[3].Kind != book.Verse {
		t.Errorf("verse between long lines is %s", b.Blocks[3].Kind)
	}
}

func TestStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Read(ctx, "a.txt", []byte("CHAPTER I\n\nText."), nil); !fault.Is(err, fault.Canceled) {
		t.Errorf("a stopped import gives %v", err)
	}
	if _, err := Read(context.Background(), "a.txt", []byte(" \n\n"), nil); !fault.Is(err, fault.Unreadable) {
		t.Errorf("an empty text gives %v", err)
	}
	last, total := -1, 0
	if _, err := Read(context.Background(), "a.txt", []byte(strings.Repeat("A line.\n\n", 900)), func(done, of int) {
		if done < last || done > of {
			t.Errorf("progress goes from %d to %d of %d", last, done, of)
		}
		last, total = done, of
	}); err != nil || last != total || total == 0 {
		t.Errorf("progress ends at %d of %d, %v", last, total, err)
	}
}
