package passage

import "testing"

func TestBalanced(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"She ran.", "She ran."},
		{"“Come in,” she said.", "“Come in,” she said."},
		{"“Come in.", "“Come in.”"},
		{"Sit down!” she said.", "“Sit down!” she said."},
		{"“Well,” said he, “sit down.", "“Well,” said he, “sit down.”"},
		{"Sit down,” said he, “and eat.”", "“Sit down,” said he, “and eat.”"},
		{"‘I wonder,’ thought Alice.", "‘I wonder,’ thought Alice."},
		{"‘You can’t think.", "‘You can’t think.’"},
		{"She couldn’t.", "She couldn’t."},
		{"Off with her head!’ cried the Queen.", "‘Off with her head!’ cried the Queen."},
		{`"Yes," said Jo.`, `"Yes," said Jo.`},
		{`"Yes.`, `"Yes."`},
		{`Go on," said Jo.`, `"Go on," said Jo.`},
		{`"Go on," said Jo, "and eat.`, `"Go on," said Jo, "and eat."`},
		{"", ""},
	} {
		if got := balanced(c.in); got != c.want {
			t.Errorf("balanced(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}
