package tokenize

import (
	"strings"
	"unicode/utf8"
)

// symbol reads a token that starts with anything but a letter or digit.
func (s *scanner) symbol(i, n int) int {
	c := s.text[i]
	if c < utf8.RuneSelf {
		switch c {
		case '.':
			return s.stop(i)
		case '!', '?':
			return s.emit(i, s.while(i, "!?"))
		case '\'', '`':
			return s.quote(i, 1)
		case '"', '(', ')', '[', ']', '{', '}', ',', '%', '$', '&', '\\':
			return s.emit(i, i+1)
		case ':', ';', '=':
			if k := s.smiley(i); k > 0 {
				return s.emit(i, k)
			}
		case '_':
			j := s.while(i, "_")
			if j == i+1 {
				s.emphasis = !s.emphasis && s.at(j) != space
			}
			return s.emit(i, j)
		case '#', '@':
			if s.at(i+1) == letter && s.before(i) == space {
				return s.emit(i, s.run(i+1))
			}
		case '+':
			if s.at(i+1) == digit && !s.wordBefore(i) {
				return s.emit(i, s.digits(i+1))
			}
		}
		return s.emit(i, s.while(i, s.text[i:i+1]))
	}
	switch s.text[i : i+n] {
	case "’", "‘":
		return s.quote(i, n)
	case "“", "”", "„", "«", "»", "‹", "›", "£", "€":
		return s.emit(i, i+n)
	case "…":
		j := i
		for strings.HasPrefix(s.text[j:], "…") {
			j += n
		}
		return s.emit(i, s.while(j, "."))
	}
	if n == 1 { // bytes that are no UTF-8
		j := i + 1
		for j < len(s.text) {
			if r, m := utf8.DecodeRuneInString(s.text[j:]); r != utf8.RuneError || m != 1 {
				break
			}
			j++
		}
		return s.emit(i, j)
	}
	// One sign, with what modifies it, as often as it is repeated.
	j := i + n
	for strings.HasPrefix(s.text[j:], s.text[i:i+n]) || strings.HasPrefix(s.text[j:], "\ufe0f") {
		_, m := utf8.DecodeRuneInString(s.text[j:])
		j += m
	}
	return s.emit(i, j)
}

// while returns the end of the bytes from i on that stand in set.
func (s *scanner) while(i int, set string) int {
	for i < len(s.text) && strings.IndexByte(set, s.text[i]) >= 0 {
		i++
	}
	return i
}

func (s *scanner) wordBefore(i int) bool { c := s.before(i); return c == letter || c == digit }

// stop reads one period, a run of them, or ".?"; ".5" and ".doc" are words.
func (s *scanner) stop(i int) int {
	j := s.while(i, ".")
	if j > i+1 {
		return s.emit(i, j)
	}
	if !s.wordBefore(i) && s.before(i) == space {
		if classes[s.byteAt(j)] == digit {
			return s.number(i)
		}
		if k := s.run(j); k > j && endings[s.fold(j, k)] {
			return s.emit(i, k)
		}
	}
	if c := s.byteAt(j); c == '?' || c == '!' {
		return s.emit(i, s.while(j, "!?"))
	}
	return s.emit(i, j)
}

// smiley returns the end of a face that starts at i, 0 for none.
func (s *scanner) smiley(i int) int {
	j := i + 1
	if s.byteAt(j) == '-' {
		j++
	}
	if c := s.byteAt(j); c == 0 || strings.IndexByte(")(DPp", c) < 0 || s.isWord(j+1) {
		return 0
	}
	if j == i+1 && s.before(i) != space {
		return 0
	}
	return j + 1
}
