package hyphen

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"
)

// TestAsHyphen divides the familiar words of two open lists as the npm package
// "hyphen" does, which reads the same patterns by code of its own. It keeps two
// letters at both ends. Words that the patterns list as exceptions are left out:
// the package counts their places wrongly.
func TestAsHyphen(t *testing.T) {
	script := `
		const words = [...new Set([...require("dale-chall").daleChall, ...require("spache").spache])].filter(w => /^[a-z]+$/.test(w));
		const out = {};
		for (const lang of ["en-us", "en-gb"]) {
			const {hyphenateSync} = require("hyphen/" + lang);
			out[lang] = words.map(w => hyphenateSync(w, {hyphenChar: "-", minWordLength: 4}));
		}
		console.log(JSON.stringify(out));`
	if _, err := exec.LookPath("node"); err != nil {
		t.Fatal("node is needed for this test")
	}
	cmd := exec.Command("node", "-e", script)
	cmd.Dir = "../../.."
	raw, err := cmd.Output()
	if err != nil {
		t.Fatalf("asking the package (run make generate first): %v", err)
	}
	var lists map[string][]string
	if err := json.Unmarshal(raw, &lists); err != nil {
		t.Fatal(err)
	}
	for lang, words := range lists {
		d, err := English(lang)
		if err != nil {
			t.Fatal(err)
		}
		d.Right = 2
		divided := 0
		for _, want := range words {
			w := strings.ReplaceAll(want, "-", "")
			if _, ok := d.exceptions[w]; ok {
				continue
			}
			if got := divide(d, w); got != want {
				t.Errorf("%s: got %s, the package has %s", lang, got, want)
			}
			if strings.Contains(want, "-") {
				divided++
			}
		}
		if divided < 800 {
			t.Errorf("%s: only %d words were divided", lang, divided)
		}
	}
}
