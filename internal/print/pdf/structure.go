package pdf

import (
	"fmt"
	"sort"
	"strings"

	"bookstead/internal/print"
)

// piece is a marked piece of content on a page; order counts all pieces.
type piece struct{ page, mcid, order int }

// structure is the tree of the nodes that the edition shows.
type structure struct {
	frames *print.Frames
	pieces [][]piece // by node
	kids   [][]int   // by node, in order
	first  []int     // by node: the order of the earliest piece in it, -1 for none
	refs   []ref     // by node, 0 when left out
}

// newStructure sorts the pieces of all pages to their nodes. A node without
// content is left out, but cells stay, so that tables keep their shape.
func newStructure(f *print.Frames, pages [][]int) *structure {
	n := len(f.Nodes)
	s := &structure{frames: f, pieces: make([][]piece, n), kids: make([][]int, n), first: make([]int, n), refs: make([]ref, n)}
	for i := range s.first {
		s.first[i] = -1
	}
	order := 0
	for p, nodes := range pages {
		for mcid, node := range nodes {
			s.pieces[node] = append(s.pieces[node], piece{p, mcid, order})
			if s.first[node] < 0 {
				s.first[node] = order
			}
			order++
		}
	}
	live := make([]bool, n)
	row := make([]bool, n)
	for i := n - 1; i > 0; i-- { // children stand behind their parents
		node := f.Nodes[i]
		cell := node.Tag == print.TagCell || node.Tag == print.TagHead
		if live[i] = live[i] || s.first[i] >= 0; live[i] {
			live[node.Parent] = true
			if a := s.first[node.Parent]; a < 0 || s.first[i] < a {
				s.first[node.Parent] = s.first[i]
			}
		} else if cell {
			row[i] = true
		}
	}
	live[0] = true
	for i := 1; i < n; i++ {
		parent := f.Nodes[i].Parent
		if live[i] || row[i] && live[parent] {
			live[i] = true
			s.kids[parent] = append(s.kids[parent], i)
		}
	}
	return s
}

// write puts the tree into the file and returns its root. Pages are the page
// objects.
func (s *structure) write(f *file, pages []ref, byPage [][]int) ref {
	root := f.reserve()
	s.reserve(f, 0)
	s.element(f, 0, root, pages)
	var nums strings.Builder
	for p, nodes := range byPage {
		if len(nodes) == 0 {
			continue
		}
		var refs []string
		for _, node := range nodes {
			refs = append(refs, s.refs[node].String())
		}
		fmt.Fprintf(&nums, "%d %v ", p, f.add("["+strings.Join(refs, " ")+"]"))
	}
	parents := f.add("<</Nums [" + nums.String() + "]>>")
	f.put(root, fmt.Sprintf("<</Type /StructTreeRoot /K %v /ParentTree %v /ParentTreeNextKey %d /RoleMap <<%s /P %s /P %s /Span>>>>",
		s.refs[0], parents, len(byPage), name(string(print.TagAnswer)), name(string(print.TagMark)), name(string(print.TagFill))))
	return root
}

func (s *structure) reserve(f *file, node int) {
	s.refs[node] = f.reserve()
	for _, k := range s.kids[node] {
		s.reserve(f, k)
	}
}

func (s *structure) element(f *file, node int, parent ref, pages []ref) {
	n := s.frames.Nodes[node]
	type kid struct {
		order int
		text  string
	}
	var kids []kid
	page := -1
	for _, p := range s.pieces[node] {
		if page < 0 {
			page = p.page
		}
		text := fmt.Sprint(p.mcid)
		if p.page != page {
			text = fmt.Sprintf("<</Type /MCR /Pg %v /MCID %d>>", pages[p.page], p.mcid)
		}
		kids = append(kids, kid{p.order, text})
	}
	mixed := len(kids) > 0
	for _, k := range s.kids[node] {
		s.element(f, k, s.refs[node], pages)
		order := s.first[k]
		if !mixed {
			order = 0 // children alone stand in the order of the document
		}
		kids = append(kids, kid{order, s.refs[k].String()})
	}
	sort.SliceStable(kids, func(i, j int) bool { return kids[i].order < kids[j].order })
	var b strings.Builder
	fmt.Fprintf(&b, "<</Type /StructElem /S %s /P %v", name(string(n.Tag)), parent)
	if page >= 0 {
		fmt.Fprintf(&b, " /Pg %v", pages[page])
	}
	if n.Alt != "" {
		fmt.Fprintf(&b, " /Alt %s", text(n.Alt))
	}
	b.WriteString(attributes(n))
	if len(kids) > 0 {
		b.WriteString(" /K [")
		for i, k := range kids {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(k.text)
		}
		b.WriteByte(']')
	}
	b.WriteString(">>")
	f.put(s.refs[node], b.String())
}

func attributes(n print.Node) string {
	switch {
	case n.Tag == print.TagList:
		numbering := n.Numbering
		if numbering == "" {
			numbering = "None"
		}
		return " /A <</O /List /ListNumbering " + name(numbering) + ">>"
	case n.Scope != "" || n.Span > 1:
		a := " /A <</O /Table"
		if n.Scope != "" {
			a += " /Scope " + name(n.Scope)
		}
		if n.Span > 1 {
			a += fmt.Sprintf(" /ColSpan %d", n.Span)
		}
		return a + ">>"
	}
	return ""
}
