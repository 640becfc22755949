package main

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"
)

// faces are the files taken, by the name they get in the archive. SemiBold is
// Literata's bold: beside the regular at text size its Bold is too dark.
var faces = []struct{ name, from string }{
	{"Literata/Roman.ttf", "@expo-google-fonts/literata/400Regular/Literata_400Regular.ttf"},
	{"Literata/Italic.ttf", "@expo-google-fonts/literata/400Regular_Italic/Literata_400Regular_Italic.ttf"},
	{"Literata/Bold.ttf", "@expo-google-fonts/literata/600SemiBold/Literata_600SemiBold.ttf"},
	{"Literata/BoldItalic.ttf", "@expo-google-fonts/literata/600SemiBold_Italic/Literata_600SemiBold_Italic.ttf"},
	{"Andika/Roman.ttf", "@expo-google-fonts/andika/Andika_400Regular.ttf"},
	{"Andika/Italic.ttf", "@expo-google-fonts/andika/Andika_400Regular_Italic.ttf"},
	{"Andika/Bold.ttf", "@expo-google-fonts/andika/Andika_700Bold.ttf"},
	{"Andika/BoldItalic.ttf", "@expo-google-fonts/andika/Andika_700Bold_Italic.ttf"},
	{"Atkinson Hyperlegible Next/Roman.ttf", "@expo-google-fonts/atkinson-hyperlegible-next/400Regular/AtkinsonHyperlegibleNext_400Regular.ttf"},
	{"Atkinson Hyperlegible Next/Italic.ttf", "@expo-google-fonts/atkinson-hyperlegible-next/400Regular_Italic/AtkinsonHyperlegibleNext_400Regular_Italic.ttf"},
	{"Atkinson Hyperlegible Next/Bold.ttf", "@expo-google-fonts/atkinson-hyperlegible-next/700Bold/AtkinsonHyperlegibleNext_700Bold.ttf"},
	{"Atkinson Hyperlegible Next/BoldItalic.ttf", "@expo-google-fonts/atkinson-hyperlegible-next/700Bold_Italic/AtkinsonHyperlegibleNext_700Bold_Italic.ttf"},
}

// packFonts writes the files unchanged into one archive, with a fixed date so
// that the same packages give the same bytes.
func packFonts(modules, out string) error {
	var buf bytes.Buffer
	zw := zip.NewWriter(&buf)
	zw.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestCompression) })
	for _, f := range faces {
		data, err := os.ReadFile(filepath.Join(modules, filepath.FromSlash(f.from)))
		if err != nil {
			return fmt.Errorf("reading the font for %s: %w", f.name, err)
		}
		if !bytes.HasPrefix(data, []byte{0, 1, 0, 0}) {
			return fmt.Errorf("%s is not a TrueType file", f.from)
		}
		w, err := zw.CreateHeader(&zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			return fmt.Errorf("adding %s: %w", f.name, err)
		}
		if _, err := w.Write(data); err != nil {
			return fmt.Errorf("adding %s: %w", f.name, err)
		}
	}
	if err := zw.Close(); err != nil {
		return fmt.Errorf("closing the archive: %w", err)
	}
	return write(out, buf.Bytes())
}

func write(path string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return fmt.Errorf("making a folder for %s: %w", path, err)
	}
	if err := os.WriteFile(path, data, 0o666); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return nil
}
