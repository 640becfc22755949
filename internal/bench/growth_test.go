//go:build bench

package bench

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"bookstead/internal/cli"
)

// TestGrowthShared reads the novels of the corpus one after another, as
// "bookstead analyze FOLDER --out DIR" does: stopped once and gone on with, in
// the memory that the longest of them takes alone.
func TestGrowthShared(t *testing.T) {
	archive := filepath.Join(shared(), "corpus", "novels.tar.xz")
	if _, err := os.Stat(archive); err != nil {
		t.Fatalf("the novels are missing: %v", err)
	}
	dir := t.TempDir()
	if out, err := exec.Command("tar", "xJf", archive, "-C", dir).CombinedOutput(); err != nil {
		t.Fatalf("unpacking the novels: %v: %s", err, out)
	}
	found, _ := filepath.Glob(filepath.Join(dir, "*", "*.txt"))
	if len(found) < 50 {
		t.Fatalf("only %d novels were unpacked", len(found))
	}
	novels := filepath.Dir(found[0])
	longest, size := "", int64(0)
	for _, f := range found {
		if st, err := os.Stat(f); err == nil && st.Size() > size {
			longest, size = f, st.Size()
		}
	}
	run := func(ctx context.Context, args ...string) (code int, said string) {
		var e bytes.Buffer
		code = cli.Run(ctx, cli.World{In: strings.NewReader(""), Out: discard{}, Err: &e}, args)
		return code, e.String()
	}
	taken := func() uint64 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.Sys >> 20
	}
	if code, said := run(context.Background(), "analyze", "--fast", longest); code != 0 {
		t.Fatalf("the longest novel: %s", said)
	}
	alone := taken()

	out := filepath.Join(dir, "results")
	args := []string{"analyze", novels, "--fast", "--out", out}
	soon, stop := context.WithCancel(context.Background())
	defer stop()
	go func() { // stop it when two are done
		for soon.Err() == nil {
			if done, _ := filepath.Glob(filepath.Join(out, "*.conllu")); len(done) >= 2 {
				stop()
			}
			time.Sleep(50 * time.Millisecond)
		}
	}()
	if code, said := run(soon, args...); code != 130 {
		t.Errorf("stopped: code %d, %s", code, said)
	}
	before, _ := filepath.Glob(filepath.Join(out, "*"))
	if len(before) < 2 || len(before) == len(found) {
		t.Errorf("%d novels were read before the stop", len(before))
	}
	start := time.Now()
	if code, said := run(context.Background(), args...); code != 0 || !strings.Contains(said, fmt.Sprintf("read before: %d", len(before))) {
		t.Errorf("gone on with: code %d, %s", code, said)
	}
	after, _ := filepath.Glob(filepath.Join(out, "*.conllu"))
	if len(after) != len(found) {
		t.Errorf("%d of %d novels have a result", len(after), len(found))
	}
	fmt.Printf("novels read: %d, %d before the stop, %.0f s; memory from the system: %d MB, the longest alone %d MB\n", len(after), len(before), time.Since(start).Seconds(), taken(), alone)
	if taken() > 2*alone {
		t.Errorf("reading all took %d MB, the longest alone %d", taken(), alone)
	}
}

type discard struct{}

func (discard) Write(p []byte) (int, error) { return len(p), nil }
