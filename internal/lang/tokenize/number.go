package tokenize

// number reads a token that starts with a digit.
func (s *scanner) number(i int) int {
	j := s.digits(i)
	hyphens, lastGroup := 0, j-i
	firstGroup := j - i
	end := 0 // of the number before the first hyphen
	for j < len(s.text) {
		k := s.digits(j + 1)
		n := k - j - 1
		if n == 0 {
			break
		}
		c := s.text[j]
		switch {
		case c == '.' || c == ':' && n <= 2 || c == '/':
		case c == ',' && n == 3 && lastGroup <= 3:
		case c == '-' && (s.byteAt(k) != '/' && s.byteAt(k) != ':'):
			if hyphens == 0 {
				end = j
			}
			hyphens++
		default:
			n = 0
		}
		if n == 0 {
			break
		}
		j, lastGroup = k, n
	}
	// Telephone numbers and dates hold together, ranges do not.
	if hyphens == 1 && !(lastGroup == 4 && (firstGroup == 3 || firstGroup == 5)) {
		j = end
	}
	if s.byteAt(j) == '@' {
		if k := s.mail(i, j); k > 0 {
			return s.emit(i, k)
		}
	}
	k := s.run(j)
	if k > j {
		return s.numberWord(i, j, k)
	}
	if n := s.apostrophe(j); n > 0 && s.fold(j+n, s.run(j+n)) == "s" {
		if s.text[j-1] == '0' && j-i != 3 {
			return s.emit(i, j+n+1) // the 1930's
		}
		return s.emitParts(i, j+n+1, j) // 2003's best
	}
	return s.emit(i, j)
}

// digits returns the end of the digits from i on.
func (s *scanner) digits(i int) int {
	for i < len(s.text) && classes[s.text[i]] == digit {
		i++
	}
	return i
}

// numberWord emits digits with letters behind them: "23rd" and "1970s" are one
// token, "5pm" and "35mm" are two.
func (s *scanner) numberWord(i, j, k int) int {
	switch s.fold(j, k) {
	case "am", "pm", "k", "kg", "g", "mg", "km", "m", "cm", "mm", "ft", "lb", "lbs", "oz", "mph", "min", "mins", "hr", "hrs", "yr", "yrs", "ml", "gb", "mb", "bn", "mw", "kw":
		if s.byteAt(k) == '.' && s.isWord(k+1) {
			break
		}
		s.emit(i, j)
		return s.emit(j, k)
	case "s", "d": // £3 10s. 6d.
		if next := s.skipSpace(k + 1); s.byteAt(k) == '.' && k-i <= 5 && next > k+1 && next < len(s.text) && !s.upperAt(next) && s.isWord(next) {
			return s.emit(i, k+1)
		}
	case "a", "p": // 5a.m.
		if s.byteAt(k) == '.' && s.fold(k+1, s.run(k+1)) == "m" {
			return s.emit(i, j)
		}
	}
	// A name of letters, digits and hyphens goes on: 13-ABC-2, 4_28_00.doc.
	for k < len(s.text) && s.text[k] == '_' && s.isWord(k+1) {
		k = s.run(k + 1)
	}
	return s.emit(i, k)
}
