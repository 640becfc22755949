package forest

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// The file is text: "forest 1", the columns, the base, then a line for each
// tree. A tree is written node by node, the left side before the right: a
// question is "column<threshold", a leaf "=value".
const magic = "forest 1"

// Write writes the model.
func (f *Forest) Write(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, magic)
	fmt.Fprintln(b, strings.Join(f.Columns, " "))
	fmt.Fprintln(b, short(f.Base))
	for _, t := range f.trees {
		var parts []string
		var walk func(int)
		walk = func(n int) {
			if t[n].Column < 0 {
				parts = append(parts, "="+short(t[n].Value))
				return
			}
			parts = append(parts, strconv.Itoa(t[n].Column)+"<"+short(t[n].Threshold))
			walk(t[n].Left)
			walk(t[n].Right)
		}
		walk(0)
		fmt.Fprintln(b, strings.Join(parts, " "))
	}
	return b.Flush()
}

func short(x float64) string { return strconv.FormatFloat(x, 'g', 5, 64) }

// Read reads what Write wrote, for rows of these columns.
func Read(r io.Reader, columns []string) (*Forest, error) {
	in := bufio.NewScanner(r)
	in.Buffer(nil, 1<<20)
	var head []string
	for len(head) < 3 && in.Scan() {
		head = append(head, in.Text())
	}
	if len(head) < 3 || head[0] != magic {
		return nil, fmt.Errorf("reading a forest: this is no file of one")
	}
	f := &Forest{Columns: strings.Fields(head[1])}
	if !slices.Equal(f.Columns, columns) {
		return nil, fmt.Errorf("reading a forest: it was trained on other columns than these")
	}
	var err error
	if f.Base, err = strconv.ParseFloat(head[2], 64); err != nil {
		return nil, fmt.Errorf("reading a forest: %w", err)
	}
	for line := 4; in.Scan(); line++ {
		p := parser{parts: strings.Fields(in.Text()), columns: len(columns)}
		p.tree()
		if p.err == nil && len(p.parts) > 0 {
			p.err = fmt.Errorf("%d parts too many", len(p.parts))
		}
		if p.err != nil {
			return nil, fmt.Errorf("reading line %d of a forest: %w", line, p.err)
		}
		f.trees = append(f.trees, p.nodes)
	}
	if err := in.Err(); err != nil {
		return nil, fmt.Errorf("reading a forest: %w", err)
	}
	return f, nil
}

type parser struct {
	parts   []string
	columns int
	nodes   []node
	err     error
}

func (p *parser) number(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) {
		p.err = fmt.Errorf("%q is no number", s)
	}
	return x
}

func (p *parser) tree() int {
	at := len(p.nodes)
	if len(p.parts) == 0 {
		p.err = fmt.Errorf("a tree ends too soon")
	}
	if p.err != nil {
		return at
	}
	s := p.parts[0]
	p.parts = p.parts[1:]
	if v, ok := strings.CutPrefix(s, "="); ok {
		p.nodes = append(p.nodes, node{Column: -1, Value: p.number(v)})
		return at
	}
	c, t, ok := strings.Cut(s, "<")
	column, err := strconv.Atoi(c)
	if !ok || err != nil || column < 0 || column >= p.columns {
		p.err = fmt.Errorf("%q is no question", s)
		return at
	}
	p.nodes = append(p.nodes, node{Column: column, Threshold: p.number(t)})
	left := p.tree()
	right := p.tree()
	if p.err == nil {
		p.nodes[at].Left, p.nodes[at].Right = left, right
	}
	return at
}
