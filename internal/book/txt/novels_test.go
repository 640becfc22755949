//go:build bench

package txt

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"bookstead/internal/book"
)

// TestNovels reads 81 novels with headings of every fashion. No word may be lost
// or doubled in any; the numbers of chapters, parts and so on are those of the
// printed books.
func TestNovels(t *testing.T) {
	dir := t.TempDir()
	pack, err := filepath.Abs("../../../../shared/corpus/novels.tar.xz")
	if err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("tar", "xJf", pack, "-C", dir).CombinedOutput(); err != nil {
		t.Fatalf("the novels must stand in ../shared/corpus: %v %s", err, out)
	}
	type counts struct{ chapters, parts, intros, conclusions int }
	want := map[string]counts{
		"105_persuasion": {24, 0, 0, 0}, "110_tess": {59, 7, 0, 0}, "1155_the_secret_adversary": {28, 0, 1, 0}, "1260_jane_eyre": {38, 0, 0, 0},
		"1342_pride": {61, 0, 0, 0}, "1400_great": {59, 0, 0, 0}, "145_middlemarch": {86, 8, 0, 1}, "158_emma": {55, 3, 0, 0},
		"1695_the_man": {15, 0, 0, 0}, "174_the_picture": {20, 0, 0, 0}, "2166_king": {20, 0, 0, 0}, "217_sons": {15, 2, 0, 0},
		"2489_moby": {135, 0, 0, 1}, "2641_a_room": {20, 2, 0, 0}, "2814_dubliners": {15, 0, 0, 0}, "32_herland": {12, 0, 0, 0},
		"345_dracula": {27, 0, 0, 0}, "541_the_age": {34, 2, 0, 0}, "60_the_scarlet": {31, 0, 0, 0}, "62_a_princess": {28, 0, 0, 0},
		"6593_history": {208, 18, 0, 0}, "730_oliver": {53, 0, 0, 0}, "73_the_red": {24, 0, 0, 0}, "766_david": {64, 0, 0, 0}, "768_wuthering": {34, 0, 0, 0},
		"77_the_house": {21, 0, 0, 0}, "84_frankenstein": {28, 0, 0, 0}, "940_the_last": {33, 0, 0, 0}, "432_the_ambassadors": {36, 12, 0, 0},
		"1023_bleak": {67, 0, 0, 0}, "599_vanity": {67, 0, 0, 0}, "219_heart": {3, 0, 0, 0},
	}
	files, _ := filepath.Glob(filepath.Join(dir, "novels", "*.txt"))
	if len(files) != 81 {
		t.Fatalf("%d novels, want 81", len(files))
	}
	right := 0
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Read(context.Background(), filepath.Base(f), data, nil)
		if err != nil {
			t.Errorf("%s: %v", filepath.Base(f), err)
			continue
		}
		if err := b.Check(); err != nil {
			t.Errorf("%s: %v", filepath.Base(f), err)
		}
		if len(b.Setaside) > 0 {
			sameCounts(t, filepath.Base(f)+": letter", letterCounts(string(data)), letterCounts(b.Text+strings.Join(b.Setaside, "\n")))
		} else if lettersOf(string(data)) != lettersOf(b.Text) {
			t.Errorf("%s: the letters are not those of the file, in their order", filepath.Base(f))
		}
		for name, w := range want {
			if !strings.HasPrefix(filepath.Base(f), name) {
				continue
			}
			got := counts{parts: len(b.Parts)}
			for _, c := range b.Chapters {
				switch c.Kind {
				case book.Body, book.Story:
					got.chapters++
				case book.Introduction:
					got.intros++
				case book.Conclusion:
					got.conclusions++
				}
			}
			if got != w {
				t.Errorf("%s: %+v, want %+v", name, got, w)
			} else {
				right++
			}
		}
	}
	t.Logf("%d of %d novels with all their chapters", right, len(want))
}

func lettersOf(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, strings.NewReplacer("[Illustration", "", "[Picture", "").Replace(s))
}
