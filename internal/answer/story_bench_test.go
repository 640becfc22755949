//go:build bench

package answer_test

import (
	"compress/gzip"
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"testing"

	"bookstead/internal/answer"
)

// TestBenchStories judges answers about stories, which the model never learned
// from: to each question of FairytaleQA val, the second annotator's answer where
// it is not the first's (people may disagree, but mostly it is right), and the
// first's answer to the next question of the same story (nearly always wrong).
func TestBenchStories(t *testing.T) {
	f, err := os.Open(bench("fairytaleqa", "val_questions.csv.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(z).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	rows = rows[1:]
	get := func(i int, name string) string { return strings.TrimSpace(rows[i][column[name]]) }
	j := judge(t)
	verdicts := map[bool]map[answer.Verdict]int{true: {}, false: {}}
	show := os.Getenv("SHOW") != ""
	for i := range rows {
		first, second := get(i, "answer1"), get(i, "answer4")
		k, err := j.Key(context.Background(), get(i, "question"), []string{first})
		if err != nil {
			t.Fatal(err)
		}
		say := func(right bool, a string) {
			r, err := k.Judge(context.Background(), a, 4)
			if err != nil {
				t.Fatal(err)
			}
			verdicts[right][r.Verdict]++
			if show && right != (r.Verdict == answer.Correct) {
				fmt.Printf("%v %s %.2f | %s | %s | %s\n", right, r.Verdict, r.Score, get(i, "question"), first, a)
			}
		}
		if second != "" && !strings.EqualFold(strings.Trim(second, "."), strings.Trim(first, ".")) {
			say(true, second)
		}
		if i+1 < len(rows) && get(i+1, "story") == get(i, "story") && !strings.Contains(get(i+1, "answer1"), first) && !strings.Contains(first, get(i+1, "answer1")) {
			say(false, get(i+1, "answer1"))
		}
	}
	fmt.Println("another annotator's answer:", verdicts[true])
	fmt.Println("the next question's answer:", verdicts[false])
	share := func(right bool) float64 {
		n := 0
		for _, k := range verdicts[right] {
			n += k
		}
		return float64(verdicts[right][answer.Correct]) / float64(n)
	}
	if a, b := share(true), share(false); a < 0.60 || b > 0.05 {
		t.Errorf("%.2f of other people's answers and %.3f of wrong ones are taken for right; they stood at .64 and .026", a, b)
	}
}
