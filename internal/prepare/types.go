package prepare

import (
	"bookstead/internal/digest"
	"bookstead/internal/lead"
	"bookstead/internal/materials"
	"bookstead/internal/planner"
	"bookstead/internal/shelf"
	"bookstead/internal/store"
)

// The parts of the store's contract that doors show and send back.
type (
	Revision    = store.Revision
	Standing    = store.Standing
	Step        = store.Step
	Ref         = store.Ref
	Binned      = store.Binned
	BookSummary = store.BookSummary
	KitSummary  = store.KitSummary
	ClassState  = store.Class
	RefKind     = store.RefKind
)

// What engines return and doors show.
type (
	Digest        = digest.Digest
	DigestLine    = digest.Line
	TogetherNote  = lead.Together
	Ready         = planner.Ready
	Ahead         = planner.Ahead
	MaterialsList = materials.List
	BookFacts     = shelf.Facts
	FactColumn    = shelf.Column
	Sight         = shelf.Sight
	Stay          = shelf.Stay
)

// What a [Ref] names.
const (
	BookRef  = store.BookRef
	ClassRef = store.ClassRef
	KitRef   = store.KitRef
)

// AnyRevision stands for whatever revision there is.
const AnyRevision = store.Any
