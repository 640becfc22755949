package sqlite_test

import (
	"fmt"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/store/sqlite"
)

// TestFullDisk lets the database grow no further, as on a full disk, at every
// page of a growing book in turn: each time the store says so, holds what it
// held, and goes on once there is room.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	fill(t, s, "The Gate")
	ctx := t.Context()
	pages, err := s.Pragma(ctx, "page_count")
	if err != nil {
		t.Fatal(err)
	}
	full := 0
	for more := range 30 {
		var have int
		if _, err := fmt.Sscan(pages, &have); err != nil {
			t.Fatal(err)
		}
		if _, err := s.Pragma(ctx, fmt.Sprintf("max_page_count = %d", have+more)); err != nil {
			t.Fatal(err)
		}
		b := &book.Book{ID: "big", Title: "Big", Text: strings.Repeat("x", 80_000)}
		_, err := s.Books().Put(ctx, b, today)
		if err == nil {
			break
		}
		full++
		wantFault(t, err, fault.Full, dir, "Make room")
		if got := titles(t, s); got != "The Gate" {
			t.Fatalf("the library holds %q", got)
		}
		whole(t, s)
	}
	if full < 15 {
		t.Errorf("the disk was full only %d times", full)
	}
	if got := titles(t, s); got != "Big, The Gate" {
		t.Errorf("the library holds %q", got)
	}
	whole(t, s)
}

func TestDiskThatMayNotBeWritten(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	fill(t, s, "The Gate")
	if _, err := s.Pragma(t.Context(), "query_only = 1"); err != nil {
		t.Fatal(err)
	}
	_, err := s.Books().Put(t.Context(), &book.Book{ID: "b", Title: "Another"}, today)
	wantFault(t, err, fault.Full, dir, "See whose folder")
	if got := titles(t, s); got != "The Gate" {
		t.Errorf("the library holds %q", got)
	}
}

// whole checks every page and every index of the database.
func whole(t testing.TB, s *sqlite.Store) {
	t.Helper()
	for _, check := range []string{"integrity_check", "foreign_key_check"} {
		if said, err := s.Pragma(t.Context(), check); err != nil || said != "ok" && said != "" {
			t.Fatalf("%s: %s, %v", check, said, err)
		}
	}
}
