package class

// Way is one line of the blueprint of a quiz or a test: so many things asked in
// one way, from all lessons that the paper covers or from a run of them.
type Way struct {
	// Kind is match, fill, choose, whosaid, order, short or explain.
	Kind  string `json:"kind"`
	Count int    `json:"count"`
	First int    `json:"first,omitempty"` // lesson, 0 for all
	Last  int    `json:"last,omitempty"`
}
