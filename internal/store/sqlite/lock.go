package sqlite

import (
	"errors"

	"github.com/gofrs/flock"
)

// errHeld says that another program holds the lock.
var errHeld = errors.New("the lock is held")

// lock keeps a second program out of the data folder. The system lets go of it
// when the program ends, however it ends; its file stays.
type lock struct{ f *flock.Flock }

func takeLock(path string) (*lock, error) {
	f := flock.New(path, flock.SetPermissions(0o600))
	ok, err := f.TryLock()
	if err != nil {
		return nil, err
	}
	if !ok {
		return nil, errHeld
	}
	return &lock{f}, nil
}

func (l *lock) release() error { return l.f.Close() }
