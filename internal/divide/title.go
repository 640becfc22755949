package divide

import (
	"fmt"
	"strings"
	"unicode"

	"bookstead/internal/book"
)

var ordinals = [...]string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"}

// piece says which piece of its chapter a stretch is.
func piece(n int) string {
	if n < len(ordinals) {
		return ordinals[n] + " part"
	}
	return fmt.Sprintf("part %d", n+1)
}

// titles names the lessons: "Chapter 3, “The Bell Under the Water”", "Chapters 4
// and 5", "Chapter 6, first part"; for a story without chapters that is cut at
// its scenes alone, "Scene 1", "Scenes 2 to 4".
func (t *table) titles(starts []int) []string {
	pieces := map[int]int{} // chapter to the number of lessons that hold some of it
	for k, i := range starts {
		for c := t.bs[i].Chapter; c <= t.bs[t.stop(starts, k)-1].Chapter; c++ {
			pieces[c]++
		}
	}
	if scenes := t.scenes(starts); scenes != nil {
		return scenes
	}
	nth := map[int]int{}
	out := make([]string, len(starts))
	for k, i := range starts {
		first, last := t.bs[i].Chapter, t.bs[t.stop(starts, k)-1].Chapter
		out[k] = t.title(first, last, func(c int) string {
			if pieces[c] == 1 {
				return ""
			}
			return piece(nth[c])
		})
		nth[first]++
		if last != first {
			nth[last]++
		}
	}
	return out
}

// scenes are the titles of a single untitled chapter cut at its scenes alone,
// nil for other books.
func (t *table) scenes(starts []int) []string {
	one := t.b.Chapters[t.bs[0].Chapter]
	if t.chapters[len(t.bs)] > 1 || one.Number > 0 || one.Title != "" || len(starts) < 2 {
		return nil
	}
	for _, i := range starts[1:] {
		if t.bs[i].Kind != Scene {
			return nil
		}
	}
	out, n := make([]string, len(starts)), 0
	for k, i := range starts {
		first := n + 1
		n++
		for _, b := range t.bs[i+1 : t.stop(starts, k)] {
			if b.Kind == Scene {
				n++
			}
		}
		switch {
		case n == first:
			out[k] = fmt.Sprintf("Scene %d", n)
		case n == first+1:
			out[k] = fmt.Sprintf("Scenes %d and %d", first, n)
		default:
			out[k] = fmt.Sprintf("Scenes %d to %d", first, n)
		}
	}
	return out
}

// title names the lesson that holds the chapters first to last; piece says
// which piece of a chapter it holds, "" for a whole one.
func (t *table) title(first, last int, piece func(chapter int) string) string {
	if first == last {
		if p := piece(first); p != "" {
			return t.name(first, false) + ", " + p
		}
		return t.name(first, true)
	}
	a, z := t.b.Chapters[first], t.b.Chapters[last]
	between := " and "
	if last > first+1 {
		between = " to "
	}
	pa, pz := piece(first), piece(last)
	if pa == "" && pz == "" && word(a) == word(z) && a.Number > 0 && t.numbersRun(first, last) {
		return t.part(first) + fmt.Sprintf("%ss %d%s%d", word(a), a.Number, between, z.Number)
	}
	from, to := t.name(first, false), lowerFirst(t.name(last, false))
	if pa != "" {
		from += ", " + pa + ","
	}
	if pz != "" {
		to += ", " + pz
	}
	return from + between + to
}

// numbersRun reports whether the chapters are numbered one after the other.
func (t *table) numbersRun(first, last int) bool {
	for c := first; c < last; c++ {
		if t.b.Chapters[c+1].Number != t.b.Chapters[c].Number+1 {
			return false
		}
	}
	return true
}

// name is a chapter as a teacher would call it.
func (t *table) name(ci int, withTitle bool) string {
	c := t.b.Chapters[ci]
	title := ""
	if c.Title != "" {
		title = Display(c.Title)
	}
	label := book.Typeset(c.Label)
	if c.Number > 0 {
		label = fmt.Sprintf("%s %d", word(c), c.Number)
	}
	switch {
	case label == "" && title == "":
		switch c.Kind {
		case book.Introduction:
			return "Introduction"
		case book.Conclusion:
			return "Conclusion"
		case book.Story:
			return "A story"
		}
		return "The story"
	case label == "":
		return title
	case withTitle && title != "":
		return t.part(ci) + label + ", “" + title + "”"
	}
	return t.part(ci) + label
}

// part is "Part 2, " where chapter numbers begin again in each part, so that a
// number alone would not tell which chapter is meant.
func (t *table) part(ci int) string {
	c := t.b.Chapters[ci]
	if c.Part < 0 || c.Part >= len(t.b.Parts) {
		return ""
	}
	for i, o := range t.b.Chapters {
		if i != ci && o.Number == c.Number && o.Number > 0 && o.Part != c.Part {
			p := t.b.Parts[c.Part]
			if p.Label == "" {
				return Display(p.Title) + ", "
			}
			return book.Typeset(p.Label) + ", "
		}
	}
	return ""
}

// word is what the book calls its chapters.
func word(c book.Chapter) string {
	if l, ok := book.ParseLabel(c.Label); ok && l.Word != "" {
		return l.Word
	}
	if c.Kind == book.Story {
		return "Story"
	}
	return "Chapter"
}

func lowerFirst(s string) string {
	for _, w := range []string{"Chapter", "Story", "Stave", "Letter", "The story", "Conclusion", "Introduction"} {
		if strings.HasPrefix(s, w) {
			return strings.ToLower(s[:1]) + s[1:]
		}
	}
	return s
}

// smallWords stay lower inside a title that is set in capitals throughout.
var smallWords = map[string]bool{"a": true, "an": true, "the": true, "and": true, "but": true, "or": true, "nor": true,
	"of": true, "in": true, "on": true, "at": true, "to": true, "by": true, "for": true, "from": true, "with": true, "as": true}

// Display is a title for showing: typeset, and a title that the book sets in
// capitals throughout in the letters of a title. Roman numerals stay as they are.
func Display(title string) string {
	s := book.Typeset(strings.Join(strings.Fields(title), " "))
	letters := 0
	for _, r := range s {
		if unicode.IsLower(r) {
			return s
		}
		if unicode.IsUpper(r) {
			letters++
		}
	}
	if letters < 2 {
		return s
	}
	words := strings.Split(s, " ")
	for i, w := range words {
		if bare := strings.Trim(w, ".,:;!?—-“”‘’\"'()"); len(bare) > 1 && strings.Trim(bare, "IVX") == "" {
			continue
		}
		low := strings.ToLower(w)
		if i > 0 && i < len(words)-1 && smallWords[low] && !strings.HasSuffix(words[i-1], ":") {
			words[i] = low
			continue
		}
		words[i] = capitals(low)
	}
	return strings.Join(words, " ")
}

// capitals raises the first letter of a word and of what follows a hyphen or dash.
func capitals(w string) string {
	up := true
	return strings.Map(func(r rune) rune {
		if up && unicode.IsLetter(r) {
			up = false
			return unicode.ToUpper(r)
		}
		if r == '-' || r == '—' || r == '“' || r == '‘' {
			up = true
		}
		return r
	}, w)
}
