package figures_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"bookstead/internal/lang/english"
	"bookstead/internal/lang/figures"
)

// The sentences are ours; what each holds is plain to a reader.
func TestFigures(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Her hands were as cold as ice.", "simile: as cold as ice"},
		{"The boy ran like a deer.", "simile: ran like a deer"},
		{"Her face was white as milk.", "simile: white as milk"},
		{"The old horse made up his mind to stay.", "idiom: made up his mind"},
		{"Tom let the cat out of the bag.", "idiom: let the cat out of the bag"},
		{"“Look before you leap,” said the farmer.", "proverb: Look before you leap"},
		{"“Better late than never!” cried Ellen.", "proverb: Better late than never"},
		{"The wind whispered in the branches.", "personification: The wind whispered"},
		{"All night the angry sea beat on the wall.", "personification: the angry sea"},
		{"I have told you a thousand times.", "hyperbole: a thousand times"},
		{"She was frightened to death.", "hyperbole: frightened to death"},
		{"They harnessed him like a horse.", "simile: harnessed him like a horse"},
		{"It was more like a snout than a nose.", "simile: was more like a snout"},
		// What only looks so.
		{"“The trees!” shouted the boy.", ""},
		{"He came as soon as he could.", ""},
		{"She sings as well as her sister.", ""},
		{"He was as tall as his father.", ""},
		{"She likes a dog and a cat.", ""},
		{"I would like a cup of tea.", ""},
		{"She wore a hat like this one.", ""},
		{"The man whispered in the dark.", ""},
		{"He has a thousand sheep.", ""},
		{"They put the thief to death.", ""},
		{"He ran as fast as he could.", ""},
	} {
		d, err := english.Cut(context.Background(), c.text, nil, english.Options{})
		if err == nil {
			err = english.Understand(context.Background(), d, english.Options{})
		}
		if err == nil {
			err = figures.Finder{}.Annotate(context.Background(), d)
		}
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range d.Figures {
			got = append(got, fmt.Sprintf("%s: %s", f.Kind, d.Text[f.Start:f.End]))
			if f.Note == "" || f.Score < figures.Least || f.Score > 1 {
				t.Errorf("%s: %+v", c.text, f)
			}
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("%s\ngot %q, want %q", c.text, s, c.want)
		}
	}
}
