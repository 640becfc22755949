package store

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/record"
)

// Kits are the books prepared. A kit's decisions, cuts and edition change
// through the [Journal]: see [OfKit], [SetDecision], [SetCuts], [SetEdition],
// [SetWords], [SetAnswers].
// Its book and its class never change.
type Kits interface {
	// Create keeps a new kit with whatever it already holds. Conflict when its ID
	// is taken, also by a kit in the bin; NotFound when its book or its class is
	// not there or lies in the bin; Invalid when two decisions share an ID.
	Create(ctx context.Context, k kit.Kit, at time.Time) error
	// Get returns a kit whole, its decisions in the order of their IDs. NotFound
	// when there is no such kit or it lies in the bin.
	Get(ctx context.Context, id kit.ID) (Kit, error)
	// List returns all kits, the one changed last first, then by ID.
	List(ctx context.Context) ([]KitSummary, error)
	// Delete puts a kit into the bin. NotFound as Get.
	Delete(ctx context.Context, id kit.ID, at time.Time) error
}

// Kit is a kit as it stands.
type Kit struct {
	kit.Kit
	Standing
	Created time.Time
	// Answers are the children's; they are no part of the kit that another
	// teacher gets.
	Answers []record.Answer
}

// KitSummary is what a list shows of a kit.
type KitSummary struct {
	ID        kit.ID
	Book      book.ID
	Class     class.ID
	BookTitle string
	ClassName string
	Decisions int
	Created   time.Time
	Changed   time.Time // when the last step was made, undone or redone
}

// Lay puts a stored value into the kit, for stores that read one back. Values
// must come in the order of their keys.
func (k *Kit) Lay(key Key, doc []byte) error {
	var err error
	switch {
	case key == CutsKey:
		err = json.Unmarshal(doc, &k.Cuts)
	case key == EditionKey:
		err = json.Unmarshal(doc, &k.Edition)
	case key == WordsKey:
		err = json.Unmarshal(doc, &k.Words)
	case key == AnswersKey:
		err = json.Unmarshal(doc, &k.Answers)
	case strings.HasPrefix(string(key), decisionPrefix):
		var d kit.Decision
		err = json.Unmarshal(doc, &d)
		k.Decisions = append(k.Decisions, d)
	default:
		return fmt.Errorf("a kit has no value %q", key)
	}
	if err != nil {
		return fmt.Errorf("reading value %q: %w", key, err)
	}
	return nil
}

// Write returns the values that a new kit holds as they are stored, in the order
// of their keys. Invalid as [Kits.Create] says.
func Write(k kit.Kit) ([]Written, error) {
	var edits []Edit
	if len(k.Cuts) > 0 {
		edits = append(edits, SetCuts(k.Cuts, 0))
	}
	if e := k.Edition; e.Name != "" || len(e.First) > 0 || e.Last != 0 || len(e.Fixed) > 0 {
		edits = append(edits, SetEdition(e, 0))
	}
	if len(k.Words) > 0 {
		edits = append(edits, SetWords(k.Words, 0))
	}
	for _, d := range k.Decisions {
		edits = append(edits, SetDecision(d, 0))
	}
	return write(OfKit(k.ID), edits)
}
