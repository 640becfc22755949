// Package storetest holds what every store must do, as tests of the contract in
// package store. A store runs all of it with one call of [Run]; a method that no
// case here is named after does not exist, and [Run] fails over it.
package storetest

import (
	"reflect"
	"strings"
	"testing"

	"bookstead/internal/store"
)

// testCase is one promise: its name begins with the method that makes it.
type testCase struct {
	name string
	run  func(t *testing.T, f *fixture)
}

// Run runs the suite. open gives an empty store for one case; the suite closes it.
func Run(t *testing.T, open func(t *testing.T) store.Store) {
	var cases []testCase
	for _, list := range [][]testCase{bookCases, classCases, kitCases, planCases, journalCases, binCases, settingCases, storeCases} {
		cases = append(cases, list...)
	}
	for _, m := range methods(reflect.TypeFor[store.Store]()) {
		if !covered(m, cases) {
			t.Errorf("no case is named after %s", m)
		}
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := open(t)
			defer func() {
				if err := s.Close(); err != nil {
					t.Errorf("closing: %v", err)
				}
			}()
			c.run(t, &fixture{T: t, Store: s, ctx: t.Context()})
		})
	}
}

func covered(method string, cases []testCase) bool {
	for _, c := range cases {
		if strings.HasPrefix(c.name, method+" ") {
			return true
		}
	}
	return false
}

// methods are the names of all methods of the store's parts, "Books.Put", and of
// the store's own, "Store.Close".
func methods(s reflect.Type) (out []string) {
	for i := range s.NumMethod() {
		m := s.Method(i)
		if m.Type.NumOut() != 1 || m.Type.NumIn() != 0 || !strings.HasPrefix(m.Type.Out(0).PkgPath(), s.PkgPath()) {
			out = append(out, "Store."+m.Name)
			continue
		}
		part := m.Type.Out(0)
		for j := range part.NumMethod() {
			out = append(out, part.Name()+"."+part.Method(j).Name)
		}
	}
	return out
}
