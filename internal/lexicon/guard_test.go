package lexicon

import (
	"strings"
	"testing"
)

func TestOffensive(t *testing.T) {
	l := opened(t)
	for _, c := range []struct {
		word  string
		level Level
	}{
		{"garden", Fine}, {"class", Fine}, {"assess", Fine}, {"cocked", Mixed}, {"Scunthorpe", Fine}, {"raccoon", Fine}, {"", Fine},
		{"ass", Mixed}, {"asses", Mixed}, {"queer", Mixed}, {"gay", Mixed},
		{"Injun", Never}, {"injuns", Never}, {"squaw's", Never}, {"niggers", Never}, {"fuckin'", Never}, {"Shit", Never},
		{"negro", Dated}, {"gypsies", Dated}, {"damned", Dated}, {"cripple", Dated}, {"Red Indians", Dated},
	} {
		o, ok := l.Offensive(c.word)
		if o.Level != c.level || ok != (c.level >= Dated) || (o.Reason == "") != (c.level == Fine) {
			t.Errorf("Offensive(%q) = %+v, %v", c.word, o, ok)
		}
	}
}

func TestOffensiveIn(t *testing.T) {
	l := opened(t)
	for _, c := range []struct{ text, want string }{
		{"The robin hopped over the wall.", ""},
		{"A queer, gay little ass.", ""},
		{"“Damn it,” said the gipsy.", "Damn"},
		{"a gipsy and an Injun", "Injun"},
		{"They saw a red Indian.", "red Indian"},
		{"The apple was red. Indian corn grew there.", ""},
		{"what a damn-fool thing", "damn"},
		{"", ""},
	} {
		start, end, o, ok := l.OffensiveIn(c.text)
		if got := c.text[start:end]; got != c.want || ok != (c.want != "") || ok != (o.Reason != "") {
			t.Errorf("OffensiveIn(%q) = %q, %+v, %v", c.text, got, o, ok)
		}
	}
}

// Words whose innocent sense stands in older books: the innocent sense is free,
// the others are not, and no synonym leads from one to the other.
func TestSensesAreGuarded(t *testing.T) {
	l := opened(t)
	for key, offensive := range map[string]bool{
		"queer%5:00:00:strange:00": false, "queer%1:18:00::": true, "queer%5:00:00:homosexual:00": true,
		"gay%5:00:02:joyous:00": false, "gay%5:00:00:homosexual:00": true,
		"ass%1:05:00::": false, "ass%1:04:00::": true, "ass%1:08:00::": true,
		"cock%1:05:00::": false, "cock%1:08:00::": true,
		"fairy%1:18:00::": false, "fairy%1:18:01::": true,
		"ejaculate%2:32:00::": false, "ejaculate%2:29:00::": true,
		"doleful%5:00:00:sad:00": false, "female%3:00:00::": false, "seat%1:06:00::": false, "make%2:29:09::": true,
	} {
		s, ok := l.SenseByKey(key)
		if !ok {
			if key != "make%2:29:09::" {
				t.Errorf("there is no sense %s", key)
			}
			continue
		}
		if s.Offensive != offensive || s.Offensive != (s.Reason != "") {
			t.Errorf("%s: offensive %v, because %q", key, s.Offensive, s.Reason)
		}
	}
	buttocks, _ := l.SenseByKey("ass%1:08:00::")
	for _, s := range buttocks.Synonyms {
		if !s.Offensive {
			t.Errorf("%q is offered for %q", s.Lemma, buttocks.Key)
		}
	}
	donkey, _ := l.Synset(mustSense(t, l, "donkey%1:05:00::").Synset)
	if donkey.Offensive {
		t.Error("a donkey is offensive")
	}
}

func mustSense(t *testing.T, l *Lexicon, key string) Sense {
	t.Helper()
	s, ok := l.SenseByKey(key)
	if !ok {
		t.Fatalf("there is no sense %s", key)
	}
	return s
}

// No example of any synset holds a word of the level Never, and no lemma of that
// level is offered as a synonym.
func TestNothingVulgarGetsOut(t *testing.T) {
	l := opened(t)
	examples, marked := 0, 0
	for i := range l.glosses.Len() {
		_, ex := splitGloss(l.glosses.Text(i))
		for _, e := range ex {
			examples++
			for _, w := range strings.FieldsFunc(e, func(r rune) bool { return r != '\'' && r != '-' && (r < 'A' || r > 'Z') && (r < 'a' || r > 'z') }) {
				if o, _ := l.Offensive(w); o.Level == Never {
					t.Errorf("synset %v has the example %q", l.idAt(i), e)
				}
			}
		}
		rec := l.record(i)
		if rec.mark > 0 {
			marked++
		}
		for _, s := range l.synonyms(rec, -1) {
			if o, _ := l.Offensive(s.Lemma); o.Level == Never && !s.Offensive && l.offence(normal(s.Lemma)).Level == Never {
				t.Errorf("synset %v offers %q", rec.id, s.Lemma)
			}
		}
	}
	if examples < 40000 || marked < 500 || marked > 2000 {
		t.Errorf("%d examples and %d marked synsets were seen", examples, marked)
	}
}

// Forms of innocent verbs that look like forms of a slur.
func TestInnocentForms(t *testing.T) {
	l := opened(t)
	for _, w := range []string{"spiced", "spicing"} {
		if o, bad := l.Offensive(w); bad {
			t.Errorf("%s is kept back: %s", w, o.Reason)
		}
	}
	if _, bad := l.Offensive("spics"); !bad {
		t.Error("the plural of a slur passes")
	}
}
