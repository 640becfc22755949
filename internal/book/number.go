package book

import (
	"strconv"
	"strings"
)

// maxNumber is the highest number that a heading is believed to state: more
// than any novel has chapters, less than a year.
const maxNumber = 300

var smallNumbers = map[string]int{
	"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
	"eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
	"eighteen": 18, "nineteen": 19, "first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6,
	"seventh": 7, "eighth": 8, "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12, "thirteenth": 13,
	"fourteenth": 14, "fifteenth": 15, "sixteenth": 16, "seventeenth": 17, "eighteenth": 18, "nineteenth": 19,
}

var tens = map[string]int{
	"twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
	"twentieth": 20, "thirtieth": 30, "fortieth": 40, "fiftieth": 50, "sixtieth": 60, "seventieth": 70, "eightieth": 80, "ninetieth": 90,
}

// wordNumber reads a number written out from the front of words, "twenty-one"
// or "twenty" "one" or "third". It returns how many words it took, 0 for none.
func wordNumber(words []string) (n, took int) {
	if len(words) == 0 {
		return 0, 0
	}
	first := strings.ToLower(words[0])
	if n, ok := smallNumbers[first]; ok {
		return n, 1
	}
	if a, b, ok := strings.Cut(first, "-"); ok {
		if t, small := tens[a], smallNumbers[b]; t > 0 && small > 0 && small < 10 {
			return t + small, 1
		}
		return 0, 0
	}
	if first == "hundred" || first == "hundredth" {
		return 100, 1
	}
	t, ok := tens[first]
	if !ok {
		return 0, 0
	}
	if len(words) > 1 {
		if small := smallNumbers[strings.ToLower(words[1])]; small > 0 && small < 10 {
			return t + small, 2
		}
	}
	return t, 1
}

var romanDigits = []struct {
	value int
	sign  string
}{{100, "c"}, {90, "xc"}, {50, "l"}, {40, "xl"}, {10, "x"}, {9, "ix"}, {5, "v"}, {4, "iv"}, {1, "i"}}

// Roman writes n (1 to 399) in Roman numerals, "" outside of that.
func Roman(n int) string {
	if n < 1 || n > 399 {
		return ""
	}
	var sb strings.Builder
	for _, d := range romanDigits {
		for ; n >= d.value; n -= d.value {
			sb.WriteString(d.sign)
		}
	}
	return strings.ToUpper(sb.String())
}

// romanNumber reads a whole word as a Roman numeral, all capitals or all small,
// well formed but for an additive four (IIII, XXXX), which printers also used.
func romanNumber(s string) int {
	if s == "" || len(s) > 12 || s != strings.ToUpper(s) && s != strings.ToLower(s) {
		return 0
	}
	low := strings.ToLower(s)
	n, rest := 0, low
	for _, d := range romanDigits {
		for strings.HasPrefix(rest, d.sign) {
			n, rest = n+d.value, rest[len(d.sign):]
		}
	}
	if rest != "" || n > maxNumber {
		return 0
	}
	if want := strings.ToLower(Roman(n)); want != low {
		loose := strings.NewReplacer("iv", "iiii", "xl", "xxxx")
		if loose.Replace(want) != low {
			return 0
		}
	}
	return n
}

// digitNumber reads a whole word as a plain number from 1 to maxNumber.
func digitNumber(s string) int {
	if n, err := strconv.Atoi(s); err == nil && n > 0 && n <= maxNumber && s[0] != '0' && s[0] != '+' {
		return n
	}
	return 0
}
