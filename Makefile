# make demo    plans the three demo jobs, says where the packs are, and serves the workspace with them until Ctrl-C
# make test    everything that is checked, on a fresh machine too
# make search  the tests that make things up, begun with numbers that nobody drew yet
# make soak    a thousand jobs built in play, a million records, every run handed over
# make bench   speed, with peers side by side
# make bench-web  the same for the workspace, in a headless browser
# make build   the program, ./trenchwright
# make pictures  draws the README's pictures anew, docs/strip.png and docs/card.png

export CGO_ENABLED = 0
export GOAMD64 = v1
VERSION := $(shell git describe --always --dirty 2>/dev/null || echo unknown)
BUILD = go build -trimpath -ldflags="-s -w"

.PHONY: demo test search soak bench bench-web build workspace pictures clean

build: workspace
	$(BUILD) -o trenchwright ./cmd/trenchwright

demo: build
	@./trenchwright demo -o out
	@echo "Later, without planning anew: ./trenchwright serve --demo --data out/workspace"
	@./trenchwright serve --demo --data out/workspace

# the workspace for browsers, web/dist: needs node
workspace:
	@go generate ./web

test: workspace
	tools/packages qpdf poppler-utils coinor-cbc coinor-clp qhull-bin proj-bin libxml2-utils gdal-bin chromium chromium-driver webkit2gtk-driver python3-gi gir1.2-webkit2-4.1 xvfb
	go vet ./...
	go test -timeout 30m $$(go list ./... | grep -v '/e2e$$')
	go -C web/tools test ./...
	go test -timeout 45m ./e2e

# what a red one prints begins with it again
search:
	TRENCHWRIGHT_SEED=new go test -count=1 -timeout 60m $$(grep -rl '"trenchwright/tools/seed"' --include='*_test.go' . | xargs -n1 dirname | sort -u)

# a thousand builds in play, a million records
soak:
	go test ./demo/building -count=1 -timeout 2h -run TestBuildsAreHandedOver -v -builds 1000

bench: build
	tools/packages coinor-cbc coinor-clp qhull-bin time
	cd bench && npm ci --ignore-scripts --no-audit --no-fund --silent
	go run ./bench

bench-web: build
	tools/packages chromium chromium-driver
	go run ./bench/web

pictures:
	go test ./view/drawing -count=1 -run TestPicturesOfTheReadme -readme

clean:
	rm -rf out trenchwright
