package quotes

import "testing"

func TestSpans(t *testing.T) {
	for _, c := range []struct {
		text  string
		style Style
		want  []string
		left  bool
	}{
		{`“Oh!” said she. “Come in.”`, Double, []string{`“Oh!”`, `“Come in.”`}, false},
		{`"Oh!" said she. "Come in."`, Double, []string{`"Oh!"`, `"Come in."`}, false},
		{`“I went home,` + ` and there was nobody.`, Double, []string{`“I went home, and there was nobody.`}, true},
		{`'Don't go,' said Tom. 'It's late.'`, Single, []string{`'Don't go,'`, `'It's late.'`}, false},
		{`‘Don’t go,’ said Tom.`, Single, []string{`‘Don’t go,’`}, false},
		{`“He said ‘Run!’ and ran.”`, Double, []string{`“He said ‘Run!’ and ran.”`}, false},
		{`Nobody spoke.`, Double, nil, false},
	} {
		got, left := Spans(c.text, c.style)
		if left != c.left || len(got) != len(c.want) {
			t.Errorf("Spans(%s) = %v, %v", c.text, got, left)
			continue
		}
		for i, s := range got {
			if c.text[s.Start:s.End] != c.want[i] {
				t.Errorf("Spans(%s)[%d] = %s, want %s", c.text, i, c.text[s.Start:s.End], c.want[i])
			}
		}
	}
}

func TestStyleOf(t *testing.T) {
	if StyleOf(`‘Come,’ said he. ‘Go.’`) != Single || StyleOf(`“Come,” said he.`) != Double {
		t.Error("styles are mixed up")
	}
}

// Marks that set off no speech. The sentences are ours.
func TestMore(t *testing.T) {
	for _, c := range []struct {
		text  string
		style Style
		want  []string
	}{
		{`‘The jar said ‘Plums’ on it,’ said Ann.`, Single, []string{`‘The jar said ‘Plums’ on it,’`}},
		{`‘I’m goin’ home,’ said Ann, and the boys’ dog went too.`, Single, []string{`‘I’m goin’ home,’`}},
		{`“We--” “No!” she cried.`, Double, []string{`“We--”`, `“No!”`}},
		{`"Come--" and he ran. "Come!"`, Double, []string{`"Come--"`, `"Come!"`}},
		{`He called it "_Plum_" then.`, Double, []string{`"_Plum_"`}},
	} {
		got, _ := Spans(c.text, c.style)
		if len(got) != len(c.want) {
			t.Errorf("Spans(%s) = %v", c.text, got)
			continue
		}
		for i, s := range got {
			if c.text[s.Start:s.End] != c.want[i] {
				t.Errorf("Spans(%s)[%d] = %s, want %s", c.text, i, c.text[s.Start:s.End], c.want[i])
			}
		}
	}
}
