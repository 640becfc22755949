// Package sqlite keeps everything in one SQLite file, through a driver without
// C code.
//
// [Open] makes the data folder when it is not there, takes its lock, brings the
// file up to date by numbered migrations that are never edited, and keeps a
// backup. One connection writes, many read; pragmas stand in the address of the
// database, so that every connection has them. Times are microseconds since
// 1970 in UTC. Start with [Open].
package sqlite

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	driver "modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"bookstead/internal/fault"
	"bookstead/internal/store"
)

//go:embed migrations
var migrations embed.FS

// File is the database's name in the data folder.
const File = "bookstead.db"

// Store is the store in one file.
type Store struct {
	write *sql.DB // one connection
	read  *sql.DB
	dir   string
	lock  *lock
}

var _ store.Store = (*Store)(nil)

// Open opens the store in a folder, which is made for its owner alone when it
// is not there. now dates the backup. Faults: Busy when another program has the
// folder open, Full when it can't be written, Unreadable when the file is
// damaged or of a newer program.
func Open(ctx context.Context, dir string, now time.Time) (*Store, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fault.Wrap(fault.Full, err, fmt.Sprintf("The data folder %q cannot be made.", dir), "Name another folder with --data DIR.")
	}
	l, err := takeLock(filepath.Join(dir, "lock"))
	if err != nil {
		if errors.Is(err, errHeld) {
			return nil, fault.Wrap(fault.Busy, err, fmt.Sprintf("Another Bookstead is using the data folder %q.", dir), "Use the one that is open, or stop it first.")
		}
		return nil, fault.Wrap(fault.Full, err, fmt.Sprintf("The data folder %q cannot be written.", dir), "Check that it is yours and that the disk has room, or name another with --data DIR.")
	}
	s := &Store{dir: dir, lock: l}
	path := filepath.Join(dir, File)
	if s.write, err = sql.Open("sqlite", address(path)); err == nil {
		s.write.SetMaxOpenConns(1)
		s.read, err = sql.Open("sqlite", address(path)+"&_pragma=query_only(1)")
	}
	if err == nil {
		s.read.SetMaxOpenConns(8)
		err = s.migrate(ctx)
	}
	if err == nil {
		err = s.backup(ctx, now)
	}
	if err != nil {
		s.Close() //nolint:errcheck // the first error is the one to tell
		return nil, told(err)
	}
	return s, nil
}

// address is the database's address with its pragmas. The busy timeout comes
// first, so that it holds while the others are set. FULL synchronisation: what
// was acknowledged is on the disk, whatever happens next.
func address(path string) string {
	q := url.Values{}
	for _, p := range []string{"busy_timeout(5000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)", "secure_delete(1)"} {
		q.Add("_pragma", p)
	}
	q.Set("_txlock", "immediate")
	return "file:" + (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath() + "?" + q.Encode()
}

// migrate runs the migrations that the file has not seen, each in a transaction.
func (s *Store) migrate(ctx context.Context) error {
	var have int
	if err := s.write.QueryRowContext(ctx, "PRAGMA user_version").Scan(&have); err != nil {
		return err
	}
	files, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return err
	}
	slices.Sort(files)
	if have > len(files) {
		return fault.New(fault.Unreadable, fmt.Sprintf("The data in %q was written by a newer Bookstead.", s.dir), "Start that newer program, or name another folder with --data DIR.")
	}
	if have > 0 {
		var ok string
		if err := s.write.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&ok); err != nil || ok != "ok" {
			return fault.Wrap(fault.Unreadable, fmt.Errorf("quick_check: %s: %w", ok, err), fmt.Sprintf("The data in %q is damaged.", s.dir),
				"Copy the newest file of its folder “backups” over "+File+", and start again.")
		}
	}
	for n := have; n < len(files); n++ {
		script, err := migrations.ReadFile(files[n])
		if err != nil {
			return err
		}
		err = s.tx(ctx, func(tx *sql.Tx) error {
			if _, err := tx.ExecContext(ctx, string(script)); err != nil {
				return err
			}
			_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", n+1))
			return err
		})
		if err != nil {
			return fmt.Errorf("running %s: %w", files[n], err)
		}
	}
	return nil
}

