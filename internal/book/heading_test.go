package book

import "testing"

func TestParseLabel(t *testing.T) {
	for _, c := range []struct {
		line, label, rest string
		n                 int
		part              bool
	}{
		{"CHAPTER IV.", "Chapter IV", "", 4, false},
		{"CHAPTER I. Down the Rabbit-Hole", "Chapter I", "Down the Rabbit-Hole", 1, false},
		{"CHAPTER FOUR", "Chapter Four", "", 4, false},
		{"CHAPTER FORTY-SEVEN", "Chapter Forty-Seven", "", 47, false},
		{"Chapter Twenty One", "Chapter Twenty One", "", 21, false},
		{"Chapter 1. The Pump", "Chapter 1", "The Pump", 1, false},
		{"Chapter 12: The Pump, Again", "Chapter 12", "The Pump, Again", 12, false},
		{"CHAPTER I PARIS: SEPTEMBER, 1792", "Chapter I", "PARIS: SEPTEMBER, 1792", 1, false},
		{"CHAPTER I--THE PUMP", "Chapter I", "THE PUMP", 1, false},
		{"CHAPTER I\nThe Pump", "Chapter I", "The Pump", 1, false},
		{"_Chapter I_", "Chapter I", "", 1, false},
		{"CHAP. I.", "Chapter I", "", 1, false},
		{"Chapter i.", "Chapter I", "", 1, false},
		{"CHAPTER THE FIRST", "Chapter the First", "", 1, false},
		{"STAVE ONE: The Ghost", "Stave One", "The Ghost", 1, false},
		{"Letter 3", "Letter 3", "", 3, false},
		{"PART TWO", "Part Two", "", 2, true},
		{"BOOK I", "Book I", "", 1, true},
		{"Book First", "Book First", "", 1, true},
		{"BOOK ONE--The Long Road", "Book One", "The Long Road", 1, true},
		{"Phase the First: The Maiden", "Phase the First", "The Maiden", 1, true},
		{"FIRST PERIOD", "Period the First", "", 1, true},
		{"IV", "Chapter IV", "", 4, false},
		{"IIII.", "Chapter IIII", "", 4, false},
		{"I: My Early Home", "Chapter I", "My Early Home", 1, false},
		{"XIII: “I Am Colin”", "Chapter XIII", "“I Am Colin”", 13, false},
		{"7. Nest Building", "Chapter 7", "Nest Building", 7, false},
		{"2 The Hunt", "Chapter 2", "The Hunt", 2, false},
		{"II The Hunt", "Chapter II", "The Hunt", 2, false},
		{"I  The Old House", "Chapter I", "The Old House", 1, false},
		{"[ 1 ]", "Chapter 1", "", 1, false},
		{"_One_", "Chapter One", "", 1, false},
	} {
		l, ok := ParseLabel(c.line)
		if !ok || l.String() != c.label || l.Rest != c.rest || l.Number != c.n || l.Part != c.part {
			t.Errorf("ParseLabel(%q) = %q %q %d part %v, %v; want %q %q %d part %v", c.line, l, l.Rest, l.Number, l.Part, ok, c.label, c.rest, c.n, c.part)
		}
	}
	for _, line := range []string{
		"", "I am a rather elderly man.", "I Am Born", "I went up. Then I came down.", "1801.--I have just returned from a visit",
		"Chapter one of my life was short.", "Chapter and verse", "Part of it was true.", "book-case", "One day, early in spring",
		"The first book he read", "Mix the flour", "CIVIL", "vivid", "No. 4", "III.--a poem", "Chapter", "6-foot Snodgrass", "4,000 miles",
		"Part", "Volume", "Letters", "The Third Man", "First of all", "ONE OF THEM",
	} {
		if l, ok := ParseLabel(line); ok {
			t.Errorf("ParseLabel(%q) found %+v; it is no label", line, l)
		}
	}
}

func TestRoman(t *testing.T) {
	for n := 1; n <= maxNumber; n++ {
		if got := romanNumber(Roman(n)); got != n {
			t.Fatalf("%s reads as %d, want %d", Roman(n), got, n)
		}
	}
	for _, bad := range []string{"IIX", "VX", "IC", "LL", "Iv", "", "MIX"} {
		if n := romanNumber(bad); n != 0 {
			t.Errorf("%q reads as %d", bad, n)
		}
	}
}

