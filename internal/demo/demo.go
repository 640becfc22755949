// Package demo is the invented school that the program opens on: two texts
// written for Bookstead, two classes of children who do not exist, and a school
// year. It is plain data and imports nothing of the house, so that what turns
// it into a library and a calendar stays with the use cases.
//
// Start at [Grade4] with [Novel] (nine chapters, for grades 3 to 5) and at
// [Grade1] with [Reader] (scenes without chapters, for grades 1 and 2); both
// classes keep the year of [SchoolYear].
package demo

import _ "embed"

// Files that the texts would have on a teacher's disk, and their titles.
const (
	NovelFile  = "short-by-a-herring.txt"
	NovelTitle = "Short by a Herring"

	ReaderFile  = "the-hen-in-the-red-cart.txt"
	ReaderTitle = "The Hen in the Red Cart"

	// Author stands under both titles.
	Author = "Bookstead"
)

//go:embed novel.txt
var novel string

//go:embed reader.txt
var reader string

// Novel is the novel as a text file: UTF-8, lines of at most 72 columns, a
// blank line between paragraphs, _italics_, four spaces before verse and letter.
func Novel() []byte { return []byte(novel) }

// Reader is the early reader in the same form, its scenes parted by "* * *".
func Reader() []byte { return []byte(reader) }

// School is where both classes are taught.
const School = "Alder Street School"

// Student is one invented child.
type Student struct {
	Name string  // first name and the initial of the last
	WCPM float64 // words correct per minute when last heard, 0 when not yet heard
	Note string  // what a colleague would like to know; never a diagnosis
}

// Class is a group that reads together.
type Class struct {
	Name     string
	Teacher  string
	Grade    int
	Copies   int // of the book at hand
	Minutes  int // for books on a school day
	Students []Student
}

// Grade4 is a class of mixed readers for the novel. It has fewer copies than
// children, as many classes do, so that sharing shows in the plan.
func Grade4() Class {
	return Class{
		Name: "Grade 4", Teacher: "Ms. Okonjo-Reyes", Grade: 4, Copies: 7, Minutes: 60,
		Students: []Student{
			{"Amina H.", 121, "Reads ahead and is glad to be asked what she noticed."},
			{"Caleb T.", 88, "Likes to be the narrator."},
			{"Daniela P.", 96, "Speaks Spanish at home; keeps a list of new words."},
			{"Hiro N.", 143, "Reads fast; slow him down with a why."},
			{"Josiah B.", 61, "Reads best after he has heard a page once."},
			{"Leilani K.", 104, "Does every voice differently."},
			{"Oskar W.", 74, "Sit him near the window; he follows with a card."},
			{"Tala R.", 0, "New in September; not heard yet."},
		},
	}
}

// Grade1 is a small group for the early reader.
func Grade1() Class {
	return Class{
		Name: "Grade 1, blue table", Teacher: "Mr. Lindqvist", Grade: 1, Copies: 5, Minutes: 60,
		Students: []Student{
			{"Asha V.", 34, "Reads to her little brother."},
			{"Benji C.", 12, "Sounds out each word; give him time."},
			{"Mateo G.", 21, "Laughs first, then reads the line again."},
			{"Noor S.", 52, "Ready for longer pages."},
			{"Ruby J.", 17, "Likes to read with a partner."},
		},
	}
}

// Span is a stretch of days, both ends included, written as 2026-08-31.
type Span struct {
	Name        string
	First, Last string
}

// HalfDay is a day with minutes of its own.
type HalfDay struct {
	Name    string
	Date    string
	Minutes int
}

// Year is a school year, Monday to Friday, with nothing between its terms.
type Year struct {
	First, Last string
	Terms       []Span
	DaysOff     []Span
	HalfDays    []HalfDay
}

// SchoolYear is 2026-27 at the invented school. The public holidays fall where
// the United States keeps them; terms, breaks and staff days are made up.
func SchoolYear() Year {
	return Year{
		First: "2026-08-31", Last: "2027-06-11",
		Terms: []Span{
			{"Fall term", "2026-08-31", "2026-11-24"},
			{"Winter term", "2026-11-30", "2027-03-12"},
			{"Spring term", "2027-03-15", "2027-06-11"},
		},
		DaysOff: []Span{
			{"Labor Day", "2026-09-07", "2026-09-07"},
			{"Staff day", "2026-10-09", "2026-10-09"},
			{"Indigenous Peoples’ Day", "2026-10-12", "2026-10-12"},
			{"Veterans Day", "2026-11-11", "2026-11-11"},
			{"Thanksgiving break", "2026-11-25", "2026-11-27"},
			{"Winter break", "2026-12-21", "2027-01-01"},
			{"Martin Luther King Jr. Day", "2027-01-18", "2027-01-18"},
			{"Presidents’ Day", "2027-02-15", "2027-02-15"},
			{"Staff day", "2027-03-12", "2027-03-12"},
			{"Spring break", "2027-04-05", "2027-04-09"},
			{"Memorial Day", "2027-05-31", "2027-05-31"},
		},
		HalfDays: []HalfDay{
			{"Family conferences", "2026-10-22", 30},
			{"Last day before winter break", "2026-12-18", 30},
			{"Last day of school", "2027-06-11", 20},
		},
	}
}
