package book

import "testing"

func TestTypeset(t *testing.T) {
	for in, want := range map[string]string{
		`"Oh!" said she.`:                      `“Oh!” said she.`,
		`'Tis true--or so he said...`:          `’Tis true—or so he said…`,
		`She said, "He cried 'Run!' and ran."`: `She said, “He cried ‘Run!’ and ran.”`,
		`the dogs' bones, don't`:               `the dogs’ bones, don’t`,
		`“Already” — good…`:                    `“Already” — good…`,
		`well-known`:                           `well-known`,
		`give 'em "th' garden"`:                `give ’em “th’ garden”`,
		`She stopped--"Who is there?"`:         `She stopped—“Who is there?”`,
		`in the '60s`:                          `in the ’60s`,
	} {
		if got := Typeset(in); got != want {
			t.Errorf("Typeset(%s) = %s, want %s", in, got, want)
		}
		if again := Typeset(Typeset(in)); again != Typeset(in) {
			t.Errorf("Typeset is not stable on %s", in)
		}
	}
}
