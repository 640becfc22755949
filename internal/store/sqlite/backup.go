package sqlite

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// A backup is a whole database named by its day, backups/2026-09-01.db, made
// when the store is opened for the first time on a day, after the file was
// checked, and before the file is changed by a newer program. The last five are
// kept. A program that finds no database beside its backups goes on with the
// newest one: so a teacher goes back by moving a damaged file away.

// kept is how many backups are kept.
const kept = 5

func (s *Store) backupDir() string { return filepath.Join(s.dir, "backups") }

func (s *Store) backupFile() string { return filepath.Join(s.backupDir(), s.today+".db") }

// backups are the paths of all backups, the oldest first.
func (s *Store) backups() ([]string, error) {
	entries, err := os.ReadDir(s.backupDir()) // sorted by name, and so by day
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("listing backups: %w", err)
	}
	var out []string
	for _, e := range entries {
		if filepath.Ext(e.Name()) == ".db" {
			out = append(out, filepath.Join(s.backupDir(), e.Name()))
		}
	}
	return out, nil
}

// backupDue reports whether today has no backup yet.
func (s *Store) backupDue() (bool, error) {
	_, err := os.Stat(s.backupFile())
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return false, s.unwritable(err)
	}
	return err != nil, nil
}

// backup makes today's backup anew and removes those too old. It comes into
// place whole or not at all.
func (s *Store) backup(ctx context.Context) (err error) {
	if err := os.MkdirAll(s.backupDir(), 0o700); err != nil {
		return s.unwritable(err)
	}
	part := s.backupFile() + ".part"
	defer os.Remove(part) //nolint:errcheck // mostly it has its name by then
	// VACUUM INTO fills an empty file that is there, and leaves it its rights.
	f, err := os.OpenFile(part, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err == nil {
		err = f.Close()
	}
	if err != nil {
		return s.unwritable(err)
	}
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		return fmt.Errorf("writing a backup: %w", err)
	}
	if err := os.Rename(part, s.backupFile()); err != nil {
		return s.unwritable(err)
	}
	all, err := s.backups()
	if err != nil {
		return err
	}
	return remove(all[:max(0, len(all)-kept)])
}

// remove removes files.
func remove(paths []string) error {
	var errs []error
	for _, p := range paths {
		errs = append(errs, os.Remove(p))
	}
	return errors.Join(errs...)
}

// restore copies the newest backup, if there is one, to where the database was.
// A log without its database is of no use and would spoil the copy.
func (s *Store) restore() error {
	for _, end := range []string{"-wal", "-shm"} {
		if err := os.Remove(s.path() + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("removing a log without its database: %w", err)
		}
	}
	all, err := s.backups()
	if err != nil || len(all) == 0 {
		return err
	}
	part := s.path() + ".part"
	defer os.Remove(part) //nolint:errcheck // mostly it has its name by then
	if err := copyFile(part, all[len(all)-1]); err != nil {
		return fmt.Errorf("going back to a backup: %w", err)
	}
	return os.Rename(part, s.path())
}

func copyFile(to, from string) (err error) {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close() //nolint:errcheck // it was only read
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err == nil {
		err = out.Sync()
	}
	return errors.Join(err, out.Close())
}
