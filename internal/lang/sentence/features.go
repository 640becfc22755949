package sentence

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// slots is the number of weights; features are hashed into them.
const slots = 1 << 16

// kind is the shape of a token.
type kind uint8

const (
	none     kind = iota // outside the paragraph
	lower                // word
	title                // Word
	upper                // WORD
	single               // I, A
	number               // 12
	stop                 // .
	dots                 // ... …
	shout                // ! ?
	pause                // : ;
	comma                // ,
	dash                 // - -- —
	opening              // “ ( [
	closing              // ” ) ]
	straight             // " ' that may open or close
	abbrev               // Mr. U.S.
	address              // of the web or mail, or the name of a file
	other
)

// info is what features need of a token.
type info struct {
	hash  uint32 // of the form in small letters
	kind  kind
	gap   uint8 // before it: 0 nothing, 1 a blank, 2 a line break
	quote bool  // inside a quotation, or its opening mark
	said  bool  // a verb of speech
}

// window walks over the gaps of a paragraph at which a sentence may end.
type window struct {
	tokens []lang.Token
	infos  []info
	gap    int // the gap is before this token
	last   int // start of the present sentence
	style  uint32
	buf    []uint32
}

func newWindow(text string, tokens []lang.Token) *window {
	w := &window{tokens: tokens, infos: make([]info, len(tokens)), buf: make([]uint32, 0, 64)}
	quote := false
	for i := range tokens {
		f := &w.infos[i]
		f.kind, f.hash = look(tokens[i].Form)
		if i > 0 {
			f.gap = between(text[tokens[i-1].End:tokens[i].Start])
		}
		switch tokens[i].Form {
		case "“", "``":
			quote = true
		case "\"", "''":
			quote = !quote
		}
		f.quote = quote
		switch tokens[i].Form {
		case "”":
			quote = false
			f.quote = false
		case "\"", "''":
			if quote {
				f.kind = opening
			} else {
				f.kind = closing
			}
		case "'", "’":
			f.kind = straight
			if f.gap > 0 && (i+1 == len(tokens) || tokens[i].End == tokens[i+1].Start) {
				f.kind = opening
			} else if f.gap == 0 {
				f.kind = closing
			}
		}
		f.said = f.kind == lower && saidVerbs[tokens[i].Form]
	}
	w.style = style(w.infos, tokens)
	return w
}

// style tells hasty writing (mail, the web) from printed prose, and whether the
// paragraph ends as a sentence does.
func style(infos []info, tokens []lang.Token) uint32 {
	var s uint32
	for i := range tokens {
		switch f := tokens[i].Form; {
		case infos[i].kind == address, f == "AM", f == "PM", f == "i", f == "Thanks", infos[i].kind == shout && len(f) > 1, f == ":)":
			s |= 1
		case f == "“" || f == "”" || f == "’" || f == "‘" || f == "—":
			s |= 2
		}
	}
	switch infos[len(infos)-1].kind {
	case stop, shout, dots, closing:
		s |= 4
	}
	return s
}

func between(s string) uint8 {
	for i := 0; i < len(s); i++ {
		if s[i] == '\n' {
			return 2
		}
	}
	return uint8(min(1, len(s)))
}

// look returns the shape of a form and the hash of its small letters.
func look(form string) (kind, uint32) {
	h := uint32(2166136261)
	for i := 0; i < len(form) && i < 24; i++ {
		c := form[i]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		h = (h ^ uint32(c)) * 16777619
	}
	switch form {
	case ".":
		return stop, h
	case ",":
		return comma, h
	case ":", ";":
		return pause, h
	case "“", "‘", "(", "[", "{", "«", "``", "`":
		return opening, h
	case "”", ")", "]", "}", "»":
		return closing, h
	}
	r, n := utf8.DecodeRuneInString(form)
	last := form[len(form)-1]
	switch {
	case len(form) > 6 && isAddress(form):
		return address, h
	case unicode.IsDigit(r):
		return number, h
	case unicode.IsLetter(r):
		switch {
		case last == '.':
			return abbrev, h
		case !unicode.IsUpper(r):
			return lower, h
		case n == len(form):
			return single, h
		}
		if r, _ := utf8.DecodeRuneInString(form[n:]); unicode.IsUpper(r) {
			return upper, h
		}
		return title, h
	case r == '!' || r == '?' || last == '!' || last == '?':
		return shout, h
	case r == '.' || r == '…':
		return dots, h
	case r == '-' || r == '–' || r == '—' || r == '―':
		return dash, h
	case (r == '\'' || r == '’') && len(form) > n:
		if r, _ := utf8.DecodeRuneInString(form[n:]); unicode.IsUpper(r) {
			return title, h
		}
		return lower, h
	}
	return other, h
}

