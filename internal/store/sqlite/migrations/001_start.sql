-- Books: every version of a text, one of them current. Deleted things lie in the
-- bin: binned is when, with_kind and with_id what they went in with.
CREATE TABLE book (
  id TEXT PRIMARY KEY, version INTEGER NOT NULL,
  binned INTEGER, with_kind TEXT NOT NULL DEFAULT '', with_id TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE TABLE book_version (
  book TEXT NOT NULL REFERENCES book(id) ON DELETE CASCADE, version INTEGER NOT NULL,
  title TEXT NOT NULL, author TEXT NOT NULL, words INTEGER NOT NULL, chapters INTEGER NOT NULL,
  imported INTEGER NOT NULL, doc TEXT NOT NULL,
  PRIMARY KEY (book, version)
) STRICT;
CREATE TABLE class (
  id TEXT PRIMARY KEY,
  binned INTEGER, with_kind TEXT NOT NULL DEFAULT '', with_id TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE TABLE kit (
  id TEXT PRIMARY KEY, book TEXT NOT NULL REFERENCES book(id), class TEXT NOT NULL REFERENCES class(id), created INTEGER NOT NULL,
  binned INTEGER, with_kind TEXT NOT NULL DEFAULT '', with_id TEXT NOT NULL DEFAULT ''
) STRICT;
-- What was decided: values under keys, and the journal of every step.
CREATE TABLE value (
  kind TEXT NOT NULL, subject TEXT NOT NULL, key TEXT NOT NULL, json TEXT NOT NULL, revision INTEGER NOT NULL,
  PRIMARY KEY (kind, subject, key)
) STRICT, WITHOUT ROWID;
CREATE TABLE step (
  kind TEXT NOT NULL, subject TEXT NOT NULL, number INTEGER NOT NULL,
  label TEXT NOT NULL, at INTEGER NOT NULL, state TEXT NOT NULL, turned INTEGER,
  PRIMARY KEY (kind, subject, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE edit (
  kind TEXT NOT NULL, subject TEXT NOT NULL, number INTEGER NOT NULL, key TEXT NOT NULL,
  before_json TEXT, before_revision INTEGER NOT NULL, after_json TEXT, after_revision INTEGER NOT NULL,
  PRIMARY KEY (kind, subject, number, key)
) STRICT, WITHOUT ROWID;
-- Plans as agreed.
CREATE TABLE agreed (
  class TEXT NOT NULL REFERENCES class(id) ON DELETE CASCADE, sequence INTEGER NOT NULL, agreed INTEGER NOT NULL, doc TEXT NOT NULL,
  PRIMARY KEY (class, sequence)
) STRICT, WITHOUT ROWID;
CREATE TABLE setting (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;
