package txt

import (
	"strings"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	utf "golang.org/x/text/encoding/unicode"

	"bookstead/internal/fault"
)

const story = "“Don’t go,” said René — “it’s late.”\nThe café closed; Zoë’s naïve friend didn’t mind. He’d wait."

func in(t *testing.T, e encoding.Encoding) []byte {
	t.Helper()
	out, err := e.NewEncoder().Bytes([]byte(story))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestDecode(t *testing.T) {
	noBOM := func(e utf.Endianness) encoding.Encoding { return utf.UTF16(e, utf.IgnoreBOM) }
	scrambled, err := charmap.Windows1252.NewDecoder().String(strings.ReplaceAll(story, "”", "“")) // ” has no full image there
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		data []byte
		note string
	}{
		"UTF-8":                  {[]byte(story), ""},
		"UTF-8 with mark":        {[]byte("\ufeff" + story), ""},
		"UTF-16 LE with mark":    {in(t, utf.UTF16(utf.LittleEndian, utf.UseBOM)), ""},
		"UTF-16 BE with mark":    {in(t, utf.UTF16(utf.BigEndian, utf.UseBOM)), ""},
		"UTF-16 LE without mark": {in(t, noBOM(utf.LittleEndian)), "read as UTF-16"},
		"UTF-16 BE without mark": {in(t, noBOM(utf.BigEndian)), "read as UTF-16"},
		"Windows-1252":           {in(t, charmap.Windows1252), "read as Windows-1252"},
		"Mac Roman":              {in(t, charmap.Macintosh), "read as Mac Roman"},
		"UTF-8 with a stray":     {append([]byte(story), " caf\xe9"...), "another way"},
		"line ends":              {[]byte(strings.ReplaceAll(story, "\n", "\r\n")), ""},
		"old Mac line ends":      {[]byte(strings.ReplaceAll(story, "\n", "\r")), ""},
		"invisible characters":   {[]byte(strings.ReplaceAll(story, "late", "la\u00adt\u2060e")), ""},
		"scrambled once":         {[]byte(scrambled), "put right"},
	} {
		text, notes, err := Decode(c.data)
		want := story
		if strings.Contains(name, "stray") {
			want += " café"
		}
		if strings.Contains(name, "scrambled") {
			want = strings.ReplaceAll(story, "”", "“")
		}
		if err != nil || text != want {
			t.Errorf("%s: %q, %v", name, text, err)
		}
		if got := strings.Join(notes, " "); (c.note == "") != (got == "") || !strings.Contains(got, c.note) {
			t.Errorf("%s: notes %q, want %q", name, got, c.note)
		}
	}
	latin1, err := charmap.ISO8859_1.NewEncoder().String("café Zoë naïve René")
	if err != nil {
		t.Fatal(err)
	}
	if text, _, err := Decode([]byte(latin1)); err != nil || text != "café Zoë naïve René" {
		t.Errorf("Latin-1: %q, %v", text, err)
	}
	for name, data := range map[string]string{
		"program": "\x7fELF\x02\x01\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\x03\x00>\x00\x01\x00", "zeros": strings.Repeat("\x00", 90),
		"noise": strings.Repeat("\x01\x02\x8f\x03ab\x1f", 30),
	} {
		if _, _, err := Decode([]byte(data)); !fault.Is(err, fault.Unreadable) {
			t.Errorf("%s is taken for text: %v", name, err)
		}
	}
}
