package people

import (
	"context"

	"bookstead/internal/lang"
)

// told is who speaks a quotation, and to whom; -1 not known.
type told struct {
	speaker, to int
	sure        float64
}

// turn is a quotation with what tells who speaks it.
type turn struct {
	q          *lang.Quotation
	first      int // token
	last       int
	paragraph  int
	cue        int  // mention that is the subject of the verb of saying, -1
	cueGender  byte // of a pronoun there
	cueI       bool
	certain    bool  // the cue leaves no doubt who is meant
	vocatives  []int // entities called
	vocGender  byte  // "sir"
	to         int   // entity that it is said to, by the cue
	candidates []candidate
	gap        int  // paragraphs of telling since the turn before
	goesOn     bool // the turn before was left open
}

// candidate is somebody who may speak a turn, with the features of that.
type candidate struct {
	entity int  // -1: somebody else
	recent bool // a cue not far before names them
	f      []feature
	base   float64 // weighted sum of f
}

type feature struct {
	name  int
	value float64
}

// most are the candidates of a turn beside "somebody else".
const most = 12

// speakers names who speaks each quotation: the best path through all turns,
// and how sure that is.
func (s *story) speakers(ctx context.Context) error {
	ts := s.turns()
	s.last = ts
	s.who = make([]told, len(ts))
	if len(ts) == 0 {
		return nil
	}
	l, err := s.lattice(ctx, ts, weights[:], beam)
	if err != nil {
		return err
	}
	l.forward()
	l.backward()
	post := l.posteriors(ts)
	path := l.path()
	for i := range ts {
		c := l.states[i][path[i]]
		s.who[i] = told{speaker: c.who, to: -1, sure: post[i][c.c]}
	}
	s.spokenTo(ts)
	return nil
}

// spokenTo fills whom each turn is said to: who is called, who the cue names,
// who spoke before, who speaks next.
func (s *story) spokenTo(ts []turn) {
	other := -1
	for i := range ts {
		x := &ts[i]
		w := &s.who[i]
		if i > 0 && x.gap > 8 {
			other = -1
		}
		if i > 0 && s.who[i-1].speaker >= 0 && s.who[i-1].speaker != w.speaker && x.gap <= 8 {
			other = s.who[i-1].speaker
		}
		for _, v := range x.vocatives {
			if v != w.speaker {
				w.to = v
				break
			}
		}
		if w.to < 0 && x.to >= 0 && x.to != w.speaker {
			w.to = x.to
		}
		if w.to < 0 && other >= 0 && other != w.speaker {
			w.to = other
		}
		if w.to < 0 && i+1 < len(ts) && ts[i+1].gap < 3 && s.who[i+1].speaker != w.speaker {
			w.to = s.who[i+1].speaker
		}
	}
}
