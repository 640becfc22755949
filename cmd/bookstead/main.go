// Command bookstead is the program: it wires the store, the desk and the
// terminal together. It is the only place that names a database and the clock.
package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"syscall"
	"time"

	"bookstead/internal/cli"
	"bookstead/internal/fault"
	"bookstead/internal/prepare"
	"bookstead/internal/store/sqlite"
	"bookstead/internal/web"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := cli.Run(ctx, cli.World{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Now: time.Now, Version: version(), Open: open, Serve: serve}, os.Args[1:])
	stop()
	os.Exit(code)
}

func version() string {
	if b, ok := debug.ReadBuildInfo(); ok && b.Main.Version != "" {
		return b.Main.Version
	}
	return "unreleased"
}

// open opens the workshop in a data folder, by default the user's own.
func open(ctx context.Context, dir string) (*prepare.Workshop, error) {
	if dir == "" {
		base, err := dataHome()
		if err != nil {
			return nil, fault.Wrap(fault.Full, err, "Your own data folder cannot be found.", "Name a folder with --data DIR.")
		}
		dir = filepath.Join(base, "bookstead")
	}
	s, err := sqlite.Open(ctx, dir, time.Now())
	if err != nil {
		return nil, err
	}
	return prepare.New(s, time.Now), nil
}

// dataHome is where programs keep a user's data: the XDG folder on Linux, the
// usual ones on macOS and Windows.
func dataHome() (string, error) {
	if runtime.GOOS == "linux" {
		if d := os.Getenv("XDG_DATA_HOME"); d != "" {
			return d, nil
		}
		home, err := os.UserHomeDir()
		return filepath.Join(home, ".local", "share"), err
	}
	return os.UserConfigDir() // ~/Library/Application Support, %AppData%
}

// serve runs the desk on the loopback address until ctx ends.
func serve(ctx context.Context, w *prepare.Workshop, opt cli.ServeOptions) error {
	host := net.JoinHostPort("127.0.0.1", strconv.Itoa(opt.Port))
	l, err := new(net.ListenConfig).Listen(ctx, "tcp", host)
	if err != nil {
		return fault.Wrap(fault.Busy, err, fmt.Sprintf("Port %d of this computer is in use.", opt.Port), "Perhaps Bookstead is already running; else choose another port with --port.")
	}
	host = l.Addr().String()
	srv := &http.Server{Handler: web.New(ctx, w, host, slog.New(slog.NewTextHandler(os.Stderr, nil))), ReadHeaderTimeout: 10 * time.Second}
	url := "http://" + host + "/"
	opt.Print("Bookstead is open at %s", url)
	opt.Print("Only this computer can see it. Stop it with Ctrl+C.")
	if opt.Open {
		openBrowser(url)
	}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(l) }()
	select {
	case err = <-done:
	case <-ctx.Done():
		end, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
		defer cancel()
		err = srv.Shutdown(end)
	}
	if err != nil && !errors.Is(err, http.ErrServerClosed) && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("serving the desk: %w", err)
	}
	opt.Print("Everything is saved.")
	return nil
}

// openBrowser tries to open the page; when it can't, the address was printed.
func openBrowser(url string) {
	var cmd *exec.Cmd
	switch runtime.GOOS {
	case "darwin":
		cmd = exec.Command("open", url)
	case "windows":
		cmd = exec.Command("rundll32", "url.dll,FileProtocolHandler", url)
	default:
		if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
			return
		}
		cmd = exec.Command("xdg-open", url)
	}
	if cmd.Start() == nil {
		go cmd.Wait() //nolint:errcheck // the browser is not ours
	}
}
