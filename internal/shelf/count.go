package shelf

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"bookstead/internal/phonics"
)

// decodable reports whether a word can be sounded out at the class's step.
func (m *meter) decodable(form string) bool {
	w := strings.ToLower(form)
	if ok, known := m.heard[w]; known {
		return ok
	}
	ok := false
	if sp, said := m.o.Speaker.Say(w, phonics.AnyPart); said {
		s := m.o.Sequence
		if s == nil {
			s = phonics.UsualSequence()
		}
		ok, _ = s.DecodableAt(s.Read(w, sp.Plain()), m.o.Step)
	}
	m.heard[w] = ok
	return ok
}

// hardest is how many of the words beyond the class are named.
const hardest = 12

func (f *Facts) take(m *meter) {
	f.Words = m.words
	if m.words == 0 {
		return
	}
	share := func(n int) float64 { return round(float64(n)/float64(m.words), 4) }
	f.Names, f.Dialogue, f.Beyond = share(m.names), share(m.speech), share(m.beyondWords)
	if m.o.Step > 0 && m.o.Speaker != nil {
		f.Decodable = share(m.easy)
	}
	words := slices.SortedFunc(maps.Keys(m.beyond), func(a, b string) int {
		return cmp.Or(cmp.Compare(m.beyond[b], m.beyond[a]), cmp.Compare(a, b))
	})
	f.Hardest = words[:min(len(words), hardest)]
	f.See = m.see
}
