package sqlite_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/store"
	"bookstead/internal/store/sqlite"
)

// The environment that makes the test's own program a teacher at work.
const workIn, workFrom = "BOOKSTEAD_TEST_WORK_IN", "BOOKSTEAD_TEST_WORK_FROM"

func TestMain(m *testing.M) {
	if dir := os.Getenv(workIn); dir != "" {
		if err := work(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	os.Exit(m.Run())
}

// work does one thing after the other and says so on standard output once it is
// acknowledged, until it is killed. What the store holds after n things is known:
// see after.
func work(dir string) error {
	var n int
	if _, err := fmt.Sscan(os.Getenv(workFrom), &n); err != nil {
		return err
	}
	ctx := context.Background()
	// Each start is another day, so that kills fall into backups too.
	s, err := sqlite.Open(ctx, dir, today.AddDate(0, 0, n))
	if err != nil {
		return err
	}
	if err := setUp(ctx, s); err != nil {
		return err
	}
	for n++; ; n++ {
		if err := do(ctx, s, n); err != nil {
			return fmt.Errorf("thing %d: %w", n, err)
		}
		fmt.Println(n)
	}
}

func setUp(ctx context.Context, s *sqlite.Store) error {
	if _, err := s.Kits().Get(ctx, "k"); !fault.Is(err, fault.NotFound) {
		return err
	}
	if _, err := s.Books().Put(ctx, aText(0), today); err != nil {
		return err
	}
	if err := s.Classes().Create(ctx, class.Class{ID: "c", Name: "Grade 4"}, today); err != nil && !fault.Is(err, fault.Conflict) {
		return err
	}
	return s.Kits().Create(ctx, kit.Kit{ID: "k", Book: "b", Class: "c"}, today)
}

func aText(n int) *book.Book {
	return &book.Book{ID: "b", Title: fmt.Sprint(n), Text: strings.Repeat(fmt.Sprintln("Line", n), 5_000)}
}

// do does thing n: four changes of three decisions at once, an undo, a redo, a
// corrected file, and so on.
func do(ctx context.Context, s *sqlite.Store, n int) error {
	switch n % 7 {
	case 4:
		_, err := s.Journal().Undo(ctx, store.OfKit("k"), store.Any, today)
		return err
	case 5:
		_, err := s.Journal().Redo(ctx, store.OfKit("k"), store.Any, today)
		return err
	case 6:
		_, err := s.Books().Put(ctx, aText(n), today)
		return err
	}
	var edits []store.Edit
	for i := range 3 {
		edits = append(edits, store.SetDecision(decision(i, fmt.Sprint(n)), store.Any))
	}
	_, err := s.Journal().Change(ctx, store.OfKit("k"), store.Change{Label: fmt.Sprint(n), At: today, Edits: edits})
	return err
}

// state is what can be told of a store: the head of the decisions, how many
// steps there are, and the book's title.
type state struct {
	decision, steps int
	title           string
}

// after is the state after n things.
func after(n int) (st state) {
	st.title = "0"
	for i := 1; i <= n; i++ {
		switch i % 7 {
		case 4:
			st.decision = i - 2
		case 5:
			st.decision = i - 2
		case 6:
			st.title = fmt.Sprint(i)
		default:
			st.decision = i
			st.steps++
		}
	}
	return st
}

// found is the state of a store, which must be whole.
func found(t *testing.T, s *sqlite.Store) (st state) {
	t.Helper()
	whole(t, s)
	k, err := s.Kits().Get(t.Context(), "k")
	if err != nil {
		t.Fatal(err)
	}
	for i, d := range k.Decisions {
		var head int
		if _, err := fmt.Sscan(d.Content.Head, &head); err != nil {
			t.Fatal(err)
		}
		if i > 0 && head != st.decision {
			t.Fatalf("a step was half done: the decisions are %d and %d", st.decision, head)
		}
		st.decision = head
	}
	h, err := s.Journal().History(t.Context(), store.OfKit("k"), 0)
	if err != nil {
		t.Fatal(err)
	}
	b, err := s.Books().Get(t.Context(), "b")
	if err != nil {
		t.Fatal(err)
	}
	var n int
	if _, err := fmt.Sscan(b.Title, &n); err != nil || b.Text != aText(n).Text {
		t.Fatalf("the text of %q is not its own", b.Title)
	}
	st.steps, st.title = len(h), b.Title
	return st
}

// TestKilledAtAnyMoment kills a program at work again and again, at moments from
// its start on. Whatever it acknowledged is there afterwards; at most the one
// thing that it was about to acknowledge is there besides; nothing is half done.
func TestKilledAtAnyMoment(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	dir, last, empty := t.TempDir(), 0, 0
	for round := range 20 {
		said := kill(t, dir, last, round%2 == 0, time.Duration(rng.IntN(80))*time.Millisecond)
		if said == last {
			empty++
		}
		s, err := sqlite.Open(t.Context(), dir, today)
		if err != nil {
			t.Fatalf("round %d: after %d things: %v", round, said, err)
		}
		if err := setUp(t.Context(), s); err != nil {
			t.Fatal(err)
		}
		got := found(t, s)
		closed(t, s)
		switch got {
		case after(said):
			last = said
		case after(said + 1):
			last = said + 1
		default:
			t.Fatalf("round %d: %d things were acknowledged, so %+v or %+v; the store holds %+v", round, said, after(said), after(said+1), got)
		}
	}
	t.Logf("%d things in 20 lives, %d of them killed before the first", last, empty)
	if last < 10 {
		t.Errorf("only %d things were done: the kills came too early to tell", last)
	}
}

// kill starts a program that goes on from thing n, kills it after a while, and
// returns the last thing that it acknowledged. A patient kill counts from the
// first thing done, not from the start, so that a slow machine gets somewhere.
func kill(t *testing.T, dir string, n int, patient bool, after time.Duration) (said int) {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), os.Args[0])
	cmd.Env = append(os.Environ(), workIn+"="+dir, fmt.Sprintf("%s=%d", workFrom, n))
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	said = n
	lines := bufio.NewScanner(out)
	if patient && lines.Scan() {
		fmt.Sscan(lines.Text(), &said) //nolint:errcheck // a line cut off by the kill was never said
	}
	stop := time.AfterFunc(after, func() { cmd.Process.Kill() }) //nolint:errcheck // it may be dead
	for lines.Scan() {
		fmt.Sscan(lines.Text(), &said) //nolint:errcheck // as above
	}
	stop.Stop()
	cmd.Wait() //nolint:errcheck // it was killed
	if complaint.Len() > 0 {
		t.Fatalf("it ended by itself: %s", complaint.String())
	}
	return said
}