func TestKindOfTitle(t *testing.T) {
	for title, want := range map[string]ChapterKind{
		"PREFACE": Introduction, "Introduction": Introduction, "Preface to the Second Edition": Introduction, "CONCLUSION": Conclusion,
		"Epilogue.": Conclusion, "Contents": Front, "Also by the Author": Front, "About the Author": Back, "TRANSCRIBER’S NOTE": Back,
		"Uncopyright": Back, "The Introduction of the Duke": "", "My Early Home": "", "Notes from a Small Pond": "", "The Map": "",
	} {
		if got, ok := KindOfTitle(title); got != want || ok != (want != "") {
			t.Errorf("KindOfTitle(%q) = %q, %v; want %q", title, got, ok, want)
		}
	}
}

func TestTidyTitle(t *testing.T) {
	for in, want := range map[string]string{
		"A BOARDING\nSCHOOL.": "A BOARDING SCHOOL", "THE P.C. AND P.O.": "THE P.C. AND P.O.", "The Young Adventurers, Ltd.": "The Young Adventurers, Ltd.",
		"What now...": "What now...", "Plan B.": "Plan B.", "  Burdens ": "Burdens", "Stop!": "Stop!",
	} {
		if got := TidyTitle(in); got != want {
			t.Errorf("TidyTitle(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestIsSceneMark(t *testing.T) {
	for _, yes := range []string{"* * *", "  *    *    *", "***", "⁂", "•", "#", "— — —", "______", "-----", "~", "* *", ". . . * . . ."} {
		if !IsSceneMark(yes) {
			t.Errorf("%q is a mark between scenes", yes)
		}
	}
	for _, no := range []string{"", "...", ". . .", "--", "—", "* note", "1", "-", "I"} {
		if IsSceneMark(no) {
			t.Errorf("%q is no mark between scenes", no)
		}
	}
}

func TestWords(t *testing.T) {
	for text, want := range map[string]int{
		"": 0, "one": 1, "said--and": 2, "well-bred": 1, "a—b–c": 3, "* * *": 0, "“ ‘Do": 1, "it's  50 p.m.\nDon’t": 4,
		"thin\u2009space": 2, "no\u00a0break": 2, "---": 0, "W⁠—said": 2,
	} {
		if got := Words(text); got != want {
			t.Errorf("Words(%q) = %d, want %d", text, got, want)
		}
	}
}

func TestMakeID(t *testing.T) {
	for _, c := range [][3]string{
		{"Black Beauty", "Anna Sewell", "black-beauty-anna-sewell"},
		{"Alice’s Adventures", "", "alices-adventures"},
		{"Émile & the Öwls", "", "emile-the-owls"},
	} {
		if got := MakeID(c[0], c[1]); string(got) != c[2] {
			t.Errorf("MakeID(%q, %q) = %q, want %q", c[0], c[1], got, c[2])
		}
	}
	long := "The Very Long and Winding Title of a Book That Would Not Stop Before Its End"
	a, b := MakeID(long+" One", "A"), MakeID(long+" Two", "A")
	if a == b || len(a) > 75 {
		t.Errorf("long titles: %q and %q", a, b)
	}
	if MakeID("Война", "") == MakeID("и мир", "") || MakeID("", "") == "" {
		t.Error("titles without Latin letters share an ID or have none")
	}
}

func TestSeemsCollection(t *testing.T) {
	novel := []string{"Then Anna saw a cat. So Anna ran home.", "Here sat Anna. And Anna sang, and Ben and Ben too.", "Now Anna and Anna slept."}
	tales := []string{"Then Anna saw a cat. So Anna ran home.", "The goat met Tom. The wolf met Tom again.", "There was Kit and there was Kit."}
	if SeemsCollection(novel) {
		t.Error("one name runs through the novel")
	}
	if !SeemsCollection(tales) {
		t.Error("no name runs through the tales")
	}
	if SeemsCollection(tales[:1]) {
		t.Error("one text is no collection")
	}
}
