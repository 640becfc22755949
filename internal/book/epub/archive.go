package epub

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"net/url"
	"path"
	"strings"

	"bookstead/internal/fault"
)

// Limits on the archive. A novel with pictures has some hundred entries and
// unpacks to less than twice its size; these leave room for far larger books
// and none for a file made to fill the memory.
const (
	maxEntries  = 20_000
	maxUnpacked = 1 << 30  // all entries together, as the archive states it
	maxText     = 24 << 20 // one entry that is read
	maxTextAll  = 96 << 20 // all entries that are read
	maxRatio    = 150      // unpacked to packed, of entries above ratioFrom
	ratioFrom   = 1 << 20
)

const (
	hintAgain = "Download or copy the book again; if it still does not open, the file itself is broken."
	hintOther = "Choose another file of this book, or bring it in as plain text."
)

// archive is an opened EPUB container whose limits were checked.
type archive struct {
	files  map[string]*zip.File
	folded map[string]*zip.File // by name in small letters
	budget int64
}

func openArchive(r io.ReaderAt, size int64) (*archive, error) {
	zr, err := zip.NewReader(r, size)
	if err != nil {
		var head [4]byte
		if n, _ := r.ReadAt(head[:], 0); n == 4 && string(head[:2]) == "PK" {
			return nil, fault.Wrap(fault.Unreadable, fmt.Errorf("reading the archive: %w", err), "This EPUB is broken: its end is missing or damaged.", hintAgain)
		}
		return nil, fault.Wrap(fault.Unreadable, fmt.Errorf("reading the archive: %w", err), "This file is not an EPUB.", "Bring in an EPUB or a plain text file.")
	}
	if len(zr.File) > maxEntries {
		return nil, bomb(fmt.Sprintf("%d entries", len(zr.File)))
	}
	a := &archive{files: map[string]*zip.File{}, folded: map[string]*zip.File{}, budget: maxTextAll}
	var total uint64
	for _, f := range zr.File {
		if climbs(f.Name) {
			return nil, fault.Wrap(fault.Unreadable, fmt.Errorf("entry %q", f.Name), "This file was not opened: it tries to reach outside of itself, which no book does.",
				"Delete it, and get the book from somewhere you trust.")
		}
		if f.UncompressedSize64 > ratioFrom && f.UncompressedSize64/max(f.CompressedSize64, 1) > maxRatio {
			return nil, bomb(fmt.Sprintf("entry %q unpacks from %d to %d bytes", f.Name, f.CompressedSize64, f.UncompressedSize64))
		}
		if total += f.UncompressedSize64; total > maxUnpacked || f.UncompressedSize64 > maxUnpacked {
			return nil, bomb("unpacks to more than a gigabyte")
		}
		name := path.Clean(f.Name)
		if _, twice := a.files[name]; !twice {
			a.files[name] = f
			a.folded[strings.ToLower(name)] = f
		}
	}
	return a, nil
}

func bomb(why string) error {
	return fault.Wrap(fault.TooLarge, errors.New(why), "This file was not opened: unpacked it would be far larger than any book.", "Delete it, and get the book from somewhere you trust.")
}

// climbs reports whether a name leads out of the archive.
func climbs(name string) bool {
	name = strings.ReplaceAll(name, "\\", "/")
	if strings.HasPrefix(name, "/") || len(name) > 1 && name[1] == ':' {
		return true
	}
	clean := path.Clean(name)
	return clean == ".." || strings.HasPrefix(clean, "../") || strings.ContainsRune(name, 0)
}

func (a *archive) find(name string) *zip.File {
	name = path.Clean(name)
	if f := a.files[name]; f != nil {
		return f
	}
	return a.folded[strings.ToLower(name)]
}

func (a *archive) has(name string) bool { return a.find(name) != nil }

// errMissing is the cause when the archive lacks an entry.
var errMissing = errors.New("not in the archive")

// read unpacks one entry, within the limits whatever the archive states.
func (a *archive) read(name string) ([]byte, error) {
	f := a.find(name)
	if f == nil {
		return nil, fmt.Errorf("reading %q: %w", name, errMissing)
	}
	if f.Flags&1 != 0 {
		return nil, locked("the archive is encrypted")
	}
	rc, err := f.Open()
	if err != nil {
		return nil, fault.Wrap(fault.Unreadable, fmt.Errorf("reading %q: %w", name, err), "A part of this EPUB cannot be read: the file is damaged.", hintAgain)
	}
	defer rc.Close()
	limit := min(a.budget, maxText)
	data, err := io.ReadAll(io.LimitReader(rc, limit+1))
	if int64(len(data)) > limit {
		return nil, bomb(fmt.Sprintf("entry %q is longer than %d bytes", name, limit))
	}
	if err != nil {
		return nil, fault.Wrap(fault.Unreadable, fmt.Errorf("reading %q: %w", name, err), "A part of this EPUB cannot be read: the file is damaged.", hintAgain)
	}
	a.budget -= int64(len(data))
	return data, nil
}

// resolve turns a link inside the entry base into an entry's name and a
// fragment. ok is false for links to the web and links that lead out of the
// archive.
func resolve(base, href string) (name, fragment string, ok bool) {
	href = strings.TrimSpace(href)
	u, err := url.Parse(href)
	if err != nil { // a stray percent sign or space
		href, fragment, _ = strings.Cut(href, "#")
		u = &url.URL{Path: href, Fragment: fragment}
	}
	if u.IsAbs() || u.Host != "" {
		return "", "", false
	}
	if u.Path == "" {
		return base, u.Fragment, true
	}
	name = path.Join(path.Dir(base), u.Path)
	if strings.HasPrefix(u.Path, "/") {
		name = path.Clean(u.Path[1:])
	}
	return name, u.Fragment, !climbs(name)
}
