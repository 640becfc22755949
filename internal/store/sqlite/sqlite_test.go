package sqlite_test

import (
	"testing"
	"time"

	"bookstead/internal/store"
	"bookstead/internal/store/sqlite"
	"bookstead/internal/store/storetest"
)

// today is the day on which the tests open stores.
var today = time.Date(2026, 9, 1, 8, 0, 0, 0, time.UTC)

// open opens the store in a folder, which must succeed.
func open(t testing.TB, dir string) *sqlite.Store {
	t.Helper()
	s, err := sqlite.Open(t.Context(), dir, today)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() }) //nolint:errcheck // closed before when it matters
	return s
}

func TestContract(t *testing.T) {
	storetest.Run(t, func(t *testing.T) store.Store { return open(t, t.TempDir()) })
}
