package pack

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
)

func table(t *testing.T, keys []string) Table {
	t.Helper()
	var w TableWriter
	for _, k := range keys {
		w.Add(k, []byte("="+k))
	}
	data, err := w.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	tab, err := ReadTable(data)
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

// Every key is found with its own value and every string between two is not,
// for all sizes around the borders of blocks.
func TestTableFindsWhatIsThere(t *testing.T) {
	for _, n := range []int{0, 1, 15, 16, 17, 32, 33, 500} {
		var keys []string
		for i := range n {
			keys = append(keys, fmt.Sprintf("k%03d", i*2))
		}
		tab := table(t, keys)
		if tab.Len() != n {
			t.Fatalf("Len = %d, want %d", tab.Len(), n)
		}
		for i, k := range keys {
			at, v, ok := tab.Find(k)
			if !ok || at != i || string(v) != "="+k {
				t.Errorf("n=%d: Find(%q) = %d, %q, %v", n, k, at, v, ok)
			}
			if key, v := tab.At(i); key != k || string(v) != "="+k {
				t.Errorf("n=%d: At(%d) = %q, %q", n, i, key, v)
			}
			if _, ok := tab.Get(fmt.Sprintf("k%03d", i*2+1)); ok {
				t.Errorf("n=%d: a key that was never added was found", n)
			}
		}
		for _, k := range []string{"", "a", "z", "k", "k9999"} {
			if _, ok := tab.Get(k); ok {
				t.Errorf("n=%d: Get(%q) found something", n, k)
			}
		}
	}
}

func TestPrefix(t *testing.T) {
	tab := table(t, []string{"set", "set about", "set out", "set up", "setter", "sew", "zeta"})
	for _, c := range []struct{ prefix, want string }{
		{"set ", "set about,set out,set up"}, {"z", "zeta"}, {"x", ""}, {"", "set,set about,set out,set up,setter,sew,zeta"},
	} {
		var got []string
		for k := range tab.Prefix(c.prefix) {
			got = append(got, k)
		}
		if strings.Join(got, ",") != c.want {
			t.Errorf("Prefix(%q) = %v", c.prefix, got)
		}
	}
}

func TestTableRefusesTwins(t *testing.T) {
	var w TableWriter
	w.Add("a", nil)
	w.Add("a", nil)
	if _, err := w.Bytes(); err == nil {
		t.Error("a key added twice was taken")
	}
}

func TestBlocks(t *testing.T) {
	var w BlocksWriter
	var texts []string
	for i := range 3000 {
		s := strings.Repeat(fmt.Sprintf("text %d; ", i), i%7)
		texts = append(texts, s)
		if n := w.Add(s); n != i {
			t.Fatalf("Add returned %d, want %d", n, i)
		}
	}
	data, err := w.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	s, err := ReadBlocks(data)
	if err != nil || s.Len() != len(texts) {
		t.Fatalf("ReadBlocks: %v, %d texts", err, s.Len())
	}
	if len(s.once) < 2 {
		t.Fatal("the test needs more than one block")
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for i, want := range texts {
				if got := s.Text(i); got != want {
					t.Errorf("Text(%d) = %q", i, got)
				}
			}
		})
	}
	wg.Wait()
}

func TestFile(t *testing.T) {
	var w Writer
	w.Add("ABCD", []byte("first"))
	w.Add("EFGH", nil)
	w.Add("IJKL", []byte("third"))
	data := w.Bytes()
	if again := w.Bytes(); !bytes.Equal(data, again) {
		t.Error("the same sections gave other bytes")
	}
	f, err := Open(data)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"ABCD": "first", "EFGH": "", "IJKL": "third"} {
		if got, err := f.Section(name); err != nil || string(got) != want {
			t.Errorf("Section(%q) = %q, %v", name, got, err)
		}
	}
	if _, err := f.Section("ZZZZ"); err == nil {
		t.Error("a section that is not there was found")
	}
	if err := f.Verify(); err != nil {
		t.Error(err)
	}
	bad := slices.Clone(data)
	bad[len(bad)-1] ^= 1
	f, err = Open(bad)
	if err != nil {
		t.Fatal(err)
	}
	if f.Verify() == nil {
		t.Error("a changed byte was not noticed")
	}
}

// Whatever is cut off, opening says so or finds less; it never panics.
func TestCutOff(t *testing.T) {
	var w Writer
	w.Add("ABCD", []byte("first"))
	data := w.Bytes()
	for n := range data {
		if _, err := Open(data[:n]); err == nil {
			t.Errorf("%d of %d bytes were taken for a pack", n, len(data))
		}
	}
	if _, err := ReadTable([]byte{9, 0, 0, 0, 1, 0, 0, 0}); err == nil {
		t.Error("a table without its blocks was taken")
	}
	if _, err := ReadBlocks([]byte{9, 0, 0, 0, 1, 0, 0, 0}); err == nil {
		t.Error("texts without their blocks were taken")
	}
}
