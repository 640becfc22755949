package tokenize

import (
	"strings"
	"unicode/utf8"
)

// dotted decides about a period at j with a letter or digit behind it: it
// returns the end of the next part when both belong to one token ("U.S",
// "p.m", "compaq.com"), else 0.
func (s *scanner) dotted(i, j int) int {
	k := s.run(j + 1)
	part := j
	for part > i && s.text[part-1] != '.' {
		part--
	}
	if utf8.RuneCountInString(s.text[part:j]) == 1 && utf8.RuneCountInString(s.text[j+1:min(k, j+9)]) == 1 && classes[s.text[part]] != digit {
		return k
	}
	switch s.fold(part, k) {
	case "ph.d", "m.sc", "b.sc", "ph.ds":
		return k
	}
	// A name of parts: the whole of it must end in a known domain or kind of
	// file, or be made of three parts without a capital.
	end, last, parts, capital := k, j+1, 2, s.upperAt(j+1)
	for s.byteAt(end) == '.' && s.isWord(end+1) && end-i < 100 {
		last, parts = end+1, parts+1
		capital = capital || s.upperAt(last)
		end = s.run(last)
	}
	if endings[s.fold(last, end)] || parts > 2 && !capital && j-i > 1 {
		if s.byteAt(end) == '/' && s.isWord(end+1) {
			return s.trimAddress(i, s.addressEnd(end))
		}
		return end
	}
	return 0
}

var endings = set(`com org net gov edu uk de fr us au ca nz tw info biz html htm php asp aspx
	doc docx xls xlsx pdf txt ppt jpg gif png zip exe url unix`)

// address returns the end of a web or mail address that starts at i, whose
// first letters end at j; 0 for none.
func (s *scanner) address(i, j int) int {
	switch s.text[j] {
	case ':':
		scheme := s.fold(i, j)
		if strings.HasPrefix(s.text[j:], "://") && s.isWord(j+3) || (scheme == "mailto" || scheme == "doi") && s.isWord(j+1) {
			return s.trimAddress(i, s.addressEnd(j+1))
		}
	case '.':
		if s.fold(i, j) == "www" && s.isWord(j+1) {
			return s.trimAddress(i, s.addressEnd(j+1))
		}
		return s.mail(i, j)
	case '@', '_', '+', '%', '-':
		return s.mail(i, j)
	}
	return 0
}

// mail returns the end of a mail address whose first letters end at j.
func (s *scanner) mail(i, j int) int {
	local := func(c byte) bool {
		return strings.IndexByte("._%+-", c) >= 0 || classes[c] == letter || classes[c] == digit
	}
	for j < len(s.text) && local(s.text[j]) {
		if j++; j-i > 80 {
			return 0
		}
	}
	if s.byteAt(j) != '@' || !s.isWord(j+1) {
		return 0
	}
	for j++; j < len(s.text) && local(s.text[j]); j++ {
	}
	return s.trimAddress(i, j)
}

func (s *scanner) addressEnd(j int) int {
	for j < len(s.text) {
		c, n := s.classAt(j)
		if c == space || s.text[j] == '<' || s.text[j] == '>' || s.text[j] == '"' || strings.HasPrefix(s.text[j:], "”") || strings.HasPrefix(s.text[j:], "’") {
			break
		}
		j += n
	}
	return j
}

// trimAddress takes punctuation off the end of an address that is the
// sentence's own.
func (s *scanner) trimAddress(i, j int) int {
	open := strings.IndexByte(s.text[i:j], '(') >= 0
	for j > i+1 {
		switch c := s.text[j-1]; c {
		case '.', ',', ';', ':', '!', '?', '\'', ']', '*':
		case ')':
			if open {
				return j
			}
		default:
			return j
		}
		j--
	}
	return j
}

// period emits the word text[i:j], with the period at j when it belongs to it.
func (s *scanner) period(i, j int) int {
	w := s.fold(i, j)
	if w == "" || s.byteAt(j+1) == '.' && (s.byteAt(j+2) == '.' || !titles[w] && !strings.Contains(w, ".")) {
		return s.plain(i, j)
	}
	if s.belongs(i, j, w) {
		return s.emit(i, j+1)
	}
	if strings.IndexByte(w, '.') >= 0 {
		return s.emit(i, j)
	}
	return s.plain(i, j)
}

// belongs reports whether the period at j is part of the word w = text[i:j].
func (s *scanner) belongs(i, j int, w string) bool {
	next := s.skipSpace(j + 1)
	if next == len(s.text) {
		return s.byteAt(j+1) == '.' // nothing follows: it ends the sentence
	}
	closing := strings.IndexByte("\"')]", s.text[next]) >= 0 || strings.HasPrefix(s.text[next:], "”") || strings.HasPrefix(s.text[next:], "’")
	upper := s.upperAt(i)
	switch {
	case titles[w] && (upper || w == "mr" || w == "mrs" || w == "dr"):
		return !closing
	case units[w]:
		if closing && s.restIsClosing(next) {
			return false
		}
		return !(s.upperAt(next) && next > j+1 && opens[s.fold(next, s.run(next))])
	case strings.IndexByte(w, '.') >= 0: // U.S., a.m., Ph.D.
		return !(closing && s.restIsClosing(next))
	case utf8.RuneCountInString(w) == 1 && upper: // an initial
		if w == "i" && !(s.byteAt(s.run(next)) == '.' && s.run(next) == next+1) || closing {
			return false
		}
		return s.upperAt(next) && !opens[s.fold(next, s.run(next))] || strings.IndexByte(",;](&", s.text[next]) >= 0
	case numbered[w]:
		return s.at(next) == digit
	}
	return false
}

func (s *scanner) skipSpace(j int) int {
	for j < len(s.text) {
		c, n := s.classAt(j)
		if c != space {
			break
		}
		j += n
	}
	return j
}

// restIsClosing reports whether nothing but closing marks follows.
func (s *scanner) restIsClosing(j int) bool {
	for ; j < len(s.text); j++ {
		if c := s.text[j]; strings.IndexByte("\"')] \n", c) < 0 && c < utf8.RuneSelf {
			return false
		}
	}
	return true
}

var (
	// titles stand before names; their period never ends a sentence there.
	titles = set(`mr mrs ms dr st ste messrs mme mlle mlles prof rev revd hon capt col gen lt sgt gov sen rep reps maj cpl
		pvt adm cmdr supt pres ft mt attn msgr`)
	// units and others keep their period but before a word that opens sentences.
	units = set(`vs etc inc ltd co corp bros ave blvd rd dept est approx viz cf al esq jr sr jan feb aug sept oct nov dec
		tues tue thurs thur wed fri mon assoc assn dist div ed eds ext fla conn mass calif tex penn ill ind tel incl max
		misc orig refs spec trans univ vols yr yrs hr hrs min mins sec lb lbs oz ca ibid op loc ver arrv lv mob refrig comp confer epis ass't`)
	// numbered are abbreviations before a figure: No. 5, p. 12.
	numbered = set(`no nos p pp vol ch chap fig figs sec art c b d r pt bk ver`)
	// opens are words that, with a capital, start sentences rather than names.
	opens = set(`the a an this that these those he she it they we you i his her its their our my your and but or so yet for nor
		if when while as after before since because although though until once then there here what who whom whose which
		where why how in on at by to from with of into upon for no not all some many most each every both such however
		also thus now never only even just is are was were do does did has have had will would can could should may might
		must let please yes well oh ah`)
)
