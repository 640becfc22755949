package answer

import (
	"math"
	"slices"
	"strings"
)

// weighted is the share of the content words' weight that is matched, those
// marked left out; NaN when none is left.
func weighted(words []word, match []float64, without []bool) float64 {
	s, n := 0.0, 0.0
	for i := range words {
		if !words[i].content || without != nil && without[i] {
			continue
		}
		s += words[i].weight * match[i]
		n += words[i].weight
	}
	return s / n
}

// softest is the share of the content words that is matched, rare or not.
func softest(r *text, a aligned) float64 {
	s, n := 0.0, 0.0
	for i := range r.words {
		if r.words[i].content {
			s += a.got[i]
			n++
		}
	}
	return s / (n + 1)
}

func zero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// fOf is the harmonic mean of recall and precision.
func fOf(r, p float64) float64 {
	r, p = zero(r), zero(p)
	if r+p == 0 {
		return 0
	}
	return 2 * r * p / (r + p)
}

func mean(xs []float64) float64 {
	s := 0.0
	for _, x := range xs {
		s += x
	}
	return s / float64(len(xs))
}

func flag(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// forms are the base forms of a text, of content words alone if asked.
func forms(t *text, content bool) []string {
	var out []string
	for i := range t.words {
		if !content || t.words[i].content {
			out = append(out, t.words[i].lemmas[0])
		}
	}
	return out
}

// covered is the share of a that stands in b, each word counted once for each
// time it stands there.
func covered(a, b []string) float64 {
	if len(a) == 0 {
		return 0
	}
	left := map[string]int{}
	for _, x := range b {
		left[x]++
	}
	n := 0
	for _, x := range a {
		if left[x] > 0 {
			left[x]--
			n++
		}
	}
	return float64(n) / float64(len(a))
}

func overlapF(a, b []string) float64 { return fOf(covered(a, b), covered(b, a)) }

func bigrams(ws []string) []string {
	var out []string
	for i := 0; i+1 < len(ws); i++ {
		out = append(out, ws[i]+" "+ws[i+1])
	}
	return out
}

// longest is the F of the longest common subsequence (Rouge-L, Lin 2004).
func longest(a, b []string) float64 {
	row := make([]int, len(b)+1)
	for i := range a {
		diagonal := 0
		for k := range b {
			up := row[k+1]
			if a[i] == b[k] {
				row[k+1] = diagonal + 1
			} else {
				row[k+1] = max(row[k+1], row[k])
			}
			diagonal = up
		}
	}
	n := float64(row[len(b)])
	return fOf(n/float64(max(1, len(a))), n/float64(max(1, len(b))))
}

// triples are the pairs of a content word and the content word it hangs on,
// words of grammar between them passed over.
func triples(t *text) []string {
	var out []string
	for i := range t.words {
		if !t.words[i].content {
			continue
		}
		h := t.words[i].head
		for n := 0; h >= 0 && !t.words[h].content && n < 8; n++ {
			h = t.words[h].head
		}
		if h >= 0 {
			out = append(out, t.words[i].lemmas[0]+"<"+t.words[h].lemmas[0])
		}
	}
	return out
}

// linked is the share of the reference's pairs whose two words are matched by
// words of the answer that hang together too.
func linked(r, ans *text, a aligned) float64 {
	n, ok := 0.0, 0.0
	for i := range r.words {
		h := r.words[i].head
		if h < 0 || !r.words[i].content {
			continue
		}
		n++
		x, y := a.by[i], a.by[h]
		if x < 0 || y < 0 || a.got[i] < 0.5 || a.got[h] < 0.5 {
			continue
		}
		if ans.words[x].head == y {
			ok++
		} else if ans.words[y].head == x {
			ok += 0.5
		}
	}
	return ok / (n + 1)
}

// byTag is the matched share of the words with one of these tags, -1 when there
// are none.
func byTag(r *text, a aligned, tags ...string) float64 {
	s, n := 0.0, 0.0
	for i := range r.words {
		if w := &r.words[i]; w.content && slices.Contains(tags, w.upos) {
			s += a.got[i] * w.weight
			n += w.weight
		}
	}
	if n == 0 {
		return -1
	}
	return s / n
}

// edgeMatch compares the first and the last content words.
func edgeMatch(r, ans *text) float64 {
	x, y := forms(r, true), forms(ans, true)
	if len(x) == 0 || len(y) == 0 {
		return 0
	}
	return flag(x[0] == y[0]) + flag(x[len(x)-1] == y[len(y)-1])
}

// joined is a text's words in one string; with a list of words to leave out, of
// its content words alone.
func joined(t *text, without []bool) string {
	var b strings.Builder
	b.WriteByte(' ')
	for i := range t.words {
		if without != nil && (without[i] || !t.words[i].content) {
			continue
		}
		b.WriteString(t.words[i].form)
		b.WriteByte(' ')
	}
	return b.String()
}

// grams is the cosine of the counts of letter n-grams.
func grams(a, b string, n int) float64 {
	x, y := count(a, n), count(b, n)
	dot, nx, ny := 0, 0, 0
	for g, c := range x {
		dot += c * y[g]
		nx += c * c
	}
	for _, c := range y {
		ny += c * c
	}
	if dot == 0 {
		return 0
	}
	return float64(dot) / math.Sqrt(float64(nx)*float64(ny))
}

func count(s string, n int) map[string]int {
	m := map[string]int{}
	for i := 0; i+n <= len(s); i++ {
		m[s[i:i+n]]++
	}
	return m
}
