package print

// Type is a size of type and the distance of its baselines.
type Type struct{ Size, Leading Length }

// HeadingStyle is how a level of heading is set.
type HeadingStyle struct {
	Type
	Face         Face
	Above, Below Length
	// Tracking is extra space between letters, for small capitals.
	Tracking Length
}

// Style is the whole look of a document: paper, margins, type and the lines a
// child writes on. Take one of [Standard], [Young] and [LargePrint] and change
// what must differ.
type Style struct {
	Paper                    Paper
	Top, Bottom, Left, Right Length // margins to the text, running head and foot outside
	Family                   string // of the text, by Family.Name
	Text                     Type
	Small                    Type // details, subtitles, running head and foot
	Notice                   Type // the smallest
	Answer                   Type // the teacher's answers on writing lines
	Card                     Type // the word on a card
	Headings                 [3]HeadingStyle
	// Justify sets running text to both margins; otherwise it is ragged right.
	Justify bool
	// Hyphenate divides words at line ends.
	Hyphenate bool
	// OldStyle sets old-style figures in running text where the typeface has them.
	OldStyle bool
	// Gap is the white between blocks, SmallGap that within them.
	Gap, SmallGap Length
	// Indent is the room of a number or a box before its text.
	Indent Length
	// WordColumn is the room of the headword beside its sentence.
	WordColumn Length
	// Pitch is the distance of writing lines. Midline draws a dashed line half
	// way up, to show the height of small letters.
	Pitch   Length
	Midline bool
	// Hand is how much room a child's handwriting takes, in hundredths of the
	// width of the same words in Answer type.
	Hand int
	// MostLines bounds the writing lines that an answer's length asks for. An
	// answer that needs more in type still gets them.
	MostLines int
	// Blank is the least length of a gap to fill in.
	Blank Length
}

// Standard is the style of grades 3 to 6: Literata, justified and hyphenated,
// writing lines 8 mm apart. The sizes are common practice, no source.
func Standard(p Paper) Style {
	return Style{
		Paper: p, Top: Points(76), Bottom: Points(66), Left: Points(74), Right: Points(62),
		Family: "Literata",
		Text:   Type{Points(11.5), Points(16)},
		Small:  Type{Points(10), Points(14)},
		Notice: Type{Points(8), Points(10.5)},
		Answer: Type{Points(10.5), Points(14)},
		Card:   Type{Points(24), Points(30)},
		Headings: [3]HeadingStyle{
			{Type{Points(22), Points(27)}, 0, Points(6), Points(2), 0},
			{Type{Points(12.5), Points(16)}, Bold | SmallCaps, Points(20), Points(6), Points(0.7)},
			{Type{Points(11.5), Points(16)}, Italic, Points(12), Points(3), 0},
		},
		Justify: true, Hyphenate: true, OldStyle: true,
		Gap: Points(8), SmallGap: Points(3),
		Indent: Points(22), WordColumn: Points(104),
		Pitch: Millimetres(8), Hand: 170, MostLines: 6, Blank: Points(72),
	}
}

// Young is the style of grades 1 and 2: Andika, large, ragged and undivided,
// writing lines 15 mm apart with a dashed midline. The sizes are common
// practice, no source.
func Young(p Paper) Style {
	s := Standard(p)
	s.Family = "Andika"
	s.Text = Type{Points(15), Points(23)}
	s.Small = Type{Points(12), Points(17)}
	s.Notice = Type{Points(8.5), Points(11.5)}
	s.Answer = Type{Points(13), Points(18)}
	s.Card = Type{Points(38), Points(48)}
	s.Headings = [3]HeadingStyle{
		{Type{Points(26), Points(34)}, 0, Points(6), Points(2), 0},
		{Type{Points(16), Points(23)}, Bold, Points(24), Points(8), 0},
		{Type{Points(15), Points(23)}, Italic, Points(14), Points(4), 0},
	}
	s.Justify, s.Hyphenate, s.OldStyle = false, false, false
	s.Gap, s.SmallGap = Points(12), Points(4)
	s.Indent, s.WordColumn = Points(30), Points(130)
	s.Pitch, s.Midline = Millimetres(15), true
	s.Hand, s.MostLines, s.Blank = 260, 4, Points(110)
	return s
}

// LargePrint is for a child who reads large type: 18 points, a face made for
// low vision, ragged and undivided, wide writing lines. At least 18 points is
// the size that the American Printing House for the Blind calls large print.
func LargePrint(p Paper) Style {
	s := Standard(p)
	s.Family = "Atkinson Hyperlegible Next"
	s.Left, s.Right = Points(66), Points(54)
	s.Text = Type{Points(18), Points(26)}
	s.Small = Type{Points(18), Points(25)}
	s.Notice = Type{Points(12), Points(16)}
	s.Answer = Type{Points(18), Points(24)}
	s.Card = Type{Points(40), Points(50)}
	s.Headings = [3]HeadingStyle{
		{Type{Points(28), Points(36)}, Bold, Points(6), Points(4), 0},
		{Type{Points(21), Points(28)}, Bold, Points(26), Points(8), 0},
		{Type{Points(18), Points(26)}, Bold, Points(16), Points(4), 0},
	}
	s.Justify, s.Hyphenate, s.OldStyle = false, false, false
	s.Gap, s.SmallGap = Points(13), Points(5)
	s.Indent, s.WordColumn = Points(36), Points(150)
	s.Pitch = Millimetres(13)
	s.Hand, s.MostLines, s.Blank = 130, 6, Points(120)
	return s
}
