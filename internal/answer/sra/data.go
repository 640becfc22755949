package sra

import (
	"archive/tar"
	"compress/gzip"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path"
	"slices"
	"strings"
)

// Archive is where the training part lies in the folder of the data.
const Archive = "short-answer/training.tar.gz"

// Question is one file of the data: a question with its answers.
type Question struct {
	ID         string `xml:"id,attr"`
	Set        string `xml:"-"` // "beetle" or "sciEntsBank"
	Text       string `xml:"questionText"`
	References []struct {
		Text string `xml:",chardata"`
	} `xml:"referenceAnswers>referenceAnswer"`
	Answers []struct {
		ID       string `xml:"id,attr"`
		Accuracy string `xml:"accuracy,attr"`
		Text     string `xml:",chardata"`
	} `xml:"studentAnswers>studentAnswer"`
}

// Right are the right answers.
func (q Question) Right() []string {
	var out []string
	for _, r := range q.References {
		out = append(out, strings.TrimSpace(r.Text))
	}
	return out
}

// Read reads the two-way training part, sorted by id.
func Read(archive string) ([]Question, error) {
	f, err := os.Open(archive)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, fmt.Errorf("unpacking %s: %w", archive, err)
	}
	var out []Question
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("unpacking %s: %w", archive, err)
		}
		if !strings.Contains(h.Name, "/2way/") || path.Ext(h.Name) != ".xml" {
			continue
		}
		var q Question
		if err := xml.NewDecoder(r).Decode(&q); err != nil {
			return nil, fmt.Errorf("reading %s: %w", h.Name, err)
		}
		q.Set = path.Base(path.Dir(h.Name))
		out = append(out, q)
	}
	slices.SortFunc(out, func(a, b Question) int { return strings.Compare(a.ID, b.ID) })
	return out, nil
}
