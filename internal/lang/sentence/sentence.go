// Package sentence finds where sentences end among the tokens of a paragraph.
//
// A sentence can end at any gap between tokens that is not plainly inside one
// (a small letter behind a word without a stop). For such a gap a linear model
// weighs features of the tokens around it: marks that stop and close, shapes
// and words on both sides, what opens next, whether a quotation is open and
// whether a verb of speech follows. So "“Oh!” said she." and "“Go!” Mary
// cried." stay whole, and mail headers without a stop are cut. The weights are
// trained by cmd/langtrain on treebanks and, with labels by rule, on novels;
// see MODEL.md. Start with [Load] and [Model.Ends].
package sentence

import (
	_ "embed"
	"errors"

	"bookstead/internal/lang"
)

// Model holds the weights. It does not change once loaded.
type Model struct {
	weights   [slots]int8
	threshold int
}

//go:embed model.bin
var packed []byte

// magic starts the packed form; the threshold, two bytes, little end first, and
// the weights, a byte each, follow.
const magic = "sents001"

// Load returns the model that is built in.
func Load() (*Model, error) { return Read(packed) }

// Read takes a packed model.
func Read(b []byte) (*Model, error) {
	if len(b) != len(magic)+2+slots || string(b[:len(magic)]) != magic {
		return nil, errors.New("reading the sentence model: it is not in its form")
	}
	b = b[len(magic):]
	m := &Model{threshold: int(int16(uint16(b[0]) | uint16(b[1])<<8))}
	for i, v := range b[2:] {
		m.weights[i] = int8(v)
	}
	return m, nil
}

// Pack writes the model as Read takes it.
func (m *Model) Pack() []byte {
	b := append([]byte(magic), byte(m.threshold), byte(m.threshold>>8))
	for _, w := range m.weights {
		b = append(b, byte(w))
	}
	return b
}

// MaxLength is the number of tokens above which a sentence is cut by force, so
// that what reads whole sentences stays within bounds. The longest sentences of
// novels have about 300.
const MaxLength = 400

// Ends appends to dst the indices behind the last token of each sentence of one
// paragraph's tokens; the last is len(tokens). Words of one multiword token are
// never parted. forced is how many ends were put where no sentence ends, to keep
// to MaxLength: at the likeliest gap, or behind a comma.
func (m *Model) Ends(dst []int, text string, tokens []lang.Token) (ends []int, forced int) {
	if len(tokens) == 0 {
		return dst, 0
	}
	w := newWindow(text, tokens)
	best, most := 0, 0 // the likeliest gap of the open sentence
	for w.next() {
		for w.gap-w.last > MaxLength {
			w.last = w.force(best)
			dst, best = append(dst, w.last), 0
			forced++
		}
		score := 0
		for _, f := range w.features() {
			score += int(m.weights[f])
		}
		if score > m.threshold {
			dst, best = append(dst, w.gap), 0
			w.last = w.gap
		} else if best <= w.last || score >= most {
			best, most = w.gap, score
		}
	}
	for len(tokens)-w.last > MaxLength {
		w.last = w.force(best)
		dst, best = append(dst, w.last), 0
		forced++
	}
	return append(dst, len(tokens)), forced
}

// force returns where the open sentence, longer than MaxLength, is cut.
func (w *window) force(best int) int {
	if best > w.last+MaxLength/4 && best <= w.last+MaxLength {
		return best
	}
	end := w.last + MaxLength
	for k := end; k > w.last+MaxLength/2; k-- {
		if w.infos[k-1].kind == comma || w.infos[k-1].kind == pause || w.infos[k-1].kind == dash {
			return k
		}
	}
	for w.tokens[end].Multi < 0 {
		end--
	}
	return end
}
