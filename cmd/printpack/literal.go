package main

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// parseLiteral reads a JavaScript literal made of arrays, objects with plain or
// quoted keys, and whole numbers, which is all that the pattern files hold.
// What follows the literal is not read.
func parseLiteral(s string) (any, error) {
	p := &literal{s: s}
	v, err := p.value()
	if err != nil {
		return nil, fmt.Errorf("at byte %d: %w", p.i, err)
	}
	return v, nil
}

type literal struct {
	s string
	i int
}

// next skips white space and returns the byte that follows, 0 at the end.
func (p *literal) next() byte {
	for p.i < len(p.s) && strings.IndexByte(" \t\r\n", p.s[p.i]) >= 0 {
		p.i++
	}
	if p.i == len(p.s) {
		return 0
	}
	return p.s[p.i]
}

func (p *literal) value() (any, error) {
	switch c := p.next(); {
	case c == '[':
		return p.array()
	case c == '{':
		return p.object()
	case c >= '0' && c <= '9':
		from := p.i
		for p.i < len(p.s) && p.s[p.i] >= '0' && p.s[p.i] <= '9' {
			p.i++
		}
		return strconv.Atoi(p.s[from:p.i])
	}
	return nil, fmt.Errorf("no value starts here")
}

func (p *literal) array() (any, error) {
	p.i++
	var out []any
	for p.next() != ']' {
		v, err := p.value()
		if err != nil {
			return nil, err
		}
		out = append(out, v)
		if p.next() == ',' {
			p.i++
		} else if p.next() != ']' {
			return nil, fmt.Errorf("an array goes on without a comma")
		}
	}
	p.i++
	return out, nil
}

func (p *literal) object() (any, error) {
	p.i++
	out := map[string]any{}
	for p.next() != '}' {
		k, err := p.key()
		if err != nil {
			return nil, err
		}
		if p.next() != ':' {
			return nil, fmt.Errorf("key %q has no colon", k)
		}
		p.i++
		if out[k], err = p.value(); err != nil {
			return nil, err
		}
		if p.next() == ',' {
			p.i++
		} else if p.next() != '}' {
			return nil, fmt.Errorf("an object goes on without a comma")
		}
	}
	p.i++
	return out, nil
}

func (p *literal) key() (string, error) {
	if c := p.next(); c == '"' || c == '\'' {
		end := strings.IndexByte(p.s[p.i+1:], c)
		if end < 0 {
			return "", fmt.Errorf("a quoted key does not end")
		}
		k := p.s[p.i+1 : p.i+1+end]
		p.i += end + 2
		return k, nil
	}
	from := p.i
	for p.i < len(p.s) {
		r, n := utf8.DecodeRuneInString(p.s[p.i:])
		if !unicode.IsLetter(r) && r != '_' && r != '$' {
			break
		}
		p.i += n
	}
	if from == p.i {
		return "", fmt.Errorf("no key starts here")
	}
	return p.s[from:p.i], nil
}
