package lexicon

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestSpelled(t *testing.T) {
	l := opened(t)
	for _, c := range []struct {
		word   string
		us, gb bool
	}{
		{"garden", true, true}, {"gardens", true, true}, {"Garden", true, true}, {"GARDEN", true, true}, {"gArden", false, false},
		{"London", true, true}, {"london", false, false}, {"LONDON", true, true}, {"McGee", true, true}, {"MCGEE", true, true},
		{"color", true, false}, {"colour", false, true}, {"grey", false, true}, {"colours", false, true},
		{"unhappiness", true, true}, {"misunderstood", true, true}, {"rewrapped", false, false}, {"unablest", false, false}, {"readoptive", false, false},
		{"don't", true, true}, {"don’t", true, true}, {"Mary's", true, true}, {"ain't", true, true},
		{"well-known", true, true}, {"well-knwon", false, false}, {"color-colour", false, false},
		{"1st", true, true}, {"21st", true, true}, {"112th", true, true}, {"12nd", false, false}, {"2th", false, false}, {"1887", true, true},
		{"etc.", true, true}, {"recieve", false, false}, {"", false, false}, {"!", false, false}, {"^Mcgee", false, false},
	} {
		us, gb := l.Spelled(c.word)
		if us != c.us || gb != c.gb {
			t.Errorf("Spelled(%q) = %v, %v, want %v, %v", c.word, us, gb, c.us, c.gb)
		}
		if l.Correct(c.word) != (c.us || c.gb) {
			t.Errorf("Correct(%q) = %v", c.word, !(c.us || c.gb))
		}
	}
}

// The reader of affixes is compared with hunspell itself, given the same files:
// stems, forms made of them rightly and wrongly, and the words of old novels.
// Words with apostrophes and hyphens are left out, as hunspell's command parts
// them before it looks them up.
func TestSpellingAgainstHunspell(t *testing.T) {
	hunspell, err := exec.LookPath("hunspell")
	if err != nil {
		t.Fatalf("hunspell is needed to compare with (make debian installs it): %v", err)
	}
	l := opened(t)
	var words []string
	take := func(word string) {
		if !strings.ContainsAny(word, "'’-. ^") && word != "" {
			words = append(words, word)
		}
	}
	n := 0
	for stem := range l.stems.Prefix("") {
		if n++; n%9 == 0 {
			for _, w := range []string{stem, strings.ToUpper(stem), strings.ToLower(stem), stem + "s", stem + "ing", stem + "ness", "un" + stem, "re" + stem + "ed"} {
				take(w)
			}
		}
	}
	for w := range l.books.Prefix("") {
		if n++; n%7 == 0 {
			take(w)
			take(capitalised(w))
			if len(w) > 4 && w[2] < 0x80 && w[1] < 0x80 {
				take(w[:2] + w[3:])
			}
		}
	}
	for i, pkg := range []string{"dictionary-en", "dictionary-en-gb"} {
		dir := t.TempDir()
		for _, ext := range []string{"aff", "dic"} {
			data, err := os.ReadFile(filepath.Join("..", "..", "node_modules", pkg, "index."+ext))
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, "d."+ext), data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		cmd := exec.Command(hunspell, "-d", filepath.Join(dir, "d"), "-i", "utf-8", "-l")
		cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8")
		cmd.Stdin = strings.NewReader(strings.Join(words, "\n") + "\n")
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("running hunspell: %v", err)
		}
		wrong := map[string]bool{}
		for _, w := range strings.Split(string(out), "\n") {
			wrong[w] = true
		}
		if len(wrong) < 10000 || len(wrong) > len(words)-10000 {
			t.Fatalf("hunspell refuses %d of %d words", len(wrong), len(words))
		}
		differ := 0
		for _, w := range words {
			us, gb := l.Spelled(w)
			if right := []bool{us, gb}[i]; right == wrong[w] {
				if differ++; differ <= 20 {
					t.Logf("%s: %q is right: %v, by hunspell %v", pkg, w, right, !wrong[w])
				}
			}
		}
		if differ > len(words)/10000 {
			t.Errorf("%s: %d of %d words are judged otherwise than by hunspell", pkg, differ, len(words))
		}
	}
}

func TestSuggest(t *testing.T) {
	l := opened(t)
	for _, c := range []struct{ word, first string }{
		{"recieve", "receive"}, {"freind", "friend"}, {"becuase", "because"}, {"definately", "definitely"}, {"gardin", "garden"},
		{"wierd", "weird"}, {"Recieve", "Receive"}, {"thier", "their"}, {"alltogether", "altogether"},
	} {
		if got := l.Suggest(c.word); len(got) == 0 || got[0] != c.first {
			t.Errorf("Suggest(%q) = %q, want %q first", c.word, got, c.first)
		}
	}
	if got := l.Suggest("ofthe"); !slices.Contains(got, "of the") {
		t.Errorf("Suggest(ofthe) = %q", got)
	}
	for _, word := range []string{"fuk", "shitt", "nigge", "cuntt", "squawe"} {
		for _, s := range l.Suggest(word) {
			if _, bad := l.Offensive(s); bad {
				t.Errorf("Suggest(%q) offers %q", word, s)
			}
		}
	}
	for _, word := range []string{"", " ", strings.Repeat("x", 100), "\xff\xfe", "ééé"} {
		for _, s := range l.Suggest(word) {
			if len(s) > 40 {
				t.Errorf("Suggest(%q) = %q", word, s)
			}
		}
	}
}
