package plan

import (
	"fmt"

	"bookstead/internal/kit"
)

// Materials are what a class wants and has of novels, offers and paper.
type Materials struct {
	Novels []NovelWish `json:"novels,omitempty"`
	// Families are names of students who share what their family has, for a class
	// that leaves buying to families.
	Families [][]string `json:"families,omitempty"`
	Owned    []Owned    `json:"owned,omitempty"`
	Offers   []Offer    `json:"offers,omitempty"`
	Sources  []Source   `json:"sources,omitempty"`
	Paper    Paper      `json:"paper,omitzero"`
	TwoSided bool       `json:"twoSided,omitempty"`
}

// NovelWish is how a class wants to have a novel.
type NovelWish struct {
	Kit    kit.ID `json:"kit"`
	Policy Policy `json:"policy"`
	// PerCopy is how many children share a copy, 2 when 0.
	PerCopy int `json:"perCopy,omitempty"`
	// Marked says that copies marked by others will do.
	Marked bool `json:"marked,omitempty"`
}

// Policy is how a class has a novel.
type Policy string

const (
	OneEach    Policy = "one each"      // every child has one, which may be marked
	SharedCopy Policy = "shared"        // children share, nobody marks
	Teachers   Policy = "teacher's own" // the teacher alone has one and reads aloud
)

// Cents is an amount of money in hundredths.
type Cents int

// String is the amount with two places, "12.50".
func (c Cents) String() string {
	if c < 0 {
		return "-" + (-c).String()
	}
	return fmt.Sprintf("%d.%02d", c/100, c%100)
}

// Owned are copies at hand.
type Owned struct {
	Book   string `json:"book"` // its title
	Count  int    `json:"count"`
	Family string `json:"family,omitempty"` // whose they are; empty for the school
	Marked bool   `json:"marked,omitempty"`
}

// Offer is a way to buy a novel.
type Offer struct {
	Book   string `json:"book"`
	Source string `json:"source"` // shop, fair
	Price  Cents  `json:"price"`  // of the pack
	Pack   int    `json:"pack,omitempty"`
	Most   int    `json:"most,omitempty"` // packs that there are; 0 for as many as needed
}

// Source is where offers come from.
type Source struct {
	Name    string `json:"name"`
	Postage Cents  `json:"postage"` // once, when anything comes from there
}

// Paper is what paper and ink cost and what is at hand.
type Paper struct {
	Sheets int   `json:"sheets"` // at hand
	Ream   Cents `json:"ream"`   // price of one
	InReam int   `json:"inReam"` // sheets in it, 500 when 0
	Ink    Cents `json:"ink"`    // for a hundred printed pages
}
