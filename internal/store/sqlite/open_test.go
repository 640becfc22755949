package sqlite_test

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/store/sqlite"
)

// wantFault checks the kind, that the message names the folder, and the hint.
func wantFault(t *testing.T, err error, kind fault.Kind, dir, hint string) {
	t.Helper()
	f := fault.Of(err)
	if err == nil || f.Kind != kind || !strings.Contains(f.Message, dir) || !strings.Contains(f.Hint, hint) {
		t.Errorf("got %v (%+v), want kind %q, a message with %q and a hint with %q", err, f, kind, dir, hint)
	}
}

// openFails opens a folder where it must fail, and checks that the lock is free
// again afterwards: the second failure is the first one's and not Busy.
func openFails(t *testing.T, dir string) error {
	t.Helper()
	var err error
	for range 2 {
		var s *sqlite.Store
		if s, err = sqlite.Open(t.Context(), dir, today); err == nil {
			s.Close() //nolint:errcheck // the test fails anyway
			t.Fatal("the store opened")
		}
	}
	return err
}

// fill puts a book and a setting into a store.
func fill(t testing.TB, s *sqlite.Store, title string) {
	t.Helper()
	b := &book.Book{ID: "b", Title: title, Text: strings.Repeat("A long way to go. ", 4000)}
	if _, err := s.Books().Put(t.Context(), b, today); err != nil {
		t.Fatal(err)
	}
}

// titles are those of the library.
func titles(t testing.TB, s *sqlite.Store) string {
	t.Helper()
	list, err := s.Books().List(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, b := range list {
		out = append(out, b.Title)
	}
	return strings.Join(out, ", ")
}

func closed(t testing.TB, s *sqlite.Store) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestOpenKeepsWhatWasThere(t *testing.T) {
	// A folder with every character that an address could stumble over.
	dir := filepath.Join(t.TempDir(), "Frau Müller's 100% #1", "data")
	s := open(t, dir)
	fill(t, s, "The Gate")
	closed(t, s)
	if got := titles(t, open(t, dir)); got != "The Gate" {
		t.Errorf("the library holds %q", got)
	}
}

func TestPragmas(t *testing.T) {
	s := open(t, t.TempDir())
	for name, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "5000", "secure_delete": "1", "application_id": fmt.Sprint(0x426b5374), "user_version": fmt.Sprint(len(sqlite.Migrations()))} {
		if got, err := s.Pragma(t.Context(), name); err != nil || got != want {
			t.Errorf("%s is %q, want %q (%v)", name, got, want, err)
		}
	}
}

func TestOnlyTheOwnerCanRead(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows keeps no such bits; the user's data folder is private there")
	}
	shared := t.TempDir() // a folder that others may look into
	if err := os.Chmod(shared, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{shared, filepath.Join(shared, "made", "by us")} {
		s := open(t, dir)
		fill(t, s, "The Gate")
		closed(t, s)
		s, err := sqlite.Open(t.Context(), dir, today.AddDate(0, 0, 1))
		if err != nil {
			t.Fatal(err)
		}
		fill(t, s, "The Gate again")
		files := 0
		err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || path == shared {
				return err
			}
			files++
			info, err := d.Info()
			if err == nil && info.Mode().Perm()&0o077 != 0 {
				t.Errorf("%s has the rights %v", path, info.Mode())
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if files < 5 { // the database, its log and its index, the lock, a backup
			t.Errorf("only %d files were seen", files)
		}
		closed(t, s)
	}
}

func TestSecondProgram(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	_, err := sqlite.Open(t.Context(), dir, today)
	wantFault(t, err, fault.Busy, dir, "stop it first")
	fill(t, s, "The Gate") // the first one is not harmed
	closed(t, s)
	open(t, dir)
}

// TestCloseWaits: what is acknowledged while the store is being closed is there
// for the program that opens it next.
func TestCloseWaits(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	done := make(chan error, 1)
	go func() {
		_, err := s.Books().Put(t.Context(), &book.Book{ID: "big", Title: "Big", Text: strings.Repeat("A long way to go. ", 500_000)}, today)
		done <- err
	}()
	for !logGrew(t, dir) && len(done) == 0 { // until the book is on its way
		runtime.Gosched()
	}
	closed(t, s)
	got := titles(t, open(t, dir))
	if err := <-done; err == nil && got != "Big" {
		t.Errorf("a book was acknowledged, and then the library held %q", got)
	}
}

// logGrew reports whether the log holds more than opening writes.
func logGrew(t *testing.T, dir string) bool {
	t.Helper()
	info, err := os.Stat(filepath.Join(dir, sqlite.File+"-wal"))
	return err == nil && info.Size() > 1_000_000
}

func TestFolderThatCannotBe(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	wantFault(t, openFails(t, filepath.Join(file, "data")), fault.Full, file, "--data")
	wantFault(t, openFails(t, file), fault.Full, file, "--data")
	if err := os.Mkdir(filepath.Join(dir, sqlite.File), 0o700); err != nil {
		t.Fatal(err)
	}
	wantFault(t, openFails(t, dir), fault.Full, dir, "see whose folder")
}

// raw works on a database behind the store's back.
func raw(t *testing.T, path string, scripts ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range scripts {
		if _, err := db.ExecContext(t.Context(), s); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestNewerProgram(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, sqlite.File)
	closed(t, open(t, dir))
	raw(t, path, "PRAGMA user_version = 99")
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	wantFault(t, openFails(t, dir), fault.Unreadable, dir, "newer program")
	after, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(before, after) {
		t.Error("the file was changed")
	}
}

func TestSomebodyElsesDatabase(t *testing.T) {
	for name, script := range map[string]string{
		"no version":    "CREATE TABLE invoice (n)",
		"another ID":    "PRAGMA application_id = 77; PRAGMA user_version = 1; CREATE TABLE invoice (n)",
		"a version, ID": "PRAGMA user_version = 2; CREATE TABLE invoice (n)",
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			raw(t, filepath.Join(dir, sqlite.File), script)
			wantFault(t, openFails(t, dir), fault.Unreadable, dir, "another folder")
		})
	}
}

