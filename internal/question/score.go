package question

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Section is a stretch of a story with the questions that experts ask of it, as
// FairytaleQA (Xu et al. 2022) has them.
type Section struct {
	ID   string // story and number of the section
	Text string
	Asks []Expert
}

// Expert is one expert question with every answer that counts as right.
type Expert struct {
	ID       int // its row
	Question string
	Answers  []string
	Kind     string
	Explicit bool // the answer stands in the text
}

// ReadFairytale reads sections and questions in the columns of FairytaleQA's
// files. A question about several sections is among the Asks of each.
func ReadFairytale(sections, questions io.Reader) ([]Section, error) {
	rows, err := readCSV(sections)
	if err != nil {
		return nil, fmt.Errorf("reading sections: %w", err)
	}
	var out []Section
	at := map[string]int{}
	for _, r := range rows {
		id := r["story"] + "/" + r["section"]
		at[id] = len(out)
		out = append(out, Section{ID: id, Text: r["text"]})
	}
	rows, err = readCSV(questions)
	if err != nil {
		return nil, fmt.Errorf("reading questions: %w", err)
	}
	for n, r := range rows {
		x := Expert{ID: n, Question: r["question"], Kind: r["attribute1"], Explicit: r["ex-or-im1"] == "explicit"}
		for n := 1; n <= 6; n++ {
			if a := r[fmt.Sprintf("answer%d", n)]; a != "" {
				x.Answers = append(x.Answers, a)
			}
		}
		for _, n := range strings.Split(r["cor_section"], ",") {
			if i, ok := at[r["story"]+"/"+strings.TrimSpace(n)]; ok {
				out[i].Asks = append(out[i].Asks, x)
			}
		}
	}
	return out, nil
}

// readCSV returns each row by the names in the first.
func readCSV(r io.Reader) ([]map[string]string, error) {
	all, err := csv.NewReader(r).ReadAll()
	if err != nil || len(all) == 0 {
		return nil, err
	}
	var out []map[string]string
	for _, row := range all[1:] {
		m := map[string]string{}
		for i, v := range row {
			m[all[0][i]] = v
		}
		out = append(out, m)
	}
	return out, nil
}

// Measure is what drafts of many sections are worth against experts. A question
// about several sections counts once, with the best drafts of any.
type Measure struct{ by map[int]outcome }

type outcome struct {
	kind string
	// found: some draft asks it with the right answer, Rouge-L F1 of question
	// and of answer each at .5 or more.
	found bool
	// best Rouge-L F1 of question and answer in one row against those of a draft:
	// their mean is the MAP@N of Yao et al. 2022.
	best float64
}

// Add measures the drafts of one section, of which the first n count.
func (m *Measure) Add(s Section, drafts []Asked, n int) {
	if m.by == nil {
		m.by = map[int]outcome{}
	}
	drafts = drafts[:min(n, len(drafts))]
	for _, x := range s.Asks {
		o := m.by[x.ID]
		o.kind = x.Kind
		for _, d := range drafts {
			o.found = o.found || x.agrees(d.Question, d.Answer)
			for _, a := range x.Answers {
				o.best = max(o.best, RougeL(x.Question+" "+a, d.Question+" "+d.Answer))
			}
		}
		m.by[x.ID] = o
	}
}

// Count returns how many expert questions of a kind were found, of how many,
// and the mean of the best agreement (MAP@N); "" counts all kinds.
func (m *Measure) Count(kind string) (found, asked int, mapN float64) {
	ids := make([]int, 0, len(m.by))
	for id := range m.by {
		ids = append(ids, id)
	}
	slices.Sort(ids) // sums of fractions depend on their order
	for _, id := range ids {
		o := m.by[id]
		if kind != "" && o.kind != kind {
			continue
		}
		asked++
		mapN += o.best
		if o.found {
			found++
		}
	}
	return found, asked, mapN / float64(max(1, asked))
}

// agrees reports whether a draft asks what the expert asks and answers right.
func (x Expert) agrees(question, answer string) bool {
	if RougeL(x.Question, question) < 0.5 {
		return false
	}
	for _, a := range x.Answers {
		if RougeL(a, answer) >= 0.5 {
			return true
		}
	}
	return false
}