func isAddress(form string) bool {
	return strings.IndexByte(form, '@') > 0 || strings.Contains(form, "://") || strings.LastIndexByte(form, '.') > 1 && form[len(form)-1] != '.' && unicode.IsLetter(rune(form[len(form)-1]))
}

var saidVerbs = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range []string{"said", "says", "say", "asked", "asks", "ask", "cried", "cries", "cry", "replied", "replies", "answered", "answers",
		"exclaimed", "exclaims", "whispered", "whispers", "shouted", "shouts", "called", "calls", "began", "continued", "added", "adds", "returned",
		"muttered", "murmured", "laughed", "sobbed", "sighed", "screamed", "shrieked", "demanded", "inquired", "enquired", "remarked", "observed",
		"suggested", "went", "put", "repeated", "gasped", "growled", "groaned", "grumbled", "interrupted", "thought", "wondered", "declared", "panted",
		"pleaded", "begged", "protested", "insisted", "agreed", "admitted", "explained", "told", "roared", "yelled", "wailed", "howled", "stammered",
		"snapped", "snarled", "squeaked", "piped", "breathed", "chuckled", "giggled", "ejaculated", "rejoined", "retorted", "responded", "quoth",
		"mused", "announced", "started", "warned", "urged", "commanded", "ordered", "squealed", "croaked", "mumbled", "finished", "broke", "burst",
		"resumed", "pursued", "concluded", "assented", "faltered", "sang", "read", "wrote", "hissed", "barked", "bellowed", "sneered", "smiled", "nodded",
		"coaxed", "scolded", "sniffed", "sniffled", "moaned", "ventured", "queried", "persisted", "echoed", "drawled", "hinted", "conceded"} {
		m[w] = true
	}
	return m
}()

// next moves to the next gap where a sentence may end.
func (w *window) next() bool {
	for w.gap++; w.gap < len(w.tokens); w.gap++ {
		if w.tokens[w.gap].Multi < 0 {
			continue
		}
		a, b := w.infos[w.gap-1].kind, w.infos[w.gap].kind
		if (a == lower || a == comma) && (b == lower || b == comma || b == stop || b == shout || b == pause || b == closing) {
			continue
		}
		if b == stop || b == comma || b == pause {
			continue
		}
		return true
	}
	return false
}

func (w *window) at(i int) info {
	if i < 0 || i >= len(w.infos) {
		return info{}
	}
	return w.infos[i]
}

func mix(a, b uint32) uint32 {
	h := (a ^ b*0x9e3779b1) * 0x85ebca6b
	return h ^ h>>15
}

func (w *window) add(name uint32, parts ...uint32) {
	h := name * 0xc2b2ae35
	for _, p := range parts {
		h = mix(h, p)
	}
	w.buf = append(w.buf, (h^h>>16)%slots)
}

// bucket puts a length into one of a few classes.
func bucket(n int) uint32 {
	switch {
	case n < 5:
		return uint32(n)
	case n < 8:
		return 5
	case n < 12:
		return 6
	case n < 20:
		return 7
	case n < 35:
		return 8
	case n < 60:
		return 9
	}
	return 10
}

func flag(b bool) uint32 {
	if b {
		return 1
	}
	return 0
}

