package english

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"bookstead/internal/fault"
)

// each calls do for 0..n-1 on several goroutines and tells o.Progress; do
// returns how many of total bytes it worked on.
func each(ctx context.Context, o Options, total, n int, do func(int) int) error {
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var wait sync.WaitGroup
	var lock sync.Mutex
	done := 0
	for range min(workers, n) {
		wait.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				bytes := do(i)
				if o.Progress != nil {
					lock.Lock()
					done += bytes
					o.Progress(done, total)
					lock.Unlock()
				}
			}
		})
	}
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return fault.Wrap(fault.Canceled, err, "The analysis was stopped.", "")
	}
	return nil
}
