//go:build bench

package events_test

import (
	"compress/gzip"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

// TestCausesGate looks how many of the reasons that teachers asked for in
// FairytaleQA (Xu et al. 2022, validation split: questions of the kind "causal
// relationship" whose answer stands in the text) are among the causes and
// purposes that events state. A reason counts as found when the words of one of
// them and of an answer overlap with an F1 of at least a half. No score from
// outside is known for this; the floor only keeps it from getting worse.
func TestCausesGate(t *testing.T) {
	const floor = 0.37
	sections := map[string]string{}
	for _, row := range table(t, "val_sections.csv.gz") {
		sections[row["story"]+"|"+row["section"]] = row["text"]
	}
	docs := map[string]*lang.Doc{}
	asked, found, given := 0, 0, 0
	for _, row := range table(t, "val_questions.csv.gz") {
		key := row["story"] + "|" + row["cor_section"]
		if row["attribute1"] != "causal relationship" || row["ex-or-im1"] != "explicit" || sections[key] == "" {
			continue
		}
		d := docs[key]
		if d == nil {
			d = read(t, sections[key])
			docs[key] = d
			for _, e := range d.Events {
				for _, s := range []lang.Span{e.Cause, e.Purpose} {
					if s.End > s.Start {
						given++
					}
				}
			}
		}
		asked++
		best := 0.0
		for _, e := range d.Events {
			for _, s := range []lang.Span{e.Cause, e.Purpose} {
				for _, a := range []string{row["answer1"], row["answer4"]} {
					best = max(best, overlap(d.Text[s.Start:s.End], a))
				}
			}
		}
		if best >= 0.5 {
			found++
		}
	}
	share := float64(found) / float64(asked)
	fmt.Printf("reasons asked for: %d, found among causes and purposes: %d (%.3f), causes and purposes in these sections: %d\n", asked, found, share, given)
	if share < floor {
		t.Errorf("%.3f is under its floor of %.2f", share, floor)
	}
}

// overlap is the F1 of the words of two texts.
func overlap(a, b string) float64 {
	split := func(s string) []string {
		return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return (r < 'a' || r > 'z') && r != '\'' })
	}
	x, y := split(a), split(b)
	left := map[string]int{}
	for _, w := range x {
		left[w]++
	}
	same := 0
	for _, w := range y {
		if left[w] > 0 {
			left[w]--
			same++
		}
	}
	if same == 0 {
		return 0
	}
	return 2 * float64(same) / float64(len(x)+len(y))
}

// table reads a packed CSV of FairytaleQA by its column names.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	shared := os.Getenv("BOOKSTEAD_SHARED")
	if shared == "" {
		shared = "../../../../shared"
	}
	f, err := os.Open(filepath.Join(shared, "bench/fairytaleqa", name))
	if err != nil {
		t.Fatalf("FairytaleQA is missing: %v", err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(z).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("reading %s: %v", name, err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, v := range r {
			m[rows[0][i]] = v
		}
		out = append(out, m)
	}
	return out
}
