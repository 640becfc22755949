package fonts

import (
	"bytes"
	"testing"

	"github.com/go-text/typesetting/font"
)

// TestFamilies opens each face: it must be a TrueType file of the style it is
// packed as, and the reading face must have small capitals and old-style figures.
func TestFamilies(t *testing.T) {
	families, err := Families()
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range families {
		names = append(names, f.Name)
		for i, data := range [][]byte{f.Roman, f.Italic, f.Bold, f.BoldItalic} {
			face, err := font.ParseTTF(bytes.NewReader(data))
			if err != nil {
				t.Fatalf("%s, face %d: %v", f.Name, i, err)
			}
			about := face.Describe()
			if italic := about.Aspect.Style == font.StyleItalic; italic != (i%2 == 1) || (about.Aspect.Weight >= 600) != (i >= 2) {
				t.Errorf("%s, face %d is %v", f.Name, i, about)
			}
			features := map[string]bool{}
			for _, feat := range face.GSUB.Features {
				features[feat.Tag.String()] = true
			}
			if f.Name == "Literata" && !(features["smcp"] && features["onum"] && features["liga"]) {
				t.Errorf("%s, face %d has only the features %v", f.Name, i, features)
			}
			for _, r := range "Aaé’“—–…½0123456789" {
				if _, ok := face.NominalGlyph(r); !ok {
					t.Errorf("%s, face %d has no %q", f.Name, i, r)
				}
			}
		}
	}
	if len(names) != 3 || names[0] != "Literata" || names[1] != "Andika" || names[2] != "Atkinson Hyperlegible Next" {
		t.Errorf("families are %q", names)
	}
}
