package store

import (
	"context"
	"time"

	"bookstead/internal/class"
)

// Classes are the classes of this teacher. A class changes through the
// [Journal]: see [OfClass] and [SetClass].
type Classes interface {
	// Create keeps a new class. Conflict when its ID is taken, also by a class
	// in the bin.
	Create(ctx context.Context, c class.Class, at time.Time) error
	// Get returns a class as it stands. NotFound when there is no such class or
	// it lies in the bin.
	Get(ctx context.Context, id class.ID) (Class, error)
	// List returns all classes by name without regard to case, then by ID; whole,
	// but without where their journals stand.
	List(ctx context.Context) ([]class.Class, error)
	// Delete puts a class into the bin, its plan with it. Conflict while kits use
	// it, unless forced: then these kits go into the bin with it. NotFound as Get.
	Delete(ctx context.Context, id class.ID, force bool, at time.Time) error
}

// Class is a class as it stands.
type Class struct {
	class.Class
	Standing
}
