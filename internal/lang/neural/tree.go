package neural

// bestTree writes the head of each of n words (0: the root, else the word's
// number from 1) of the best tree with one word under the root. scores holds
// (n+1) rows of stride numbers, row i what each place scores as the head of i.
func bestTree(scores []float32, stride, n int, heads []int) {
	heads = heads[:n+1]
	heads[0] = 0
	for i := 1; i <= n; i++ {
		row, best := scores[i*stride:i*stride+n+1], -1
		for j, v := range row {
			if j != i && (best < 0 || v > row[best]) {
				best = j
			}
		}
		heads[i] = best
	}
	if isTree(heads) {
		return
	}
	// a root far worse than any other head is taken once only
	s := make([][]float64, n+1)
	for i := range s {
		s[i] = make([]float64, n+1)
		for j := range s[i] {
			s[i][j] = never
			if i > 0 && i != j {
				s[i][j] = float64(scores[i*stride+j])
				if j == 0 {
					s[i][j] -= 1e5
				}
			}
		}
	}
	copy(heads, chuLiuEdmonds(s))
}

const never = -1e9

func isTree(heads []int) bool {
	roots := 0
	for _, h := range heads[1:] {
		if h == 0 {
			roots++
		}
	}
	return roots == 1 && findCycle(heads) == nil
}

// findCycle returns the places of a cycle, nil when there is none.
func findCycle(heads []int) []int {
	const fresh, onPath, done = 0, 1, 2
	state := make([]byte, len(heads))
	state[0] = done
	path := make([]int, 0, len(heads))
	for i := 1; i < len(heads); i++ {
		path = path[:0]
		j := i
		for state[j] == fresh {
			state[j] = onPath
			path = append(path, j)
			j = heads[j]
		}
		if state[j] == onPath {
			for k, v := range path {
				if v == j {
					return path[k:]
				}
			}
		}
		for _, k := range path {
			state[k] = done
		}
	}
	return nil
}

// chuLiuEdmonds returns the heads of the best tree of s[dependent][head] under
// place 0: it takes the best head of each place and, while they close a cycle,
// makes one place of it and solves the smaller graph (Chu and Liu 1965, Edmonds 1967).
func chuLiuEdmonds(s [][]float64) []int {
	n := len(s)
	heads := make([]int, n)
	for i := 1; i < n; i++ {
		for j := range n {
			if j != i && (s[i][j] > s[i][heads[i]] || heads[i] == i) {
				heads[i] = j
			}
		}
	}
	cycle := findCycle(heads)
	if cycle == nil {
		return heads
	}
	in := make([]bool, n)
	total := 0.0
	for _, c := range cycle {
		in[c] = true
		total += s[c][heads[c]]
	}
	var rest []int // places outside the cycle, 0 first
	for i := range n {
		if !in[i] {
			rest = append(rest, i)
		}
	}
	m := len(rest) // the cycle's place in the smaller graph
	t := make([][]float64, m+1)
	for i := range t {
		t[i] = make([]float64, m+1)
		for j := range t[i] {
			t[i][j] = never
		}
	}
	enter, leave := make([]int, m), make([]int, m)
	for a, i := range rest {
		for b, j := range rest {
			if a != b {
				t[a][b] = s[i][j]
			}
		}
		// the best way from i into the cycle, and from the cycle to i
		for k, c := range cycle {
			if v := s[c][i] - s[c][heads[c]] + total; k == 0 || v > t[m][a] {
				t[m][a], enter[a] = v, c
			}
			if v := s[i][c]; k == 0 || v > t[a][m] {
				t[a][m], leave[a] = v, c
			}
		}
	}
	small := chuLiuEdmonds(t)
	for a, i := range rest {
		if i == 0 {
			continue
		}
		if small[a] == m {
			heads[i] = leave[a]
		} else {
			heads[i] = rest[small[a]]
		}
	}
	from := small[m]
	heads[enter[from]] = rest[from]
	return heads
}
