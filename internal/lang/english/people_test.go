package english

import (
	"context"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

// story is ours.
const story = `Mrs. Pellow lived in Harbour Lane with her nephew, Robert Pellow, and an old parrot named Captain.

“Where have you been, Robert?” said Mrs. Pellow.

“By the sea, aunt,” said Bob. “Nobody was there.”

“You are wet to the knees.”

“It rained in Harbour Lane,” Robert answered, and he sat down by the fire.

An old gentleman came to the door. He had a wooden leg, and he carried a lantern.

“Good evening, ma'am,” said the old gentleman. “Is this the house of Mrs. Pellow?”

“It is,” said Mrs. Pellow.

“Then I have brought you a letter.”

“A letter!” screeched the parrot. “A letter!”

“Be quiet, Captain,” said Robert, and “Let us see it,” said Mrs. Pellow.

ROBERT PELLOW took the letter. Mrs. Pellow watched him while he read.`

func sayings(d *lang.Doc) (out []string) {
	name := func(id string) string {
		if m := d.Member(id); m != nil {
			return m.Name
		}
		return "?"
	}
	for _, q := range d.Quotations {
		words := strings.Fields(d.Text[q.Start:q.End])
		out = append(out, name(q.Speaker)+" to "+name(q.Addressee)+": "+strings.Join(words[:min(3, len(words))], " "))
	}
	return out
}

func TestSpeech(t *testing.T) {
	d := understand(t, story)
	want := []string{
		"Mrs. Pellow to Robert: “Where have you",
		"Robert to Mrs. Pellow: “By the sea,",
		"Mrs. Pellow to Robert: “You are wet",
		"Robert to Mrs. Pellow: “It rained in",
		"the old gentleman to Robert: “Good evening, ma'am,”",
		"Mrs. Pellow to the old gentleman: “It is,”",
		"the old gentleman to Mrs. Pellow: “Then I have",
		"the parrot to the old gentleman: “A letter!” screeched",
		"Robert to Captain: “Be quiet, Captain,”",
		"Mrs. Pellow to Robert: “Let us see",
	}
	if got := sayings(d); !slices.Equal(got, want) {
		t.Errorf("sayings:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestCast(t *testing.T) {
	d := understand(t, story)
	bob := d.Member(d.Quotations[1].Speaker)
	if bob == nil {
		t.Fatal("nobody says what Bob says")
	}
	for _, a := range []string{"Robert", "Bob", "Robert Pellow"} {
		if !slices.Contains(bob.Aliases, a) {
			t.Errorf("%s is not called %s: %q", bob.Name, a, bob.Aliases)
		}
	}
	if bob.Gender != "male" {
		t.Errorf("Bob's gender is %q", bob.Gender)
	}
	for _, m := range d.Cast {
		if m.Name == "Harbour Lane" && m.Kind != lang.Place {
			t.Errorf("Harbour Lane is a %s", m.Kind)
		}
		if m.ID != bob.ID && slices.Contains(m.Aliases, "Bob") {
			t.Errorf("Bob is two people: %q and %q", bob.Aliases, m.Aliases)
		}
		for _, x := range m.Mentions {
			if x.Start < 0 || x.End > len(d.Text) || x.Start >= x.End || x.Confidence <= 0 || x.Confidence > 1 {
				t.Errorf("%s has a mention %+v", m.Name, x)
			}
		}
	}
	// "while he read": Robert, who is named last of those who may be "he"
	at := strings.LastIndex(d.Text, "he read")
	found := false
	for _, x := range bob.Mentions {
		found = found || x.Start == at && x.Form == "pronoun"
	}
	if !found {
		t.Error("“he” at the end is not tied to Robert")
	}
}

// Where nobody fits, a pronoun stays open.
func TestOpen(t *testing.T) {
	d := understand(t, "Alice Marsh opened the gate. The wind was cold. He did not answer.")
	for _, m := range d.Cast {
		for _, x := range m.Mentions {
			if x.Form == "pronoun" {
				t.Errorf("“%s” is tied to %s", d.Text[x.Start:x.End], m.Name)
			}
		}
	}
}

// The one who tells has the name that the others use.
func TestTeller(t *testing.T) {
	d := understand(t, `I was a pony, and I lived by the sea with my friend Juniper. I liked it, and I had my own field.

“Are you tired, Pepper?” said Juniper to me.

“Not at all,” I said. I shook my mane.

“Then run with me, Pepper,” said Juniper. “Run, Pepper!”

I ran, and I was happy, and I forgot my supper.`)
	teller := d.Member(d.Quotations[1].Speaker)
	if teller == nil || teller.Name != "Pepper" {
		t.Fatalf("“Not at all” is said by %+v", teller)
	}
	if to := d.Member(d.Quotations[0].Addressee); to == nil || to.Name != "Pepper" {
		t.Errorf("“Are you tired” is said to %+v", to)
	}
	if q := d.Quotations[2]; d.Member(q.Speaker).Name != "Juniper" {
		t.Errorf("“Then run” is said by %s", d.Member(q.Speaker).Name)
	}
}

// British marks; speech that runs over two paragraphs; words that are only set
// in marks; no speech at all.
func TestExtents(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"‘I’m going home,’ said Ann. ‘It’s late.’", []string{"‘I’m going home,’ said Ann. ‘It’s late.’"}},
		{"“I went home,” said Ann, “and slept.\n\n“Then I woke.”", []string{"“I went home,” said Ann, “and slept.", "“Then I woke.”"}},
		{"The boys called the shed their “palace” and swept it. Ann said nothing.", nil},
		{"“Yes,” said Ann, and Tom cried, “No!”", []string{"“Yes,”", "“No!”"}},
		{"Ann turned round and said:\n\n“Come in.”", []string{"“Come in.”"}},
		{"Nobody spoke.", nil},
	} {
		d := understand(t, c.text)
		var got []string
		for _, q := range d.Quotations {
			got = append(got, d.Text[q.Start:q.End])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: quotations %q, want %q", c.text, got, c.want)
		}
	}
	d := understand(t, "“I went home,” said Ann, “and slept.\n\n“Then I woke.”")
	if d.Quotations[0].Speaker == "" || d.Quotations[0].Speaker != d.Quotations[1].Speaker {
		t.Error("speech that runs over two paragraphs has two speakers")
	}
}

// The same text gives the same cast, however odd it is.
func TestOdd(t *testing.T) {
	for _, text := range []string{"", "“”", "“", strings.Repeat("“Ha!” ", 3000), "MR. MRS. MISS.", "said said said “said” said", strings.Repeat("Ann said “no” to Tom and he ", 2000)} {
		a, b := understand(t, text), understand(t, text)
		if len(a.Cast) != len(b.Cast) || len(a.Quotations) != len(b.Quotations) {
			t.Errorf("%.20q: two readings differ", text)
		}
		for i := range a.Quotations {
			if x, y := a.Quotations[i], b.Quotations[i]; x.Speaker != y.Speaker || x.Start != y.Start {
				t.Errorf("%.20q: two readings differ", text)
				break
			}
		}
	}
}

// BenchmarkCast finds cast and speech in a text of about a fifth of a novel that
// is parsed already.
func BenchmarkCast(b *testing.B) {
	d, err := Cut(context.Background(), strings.Repeat(story+"\n\n", 100), nil, Options{})
	if err != nil {
		b.Fatal(err)
	}
	r, err := reader()
	if err != nil {
		b.Fatal(err)
	}
	n := network{Reader: r}
	if err := n.Annotate(context.Background(), d); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := cast(context.Background(), d, n.seen); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(d.Tokens)*b.N)/b.Elapsed().Seconds(), "tokens/s")
}
