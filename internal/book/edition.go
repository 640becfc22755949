package book

// Edition is the class's own printed copy: the page on which each chapter
// starts, as far as it was typed, and pages corrected where they stand.
type Edition struct {
	Name string `json:"name,omitempty"`
	// First are known first pages: chapter index to page.
	First map[int]int `json:"first,omitempty"`
	// Last is the last page of the story, 0 when not known.
	Last int `json:"last,omitempty"`
	// Fixed are corrections: at this place of the text stands this page.
	Fixed []FixedPage `json:"fixed,omitempty"`
}

// FixedPage is a page that the teacher corrected where it stands.
type FixedPage struct {
	Place Place `json:"place"`
	Page  int   `json:"page"`
}
