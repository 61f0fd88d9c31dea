# blockwright. "make demo" runs the main job, "make test" the tests; both need Go
# alone. DEVELOPERS.md explains the rest.
GO ?= go
BIN := $(CURDIR)/demo/blockwright

.PHONY: all demo test outside bench imports lint fuzz clean

all: test

demo:
	@GO="$(GO)" sh testdata/demo.sh

test: imports
	$(GO) vet ./...
	$(GO) test ./...

# The same outputs through programs that nobody here wrote: the RS-274 interpreter
# of Debian's linuxcnc-uspace, ezdxf, GEOS by way of shapely, two npm DXF readers,
# headless Chromium. A missing checker fails.
outside:
	$(GO) test -tags outside -run TestOutside -count 1 ./...

bench:
	$(GO) test -run '^$$' -bench . -benchmem -cpu 1 ./...

imports:
	@$(GO) run ./testdata/imports

lint:
	@test -z "$$(gofmt -l .)" || { echo "not gofmt-clean:"; gofmt -l .; exit 1; }
	$(GO) vet ./...
	$(GO) vet -tags outside ./...
	staticcheck ./...
	staticcheck -tags outside ./...

# Every fuzz target for FUZZTIME each.
FUZZTIME ?= 10s
fuzz:
	@for p in $$($(GO) list ./...); do \
	  for t in $$($(GO) test -list '^Fuzz' $$p | grep '^Fuzz'); do \
	    echo "$$p $$t"; $(GO) test -run '^$$' -fuzz "^$$t\$$" -fuzztime $(FUZZTIME) $$p || exit 1; \
	  done; \
	done

clean:
	rm -rf demo out
