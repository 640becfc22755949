package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/go-chi/chi/v5"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

// job is a piece of long work. It ends with the page to go to, or a fault.
type job struct {
	id     string
	title  string
	cancel context.CancelFunc
	done   chan struct{}

	mu    sync.Mutex
	stage string
	share float64
	to    string
	err   error
}

// jobs are those under way or lately ended.
type jobs struct {
	ctx  context.Context
	mu   sync.Mutex
	next int
	byID map[string]*job
}

func newJobs(ctx context.Context) *jobs { return &jobs{ctx: ctx, byID: map[string]*job{}} }

// start runs work in the background.
func (j *jobs) start(title string, work func(ctx context.Context, p prepare.Progress) (to string, err error)) *job {
	ctx, cancel := context.WithCancel(j.ctx)
	j.mu.Lock()
	j.next++
	jb := &job{id: strconv.Itoa(j.next), title: title, cancel: cancel, done: make(chan struct{})}
	j.byID[jb.id] = jb
	delete(j.byID, strconv.Itoa(j.next-64)) // the last ones are enough to come back to
	j.mu.Unlock()
	go func() {
		defer cancel()
		defer close(jb.done)
		defer func() {
			if p := recover(); p != nil { // a defect of ours must not take the desk down
				jb.end("", fmt.Errorf("%s: %v", title, p))
			}
		}()
		jb.end(work(ctx, jb.at))
	}()
	return jb
}

func (jb *job) at(stage string, share float64) {
	jb.mu.Lock()
	jb.stage, jb.share = stage, share
	jb.mu.Unlock()
}

func (jb *job) end(to string, err error) {
	jb.mu.Lock()
	jb.to, jb.err = to, err
	jb.mu.Unlock()
}

// wait waits a moment: short work needs no page of its own.
func (jb *job) wait(d time.Duration) bool {
	select {
	case <-jb.done:
		return true
	case <-time.After(d):
		return false
	}
}

// follow sends the browser to the job's end, or to the page that shows it.
func (s *Server) follow(w http.ResponseWriter, r *http.Request, jb *job) error {
	if !jb.wait(400 * time.Millisecond) {
		return see(w, r, "/jobs/"+jb.id)
	}
	jb.mu.Lock()
	defer jb.mu.Unlock()
	if jb.err != nil {
		return jb.err
	}
	return see(w, r, jb.to)
}

var stageWords = map[string]string{
	prepare.StageImport: "Opening the book", prepare.StageRead: "Reading it, every sentence",
	prepare.StageDivide: "Dividing it into lessons", prepare.StageDraft: "Drafting the lessons",
	prepare.StagePrint: "Setting the pages", prepare.StagePlan: "Laying out the days",
}

type jobPage struct {
	page
	ID      string
	Stage   string
	Percent int
}

func (s *Server) job(w http.ResponseWriter, r *http.Request) error {
	jb, err := s.findJob(r)
	if err != nil {
		return err
	}
	if jb.wait(0) {
		return s.follow(w, r, jb)
	}
	jb.mu.Lock()
	p := jobPage{page{Title: jb.title}, jb.id, stageWords[jb.stage], int(jb.share * 100)}
	jb.mu.Unlock()
	if p.Stage == "" {
		p.Stage = "Starting"
	}
	if swap(r) {
		return fragment(w, "job", "bar", p)
	}
	return render(w, http.StatusOK, "job", p)
}

func (s *Server) findJob(r *http.Request) (*job, error) {
	s.jobs.mu.Lock()
	defer s.jobs.mu.Unlock()
	if jb, ok := s.jobs.byID[chi.URLParam(r, "job")]; ok {
		return jb, nil
	}
	return nil, fault.New(fault.NotFound, "This work is over.", "Go back to the library.")
}

func (s *Server) stopJob(w http.ResponseWriter, r *http.Request) error {
	jb, err := s.findJob(r)
	if err != nil {
		return err
	}
	jb.cancel()
	jb.wait(2 * time.Second)
	return see(w, r, "/")
}
