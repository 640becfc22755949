module bookstead

go 1.26.0

require (
	github.com/alecthomas/kong v1.17.0
	github.com/go-chi/chi/v5 v5.5.0
	github.com/go-text/typesetting v0.3.5
	github.com/gofrs/flock v0.13.2
	github.com/google/go-cmp v0.7.0
	github.com/mattn/go-isatty v0.0.24
	github.com/schollz/progressbar/v3 v3.19.1
	github.com/teambition/rrule-go v1.8.2
	golang.org/x/image v0.47.0
	golang.org/x/net v0.62.0
	golang.org/x/sys v0.50.0
	golang.org/x/text v0.44.0
	modernc.org/sqlite v1.62.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/dustin/go-humanize v1.1.0 // indirect
	github.com/google/uuid v1.6.0 // indirect
	github.com/mitchellh/colorstring v0.0.0-20190213212951-d06e56a500db // indirect
	github.com/ncruces/go-strftime v1.1.0 // indirect
	github.com/remyoudompheng/bigfft v0.0.0-20230129092748-24d4a6f8daec // indirect
	github.com/rivo/uniseg v0.4.7 // indirect
	golang.org/x/term v0.47.0 // indirect
	modernc.org/libc v1.80.1 // indirect
	modernc.org/mathutil v1.7.1 // indirect
	modernc.org/memory v1.12.1 // indirect
)
