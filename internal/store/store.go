// Package store promises what Bookstead keeps and how it is changed: books,
// classes, kits, plans, settings, a journal of every change and a bin. It says
// nothing of how; the child packages do (sqlite), and all of them pass the
// suite in storetest.
//
// The model in a few lines. A book's text is put once and a corrected file
// becomes its next version. What a teacher decides lies in keyed values that
// belong to a [Subject]: a kit, a class, the plan of a class. Values change only
// through the [Journal], one [Step] at a time, and a step can be undone and done
// again exactly; before and after stay in the journal for good, so nothing that
// was typed is lost. What is deleted lies in the [Bin] until it is erased.
//
// A value's [Revision] is the number of the step that wrote it. Whoever changes
// a value says which revision was on the page, and gets a Conflict when another
// window was quicker.
//
// What holds for every method: it stops when its context ends (Canceled); it is
// all or nothing; it may be called from several goroutines. Times come from the
// caller and are kept in UTC to the microsecond. IDs come from the caller and
// are never empty. Any method may fail with Busy (the store is held by somebody
// else), Full (no room or no permission to write) or Unreadable (the store is
// damaged); the comments name only the other kinds. Lists are never an error
// when there is nothing to list.
//
// Start with [Store], then [Journal] and [Edit].
package store

import "context"

// Store is everything kept. Its parts are small, so that a use case can ask for
// no more than it needs.
type Store interface {
	Books() Books
	Classes() Classes
	Kits() Kits
	Plans() Plans
	Journal() Journal
	Bin() Bin
	Settings() Settings
	// Close ends the work with the store. It waits for what is being written;
	// nothing may be called after it. A second Close does nothing.
	Close() error
}

// Settings are what the program itself remembers: the first start, the kit that
// lay open last. They are not journaled.
type Settings interface {
	// Get returns the value under a name, "" when there is none.
	Get(ctx context.Context, name string) (string, error)
	// Set keeps a value under a name in place of any other; "" takes it away.
	Set(ctx context.Context, name, value string) error
}
