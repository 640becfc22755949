package sqlite_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/store"
	"bookstead/internal/store/sqlite"
)

func openOn(t *testing.T, dir string, day time.Time) *sqlite.Store {
	t.Helper()
	s, err := sqlite.Open(t.Context(), dir, day)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() }) //nolint:errcheck // closed before when it matters
	return s
}

// days are the names of the backups.
func days(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(dir, "backups"))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestBackups(t *testing.T) {
	dir := t.TempDir()
	for n := range 8 {
		for hour := range 2 { // the second opening of a day makes none
			s := openOn(t, dir, today.AddDate(0, 0, n).Add(time.Duration(hour)*time.Hour))
			fill(t, s, fmt.Sprintf("Day %d, %d", n, hour))
			closed(t, s)
		}
	}
	want := []string{"2026-09-04.db", "2026-09-05.db", "2026-09-06.db", "2026-09-07.db", "2026-09-08.db"}
	if got := days(t, dir); !slices.Equal(got, want) {
		t.Errorf("backups are %v, want %v", got, want)
	}
	// A copy is a whole store, as it stood when its day began.
	copied, err := os.ReadFile(filepath.Join(dir, "backups", "2026-09-06.db"))
	if err != nil {
		t.Fatal(err)
	}
	other := t.TempDir()
	if err := os.WriteFile(filepath.Join(other, sqlite.File), copied, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := titles(t, openOn(t, other, today)); got != "Day 4, 1" {
		t.Errorf("the copy of day 5 holds %q", got)
	}
}

// damage overwrites the middle of the database.
func damage(t *testing.T, dir string) {
	t.Helper()
	path := filepath.Join(dir, sqlite.File)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for page := 4096; page < len(data); page += 4096 {
		copy(data[page:page+100], bytes.Repeat([]byte{0xa5}, 100))
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestDamagedFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, sqlite.File)
	var log []byte // as a killed program would leave it
	for n, title := range []string{"The Gate", "The Gate, mended", "The Gate, mended again"} {
		s := openOn(t, dir, today.AddDate(0, 0, n))
		fill(t, s, title)
		var err error
		if log, err = os.ReadFile(path + "-wal"); err != nil || len(log) == 0 {
			t.Fatalf("there is no log: %v", err)
		}
		closed(t, s)
	}
	damage(t, dir)
	// It is found on the next day and on a day that has its backup, every time.
	for n := range 2 {
		_, err := sqlite.Open(t.Context(), dir, today.AddDate(0, 0, 3-n))
		wantFault(t, err, fault.Unreadable, dir, "backup of 2026-09-03")
	}
	if got, want := days(t, dir), []string{"2026-09-02.db", "2026-09-03.db"}; !slices.Equal(got, want) {
		t.Errorf("backups are %v, want %v", got, want)
	}
	// Do what the hint says. A log left behind does no harm.
	if err := os.Rename(path, filepath.Join(t.TempDir(), sqlite.File)); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path+"-wal", log, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := titles(t, openOn(t, dir, today.AddDate(0, 0, 3))); got != "The Gate, mended" {
		t.Errorf("the library came back with %q", got)
	}
}

// TestDamageFoundInUse: a file that goes bad while it is open is told of as well.
func TestDamageFoundInUse(t *testing.T) {
	dir := t.TempDir()
	s := openOn(t, dir, today)
	fill(t, s, "The Gate")
	closed(t, s)
	s = openOn(t, dir, today.AddDate(0, 0, 1))
	f, err := os.OpenFile(filepath.Join(dir, sqlite.File), os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	// Left open to the end: closing it would cost the store its lock on the file.
	t.Cleanup(func() { f.Close() }) //nolint:errcheck // the test is over
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	for page := int64(4096); page < info.Size(); page += 4096 {
		if _, err := f.WriteAt(bytes.Repeat([]byte{0xa5}, 100), page); err != nil {
			t.Fatal(err)
		}
	}
	_, err = s.Books().Get(t.Context(), "b")
	wantFault(t, err, fault.Unreadable, dir, "backup of 2026-09-02")
}

// TestEraseLeavesNothing looks for a child's name in every byte of the folder.
func TestEraseLeavesNothing(t *testing.T) {
	const name = "Theodora Quillfeather"
	dir := t.TempDir()
	ctx := t.Context()
	s := openOn(t, dir, today)
	c := class.Class{ID: "c", Name: "Grade 4", Students: []class.Student{{ID: "s", Name: name}}}
	if err := s.Classes().Create(ctx, c, today); err != nil {
		t.Fatal(err)
	}
	c.Students[0].Note = "reads " + strings.Repeat("well and ", 2000)
	if _, err := s.Journal().Change(ctx, store.OfClass("c"), store.Change{Label: "Wrote a note on " + name, At: today, Edits: []store.Edit{store.SetClass(c, store.Any)}}); err != nil {
		t.Fatal(err)
	}
	closed(t, s)
	for n := range 3 {
		closed(t, openOn(t, dir, today.AddDate(0, 0, n+1)))
	}
	s = openOn(t, dir, today.AddDate(0, 0, 4))
	c.Copies = 7 // the name comes into the log of this day
	if _, err := s.Journal().Change(ctx, store.OfClass("c"), store.Change{Label: "Counted", At: today, Edits: []store.Edit{store.SetClass(c, store.Any)}}); err != nil {
		t.Fatal(err)
	}
	if err := s.Classes().Delete(ctx, "c", false, today); err != nil {
		t.Fatal(err)
	}
	if found := holding(t, dir, name); len(found) < 5 {
		t.Fatalf("the name is only in %v: the search cannot tell", found)
	}
	if err := s.Bin().Erase(ctx, store.Ref{Kind: store.ClassRef, ID: "c"}); err != nil {
		t.Fatal(err)
	}
	for _, what := range []string{"while it is open", "after it was closed"} {
		if found := holding(t, dir, name); len(found) > 0 {
			t.Errorf("%s, the name is still in %v", what, found)
		}
		closed(t, s)
	}
	if got, want := days(t, dir), []string{"2026-09-05.db"}; !slices.Equal(got, want) {
		t.Errorf("backups are %v, want a new one, %v", got, want)
	}
}

// holding are the files of a folder that hold the words.
func holding(t *testing.T, dir, words string) (out []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if bytes.Contains(data, []byte(words)) {
			out = append(out, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
