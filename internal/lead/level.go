package lead

import (
	"slices"
	"strings"

	"bookstead/internal/assess"
	"bookstead/internal/kit"
)

// Level is how much help a child's pages give.
type Level string

const (
	// Support has fewer questions, the easier ones, each with the beginning of its
	// answer, and wider lines.
	Support Level = "support"
	// Standard is the lesson as it is.
	Standard Level = "standard"
	// Further has more questions that ask why and how, and a further task.
	Further Level = "further"
)

// At returns the lesson at a level: the same items, fewer or more. Marked items
// stay at every level, so that all children can write one quiz.
func (l Level) At(p kit.Prepared, hold bool) kit.Prepared {
	switch l {
	case Support:
		return support(p, hold)
	case Further:
		return further(p, hold)
	}
	return p
}

// Of a kind the supported lesson keeps this many at most, beside the marked.
var supported = map[kit.Kind]int{kit.Quotation: 1, kit.Figure: 1, kit.Passage: 0, kit.Extension: 0, kit.Discussion: 1}

func support(p kit.Prepared, hold bool) kit.Prepared {
	out := p
	out.Items = nil
	questions := printedOf(p, kit.Question, hold)
	keep := easier(questions, max(2, (len(questions)+1)/2))
	seen := map[kit.Kind]int{}
	for _, it := range p.Items {
		if it.Printed(hold) && !(it.Marks.Quiz || it.Marks.Test) {
			if it.Kind == kit.Question && !keep[it.ID] {
				continue
			}
			if most, ok := supported[it.Kind]; ok && seen[it.Kind] >= most {
				continue
			}
		}
		if it.Printed(hold) {
			seen[it.Kind]++
		}
		out.Items = append(out.Items, it)
	}
	return out
}

func printedOf(p kit.Prepared, k kit.Kind, hold bool) []kit.Item {
	var out []kit.Item
	for _, it := range p.Of(k) {
		if it.Printed(hold) {
			out = append(out, it)
		}
	}
	return out
}

// easier picks n questions: the marked ones, then the easiest.
func easier(items []kit.Item, n int) map[kit.ItemID]bool {
	order := slices.Clone(items)
	slices.SortStableFunc(order, func(a, b kit.Item) int {
		x, y := a.Marks.Quiz || a.Marks.Test, b.Marks.Quiz || b.Marks.Test
		switch {
		case x && !y:
			return -1
		case y && !x:
			return 1
		case difficulty(a) < difficulty(b):
			return -1
		case difficulty(a) > difficulty(b):
			return 1
		}
		return 0
	})
	out := map[kit.ItemID]bool{}
	for _, it := range order[:min(n, len(order))] {
		out[it.ID] = true
	}
	return out
}

func difficulty(it kit.Item) float64 {
	return assess.Difficulty(assess.Short, assess.Entry{Prompt: it.Content.Head, Key: it.Content.Answer})
}

// moreQuestions is how many questions the further level adds.
const moreQuestions = 2

// further prints spare items too: questions that ask why and how, and one task
// and one thing to talk over, where the lesson has them.
func further(p kit.Prepared, hold bool) kit.Prepared {
	out := p
	out.Items = slices.Clone(p.Items)
	if hold {
		return out // drafts nobody has looked at stay off every page
	}
	left := map[kit.Kind]int{kit.Question: moreQuestions, kit.Extension: 1, kit.Discussion: 1}
	order := make([]int, len(out.Items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch x, y := out.Items[a].Score, out.Items[b].Score; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return a - b
	})
	for _, i := range order {
		it := &out.Items[i]
		if it.State != kit.Drafted || !it.Spare || it.Warning != "" || left[it.Kind] == 0 || it.Kind == kit.Question && !reasons(it.Content.Head) {
			continue
		}
		it.Spare = false
		left[it.Kind]--
	}
	return out
}

// reasons reports a question that the page answers only to who thinks.
func reasons(q string) bool {
	q = strings.ToLower(q)
	return strings.HasPrefix(q, "why") || strings.HasPrefix(q, "how") || strings.Contains(q, " why ") || strings.Contains(q, "do you think")
}