// TestMigrationsStay holds the scripts that were given out to what they were:
// one is never edited, the next one mends it.
func TestMigrationsStay(t *testing.T) {
	sums := []string{
		"c47f8403dcf3e742ca228305f1ace49f8914952a10928061d29508231b6f4f09",
		"3e20d0a69e51428600af0af617713b580ad770701f13579505f8dd6693cc9526",
	}
	names := sqlite.Migrations()
	if len(names) != len(sums) {
		t.Fatalf("%d migrations, %d sums: add the sum of a new one", len(names), len(sums))
	}
	for i, name := range names {
		script, err := sqlite.Script(name)
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(script)
		if got := hex.EncodeToString(sum[:]); got != sums[i] {
			t.Errorf("%s was edited: its sum is %s", name, got)
		}
		if want := fmt.Sprintf("migrations/%03d_", i+1); !strings.HasPrefix(name, want) {
			t.Errorf("%s does not begin with %s", name, want)
		}
	}
}

func TestMigrationFromTheFirst(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, sqlite.File)
	script, err := sqlite.Script(sqlite.Migrations()[0])
	if err != nil {
		t.Fatal(err)
	}
	raw(t, path, string(script), "PRAGMA user_version = 1",
		`INSERT INTO book (id, version) VALUES ('b', 1)`,
		`INSERT INTO book_version VALUES ('b', 1, 'The Gate', 'A. Writer', 9, 1, 0, '{"id":"b","title":"The Gate","text":"The gate."}')`)
	s := open(t, dir)
	if got := titles(t, s); got != "The Gate" {
		t.Errorf("the library holds %q", got)
	}
	b, err := s.Books().Get(t.Context(), "b")
	if err != nil || b.Text != "The gate." {
		t.Errorf("the book is %+v, %v", b, err)
	}
	// A copy from before lies in the backups, of the version that it had.
	copies, err := filepath.Glob(filepath.Join(dir, "backups", "*.db"))
	if err != nil || len(copies) != 1 {
		t.Fatalf("backups are %v, %v", copies, err)
	}
	db, err := sql.Open("sqlite", copies[0])
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close() //nolint:errcheck // it was only read
	var version int
	if err := db.QueryRowContext(t.Context(), "PRAGMA user_version").Scan(&version); err != nil || version != 1 {
		t.Errorf("the copy has the version %d, %v", version, err)
	}
}

func TestAStoreOpensAtAnyHour(t *testing.T) {
	// The clock may stand wrong, or be set back, without harm.
	dir := t.TempDir()
	for _, at := range []time.Time{today, {}, today.AddDate(-1, 0, 0), today.AddDate(100, 0, 0)} {
		s, err := sqlite.Open(t.Context(), dir, at)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Settings().Set(t.Context(), "x", at.String()); err != nil {
			t.Error(err)
		}
		closed(t, s)
	}
}
