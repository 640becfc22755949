package txt

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	utf "golang.org/x/text/encoding/unicode"

	"bookstead/internal/fault"
)

// Decode turns a file's bytes into text with \n at line ends and without
// invisible characters, and returns sentences for the teacher about what it had
// to guess. It knows UTF-8 and UTF-16 with and without a byte order mark,
// Windows-1252 (of which Latin-1 text is a part), Mac Roman, UTF-8 with stray
// Windows-1252 bytes in it, and UTF-8 that was taken for Windows-1252 and saved
// again. Bytes that are no text in any of them are refused.
func Decode(data []byte) (text string, notes []string, err error) {
	text, note := decode(data)
	if fixed, ok := unscramble(text); ok {
		text, note = fixed, "Some letters in this file had been saved wrongly (’ as â€™); they were put right."
	}
	if binary(text) {
		return "", nil, fault.New(fault.Unreadable, "This file does not hold readable text.",
			"Open it in the program that made it and save it as plain text (UTF-8), or bring in the EPUB.")
	}
	if note != "" {
		notes = append(notes, note)
	}
	return clean(text), notes, nil
}

func decode(data []byte) (text, note string) {
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return through(utf.UTF16(utf.LittleEndian, utf.UseBOM), data), ""
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return through(utf.UTF16(utf.BigEndian, utf.UseBOM), data), ""
	default:
		if e := utf16Guess(data); e != nil {
			return through(e, data), "The file does not say how its letters are stored; it was read as UTF-16."
		}
	}
	if utf8.Valid(data) {
		return string(data), ""
	}
	good, bad := 0, 0
	for rest := data; len(rest) > 0; {
		r, n := utf8.DecodeRune(rest)
		if r == utf8.RuneError && n == 1 {
			bad++
		} else if n > 1 {
			good++
		}
		rest = rest[n:]
	}
	if good > 2*bad {
		return mixed(data), "A few letters in this file are stored in another way than the rest; look at accents and quotation marks."
	}
	if macRoman(data) {
		return through(charmap.Macintosh, data), "The file does not say how its letters are stored; it was read as Mac Roman. If quotation marks or accents look wrong, save it as UTF-8."
	}
	return through(charmap.Windows1252, data), "The file does not say how its letters are stored; it was read as Windows-1252. If quotation marks or accents look wrong, save it as UTF-8."
}

func through(e encoding.Encoding, data []byte) string {
	out, err := e.NewDecoder().Bytes(data)
	if err != nil { // these decoders replace what they cannot read and never fail
		return strings.ToValidUTF8(string(data), "\ufffd")
	}
	return string(out)
}

// utf16Guess recognises UTF-16 without a byte order mark by the zero bytes that
// Latin letters have on one side.
func utf16Guess(data []byte) encoding.Encoding {
	sample := data[:min(len(data), 4000)&^1]
	var zero [2]int
	for i, c := range sample {
		if c == 0 {
			zero[i&1]++
		}
	}
	half := len(sample) / 2
	switch {
	case half < 2:
	case zero[1]*10 > half*7 && zero[0]*10 < half:
		return utf.UTF16(utf.LittleEndian, utf.IgnoreBOM)
	case zero[0]*10 > half*7 && zero[1]*10 < half:
		return utf.UTF16(utf.BigEndian, utf.IgnoreBOM)
	}
	return nil
}

// mixed reads UTF-8 and takes single stray bytes as Windows-1252.
func mixed(data []byte) string {
	var sb strings.Builder
	for len(data) > 0 {
		r, n := utf8.DecodeRune(data)
		if r == utf8.RuneError && n == 1 {
			r = charmap.Windows1252.DecodeByte(data[0])
		}
		sb.WriteRune(r)
		data = data[n:]
	}
	return sb.String()
}

// macRoman tells Mac Roman from Windows-1252 by the apostrophe inside words
// (byte D5 against 92 or 27) and the dashes and quotes that are letters there.
func macRoman(data []byte) bool {
	mac, win := 0, 0
	for i, c := range data {
		inside := i > 0 && i+1 < len(data) && asciiLetter(data[i-1]) && asciiLetter(data[i+1])
		switch c {
		case 0xd5: // ’ or Õ
			if inside && data[i-1] >= 'a' {
				mac++
			}
		case 0xd2, 0xd3: // “ ” or Ò Ó
			if !inside {
				mac++
			}
		case 0x91, 0x92, 0x93, 0x94, 0x96, 0x97, 0xe0, 0xe8, 0xe9, 0xea:
			win++
		case 0x8e: // é or Ž
			if inside {
				mac++
			}
		}
	}
	return mac > win
}

func asciiLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

// unscramble undoes one round of UTF-8 taken for Windows-1252, if the text
// shows its tracks more often than chance would.
func unscramble(text string) (string, bool) {
	tracks := strings.Count(text, "â€") + strings.Count(text, "Ã©") + strings.Count(text, "Ã¨")
	if tracks < 3 {
		return "", false
	}
	raw, err := charmap.Windows1252.NewEncoder().String(strings.ReplaceAll(text, "â€\u009d", "â€\ufffd"))
	if err != nil {
		// ” ends in a byte that Windows-1252 does not have; such text needs it byte by byte.
		raw = rawBytes(text)
	}
	if !utf8.ValidString(raw) || strings.Contains(raw, "â€") {
		return "", false
	}
	return raw, true
}

// rawBytes writes each character as its Windows-1252 byte, those without one by
// their own number, the way lenient programs read them.
func rawBytes(text string) string {
	var sb strings.Builder
	for _, r := range text {
		if c, ok := charmap.Windows1252.EncodeRune(r); ok {
			sb.WriteByte(c)
		} else if r < 0x100 {
			sb.WriteByte(byte(r))
		} else {
			sb.WriteRune(r)
		}
	}
	return sb.String()
}

// binary reports whether text has control characters as no text has.
func binary(text string) bool {
	odd, n := 0, 0
	for _, r := range text {
		n++
		if r == 0 || r < 0x20 && !strings.ContainsRune("\t\n\r\f\v\x1a\x1b", r) || r == utf8.RuneError {
			odd++
		}
	}
	return odd > 3 && odd*200 > n
}

// clean makes all line ends \n, form feeds and other breaks blank lines, and
// drops what is never seen.
func clean(text string) string {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\f", "\n\n", "\v", "\n", "\u2028", "\n", "\u2029", "\n\n", "\u0085", "\n").Replace(text)
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r == '\u00ad' || r == '\u200b' || r == '\u2060' || r == '\ufeff' || unicode.IsControl(r):
			return -1
		}
		return r
	}, text)
}
