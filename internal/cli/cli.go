// Package cli is the door for the terminal: it reads arguments, calls the use
// cases of package prepare, and turns faults into sentences and exit codes.
//
// [Run] is the whole program but for the wiring. Results go to standard output,
// everything said to a person to standard error. Exit codes: 0 done, 1 the work
// could not be done, 2 the command was not understood, 130 stopped by the user.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/alecthomas/kong"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

// World is what a command may touch of the outside.
type World struct {
	In  io.Reader
	Out io.Writer
	Err io.Writer
	// Now is the clock.
	Now func() time.Time
	// Version of the program, as --version prints it.
	Version string
	// Open opens the workshop of a data folder; "" is the user's own.
	Open func(ctx context.Context, dir string) (*prepare.Workshop, error)
	// Serve runs the desk until ctx ends.
	Serve func(ctx context.Context, w *prepare.Workshop, opt ServeOptions) error
}

// ServeOptions are what the serve command passes to the desk.
type ServeOptions struct {
	Port  int
	Open  bool // open the browser
	Print func(format string, args ...any)
}

type commands struct {
	Serve     serveCmd     `cmd:"" help:"Open the desk in your browser."`
	Kit       kitCmd       `cmd:"" help:"Make a whole kit from a book: pages, quizzes, test, plan."`
	Import    importCmd    `cmd:"" help:"Bring a book or a kit into your library."`
	Export    exportCmd    `cmd:"" help:"Write a kit as one file that another teacher can bring in."`
	Analyze   analyzeCmd   `cmd:"" help:"Show what Bookstead reads in a text."`
	Sense     senseCmd     `cmd:"" help:"Tell the meaning that a word has where it stands."`
	Pronounce pronounceCmd `cmd:"" help:"Say how words are said, and part them into letters with their sounds."`
	Words     wordsCmd     `cmd:"" help:"Choose the words of a book, and say why."`
	Check     checkCmd     `cmd:"" help:"Judge children’s answers: right, whole, well written. Advice, not a grade."`
	Questions questionsCmd `cmd:"" help:"Draft questions for texts, each with an answer and the place that proves it."`
	Plan      planCmd      `cmd:"" help:"Plan a school year from a file, and lay out a day."`

	Data    string           `help:"Keep books and decisions in this folder instead of your own data folder." placeholder:"DIR" type:"path"`
	Version kong.VersionFlag `help:"Print the version."`
}

// Exit codes.
const (
	exitOK       = 0
	exitFault    = 1
	exitUsage    = 2
	exitCanceled = 130
)

// Run carries out one command line (without the program's name) and returns the
// exit code.
func Run(ctx context.Context, w World, args []string) int {
	var c commands
	code := -1
	parser, err := kong.New(&c,
		kong.Name("bookstead"),
		kong.Description("Bookstead turns a children's novel into a year of short lessons: it reads the book, drafts the kit, and leaves every decision to you. Everything stays on this computer."),
		kong.Vars{"version": w.Version},
		kong.Writers(w.Out, w.Err),
		kong.Exit(func(n int) { code = n }),
		kong.UsageOnError(),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
	)
	if err != nil {
		panic(err) // the struct above is wrong: a defect that every run would show
	}
	if len(args) == 0 {
		args = []string{"serve", "--open"}
	}
	k, err := parser.Parse(args)
	if code >= 0 { // --help or --version was answered
		return code
	}
	if err != nil {
		var pe *kong.ParseError
		if errors.As(err, &pe) {
			fmt.Fprintf(w.Err, "bookstead: %s\nTry \"bookstead --help\" or \"bookstead %s --help\".\n", pe.Error(), commandOf(args))
		} else {
			say(w.Err, err)
		}
		return exitUsage
	}
	err = k.Run(&runContext{ctx: ctx, World: w, data: c.Data})
	return exit(w.Err, err)
}

// runContext is what each command's Run method gets.
type runContext struct {
	World
	ctx  context.Context
	data string
}

func (r *runContext) workshop() (*prepare.Workshop, error) { return r.Open(r.ctx, r.data) }

func commandOf(args []string) string {
	for _, a := range args {
		if len(a) > 0 && a[0] != '-' {
			return a
		}
	}
	return "serve"
}

func exit(w io.Writer, err error) int {
	switch {
	case err == nil:
		return exitOK
	case errors.Is(err, context.Canceled) || fault.Is(err, fault.Canceled):
		fmt.Fprintln(w, "bookstead: stopped. Nothing was left half-written.")
		return exitCanceled
	}
	say(w, err)
	return exitFault
}

// say tells a person what is wrong: the message, the hint on its own line, and
// the cause only for a defect of ours.
func say(w io.Writer, err error) {
	f := fault.Of(err)
	fmt.Fprintf(w, "bookstead: %s\n", f.Message)
	if f.Hint != "" {
		fmt.Fprintf(w, "%s\n", f.Hint)
	}
	if f.Kind == fault.Internal {
		fmt.Fprintf(w, "(%v)\n", err)
	}
}
