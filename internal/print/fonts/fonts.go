// Package fonts carries the typefaces of the pages in the binary: Literata for
// reading, Andika for the youngest readers, Atkinson Hyperlegible Next for large
// print. All three are under the SIL Open Font License and are embedded as
// their makers ship them; cmd/printpack packs them. Start with [Families].
package fonts

//go:generate go run bookstead/cmd/printpack -modules ../../../node_modules fonts packed

import (
	"archive/zip"
	"bytes"
	"embed"
	"fmt"
	"io"
	"strings"

	"bookstead/internal/print"
)

//go:embed all:packed
var packed embed.FS

// Families unpacks all typefaces, in about 40 ms. Call it once and keep them.
func Families() ([]print.Family, error) {
	data, err := packed.ReadFile("packed/fonts.zip")
	if err != nil {
		return nil, fmt.Errorf("reading the typefaces (run make generate): %w", err)
	}
	zr, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("opening the typefaces: %w", err)
	}
	var out []print.Family
	for _, f := range zr.File {
		name, face, _ := strings.Cut(strings.TrimSuffix(f.Name, ".ttf"), "/")
		r, err := f.Open()
		if err != nil {
			return nil, fmt.Errorf("opening the typeface %s: %w", f.Name, err)
		}
		ttf, err := io.ReadAll(r)
		if err != nil {
			return nil, fmt.Errorf("reading the typeface %s: %w", f.Name, err)
		}
		if len(out) == 0 || out[len(out)-1].Name != name {
			out = append(out, print.Family{Name: name})
		}
		switch fam := &out[len(out)-1]; face {
		case "Roman":
			fam.Roman = ttf
		case "Italic":
			fam.Italic = ttf
		case "Bold":
			fam.Bold = ttf
		case "BoldItalic":
			fam.BoldItalic = ttf
		default:
			return nil, fmt.Errorf("the typeface %s is of no known style", f.Name)
		}
	}
	return out, nil
}
