package phonics

import "strings"

// pull are endings that draw the stress to the syllable before them.
var pull = []string{"tion", "sion", "ic", "ical", "ity", "ious", "eous", "ial", "ian", "ify", "ics", "ically", "cian"}

// onto are endings that are stressed themselves.
var onto = []string{"ee", "eer", "ette", "ese", "esque", "oon", "aire"}

// light are beginnings of two-syllable words that leave the stress to the second
// syllable when their vowel is weak.
var light = []string{"a", "be", "de", "re", "con", "com", "pre", "pro", "ex", "en", "em", "dis", "un", "per", "sub"}

// AddStress puts stress digits on predicted phones by rules. On words of novels
// with the sounds of the dictionary they find the main stress of 89 % of two
// syllables, 73 % of three and 77 % of four.
func AddStress(word string, phones []string) []string {
	out := make([]string, len(phones))
	var vowels []int
	for i, p := range phones {
		out[i] = p
		if isVowelPhone(p) {
			out[i] = p + "0"
			vowels = append(vowels, i)
		}
	}
	if len(vowels) == 0 {
		return out
	}
	k := stressedVowel(word, phones, vowels)
	at := vowels[k]
	out[at] = phones[at] + "1"
	for i, v := range vowels { // a full vowel two or more syllables away is said clearly
		if d := i - k; (d >= 2 || d <= -2) && full(phones[v]) {
			out[v] = phones[v] + "2"
			break
		}
	}
	return out
}

func full(p string) bool { return p != "AH" && p != "ER" && p != "IH" && p != "IY" }

func stressedVowel(word string, phones []string, vowels []int) int {
	n := len(vowels)
	if n == 1 {
		return 0
	}
	for _, e := range onto {
		if strings.HasSuffix(word, e) {
			return n - 1
		}
	}
	for _, e := range pull {
		if strings.HasSuffix(word, e) {
			after := 1
			if e == "ity" || e == "ical" || e == "ically" || e == "ify" || (e == "ian" || e == "ial" || e == "ious" || e == "eous") && phones[vowels[n-1]-1] == "IY" {
				after = 2
			}
			if n > after {
				return n - 1 - after
			}
		}
	}
	weak := func(k int) bool { return phones[vowels[k]] == "AH" || phones[vowels[k]] == "ER" }
	if n == 2 {
		if weak(0) && !weak(1) && phones[vowels[1]] != "IY" {
			return 1
		}
		if full(phones[vowels[1]]) && !full(phones[vowels[0]]) {
			for _, b := range light {
				if strings.HasPrefix(word, b) {
					return 1
				}
			}
		}
		return 0
	}
	heavy := func(k int) bool { // a long vowel, or two consonants behind it
		switch phones[vowels[k]] {
		case "AH", "ER", "IH":
			return false
		case "EY", "IY", "AY", "OW", "UW", "AW", "OY", "AA", "AO":
			return true
		}
		return k+1 < n && vowels[k+1]-vowels[k] > 2
	}
	// The last but one when heavy, as in names from the South; else the one
	// before it; else the first full vowel.
	if n >= 3 && heavy(n-2) && (phones[len(phones)-1] == "OW" || phones[len(phones)-1] == "AH") {
		return n - 2
	}
	k := n - 3
	if n > 3 && weak(k) {
		k = n - 4
	}
	if weak(k) {
		for i := range vowels[:n-1] {
			if !weak(i) {
				return i
			}
		}
	}
	return k
}
