package sqlite

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	driver "modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"bookstead/internal/fault"
)

// told turns the database's errors into faults; faults stay as they are, and so
// does what can only be a defect of ours.
func (s *Store) told(ctx context.Context, err error) error {
	var f *fault.Error
	if err == nil || errors.As(err, &f) {
		return err
	}
	if ctx.Err() != nil {
		return fault.Wrap(fault.Canceled, errors.Join(err, ctx.Err()), "The work was stopped.", "Nothing was changed.")
	}
	var e *driver.Error
	if !errors.As(err, &e) {
		return err
	}
	switch e.Code() {
	case sqlite3.SQLITE_IOERR_READ, sqlite3.SQLITE_IOERR_SHORT_READ, sqlite3.SQLITE_IOERR_CORRUPTFS, sqlite3.SQLITE_IOERR_DATA:
		return s.damaged(err)
	}
	switch e.Code() & 0xff {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_PROTOCOL:
		return fault.Wrap(fault.Busy, err, fmt.Sprintf("Another program is using the data in %q.", s.dir), "Wait a moment and try again.")
	case sqlite3.SQLITE_FULL, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN:
		return s.unwritable(err)
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
		return s.damaged(err)
	}
	return err
}

// unwritable is the fault of a disk that is full or may not be written.
func (s *Store) unwritable(err error) error {
	why, hint := "the disk is full, or the folder may not be written", "Make room on the disk, or see whose folder it is, and try again."
	var e *driver.Error
	switch {
	case errors.As(err, &e) && e.Code()&0xff == sqlite3.SQLITE_FULL:
		why, hint = "the disk is full", "Make room on the disk and try again."
	case errors.Is(err, fs.ErrPermission) || e != nil && e.Code()&0xff == sqlite3.SQLITE_READONLY:
		why, hint = "the folder may not be written", "See whose folder it is, or name another with --data DIR."
	}
	return fault.Wrap(fault.Full, err, fmt.Sprintf("This could not be saved in %q: %s.", s.dir, why), hint+" All that was saved before is safe.")
}

// damaged is the fault of a database that cannot be read any more.
func (s *Store) damaged(err error) error {
	hint := fmt.Sprintf("Move the file %q out of this folder, so that it stays for somebody who can save more of it, and start again with an empty library.", File)
	if all, list := s.backups(); list == nil && len(all) > 0 {
		hint = fmt.Sprintf("Stop Bookstead, move the file %q out of this folder and start again: it goes on with the backup of %s.", File, day(all[len(all)-1]))
	}
	return fault.Wrap(fault.Unreadable, err, fmt.Sprintf("The data in %q is damaged.", s.dir), hint)
}

// day is the day in a backup's name.
func day(path string) string {
	name := filepath.Base(path)
	return name[:len(name)-len(filepath.Ext(name))]
}

func notFound(what, hint string) error { return fault.New(fault.NotFound, what, hint) }
