package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

// itemView is an item as the desk shows it.
type itemView struct {
	kit.Item
	KitID    kit.ID
	Lesson   int
	Revision prepare.Revision
	Page     string
	Edit     bool
}

// Printed reports whether the item goes on paper as things stand.
func (v itemView) Shown() bool { return v.State != kit.Dropped && (v.State != kit.Drafted || !v.Spare) }

type tally struct{ Words, Questions, Quotations, Others, Waiting int }

type deskPage struct {
	page
	Lesson  kit.Prepared
	Count   int // lessons in the kit
	Rows    []row
	Spare   []kindItems
	Dropped []itemView
	Tally   tally
	Quizzes bool
	Tests   bool
	Kinds   []kit.Kind
	Quoted  string
}

type kindItems struct {
	Kind  kit.Kind
	Items []itemView
}

func kitID(r *http.Request) kit.ID { return kit.ID(chi.URLParam(r, "kit")) }

// open prepares the kit, through a job when the book must first be read. When
// it returns nil and no error, the answer was already sent.
func (s *Server) open(w http.ResponseWriter, r *http.Request) (*prepare.Opened, error) {
	id := kitID(r)
	if s.shop.Ready(r.Context(), id) {
		return s.shop.Open(r.Context(), id, nil)
	}
	to := r.URL.RequestURI()
	if r.Method != http.MethodGet {
		to = "/kits/" + string(id)
	}
	jb := s.jobs.start("Preparing the lessons", func(ctx context.Context, p prepare.Progress) (string, error) {
		_, err := s.shop.Open(ctx, id, p)
		return to, err
	})
	return nil, s.follow(w, r, jb)
}

func nav(o *prepare.Opened, here string, lesson int) *kitNav {
	return &kitNav{ID: string(o.Kit.ID), Book: o.Book.Title, Class: o.Class.Name, ClassID: string(o.Class.ID), Here: here, Lesson: lesson,
		Undo: o.Standing.Undo, Redo: o.Standing.Redo}
}

func (s *Server) kitHome(w http.ResponseWriter, r *http.Request) error {
	return see(w, r, "/kits/"+chi.URLParam(r, "kit")+"/lessons/1")
}

func views(o *prepare.Opened, lesson int) []itemView {
	l := o.Lessons[lesson-1]
	out := make([]itemView, len(l.Items))
	for i, it := range l.Items {
		out[i] = view(o, it, lesson)
	}
	return out
}

func view(o *prepare.Opened, it kit.Item, lesson int) itemView {
	return itemView{Item: it, KitID: o.Kit.ID, Lesson: lesson, Revision: o.Revision(it.ID), Page: o.Page(it.Place.Start)}
}

func lessonNumber(o *prepare.Opened, r *http.Request) (int, error) {
	n, err := strconv.Atoi(chi.URLParam(r, "lesson"))
	if err != nil || n < 1 || n > len(o.Lessons) {
		return 0, fault.New(fault.NotFound, fmt.Sprintf("This book has no lesson %q.", chi.URLParam(r, "lesson")), fmt.Sprintf("It has lessons 1 to %d.", len(o.Lessons)))
	}
	return n, nil
}

func (s *Server) desk(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	n, err := lessonNumber(o, r)
	if err != nil {
		return err
	}
	l := o.Lessons[n-1]
	p := deskPage{page: page{Title: fmt.Sprintf("Lesson %d, %s", n, o.Book.Title), Kit: nav(o, "desk", n)}, Lesson: l, Count: len(o.Lessons),
		Tally: count(l.Items), Quizzes: o.Class.Settings.Quizzes, Tests: o.Class.Settings.Tests, Kinds: kit.Kinds[:], Quoted: fmt.Sprintf("%.1f", o.Quoted())}
	var shown []itemView
	for _, v := range views(o, n) {
		v.Edit = r.URL.Query().Get("edit") == string(v.ID)
		switch {
		case v.State == kit.Dropped:
			p.Dropped = append(p.Dropped, v)
		case v.Shown() || v.Edit:
			shown = append(shown, v)
		default:
			k := len(p.Spare) - 1
			if k < 0 || p.Spare[k].Kind != v.Kind {
				p.Spare = append(p.Spare, kindItems{Kind: v.Kind})
				k++
			}
			p.Spare[k].Items = append(p.Spare[k].Items, v)
		}
	}
	p.Rows = rows(o.Book, l.Span, shown)
	return render(w, http.StatusOK, "desk", p)
}

func count(items []kit.Item) (t tally) {
	for _, it := range items {
		switch {
		case it.State == kit.Dropped || it.State == kit.Drafted && it.Spare:
		case it.State == kit.Drafted:
			t.Waiting++
		case it.Kind == kit.Vocabulary:
			t.Words++
		case it.Kind == kit.Question:
			t.Questions++
		case it.Kind == kit.Quotation:
			t.Quotations++
		default:
			t.Others++
		}
	}
	return t
}

// item finds the item of a request.
func (s *Server) item(o *prepare.Opened, r *http.Request) (itemView, error) {
	it, lesson, ok := o.Find(kit.ItemID(chi.URLParam(r, "item")))
	if !ok {
		return itemView{}, fault.New(fault.NotFound, "This item is not in the kit any more.", "Load the page again.")
	}
	return view(o, it, lesson+1), nil
}

func (s *Server) editItem(w http.ResponseWriter, r *http.Request) error { return s.oneItem(w, r, true) }
func (s *Server) showItem(w http.ResponseWriter, r *http.Request) error {
	return s.oneItem(w, r, false)
}

