package storetest

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"bookstead/internal/fault"
	"bookstead/internal/store"
)

var settingCases = []testCase{
	{"Settings.Get gives nothing for what was never set", func(t *testing.T, f *fixture) {
		v, err := f.Settings().Get(f.ctx, "first run")
		f.must(err)
		f.want("value", v, "")
	}},
	{"Settings.Set keeps the last value", func(t *testing.T, f *fixture) {
		for _, v := range []string{"k1", "k2 “two”", ""} {
			f.must(f.Settings().Set(f.ctx, "last kit", v))
			f.must(f.Settings().Set(f.ctx, "another", "stays"))
			got, err := f.Settings().Get(f.ctx, "last kit")
			f.must(err)
			f.want("value", got, v)
		}
		got, err := f.Settings().Get(f.ctx, "another")
		f.must(err)
		f.want("value", got, "stays")
	}},
}

var storeCases = []testCase{
	{"Store.Close may come twice", func(t *testing.T, f *fixture) {
		f.must(f.Close())
		f.must(f.Close())
		if _, err := f.Books().List(f.ctx); err == nil {
			t.Error("a closed store still answers")
		}
	}},
	{"Store.Close waits for what is being written", func(t *testing.T, f *fixture) {
		var wg sync.WaitGroup
		results := make([]error, 8)
		for i := range results {
			wg.Go(func() { results[i] = f.Settings().Set(f.ctx, "last kit", "k") })
		}
		f.must(f.Close())
		wg.Wait()
		for _, err := range results {
			// Written before the end or refused after it, never cut off.
			if err != nil && fault.Of(err).Kind != fault.Internal {
				t.Error(err)
			}
		}
	}},
	{"A context that ends cancels the work of every part", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		ctx, cancel := context.WithCancel(f.ctx)
		cancel()
		_, put := f.Books().Put(ctx, aBook("x", "X", "The x."), at(1))
		_, get := f.Books().Get(ctx, b.ID)
		_, wish := f.Plans().Wish(ctx, c.ID)
		_, opened := f.Kits().Get(ctx, k.ID)
		_, undo := f.Journal().Undo(ctx, store.OfKit(k.ID), store.Any, at(1))
		_, bin := f.Bin().List(ctx)
		_, setting := f.Settings().Get(ctx, "x")
		_, classes := f.Classes().List(ctx)
		for i, err := range []error{put, get, wish, opened, undo, bin, setting, classes} {
			f.wantFault([]string{"put", "get", "wish", "kit", "undo", "bin", "setting", "classes"}[i], err, fault.Canceled)
		}
		late, cancel := context.WithDeadline(f.ctx, time.Unix(0, 0))
		defer cancel()
		err := f.Settings().Set(late, "x", "y")
		f.wantFault("too late", err, fault.Canceled)
		if !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("%v does not say why it stopped", err)
		}
		list, err := f.Books().List(f.ctx)
		f.must(err)
		f.want("library", len(list), 1)
	}},
}
