// Command webvendor copies what the desk takes from open packages under
// node_modules: the script htmx and the typefaces of the screen. It is run by go
// generate and writes nothing that is kept in version control.
//
//	webvendor -modules DIR OUT
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

// files maps a package's file to its name on the desk.
var files = [][2]string{
	{"htmx.org/dist/htmx.min.js", "htmx.min.js"},
	{"@fontsource-variable/literata/files/literata-latin-wght-normal.woff2", "literata-roman.woff2"},
	{"@fontsource-variable/literata/files/literata-latin-wght-italic.woff2", "literata-italic.woff2"},
	{"@fontsource-variable/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-normal.woff2", "atkinson-roman.woff2"},
	{"@fontsource-variable/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-italic.woff2", "atkinson-italic.woff2"},
}

func main() {
	modules := flag.String("modules", "node_modules", "folder of the installed packages")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "usage: webvendor [-modules DIR] OUT")
		os.Exit(2)
	}
	if err := copyAll(*modules, flag.Arg(0)); err != nil {
		fmt.Fprintln(os.Stderr, "webvendor:", err)
		os.Exit(1)
	}
}

func copyAll(modules, out string) error {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		data, err := os.ReadFile(filepath.Join(modules, filepath.FromSlash(f[0])))
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(out, f[1]), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
