# Bookstead. `make run` starts it, `make test` checks it.
SHELL := /bin/bash
GO ?= go
export CGO_ENABLED = 0

PACK  := internal/lexicon/packed/pack.bin
STAMP := node_modules/.installed

.PHONY: help run build test check bench generate debian clean cross

help: ## say what each target does
	@grep -hE '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:[^#]*## /\t/' | expand -t 12

run: build ## build, start the program on the demo class and open the browser
	bin/bookstead serve --demo --open

build: generate ## leave bin/bookstead: one static program
	$(GO) build -trimpath -ldflags '-s -w' -o bin/bookstead ./cmd/bookstead

cross: generate ## the same for macOS and Windows, to see that it builds
	GOOS=darwin GOARCH=arm64 $(GO) build -trimpath -o bin/bookstead-macos ./cmd/bookstead
	GOOS=windows GOARCH=amd64 $(GO) build -trimpath -o bin/bookstead.exe ./cmd/bookstead

generate: $(STAMP) ## pack word data and fonts from the open packages
	@$(GO) generate ./internal/...

$(STAMP): package.json package-lock.json
	npm ci --ignore-scripts --no-audit --no-fund --loglevel=error
	@touch $@

debian: ## install what the tests need, or say what to install
	@./scripts/debian.sh

check: ## format, vet
	@test -z "$$(gofmt -l cmd internal)" || { echo 'gofmt these:'; gofmt -l cmd internal; exit 1; }
	$(GO) vet ./...

test: debian generate check build cross ## everything that must hold
	$(GO) test ./...
	node --test tests/

bench: generate ## quality and speed, against the data in ../shared; fails where it is missing
	$(GO) test -tags bench -run 'Bench|Gate|Shared' -timeout 60m -v ./...
	$(GO) test -run '^$$' -bench . -benchtime 3x ./...

clean: ## throw away what was built
	rm -rf bin build node_modules $(PACK)
