package question

import "strings"

// RougeL is the ROUGE-L F1 of two texts (Lin 2004): the longest row of words
// that both have in the same order, not needing to stand together, over the
// length of each, and the harmonic mean of the two. Words are runs of letters
// a-z and figures in small letters, as the reference implementation of Google
// Research cuts them, without stemming. Two texts without words score 0.
func RougeL(a, b string) float64 { return rouge(rougeWords(a), rougeWords(b)) }

func rougeWords(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
}

func rouge(a, b []string) float64 {
	if len(a) == 0 || len(b) == 0 {
		return 0
	}
	row := make([]int, len(b)+1)
	for _, x := range a {
		diagonal := 0
		for j, y := range b {
			above := row[j+1]
			switch {
			case x == y:
				row[j+1] = diagonal + 1
			case row[j] > above:
				row[j+1] = row[j]
			}
			diagonal = above
		}
	}
	lcs := float64(row[len(b)])
	return 2 * lcs / float64(len(a)+len(b)) // 2PR/(P+R) with P = lcs/len(a), R = lcs/len(b)
}
