package layout

import (
	"unicode"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	ot "github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"

	"bookstead/internal/print"
)

// shaper wraps the OpenType shaper with one go-text face for each font, as
// those are not for several goroutines.
type shaper struct {
	harfbuzz shaping.HarfbuzzShaper
	faces    map[*face]*font.Face
}

type shapeKey struct {
	face *face
	feat feature
	text string
}

// shaped is a piece of text as glyphs, in font units.
type shaped struct {
	glyphs []print.Glyph // Advance, X and Y in font units
	width  print.Length
	// upto[i] is the width of the first i runes. Inside a ligature it is
	// divided evenly, as for a text cursor.
	upto []print.Length
}

// shape sets a piece of text that has no spaces to stretch. The result is kept
// and must not be changed.
func (s *setter) shape(f *face, feat feature, text string) *shaped {
	if !f.onum {
		feat &^= oldStyle
	}
	if !f.smcp {
		feat &^= smallCaps
	}
	if !f.tnum {
		feat &^= tabular
	}
	key := shapeKey{f, feat, text}
	if sh, ok := s.shapes[key]; ok {
		return sh
	}
	sh := s.shaper.shape(f, feat, []rune(text))
	s.shapes[key] = sh
	return sh
}

func (h *shaper) shape(f *face, feat feature, text []rune) *shaped {
	if h.faces == nil {
		h.faces = map[*face]*font.Face{}
	}
	face, ok := h.faces[f]
	if !ok {
		face = font.NewFace(f.font)
		h.faces[f] = face
	}
	var features []shaping.FontFeature
	if feat&smallCaps != 0 {
		features = append(features, shaping.FontFeature{Tag: ot.MustNewTag("smcp"), Value: 1})
	}
	if feat&oldStyle != 0 {
		features = append(features, shaping.FontFeature{Tag: ot.MustNewTag("onum"), Value: 1})
	}
	if feat&tabular != 0 {
		features = append(features, shaping.FontFeature{Tag: ot.MustNewTag("tnum"), Value: 1})
	}
	out := h.harfbuzz.ShapeNoExtents(shaping.Input{
		Text: text, RunEnd: len(text), Direction: di.DirectionLTR, Face: face, FontFeatures: features,
		Size: fixed.I(f.upem), Script: scriptOf(text), Language: language.NewLanguage("en"),
	})
	sh := &shaped{glyphs: make([]print.Glyph, len(out.Glyphs)), upto: make([]print.Length, len(text)+1)}
	for i := 0; i < len(out.Glyphs); {
		cluster, runes := out.Glyphs[i].TextIndex(), out.Glyphs[i].RunesCount()
		from := sh.width
		each := out.Glyphs[i].GlyphsCount() == runes
		for first := i; i < len(out.Glyphs) && out.Glyphs[i].TextIndex() == cluster; i++ {
			g := out.Glyphs[i]
			sh.glyphs[i] = print.Glyph{ID: uint16(g.GlyphID), Advance: print.Length(g.Advance.Round()),
				X: print.Length(g.XOffset.Round()), Y: print.Length(g.YOffset.Round())}
			if each { // a letter and its accent, say
				sh.glyphs[i].Text = string(text[cluster+i-first])
			} else if i == first {
				sh.glyphs[i].Text = string(text[cluster : cluster+runes])
			}
			sh.width += sh.glyphs[i].Advance
		}
		for k := 1; k <= runes; k++ {
			sh.upto[cluster+k] = from + (sh.width-from)*print.Length(k)/print.Length(runes)
		}
	}
	return sh
}

// scriptOf is the script of the first letter that has one.
func scriptOf(text []rune) language.Script {
	for _, r := range text {
		if unicode.IsLetter(r) {
			return language.LookupScript(r)
		}
	}
	return language.Latin
}
