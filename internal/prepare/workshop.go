// Package prepare is what a teacher does with Bookstead: bring a book in, set up
// a class, open a kit, decide, divide, plan and print. Both doors (cli and web)
// call it and nothing below it.
//
// [Workshop] holds the store, the clock and a small cache of what is derived.
// [Workshop.Open] gives a [Prepared] kit: lessons and items as they stand now,
// computed from the book's text and the teacher's decisions. [WholeKit] does
// everything for one book without a store.
package prepare

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"sync"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/planner"
	"bookstead/internal/store"
)

// Workshop is the running program's working state. It may be used from several
// goroutines.
type Workshop struct {
	store store.Store
	now   func() time.Time
	// newID makes names for things that a person adds.
	newID func() string

	mu       sync.Mutex
	docs     cache[string, *lang.Doc] // by SHA-256 and length of the text
	prepared cache[kit.ID, *cachedKit]
	drafts   cache[kit.ID, *cachedDrafts]
	work     cache[kit.ID, *bookWork]
	measured cache[factsKey, *measured]
}

// bookWork is a kit as the planner sees it. It is small, so that those of all
// classes are kept, while of the kits themselves only a few are.
type bookWork struct {
	key  preparedKey
	id   book.ID
	book planner.Book
	// pages of its student pages, 0 when not counted yet.
	pages int
}

type cachedKit struct {
	key      preparedKey
	prepared *Prepared
}

// preparedKey names everything that a Prepared is computed from.
type preparedKey struct {
	text  string
	kit   store.Revision
	class store.Revision
	day   calendar.Date // on which the class stands where it does
}

// New makes a workshop over a store. now is the clock.
func New(s store.Store, now func() time.Time) *Workshop {
	return &Workshop{store: s, now: now, newID: randomID,
		docs: cache[string, *lang.Doc]{most: 4}, prepared: cache[kit.ID, *cachedKit]{most: 8}, drafts: cache[kit.ID, *cachedDrafts]{most: 8}, work: cache[kit.ID, *bookWork]{most: 500}, measured: cache[factsKey, *measured]{most: 2000}}
}

// Close ends the work; what is being written is finished first.
func (w *Workshop) Close() error { return w.store.Close() }

// Now is the workshop's clock.
func (w *Workshop) Now() time.Time { return w.now() }

func randomID() string {
	var b [8]byte
	rand.Read(b[:]) //nolint:errcheck // crypto/rand.Read never fails (Go 1.24)
	return hex.EncodeToString(b[:])
}

// cache keeps the values used last. The workshop's lock guards it.
type cache[K comparable, V any] struct {
	most  int
	keys  []K
	items map[K]V
}

func (c *cache[K, V]) get(k K) (v V, ok bool) {
	if v, ok = c.items[k]; ok {
		c.touch(k)
	}
	return v, ok
}

func (c *cache[K, V]) put(k K, v V) {
	if c.items == nil {
		c.items = map[K]V{}
	}
	c.items[k] = v
	c.touch(k)
	if len(c.keys) > c.most {
		delete(c.items, c.keys[0])
		c.keys = c.keys[1:]
	}
}

func (c *cache[K, V]) touch(k K) {
	for i, x := range c.keys {
		if x == k {
			c.keys = append(c.keys[:i], c.keys[i+1:]...)
			break
		}
	}
	c.keys = append(c.keys, k)
}

// textKey names a text.
func textKey(b *book.Book) string { return b.Source.SHA256 + "/" + string(b.ID) }

// doc returns the analysis of a book, from the cache or made now.
func (w *Workshop) doc(ctx context.Context, b *book.Book, progress Progress) (*lang.Doc, error) {
	key := textKey(b)
	w.mu.Lock()
	d, ok := w.docs.get(key)
	w.mu.Unlock()
	if ok && d.Text == b.Text {
		return d, nil
	}
	d, err := Analyze(ctx, b, progress)
	if err != nil {
		return nil, err
	}
	w.mu.Lock()
	w.docs.put(key, d)
	w.mu.Unlock()
	return d, nil
}

