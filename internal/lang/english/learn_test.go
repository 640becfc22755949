//go:build bench && learn

package english

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"
	"testing"
	"unicode"

	"bookstead/internal/lang"
	"bookstead/internal/lang/people"
)

// TestLearnSpeakers prints the weights of lang/people. It learns from the
// quotations of LitBank (CC BY 4.0), read in their novels with what follows, so
// that paragraphs and cast are there; Alice and Oliver Twist, on which speakers
// are measured, are left out. Every sixth text is kept back and scored.
//
//	go test -tags 'bench learn' -run TestLearnSpeakers -v ./internal/lang/english
func TestLearnSpeakers(t *testing.T) {
	novels := archive(t, sharedData(t, "corpus/novels.tar.xz"))
	ctx := context.Background()
	r, err := reader()
	if err != nil {
		t.Fatal(err)
	}
	var train, kept []*people.Lesson
	for i, x := range readExcerpts(t) {
		if strings.HasPrefix(x.name, "730_") || strings.HasPrefix(x.name, "11_") || len(x.sayings) == 0 {
			continue
		}
		text, places := x.in(strings.ReplaceAll(string(novels[x.name+".txt"]), "\r", ""))
		if places == nil {
			continue
		}
		d, err := Cut(ctx, text, nil, Options{})
		if err != nil {
			t.Fatal(err)
		}
		n := network{Reader: r}
		if err := n.Annotate(ctx, d); err != nil {
			t.Fatal(err)
		}
		if err := cast(ctx, d, n.seen); err != nil {
			t.Fatal(err)
		}
		seen := make([]people.Seen, len(n.seen))
		for k, s := range n.seen {
			seen[k] = people.Seen(s)
		}
		gold, last := x.speakers(d, places)
		l, err := people.NewLesson(ctx, d, seen, gold, last)
		if err != nil {
			t.Fatal(err)
		}
		if i%6 == 5 {
			kept = append(kept, l)
		} else {
			train = append(train, l)
		}
	}
	w, err := people.Train(ctx, train, 60, 10)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range [][]*people.Lesson{train, kept} {
		before, all := people.Accuracy(ctx, l, people.Prior())
		after, _ := people.Accuracy(ctx, l, w)
		fmt.Printf("%s: %d quotations, right before %.3f, after %.3f\n", []string{"learned from", "kept back"}[i], all, ratio(before, all), ratio(after, all))
	}
	fmt.Print(people.Show(w))
}

func plainRune(r rune) bool {
	return !unicode.IsSpace(r) && !strings.ContainsRune("“”\"_'’‘`*—-", r)
}

// in finds the excerpt in its novel by its letters and returns the text from
// there on, some thousand words longer, with the place of each token; nil when
// it isn't there.
func (x *excerpt) in(novel string) (string, []lang.Span) {
	var letters []rune
	var at []int
	for k, r := range novel {
		if plainRune(r) {
			letters, at = append(letters, r), append(at, k)
		}
	}
	var want []rune
	for _, s := range x.sentences {
		for _, w := range s {
			for _, r := range w {
				if plainRune(r) {
					want = append(want, r)
				}
			}
		}
	}
	hay := string(letters)
	p := strings.Index(hay, string(want[:min(60, len(want))]))
	if p < 0 {
		return "", nil
	}
	pos := len([]rune(hay[:p]))
	start, end := at[pos], 0
	var places []lang.Span
	for _, s := range x.sentences {
		for _, w := range s {
			first := -1
			for _, r := range w {
				if !plainRune(r) {
					continue
				}
				if pos >= len(letters) || letters[pos] != r {
					return "", nil
				}
				if first < 0 {
					first = at[pos] - start
				}
				end = at[pos] - start + len(string(r))
				pos++
			}
			if first < 0 {
				first = end
			}
			places = append(places, lang.Span{Start: first, End: end})
		}
	}
	text := novel[start:]
	z := min(len(text), end+80000)
	for z < len(text) && text[z] != '\n' {
		z++
	}
	return text[:z], places
}

// speakers gives for our quotations the entry of the annotated speaker: the one
// that sure cues name most often where the annotation has that speaker, else
// the one that is named as the annotation names them. last is how many
// quotations lie in the excerpt.
func (x *excerpt) speakers(d *lang.Doc, places []lang.Span) (gold map[int]string, last int) {
	end := places[len(places)-1].End
	span := func(first, last int) lang.Span {
		for first < last-1 && places[first].Start == places[first].End {
			first++
		}
		return lang.Span{Start: places[first].Start, End: places[last-1].End}
	}
	for last < len(d.Quotations) && d.Quotations[last].Start < end {
		last++
	}
	named := map[string][]lang.Span{}
	cued := map[string]map[string]int{}
	ours := make([]int, len(x.sayings))
	for i, s := range x.sayings {
		at := span(s.first, s.last)
		ours[i] = -1
		most := 0
		for k := range d.Quotations[:last] {
			if o := overlap([]lang.Span{at}, d.Quotations[k].Parts); o > most {
				ours[i], most = k, o
			}
		}
		if ours[i] >= 0 {
			q := &d.Quotations[ours[i]]
			if q.Who >= 0 && q.Confidence > 0.9 && 2*most > at.End-at.Start && (d.Tokens[q.Who].UPOS != "PRON" || d.Tokens[q.Who].Form == "I") {
				if cued[s.speaker] == nil {
					cued[s.speaker] = map[string]int{}
				}
				cued[s.speaker][q.Speaker]++
			}
		}
		if named[s.speaker] == nil {
			named[s.speaker] = whereNamed(d, s.speaker, end)
		}
	}
	who := castOf(named, d.Cast)
	for n, v := range cued {
		ids := make([]string, 0, len(v))
		for id := range v {
			ids = append(ids, id)
		}
		sort.Slice(ids, func(i, k int) bool { return v[ids[i]] > v[ids[k]] || v[ids[i]] == v[ids[k]] && ids[i] < ids[k] })
		who[n] = ids[0]
	}
	gold = map[int]string{}
	for i, s := range x.sayings {
		if ours[i] >= 0 && who[s.speaker] != "" {
			gold[ours[i]] = who[s.speaker]
		}
	}
	return gold, last
}

// whereNamed are the places where a speaker is named as the annotation does:
// "Mrs__Hilbery-2" is Mrs. Hilbery.
func whereNamed(d *lang.Doc, speaker string, end int) (out []lang.Span) {
	name, _, _ := strings.Cut(speaker, "-")
	if slices.Contains([]string{"i", "narrator", "you", "our"}, strings.ToLower(name)) {
		for _, m := range d.Cast {
			for _, x := range m.Mentions {
				if x.Start < end && d.Text[x.Start:x.End] == "I" {
					out = append(out, lang.Span{Start: x.Start, End: x.End})
				}
			}
		}
		return out
	}
	words := strings.FieldsFunc(name, func(r rune) bool { return r == '_' })
	for i := range words {
		words[i] = regexp.QuoteMeta(words[i])
	}
	for _, at := range regexp.MustCompile(`(?i)\b`+strings.Join(words, "[^A-Za-z]{1,4}")).FindAllStringIndex(d.Text[:end], -1) {
		out = append(out, lang.Span{Start: at[0], End: at[1]})
	}
	return out
}
