// Command printpack packs what print needs from the open packages under
// node_modules: the typefaces into fonts.zip, and the hyphenation patterns into
// text files in the form that TeX reads. It is run by go generate and writes
// nothing that is kept in version control.
//
//	printpack -modules DIR fonts OUT
//	printpack -modules DIR patterns OUT
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	modules := flag.String("modules", "node_modules", "folder of the installed packages")
	flag.Parse()
	if flag.NArg() != 2 {
		fmt.Fprintln(os.Stderr, "usage: printpack [-modules DIR] fonts|patterns OUT")
		os.Exit(2)
	}
	var err error
	switch what, out := flag.Arg(0), flag.Arg(1); what {
	case "fonts":
		err = packFonts(*modules, filepath.Join(out, "fonts.zip"))
	case "patterns":
		err = packPatterns(*modules, out)
	default:
		err = fmt.Errorf("%q is neither fonts nor patterns", what)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "printpack:", err)
		os.Exit(1)
	}
}
