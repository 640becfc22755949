package store

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/record"
)

// Key names a value of a subject.
type Key string

const (
	CutsKey    Key = "cuts"    // of a kit: []kit.Cut
	EditionKey Key = "edition" // of a kit: book.Edition
	WordsKey   Key = "words"   // of a kit: []kit.OwnWord
	AnswersKey Key = "answers" // of a kit: []record.Answer
	ClassKey   Key = "class"   // of a class: class.Class
	WishKey    Key = "wish"    // of a plan: plan.Wish

	decisionPrefix = "decision/"
)

// DecisionKey is the key of a kit.Decision in its kit.
func DecisionKey(id kit.ItemID) Key { return Key(decisionPrefix + id) }

// Edit sets one value or takes it away. Make it with one of the functions below.
type Edit struct {
	Key   Key
	Value any // of the type that the key holds; nil takes the value away
	// Expect is the revision that the value had on the page: from
	// [Standing.Revisions], where an unset value gives 0; or [Any].
	Expect Revision
}

// SetDecision sets the decision on an item.
func SetDecision(d kit.Decision, expect Revision) Edit { return Edit{DecisionKey(d.ID), d, expect} }

// RemoveDecision takes the decision on an item away, so that the draft stands again.
func RemoveDecision(id kit.ItemID, expect Revision) Edit { return Edit{DecisionKey(id), nil, expect} }

// SetCuts sets the whole division of a kit; no cuts give it back to the program.
func SetCuts(cuts []kit.Cut, expect Revision) Edit {
	if len(cuts) == 0 {
		return Edit{CutsKey, nil, expect}
	}
	return Edit{CutsKey, cuts, expect}
}

// SetEdition sets the class's own printed copy of a kit's book.
func SetEdition(e book.Edition, expect Revision) Edit { return Edit{EditionKey, e, expect} }

// SetWords sets the teacher's own list of words of a kit; none take it away.
func SetWords(words []kit.OwnWord, expect Revision) Edit {
	if len(words) == 0 {
		return Edit{WordsKey, nil, expect}
	}
	return Edit{WordsKey, words, expect}
}

// SetAnswers sets the children's answers to the questions of a kit; none take
// them away.
func SetAnswers(answers []record.Answer, expect Revision) Edit {
	if len(answers) == 0 {
		return Edit{AnswersKey, nil, expect}
	}
	return Edit{AnswersKey, answers, expect}
}

// SetClass sets a class; its ID must be that of the subject.
func SetClass(c class.Class, expect Revision) Edit { return Edit{ClassKey, c, expect} }

// SetWish sets what the teacher asks of the year.
func SetWish(w plan.Wish, expect Revision) Edit { return Edit{WishKey, w, expect} }

// encode returns the edit's value as it is stored, nil for one taken away.
func (e Edit) encode(s Subject) (json.RawMessage, error) {
	if !e.fits(s) {
		return nil, fault.Wrap(fault.Invalid, fmt.Errorf("a %s cannot hold %T under %q", s.Kind, e.Value, e.Key),
			"This change does not belong here.", "Load the page again and repeat it.")
	}
	if e.Value == nil {
		return nil, nil
	}
	doc, err := json.Marshal(e.Value)
	return doc, fault.Wrap(fault.Invalid, err, "This change cannot be kept as it is.", "Load the page again and repeat it.")
}

func (e Edit) fits(s Subject) bool {
	switch v := e.Value.(type) {
	case nil:
		return s.Kind == KitSubject && (e.Key == CutsKey || e.Key == EditionKey || e.Key == WordsKey || e.Key == AnswersKey || e.Key.decision()) ||
			s.Kind == PlanSubject && e.Key == WishKey
	case kit.Decision:
		return s.Kind == KitSubject && e.Key.decision() && e.Key == DecisionKey(v.ID)
	case []kit.Cut:
		return s.Kind == KitSubject && e.Key == CutsKey
	case []kit.OwnWord:
		return s.Kind == KitSubject && e.Key == WordsKey
	case []record.Answer:
		return s.Kind == KitSubject && e.Key == AnswersKey
	case book.Edition:
		return s.Kind == KitSubject && e.Key == EditionKey
	case class.Class:
		return s.Kind == ClassSubject && e.Key == ClassKey && string(v.ID) == s.ID
	case plan.Wish:
		return s.Kind == PlanSubject && e.Key == WishKey
	}
	return false
}

func (k Key) decision() bool {
	return strings.HasPrefix(string(k), decisionPrefix) && k != decisionPrefix
}

// Written is an edit ready to be stored: JSON is nil for a value taken away.
type Written struct {
	Key    Key
	JSON   json.RawMessage
	Expect Revision
}

// Write returns the edits as they are stored, in the order of their keys, for
// stores that carry a change out. Invalid as [Journal.Change] says.
func (c Change) Write(s Subject) ([]Written, error) {
	if strings.TrimSpace(c.Label) == "" || len(c.Edits) == 0 {
		return nil, fault.New(fault.Invalid, "There is nothing to change, or no word for it.", "Load the page again and repeat it.")
	}
	return write(s, c.Edits)
}

func write(s Subject, edits []Edit) ([]Written, error) {
	out := make([]Written, 0, len(edits))
	for _, e := range edits {
		doc, err := e.encode(s)
		if err != nil {
			return nil, err
		}
		out = append(out, Written{e.Key, doc, e.Expect})
	}
	slices.SortFunc(out, func(a, b Written) int { return strings.Compare(string(a.Key), string(b.Key)) })
	for i := 1; i < len(out); i++ {
		if out[i-1].Key == out[i].Key {
			return nil, fault.Wrap(fault.Invalid, fmt.Errorf("two edits of value %q", out[i].Key),
				"One thing cannot be changed twice at once.", "Load the page again and repeat it.")
		}
	}
	return out, nil
}
