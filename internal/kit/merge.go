package kit

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"bookstead/internal/book"
)

// NewItemID derives a draft's ID from its kind, where it stands and its head.
// The quote, not the offset, names the place, so the ID outlives a corrected file.
func NewItemID(k Kind, p book.Place, head string) ItemID {
	h := sha256.New()
	for _, s := range []string{string(k), p.Prefix, p.Exact, p.Suffix, head} {
		h.Write([]byte(strconv.Itoa(len(s)) + ":" + s))
	}
	return ItemID(hex.EncodeToString(h.Sum(nil)[:8]))
}

// Merge lays the teacher's decisions over the drafts of one lesson and returns
// its items in the order of a lesson: by kind, then by position and place.
// Decisions must already be those whose place lies in the lesson. A draft whose
// ID was decided is replaced by the decision; so is a vocabulary draft of a
// lemma that the teacher decided on elsewhere in these decisions. Dropped items
// stay in the list, in state Dropped, so that they can be taken back.
func Merge(drafts []Draft, decisions []Decision) []Item {
	byID := make(map[ItemID]Draft, len(drafts))
	for _, d := range drafts {
		byID[d.ID] = d
	}
	decided := make(map[ItemID]bool, len(decisions))
	lemmas := make(map[string]bool)
	var items []Item
	for _, d := range decisions {
		decided[d.ID] = true
		if d.Kind == Vocabulary {
			lemmas[strings.ToLower(d.Content.Lemma)] = true
		}
		it := Item{ID: d.ID, Kind: d.Kind, State: d.State, Place: d.Place, Content: d.Content, Marks: d.Marks, Position: d.Position}
		if dr, ok := byID[d.ID]; ok {
			it.Score, it.Why, it.Warning = dr.Score, dr.Why, dr.Warning
		}
		items = append(items, it)
	}
	for _, d := range drafts {
		if decided[d.ID] || d.Kind == Vocabulary && d.Content.Lemma != "" && lemmas[strings.ToLower(d.Content.Lemma)] {
			continue
		}
		items = append(items, Item{ID: d.ID, Kind: d.Kind, State: Drafted, Place: d.Place, Content: d.Content,
			Marks: d.Marks, Score: d.Score, Why: d.Why, Spare: d.Spare || d.Warning != "", Warning: d.Warning})
	}
	slices.SortStableFunc(items, compareItems)
	return items
}

func compareItems(a, b Item) int {
	if x := kindOrder(a.Kind) - kindOrder(b.Kind); x != 0 {
		return x
	}
	pa, pb := a.place(), b.place()
	switch {
	case pa < pb:
		return -1
	case pa > pb:
		return 1
	}
	return strings.Compare(string(a.ID), string(b.ID))
}

// place is where the item sorts: its position where one was set, else its
// offset in the text. Positions are written in the same unit, so a moved item
// can stand between two unmoved ones.
func (it Item) place() float64 {
	if it.Position != 0 {
		return it.Position
	}
	return float64(it.Place.Start)
}

func kindOrder(k Kind) int {
	for i, x := range Kinds {
		if x == k {
			return i
		}
	}
	return len(Kinds)
}