// features returns the slots of the features that hold at the gap. The slice
// is good until the next call.
func (w *window) features() []uint32 {
	w.buf = w.buf[:0]
	g := w.gap
	p0, p1, p2 := w.at(g-1), w.at(g-2), w.at(g-3)
	n0, n1, n2 := w.at(g), w.at(g+1), w.at(g+2)
	// core is the last token before the marks that close, head the first
	// behind those that open.
	c := g - 1
	for c > w.last && w.infos[c].kind == closing && g-c < 4 {
		c--
	}
	core, before := w.at(c), w.at(c-1)
	closed := uint32(g - 1 - c)
	h := g
	for h < len(w.infos) && w.infos[h].kind == opening && h-g < 3 {
		h++
	}
	head, then := w.at(h), w.at(h+1)
	opened := uint32(h - g)
	said := uint32(0)
	if h == g {
		for k := g; k < g+4 && k < len(w.infos); k++ {
			if w.infos[k].said {
				said = uint32(k-g) + 1
				break
			}
			if kk := w.infos[k].kind; kk == stop || kk == shout || kk == comma || kk == pause || kk == opening {
				break
			}
		}
	}
	length := bucket(g - w.last)
	ck, hk := uint32(core.kind), uint32(head.kind)
	gap := uint32(n0.gap)
	shape := ck | closed<<5 | opened<<8 | hk<<11
	inside := flag(p0.quote)
	// A name that stands before nothing but a verb of speech.
	closesQuote := flag(closed > 0 && !w.at(g-1).quote)

	w.add(1)
	w.add(2, shape)
	w.add(3, shape, gap)
	w.add(4, shape, inside)
	w.add(5, shape, length)
	w.add(6, core.hash, hk)
	w.add(7, core.hash, closed)
	w.add(8, head.hash, ck)
	w.add(9, head.hash, opened, ck)
	w.add(10, p0.hash, n0.hash)
	w.add(11, p0.hash, p1.hash)
	w.add(12, n0.hash, n1.hash)
	w.add(13, p0.hash)
	w.add(14, n0.hash)
	w.add(15, p1.hash, ck)
	w.add(16, n1.hash, hk, ck)
	w.add(17, uint32(p2.kind), uint32(p1.kind), uint32(p0.kind), uint32(n0.kind), uint32(n1.kind))
	w.add(18, uint32(p1.kind), uint32(p0.kind), uint32(n0.kind), uint32(n1.kind), uint32(n2.kind))
	w.add(19, uint32(p1.kind), uint32(p0.kind), uint32(n0.kind))
	w.add(20, uint32(p0.kind), uint32(n0.kind), uint32(n1.kind), gap)
	w.add(21, said, closesQuote, ck)
	w.add(22, said, closesQuote, ck, hk)
	w.add(23, before.hash, ck)
	w.add(24, uint32(before.kind), ck, hk, gap)
	w.add(25, bucket(len(w.tokens)-g), ck, hk)
	w.add(26, uint32(w.at(w.last).kind), length, ck, hk)
	w.add(27, core.hash, head.hash)
	w.add(28, then.hash, hk, ck)
	w.add(29, p2.hash, ck, hk)
	w.add(30, n2.hash, hk, ck)
	w.add(31, w.at(w.last).hash, ck, hk)
	w.add(32, inside, closesQuote, ck, hk)
	w.add(33, bucket(g-w.last), bucket(len(w.tokens)-g), ck)
	w.add(39, w.style, shape)
	w.add(40, w.style, uint32(p0.kind), uint32(n0.kind), uint32(n1.kind))
	w.add(41, w.style, length, ck, hk)
	w.add(42, w.style, n0.hash, uint32(n0.kind), stopped(p0.kind))
	w.add(43, w.style, p0.hash, uint32(p0.kind), uint32(n0.kind))
	w.add(44, w.style, uint32(p1.kind), uint32(p0.kind), uint32(n0.kind), uint32(n1.kind))
	w.add(34, n0.hash, uint32(n0.kind), stopped(p0.kind))
	w.add(35, n0.hash, uint32(n0.kind), uint32(n1.kind), stopped(p0.kind))
	w.add(36, p0.hash, uint32(n0.kind), uint32(n1.kind))
	w.add(37, p0.hash, uint32(p0.kind), uint32(n0.kind))
	w.add(38, uint32(p0.kind), uint32(n0.kind), n1.hash)
	return w.buf
}

func stopped(k kind) uint32 {
	switch k {
	case stop, shout, dots:
		return 1
	case closing:
		return 2
	}
	return 0
}
