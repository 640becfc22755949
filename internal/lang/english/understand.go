package english

import (
	"context"
	"fmt"
	"sync"

	"bookstead/internal/lang"
	"bookstead/internal/lang/names"
	"bookstead/internal/lang/neural"
	"bookstead/internal/lang/quotes"
)

// reader is the network that parses, unpacked when it is first used.
var reader = sync.OnceValues(neural.Load)

// Understand goes on where [Annotate] ends: the network reads every sentence
// anew and gives it a tree; then the cast and the speech are found. It is the
// slower part, some seconds for a novel, and stops when ctx ends.
func Understand(ctx context.Context, d *lang.Doc) error {
	r, err := reader()
	if err != nil {
		return fmt.Errorf("unpacking the reader: %w", err)
	}
	for _, a := range []lang.Annotator{r, names.Caster{}, quotes.Finder{}} {
		if !d.Has(a.Needs()) {
			return fmt.Errorf("annotating: %T lacks what it needs", a)
		}
		if err := a.Annotate(ctx, d); err != nil {
			return err
		}
	}
	return nil
}
