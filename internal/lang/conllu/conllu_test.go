package conllu

import (
	"reflect"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

// sample is cut down from the examples of
// https://universaldependencies.org/format.html, in English, with a multiword
// token, an empty node, a missing space and a new paragraph.
const sample = `# newdoc id = d1
# newpar
# sent_id = 1
# text = They don't buy books.
1	They	they	PRON	PRP	Case=Nom|Number=Plur	4	nsubj	4:nsubj	_
2-3	don't	_	_	_	_	_	_	_	_
2	do	do	AUX	VBP	Number=Plur|Person=3|Tense=Pres	4	aux	4:aux	_
3	n't	not	PART	RB	Polarity=Neg	4	advmod	4:advmod	_
4	buy	buy	VERB	VB	VerbForm=Inf	0	root	0:root	_
5	books	book	NOUN	NNS	Number=Plur	4	obj	4:obj	SpaceAfter=No
6	.	.	PUNCT	.	_	4	punct	4:punct	_

# sent_id = 2
# text = Oh!
1	Oh	oh	INTJ	UH	_	0	root	0:root	SpaceAfter=No
1.1	said	say	VERB	VBD	_	_	_	0:root	_
2	!	!	PUNCT	.	_	1	punct	1:punct	_

# newpar
# sent_id = 3
# text = Yes
1	Yes	yes	INTJ	UH	_	0	root	0:root	_

`

func read(t *testing.T, text string) []Sentence {
	t.Helper()
	ss, err := Read(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return ss
}

func TestRoundTrip(t *testing.T) {
	var b strings.Builder
	if err := Write(&b, read(t, sample)); err != nil {
		t.Fatal(err)
	}
	if b.String() != sample {
		t.Errorf("got\n%s", b.String())
	}
}

func TestToDoc(t *testing.T) {
	d := ToDoc(read(t, sample))
	if want := "They don't buy books. Oh!\n\nYes"; d.Text != want {
		t.Errorf("text %q, want %q", d.Text, want)
	}
	if want := []lang.Paragraph{{Start: 0, End: 25, Kind: "paragraph"}, {Start: 27, End: 30, Kind: "paragraph"}}; !reflect.DeepEqual(d.Paragraphs, want) {
		t.Errorf("paragraphs %v", d.Paragraphs)
	}
	if want := (lang.Token{Start: 5, End: 7, Form: "do", Lemma: "do", UPOS: "AUX", XPOS: "VBP", Feats: "Number=Plur|Person=3|Tense=Pres", Head: 3, Deprel: "aux", Multi: 2}); d.Tokens[1] != want {
		t.Errorf("token %+v", d.Tokens[1])
	}
	if len(d.Sentences) != 3 || d.Sentences[2].Paragraph != 1 || d.Sentences[1].First != 6 {
		t.Errorf("sentences %+v", d.Sentences)
	}
	if !d.Has(lang.LayerTokens|lang.LayerSentences|lang.LayerTags|lang.LayerLemmas|lang.LayerTrees) || d.Has(lang.LayerTypes) {
		t.Error("wrong layers done")
	}
}

// TestForms that are not cut from the surface token, as "au" = "à" + "le".
func TestForeignMultiword(t *testing.T) {
	d := ToDoc(read(t, "1-2\tau\t_\t_\t_\t_\t_\t_\t_\tSpaceAfter=No\n1\tà\t_\t_\t_\t_\t_\t_\t_\t_\n2\tle\t_\t_\t_\t_\t_\t_\t_\t_\n3\t.\t_\t_\t_\t_\t_\t_\t_\t_\n\n"))
	if d.Text != "au." || d.Tokens[0].Form != "à" || d.Tokens[0].End != 2 || d.Tokens[1].Start != 2 || d.Tokens[2].Start != 2 {
		t.Errorf("%q %+v", d.Text, d.Tokens)
	}
}

func TestFromDoc(t *testing.T) {
	d := ToDoc(read(t, sample))
	d.Sentences[1].Type = lang.Exclamation
	d.Done(lang.LayerTypes)
	ss := FromDoc(d)
	if p := Check(ss); len(p) > 0 {
		t.Errorf("problems: %v", p)
	}
	back := ToDoc(ss)
	if !reflect.DeepEqual(back, d) {
		t.Errorf("got %+v\nwant %+v", back, d)
	}
}

func TestSpaces(t *testing.T) {
	text := "One  two,\nthree|"
	d := &lang.Doc{Text: text, Paragraphs: []lang.Paragraph{{End: len(text), Kind: "paragraph"}}}
	for _, s := range []lang.Span{{Start: 0, End: 3}, {Start: 5, End: 8}, {Start: 8, End: 9}, {Start: 10, End: 16}} {
		d.Tokens = append(d.Tokens, lang.Token{Start: s.Start, End: s.End, Form: text[s.Start:s.End], Head: -1})
	}
	d.Sentences = []lang.Sentence{{First: 0, Last: 4}}
	d.Done(lang.LayerTokens | lang.LayerSentences)
	ss := FromDoc(d)
	if got := ss[0].Rows[0].MiscField; got != `SpacesAfter=\s\s` {
		t.Errorf("MISC %q", got)
	}
	if p := Check(ss); len(p) > 0 {
		t.Errorf("problems: %v", p)
	}
	if back := ToDoc(ss); back.Text != text {
		t.Errorf("text %q, want %q", back.Text, text)
	}
}

func TestReadFaults(t *testing.T) {
	for _, in := range []string{
		"1\ta\n\n",
		"x\ta\t_\t_\t_\t_\t_\t_\t_\t_\n\n",
		"2-1\ta\t_\t_\t_\t_\t_\t_\t_\t_\n\n",
		"1\t\t_\t_\t_\t_\t_\t_\t_\t_\n\n",
		"1\ta\t_\t_\t_\t_\t_\t_\t_\t_\t_\n\n",
	} {
		if _, err := Read(strings.NewReader(in)); err == nil || !strings.Contains(err.Error(), "Line 1") {
			t.Errorf("%q: %v", in, err)
		}
	}
}

// TestCheck breaks one rule at a time in the sample, which breaks none.
func TestCheck(t *testing.T) {
	if p := Check(read(t, sample)); len(p) > 0 {
		t.Fatalf("the sample itself: %v", p)
	}
	for _, c := range []struct{ old, new, want string }{
		{"# sent_id = 2", "# sent_id = 1", "twice"},
		{"# sent_id = 2\n", "", "no sent_id"},
		{"# text = Oh!", "# text = Oh !", "give back"},
		{"2-3\tdon't\t_", "2-3\tdon't\tdo", "range may hold"},
		{"2-3\t", "2-9\t", "behind the last"},
		{"4\tbuy", "5\tbuy", "was due"},
		{"Case=Nom|Number=Plur", "Number=Plur|Case=Nom", "out of order"},
		{"Polarity=Neg", "polarity=Neg", "not in its form"},
		{"PRON", "PRO", "no such part"},
		{"0\troot\t0:root\t_\n5", "0\tdep\t0:root\t_\n5", "go together"},
		{"4\tobj\t4", "9\tobj\t4", "outside"},
		{"4\tobj\t4", "5\tobj\t4", "own head"},
		{"4\tobj\t4", "0\troot\t4", "2 roots"},
		{"0\troot\t0:root\t_\n5", "5\tccomp\t0:root\t_\n5", "circle"},
		{"1.1\tsaid", "1.2\tsaid", "empty node"},
		{"4:obj", "4obj", "enhanced"},
		{"SpaceAfter=No\n6", "SpaceAfter=Yes\n6", "only be No"},
		{"3\tn't\tnot\tPART\tRB\tPolarity=Neg\t4\tadvmod\t4:advmod\t_", "3\tn't\tnot\tPART\tRB\tPolarity=Neg\t4\tadvmod\t4:advmod\tSpaceAfter=No", "inside a multiword"},
	} {
		if !strings.Contains(sample, c.old) {
			t.Fatalf("%q is not in the sample", c.old)
		}
		p := Check(read(t, strings.Replace(sample, c.old, c.new, 1)))
		if !strings.Contains(strings.Join(problems(p), "\n"), c.want) {
			t.Errorf("%q for %q: %v, want %q", c.new, c.old, p, c.want)
		}
	}
}

func problems(ps []Problem) (out []string) {
	for _, p := range ps {
		out = append(out, p.String())
	}
	return out
}

func FuzzRead(f *testing.F) {
	f.Add(sample)
	f.Fuzz(func(t *testing.T, text string) {
		ss, err := Read(strings.NewReader(text))
		if err != nil {
			return
		}
		Check(ss)
		d := ToDoc(ss)
		for _, k := range d.Tokens {
			if k.Start > k.End || k.End > len(d.Text) {
				t.Fatalf("token %+v in a text of %d", k, len(d.Text))
			}
		}
		var b strings.Builder
		if err := Write(&b, ss); err != nil {
			t.Fatal(err)
		}
		again, err := Read(strings.NewReader(b.String()))
		if err != nil {
			t.Fatalf("reading what was written: %v", err)
		}
		for i := range again {
			again[i].Line, ss[i].Line = 0, 0
		}
		if !reflect.DeepEqual(again, ss) {
			t.Fatalf("got %+v, want %+v", again, ss)
		}
	})
}