// backups are kept for this many days of use.
const backups = 5

// backup copies the database once a day of use, and keeps the last copies.
func (s *Store) backup(ctx context.Context, now time.Time) error {
	dir := filepath.Join(s.dir, "backups")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fault.Wrap(fault.Full, err, "The folder of backups cannot be made.", "Check that the disk has room.")
	}
	name := filepath.Join(dir, now.Format(time.DateOnly)+".db")
	if _, err := os.Stat(name); err == nil {
		return nil
	}
	tmp := name + ".part"
	os.Remove(tmp) //nolint:errcheck // it is mostly not there
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", tmp); err != nil {
		os.Remove(tmp) //nolint:errcheck // as above
		return fmt.Errorf("keeping a backup: %w", err)
	}
	if err := os.Rename(tmp, name); err != nil {
		return fmt.Errorf("keeping a backup: %w", err)
	}
	old, err := filepath.Glob(filepath.Join(dir, "*.db"))
	if err != nil {
		return err
	}
	slices.Sort(old)
	for _, f := range old[:max(0, len(old)-backups)] {
		if err := os.Remove(f); err != nil {
			return fmt.Errorf("removing an old backup: %w", err)
		}
	}
	return nil
}

// eraseBackups removes the copies that still hold what was erased.
func (s *Store) eraseBackups() error {
	old, err := filepath.Glob(filepath.Join(s.dir, "backups", "*.db"))
	if err != nil {
		return err
	}
	for _, f := range old {
		if err := os.Remove(f); err != nil {
			return fmt.Errorf("removing a backup: %w", err)
		}
	}
	return nil
}

// Close waits for what is being written and gives the lock back.
func (s *Store) Close() error {
	var errs []error
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	if s.lock != nil {
		errs = append(errs, s.lock.release())
		s.lock = nil
	}
	return errors.Join(errs...)
}

// tx runs work in one transaction.
func (s *Store) tx(ctx context.Context, work func(*sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return told(err)
	}
	defer tx.Rollback() //nolint:errcheck // after a commit it does nothing
	if err := work(tx); err != nil {
		return told(err)
	}
	return told(tx.Commit())
}

// told turns the database's errors into faults; faults stay as they are.
func told(err error) error {
	var f *fault.Error
	if err == nil || errors.As(err, &f) {
		return err
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return fault.Wrap(fault.Canceled, err, "The work was stopped.", "Nothing was changed.")
	}
	var e *driver.Error
	if errors.As(err, &e) {
		switch e.Code() & 0xff {
		case sqlite3.SQLITE_INTERRUPT:
			return fault.Wrap(fault.Canceled, err, "The work was stopped.", "Nothing was changed.")
		case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
			return fault.Wrap(fault.Busy, err, "The data is in use by another program.", "Wait a moment and try again.")
		case sqlite3.SQLITE_FULL, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM:
			return fault.Wrap(fault.Full, err, "This could not be saved: the disk is full or may not be written.", "Make room on the disk and try again. Everything saved before is safe.")
		case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
			return fault.Wrap(fault.Unreadable, err, "The data file is damaged.", "Copy the newest file of the folder “backups” over "+File+", and start again.")
		}
	}
	return err
}

func micros(t time.Time) int64     { return t.UnixMicro() }
func fromMicros(n int64) time.Time { return time.UnixMicro(n).UTC() }

func notFound(what, hint string) error { return fault.New(fault.NotFound, what, hint) }

// in makes "?,?,?" for n values.
func in(n int) string { return strings.TrimSuffix(strings.Repeat("?,", n), ",") }

// Books is the library.
func (s *Store) Books() store.Books { return books{s} }

// Classes are the classes.
func (s *Store) Classes() store.Classes { return classes{s} }

// Kits are the kits.
func (s *Store) Kits() store.Kits { return kits{s} }

// Plans are wishes and agreed plans.
func (s *Store) Plans() store.Plans { return plans{s} }

// Journal changes values.
func (s *Store) Journal() store.Journal { return journal{s} }

// Bin holds what was deleted.
func (s *Store) Bin() store.Bin { return bin{s} }

// Settings are the program's own.
func (s *Store) Settings() store.Settings { return settings{s} }
