package events_test

import (
	"context"
	"strings"
	"testing"

	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
)

// read analyses a text of ours as the program does.
func read(t *testing.T, text string) *lang.Doc {
	t.Helper()
	d, err := english.Cut(context.Background(), text, nil, english.Options{})
	if err == nil {
		err = english.Understand(context.Background(), d, english.Options{})
	}
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func words(d *lang.Doc, start, end int) string {
	return strings.Join(strings.Fields(d.Text[start:end]), " ")
}

// tell writes the first event with a lemma as
// "subject|object|recipient|place|time|with|not|modality".
func tell(d *lang.Doc, lemma string) string {
	for _, e := range d.Events {
		if e.Lemma != lemma {
			continue
		}
		var out []string
		for _, r := range []lang.Role{e.Subject, e.Object, e.Recipient, e.Place, e.Time, e.With} {
			out = append(out, words(d, r.Start, r.End))
		}
		not := ""
		if e.Negated {
			not = "not"
		}
		return strings.Join(append(out, not, string(e.Modality)), "|")
	}
	return "no event"
}

// The sentences are ours; what they say is plain.
func TestEvents(t *testing.T) {
	for _, c := range []struct{ text, lemma, want string }{
		{"The farmer gave the boy a lamb in the barn.", "give", "The farmer|a lamb|the boy|in the barn||||"},
		{"The boy was bitten by a goose.", "bite", "a goose|The boy||||||"},
		{"In the evening she cut the bread with a knife.", "cut", "she|the bread|||In the evening|with a knife||"},
		{"The old man did not open the gate.", "open", "The old man|the gate|||||not|"},
		{"Nobody heard the bell.", "hear", "Nobody|the bell|||||not|"},
		{"The girl wanted to keep the kitten.", "keep", "The girl|the kitten||||||wished"},
		{"Her aunt told the girl to wash the plates.", "wash", "the girl|the plates||||||ordered"},
		{"“I saw a fox,” said Ellen.", "see", "I|a fox||||||said"},
		{"“Did you feed the hens?” asked Ellen.", "feed", "you|the hens||||||asked"},
		{"“Shut the door!” cried Ellen.", "shut", "|the door||||||ordered"},
		{"If the rain stops, we shall mend the roof.", "stop", "the rain|||||||conditional"},
		{"If the rain stops, we shall mend the roof.", "mend", "we|the roof||||||conditional"},
		{"She might lose the key.", "lose", "She|the key||||||supposed"},
		{"She picked up the lantern and ran upstairs.", "run", "She|||upstairs||||"},
		{"She picked up the lantern and ran upstairs.", "pick up", "She|the lantern||||||"},
		{"The girl was knocked down and dragged to the gate.", "drag", "|The girl||to the gate||||"},
		{"“Every day as comes round looks different.”", "come", "Every day|||||||said"},
		{"They looked at the old tower.", "look at", "They|the old tower||||||"},
		{"The sailor who built the boat lived near the harbour.", "build", "The sailor|the boat||||||"},
	} {
		if got := tell(read(t, c.text), c.lemma); got != c.want {
			t.Errorf("%s\n%s: got %q, want %q", c.text, c.lemma, got, c.want)
		}
	}
}

func TestLinks(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"The boy cried because he had lost his cap.", "lose cause cry: because"},
		{"She hid the letter so that her brother should not find it.", "hide purpose find: so that"},
		{"He climbed the wall to see the fair.", "climb purpose see: to"},
		{"It made the bones ache to hear the noise.", "make cause ache: "},
		{"He was so tired that he slept at once.", "be tired cause sleep: that"},
		{"After they had eaten, they went to bed.", "eat before go: After"},
		{"They waited until the train stopped.", "wait before stop: until"},
		{"If it rains, the hay will spoil.", "rain condition spoil: If"},
		{"Though the wind blew, the candle burned.", "blow although burn: Though"},
		{"The bridge had fallen. So they swam across the river.", "fall cause swim: So"},
		{"She shut the window, for the night was cold.", "be cold cause shut: for"},
		{"Being proud, he sold the horse.", "be proud cause sell: "},
		{"As he had lost his way, he knocked at a door.", "lose cause knock at: As"},
		{"She was too tired to walk.", "be tired cause walk: to"},
	} {
		d := read(t, c.text)
		var got []string
		for _, l := range d.Links {
			got = append(got, d.Events[l.From].Lemma+" "+string(l.Kind)+" "+d.Events[l.To].Lemma+": "+words(d, l.Cue.Start, l.Cue.End))
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("%s\ngot %q, want %q", c.text, got, c.want)
		}
	}
}

// A cause is given by its words, without the word that joins it.
func TestCause(t *testing.T) {
	d := read(t, "The boy cried because he had lost his cap.")
	e := d.Events[0]
	if got := words(d, e.Cause.Start, e.Cause.End); got != "he had lost his cap" {
		t.Errorf("cause %q", got)
	}
	if e.Importance <= 0 || len(e.Reasons) == 0 {
		t.Errorf("importance %v for %q", e.Importance, e.Reasons)
	}
}
