package cli

import (
	"fmt"
)

type serveCmd struct {
	Port int  `help:"The port on this computer." default:"7340"`
	Open bool `help:"Open the browser."`
	Demo bool `help:"Put the invented class and its books into an empty library first."`
}

// Run serves the desk until it is stopped.
func (c serveCmd) Run(r *runContext) error {
	w, err := r.workshop()
	if err != nil {
		return err
	}
	defer w.Close()
	if c.Demo {
		if err := w.LayOutDemo(r.ctx); err != nil {
			return err
		}
	}
	return r.Serve(r.ctx, w, ServeOptions{Port: c.Port, Open: c.Open, Print: func(format string, args ...any) {
		fmt.Fprintf(r.Out, format+"\n", args...)
	}})
}
