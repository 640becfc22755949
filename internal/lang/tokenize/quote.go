package tokenize

import "strings"

// quote reads a single mark at i, n bytes long: an opening or closing quotation
// mark, or the apostrophe of a word that lost its head ('tis, ’em, '60s).
func (s *scanner) quote(i, n int) int {
	mark := s.text[i : i+n]
	if n == 1 && s.byteAt(i+1) == mark[0] { // '' and `` stand for double marks
		return s.emit(i, s.while(i, mark))
	}
	if pair := s.byteAt(i+n) == mark[0] && strings.HasPrefix(s.text[i+n:], "’"); pair && mark != "`" {
		// ‘’ and ’’ likewise, but for ‘’tis.
		j := i + 2*n
		if w := s.fold(j, s.run(j)); !(elisions[w] || weak[w] && mark == "‘" || mark == "’" && s.at(j) == letter) {
			return s.emit(i, j)
		}
	}
	next := s.at(i + n)
	if next != letter && next != digit {
		if mark == "‘" || mark == "`" {
			s.single = true
		} else if !(s.before(i) == space && next != space) {
			s.single = false
		} else {
			s.single = true
		}
		return s.emit(i, i+n)
	}
	j := s.run(i + n)
	if s.headless(i, n, j, mark) {
		return s.elided(i, n, j)
	}
	s.single = mark != "’" || s.single
	return s.emit(i, i+n)
}

// headless reports whether the mark at i is the apostrophe of the word
// text[i+n:j].
func (s *scanner) headless(i, n, j int, mark string) bool {
	w := s.fold(i+n, j)
	if s.wordBefore(i) { // a clitic cut off by what stood before it: "_Pequod_'s"
		return clitics[w]
	}
	switch {
	case s.at(i+n) == digit:
		return mark != "‘" && (len(w) == 2 || len(w) == 3 && w[2] == 's')
	case mark == "’":
		// The curly apostrophe never opens a quotation; behind a closing one
		// without a space it still is no head.
		return s.before(i) == space || elisions[w] || weak[w] || clitics[w]
	case clitics[w]:
		return s.before(i) == space || s.before(i) == symbol && s.byteAt(i-1) == '_'
	case elisions[w]:
		return mark != "‘" || s.single || !s.closes(j)
	case weak[w]:
		return (mark != "‘" || s.single) && !s.closes(j)
	}
	return false
}

var (
	// elisions are nothing but words that lost their head.
	elisions = set(`tis twas twere twould twill twasn twouldn tisn taint tain em til cause cuz coz bout neath twixt gainst
		im imself ee ud un ow ave ouse orse alf eard ead ome ole tother spose pose scuse pon fraid stead nother nuff ere
		gin tween mongst midst appen kerchief lection specially scopes nt`)
	// weak are words of their own besides.
	weak = set(`e er is as ad and at it round till way course long low most less count fore cept member deed and ark ope art`)
	// clitics stand alone in old editions: "he 's", "did n't".
	clitics = set(`s ll re ve d m t`)
)

// closes reports whether a single quotation mark that would be opened at i is
// closed again soon, so that it is none of an elision.
func (s *scanner) closes(i int) bool {
	for end := min(len(s.text), i+300); i < end; i++ {
		n := s.apostrophe(i)
		if n == 0 {
			if strings.HasPrefix(s.text[i:], "‘") && !elisions[s.fold(i+len("‘"), s.run(i+len("‘")))] {
				return false
			}
			continue
		}
		if s.before(i) == space && s.at(i+n) == letter && s.text[i] == '\'' {
			if w := s.fold(i+n, s.run(i+n)); !elisions[w] && !weak[w] && !clitics[w] {
				return false // another one opens
			}
		}
		if s.at(i+n) != letter && s.before(i) != space && !(s.byteAt(i-1) == 's' && s.at(i+n) == space) {
			return true
		}
		i += n - 1
	}
	return false
}

// elided emits a word with a lost head, apostrophe included, and cuts the
// verb off 'tis and its kin.
func (s *scanner) elided(i, n, j int) int {
	for m := s.apostrophe(j); m > 0 && s.at(j+m) == letter; m = s.apostrophe(j) {
		j = s.run(j + m)
	}
	w := s.fold(i+n, j)
	head := 0
	switch {
	case w == "tis", w == "twas", w == "twere", w == "twould", w == "twill", strings.HasPrefix(w, "tisn'"), strings.HasPrefix(w, "twasn'"), strings.HasPrefix(w, "twouldn'"), w == "tain't", w == "taint":
		head = i + n + 1
	}
	var cuts []int
	if head > 0 {
		cuts = append(cuts, head)
	}
	if strings.Contains(w, "'") {
		if c := s.clitic(i+n, j); c > 0 && c > head {
			cuts = append(cuts, c)
		}
	}
	if len(cuts) > 0 {
		return s.emitParts(i, j, cuts...)
	}
	if m := s.apostrophe(j); m > 0 && head == 0 && shortened(w) { // 'avin'
		j += m
	}
	return s.emit(i, j)
}

// apostropheAfter reads the mark at j, n bytes long, behind the word text[i:j]:
// part of the word (goin'), a possessive (the boys'), or left to be read as a
// closing mark.
func (s *scanner) apostropheAfter(i, j, n int) int {
	w := s.fold(i, j)
	if s.text[j] == '`' {
		return s.plain(i, j)
	}
	switch follow := s.at(j + n); {
	case tailless[w] && (follow == space || s.byteAt(j+n) == '-' || s.byteAt(j+n) == ','):
		if !s.single || s.closes(j+n) {
			return s.emit(i, j+n)
		}
	case shortened(w):
		if !s.single || s.closes(j+n) {
			return s.emit(i, j+n)
		}
	case strings.HasSuffix(w, "s") && (follow == space || follow == symbol):
		if len(w) > 2 && (!s.single || s.closes(j+n)) {
			return s.emitParts(i, j+n, j)
		}
	}
	return s.plain(i, j)
}

// tailless are words that lost their tail, often before another word.
var tailless = set(`th o an wi t ha tha ol lil li mo po jes mus n ev a fo yo ta y ye d l j qu m c wid hev gi sho befo mos
	las fus didn wouldn couldn don ain isn wasn won thro tho altho enou`)

// shortened reports whether a word is a participle without its g: goin'.
func shortened(w string) bool {
	if len(w) < 4 || !strings.HasSuffix(w, "in") {
		return false
	}
	switch w {
	case "begin", "cabin", "certain", "captain", "again", "rain", "pain", "main", "train", "chain", "brain", "vain", "skin", "chin", "thin", "twin", "latin", "robin", "cousin", "violin", "fountain", "mountain", "curtain", "villain", "bargain", "remain", "explain", "within", "ruin", "join", "coin", "basin", "satin", "martin", "merlin", "goblin", "muffin", "coffin", "pumpkin", "napkin", "penguin", "dolphin", "origin", "margin", "virgin", "resin", "protein", "then", "obtain", "contain", "sustain", "complain", "spain", "britain", "stain", "grain", "gain", "plain", "drain", "grin", "spin", "berlin", "justin", "collin", "colin", "benjamin", "edwin", "baldwin", "franklin", "rein", "vein":
		return false
	}
	return true
}
