package storetest

import (
	"testing"

	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/store"
)

var classCases = []testCase{
	{"Classes.Create and Get give the same class", func(t *testing.T, f *fixture) {
		c := aClass("c4", "Grade 4")
		f.must(f.Classes().Create(f.ctx, c, at(0)))
		got, err := f.Classes().Get(f.ctx, c.ID)
		f.must(err)
		f.want("class", got, store.Class{Class: c, Standing: store.Standing{Head: 1, Revisions: map[store.Key]store.Revision{store.ClassKey: 1}}})
		f.wantFault("again", f.Classes().Create(f.ctx, c, at(1)), fault.Conflict)
		f.must(f.Classes().Delete(f.ctx, c.ID, false, at(1)))
		f.wantFault("in the bin", f.Classes().Create(f.ctx, c, at(2)), fault.Conflict)
	}},
	{"Classes.Get finds nothing", func(t *testing.T, f *fixture) {
		_, err := f.Classes().Get(f.ctx, "nowhere")
		f.wantFault("get", err, fault.NotFound)
	}},
	{"Classes.List is by name", func(t *testing.T, f *fixture) {
		for _, name := range []string{"owls", "Larks", "Terns"} {
			f.must(f.Classes().Create(f.ctx, aClass(class.ID(name), name), at(0)))
		}
		f.must(f.Classes().Delete(f.ctx, "Terns", false, at(1)))
		list, err := f.Classes().List(f.ctx)
		f.must(err)
		f.want("classes", list, []class.Class{aClass("Larks", "Larks"), aClass("owls", "owls")})
	}},
	{"Classes.Delete is refused while a kit uses the class, unless forced", func(t *testing.T, f *fixture) {
		_, c, k := f.library()
		f.wantFault("delete", f.Classes().Delete(f.ctx, c.ID, false, at(2)), fault.Conflict)
		f.kit(k.ID)
		f.must(f.Classes().Delete(f.ctx, c.ID, true, at(2)))
		_, err := f.Classes().Get(f.ctx, c.ID)
		f.wantFault("class", err, fault.NotFound)
		_, err = f.Kits().Get(f.ctx, k.ID)
		f.wantFault("its kit", err, fault.NotFound)
		_, err = f.Plans().Wish(f.ctx, c.ID)
		f.wantFault("its wish", err, fault.NotFound)
		f.wantFault("delete again", f.Classes().Delete(f.ctx, c.ID, true, at(3)), fault.NotFound)
	}},
}
