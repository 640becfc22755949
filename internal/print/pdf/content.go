package pdf

import (
	"fmt"
	"strconv"

	"bookstead/internal/print"
)

// inks are the colours, dark enough on white to read well without colour.
var inks = [...]string{print.Black: "0", print.Red: "0.608 0.176 0.122", print.Grey: "0.45"}

// content is a page's drawing, and which structure each marked piece of it
// belongs to: nodes[i] is that of MCID i.
type content struct {
	b     []byte
	nodes []int

	frames *print.Frames
	uses   []*fontUse
	open   int // node under way, -1 outside
	inText bool
	fill   string
	stroke string
	pen    string
	font   string
}

// draw writes the items of a page that the edition shows.
func draw(f *print.Frames, p *print.Page, e print.Edition, uses []*fontUse) *content {
	c := &content{frames: f, uses: uses, open: -1}
	for i := range p.Items {
		it := &p.Items[i]
		if !it.Role.In(e) {
			continue
		}
		c.enter(it.Node)
		if len(it.Glyphs) > 0 {
			c.glyphs(it)
		} else {
			c.shape(it)
		}
	}
	c.leave()
	return c
}

func (c *content) op(format string, args ...any) { c.b = fmt.Appendf(c.b, format, args...) }

// enter starts a piece of a node, or of nothing that is read: an artifact.
func (c *content) enter(node int) {
	if c.open == node {
		return
	}
	c.leave()
	c.open = node
	if node == 0 {
		c.op("/Artifact BMC\n")
		return
	}
	c.op("%s <</MCID %d>> BDC\n", name(string(c.frames.Nodes[node].Tag)), len(c.nodes))
	c.nodes = append(c.nodes, node)
}

func (c *content) leave() {
	c.text(false)
	if c.open >= 0 {
		c.op("EMC\n")
	}
	c.open = -1
}

func (c *content) text(on bool) {
	switch {
	case on && !c.inText:
		c.op("BT\n")
	case !on && c.inText:
		c.op("ET\n")
	}
	c.inText = on
}

// set writes an operator when its operands have changed.
func (c *content) set(state *string, value, op string) {
	if *state != value {
		*state = value
		c.op("%s %s\n", value, op)
	}
}

const hexDigits = "0123456789ABCDEF"

func colour(ink print.Ink, gray, rgb string) string {
	if ink == print.Red {
		return rgb
	}
	return gray
}

func (c *content) glyphs(it *print.Item) {
	c.text(true)
	c.set(&c.fill, inks[it.Ink]+" "+colour(it.Ink, "g", "rg"), "")
	c.set(&c.font, fmt.Sprintf("/F%d %s", it.Font, points(it.Size)), "Tf")
	c.op("1 0 0 1 %s %s Tm\n[<", points(it.X), points(c.frames.Paper.Height-it.Y))
	use := c.uses[it.Font]
	// want and have are where the next glyph should stand and where it would
	// without a correction, in hundredths of a thousandth of an em.
	want, have := int64(0), int64(0)
	em := int64(it.Size)
	pen := print.Length(0)
	rise := print.Length(0)
	for _, g := range it.Glyphs {
		want = int64(pen+g.X) * 100000 / em
		if g.Y != rise {
			rise = g.Y
			c.op(">] TJ %s Ts [<", points(rise))
		}
		// Corrections are written in whole thousandths; the rest is carried on.
		if d := (want - have) / 100; d != 0 {
			c.b = append(c.b, '>')
			c.b = strconv.AppendInt(c.b, -d, 10)
			c.b = append(c.b, '<')
			have += d * 100
		}
		cid := use.cids[cidKey{g.ID, g.Text}]
		c.b = append(c.b, hexDigits[cid>>12], hexDigits[cid>>8&15], hexDigits[cid>>4&15], hexDigits[cid&15])
		have += int64(use.width(g.ID))
		pen += g.Advance
	}
	c.op(">] TJ\n")
	if rise != 0 {
		c.op("0 Ts\n")
	}
}

func (c *content) shape(it *print.Item) {
	c.text(false)
	c.set(&c.stroke, inks[it.Ink]+" "+colour(it.Ink, "G", "RG"), "")
	dash := "[] 0 d"
	if it.Dash > 0 {
		dash = fmt.Sprintf("[%s] 0 d", points(it.Dash))
	}
	c.set(&c.pen, points(it.Thickness)+" w "+dash, "")
	x, y := it.X, c.frames.Paper.Height-it.Y
	switch it.Shape {
	case print.Line:
		c.op("%s %s m %s %s l S\n", points(x), points(y), points(x+it.W), points(y-it.H))
	case print.Box:
		c.op("%s %s %s %s re S\n", points(x), points(y-it.H), points(it.W), points(it.H))
	case print.Ring:
		c.ring(x, y-it.H, it.W, it.H)
	}
}

// ring draws an ellipse as four cubic curves; 0.5523 of the radius is the
// handle that keeps them within a thousandth of it.
func (c *content) ring(x, y, w, h print.Length) {
	rx, ry := w/2, h/2
	kx, ky := rx*5523/10000, ry*5523/10000
	cx, cy := x+rx, y+ry
	c.op("%s %s m\n", points(cx+rx), points(cy))
	for _, q := range [4][4]print.Length{{1, 1, 0, 1}, {-1, 1, -1, 0}, {-1, -1, 0, -1}, {1, -1, 1, 0}} {
		// q is the quadrant's corner and the direction of its end.
		sx, sy, ex, ey := q[0], q[1], q[2], q[3]
		if ex == 0 { // from the side to the top or the foot
			c.op("%s %s %s %s %s %s c\n", points(cx+sx*rx), points(cy+sy*ky), points(cx+sx*kx), points(cy+sy*ry), points(cx), points(cy+ey*ry))
		} else {
			c.op("%s %s %s %s %s %s c\n", points(cx+sx*kx), points(cy+sy*ry), points(cx+sx*rx), points(cy+sy*ky), points(cx+ex*rx), points(cy))
		}
	}
	c.op("S\n")
}

// points writes a length in points with three places.
func points(l print.Length) string {
	v := int64(l) * 1000
	if v >= 0 {
		v = (v + 32768) >> 16
	} else {
		v = -((-v + 32768) >> 16)
	}
	return decimal(int(v), 3)
}
