package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"strings"
	"testing"
)

func TestWords(t *testing.T) {
	for in, want := range map[string]string{
		"The cat--a _good-natured_ cat--sat.": "the cat a good-natured cat sat",
		"“It’s Mary’s,” said Tom.":            "it's mary said tom",
		"Don't! 'Tis six o'clock.":            "don't tis six o'clock",
		"the boys' caps; well-\nknown":        "the boys caps well known",
		"":                                    "",
		"123 -- ...":                          "",
	} {
		if got := strings.Join(words(in), " "); got != want {
			t.Errorf("words(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestTable(t *testing.T) {
	c := counter{counts: map[string]*tally{}}
	c.add("a cat and a dog")
	c.add("A cat once")
	data, err := c.table()
	if err != nil {
		t.Fatal(err)
	}
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	got, _ := io.ReadAll(z)
	if want := "# tokens 8 types 5 novels 2\na\t3\t2\nand\t1\t1\ncat\t2\t2\ndog\t1\t1\nonce\t1\t1\n"; string(got) != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
