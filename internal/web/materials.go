package web

import (
	"context"
	"fmt"
	"net/http"

	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/prepare"
)

// materialsPage is what the year needs of novels and paper.
type materialsPage struct {
	page
	ClassID  class.ID
	Name     string
	Seen     prepare.Revision
	Novels   []novelRow
	Said     plan.Materials
	Owned    string
	Offers   string
	Sources  string
	Families string
	List     *prepare.MaterialsList
}

type novelRow struct {
	plan.NovelWish
	Title string
}

func (s *Server) materials(w http.ResponseWriter, r *http.Request) error {
	id := classID(r)
	if !s.shop.DaysReady(r.Context()) {
		to := r.URL.RequestURI()
		jb := s.jobs.start("Working out what to buy", func(ctx context.Context, p prepare.Progress) (string, error) {
			_, err := s.shop.Materials(ctx, id, p)
			return to, err
		})
		return s.follow(w, r, jb)
	}
	m, err := s.shop.Materials(r.Context(), id, nil)
	if err != nil {
		return err
	}
	said := m.Wish.Materials
	p := materialsPage{page: page{Title: "Novels and paper, " + m.Class.Name}, ClassID: id, Name: m.Class.Name, Seen: m.WishRevision(), Said: said, List: m.List,
		Owned: prepare.OwnedLines(said.Owned), Offers: prepare.OfferLines(said.Offers), Sources: prepare.SourceLines(said.Sources), Families: prepare.FamilyLines(said.Families)}
	if p.Said.Paper.InReam == 0 {
		p.Said.Paper.InReam = 500
	}
	for _, b := range m.Books {
		if b.In {
			p.Novels = append(p.Novels, novelRow{m.NovelWish(b.Kit), b.Title})
		}
	}
	return render(w, http.StatusOK, "materials", p)
}

func (s *Server) saveMaterials(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return fault.Wrap(fault.Invalid, err, "This form is not complete.", "Load the page again.")
	}
	var m plan.Materials
	var err error
	for _, id := range r.Form["kit"] {
		m.Novels = append(m.Novels, plan.NovelWish{Kit: kit.ID(id), Policy: plan.Policy(r.FormValue("policy " + id)), PerCopy: atoi(r.FormValue("per " + id)), Marked: r.FormValue("marked "+id) != ""})
	}
	if m.Owned, err = prepare.ReadOwned(r.FormValue("owned")); err != nil {
		return err
	}
	if m.Offers, err = prepare.ReadOffers(r.FormValue("offers")); err != nil {
		return err
	}
	if m.Sources, err = prepare.ReadSources(r.FormValue("sources")); err != nil {
		return err
	}
	m.Families, m.TwoSided = prepare.ReadFamilies(r.FormValue("families")), r.FormValue("twoSided") != ""
	m.Paper.Sheets, m.Paper.InReam = atoi(r.FormValue("sheets")), atoi(r.FormValue("inReam"))
	if m.Paper.Ream, err = prepare.ReadCents(r.FormValue("ream")); err != nil {
		return err
	}
	if m.Paper.Ink, err = prepare.ReadCents(r.FormValue("ink")); err != nil {
		return err
	}
	if err := s.shop.SetMaterials(r.Context(), classID(r), seen(r), m); err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/classes/%s/materials", classID(r)))
}

func (s *Server) shoppingFile(w http.ResponseWriter, r *http.Request) error {
	data, err := s.shop.ShoppingFile(r.Context(), classID(r))
	if err != nil {
		return err
	}
	return download(w, "text/csv; charset=utf-8", "shopping-list.csv", data)
}
