package people

// unmask joins somebody without a name, or known by a role ("the Jew", "I"), to
// the name that others call out when they speak to them.
func (s *story) unmask() {
	type pair struct{ masked, name int }
	votes := map[pair]int{}
	all := map[int]int{}    // votes for each masked one
	apart := map[pair]int{} // how often both speak in turn
	masked := func(e int) bool {
		if e < 0 || s.es[e].plural || s.es[e].merged >= 0 {
			return false
		}
		x := s.es[e]
		return !x.named || x.role()
	}
	surely := func(i int) bool { return s.who[i].sure > 0.7 && s.who[i].speaker >= 0 }
	ts := s.last
	for i := range ts {
		if !surely(i) {
			continue
		}
		for _, k := range []int{i - 1, i + 1} {
			if k < 0 || k >= len(ts) || !surely(k) || ts[max(i, k)].gap > 1 {
				continue
			}
			me, you := s.who[i].speaker, s.who[k].speaker
			if me == you {
				continue
			}
			if k > i {
				apart[pair{me, you}]++
				apart[pair{you, me}]++
			}
			if !masked(you) || ts[k].q.Who < 0 && you != s.narrator {
				continue
			}
			for _, v := range ts[i].vocatives {
				if v != me && v != you && !masked(v) && s.es[v].kind == "PER" && !s.es[v].plural {
					votes[pair{you, v}]++
					all[you]++
				}
			}
		}
	}
	for e := range s.es {
		if !masked(e) {
			continue
		}
		best, most := -1, 0
		for v := range s.es {
			if n := votes[pair{e, v}]; n > most {
				best, most = v, n
			}
		}
		need := 3
		if best < 0 || most < need || 4*most < 3*all[e] || apart[pair{e, best}] > most/3 {
			continue
		}
		a, b := s.es[e].gender(), s.es[best].gender()
		if a != 0 && b != 0 && a != b && e != s.narrator {
			continue
		}
		s.join(e, best)
	}
}

// role tells whether an entity is known by what it is, not by a name: the Jew.
func (e *entity) role() bool {
	n, the := 0, 0
	for _, f := range e.forms {
		n, the = n+f.n, the+f.the
	}
	return e.named && 10*the > 6*n
}

// cues are the tokens of the pronouns and descriptions that the speech made clear.
func (s *story) cues() map[int]int {
	out := map[int]int{}
	for i := range s.last {
		x := &s.last[i]
		if x.q.Who >= 0 && s.who[i].speaker >= 0 && s.who[i].sure > 0.5 {
			out[x.q.Who] = s.who[i].speaker
		}
	}
	return out
}