func (s *Server) oneItem(w http.ResponseWriter, r *http.Request, edit bool) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	v, err := s.item(o, r)
	if err != nil {
		return err
	}
	v.Edit = edit
	if swap(r) {
		return fragment(w, "desk", "item", deskItem(o, v))
	}
	to := fmt.Sprintf("/kits/%s/lessons/%d", v.KitID, v.Lesson)
	if edit {
		to += "?edit=" + string(v.ID)
	}
	return see(w, r, to+"#item-"+string(v.ID))
}

// itemPart is an item with what its template needs of the page.
type itemPart struct {
	itemView
	Quizzes, Tests bool
}

func deskItem(o *prepare.Opened, v itemView) itemPart {
	return itemPart{v, o.Class.Settings.Quizzes, o.Class.Settings.Tests}
}

// Part gives an item to its template.
func (p deskPage) Part(v itemView) itemPart { return itemPart{v, p.Quizzes, p.Tests} }

func (s *Server) decide(w http.ResponseWriter, r *http.Request) error {
	ctx, id, item := r.Context(), kitID(r), kit.ItemID(chi.URLParam(r, "item"))
	n, err := strconv.ParseInt(r.FormValue("seen"), 10, 64)
	if err != nil {
		return fault.New(fault.Invalid, "This form is not complete.", "Load the page again.")
	}
	seen := prepare.Revision(n)
	switch verb := chi.URLParam(r, "verb"); verb {
	case "keep":
		err = s.shop.Keep(ctx, id, item, seen)
	case "drop":
		err = s.shop.Drop(ctx, id, item, seen)
	case "draft":
		err = s.shop.Undraft(ctx, id, item, seen)
	case "change":
		err = s.shop.Change(ctx, id, item, seen, content(r))
	case "mark":
		err = s.shop.Mark(ctx, id, item, seen, kit.Marks{Quiz: r.FormValue("quiz") != "", Test: r.FormValue("test") != ""})
	case "up":
		err = s.shop.Move(ctx, id, item, -1)
	case "down":
		err = s.shop.Move(ctx, id, item, 1)
	default:
		err = fault.New(fault.NotFound, "There is no such button.", "Load the page again.")
	}
	if err != nil {
		return err
	}
	return s.afterChange(w, r, item)
}

// afterChange answers with the item as it stands now, and for htmx with the
// footer, too; a moved or dropped item needs the page anew.
func (s *Server) afterChange(w http.ResponseWriter, r *http.Request, item kit.ItemID) error {
	o, err := s.shop.Open(r.Context(), kitID(r), nil)
	if err != nil {
		return err
	}
	it, lesson, ok := o.Find(item)
	if !ok {
		return see(w, r, back(r))
	}
	lesson++
	verb := chi.URLParam(r, "verb")
	if !swap(r) || verb == "up" || verb == "down" || verb == "draft" || r.FormValue("whole") != "" {
		return see(w, r, fmt.Sprintf("/kits/%s/lessons/%d#item-%s", o.Kit.ID, lesson, item))
	}
	return fragment(w, "desk", "changed", struct {
		Item  itemPart
		Tally tally
		Kit   *kitNav
	}{deskItem(o, view(o, it, lesson)), count(o.Lessons[lesson-1].Items), nav(o, "desk", lesson)})
}

func content(r *http.Request) kit.Content {
	f := r.FormValue
	return kit.Content{Head: f("head"), Lemma: f("lemma"), Sentence: f("sentence"), PartOfSpeech: f("pos"), Meaning: f("meaning"), Synonym: f("synonym"),
		Pattern: f("pattern"), Speaker: f("speaker"), Addressee: f("addressee"), Answer: f("answer"), Note: f("note")}
}

func (s *Server) keepAll(w http.ResponseWriter, r *http.Request) error {
	n, _ := strconv.Atoi(chi.URLParam(r, "lesson")) //nolint:errcheck // 0 is refused with a sentence
	if err := s.shop.KeepAll(r.Context(), kitID(r), n); err != nil {
		return err
	}
	return see(w, r, back(r))
}

func (s *Server) addItem(w http.ResponseWriter, r *http.Request) error {
	n, _ := strconv.Atoi(chi.URLParam(r, "lesson")) //nolint:errcheck // as above
	start, _ := strconv.Atoi(r.FormValue("start"))  //nolint:errcheck // without a place the item stands at the lesson's start
	end, _ := strconv.Atoi(r.FormValue("end"))      //nolint:errcheck // as above
	id, err := s.shop.Add(r.Context(), kitID(r), n, kit.Kind(r.FormValue("kind")), book.Span{Start: start, End: end}, content(r))
	if err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/kits/%s/lessons/%d?edit=%s#item-%s", kitID(r), n, id, id))
}

func (s *Server) undo(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.shop.Undo(r.Context(), kitID(r), prepare.AnyRevision); err != nil {
		return err
	}
	return see(w, r, back(r))
}

func (s *Server) redo(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.shop.Redo(r.Context(), kitID(r), prepare.AnyRevision); err != nil {
		return err
	}
	return see(w, r, back(r))
}

type historyPage struct {
	page
	Steps []prepare.Step
}

func (s *Server) history(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	steps, err := s.shop.History(r.Context(), o.Kit.ID, 200)
	if err != nil {
		return err
	}
	return render(w, http.StatusOK, "history", historyPage{page{Title: "What was decided", Kit: nav(o, "", 1)}, steps})
}
