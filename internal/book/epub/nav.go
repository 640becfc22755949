package epub

import "strings"

// entry is a line of the table of contents.
type entry struct {
	title    string
	name     string // the document it leads to
	fragment string
	depth    int
	kids     int // entries directly below it
}

// landmark is what the book says a place is: "bodymatter", "copyright-page".
type landmark struct{ name, fragment, kind string }

// pageRef is a line of the page list.
type pageRef struct{ name, fragment, label string }

// tables are the book's own lists.
type tables struct {
	entries   []entry
	landmarks []landmark
	pages     []pageRef
}

// readTables reads the navigation document, and the NCX where there is none or
// it is empty. Broken lists count as none: the spine still holds the book.
func (a *archive) readTables(p *pack) (t tables) {
	if p.nav != "" {
		if data, err := a.read(p.nav); err == nil {
			if root, err := parse(data); err == nil {
				t.readNav(root, p.nav)
			}
		}
	}
	if len(t.entries) == 0 && p.ncx != "" {
		if data, err := a.read(p.ncx); err == nil {
			t.readNCX(data, p.ncx)
		}
	}
	return t
}

func (t *tables) readNav(n *node, base string) {
	for _, k := range n.kids {
		if k.tag != "nav" {
			t.readNav(k, base)
			continue
		}
		list := k.find("ol")
		switch {
		case list == nil:
		case k.is("landmarks"):
			eachLink(list, 0, func(a *node, _, _ int) {
				if name, frag, ok := resolve(base, a.attr["href"]); ok && len(a.types()) > 0 {
					t.landmarks = append(t.landmarks, landmark{name, frag, a.types()[0]})
				}
			})
		case k.is("page-list", "pagelist"):
			eachLink(list, 0, func(a *node, _, _ int) {
				if name, frag, ok := resolve(base, a.attr["href"]); ok {
					t.pages = append(t.pages, pageRef{name, frag, flat(a.all())})
				}
			})
		case k.is("toc") || len(t.entries) == 0 && len(k.types()) == 0:
			eachLink(list, 0, func(a *node, depth, kids int) {
				e := entry{title: flat(a.all()), depth: depth, kids: kids}
				if href := a.attr["href"]; href != "" {
					e.name, e.fragment, _ = resolve(base, href)
				}
				t.entries = append(t.entries, e)
			})
		}
	}
}

// eachLink calls f for the link or heading of every list item, with its depth
// and the number of items directly below it.
func eachLink(list *node, depth int, f func(a *node, depth, kids int)) {
	for _, li := range list.kids {
		if li.tag != "li" || depth > 20 {
			continue
		}
		sub := li.find("ol")
		kids := 0
		if sub != nil {
			for _, k := range sub.kids {
				if k.tag == "li" {
					kids++
				}
			}
		}
		for _, k := range li.kids {
			if k.tag == "a" || k.tag == "span" {
				f(k, depth, kids)
				break
			}
			if k.tag != "" && k.tag != "ol" {
				if a := k.find("a"); a != nil {
					f(a, depth, kids)
					break
				}
			}
		}
		if sub != nil {
			eachLink(sub, depth+1, f)
		}
	}
}

type ncxPoint struct {
	Label string `xml:"navLabel>text"`
	Src   struct {
		Src string `xml:"src,attr"`
	} `xml:"content"`
	Points []ncxPoint `xml:"navPoint"`
}

func (t *tables) readNCX(data []byte, base string) {
	var n struct {
		Points []ncxPoint `xml:"navMap>navPoint"`
		Pages  []struct {
			Value string `xml:"value,attr"`
			Label string `xml:"navLabel>text"`
			Src   struct {
				Src string `xml:"src,attr"`
			} `xml:"content"`
		} `xml:"pageList>pageTarget"`
	}
	if unmarshal(data, &n) != nil {
		return
	}
	var walk func(ps []ncxPoint, depth int)
	walk = func(ps []ncxPoint, depth int) {
		for _, p := range ps {
			e := entry{title: flat(p.Label), depth: depth, kids: len(p.Points)}
			e.name, e.fragment, _ = resolve(base, p.Src.Src)
			t.entries = append(t.entries, e)
			walk(p.Points, depth+1)
		}
	}
	walk(n.Points, 0)
	for _, p := range n.Pages {
		label := flat(p.Label)
		if label == "" {
			label = p.Value
		}
		if name, frag, ok := resolve(base, p.Src.Src); ok && label != "" {
			t.pages = append(t.pages, pageRef{name, frag, label})
		}
	}
}

// flat puts text on one line without invisible characters.
func flat(s string) string { return strings.Join(strings.Fields(visible(s)), " ") }
