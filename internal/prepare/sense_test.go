package prepare

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"bookstead/internal/fault"
)

type line struct {
	ID     json.RawMessage
	Senses []struct {
		Key, Why, Meaning, Synonym string
		Score                      float64
	}
}

func senses(t *testing.T, in string) []line {
	t.Helper()
	var out bytes.Buffer
	if err := Senses(context.Background(), &out, strings.NewReader(in)); err != nil {
		t.Fatal(err)
	}
	var lines []line
	for _, l := range strings.Split(strings.TrimSpace(out.String()), "\n") {
		var x line
		if err := json.Unmarshal([]byte(l), &x); err != nil {
			t.Fatalf("%q: %v", l, err)
		}
		lines = append(lines, x)
	}
	return lines
}

func TestSenses(t *testing.T) {
	in := `{"id": 1, "text": "They set out for the village by and by.", "start": 5, "end": 12}

{"id": "two", "text": "They set out for the village by and by.", "start": 29, "end": 38}
{"id": [3], "text": "He spoke in a husky voice, hoarse with cold.", "start": 14, "end": 19, "lemma": "husky", "pos": "a"}
{"id": null, "text": "The zzxqj came.", "start": 4, "end": 9}
{"id": 5, "text": "The.", "start": 0, "end": 3}
{"id": 6, "text": "He was running.", "start": 7, "end": 14, "lemma": "run", "pos": "VERB"}
`
	got := senses(t, in)
	if len(got) != 6 {
		t.Fatalf("%d answers", len(got))
	}
	for i, want := range []struct{ id, key string }{{"1", "set_out%2:"}, {`"two"`, "by_and_by%4:"}, {"[3]", "husky%5:"}, {"null", ""}, {"5", ""}, {"6", "run%2:"}} {
		g := got[i]
		if string(g.ID) != want.id {
			t.Errorf("answer %d has id %s", i, g.ID)
		}
		if want.key == "" {
			if len(g.Senses) != 0 {
				t.Errorf("answer %d: %+v, want none", i, g.Senses)
			}
			continue
		}
		if len(g.Senses) == 0 || !strings.HasPrefix(g.Senses[0].Key, want.key) || g.Senses[0].Why == "" {
			t.Errorf("answer %d: %+v, want %s", i, g.Senses, want.key)
		}
		for k := 1; k < len(g.Senses); k++ {
			if g.Senses[k].Score > g.Senses[k-1].Score {
				t.Errorf("answer %d is not in order", i)
			}
		}
	}
}

// Places count bytes; who counts characters is understood where only so they
// bound words.
func TestSensesPlaces(t *testing.T) {
	text := "“Café!” cried the old dog, and the cat ran."
	at := strings.Index(text, "dog")
	runes := len([]rune(text[:at]))
	for _, start := range []int{at, runes} {
		q, _ := json.Marshal(map[string]any{"id": 1, "text": text, "start": start, "end": start + 3})
		if got := senses(t, string(q)); len(got[0].Senses) == 0 || !strings.HasPrefix(got[0].Senses[0].Key, "dog%1:") {
			t.Errorf("start %d: %+v", start, got[0].Senses)
		}
	}
}

func TestSensesBadInput(t *testing.T) {
	for _, in := range []string{"nonsense\n", `{"id": 1, "text": "a", "start": 0, "end": 9}`, `{"id": 1, "text": "abc", "start": 2, "end": 2}`, `{"id": 1, "text": "abc", "start": -1, "end": 2}`} {
		err := Senses(context.Background(), &bytes.Buffer{}, strings.NewReader(in))
		if !fault.Is(err, fault.Unreadable) {
			t.Errorf("%q: %v", in, err)
		}
	}
	if err := Senses(context.Background(), &bytes.Buffer{}, strings.NewReader("\n\n")); err != nil {
		t.Errorf("empty lines: %v", err)
	}
	for _, text := range []string{`1234 5678`, `th' garden`, `!!!`, `ALL CAPS HERE`, "\\u0000x"} {
		in := `{"id": 1, "text": "` + text + `", "start": 0, "end": 3}`
		if err := Senses(context.Background(), &bytes.Buffer{}, strings.NewReader(in)); err != nil && !fault.Is(err, fault.Unreadable) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
