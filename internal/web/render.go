package web

import (
	"bytes"
	"embed"
	"html/template"
	"net/http"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

//go:embed templates
var templateFiles embed.FS

// page is what every page has.
type page struct {
	Title string
	// Kit is the kit's navigation, nil outside a kit.
	Kit *kitNav
	// Say is a message about what was just done.
	Say string
}

// kitNav is the head of every page of a kit.
type kitNav struct {
	ID, Book, Class, ClassID string
	Here                     string // "lessons", "desk", "words", "ready", "plan", "pages", "print"
	Lesson                   int    // where the desk goes
	Undo, Redo               prepare.Step
}

var functions = template.FuncMap{
	"type":  book.Typeset,
	"kind":  prepare.KindName,
	"plus":  func(a, b int) int { return a + b },
	"lower": strings.ToLower,
	// count gives the numbers from 0 to below n
	"count": func(n int) []int {
		out := make([]int, n)
		for i := range out {
			out[i] = i
		}
		return out
	},
	// percent of a share
	"percent": func(x float64) float64 { return 100 * x },
	"trim":    func(s string) string { return strings.Trim(s, "“”\"") },
	"dict": func(kv ...any) map[string]any {
		m := map[string]any{}
		for i := 0; i+1 < len(kv); i += 2 {
			m[kv[i].(string)] = kv[i+1]
		}
		return m
	},
}

// shared are the templates that every page may use; pages are parsed over a
// clone of them at start-up, so that a broken one is found at once.
var pages = func() map[string]*template.Template {
	base := template.Must(template.New("").Funcs(functions).ParseFS(templateFiles, "templates/shared/*.html"))
	out := map[string]*template.Template{}
	files, err := templateFiles.ReadDir("templates")
	if err != nil {
		panic(err) // the embedded folder has this name
	}
	for _, f := range files {
		if name, ok := strings.CutSuffix(f.Name(), ".html"); ok {
			out[name] = template.Must(template.Must(base.Clone()).ParseFS(templateFiles, "templates/"+f.Name()))
		}
	}
	return out
}()

// render writes a whole page: nothing is sent when its template fails.
func render(w http.ResponseWriter, code int, name string, data any) error {
	return execute(w, code, name, "layout", data)
}

// fragment writes one named part of a page, for htmx.
func fragment(w http.ResponseWriter, page, part string, data any) error {
	return execute(w, http.StatusOK, page, part, data)
}

func execute(w http.ResponseWriter, code int, name, part string, data any) error {
	var b bytes.Buffer
	if err := pages[name].ExecuteTemplate(&b, part, data); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	_, err := b.WriteTo(w)
	if err != nil {
		return nil // the browser went away
	}
	return nil
}

// sorry shows a fault: as a line above the page for htmx, else as a page.
func (s *Server) sorry(w http.ResponseWriter, r *http.Request, f *fault.Error) {
	data := struct {
		page
		Message, Hint string
		Back          string
	}{page{Title: "This did not work"}, f.Message, f.Hint, back(r)}
	part := "layout"
	if swap(r) {
		part = "alert"
		w.Header().Set("HX-Retarget", "#say")
		w.Header().Set("HX-Reswap", "innerHTML")
	}
	if err := execute(w, status(f.Kind), "sorry", part, data); err != nil {
		s.log.Error("showing a fault", "error", err)
		http.Error(w, f.Message, status(f.Kind))
	}
}

// swap reports whether htmx asks for a part of a page.
func swap(r *http.Request) bool { return r.Header.Get("HX-Request") == "true" }

// back is the page of ours that the request came from.
func back(r *http.Request) string {
	if ref, ok := strings.CutPrefix(r.Referer(), "http://"+r.Host); ok {
		return ref
	}
	return "/"
}

// see sends the browser to another page of ours.
func see(w http.ResponseWriter, r *http.Request, path string) error {
	if swap(r) {
		w.Header().Set("HX-Redirect", path)
		w.WriteHeader(http.StatusNoContent)
		return nil
	}
	http.Redirect(w, r, path, http.StatusSeeOther)
	return nil
}
