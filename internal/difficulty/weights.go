package difficulty

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"
)

// weights.tsv has a feature and its weight, in grades, on each line; lines
// that begin with "#" tell where they come from.
//
//go:embed weights.tsv
var weightsFile string

var weights = sync.OnceValue(func() map[string]float64 {
	m := map[string]float64{}
	for line := range strings.Lines(weightsFile) {
		name, value, ok := strings.Cut(strings.TrimSpace(line), "\t")
		if strings.HasPrefix(line, "#") || !ok {
			continue
		}
		if v, err := strconv.ParseFloat(value, 64); err == nil {
			m[name] = v
		}
	}
	return m
})
