// Package record holds what children did: an answer to a question, and what the
// teacher held of it.
//
// Records are a class's own. They never travel with a kit to another teacher.
package record

import (
	"bookstead/internal/calendar"
	"bookstead/internal/kit"
)

// Verdict is what the teacher holds of an answer.
type Verdict string

// What a teacher may hold of an answer; Open when nothing is decided.
const (
	Open      Verdict = ""
	Correct   Verdict = "correct"
	Partly    Verdict = "partly"
	Incorrect Verdict = "incorrect"
)

// Answer is one child's answer to a question of a kit.
type Answer struct {
	Item kit.ItemID `json:"item"`
	// Student is the ID of the child, "" when it was not said.
	Student string `json:"student,omitempty"`
	Text    string `json:"text"`
	// Verdict is the teacher's own.
	Verdict Verdict       `json:"verdict,omitempty"`
	Day     calendar.Date `json:"day"`
}
