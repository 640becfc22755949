package scenes_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
)

// story is ours: three scenes by time and a mark, under two headings.
const story = `CHAPTER ONE

Ellen and her brother Tom lived with their grandfather in a mill by the river. Ellen fed the hens, and Tom carried the sacks. "You are a strong boy, Tom," said Ellen. "You are not slow yourself," said Tom. They laughed, and Tom ran down to the water, where Ellen had left the boat. He pulled the boat out of the reeds and Ellen climbed in, and all the long afternoon Ellen and Tom drifted under the willows and looked for trout. When the sun went down, Tom tied the boat to the old post and Ellen carried the basket home. Their grandfather was asleep.

The next morning Ellen walked to the village alone. She bought a loaf of bread from Mrs. Pringle, and Mrs. Pringle gave her a letter. "It is from Captain Hale," said Mrs. Pringle. Ellen thanked Mrs. Pringle and put the letter into her pocket. Then Ellen ran all the way home along the dusty road, for she wanted to know what Captain Hale had written to her grandfather, and she did not stop once, not even to look at the new foal in the meadow beside the church, although it was the prettiest foal that Ellen had ever seen.

* * *

Captain Hale came to the mill in a carriage. He shook hands with Tom. "I have come for the map," said Captain Hale. Tom looked at Captain Hale and said nothing.

CHAPTER TWO

Tom hid the map in the barn. Nobody saw Tom.`

func TestScenes(t *testing.T) {
	d, err := english.Cut(context.Background(), story, nil, english.Options{})
	if err == nil {
		err = english.Understand(context.Background(), d, english.Options{})
	}
	if err != nil {
		t.Fatal(err)
	}
	if !d.Has(lang.LayerScenes) {
		t.Fatal("scenes were not run")
	}
	want := []struct{ breaks, opening, cue, where, present string }{
		{"chapter", "Ellen and her brother", "", "", "Ellen Tom"},
		{"time", "The next morning Ellen", "The next morning", "to the village", "Ellen Mrs. Pringle"},
		{"mark", "Captain Hale came", "", "to the mill", "Captain Hale Tom"},
		{"chapter", "Tom hid the map", "", "in the barn", "Tom"},
	}
	if len(d.Scenes) != len(want) {
		for _, s := range d.Scenes {
			t.Logf("%s %.40q", s.Break, d.Text[s.Start:s.End])
		}
		t.Fatalf("%d scenes, want %d", len(d.Scenes), len(want))
	}
	for i, w := range want {
		s := d.Scenes[i]
		if s.Break != w.breaks || !strings.HasPrefix(d.Text[s.Start:], w.opening) || d.Text[s.Cue.Start:s.Cue.End] != w.cue || w.where != "" && d.Text[s.Where.Start:s.Where.End] != w.where {
			t.Errorf("scene %d: %s %.30q cue %q where %q, want %+v", i, s.Break, d.Text[s.Start:], d.Text[s.Cue.Start:s.Cue.End], d.Text[s.Where.Start:s.Where.End], w)
		}
		var names []string
		for _, id := range s.Present {
			names = append(names, d.Member(id).Name)
		}
		slices.Sort(names)
		if got := strings.Join(names, " "); got != w.present {
			t.Errorf("scene %d: present are %q, want %q", i, got, w.present)
		}
	}
}
