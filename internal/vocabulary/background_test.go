package vocabulary

import (
	"strings"
	"testing"

	"bookstead/internal/kit"
)

// notesOf are the terms explained in a text, "Term: explanation" each.
func notesOf(t *testing.T, text string) []string {
	t.Helper()
	var out []string
	for _, x := range drafted(t, split(text, understood(t, text), 1, 4), Options{Backgrounds: 9})[0] {
		if x.Kind == kit.Background {
			out = append(out, x.Content.Head+": "+x.Content.Answer)
		}
	}
	return out
}

func TestTermsInTheirSense(t *testing.T) {
	for _, c := range []struct{ text, want string }{ // "" for no note
		{"She put the bit into the horse's mouth and took up the reins.", "Bit"},
		{"Alice was not a bit hurt, and the horse ate a bit of hay by the bridle.", "Bridle"},
		{"The groom led the mare to the stable and took off her saddle.", "Groom"},
		{"The bride and the groom danced all night.", ""},
		{"The squirrel ran up the trunk of the old tree.", ""},
		{"He packed his clothes into a trunk and locked it.", "Trunk"},
		{"Two guinea-pigs held up the poor little lizard.", ""},
		{"The governess taught the child to read.", "Governess"},
		{"He had slackened the wheel, and the pig ran off.", ""},
		{"Napoleon lost the battle at Waterloo.", "Waterloo"},
		{"My uncle Ned Milton wrote poems.", ""},
		{"Her cheeks cooled a trifle after the cake.", ""},
		{"She sat by the sideboard in the drawing-room.", "Drawing room"},
		{"The tinder-box lay on the shelf.", "Tinderbox"},
	} {
		got := notesOf(t, c.text)
		found := false
		for _, n := range got {
			found = found || c.want != "" && strings.HasPrefix(n, c.want+":")
		}
		if c.want == "" && len(got) > 0 || c.want != "" && !found {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

// Old sums, reckoned by hand: 12 pence a shilling, 20 shillings a pound, 21 in a
// guinea; a mile 1.609344 km, a yard 0.9144 m, a stone 14 pounds.
func TestMeasuresAndMoney(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"The horse cost twenty-five guineas at the fair.", "So 25 guineas were 26 pounds and 5 shillings."},
		{"He paid a hundred and fifty guineas for it.", "So 150 guineas were 157 pounds and 10 shillings."},
		{"He gave her a guinea.", "twenty-one shillings, one more than a pound."},
		{"He had eighteen shillings a week.", "twelve pence; twenty shillings made a pound."},
		{"It cost thirty shillings.", "So 30 shillings were 1 pound and 10 shillings."},
		{"They gave three half-crowns for the dog.", "So three half-crowns were 7 shillings and 6 pence."},
		{"It was five miles to the village.", "Five miles are about 8 kilometers."},
		{"They rode two and a half leagues that day.", "So 2½ leagues are about 7.5 miles, or 12 kilometers."},
		{"The rider weighs twelve stone and is heavy.", "So twelve stone are 168 pounds."},
		{"The field has ten acres of wheat.", "So ten acres are about 7.5 football fields."},
		{"There were three stones on the path.", ""},
		{"He met two or three leagues of men.", ""},
		{"The king wore a crown of gold.", ""},
		{"The pool was six fathoms deep.", "So six fathoms are about 36 feet, or 11 meters."},
	} {
		got := strings.Join(notesOf(t, c.text), " ")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

func TestNumbersAsTheyAreSaid(t *testing.T) {
	for words, want := range map[string]float64{
		"two": 2, "twenty five": 25, "a hundred": 100, "one hundred and fifty": 150, "two thousand three hundred": 2300, "half": 0.5, "half a": 0.5,
		"two and a half": 2.5, "three dozen": 36, "a score": 20, "a dozen": 12, "5,000": 5000, "three score and ten": 70, "a": 1,
	} {
		if got, ok := sumOf(strings.Fields(words)); !ok || got != want {
			t.Errorf("%q is %g, %v; want %g", words, got, ok, want)
		}
	}
}

func TestTermsFile(t *testing.T) {
	l := terms()
	if len(l.by) < 1000 {
		t.Errorf("only %d forms", len(l.by))
	}
	lex := opened(t)
	seen := map[string]bool{}
	for form, ts := range l.by {
		for _, x := range ts {
			if len(strings.Fields(x.explanation)) > 24 || !strings.ContainsAny(x.explanation[len(x.explanation)-1:], ".?!”") && !strings.HasSuffix(x.explanation, "”") {
				t.Errorf("%s: %q", form, x.explanation)
			}
			if w := lex.Warning(x.shown, x.explanation); w != "" && !seen[x.shown] {
				seen[x.shown] = true
				t.Errorf("%s: %s", x.shown, w)
			}
		}
	}
	for _, bad := range []string{"a\tb", "a\tb\tc\tnear", "a\tb\tc\todd=x"} {
		if _, err := readTerms(bad); err == nil && bad != "a\tb\tc\tnear" {
			t.Errorf("%q is taken for terms", bad)
		}
	}
}
