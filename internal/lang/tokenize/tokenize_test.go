package tokenize

import (
	"strings"
	"testing"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// show writes tokens as "do+n't want ."
func show(ts []lang.Token) string {
	var b strings.Builder
	for i, t := range ts {
		switch {
		case i == 0:
		case t.Multi < 0:
			b.WriteByte('+')
		default:
			b.WriteByte(' ')
		}
		b.WriteString(t.Form)
	}
	return b.String()
}

func TestAppend(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		// Contractions, as in EWT and GUM.
		{"I don't, can't and won't.", "I do+n't , ca+n't and wo+n't ."},
		{"I'm sure they'd've come.", "I+'m sure they+'d+'ve come ."},
		{"He cannot; she's gonna.", "He can+not ; she+'s gon+na ."},
		{"Mary’s and the boys’ things", "Mary+’s and the boys+’ things"},
		{"y'all dunno", "y' all du+n+no"},
		{"the 1930's and '60s", "the 1930's and '60s"},
		// Old turns.
		{"'Tis, ’twas and ’twouldn’t do.", "'T+is , ’t+was and ’t+would+n’t do ."},
		{"“‘Tis a pity,” said he", "“ ‘T+is a pity , ” said he"},
		{"Give 'em th' garden o' an evenin', at five o'clock.", "Give 'em th' garden o' an evenin' , at five o'clock ."},
		{"D'ye hear? T'other one, ma'am, ne'er o'er.", "D'+ye hear ? T'+other one , ma'am , ne'er o'er ."},
		{"I shan't, I ain't, he did n't and he 'll see.", "I sha+n't , I ai+n't , he did n't and he 'll see ."},
		// Quotation marks against apostrophes.
		{"‘I know,’ said Tom, ‘the boys’ room.’", "‘ I know , ’ said Tom , ‘ the boys+’ room . ’"},
		{"'It is so,' he said.", "' It is so , ' he said ."},
		{"“Oh!” said she. ‘Don’t.’", "“ Oh ! ” said she . ‘ Do+n’t . ’"},
		{"‘They can,’ said she; ‘and most of ‘em do.’", "‘ They can , ’ said she ; ‘ and most of ‘em do . ’"},
		{"who 'the girl with the eyes' was, as he 'had to'", "who ' the girl with the eyes ' was , as he ' had to '"},
		{"better'n this, sail thro' it", "better+'n this , sail thro' it"},
		{"''Well,'' he said", "'' Well , '' he said"},
		// Periods.
		{"Mr. and Mrs. J. M. Barrie of St. Ives, etc.", "Mr. and Mrs. J. M. Barrie of St. Ives , etc ."},
		{"At 5 p.m. Dr. Craven came to the U.S. and slept.", "At 5 p.m. Dr. Craven came to the U.S. and slept ."},
		{"So said I. The rest is No. 5, p. 12. No. Never.", "So said I . The rest is No. 5 , p. 12 . No . Never ."},
		{"Plan B.", "Plan B ."},
		{"Dr. J. R. Hale paid £3 10s. 6d. for it in the 1870s.", "Dr. J. R. Hale paid £ 3 10s. 6d. for it in the 1870s ."},
		{"Wait... what?! No!!", "Wait ... what ?! No !!"},
		{"Wait . . . what…", "Wait . . . what …"},
		// Dashes, hyphens, emphasis.
		{"well--no—yes – twenty-five co-workers", "well -- no — yes – twenty - five co-workers"},
		{"a non-stop, good-for-nothing e-mail", "a non-stop , good - for - nothing e-mail"},
		{"the _very_ same _Pequod_'s", "the _ very _ same _ Pequod _ 's"},
		{"th- the one", "th- the one"},
		{"To-night or to-morrow’s a to-do", "To-night or to-morrow+’s a to - do"},
		// Figures, money, times.
		{"$1,000.50 at 7:30pm on 3/4, 1-2 of 23rd", "$ 1,000.50 at 7:30 pm on 3/4 , 1 - 2 of 23rd"},
		{"713-853-3989 or 5%", "713-853-3989 or 5 %"},
		// The web.
		{"See http://www.a-b.org/x?y=1, (www.c.com) and j.m@k.co.uk.", "See http://www.a-b.org/x?y=1 , ( www.c.com ) and j.m@k.co.uk ."},
		{"the end.Then #1 AT&T :)", "the end . Then # 1 AT&T :)"},
		// What is no text.
		{"a\x00b\xff\xfec", "a b \xff\xfe c"},
		{"", ""},
		{"x .٣ y", "x . ٣ y"},
		{"about .5 of it", "about .5 of it"},
		{"שלום עולם", "שלום עולם"},
	} {
		got := show(Append(nil, c.in, 0, len(c.in)))
		if got != c.want {
			t.Errorf("%q\n got %q\nwant %q", c.in, got, c.want)
		}
	}
}

// lossless fails unless the tokens are in order, cut from the text, and hold
// every byte of start..end that is no white space or control character.
func lossless(t *testing.T, text string, start, end int, ts []lang.Token) {
	t.Helper()
	at := start
	blank := func(s string) {
		for i, r := range s {
			sc := scanner{text: s}
			if c, _ := sc.classAt(i); c != space {
				t.Fatalf("%q lost between tokens (%U)", s, r)
			}
		}
	}
	for i, k := range ts {
		if k.Start < at || k.End <= k.Start || k.End > end || text[k.Start:k.End] != k.Form {
			t.Fatalf("token %d %+v at %d of %q", i, k, at, text)
		}
		blank(text[at:k.Start])
		if k.Multi < 0 && k.Start != at {
			t.Fatalf("a multiword token with a gap: %+v", k)
		}
		at = k.End
	}
	blank(text[at:end])
	for i := 0; i < len(ts); i++ {
		for n := int(ts[i].Multi); n > 1; n-- {
			i++
			if i >= len(ts) || ts[i].Multi != -1 {
				t.Fatalf("multiword token broken off: %+v", ts)
			}
		}
	}
}

func TestOffsets(t *testing.T) {
	text := "Left out. Can't you see? Left out."
	ts := Append(nil, text, 10, 24)
	if got := show(ts); got != "Ca+n't you see ?" || ts[0].Start != 10 {
		t.Errorf("%q %+v", got, ts[0])
	}
	lossless(t, text, 10, 24, ts)
}

// FuzzTokenize holds the law that the text comes back.
func FuzzTokenize(f *testing.F) {
	for _, s := range []string{"“Oh!” said she. ‘’Tis _very_ well--o'clock, Mr. B.’", "a.b@c.d http://x.y/z. 1-2-3,000 :-) #a @b ''x'' `y`", "\xff\u00ad’’’\u200b١٢٣", "I'd've y'all's d'ye 'tisn't dunno", ".\u0663 +\u0663"} {
		f.Add(s, uint8(0), uint8(0))
	}
	f.Fuzz(func(t *testing.T, text string, a, b uint8) {
		start, end := min(int(a), len(text)), len(text)-min(int(b), len(text))
		if start > end || start < len(text) && !utf8.RuneStart(text[start]) {
			start, end = 0, len(text)
		}
		lossless(t, text, start, end, Append(nil, text, start, end))
	})
}

func BenchmarkAppend(b *testing.B) {
	text := strings.Repeat("“It’s all right,” said Mary, who wasn't listening -- not at all! Mr. Craven's garden (the old one) was open at 5 o'clock, and there he stood among the rose-trees. ", 2000)
	b.SetBytes(int64(len(text)))
	var ts []lang.Token
	for b.Loop() {
		ts = Append(ts[:0], text, 0, len(text))
	}
}
