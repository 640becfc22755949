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
	"strings"

	"bookstead/internal/fault"
)

//go:embed migrations/*.sql
var scripts embed.FS

// ours is the application_id of our databases from the second migration on.
const ours = 0x426b5374

// The busy timeout comes first, so that it holds while the others are set. FULL
// synchronisation flushes the log at every commit. secure_delete overwrites what
// is erased.
var (
	writerPragmas = []string{"busy_timeout(5000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)", "secure_delete(1)"}
	readerPragmas = []string{"busy_timeout(5000)", "query_only(1)"}
)

// address is a database's address with its pragmas. It is a URI so that any
// character may stand in the path.
func address(path string, pragmas []string, lock string) string {
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") { // C:/Users/…
		p = "/" + p
	}
	q := url.Values{"_pragma": pragmas, "_txlock": {lock}}
	return (&url.URL{Scheme: "file", Path: p, RawQuery: q.Encode()}).String()
}

// prepareFile sees to it that the database's file is there, readable by its
// owner alone (the log takes its rights from it). A file that is missing where
// backups are comes back from the newest one.
func (s *Store) prepareFile() error {
	_, err := os.Stat(s.path())
	if errors.Is(err, fs.ErrNotExist) {
		err = s.restore()
	}
	if err != nil {
		return s.unwritable(err)
	}
	f, err := os.OpenFile(s.path(), os.O_CREATE|os.O_RDWR, 0o600)
	if err == nil {
		err = f.Close()
	}
	return s.unwritable(err)
}

// migrations are the names of the scripts in their order.
func migrations() []string {
	names, err := fs.Glob(scripts, "migrations/*.sql")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	return names // in order: fs.Glob sorts
}

// version is how many migrations the file has seen, 0 for a new one. Unreadable
// when it has seen more than there are, or is not ours.
func (s *Store) version(ctx context.Context) (int, error) {
	var have, id, things int
	for query, to := range map[string]*int{"PRAGMA user_version": &have, "PRAGMA application_id": &id, "SELECT count(*) FROM sqlite_schema": &things} {
		if err := s.write.QueryRowContext(ctx, query).Scan(to); err != nil {
			return 0, err
		}
	}
	first := have == 1 && id == 0
	empty := have == 0 && id == 0 && things == 0
	if id != ours && !first && !empty {
		return 0, fault.New(fault.Unreadable, fmt.Sprintf("The file %q was not written by Bookstead.", s.path()), "Move it to another place, or name another folder with --data DIR.")
	}
	if have > len(migrations()) {
		return 0, fault.New(fault.Unreadable, fmt.Sprintf("The data in %q was written by a newer Bookstead.", s.dir), "Start that newer program, or name another folder with --data DIR.")
	}
	return have, nil
}

// check reads the whole file, 20 MB in about 12 ms. Unreadable when it is damaged.
func (s *Store) check(ctx context.Context) error {
	var said string
	if err := s.write.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&said); err != nil {
		return err
	}
	if said != "ok" {
		return s.damaged(fmt.Errorf("quick_check: %s", said))
	}
	return nil
}

// migrate runs the migrations that the file has not seen, each in a transaction.
func (s *Store) migrate(ctx context.Context, from int) error {
	names := migrations()
	for n := from; n < len(names); n++ {
		script, err := scripts.ReadFile(names[n])
		if err != nil {
			return fmt.Errorf("reading %s: %w", names[n], err)
		}
		err = s.tx(ctx, func(tx *sql.Tx) error {
			if _, err := tx.ExecContext(ctx, string(script)); err != nil {
				return err
			}
			_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", n+1))
			return err
		})
		if err != nil {
			return fmt.Errorf("running %s: %w", names[n], err)
		}
	}
	return nil
}
