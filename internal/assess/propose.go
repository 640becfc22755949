package assess

import (
	"slices"

	"bookstead/internal/kit"
)

// shares of a paper's time by kind of item; the rest is for looking it over and
// for what is asked beyond the marked items (our judgement).
var shares = []struct {
	kind  kit.Kind
	way   SectionKind
	share float64
}{{kit.Question, Short, 0.5}, {kit.Vocabulary, Match, 0.28}, {kit.Quotation, WhoSaid, 0.1}}

// Propose chooses the drafts that a paper of so many minutes might ask: as many
// of each kind as its share of the time holds, spread evenly over the lessons, the
// best of each lesson first. What a teacher has marked already counts.
func Propose(k Kind, minutesOfPaper int, lessons []Lesson) map[kit.ItemID]bool {
	out := map[kit.ItemID]bool{}
	for _, s := range shares {
		n := int(s.share * float64(minutesOfPaper) / minutes[s.way])
		pools := make([][]kit.Item, len(lessons))
		for i, l := range lessons {
			for _, it := range l.Items {
				switch {
				case it.Kind != s.kind:
				case it.State == kit.Drafted && !it.Spare:
					pools[i] = append(pools[i], it)
				case it.State != kit.Dropped && (k == Quiz && it.Marks.Quiz || k == Test && it.Marks.Test):
					n--
				}
			}
			slices.SortStableFunc(pools[i], func(a, b kit.Item) int {
				switch {
				case a.Score > b.Score:
					return -1
				case a.Score < b.Score:
					return 1
				}
				return 0
			})
		}
		spread(pools, n, out)
	}
	return out
}

// spread takes n items, from each lesson its even part, and what a lesson lacks
// from the others in turn.
func spread(pools [][]kit.Item, n int, out map[kit.ItemID]bool) {
	taken := 0
	take := func(i int) bool {
		if len(pools[i]) == 0 || taken >= n {
			return false
		}
		out[pools[i][0].ID] = true
		pools[i] = pools[i][1:]
		taken++
		return true
	}
	for i := range pools {
		for range (i+1)*n/len(pools) - i*n/len(pools) {
			take(i)
		}
	}
	for more := true; more && taken < n; {
		more = false
		for i := range pools {
			more = take(i) || more
		}
	}
}
