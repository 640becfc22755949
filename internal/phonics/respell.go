package phonics

import "strings"

// The plain respelling. Each sound has one spelling wherever it stands, so that
// nothing must be looked up but these:
//
//	a cat   ay day   ah father  aw saw   e bed    ee see   i pin   eye night
//	oh go   oo moon  uu book    u cup    uh sofa  ur her   ow cow  oy boy
//	th thin dh that  zh measure j, ch, sh, ng, y, h as in English; g as in go
//
// Syllables are joined by hyphens and the stressed one is in capitals:
// "GAHR-duhn".
var respelled = map[string]string{
	"AA": "ah", "AE": "a", "AH": "u", "AO": "aw", "AW": "ow", "AY": "eye", "EH": "e", "ER": "ur", "EY": "ay",
	"IH": "i", "IY": "ee", "OW": "oh", "OY": "oy", "UH": "uu", "UW": "oo",
	"B": "b", "CH": "ch", "D": "d", "DH": "dh", "F": "f", "G": "g", "HH": "h", "JH": "j", "K": "k", "L": "l", "M": "m",
	"N": "n", "NG": "ng", "P": "p", "R": "r", "S": "s", "SH": "sh", "T": "t", "TH": "th", "V": "v", "W": "w", "Y": "y",
	"Z": "z", "ZH": "zh",
}

// Respell writes phones with stress so that a teacher can read them aloud.
func Respell(phones []string) string {
	said := bare(phones)
	var vowels []int
	for i, p := range said {
		if isVowelPhone(p) {
			vowels = append(vowels, i)
		}
	}
	begins := map[int]bool{}
	for k := 1; k < len(vowels); k++ {
		begins[soundCut(phones, said, vowels[k-1], vowels[k])] = true
	}
	var out, syllable strings.Builder
	loud := false
	flush := func() {
		if s := syllable.String(); loud {
			out.WriteString(strings.ToUpper(s))
		} else {
			out.WriteString(s)
		}
		syllable.Reset()
		loud = false
	}
	for i, p := range said {
		if begins[i] {
			flush()
			out.WriteByte('-')
		}
		s := respelled[p]
		if p == "AH" && strings.HasSuffix(phones[i], "0") {
			s = "uh"
		}
		syllable.WriteString(s)
		loud = loud || strings.HasSuffix(phones[i], "1")
	}
	flush()
	if len(vowels) < 2 {
		return strings.ToLower(out.String())
	}
	return out.String()
}

// soundCut is the phone at which the syllable of the vowel y begins.
func soundCut(phones, said []string, x, y int) int {
	cut := y
	for k := y - 1; k > x; k-- {
		if said[k] == "NG" || k < y-1 && !onsets[strings.Join(said[k:y], " ")] {
			break
		}
		cut = k
	}
	short := said[x] == "AE" || said[x] == "EH" || said[x] == "IH" || said[x] == "UH" || said[x] == "AH"
	if short && !strings.HasSuffix(phones[x], "0") && cut == x+1 && cut < y {
		cut++
	}
	return cut
}
