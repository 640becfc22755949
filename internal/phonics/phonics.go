// Package phonics knows the spellings that young readers are taught: which
// letters stand for which sound in a word, named by a pattern and a key word.
//
// [Pattern] gives the spelling that a word is a good example of, the more
// particular ones first ("igh" before short i). Patterns need both the letters
// and the sound: "bread" is no example of ea as in bead.
package phonics

import (
	"regexp"
	"strings"
)

// pattern is a spelling with its sound. phones are ARPAbet without stress, any
// of which must be in the word where the letters are.
type pattern struct {
	name    string
	letters *regexp.Regexp
	phones  string
}

// patterns in the order in which a word is tried: the rarer and longer spellings
// first, short vowels last. The usual order of teaching is the reverse (common
// practice, no source).
var patterns = []pattern{
	{"igh as in night", regexp.MustCompile(`igh`), "AY"},
	{"eigh as in eight", regexp.MustCompile(`eigh`), "EY"},
	{"ough as in bought", regexp.MustCompile(`ought|aught`), "AO"},
	{"kn as in knee", regexp.MustCompile(`^kn`), "N"},
	{"wr as in write", regexp.MustCompile(`^wr`), "R"},
	{"tch as in catch", regexp.MustCompile(`tch$`), "CH"},
	{"dge as in bridge", regexp.MustCompile(`dge$`), "JH"},
	{"oi, oy as in coin, boy", regexp.MustCompile(`oi|oy`), "OY"},
	{"ou as in out", regexp.MustCompile(`ou`), "AW"},
	{"ow as in cow", regexp.MustCompile(`ow`), "AW"},
	{"ow as in snow", regexp.MustCompile(`ow`), "OW"},
	{"ar as in car", regexp.MustCompile(`ar`), "AA R"},
	{"or as in horn", regexp.MustCompile(`or`), "AO R"},
	{"er, ir, ur as in her, bird, turn", regexp.MustCompile(`[eiu]r`), "ER"},
	{"oo as in moon", regexp.MustCompile(`oo`), "UW"},
	{"oo as in book", regexp.MustCompile(`oo`), "UH"},
	{"ew as in new", regexp.MustCompile(`ew`), "UW"},
	{"aw, au as in saw", regexp.MustCompile(`aw|au`), "AO"},
	{"ai, ay as in rain, day", regexp.MustCompile(`ai|ay`), "EY"},
	{"ee as in tree", regexp.MustCompile(`ee`), "IY"},
	{"ea as in bead", regexp.MustCompile(`ea`), "IY"},
	{"ea as in bread", regexp.MustCompile(`ea`), "EH"},
	{"oa as in boat", regexp.MustCompile(`oa`), "OW"},
	{"ie as in pie", regexp.MustCompile(`ie`), "AY"},
	{"a–e as in make", regexp.MustCompile(`a[bcdfgklmnpstvz]e$`), "EY"},
	{"i–e as in bike", regexp.MustCompile(`i[bcdfgklmnpstvz]e$`), "AY"},
	{"o–e as in home", regexp.MustCompile(`o[bcdfgklmnpstvz]e$`), "OW"},
	{"u–e as in cube", regexp.MustCompile(`u[bcdfgklmnpstvz]e$`), "UW"},
	{"y as in fly", regexp.MustCompile(`^[^aeiou]+y$`), "AY"},
	{"y as in happy", regexp.MustCompile(`[^aeiou]y$`), "IY"},
	{"sh as in ship", regexp.MustCompile(`sh`), "SH"},
	{"ch as in chin", regexp.MustCompile(`ch`), "CH"},
	{"th as in thin", regexp.MustCompile(`th`), "TH"},
	{"th as in that", regexp.MustCompile(`th`), "DH"},
	{"wh as in when", regexp.MustCompile(`^wh`), "W"},
	{"ck as in back", regexp.MustCompile(`ck$`), "K"},
	{"ng as in sing", regexp.MustCompile(`ng$`), "NG"},
	{"two consonants at the start, as in frog", regexp.MustCompile(`^[bcdfgpst][lr]|^s[ckmnptw]`), ""},
	{"two consonants at the end, as in hand", regexp.MustCompile(`[bcdfgklmnpst][dkpt]$`), ""},
	{"short a as in cat", regexp.MustCompile(`^[^aeiou]*a[^aeiouwyr]+$`), "AE"},
	{"short e as in bed", regexp.MustCompile(`^[^aeiou]*e[^aeiouwyr]+$`), "EH"},
	{"short i as in pin", regexp.MustCompile(`^[^aeiou]*i[^aeiouwyr]+$`), "IH"},
	{"short o as in pot", regexp.MustCompile(`^[^aeiou]*o[^aeiouwyr]+$`), "AA AO"},
	{"short u as in cup", regexp.MustCompile(`^[^aeiou]*u[^aeiouwyr]+$`), "AH"},
}

// Pattern names the spelling that the word, said with these ARPAbet phones, is
// an example of; "" when none of them fits.
func Pattern(word string, phones []string) string {
	w := strings.ToLower(word)
	said := " " + plain(phones) + " "
	for _, p := range patterns {
		if !p.letters.MatchString(w) {
			continue
		}
		if p.phones == "" {
			return p.name
		}
		if strings.HasSuffix(p.phones, " R") {
			if strings.Contains(said, " "+p.phones+" ") {
				return p.name
			}
			continue
		}
		for _, ph := range strings.Fields(p.phones) {
			if strings.Contains(said, " "+ph+" ") {
				return p.name
			}
		}
	}
	return ""
}

// plain takes the stress digits off and joins the phones by spaces.
func plain(phones []string) string {
	out := make([]string, len(phones))
	for i, p := range phones {
		out[i] = strings.TrimRight(p, "012")
	}
	return strings.Join(out, " ")
}
