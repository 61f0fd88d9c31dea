# blockwright. "make demo" runs the main job, "make test" the tests; both need Go
# alone. DEVELOPERS.md explains the rest.
GO ?= go
BIN := $(CURDIR)/demo/blockwright

# The random tests draw the same cases each time, so that no change fails for a case
# that it has nothing to do with. "make fuzz" and plain "go test" draw new ones.
export RAPID_SEED ?= 1

# Packages with tests: what lies in testdata "./..." leaves out.
TESTED := ./... ./testdata/outside

.PHONY: all demo test outside bench imports lint fuzz fuzz-readers kills clean

all: test

demo:
	@GO="$(GO)" sh testdata/demo.sh

test: imports
	$(GO) vet $(TESTED)
	$(GO) test $(TESTED)

# The same outputs through programs that nobody here wrote: the RS-274 interpreter
# of Debian's linuxcnc-uspace, ezdxf, GEOS by way of shapely, two npm DXF readers,
# headless Chromium. A missing checker fails.
outside:
	$(GO) test -tags outside -run TestOutside -count 1 -timeout 40m $(TESTED)

bench:
	$(GO) test -run '^$$' -bench . -benchmem -cpu 1 ./...

imports:
	@$(GO) run ./testdata/imports

lint:
	@test -z "$$(gofmt -l .)" || { echo "not gofmt-clean:"; gofmt -l .; exit 1; }
	$(GO) vet $(TESTED)
	$(GO) vet -tags outside $(TESTED)
	staticcheck $(TESTED)
	staticcheck -tags outside $(TESTED)

# New cases for the random tests, RAPID_CHECKS of each, and every fuzz target for
# FUZZTIME: a number of inputs (10000x). A time (60s) works too, but "go test" then
# now and then fails with "context deadline exceeded" where a target is slow: the end
# of the time comes between two of its inputs.
FUZZTIME ?= 10000x
FUZZLIMIT ?= 10m
RAPID_CHECKS ?= 100
fuzz: export RAPID_SEED = 0
fuzz: fuzz-readers
	RAPID_CHECKS=$(RAPID_CHECKS) $(GO) test -count 1 $(TESTED)

# Every fuzz target for FUZZTIME, without dwelling on what is new but not wrong. An
# input on which a reader does not end fails by the time limit.
fuzz-readers:
	@for p in $$($(GO) list ./...); do \
	  for t in $$($(GO) test -list '^Fuzz' $$p | grep '^Fuzz'); do \
	    echo "$$p $$t"; timeout $(FUZZLIMIT) $(GO) test -run '^$$' -fuzz "^$$t\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 10x $$p || exit 1; \
	  done; \
	done

# Three hundred kills of a batch at random moments.
kills:
	KILLS=300 $(GO) test -count 1 -v -run TestKilledAtAnyMoment ./cmd/blockwright

clean:
	rm -rf demo out
