package tagger

import (
	"unicode"
	"unicode/utf8"
)

// word holds the hashes of a form that features are made of.
type word struct {
	entry
	hash     uint32 // small letters
	suffixes [5]uint32
	prefixes [3]uint32
	shape    uint32
	form     string
}

var (
	before = word{hash: 1, shape: 31}
	behind = word{hash: 2, shape: 30}
)

const (
	noLabel     = 255
	maxFeatures = 48
	// longest is how many bytes of a form are looked at, from either end.
	longest = 64
)

// small writes the form as the lexicon spells: in small letters, with plain
// apostrophes and 0 for every figure, cut to its first bytes.
func small(form string, buf []byte) []byte {
	for i := 0; i < len(form) && len(buf) < longest; i++ {
		c := form[i]
		switch {
		case c >= 'A' && c <= 'Z':
			c += 'a' - 'A'
		case c >= '1' && c <= '9':
			c = '0'
		case c == 0xe2 && i+2 < len(form) && form[i+1] == 0x80 && (form[i+2] == 0x99 || form[i+2] == 0x98):
			c, i = '\'', i+2
		case c >= utf8.RuneSelf:
			r, n := utf8.DecodeRuneInString(form[i:])
			if r != utf8.RuneError {
				buf = utf8.AppendRune(buf, unicode.ToLower(r))
				i += n - 1
				continue
			}
		}
		buf = append(buf, c)
	}
	return buf
}

// Spell writes a form as the lexicon does.
func Spell(form string) string { return string(small(form, nil)) }

func hashBytes(seed uint32, b []byte) uint32 {
	h := seed ^ 2166136261
	for _, c := range b {
		h = (h ^ uint32(c)) * 16777619
	}
	return h ^ h>>15
}

// newWord works out a form.
func (m *Model) newWord(form string) *word {
	var room [longest + 4]byte
	b := small(form, room[:0])
	w := &word{hash: hashBytes(0, b), form: form}
	w.entry = m.words[w.hash]
	w.shape = shape(form)
	tail := b
	if len(form) > longest {
		tail = []byte(form[len(form)-8:])
	}
	for n := range w.suffixes {
		if len(tail) > n {
			w.suffixes[n] = hashBytes(uint32(n)+11, tail[len(tail)-n-1:])
		} else {
			w.suffixes[n] = hashBytes(uint32(n)+21, tail)
		}
	}
	for n := range w.prefixes {
		w.prefixes[n] = hashBytes(uint32(n)+31, b[:min(len(b), n+1)])
	}
	return w
}

// shape sums up capitals, figures and marks in five bits.
func shape(form string) uint32 {
	var upper, lower, digit, mark, inner bool
	for i, r := range form {
		if i > longest {
			break
		}
		switch {
		case unicode.IsUpper(r):
			upper = true
			inner = inner || i > 0
		case unicode.IsLetter(r):
			lower = true
		case unicode.IsDigit(r):
			digit = true
		case i > 0:
			mark = true
		}
	}
	var s uint32
	for k, f := range [...]bool{upper, lower, digit, mark, inner} {
		if f {
			s |= 1 << k
		}
	}
	return s
}

// context is a place in a sentence: word i, with the labels before it.
type context struct {
	words []*word
	chose []uint8
	i     int
}

func mix(h, v uint32) uint32 {
	h = (h ^ v) * 0x9e3779b1
	return h ^ h>>16
}

func key1(name, a uint32) uint32       { return mix(mix(name, a), 0x51ed) }
func key2(name, a, b uint32) uint32    { return mix(mix(mix(name, a), b), 0xa2c7) }
func key3(name, a, b, c uint32) uint32 { return mix(mix(mix(mix(name, a), b), c), 0x3f15) }

// features appends the keys of the features that hold.
func (c context) features(k []uint32) []uint32 {
	w := c.words[c.i]
	p1, p2 := c.words[c.i-1], c.words[c.i-2]
	n1, n2 := c.words[c.i+1], c.words[c.i+2]
	t1, t2 := uint32(c.chose[c.i-1]), uint32(c.chose[c.i-2])
	first := uint32(0)
	if c.i == 2 {
		first = 1
	}
	class, c1, c2 := uint32(w.class), uint32(n1.class), uint32(n2.class)
	k = append(k,
		key1(1, first),
		key1(2, w.hash),
		key2(3, w.hash, w.shape&1),
		key1(4, p1.hash),
		key1(5, n1.hash),
		key1(6, p2.hash),
		key1(7, n2.hash),
		key2(8, p1.hash, w.hash),
		key2(9, w.hash, n1.hash),
		key1(10, t1),
		key2(11, t1, t2),
		key2(12, t1, w.hash),
		key2(13, t1, n1.hash),
		key2(14, t1, class),
		key2(15, class, c1),
		key3(16, t1, class, c1),
		key2(17, c1, c2),
		key3(18, class, c1, c2),
		key2(19, w.shape, first),
		key2(20, class, w.suffixes[2]),
		key3(21, t2, t1, class),
		key2(22, p1.hash, class),
		key2(23, n1.hash, class),
		key2(24, n1.suffixes[1], class),
		key2(25, uint32(n1.cluster), class),
		key2(26, uint32(p1.cluster), class),
		key2(27, t1, c1),
		key2(28, p2.hash, class),
		key2(29, n1.shape, w.shape),
		key2(30, p1.hash, n1.hash),
	)
	if w.common {
		return k
	}
	k = append(k,
		key1(40, w.suffixes[0]), key1(41, w.suffixes[1]), key1(42, w.suffixes[2]), key1(43, w.suffixes[3]), key1(44, w.suffixes[4]),
		key1(45, w.prefixes[0]), key1(46, w.prefixes[1]), key1(47, w.prefixes[2]),
		key2(48, w.suffixes[2], t1),
		key2(49, w.suffixes[1], w.shape),
		key2(50, uint32(w.cluster), w.shape),
		key2(51, uint32(w.cluster), t1),
		key3(52, w.shape, first, t1),
		key2(53, w.suffixes[2], uint32(w.cluster)),
		key2(54, uint32(w.cluster), c1),
	)
	return k
}
