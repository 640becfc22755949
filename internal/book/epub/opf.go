package epub

import (
	"bytes"
	"encoding/xml"
	"io"
	"path"
	"sort"
	"strings"

	"bookstead/internal/fault"
)

// pack is what the package document says.
type pack struct {
	dir      string // of the package document, the base of its links
	name     string
	version  string
	title    string
	author   string
	language string
	subjects []string
	spine    []spineItem
	nav      string // the EPUB 3 navigation document, "" if none
	ncx      string // the EPUB 2 table, "" if none
	styles   []string
	guide    map[string]string // entry name, with "#fragment", to what the EPUB 2 guide calls it
}

type spineItem struct {
	name   string
	linear bool
}

type opfXML struct {
	Version  string `xml:"version,attr"`
	Metadata struct {
		Titles   []opfText `xml:"title"`
		Creators []opfText `xml:"creator"`
		Langs    []string  `xml:"language"`
		Subjects []string  `xml:"subject"`
		Metas    []opfMeta `xml:"meta"`
		Inner    struct {  // OEB 1 wrapped the Dublin Core
			Titles   []opfText `xml:"title"`
			Creators []opfText `xml:"creator"`
			Langs    []string  `xml:"language"`
		} `xml:"dc-metadata"`
	} `xml:"metadata"`
	Items []struct {
		ID    string `xml:"id,attr"`
		Href  string `xml:"href,attr"`
		Media string `xml:"media-type,attr"`
		Props string `xml:"properties,attr"`
	} `xml:"manifest>item"`
	Spine struct {
		Toc  string `xml:"toc,attr"`
		Refs []struct {
			ID     string `xml:"idref,attr"`
			Linear string `xml:"linear,attr"`
		} `xml:"itemref"`
	} `xml:"spine"`
	Guide []struct {
		Type string `xml:"type,attr"`
		Href string `xml:"href,attr"`
	} `xml:"guide>reference"`
}

type opfText struct {
	ID   string `xml:"id,attr"`
	Role string `xml:"role,attr"`
	Text string `xml:",chardata"`
}

type opfMeta struct {
	Refines  string `xml:"refines,attr"`
	Property string `xml:"property,attr"`
	Text     string `xml:",chardata"`
}

// unmarshal reads XML leniently: HTML entities are known, small faults forgiven.
func unmarshal(data []byte, to any) error {
	d := xml.NewDecoder(bytes.NewReader(toUTF8(data)))
	d.Strict, d.Entity = false, xml.HTMLEntity
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	return d.Decode(to)
}

// findPackage returns the name of the package document: from the container, or
// the only one there is.
func (a *archive) findPackage() (string, error) {
	var c struct {
		Roots []struct {
			Path string `xml:"full-path,attr"`
		} `xml:"rootfiles>rootfile"`
	}
	if data, err := a.read("META-INF/container.xml"); err == nil && unmarshal(data, &c) == nil {
		for _, r := range c.Roots {
			if climbs(r.Path) {
				return "", fault.New(fault.Unreadable, "This file was not opened: it tries to reach outside of itself, which no book does.", "Delete it, and get the book from somewhere you trust.")
			}
			if a.has(r.Path) {
				return r.Path, nil
			}
		}
	}
	var found []string
	for name := range a.files {
		if strings.HasSuffix(strings.ToLower(name), ".opf") {
			found = append(found, name)
		}
	}
	sort.Strings(found)
	if len(found) == 0 {
		return "", fault.New(fault.Unreadable, "This archive holds no EPUB book: the list of its chapters is missing.", hintOther)
	}
	return found[0], nil
}

func (a *archive) readPackage(name string) (*pack, error) {
	data, err := a.read(name)
	if err != nil {
		return nil, err
	}
	var o opfXML
	if err := unmarshal(data, &o); err != nil {
		return nil, fault.Wrap(fault.Unreadable, err, "This EPUB is damaged: the list of its chapters cannot be read.", hintAgain)
	}
	p := &pack{dir: path.Dir(name), name: name, version: o.Version, guide: map[string]string{}, subjects: o.Metadata.Subjects}
	m := o.Metadata
	p.title = mainTitle(append(m.Titles, m.Inner.Titles...), m.Metas)
	p.author = authors(append(m.Creators, m.Inner.Creators...), m.Metas)
	for _, l := range append(m.Langs, m.Inner.Langs...) {
		if l = strings.TrimSpace(l); l != "" {
			p.language = l
			break
		}
	}
	byID := map[string]string{}
	for _, it := range o.Items {
		n, _, ok := resolve(name, it.Href)
		if !ok {
			continue
		}
		byID[it.ID] = n
		props := strings.Fields(it.Props)
		switch {
		case contains(props, "nav"):
			p.nav = n
		case it.Media == "application/x-dtbncx+xml" || it.ID == o.Spine.Toc && it.ID != "":
			p.ncx = n
		case it.Media == "text/css":
			p.styles = append(p.styles, n)
		}
	}
	for _, r := range o.Spine.Refs {
		if n := byID[r.ID]; n != "" {
			p.spine = append(p.spine, spineItem{n, !strings.EqualFold(r.Linear, "no")})
		}
	}
	for _, g := range o.Guide {
		if n, frag, ok := resolve(name, g.Href); ok {
			if frag != "" {
				n += "#" + frag
			}
			p.guide[n] = strings.ToLower(g.Type)
		}
	}
	if len(p.spine) == 0 {
		return nil, fault.New(fault.Unreadable, "This EPUB names no chapters.", hintOther)
	}
	return p, nil
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// refined returns what a meta element says about the element with that id.
func refined(metas []opfMeta, id, property string) []string {
	var out []string
	for _, m := range metas {
		if id != "" && m.Refines == "#"+id && m.Property == property {
			out = append(out, strings.TrimSpace(m.Text))
		}
	}
	return out
}

func mainTitle(titles []opfText, metas []opfMeta) string {
	first := ""
	for _, t := range titles {
		text := strings.Join(strings.Fields(t.Text), " ")
		if contains(refined(metas, t.ID, "title-type"), "main") {
			return text
		}
		if first == "" {
			first = text
		}
	}
	return first
}

func authors(creators []opfText, metas []opfMeta) string {
	var out []string
	for _, c := range creators {
		roles := append(refined(metas, c.ID, "role"), strings.Fields(c.Role)...)
		name := strings.Join(strings.Fields(c.Text), " ")
		if name != "" && (len(roles) == 0 || contains(roles, "aut")) && !contains(out, name) {
			out = append(out, name)
		}
	}
	switch n := len(out); n {
	case 0:
		return ""
	case 1:
		return out[0]
	default:
		return strings.Join(out[:n-1], ", ") + " and " + out[n-1]
	}
}
