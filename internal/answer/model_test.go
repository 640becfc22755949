package answer_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"bookstead/internal/answer"
)

func TestModel(t *testing.T) {
	j := newJudge(t)
	for _, c := range []struct {
		grade                        int
		question, full, want, spoken string
	}{
		{3, "Why did Mary cry?", "Mary cried in the night because she was lonely and nobody had come to see her since the cholera broke out.",
			"Mary cried because she was lonely.", "because she was lonely"},
		{6, "Why did Mary cry?", "Mary cried in the night because she was lonely and nobody had come to see her since the cholera broke out.",
			"Mary cried because she was lonely and nobody had come to see her.", "because she was lonely and nobody had come to see her"},
		{3, "What did Alice find on the table?", "Alice found a tiny golden key, which she picked up at once, on the little glass table in the hall.",
			"Alice found a tiny golden key.", "a tiny golden key"},
		{4, "How did Ginger feel?", "Ginger felt angry and frightened, so she kicked out at the boys who had hurt her.",
			"Ginger felt angry and frightened.", "angry and frightened"},
		{4, "What did Jerry ring?", "Jerry rang the bell.", "Jerry rang the bell.", "the bell"},
		{4, "What happened when hope was dead?", "Tom Sawyer came forward with nine yellow tickets, nine red tickets, and ten blue ones.",
			"Tom Sawyer came forward with nine yellow tickets, nine red tickets, and ten blue ones.", ""},
		{3, "Why did she not ask?", "She did not ask where it was because she was suddenly inspired by a new idea, which pleased her.",
			"She did not ask where it was because she was inspired by an idea.", "because she was inspired by an idea"},
		{2, "Why did Alice quite forget how to speak good English?", "Alice quite forgot how to speak good English because she was so much surprised.",
			"Alice forgot how to speak good English because she was so much surprised.", "because she was so much surprised"},
		{4, "?", "", "", ""},
	} {
		m, err := j.Model(context.Background(), c.question, c.full, c.grade)
		if err != nil {
			t.Fatal(err)
		}
		if m.Written != c.want || m.Spoken != c.spoken {
			t.Errorf("grade %d, %s\n got %q, said %q\nwant %q, said %q", c.grade, c.question, m.Written, m.Spoken, c.want, c.spoken)
		}
	}
}

// A model says nothing that the full answer does not: its words stand there in
// this order, but for an article that had to change.
func TestModelIsMadeOfTheAnswer(t *testing.T) {
	j := newJudge(t)
	for _, full := range []string{
		"Toto ran under the bed, barking loudly, and would not come out again although Dorothy called him.",
		"When the house began to fall, Dorothy shut the trap door, crept over the floor and lay down on her bed, where she soon fell asleep.",
		"Tom was whitewashing the fence on Saturday because Aunt Polly wanted to punish him for playing hooky. He would rather have gone swimming with his friends, who laughed at him as they passed.",
	} {
		for grade := 1; grade <= 6; grade++ {
			m, err := j.Model(context.Background(), "What happened?", full, grade)
			if err != nil {
				t.Fatal(err)
			}
			if len(m.Written) > len(full) || m.TUnits < 1 || m.TUnits > 2 || grade < 3 && m.TUnits > 1 {
				t.Errorf("grade %d: %+v from %q", grade, m, full)
			}
			rest := strings.ToLower(full)
			for w := range strings.FieldsSeq(strings.ToLower(m.Written)) {
				w = strings.Trim(w, ".,")
				i := strings.Index(rest, w)
				if i < 0 {
					t.Errorf("grade %d: %q is not in %q in order", grade, w, full)
					break
				}
				rest = rest[i+len(w):]
			}
		}
	}
}

// Written T-unit length: Loban 1976, O'Donnell, Griffin and Norris 1967.
func TestNorm(t *testing.T) {
	for grade, want := range map[int]float64{3: 7.635, 4: 8.02, 5: 9.05, 6: 9.04} {
		if got := answer.Norm(grade); math.Abs(got-want) > 0.001 {
			t.Errorf("grade %d: %.3f, want %.3f", grade, got, want)
		}
	}
}

func TestStarter(t *testing.T) {
	j := newJudge(t)
	for _, c := range [][3]string{
		{"Why did Mary cry?", "Mary cried because she was lonely.", "Mary cried because"},
		{"Why did Tom sally out?", "Tom sallied out to find Joe.", "Tom sallied out to"},
		{"Where was the sun shining?", "", "The sun was shining"},
		{"What did Alice find on the table?", "", "Alice found"},
		{"How did Ginger feel when they threw stones?", "", "Ginger felt"},
		{"What happened when school broke up at noon?", "", "When school broke up at noon,"},
		{"Who asked no questions?", "", ""},
		{"Why did Ben really not mind?", "", ""},
		{"", "", ""},
	} {
		got, err := j.Starter(context.Background(), c[0], c[1])
		if err != nil {
			t.Fatal(err)
		}
		if got != c[2] {
			t.Errorf("%q: %q, want %q", c[0], got, c[2])
		}
	}
}

func TestNear(t *testing.T) {
	j := newJudge(t)
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"sturdy", "robust", true}, {"hardy", "robust", true}, {"barren", "fond", false},
		{"cottage", "a small house", true}, {"peculiar", "in an even way", false},
	} {
		if got := j.Near(c.a, c.b); got != c.want {
			t.Errorf("Near(%q, %q) = %v", c.a, c.b, got)
		}
	}
}
