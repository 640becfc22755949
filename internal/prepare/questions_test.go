package prepare

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"bookstead/internal/fault"
)

func TestQuestions(t *testing.T) {
	in := "\ufeff" + `{"id": "a", "text": "Nora ran to the well, because the barn was on fire. She filled two buckets."}` + "\n\n" +
		`{"id": 7, "text": ""}` + "\n" + `{"text": "Yes."}` + "\n"
	var out bytes.Buffer
	if err := Questions(context.Background(), &out, strings.NewReader(in), 5); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != 3 {
		t.Fatalf("%d lines, want 3:\n%s", len(lines), out.String())
	}
	var first struct {
		ID     string
		Drafts []askedJSON
	}
	if err := json.Unmarshal([]byte(lines[0]), &first); err != nil {
		t.Fatal(err)
	}
	if first.ID != "a" || len(first.Drafts) == 0 || len(first.Drafts) > 5 {
		t.Errorf("first line: %s", lines[0])
	}
	asked := map[string]bool{}
	for _, d := range first.Drafts {
		if d.Start < 0 || d.End <= d.Start || d.Answer == "" || d.Full == "" {
			t.Errorf("not whole: %+v", d)
		}
		if asked[d.Question] {
			t.Errorf("asked twice: %s", d.Question)
		}
		asked[d.Question] = true
	}
	if !asked["Why did Nora run to the well?"] {
		t.Errorf("the reason is not asked for: %s", lines[0])
	}
	if lines[1] != `{"id":7,"drafts":[]}` || lines[2] != `{"id":null,"drafts":[]}` {
		t.Errorf("empty texts: %s %s", lines[1], lines[2])
	}
}

func TestQuestionsOfBrokenLines(t *testing.T) {
	for _, in := range []string{"no object", `{"id": 1}`, `{"id": 1, "text": 3}`, `["a"]`} {
		err := Questions(context.Background(), new(bytes.Buffer), strings.NewReader(in), 0)
		if !fault.Is(err, fault.Unreadable) {
			t.Errorf("%s: %v, want it unreadable", in, err)
		}
	}
}
