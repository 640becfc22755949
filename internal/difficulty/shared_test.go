//go:build bench

package difficulty

import (
	"compress/gzip"
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bookstead/internal/lexicon"
)

func shared() string {
	if d := os.Getenv("BOOKSTEAD_SHARED"); d != "" {
		return d
	}
	return "../../../shared"
}

// column reads word -> number from a table with a header line.
func column(t *testing.T, path string, comma rune, word, number string) map[string]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join(shared(), "bench", path))
	if err != nil {
		t.Fatalf("the data is missing: %v", err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(z)
	r.Comma, r.LazyQuotes, r.FieldsPerRecord = comma, true, -1
	head, err := r.Read()
	if err != nil {
		t.Fatal(err)
	}
	for i := range head {
		head[i] = strings.TrimPrefix(head[i], "\ufeff")
	}
	w, n := slices.Index(head, word), slices.Index(head, number)
	out := map[string]float64{}
	for {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if len(row) <= max(w, n) {
			continue
		}
		if v, err := strconv.ParseFloat(row[n], 64); err == nil {
			out[strings.ToLower(row[w])] = v
		}
	}
	if len(out) < 1000 {
		t.Fatalf("%s has %d words", path, len(out))
	}
	return out
}

// agreement is Spearman's correlation of the measure and of frequency alone with norms.
func agreement(t *testing.T, m *Measure, norms map[string]float64) (measure, frequency float64) {
	var words []string
	for w := range norms {
		words = append(words, w)
	}
	slices.Sort(words)
	var ours, zipf, theirs []float64
	for _, w := range words {
		ours = append(ours, m.Word(w))
		zipf = append(zipf, -zipfOr(m.lex.Zipf, w, unheard))
		theirs = append(theirs, norms[w])
	}
	return pearson(ranks(ours), ranks(theirs)), pearson(ranks(zipf), ranks(theirs))
}

func ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case x[a] < x[b]:
			return -1
		case x[a] > x[b]:
			return 1
		}
		return 0
	})
	out := make([]float64, len(x))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && x[order[j]] == x[order[i]] {
			j++
		}
		for k := i; k < j; k++ {
			out[order[k]] = float64(i+j-1) / 2
		}
		i = j
	}
	return out
}

func pearson(a, b []float64) float64 {
	ma, mb := 0.0, 0.0
	for i := range a {
		ma += a[i] / float64(len(a))
		mb += b[i] / float64(len(a))
	}
	ab, aa, bb := 0.0, 0.0, 0.0
	for i := range a {
		ab += (a[i] - ma) * (b[i] - mb)
		aa += (a[i] - ma) * (a[i] - ma)
		bb += (b[i] - mb) * (b[i] - mb)
	}
	return ab / math.Sqrt(aa*bb)
}

// TestGateAgeOfAcquisition holds the measure against norms that it has not seen:
// ages at which grown-ups say that they learned words (Kuperman, Stadthagen-
// Gonzalez and Brysbaert 2012, and the larger list by lemma).
func TestGateAgeOfAcquisition(t *testing.T) {
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	m := New(lex)
	for _, c := range []struct {
		what, file, word, number string
		least                    float64
	}{
		{"ratings", "norms/AoA_ratings_Kuperman_et_al_BRM.half.csv.gz", "Word", "Rating.Mean", 0.65},
		{"by lemma", "norms/AoA_51715_words.half.csv.gz", "Word", "AoA_Kup_lem", 0.65},
	} {
		norms := column(t, c.file, ',', c.word, c.number)
		r, f := agreement(t, m, norms)
		t.Logf("age of acquisition, %s: Spearman %.3f over %d words (frequency alone %.3f)", c.what, r, len(norms), f)
		if r < c.least {
			t.Errorf("%s: Spearman %.3f, less than %.2f", c.what, r, c.least)
		}
	}
	known := column(t, "norms/English_Word_Prevalences.half.csv.gz", ',', "Word", "Pknown")
	r, _ := agreement(t, m, known)
	t.Logf("known by grown-ups: Spearman %.3f", -r)
	for grade := 1; grade <= 8; grade++ {
		var ages []float64
		for w, a := range column(t, "norms/AoA_ratings_Kuperman_et_al_BRM.half.csv.gz", ',', "Word", "Rating.Mean") {
			if math.Round(m.Word(w)) == float64(grade) {
				ages = append(ages, a)
			}
		}
		slices.Sort(ages)
		t.Logf("difficulty %d: %d words, learned at %.1f (middle of the ratings)", grade, len(ages), ages[len(ages)/2])
	}
}

// TestSharedComplexity holds the measure against how hard grown-ups find words
// in sentences (CompLex, trial part; its training part gave a third of the weights).
func TestSharedComplexity(t *testing.T) {
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	m := New(lex)
	f, err := os.Open(filepath.Join(shared(), "bench/complexity/lcp_single_trial.tsv.gz"))
	if err != nil {
		t.Fatalf("the data is missing: %v", err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	var ours, zipf, theirs []float64
	for _, line := range strings.Split(string(raw), "\n") {
		c := strings.Split(line, "\t")
		if len(c) != 5 || c[0] == "id" {
			continue
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(c[4]), 64)
		if err != nil {
			t.Fatal(err)
		}
		ours, zipf, theirs = append(ours, m.Word(c[3])), append(zipf, -zipfOr(lex.Zipf, strings.ToLower(c[3]), unheard)), append(theirs, v)
	}
	if len(ours) < 400 {
		t.Fatalf("only %d rated words", len(ours))
	}
	r := pearson(ours, theirs)
	t.Logf("complexity in context, trial: Pearson %.3f, Spearman %.3f over %d (frequency alone %.3f)", r, pearson(ranks(ours), ranks(theirs)), len(ours), pearson(zipf, theirs))
	if r < 0.61 {
		t.Errorf("Pearson %.3f is not better than frequency's published .61", r)
	}
}
