package vocabulary

import (
	"strconv"
	"strings"

	"bookstead/internal/lang"
)

var numberWords = map[string]float64{"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
	"eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
	"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
	"hundred": 100, "thousand": 1000, "dozen": 12, "score": 20, "a": 1, "an": 1, "half": 0.5, "quarter": 0.25, "couple": 2}

// numberWord is the value of a word or a figure.
func numberWord(w string) (float64, bool) {
	if v, ok := numberWords[w]; ok {
		return v, true
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(w, ",", ""), 64)
	return v, err == nil && v >= 0 && w[0] >= '0' && w[0] <= '9'
}

// numberBefore reads the number that stands before token i: "twenty-five",
// "a hundred and fifty", "two and a half", "half a", "5,000". ok is false when
// there is none; "two or three" gives none, since it is not certain.
func numberBefore(d *lang.Doc, i int) (n float64, ok bool) {
	var words []string
	for j := i - 1; j >= 0 && i-j < 10; j-- {
		w := fold(d.Tokens[j].Form)
		if _, is := numberWord(w); is || w == "and" || w == "of" && len(words) > 0 {
			words = append([]string{w}, words...)
		} else if w == "or" && len(words) > 0 {
			return 0, false
		} else if !hyphen(w) {
			break
		}
	}
	for len(words) > 0 && (words[0] == "and" || words[0] == "of") {
		words = words[1:]
	}
	if len(words) == 0 {
		return 0, false
	}
	return sumOf(words)
}

// sumOf adds number words up as they are said.
func sumOf(words []string) (float64, bool) {
	total, part := 0.0, 0.0
	seen := false
	for k, w := range words {
		v, is := numberWord(w)
		switch {
		case !is: // "and", "of"
		case w == "a" || w == "an":
			if k+1 < len(words) && (words[k+1] == "half" || words[k+1] == "quarter" || words[k+1] == "hundred" || words[k+1] == "thousand" || words[k+1] == "dozen" || words[k+1] == "score" || words[k+1] == "couple") {
				continue // it belongs to the next word
			}
			if k > 0 && (words[k-1] == "half" || words[k-1] == "quarter" || words[k-1] == "of") {
				continue // "half a", "quarter of a"
			}
			if len(words) > 1 && k == 0 && words[1] == "and" { // "a and": no number
				return 0, false
			}
			part, seen = part+1, true
		case v == 100 || v == 12 && w == "dozen" || w == "score":
			part, seen = max(part, 1)*v, true
		case v == 1000 && w == "thousand":
			total, part, seen = total+max(part, 1)*v, 0, true
		default:
			if part > 0 && part < 20 && v >= 1 && v < 20 && w != "half" && (k == 0 || words[k-1] != "and") { // "three four": not one number
				return 0, false
			}
			part, seen = part+v, true
		}
	}
	return total + part, seen
}
