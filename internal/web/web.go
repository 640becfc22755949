// Package web is the desk: the door for the browser, on this computer only.
//
// [New] makes the handler. Every page is a typed struct and a template of the
// same name under templates/; a handler returns an error, and one place turns
// it into a page. Pages work without JavaScript; with it, htmx swaps the item
// that changed instead of the page. Nothing is loaded from outside. Long work
// runs as a job with a page that shows how far it is (jobs.go); who may ask is
// decided in guard.go.
package web

import (
	"context"
	"embed"
	"io/fs"
	"log/slog"
	"net/http"

	"github.com/go-chi/chi/v5"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

//go:generate go run bookstead/cmd/webvendor -modules ../../node_modules static/vendor

//go:embed static
var staticFiles embed.FS

// Server is the desk over one workshop.
type Server struct {
	shop *prepare.Workshop
	jobs *jobs
	log  *slog.Logger
}

// New makes the desk. ctx bounds the work it does in the background; host is
// the host:port that the browser must ask for.
func New(ctx context.Context, shop *prepare.Workshop, host string, log *slog.Logger) http.Handler {
	s := &Server{shop: shop, jobs: newJobs(ctx), log: log}
	r := chi.NewRouter()
	r.Use(guard(host))
	static, err := fs.Sub(staticFiles, "static")
	if err != nil {
		panic(err) // the embedded folder has this name
	}
	r.Handle("/static/*", http.StripPrefix("/static/", http.FileServerFS(static)))
	h := func(f func(http.ResponseWriter, *http.Request) error) http.HandlerFunc { return s.handle(f) }

	r.Get("/", h(s.library))
	r.Post("/books", h(s.importBook))
	r.Get("/books/paper", h(s.paperForm))
	r.Post("/books/paper", h(s.paperSave))
	r.Get("/books/{book}", h(s.book))
	r.Post("/books/{book}/delete", h(s.deleteBook))
	r.Get("/classes/new", h(s.classNew))
	r.Post("/classes", h(s.classCreate))
	r.Get("/classes/{class}", h(s.classEdit))
	r.Post("/classes/{class}", h(s.classSave))
	r.Post("/classes/{class}/holidays", h(s.holidays))
	r.Post("/classes/{class}/undo", h(s.undoClass))
	r.Post("/classes/{class}/redo", h(s.redoClass))
	r.Post("/classes/{class}/delete", h(s.deleteClass))
	r.Get("/classes/{class}/plan", h(s.plan))
	r.Post("/classes/{class}/plan/books", h(s.planBooks))
	r.Post("/classes/{class}/plan/pin", h(s.planPin))
	r.Post("/classes/{class}/plan/unpin", h(s.planUnpin))
	r.Post("/classes/{class}/plan/agree", h(s.planAgree))
	r.Post("/classes/{class}/plan/catchup", h(s.planCatchUp))
	r.Post("/classes/{class}/plan/undo", h(s.planUndo))
	r.Post("/classes/{class}/plan/redo", h(s.planRedo))
	r.Get("/classes/{class}/plan.ics", h(s.planICal))
	r.Get("/classes/{class}/plans/{sequence}", h(s.earlierPlan))
	r.Post("/classes/{class}/plans/{sequence}", h(s.bringBack))
	r.Get("/classes/{class}/choose", h(s.choose))
	r.Post("/classes/{class}/choose", h(s.measureBooks))
	r.Get("/classes/{class}/candidate", h(s.candidate))
	r.Get("/classes/{class}/materials", h(s.materials))
	r.Post("/classes/{class}/materials", h(s.saveMaterials))
	r.Get("/classes/{class}/shopping-list.csv", h(s.shoppingFile))
	r.Get("/classes/{class}/today", h(s.today))
	r.Get("/classes/{class}/days/{date}", h(s.day))
	r.Post("/classes/{class}/days/{date}", h(s.noteDay))
	r.Get("/classes/{class}/{paper}.pdf", h(s.planPDF))
	r.Get("/spelling-steps.txt", h(s.spellingSteps))
	r.Get("/today", h(s.timetable))
	r.Get("/days/{date}", h(s.timetable))
	r.Post("/days/{date}", h(s.holdBlock))
	r.Get("/bin", h(s.bin))
	r.Post("/bin/restore", h(s.binRestore))
	r.Post("/bin/erase", h(s.binErase))
	r.Get("/care", h(s.care))

	r.Post("/kits", h(s.newKit))
	r.Post("/kits/import", h(s.importKit))
	r.Route("/kits/{kit}", func(r chi.Router) {
		r.Get("/", h(s.kitHome))
		r.Post("/delete", h(s.deleteKit))
		r.Get("/lessons", h(s.lessons))
		r.Post("/lessons/cuts", h(s.cuts))
		r.Get("/lessons/{lesson}", h(s.desk))
		r.Get("/lessons/{lesson}/board", h(s.board))
		r.Post("/lessons/{lesson}/keep", h(s.keepAll))
		r.Post("/lessons/{lesson}/items", h(s.addItem))
		r.Get("/items/{item}/edit", h(s.editItem))
		r.Get("/items/{item}", h(s.showItem))
		r.Get("/items/{item}/answers", h(s.answers))
		r.Post("/items/{item}/answers", h(s.judgeAnswer))
		r.Post("/items/{item}/{verb}", h(s.decide))
		r.Post("/undo", h(s.undo))
		r.Post("/redo", h(s.redo))
		r.Get("/history", h(s.history))
		r.Get("/pages", h(s.pages))
		r.Post("/pages", h(s.savePages))
		r.Post("/pages/fix", h(s.fixPage))
		r.Get("/words", h(s.words))
		r.Post("/words", h(s.ownWords))
		r.Post("/words/remember", h(s.rememberWords))
		r.Get("/child-cards.pdf", h(s.childCards))
		r.Get("/ready", h(s.ready))
		r.Get("/second", h(s.second))
		r.Get("/print", h(s.print))
		r.Get("/files/{file}", h(s.file))
	})
	r.Get("/jobs/{job}", h(s.job))
	r.Post("/jobs/{job}/stop", h(s.stopJob))
	r.NotFound(h(func(http.ResponseWriter, *http.Request) error {
		return fault.New(fault.NotFound, "There is no such page.", "Go back to the library.")
	}))
	return r
}

// handle carries out a handler and turns its error into a page.
func (s *Server) handle(f func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		err := f(w, r)
		if err == nil {
			return
		}
		if r.Context().Err() != nil {
			return // the browser went away
		}
		ft := fault.Of(err)
		if ft.Kind == fault.Internal {
			s.log.Error("request", "path", r.URL.Path, "error", err)
		}
		s.sorry(w, r, ft)
	}
}

// status is the HTTP status of a fault.
func status(k fault.Kind) int {
	switch k {
	case fault.Invalid, fault.Unreadable:
		return http.StatusUnprocessableEntity
	case fault.TooLarge:
		return http.StatusRequestEntityTooLarge
	case fault.NotFound:
		return http.StatusNotFound
	case fault.Conflict:
		return http.StatusConflict
	case fault.Busy, fault.Canceled:
		return http.StatusServiceUnavailable
	case fault.Full:
		return http.StatusInsufficientStorage
	}
	return http.StatusInternalServerError
}
