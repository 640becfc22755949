//go:build bench

package english

import (
	"archive/tar"
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

// readPeople reads a text from its letters to its speakers.
var readPeople = func(t *testing.T, name, text string, paragraphs []lang.Paragraph) *lang.Doc {
	t.Helper()
	d, err := Cut(context.Background(), text, paragraphs, Options{})
	if err == nil {
		err = Understand(context.Background(), d, Options{})
	}
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// readTokens reads a text whose tokens and sentences are given.
var readTokens = func(t *testing.T, name string, d *lang.Doc) *lang.Doc {
	t.Helper()
	if err := Understand(context.Background(), d, Options{}); err != nil {
		t.Fatal(err)
	}
	return d
}

func sharedData(t *testing.T, path string) string {
	t.Helper()
	root := os.Getenv("BOOKSTEAD_SHARED")
	if root == "" {
		root = "../../../../shared"
	}
	p := filepath.Join(root, filepath.FromSlash(path))
	if _, err := os.Stat(p); err != nil {
		t.Fatalf("what this is measured on is missing: %v", err)
	}
	return p
}

func unzip(t *testing.T, path string) []byte {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// archive returns the files of a tar archive by base name.
func archive(t *testing.T, path string) map[string][]byte {
	t.Helper()
	var raw []byte
	if strings.HasSuffix(path, ".xz") {
		var err error
		if raw, err = exec.Command("xz", "-dc", path).Output(); err != nil {
			t.Fatalf("unpacking %s: %v", path, err)
		}
	} else {
		raw = unzip(t, path)
	}
	out := map[string][]byte{}
	r := tar.NewReader(bytes.NewReader(raw))
	for {
		h, err := r.Next()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if h.Typeflag == tar.TypeReg {
			out[filepath.Base(h.Name)] = b
		}
	}
}

// saying is a quotation as an annotator marked it.
type saying struct {
	parts      []lang.Span
	speaker    string
	addressees []string
	kind       string
}

// novel is a text of the Project Dialogism Novel Corpus.
type novel struct {
	name, text string
	sayings    []saying
	mentions   map[string][]lang.Span // of each character
}

// python reads a literal of lists, strings and numbers as Python prints it.
func python(s string) any {
	var b strings.Builder
	rs := []rune(s)
	for i := 0; i < len(rs); i++ {
		c := rs[i]
		if c != '\'' && c != '"' {
			b.WriteRune(c)
			continue
		}
		var w strings.Builder
		for i++; i < len(rs) && rs[i] != c; i++ {
			if rs[i] == '\\' && i+1 < len(rs) {
				i++
				if rs[i] == 'n' {
					w.WriteByte('\n')
					continue
				}
			}
			w.WriteRune(rs[i])
		}
		q, _ := json.Marshal(w.String())
		b.Write(q)
	}
	var v any
	if json.Unmarshal([]byte(b.String()), &v) != nil {
		return nil
	}
	return v
}

func spansOf(v any) (out []lang.Span) {
	list, _ := v.([]any)
	for _, x := range list {
		if p, ok := x.([]any); ok && len(p) == 2 {
			a, okA := p[0].(float64)
			b, okB := p[1].(float64)
			if okA && okB {
				out = append(out, lang.Span{Start: int(a), End: int(b)})
			}
		}
	}
	return out
}

func stringsOf(v any) (out []string) {
	list, _ := v.([]any)
	for _, x := range list {
		if s, ok := x.(string); ok {
			out = append(out, s)
		}
	}
	return out
}

func table(t *testing.T, raw []byte) []map[string]string {
	t.Helper()
	r := csv.NewReader(bytes.NewReader(raw))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, x := range row {
			m[rows[0][i]] = x
		}
		out = append(out, m)
	}
	return out
}

func readNovel(t *testing.T, name string) novel {
	t.Helper()
	dir := sharedData(t, "bench/quotations/"+name)
	n := novel{name: name, text: string(unzip(t, filepath.Join(dir, "novel_text.txt.gz"))), mentions: map[string][]lang.Span{}}
	for _, r := range table(t, unzip(t, filepath.Join(dir, "quotation_info.csv.gz"))) {
		s := saying{parts: spansOf(python(r["quoteByteSpans"])), speaker: r["speaker"], addressees: stringsOf(python(r["addressees"])), kind: r["quoteType"]}
		if len(s.parts) == 0 {
			t.Fatalf("%s: a quotation without a place: %v", name, r)
		}
		n.sayings = append(n.sayings, s)
		places, _ := python(r["mentionSpansList"]).([]any)
		who, _ := python(r["mentionEntitiesList"]).([]any)
		for i := range min(len(places), len(who)) {
			ps := spansOf(places[i])
			es, _ := who[i].([]any)
			for k := range min(len(ps), len(es)) {
				if ids := stringsOf(es[k]); len(ids) == 1 {
					n.mentions[ids[0]] = append(n.mentions[ids[0]], ps[k])
				}
			}
		}
	}
	// Everywhere in the text, a name stands for the one character that has it.
	owner := map[string]string{}
	for _, r := range table(t, unzip(t, filepath.Join(dir, "character_info.csv.gz"))) {
		list := strings.NewReplacer("{", "[", "}", "]").Replace(r["Aliases"])
		for _, a := range append(stringsOf(python(list)), r["Main Name"]) {
			a = strings.ToLower(a)
			if o, ok := owner[a]; ok && o != r["Main Name"] {
				owner[a] = ""
			} else {
				owner[a] = r["Main Name"]
			}
		}
	}
	aliases := make([]string, 0, len(owner))
	for a := range owner {
		aliases = append(aliases, regexp.QuoteMeta(a))
	}
	sort.Slice(aliases, func(i, k int) bool {
		return len(aliases[i]) > len(aliases[k]) || len(aliases[i]) == len(aliases[k]) && aliases[i] < aliases[k]
	})
	for _, at := range regexp.MustCompile(`(?i)\b(?:`+strings.Join(aliases, "|")+`)\b`).FindAllStringIndex(n.text, -1) {
		s := n.text[at[0]:at[1]]
		if s == strings.ToLower(s) && !strings.Contains(s, " ") {
			continue // "the cook" may be any cook
		}
		if o := owner[strings.ToLower(s)]; o != "" {
			n.mentions[o] = append(n.mentions[o], lang.Span{Start: at[0], End: at[1]})
		}
	}
	return n
}

// castOf matches gold characters one to one to cast entries by the number of
// mentions that overlap, the sum of them as great as can be.
func castOf(gold map[string][]lang.Span, cast []lang.Member) map[string]string {
	type at struct {
		lang.Span
		who int
	}
	names := make([]string, 0, len(gold))
	for g := range gold {
		names = append(names, g)
	}
	sort.Strings(names)
	var found []at
	var members []int
	for i, m := range cast {
		if m.Kind == lang.Place {
			continue
		}
		for _, x := range m.Mentions {
			found = append(found, at{lang.Span{Start: x.Start, End: x.End}, len(members)})
		}
		members = append(members, i)
	}
	slices.SortStableFunc(found, func(a, b at) int { return a.Start - b.Start })
	both := make([][]float64, len(names))
	for i, g := range names {
		both[i] = make([]float64, len(members))
		for _, s := range gold[g] {
			k := sort.Search(len(found), func(k int) bool { return found[k].Start >= s.Start-60 })
			for ; k < len(found) && found[k].Start < s.End; k++ {
				if found[k].End > s.Start {
					both[i][found[k].who]++
				}
			}
		}
	}
	out := map[string]string{}
	for i, k := range assign(both) {
		if k >= 0 && both[i][k] > 0 {
			out[names[i]] = cast[members[k]].ID
		}
	}
	return out
}

// assign is the Hungarian method: for each row the column, -1 for none, so that
// the sum is greatest.
func assign(w [][]float64) []int {
	rows, cols := len(w), 0
	if rows > 0 {
		cols = len(w[0])
	}
	n := max(rows, cols)
	cost := func(i, k int) float64 {
		if i < rows && k < cols {
			return -w[i][k]
		}
		return 0
	}
	u, v, p, way := make([]float64, n+1), make([]float64, n+1), make([]int, n+1), make([]int, n+1)
	for i := 1; i <= n; i++ {
		p[0] = i
		k0 := 0
		least, used := make([]float64, n+1), make([]bool, n+1)
		for k := range least {
			least[k] = 1e18
		}
		for p[k0] != 0 {
			used[k0] = true
			i0, delta, k1 := p[k0], 1e18, 0
			for k := 1; k <= n; k++ {
				if used[k] {
					continue
				}
				if c := cost(i0-1, k-1) - u[i0] - v[k]; c < least[k] {
					least[k], way[k] = c, k0
				}
				if least[k] < delta {
					delta, k1 = least[k], k
				}
			}
			for k := 0; k <= n; k++ {
				if used[k] {
					u[p[k]] += delta
					v[k] -= delta
				} else {
					least[k] -= delta
				}
			}
			k0 = k1
		}
		for k0 != 0 {
			p[k0] = p[way[k0]]
			k0 = way[k0]
		}
	}
	out := make([]int, rows)
	for i := range out {
		out[i] = -1
	}
	for k := 1; k <= cols; k++ {
		if i := p[k]; i > 0 && i <= rows {
			out[i-1] = k - 1
		}
	}
	return out
}

// speechScore is what the quotations of a novel came to.
type speechScore struct {
	gold, found, right   int
	kinds, kindsRight    map[string]int
	addressees, spokenTo int // gold quotations with an addressee, those whose addressee was told
	exact, own           int // extents that agree, quotations of ours
	open, openRight      int // those with a speaker told
}

func outer(parts []lang.Span) lang.Span {
	return lang.Span{Start: parts[0].Start, End: parts[len(parts)-1].End}
}

// overlap is how many bytes two lists of spans share.
func overlap(a, b []lang.Span) int {
	n := 0
	for _, x := range a {
		for _, y := range b {
			n += max(0, min(x.End, y.End)-max(x.Start, y.Start))
		}
	}
	return n
}

func length(a []lang.Span) (n int) {
	for _, x := range a {
		n += x.End - x.Start
	}
	return n
}

func scoreSpeech(gold []saying, mentions map[string][]lang.Span, d *lang.Doc, say func(g saying, q *lang.Quotation, want string)) speechScore {
	who := castOf(mentions, d.Cast)
	s := speechScore{gold: len(gold), own: len(d.Quotations), kinds: map[string]int{}, kindsRight: map[string]int{}}
	for _, g := range gold {
		s.kinds[g.kind]++
		best, most := -1, 0
		at := outer(g.parts)
		k := sort.Search(len(d.Quotations), func(k int) bool { return d.Quotations[k].End > at.Start })
		for ; k < len(d.Quotations) && d.Quotations[k].Start < at.End; k++ {
			if o := overlap(g.parts, d.Quotations[k].Parts); o > most {
				best, most = k, o
			}
		}
		if len(g.addressees) > 0 {
			s.addressees++
		}
		if best < 0 || 2*most < length(g.parts) {
			if say != nil {
				say(g, nil, who[g.speaker])
			}
			continue
		}
		s.found++
		q := &d.Quotations[best]
		if abs(q.Start-at.Start) <= 1 && abs(q.End-at.End) <= 1 {
			s.exact++
		}
		if q.Speaker != "" {
			s.open++
		}
		if id := who[g.speaker]; id != "" && q.Speaker == id {
			s.right++
			s.openRight++
			s.kindsRight[g.kind]++
		}
		if say != nil {
			say(g, q, who[g.speaker])
		}
		for _, a := range g.addressees {
			if id := who[a]; id != "" && q.Addressee == id {
				s.spokenTo++
				break
			}
		}
	}
	return s
}

func abs(n int) int { return max(n, -n) }

func ratio(a, b int) float64 { return float64(a) / float64(max(1, b)) }

func (s speechScore) String() string {
	p, r := ratio(s.exact, s.own), ratio(s.exact, s.gold)
	f := 0.0
	if p+r > 0 {
		f = 2 * p * r / (p + r)
	}
	line := fmt.Sprintf("quotations %4d  speaker %.3f (of those told %.3f)  addressee %.3f  found %.3f  extents P %.3f R %.3f F1 %.3f ", s.gold, ratio(s.right, s.gold), ratio(s.openRight, s.open), ratio(s.spokenTo, s.addressees), ratio(s.found, s.gold), p, r, f)
	for _, k := range []string{"Explicit", "Anaphoric", "Implicit"} {
		if s.kinds[k] > 0 {
			line += fmt.Sprintf(" %s %.3f", strings.ToLower(k), ratio(s.kindsRight[k], s.kinds[k]))
		}
	}
	return line
}

var dialogism = []string{"AlicesAdventuresInWonderland", "OliverTwist", "PrideAndPrejudice", "TheSignOfTheFour"}

// TestGateSpeakers holds who speaks in four novels, from the raw text and with
// our own cast, to the share that must be right.
func TestGateSpeakers(t *testing.T) {
	right, all := 0, 0
	for _, name := range dialogism {
		n := readNovel(t, name)
		d := readPeople(t, name, n.text, nil)
		s := scoreSpeech(n.sayings, n.mentions, d, wrong(n.name, d))
		fmt.Printf("%-30s %s\n", name, s)
		right, all = right+s.right, all+s.gold
	}
	share := ratio(right, all)
	fmt.Printf("%-30s speaker %.3f\n", "all", share)
	if share < 0.60 {
		t.Errorf("speakers: %.3f is under the gate of .60", share)
	}
}

// wrong writes what was not right into the folder named by WRONG.
func wrong(name string, d *lang.Doc) func(saying, *lang.Quotation, string) {
	dir := os.Getenv("WRONG")
	if dir == "" {
		return nil
	}
	f, err := os.Create(filepath.Join(dir, name+".txt"))
	if err != nil {
		return nil
	}
	title := func(id string) string {
		if m := d.Member(id); m != nil {
			return id + " " + m.Name
		}
		return "-"
	}
	return func(g saying, q *lang.Quotation, want string) {
		at := outer(g.parts)
		text := d.Text[max(0, at.Start-60):min(len(d.Text), at.End+60)]
		switch {
		case q == nil:
			fmt.Fprintf(f, "MISSED %s %d: %q\n", g.kind, at.Start, text)
		case q.Speaker != want || want == "":
			fmt.Fprintf(f, "WRONG %s gold %s = %s; ours %s (%.2f) cue %q at %d: %q\n", g.kind, g.speaker, title(want), title(q.Speaker), q.Confidence, strings.Join(strings.Fields(d.Text[q.Cue.Start:q.Cue.End]), " "), at.Start, text)
		}
	}
}

// book is an excerpt of LitBank: its tokens with the places of people, the
// quotations with the names of who says them, and who is meant where.
type excerpt struct {
	name      string
	sentences [][]string
	spans     []entity
	chains    map[string][]entity
	sayings   []struct {
		first, last int
		speaker     string
	}
	start []int // of each sentence, in tokens
}

type entity struct {
	first, last int // tokens, half-open
	kind        string
}

func readExcerpts(t *testing.T) []excerpt {
	t.Helper()
	tables := archive(t, sharedData(t, "bench/entities/tsv.tar.gz"))
	chains := archive(t, sharedData(t, "bench/entities/litbank-coref.tar.xz"))
	said := archive(t, sharedData(t, "bench/quotations/litbank-quotations.tar.xz"))
	names := make([]string, 0, len(tables))
	for n := range tables {
		if strings.HasSuffix(n, ".tsv") {
			names = append(names, n)
		}
	}
	sort.Strings(names)
	var out []excerpt
	for _, n := range names {
		x := excerpt{name: strings.TrimSuffix(n, "_brat.tsv"), chains: map[string][]entity{}}
		at := 0
		var words []string
		open := map[int]int{} // layer -> first
		kind := map[int]string{}
		flush := func() {
			for k := range open {
				x.spans = append(x.spans, entity{open[k], at, kind[k]})
			}
			clear(open)
			if len(words) > 0 {
				x.start = append(x.start, at-len(words))
				x.sentences = append(x.sentences, words)
			}
			words = nil
		}
		sc := bufio.NewScanner(bytes.NewReader(tables[n]))
		for sc.Scan() {
			p := strings.Split(sc.Text(), "\t")
			if p[0] == "" {
				flush()
				continue
			}
			for k := 1; k < len(p); k++ {
				if _, ok := open[k]; ok && !strings.HasPrefix(p[k], "I-") {
					x.spans = append(x.spans, entity{open[k], at, kind[k]})
					delete(open, k)
				}
				if strings.HasPrefix(p[k], "B-") {
					open[k], kind[k] = at, p[k][2:]
				}
			}
			words = append(words, p[0])
			at++
		}
		flush()
		x.readChains(chains[x.name+".conll"])
		x.readSayings(said[x.name+".ann"])
		out = append(out, x)
	}
	return out
}

func (x *excerpt) readChains(raw []byte) {
	at := 0
	open := map[string][]int{}
	for line := range strings.Lines(string(raw)) {
		p := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(p) < 12 {
			continue
		}
		for _, c := range strings.Split(p[len(p)-1], "|") {
			id := strings.Trim(c, "()")
			if strings.HasPrefix(c, "(") {
				open[id] = append(open[id], at)
			}
			if strings.HasSuffix(c, ")") {
				k := len(open[id]) - 1
				if k >= 0 {
					x.chains[id] = append(x.chains[id], entity{open[id][k], at + 1, ""})
					open[id] = open[id][:k]
				}
			}
		}
		at++
	}
}

func (x *excerpt) readSayings(raw []byte) {
	speaker := map[string]string{}
	for line := range strings.Lines(string(raw)) {
		if p := strings.Split(strings.TrimRight(line, "\n"), "\t"); p[0] == "ATTRIB" {
			speaker[p[1]] = p[2]
		}
	}
	for line := range strings.Lines(string(raw)) {
		p := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if p[0] != "QUOTE" {
			continue
		}
		n := [4]int{}
		for i := range n {
			n[i], _ = strconv.Atoi(p[2+i])
		}
		if n[0] >= len(x.start) || n[2] >= len(x.start) {
			continue
		}
		who := speaker[p[1]]
		x.sayings = append(x.sayings, struct {
			first, last int
			speaker     string
		}{x.start[n[0]] + n[1], x.start[n[2]] + n[3] + 1, who})
	}
	sort.Slice(x.sayings, func(i, k int) bool { return x.sayings[i].first < x.sayings[k].first })
}

// doc is the excerpt with its own tokens and sentences.
func (x *excerpt) doc() *lang.Doc {
	d := &lang.Doc{}
	var b strings.Builder
	for _, s := range x.sentences {
		first := len(d.Tokens)
		for _, w := range s {
			if b.Len() > 0 {
				b.WriteByte(' ')
			}
			from := b.Len()
			b.WriteString(w)
			d.Tokens = append(d.Tokens, lang.Token{Start: from, End: b.Len(), Form: w, Head: -1})
		}
		d.Sentences = append(d.Sentences, lang.Sentence{First: first, Last: len(d.Tokens)})
	}
	d.Text = b.String()
	d.Paragraphs = []lang.Paragraph{{End: len(d.Text), Kind: "paragraph"}}
	d.Done(lang.LayerTokens | lang.LayerSentences)
	return d
}

// heldOut tells whether excerpt i was held out when the reader was trained.
func heldOut(i int) bool { return i%6 == 0 }

// TestGatePeople holds the named people of thirteen excerpts, that nothing was
// learned from, to the share that must be found with both ends right.
func TestGatePeople(t *testing.T) {
	right, own, gold := 0, 0, 0
	log := io.Discard
	if dir := os.Getenv("WRONG"); dir != "" {
		if f, err := os.Create(filepath.Join(dir, "people.txt")); err == nil {
			defer f.Close()
			log = f
		}
	}
	for i, x := range readExcerpts(t) {
		if !heldOut(i) {
			continue
		}
		d := readTokens(t, x.name, x.doc())
		proper := func(s lang.Span) bool {
			for k := s.Start; k < s.End; k++ {
				if d.Tokens[k].UPOS == "PROPN" {
					return true
				}
			}
			return false
		}
		want, got := map[lang.Span]bool{}, map[lang.Span]bool{}
		sure := map[lang.Span]float64{}
		for _, e := range x.spans {
			if s := (lang.Span{Start: e.first, End: e.last}); e.kind == "PER" && proper(s) {
				want[s] = true
			}
		}
		for _, m := range d.Cast {
			if m.Kind == lang.Place {
				continue
			}
			for _, x := range m.Mentions {
				s := lang.Span{Start: d.TokenAt(x.Start), End: d.TokenAt(x.End)}
				if x.Form != "pronoun" && proper(s) {
					got[s] = true
					sure[s] = x.Confidence
				}
			}
		}
		show := func(what string, s lang.Span) {
			a, z := d.Tokens[s.Start].Start, d.Tokens[s.End-1].End
			fmt.Fprintf(log, "%-8s %.2f %-30s %-40q %q\n", what, sure[s], x.name[:min(30, len(x.name))], d.Text[a:z], d.Text[max(0, a-50):min(len(d.Text), z+50)])
		}
		for s := range want {
			if got[s] {
				right++
				show("right", s)
			} else {
				show("missed", s)
			}
		}
		for s := range got {
			if !want[s] {
				show("extra", s)
			}
		}
		own, gold = own+len(got), gold+len(want)
	}
	p, r := ratio(right, own), ratio(right, gold)
	f := 2 * p * r / (p + r)
	fmt.Printf("people named in held-out excerpts: precision %.3f recall %.3f F1 %.3f (%d)\n", p, r, f, gold)
	if f < 0.85 {
		t.Errorf("people: F1 %.3f is under the gate of .85", f)
	}
}
