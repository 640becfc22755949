// Package sqlite keeps everything in one SQLite file, through a driver without
// C code.
//
// In the data folder lie the database ([File]), its log while it is open, a lock
// that keeps a second program out, and the folder backups with a whole copy of
// the database for each of the last days of use. All are readable by their owner
// alone. One connection writes, many read; the pragmas stand in the address, so
// that every connection has them. What a method has acknowledged is on the disk:
// a program killed at any moment, or a disk that fills, loses nothing of it.
// Times are microseconds since 1970 in UTC.
//
// Start with [Open]; backup.go tells how copies are kept and how they come back.
package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"bookstead/internal/fault"
	"bookstead/internal/store"
)

// File is the database's name in the data folder.
const File = "bookstead.db"

// Store is the store in one file.
type Store struct {
	dir   string
	today string  // the day of opening, which names the backup
	write *sql.DB // one connection
	read  *sql.DB
	lock  *lock

	work sync.RWMutex // held for reading by each piece of work, for writing by Close
}

var _ store.Store = (*Store)(nil)

// Open opens the store in a folder, which is made for its owner alone when it is
// not there. now dates the backup. Faults: Busy when another program has the
// folder open, Full when it can't be written, Unreadable when the database is
// damaged, of a newer program, or not ours.
func Open(ctx context.Context, dir string, now time.Time) (*Store, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("finding the data folder: %w", err)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fault.Wrap(fault.Full, err, fmt.Sprintf("The data folder %q cannot be made.", dir), "Name another folder with --data DIR.")
	}
	l, err := takeLock(filepath.Join(dir, "lock"))
	if errors.Is(err, errHeld) {
		return nil, fault.Wrap(fault.Busy, err, fmt.Sprintf("Another Bookstead is using the data folder %q.", dir), "Use the one that is open, or stop it first.")
	}
	s := &Store{dir: dir, today: now.Format(time.DateOnly), lock: l}
	if err != nil {
		return nil, s.unwritable(err)
	}
	if err := s.open(ctx); err != nil {
		s.Close() //nolint:errcheck // the first error is the one to tell
		return nil, s.told(ctx, err)
	}
	return s, nil
}

func (s *Store) open(ctx context.Context) error {
	err := s.prepareFile()
	if err != nil {
		return err
	}
	if s.write, err = sql.Open("sqlite", address(s.path(), writerPragmas, "immediate")); err != nil {
		return fmt.Errorf("opening the writer: %w", err)
	}
	s.write.SetMaxOpenConns(1)
	if s.read, err = sql.Open("sqlite", address(s.path(), readerPragmas, "deferred")); err != nil {
		return fmt.Errorf("opening the readers: %w", err)
	}
	s.read.SetMaxOpenConns(8)
	s.read.SetMaxIdleConns(8)
	from, err := s.version(ctx)
	if err != nil {
		return err
	}
	if from == 0 {
		return s.migrate(ctx, from) // a new file: nothing to check or to copy
	}
	if err := s.check(ctx); err != nil {
		return err
	}
	due, err := s.backupDue()
	if err != nil {
		return err
	}
	if old := from < len(migrations()); due || old {
		// A full disk does not keep a teacher from reading: the copy is made when
		// there is room again. It does keep the file from being migrated.
		if err := s.backup(ctx); err != nil && (old || !fault.Is(s.told(ctx, err), fault.Full)) {
			return err
		}
	}
	return s.migrate(ctx, from)
}

func (s *Store) path() string { return filepath.Join(s.dir, File) }

// Close waits for what is being written and gives the lock back. All that it
// does may be done twice.
func (s *Store) Close() error {
	s.work.Lock()
	defer s.work.Unlock()
	var errs []error
	// The writer goes last: it puts the log into the file and removes it.
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	return errors.Join(append(errs, s.lock.release())...)
}

// tx runs work that writes in one transaction.
func (s *Store) tx(ctx context.Context, work func(*sql.Tx) error) error {
	return s.run(ctx, s.write, nil, work)
}

// view runs work that reads in one transaction, so that all it sees belongs
// together.
func (s *Store) view(ctx context.Context, work func(*sql.Tx) error) error {
	return s.run(ctx, s.read, &sql.TxOptions{ReadOnly: true}, work)
}

func (s *Store) run(ctx context.Context, db *sql.DB, opts *sql.TxOptions, work func(*sql.Tx) error) error {
	s.work.RLock()
	defer s.work.RUnlock()
	tx, err := db.BeginTx(ctx, opts)
	if err != nil {
		return s.told(ctx, err)
	}
	defer tx.Rollback() //nolint:errcheck // after a commit it does nothing
	if err := work(tx); err != nil {
		return s.told(ctx, err)
	}
	return s.told(ctx, tx.Commit())
}

// each calls scan for every row of a query.
func each(ctx context.Context, tx *sql.Tx, scan func(*sql.Rows) error, query string, args ...any) error {
	rows, err := tx.QueryContext(ctx, query, args...)
	if err != nil {
		return err
	}
	defer rows.Close() //nolint:errcheck // rows.Err tells
	for rows.Next() {
		if err := scan(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

func micros(t time.Time) int64     { return t.UnixMicro() }
func fromMicros(n int64) time.Time { return time.UnixMicro(n).UTC() }

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
