package materials

import (
	"fmt"

	"bookstead/internal/fault"
)

// want is a number of copies of a novel.
type want struct {
	book  string
	count int
}

// purchase is how a want is bought: packs of each offer; nil when it cannot be.
type purchase struct {
	offers []Offer
	packs  []int
	price  Cents
}

func pack(o Offer) int { return max(1, o.Pack) }

// buy finds the cheapest way to buy all wants: for each choice of the sources
// that ask for postage, each novel's cheapest packs by themselves; the cheapest
// choice of all. Of choices at one price the one with fewer sources is taken.
// Wants that no choice can meet are left out.
func buy(wants []want, offers []Offer, sources []Source) ([]purchase, error) {
	var asking []Source
	for _, s := range sources {
		if s.Postage > 0 {
			asking = append(asking, s)
		}
	}
	if len(asking) > mostSources {
		return nil, fault.New(fault.TooLarge, fmt.Sprintf("%d shops ask for postage; the list compares up to %d.", len(asking), mostSources), "Leave out the dearest.")
	}
	totals := map[string]int{} // by novel: offers that are not endless are shared by its wants
	for _, w := range wants {
		totals[w.book] += w.count
	}
	var order []string
	for _, w := range wants {
		if len(order) == 0 || order[len(order)-1] != w.book { // wants come sorted by novel
			order = append(order, w.book)
		}
	}
	var best map[string]purchase
	var price Cents
	missing := 1 << 30
	for set := range 1 << len(asking) {
		open := func(name string) bool {
			for k, s := range asking {
				if s.Name == name {
					return set>>k&1 == 1
				}
			}
			return true
		}
		cost, miss := Cents(0), 0
		for k, s := range asking {
			if set>>k&1 == 1 {
				cost += s.Postage
			}
		}
		found := map[string]purchase{}
		for _, book := range order {
			p := cheapest(book, totals[book], offers, open)
			if found[book] = p; p.packs == nil {
				miss += totals[book]
			}
			cost += p.price
		}
		if miss < missing || miss == missing && cost < price {
			best, price, missing = found, cost, miss
		}
	}
	return deal(wants, best), nil
}

// cheapest are the packs with at least n copies of a novel at the least price,
// by dynamic programming over offers and copies.
func cheapest(book string, n int, offers []Offer, open func(string) bool) purchase {
	const none = Cents(1 << 50)
	var mine []Offer
	for _, o := range offers {
		if o.Book == book && open(o.Source) {
			mine = append(mine, o)
		}
	}
	least := make([][]Cents, len(mine)+1) // for n copies from the offers before k
	least[0] = make([]Cents, n+1)
	for c := 1; c <= n; c++ {
		least[0][c] = none
	}
	for k, o := range mine {
		least[k+1] = make([]Cents, n+1)
		for c := range n + 1 {
			least[k+1][c] = none
			for packs := 0; o.Most == 0 || packs <= o.Most; packs++ {
				p := least[k][max(0, c-packs*pack(o))] + Cents(packs)*o.Price
				least[k+1][c] = min(least[k+1][c], p)
				if packs*pack(o) >= c {
					break
				}
			}
		}
	}
	if least[len(mine)][n] >= none {
		return purchase{}
	}
	out := purchase{offers: mine, packs: make([]int, len(mine)), price: least[len(mine)][n]}
	c := n
	for k := len(mine) - 1; k >= 0; k-- {
		for packs := 0; ; packs++ {
			left := max(0, c-packs*pack(mine[k]))
			if least[k][left]+Cents(packs)*mine[k].Price == least[k+1][c] {
				out.packs[k], c = packs, left
				break
			}
		}
	}
	return out
}

// deal gives each want its packs of what was bought for its novel, whole packs
// in order; the first want of a novel takes what is left of a pack.
func deal(wants []want, found map[string]purchase) []purchase {
	var out []purchase
	left := map[string][]int{}
	over := map[string]int{} // copies of packs already paid for by an earlier want
	for _, w := range wants {
		p := found[w.book]
		if p.packs == nil {
			out = append(out, purchase{})
			continue
		}
		if left[w.book] == nil {
			left[w.book] = append([]int(nil), p.packs...)
		}
		mine := purchase{offers: p.offers, packs: make([]int, len(p.packs))}
		need := w.count - over[w.book]
		for k := range mine.packs {
			for need > 0 && left[w.book][k] > 0 {
				left[w.book][k]--
				mine.packs[k]++
				mine.price += p.offers[k].Price
				need -= pack(p.offers[k])
			}
		}
		over[w.book] = max(0, -need)
		out = append(out, mine)
	}
	return out
}
