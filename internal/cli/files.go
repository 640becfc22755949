package cli

import (
	"fmt"
	"os"
	"path/filepath"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

// writeFiles writes the files into a folder, all or none: each is written
// beside its place, and they are moved there when all are on the disk.
func writeFiles(dir string, files []prepare.File) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fault.Wrap(fault.Full, err, fmt.Sprintf("The folder %q cannot be made.", dir), "Choose another folder with --out.")
	}
	beside := make([]string, 0, len(files))
	defer func() {
		for _, tmp := range beside {
			os.Remove(tmp) //nolint:errcheck // those that were moved are gone already
		}
	}()
	for _, f := range files {
		tmp, err := writeBeside(dir, f.Data)
		if tmp != "" {
			beside = append(beside, tmp)
		}
		if err != nil {
			return notWritten(filepath.Join(dir, f.Name), err)
		}
	}
	for i, f := range files {
		path := filepath.Join(dir, f.Name)
		if err := os.Rename(beside[i], path); err != nil {
			return notWritten(path, err)
		}
	}
	return nil
}

func notWritten(path string, err error) error {
	return fault.Wrap(fault.Full, err, fmt.Sprintf("%q could not be written.", path), "Check that the disk has room and that you may write there.")
}

// writeBeside writes a file under a name of its own and returns that name, also
// when it was not written whole.
func writeBeside(dir string, data []byte) (name string, err error) {
	tmp, err := os.CreateTemp(dir, ".bookstead-*")
	if err != nil {
		return "", err
	}
	_, err = tmp.Write(data)
	if e := tmp.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Chmod(tmp.Name(), 0o644)
	}
	return tmp.Name(), err
}

// writeWhole writes one file whole or not at all.
func writeWhole(path string, data []byte) error {
	return writeFiles(filepath.Dir(path), []prepare.File{{Name: filepath.Base(path), Data: data}})
}

// openFile opens a file to read, with faults in plain words.
func openFile(path string) (*os.File, os.FileInfo, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, fault.Wrap(fault.NotFound, err, fmt.Sprintf("There is no file %q that can be read.", path), "Check the name and the folder.")
	}
	st, err := f.Stat()
	if err == nil && st.IsDir() {
		f.Close()
		return nil, nil, fault.New(fault.Unreadable, fmt.Sprintf("%q is a folder.", path), "Give the book's file itself.")
	}
	if err != nil {
		f.Close()
		return nil, nil, fault.Wrap(fault.Unreadable, err, fmt.Sprintf("%q cannot be read.", path), "")
	}
	return f, st, nil
}
