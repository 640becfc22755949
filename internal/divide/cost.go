package divide

// Cost is what a lesson or a division costs, by reason. A thousand points are
// the price of a lesson that misses the target by the whole target. The weights
// are our choice, set by looking at divided novels; docs/planning.md says what
// they mean to a teacher.
type Cost struct {
	Length int // distance from the target, squared: 1000 × ((words − target) / target)²
	Split  int // the lesson begins inside a chapter, by the kind of boundary
	Join   int // other chapters begin inside the lesson
	Mixed  int // the lesson holds a piece of a chapter beside another chapter
	Over   int // longer than it may be, because nothing lies between to cut at
}

// Total is the sum.
func (c Cost) Total() int { return c.Length + c.Split + c.Join + c.Mixed + c.Over }

func (c *Cost) add(o Cost) {
	c.Length += o.Length
	c.Split += o.Split
	c.Join += o.Join
	c.Mixed += o.Mixed
	c.Over += o.Over
}

// splitCost is the price of a lesson that begins at a boundary of each kind.
var splitCost = [kinds]int{Part: 0, Chapter: 0, Scene: 60, Pause: 110, Paragraph: 140, Speech: 220, Within: 400}

const (
	joinCost  = 50   // for each chapter that begins inside a lesson
	storyCost = 600  // for each story: a story is a lesson unless it is very short
	mixedCost = 700  // once for a lesson
	overCost  = 5000 // once for a lesson, and its words over the most as if each were ten
)

// lengthCost is the price of a lesson's length alone.
func lengthCost(words, target int) int {
	d := words - target
	return 1000 * d * d / (target * target)
}
