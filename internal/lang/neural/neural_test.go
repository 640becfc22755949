package neural

import (
	"context"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

// sentences makes a Doc of sentences whose words are parted by single spaces.
func sentences(lines ...string) *lang.Doc {
	d := &lang.Doc{}
	for _, l := range lines {
		first := len(d.Tokens)
		start := len(d.Text)
		for _, w := range strings.Fields(l) {
			d.Tokens = append(d.Tokens, lang.Token{Start: len(d.Text), End: len(d.Text) + len(w), Form: w, Head: -1})
			d.Text += w + " "
		}
		d.Paragraphs = append(d.Paragraphs, lang.Paragraph{Start: start, End: len(d.Text)})
		d.Sentences = append(d.Sentences, lang.Sentence{First: first, Last: len(d.Tokens), Paragraph: len(d.Paragraphs) - 1})
	}
	d.Done(lang.LayerTokens | lang.LayerSentences)
	return d
}

func reader(t testing.TB, vector bool) *Reader {
	t.Helper()
	if vector && !hasVector() {
		t.Skip("no vector instructions here")
	}
	r, err := loadReader(vector)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// reference is what the training program's float network says (train/export.py).
type reference struct {
	Words, UPOS, XPOS, Feats, Deprel []string
	Head                             []int
	Type                             string
	Vector                           []float64
	Logits                           [][]float64 `json:"upos_logits"`
	Arcs                             []float64   `json:"arc_logits"`
	Names                            [][3]any
}

func TestReferenceActivations(t *testing.T) {
	b, err := os.ReadFile("testdata/reference.json")
	if err != nil {
		t.Fatal(err)
	}
	var refs []reference
	if err := json.Unmarshal(b, &refs); err != nil {
		t.Fatal(err)
	}
	r := reader(t, hasVector())
	for _, ref := range refs {
		d := sentences(strings.Join(ref.Words, " "))
		read, err := r.Read(context.Background(), d)
		if err != nil {
			t.Fatal(err)
		}
		var names [][3]any
		for _, n := range read.Names {
			names = append(names, [3]any{float64(n.First), float64(n.Last), n.Kind})
		}
		if !reflect.DeepEqual(names, ref.Names) {
			t.Errorf("%q: names %v, want %v", ref.Words, names, ref.Names)
		}
		for i, tok := range d.Tokens {
			head := 0
			if tok.Head >= 0 {
				head = tok.Head + 1
			}
			got := []any{tok.UPOS, tok.XPOS, tok.Feats, tok.Deprel, head}
			want := []any{ref.UPOS[i], ref.XPOS[i], ref.Feats[i], ref.Deprel[i], ref.Head[i]}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%q: got %v, want %v", tok.Form, got, want)
			}
		}
		// the numbers themselves, which rounding to 8 bits moves a little
		vectors, ids := r.m.words(d)
		s, out := &scratch{}, &Reading{m: r.m, vector: make([]int8, len(d.Tokens)*r.m.senses.dim), scale: make([]float32, len(d.Tokens))}
		batches, rows := batch(d)
		r.m.read(s, d, batches[0], rows[0], vectors, ids, out)
		z := make([]float32, len(r.m.UPOS))
		for i, want := range ref.Logits {
			r.m.values(z, s.heads[(i+1)*r.m.heads.pad:], s.scale[i+1], "u")
			for j, w := range want {
				if math.Abs(float64(z[j])-w) > 0.35 {
					t.Errorf("%q: logit %d is %.3f, want %.3f", d.Tokens[i].Form, j, z[j], w)
				}
			}
		}
	}
}

func TestVectorAndPlainAgree(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, size := range [][3]int{{1, 192, 16}, {5, 192, 54}, {7, 768, 192}, {13, 256, 17}} {
		m, in, out := size[0], size[1], size[2]
		w := make([]int8, in*out)
		for i := range w {
			w[i] = int8(rng.IntN(255) - 127)
		}
		a := make([]int16, m*in)
		for i := range a {
			a[i] = int16(rng.IntN(2*actMax+1) - actMax)
		}
		for i := range in { // the largest sums that there can be
			a[i], w[i] = actMax, 127
			if out > 3 {
				w[in+i], w[2*in+i], w[3*in+i] = 127, -127, -127
			}
		}
		want := make([]int32, m*out)
		for r := range m {
			for n := range out {
				for i := range in {
					want[r*out+n] += int32(a[r*in+i]) * int32(w[n*in+i])
				}
			}
		}
		for _, vector := range []bool{false, true} {
			if vector && !hasVector() {
				continue
			}
			d := newDense(w, out, in, make([]float32, out), nil, vector)
			c := make([]int32, m*d.pad)
			d.product(c, a, m, make([]float64, rowGroup*in))
			for r := range m {
				if got := c[r*d.pad : r*d.pad+out]; !slices.Equal(got, want[r*out:(r+1)*out]) {
					t.Fatalf("%v vector %v row %d: got %v, want %v", size, vector, r, got, want[r*out:(r+1)*out])
				}
			}
		}
	}
	// and the whole reading
	if !hasVector() {
		return
	}
	var docs []*lang.Doc
	var readings []*Reading
	for _, vector := range []bool{false, true} {
		d := sentences(story...)
		got, err := reader(t, vector).Read(context.Background(), d)
		if err != nil {
			t.Fatal(err)
		}
		got.m = nil
		docs, readings = append(docs, d), append(readings, got)
	}
	if !reflect.DeepEqual(docs[0], docs[1]) || !reflect.DeepEqual(readings[0], readings[1]) {
		t.Error("the reading differs with vector instructions")
	}
}

var story = []string{
	"The old gardener did n't answer her at once .",
	"“ Where have you been , Tom ? ” cried Mrs. Larkin , shaking the snow from her cloak .",
	"Run , Nell !",
	"She sat on the bank of the river and counted the boats .",
	"Her uncle kept his money in the bank at Port Elder .",
	"Chapter Four",
}

func TestReadDoesNotDependOnWorkersOrCompany(t *testing.T) {
	many := sentences(slices.Concat(slices.Repeat(story, 40))...)
	r := reader(t, hasVector())
	r.workers = 3
	if _, err := r.Read(context.Background(), many); err != nil {
		t.Fatal(err)
	}
	r.workers = 1
	for i, line := range story {
		alone := sentences(line)
		if _, err := r.Read(context.Background(), alone); err != nil {
			t.Fatal(err)
		}
		for _, k := range []int{i, i + 39*len(story)} {
			s := many.Sentences[k]
			for j := s.First; j < s.Last; j++ {
				a, b := many.Tokens[j], alone.Tokens[j-s.First]
				if a.Head >= 0 {
					a.Head -= s.First
				}
				a.Start, a.End = b.Start, b.End
				if a != b {
					t.Errorf("%q: %+v among many, %+v alone", a.Form, a, b)
				}
			}
		}
	}
}

func TestNamesAndTypes(t *testing.T) {
	d := sentences(story...)
	got, err := reader(t, hasVector()).Read(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	var people []string
	for _, n := range got.Names {
		if n.Kind == "PER" {
			people = append(people, d.Text[d.Tokens[n.First].Start:d.Tokens[n.Last-1].End])
		}
	}
	for _, want := range []string{"Tom", "Mrs. Larkin", "The old gardener", "Nell"} {
		if !slices.Contains(people, want) {
			t.Errorf("%q is not among the people %q", want, people)
		}
	}
	var types []lang.SentenceType
	for _, s := range d.Sentences {
		types = append(types, s.Type)
	}
	want := []lang.SentenceType{lang.Statement, lang.Statement, lang.Command, lang.Statement, lang.Statement, lang.Fragment}
	if !slices.Equal(types, want) {
		t.Errorf("types %q, want %q", types, want)
	}
}

func TestSenses(t *testing.T) {
	d := sentences(story...)
	got, err := reader(t, hasVector()).Read(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	keys := []string{"bank%1:17:01::", "bank%1:14:00::", "bank%1:99:00::"} // slope, institution, none
	var p [][]float64
	for i, tok := range d.Tokens {
		if tok.Form == "bank" {
			p = append(p, got.Senses(i, keys))
		}
	}
	if len(p) != 2 || p[0][0]-p[0][1] <= p[1][0]-p[1][1] {
		t.Errorf("bank of the river %v, money in the bank %v", p[0], p[1])
	}
	for _, q := range p {
		if s := q[0] + q[1] + q[2]; math.Abs(s-1) > 1e-9 || q[2] != 0 {
			t.Errorf("likelihoods %v", q)
		}
	}
}

func TestLongSentence(t *testing.T) {
	d := sentences(strings.Repeat("and the sea rose ", 300))
	if _, err := reader(t, hasVector()).Read(context.Background(), d); err != nil {
		t.Fatal(err)
	}
	roots := 0
	for i, tok := range d.Tokens {
		if tok.Head < 0 {
			roots++
		}
		n, j := 0, i
		for j >= 0 && n <= len(d.Tokens) {
			j, n = d.Tokens[j].Head, n+1
		}
		if j >= 0 {
			t.Fatalf("token %d hangs in a cycle", i)
		}
	}
	if roots != 1 {
		t.Errorf("%d roots", roots)
	}
}

func TestReadStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	d := sentences(story...)
	r := reader(t, hasVector())
	if _, err := r.Read(ctx, d); err != context.Canceled || d.Has(lang.LayerTags) {
		t.Errorf("error %v, tags done %v", err, d.Has(lang.LayerTags))
	}
	if _, err := r.Read(context.Background(), &lang.Doc{}); err == nil {
		t.Error("read a text without tokens")
	}
}

// TestChuLiuEdmonds compares with all trees of small random graphs.
func TestChuLiuEdmonds(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		n := 2 + rng.IntN(4)
		k := n + 1
		s := make([]float32, k*k)
		for i := range s {
			s[i] = float32(rng.NormFloat64() * 3)
		}
		best := math.Inf(-1)
		h := make([]int, k)
		var try func(i int, sum float64)
		try = func(i int, sum float64) {
			if i == k {
				if isTree(h) {
					best = math.Max(best, sum)
				}
				return
			}
			for j := range k {
				if j != i {
					h[i] = j
					try(i+1, sum+float64(s[i*k+j]))
				}
			}
		}
		try(1, 0)
		got := make([]int, k)
		bestTree(s, k, n, got)
		sum := 0.0
		for i := 1; i < k; i++ {
			sum += float64(s[i*k+got[i]])
		}
		if !isTree(got) || math.Abs(sum-best) > 1e-6 {
			t.Fatalf("heads %v score %.4f, the best tree scores %.4f", got, sum, best)
		}
	}
}

func TestBadWeights(t *testing.T) {
	for _, s := range []string{"", "BKREAD01", weights[:200], "x" + weights[1:100]} {
		if _, err := load(s, false); err == nil {
			t.Errorf("%d bytes were taken for weights", len(s))
		}
	}
}

func benchmarkRead(b *testing.B, vector bool) {
	r := reader(b, vector)
	d := sentences(slices.Concat(slices.Repeat(story, 100))...)
	b.ResetTimer()
	for b.Loop() {
		if _, err := r.Read(context.Background(), d); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(d.Tokens)*b.N)/b.Elapsed().Seconds(), "tokens/s")
}

func BenchmarkRead(b *testing.B)      { benchmarkRead(b, true) }
func BenchmarkReadPlain(b *testing.B) { benchmarkRead(b, false) }

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := Load(); err != nil {
			b.Fatal(err)
		}
	}
}

func TestTellsHowFar(t *testing.T) {
	d := sentences(strings.Repeat("and the sea rose ", 300), "The hen sat .", "It rained .")
	last, all := 0, 0
	_, err := reader(t, hasVector()).Telling(func(done, total int) {
		if done <= last || done > total {
			t.Errorf("%d of %d after %d", done, total, last)
		}
		last, all = done, total
	}).Read(context.Background(), d)
	if err != nil || last == 0 || last != all {
		t.Errorf("told %d of %d at the end (%v)", last, all, err)
	}
}
