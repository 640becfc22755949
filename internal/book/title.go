package book

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// namedKinds are headings of whole divisions that are no chapters (common
// practice, no source), by their letters alone.
var namedKinds = map[string]ChapterKind{
	"contents": Front, "table of contents": Front, "the contents": Front, "list of chapters": Front, "chapters": Front,
	"illustrations": Front, "list of illustrations": Front, "full page illustrations": Front, "frontispiece": Front,
	"title page": Front, "titlepage": Front, "half title": Front, "half title page": Front, "halftitle": Front, "halftitle page": Front,
	"cover": Front, "front cover": Front, "copyright": Front, "copyright page": Front, "copyright notice": Front, "imprint": Front,
	"dedication": Front, "epigraph": Front, "map": Front, "maps": Front, "cast of characters": Front, "series page": Front,
	"by the same author": Front, "list of maps": Front, "frontmatter": Front, "front matter": Front,

	"introduction": Introduction, "introductory": Introduction, "preface": Introduction, "foreword": Introduction,
	"prologue": Introduction, "prelude": Introduction, "proem": Introduction, "to the reader": Introduction,
	"authors preface": Introduction, "authors introduction": Introduction, "preamble": Introduction,

	"conclusion": Conclusion, "epilogue": Conclusion, "postscript": Conclusion, "coda": Conclusion, "finale": Conclusion,
	"lenvoi": Conclusion, "envoi": Conclusion,

	"afterword": Back, "appendix": Back, "notes": Back, "endnotes": Back, "footnotes": Back, "glossary": Back, "index": Back,
	"bibliography": Back, "acknowledgments": Back, "acknowledgements": Back, "about the author": Back, "about the authors": Back,
	"about the illustrator": Back, "about the publisher": Back, "colophon": Back, "uncopyright": Back, "license": Back, "licence": Back,
	"discussion questions": Back, "reading group guide": Back, "questions for discussion": Back, "credits": Back, "back cover": Back,
	"errata": Back, "sources": Back, "advertisement": Back, "newsletter": Back, "teaser": Back, "landmarks": Back,
	"transcribers note": Back, "transcribers notes": Back, "list of endnotes": Back, "backmatter": Back, "back matter": Back,
}

// namedFronts begin such headings: "Preface to the second edition".
var namedFronts = []struct {
	front string
	kind  ChapterKind
}{
	{"also by ", Front}, {"other books by ", Front}, {"books by ", Front}, {"praise for ", Front}, {"list of ", Front},
	{"introduction to ", Introduction}, {"introduction by ", Introduction}, {"preface to ", Introduction}, {"preface by ", Introduction},
	{"foreword by ", Introduction}, {"foreword to ", Introduction},
	{"appendix ", Back}, {"about the author", Back}, {"excerpt from ", Back}, {"an excerpt from ", Back}, {"a sneak peek", Back},
	{"sneak peek", Back}, {"questions for ", Back}, {"the full project gutenberg", Back}, {"more books ", Back}, {"a note on the t", Back},
	{"a preview of ", Back}, {"transcribers ", Back},
}

// KindOfTitle tells what a heading such as "Preface" or "About the Author"
// names. ok is false for the title of a chapter or a story. "Author's Note" is
// not told apart here: it is an introduction before the story and back matter
// behind it.
func KindOfTitle(title string) (k ChapterKind, ok bool) {
	t := Letters(title)
	if k, ok = namedKinds[t]; ok {
		return k, true
	}
	for _, f := range namedFronts {
		if strings.HasPrefix(t, f.front) || t == strings.TrimSpace(f.front) {
			return f.kind, true
		}
	}
	return "", false
}

// Letters reduces a heading to its letters and digits in small letters, words
// one space apart and apostrophes left out, so that two spellings of one
// heading compare equal.
func Letters(s string) string {
	var sb strings.Builder
	gap := false
	for _, r := range s {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if gap && sb.Len() > 0 {
				sb.WriteByte(' ')
			}
			gap = false
			sb.WriteRune(unicode.ToLower(r))
		case r == '\'' || r == '’' || r == '_':
		default:
			gap = true
		}
	}
	return sb.String()
}

var keepStop = map[string]bool{
	"mr": true, "mrs": true, "ms": true, "dr": true, "st": true, "co": true, "jr": true, "sr": true, "esq": true,
	"ltd": true, "inc": true, "etc": true, "no": true, "capt": true, "col": true, "gen": true, "rev": true, "hon": true,
}

// TidyTitle joins a title's lines by one space and drops a single full stop at
// its end, which older printers set, but not that of an abbreviation ("P.O.").
func TidyTitle(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if !strings.HasSuffix(s, ".") || strings.HasSuffix(s, "..") {
		return s
	}
	bare := s[:len(s)-1]
	last := bare[strings.LastIndexByte(bare, ' ')+1:]
	if strings.Contains(last, ".") || utf8.RuneCountInString(last) < 2 || keepStop[strings.ToLower(last)] {
		return s
	}
	return bare
}

// IsSceneMark reports whether a line is only a mark between scenes: stars,
// dashes, bullets and other signs, or a single one of them, with spaces.
func IsSceneMark(line string) bool {
	marks := 0
	for _, r := range line {
		switch {
		case unicode.IsSpace(r):
		case strings.ContainsRune("*•·∙●○◦⁂⁎✻✽❦❧☙~∼#–—―-_=+.◆◇■□§×†‡♦♥★☆", r) || r == '\u2055' || r == '\u2766':
			marks++
		default:
			return false
		}
	}
	t := strings.TrimSpace(line)
	if marks == 1 {
		return strings.ContainsAny(t, "*•⁂✻✽❦❧☙~#◆◇■§★☆♦")
	}
	// "..." and "--" are speech broken off, not a mark.
	return marks > 1 && strings.Trim(t, ". \u00a0") != "" && t != "--"
}
