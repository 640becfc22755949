package neural

import (
	"strings"

	"bookstead/internal/lang"
)

// agree makes the mentions of one text agree: a name that is read as one kind
// of thing most of the time is that wherever it stands.
func agree(d *lang.Doc, names []Name) {
	type votes map[string]float64
	all := map[string]votes{}
	for _, n := range names {
		if k := properName(d, n); k != "" {
			if all[k] == nil {
				all[k] = votes{}
			}
			all[k][n.Kind] += n.Confidence
		}
	}
	for i, n := range names {
		v := all[properName(d, n)]
		if len(v) < 2 {
			continue
		}
		best, sum := n.Kind, 0.0
		for _, kind := range []string{"PER", "LOC", "GPE", "FAC", "VEH", "ORG"} {
			sum += v[kind]
			if v[kind] > v[best] {
				best = kind
			}
		}
		if best != n.Kind {
			names[i].Kind, names[i].Confidence = best, v[best]/sum
		}
	}
}

// properName returns the words of a mention that is nothing but a name, else "".
func properName(d *lang.Doc, n Name) string {
	var b strings.Builder
	for _, t := range d.Tokens[n.First:n.Last] {
		if t.UPOS != "PROPN" {
			return ""
		}
		b.WriteString(t.Form)
		b.WriteByte(' ')
	}
	return b.String()
}
