//go:build bench

package answer_test

import (
	"bufio"
	"compress/gzip"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bookstead/internal/answer"
	"bookstead/internal/answer/sra"
	"bookstead/internal/lexicon"
)

func bench(parts ...string) string {
	d := os.Getenv("BOOKSTEAD_SHARED")
	if d == "" {
		d = "../../../shared"
	}
	return filepath.Join(append([]string{d, "bench"}, parts...)...)
}

func judge(t testing.TB) *answer.Judge {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, err := answer.New(lex)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// TestGateRightAndWrong trains on four fifths of the questions of Beetle and
// SciEntsBank (train parts) and judges the last fifth, five times.
func TestGateRightAndWrong(t *testing.T) {
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	qs, err := sra.Read(bench(sra.Archive))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := sra.Rows(context.Background(), lex, qs)
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 3941+4969 {
		t.Fatalf("%d answers, want 8,910", len(rows))
	}
	s := sra.CrossValidate(rows)
	fmt.Println(s)
	if got := s.All.MacroF1(); got < 0.71 {
		t.Errorf("macro-F1 over all answers is %.4f, must be .71", got)
	}
	if got := (s.Sets["beetle"].MacroF1() + s.Sets["sciEntsBank"].MacroF1()) / 2; got < 0.71 {
		t.Errorf("mean macro-F1 of the two sets is %.4f, must be .71", got)
	}
}

// TestBenchWholeSentences holds what is called no whole sentence against the
// sentence types that people gave in GUM dev: frag.
func TestBenchWholeSentences(t *testing.T) {
	f, err := os.Open(bench("ud-en-gum", "en_gum-ud-dev.conllu.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	var texts, types []string
	in := bufio.NewScanner(z)
	in.Buffer(nil, 1<<20)
	text, kind := "", ""
	for in.Scan() {
		line := in.Text()
		if s, ok := strings.CutPrefix(line, "# text = "); ok {
			text = s
		}
		if s, ok := strings.CutPrefix(line, "# s_type = "); ok {
			kind = s
		}
		if line == "" && text != "" {
			texts, types = append(texts, text), append(types, kind)
			text, kind = "", ""
		}
	}
	j := judge(t)
	var c sra.Counts
	for i, s := range texts {
		if types[i] != "frag" && types[i] != "decl" {
			continue
		}
		k, err := j.Key(context.Background(), "What happened?", []string{s})
		if err != nil {
			t.Fatal(err)
		}
		r, err := k.Judge(context.Background(), s, 4)
		if err != nil {
			t.Fatal(err)
		}
		c.Add(!r.Sentence.Whole, types[i] == "frag")
		if os.Getenv("SHOW") != "" && !r.Sentence.Whole && types[i] != "frag" {
			fmt.Println(s, r.Sentence)
		}
	}
	p, r := float64(c.TruePositive)/float64(c.TruePositive+c.FalsePositive), float64(c.TruePositive)/float64(c.TruePositive+c.FalseNegative)
	fmt.Printf("not whole, against GUM dev frag: precision %.3f recall %.3f F1 %.3f %+v\n", p, r, 2*p*r/(p+r), c)
	if f := 2 * p * r / (p + r); f < 0.85 {
		t.Errorf("F1 %.3f is below .85, where it stood", f)
	}
}

// TestBenchSlips counts, of the slips found in JFLEG dev as it was written, how
// many at least one, and how many at least two, of four correctors changed.
func TestBenchSlips(t *testing.T) {
	read := func(name string) []string {
		data, err := os.ReadFile(bench("grammar", "dev", name))
		if err != nil {
			t.Fatal(err)
		}
		return strings.Split(strings.TrimRight(string(data), "\n"), "\n")
	}
	src := read("dev.src")
	joined := strings.NewReplacer(" n't", "n't", " 's", "'s", " 're", "'re", " 'm", "'m", " 've", "'ve", " 'll", "'ll", " 'd", "'d", " .", ".", " ,", ",") // the data stand in tokens
	for i := range src {
		src[i] = joined.Replace(src[i])
	}
	var refs [][]string
	for i := range 4 {
		ref := read(fmt.Sprintf("dev.ref%d", i))
		for k := range ref {
			ref[k] = joined.Replace(ref[k])
		}
		refs = append(refs, ref)
	}
	j := judge(t)
	type tally struct{ n, one, two, meant int }
	by := map[answer.SlipKind]*tally{}
	for i, s := range src {
		k, err := j.Key(context.Background(), "?", []string{"x"})
		if err != nil {
			t.Fatal(err)
		}
		r, err := k.Judge(context.Background(), s, 6)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range r.Mechanics {
			if m.Text == "" {
				continue
			}
			changed, meant := 0, 0
			for _, ref := range refs {
				before, after := occurrences(s, m.Text), occurrences(ref[i], m.Text)
				if after < before {
					changed++
				}
				if len(m.Meant) > 0 && occurrences(strings.ToLower(ref[i]), strings.ToLower(strings.ReplaceAll(m.Meant[0], "’", "'"))) > 0 {
					meant++
				}
			}
			if by[m.Kind] == nil {
				by[m.Kind] = &tally{}
			}
			by[m.Kind].n++
			if changed >= 1 {
				by[m.Kind].one++
			} else if os.Getenv("SHOW") != "" {
				fmt.Println(m.Kind, m.Text, m.Meant, "|", s)
			}
			if changed >= 2 {
				by[m.Kind].two++
			}
			if meant >= 1 {
				by[m.Kind].meant++
			}
		}
	}
	n, one := 0, 0
	for _, kind := range []answer.SlipKind{answer.Spelling, answer.CapitalI, answer.Apostrophe, answer.Twice, answer.Article, answer.Mixed} {
		if x := by[kind]; x != nil {
			fmt.Printf("%-10s found %4d  changed by one corrector %4d  by two %4d  meant word in a correction %4d\n", kind, x.n, x.one, x.two, x.meant)
			n, one = n+x.n, one+x.one
		}
	}
	if p := float64(one) / float64(n); p < 0.95 {
		t.Errorf("precision %.3f is below .95, where it stood", p)
	}
}

func occurrences(s, word string) int {
	n := 0
	for _, f := range strings.Fields(s) {
		if strings.Trim(f, ".,;:!?\"") == word {
			n++
		}
	}
	return n
}
