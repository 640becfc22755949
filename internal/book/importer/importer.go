// Package importer is the one door through which a file becomes a book: it
// looks at what the file is, has the right reader read it, and refuses what is
// no English book with a sentence that says what it seems to be and what to do.
//
// Start with [Import]. A book that exists on paper only has another door,
// package paper.
package importer

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/book/epub"
	"bookstead/internal/book/txt"
	"bookstead/internal/fault"
)

// MaxSize is the largest file that is read, in bytes: 64 MB, several times the
// size of a novel with pictures.
const MaxSize = 64 << 20

// Import reads a book from a file of that name and size. Only the file's first
// bytes are read to refuse one that is too large or not a book.
//
// progress may be nil; it is called with what is done of a total, in no unit,
// never falling, and with done == total at the end. Errors are faults: TooLarge,
// Unreadable (not a book, broken, locked, in another language) or Canceled; an
// error of the reader r comes back as it is, wrapped.
//
// The book's ID is made of title and author (book.MakeID), its Source of the
// file. What the readers were unsure of is in Notes.
func Import(ctx context.Context, name string, r io.ReaderAt, size int64, progress func(done, total int)) (*book.Book, error) {
	return Limited(ctx, name, r, size, MaxSize, progress)
}

// Limited is Import with another limit on the file's size in bytes.
func Limited(ctx context.Context, name string, r io.ReaderAt, size, limit int64, progress func(done, total int)) (*book.Book, error) {
	if size == 0 {
		return nil, fault.New(fault.Unreadable, "This file is empty.", "Copy or download it again, or choose another.")
	}
	if size > limit {
		return nil, fault.New(fault.TooLarge, fmt.Sprintf("This file is %s large; a book may have %s.", megabytes(size), megabytes(limit)),
			"Choose an EPUB with fewer or smaller pictures, or the book as plain text.")
	}
	if err := ctx.Err(); err != nil {
		return nil, canceled(err)
	}
	kind, err := sniff(r, size)
	if err != nil {
		return nil, err
	}
	if kind.refusal != nil {
		return nil, kind.refusal
	}
	base := path.Base(strings.ReplaceAll(name, "\\", "/"))
	if !kind.epub && strings.EqualFold(path.Ext(base), ".epub") {
		return nil, fault.New(fault.Unreadable, "This file is called an EPUB, but it is none.",
			"Download or copy the book again. If it is a plain text, let its name end in .txt.")
	}
	// Reading the file whole comes first: the sum is a tenth of the work.
	steps := scale(progress)
	steps(0, 10)
	var b *book.Book
	var sum string
	if kind.epub {
		if sum, err = checksum(ctx, r, size); err != nil {
			return nil, err
		}
		b, err = epub.Read(ctx, r, size, part(steps, 1, 9))
	} else {
		data := make([]byte, size)
		if n, err := r.ReadAt(data, 0); int64(n) < size && !errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("reading %q: %w", base, err)
		} else {
			data = data[:n]
		}
		h := sha256.Sum256(data)
		sum = hex.EncodeToString(h[:])
		b, err = txt.Read(ctx, base, data, part(steps, 1, 9))
	}
	if err != nil {
		return nil, err
	}
	if err := b.Check(); err != nil {
		return nil, fault.Wrap(fault.Internal, fmt.Errorf("checking %q: %w", base, err), "This book could not be brought in, through a fault of Bookstead.", "Please report it, with the name of the file.")
	}
	if b.Title == "" {
		b.Title = strings.TrimSuffix(base, path.Ext(base))
	}
	if err := checkLanguage(b); err != nil {
		return nil, err
	}
	b.ID = book.MakeID(b.Title, b.Author)
	b.Source.File, b.Source.SHA256 = base, sum
	steps(10, 10)
	return b, nil
}

func canceled(err error) error {
	return fault.Wrap(fault.Canceled, err, "Bringing the book in was stopped.", "")
}

// checksum sums the file up piece by piece.
func checksum(ctx context.Context, r io.ReaderAt, size int64) (string, error) {
	h := sha256.New()
	buf := make([]byte, 1<<20)
	for at := int64(0); at < size; {
		if err := ctx.Err(); err != nil {
			return "", canceled(err)
		}
		n, err := r.ReadAt(buf[:min(int64(len(buf)), size-at)], at)
		h.Write(buf[:n])
		at += int64(n)
		if err != nil && at < size {
			return "", fmt.Errorf("reading the file: %w", err)
		}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// scale makes progress reports of tenths finer: done and total in thousandths.
func scale(progress func(done, total int)) func(done, total float64) {
	last := -1
	return func(done, total float64) {
		if n := int(done / total * 1000); progress != nil && n > last {
			last = n
			progress(n, 1000)
		}
	}
}

// part reports a reader's progress as the tenths from lo to lo+n.
func part(steps func(done, total float64), lo, n float64) func(done, total int) {
	return func(done, total int) { steps(lo+n*float64(done)/float64(max(total, 1))*0.99, 10) }
}

// megabytes writes a size for people, in units of a million bytes' near
// relative that file managers show.
func megabytes(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d KB", (n+1023)>>10)
	}
	return fmt.Sprintf("%d MB", (n+1<<20-1)>>20)
}