// Opened is a kit as it stands, with where its journal stands.
type Opened struct {
	*Prepared
	Standing store.Standing
	// ClassRevision is where the class stood.
	ClassRevision store.Revision
}

// loaded is a kit with its book and class as they stand, and the key of all that
// is computed from them.
type loaded struct {
	kit   store.Kit
	class store.Class
	book  *book.Book
	key   preparedKey
}

func (w *Workshop) load(ctx context.Context, id kit.ID) (x loaded, err error) {
	if x.kit, err = w.store.Kits().Get(ctx, id); err != nil {
		return x, err
	}
	if x.class, err = w.store.Classes().Get(ctx, x.kit.Class); err != nil {
		return x, err
	}
	if x.book, err = w.store.Books().Get(ctx, x.kit.Book); err != nil {
		return x, err
	}
	x.key = preparedKey{text: textKey(x.book), kit: x.kit.Head, class: x.class.Head, day: calendar.FromTime(w.now())}
	return x, nil
}

// Open prepares a kit as it stands now. The first time for a text it reads the
// whole book, which takes some seconds.
func (w *Workshop) Open(ctx context.Context, id kit.ID, progress Progress) (*Opened, error) {
	x, err := w.load(ctx, id)
	if err != nil {
		return nil, err
	}
	w.mu.Lock()
	hit, ok := w.prepared.get(id)
	w.mu.Unlock()
	if ok && hit.key == x.key && hit.prepared.Book.Text == x.book.Text {
		return &Opened{Prepared: hit.prepared, Standing: x.kit.Standing, ClassRevision: x.class.Head}, nil
	}
	p, err := w.prepare(ctx, x, progress)
	if err != nil {
		return nil, err
	}
	w.mu.Lock()
	w.prepared.put(id, &cachedKit{key: x.key, prepared: p})
	w.work.put(id, &bookWork{key: x.key, id: x.book.ID, book: p.plannerBook()})
	w.mu.Unlock()
	return &Opened{Prepared: p, Standing: x.kit.Standing, ClassRevision: x.class.Head}, nil
}

// bookWork is a kit's work for the planner, from the cache or from the kit
// opened now.
func (w *Workshop) bookWork(ctx context.Context, id kit.ID, progress Progress) (*bookWork, error) {
	if x, ok := w.knownWork(ctx, id); ok {
		return x, nil
	}
	if _, err := w.Open(ctx, id, progress); err != nil {
		return nil, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	x, _ := w.work.get(id)
	return x, nil
}

// knownWork is a kit's work when nothing must be read for it.
func (w *Workshop) knownWork(ctx context.Context, id kit.ID) (*bookWork, bool) {
	l, err := w.load(ctx, id)
	if err != nil {
		return nil, false
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	x, ok := w.work.get(id)
	return x, ok && x.key == l.key
}

// draftKey names everything that the drafts of a kit are made from.
type draftKey struct {
	text  string
	class store.Revision
	day   calendar.Date
	asked string // where lessons are cut, and the teacher's own list of words
}

// prepare lays the decisions over the drafts, which are made anew only when what
// they are made from has changed: a click must not cost a reading of the book.
func (w *Workshop) prepare(ctx context.Context, x loaded, progress Progress) (*Prepared, error) {
	doc, err := w.doc(ctx, x.book, progress)
	if err != nil {
		return nil, err
	}
	key := draftKey{x.key.text, x.key.class, x.key.day, fmt.Sprintf("%+v %+v", x.kit.Cuts, x.kit.Words)}
	w.mu.Lock()
	d, ok := w.drafts.get(x.kit.ID)
	w.mu.Unlock()
	if !ok || d.key != key {
		made, err := draftKit(ctx, x.book, x.class.Class, x.kit.Kit, doc, x.key.day, progress)
		if err != nil {
			return nil, err
		}
		d = &cachedDrafts{key, made}
		w.mu.Lock()
		w.drafts.put(x.kit.ID, d)
		w.mu.Unlock()
	}
	return d.drafted.lay(x.book, x.class.Class, x.kit.Kit, doc, x.key.day), nil
}

type cachedDrafts struct {
	key     draftKey
	drafted *drafted
}
