// Package fault holds the kinds of error that Bookstead tells apart, with a
// message for the person at the desk and one hint on what to do next.
//
// A fault knows nothing of HTTP or exit codes: a door (cli, web) turns the
// [Kind] into a status. Inner errors stay wrapped for the log; people see only
// Message and Hint. Start with [New] and [Of].
package fault

import (
	"errors"
	"fmt"
)

// Kind says what sort of trouble it is, so that a door can choose a status or
// an exit code without reading the message.
type Kind uint8

const (
	// Internal is a defect of ours: nothing that the person did.
	Internal Kind = iota
	// Invalid is input that breaks a rule: a date before the term starts.
	Invalid
	// Unreadable is a file that is not what it should be: broken, encrypted,
	// empty, in another language.
	Unreadable
	// TooLarge is input beyond a stated limit.
	TooLarge
	// NotFound is a thing that does not exist, or no longer does.
	NotFound
	// Conflict is two hands on one thing: an edit made from an old page.
	Conflict
	// Busy is a thing held by somebody else: a port, a database in use.
	Busy
	// Full is no room left on the disk, or no permission to write.
	Full
	// Canceled is work stopped because a person asked for it.
	Canceled
)

var kindNames = [...]string{"internal", "invalid", "unreadable", "too large", "not found", "conflict", "busy", "full", "canceled"}

// String names the kind in lower case.
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return fmt.Sprintf("kind %d", uint8(k))
}

// Error is a fault. Message is a whole sentence in the teacher's words that
// says what is wrong and where; Hint, also a sentence, says what to do and may
// be empty. Err is the cause for the log, never shown.
type Error struct {
	Kind    Kind
	Message string
	Hint    string
	Err     error
}

// Error returns the message and, behind a colon, the cause.
func (e *Error) Error() string {
	if e.Err != nil {
		return e.Message + ": " + e.Err.Error()
	}
	return e.Message
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// New makes a fault with no cause.
func New(kind Kind, message, hint string) *Error {
	return &Error{Kind: kind, Message: message, Hint: hint}
}

// Wrap makes a fault around a cause. It returns nil when err is nil.
func Wrap(kind Kind, err error, message, hint string) error {
	if err == nil {
		return nil
	}
	return &Error{Kind: kind, Message: message, Hint: hint, Err: err}
}

// Of returns the fault inside err: the outermost one in its chain. An error
// that holds none counts as Internal, with a message that shows nothing of it.
// Of(nil) is nil.
func Of(err error) *Error {
	if err == nil {
		return nil
	}
	var f *Error
	if errors.As(err, &f) {
		return f
	}
	return &Error{
		Kind:    Internal,
		Message: "Something went wrong inside Bookstead.",
		Hint:    "Nothing that you decided is lost. Try again; if it happens again, please report it.",
		Err:     err,
	}
}

// Is reports whether err holds a fault of this kind.
func Is(err error, kind Kind) bool { return err != nil && Of(err).Kind == kind }
