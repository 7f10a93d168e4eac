# One place for what a contributor runs. `make test` needs nothing that it does
# not install itself on a Debian machine with Go and Node.

NPM := testdata/npm
FETCHED := testdata/fetched
APT := $(if $(filter 0,$(shell id -u)),,sudo )apt-get

# Pictures are decoded in WebAssembly only: without this the libraries for HEIC
# and AVIF look for others on the machine and load those into the program.
TAGS := -tags nodynamic

.PHONY: test race tools generate vet bench release clean

# Packages with property tests take a seed, so that one change is tried on the
# same cases everywhere; go test ./... tries new ones each time.
PROPERTIES = $(shell go list -f '{{range .TestImports}}{{if eq . "pgregory.net/rapid"}}{{$$.ImportPath}}{{end}}{{end}}{{range .XTestImports}}{{if eq . "pgregory.net/rapid"}} {{$$.ImportPath}}{{end}}{{end}}' ./...)
OTHERS = $(filter-out $(PROPERTIES),$(shell go list ./...))

## test: install what the tests need, then run all of them; nothing may be left out
test: tools vet
	YEARMARK_FULL=1 go test $(TAGS) -count=1 -timeout 20m $(PROPERTIES) -rapid.seed=1 -rapid.nofailfile
	YEARMARK_FULL=1 go test $(TAGS) -count=1 -timeout 20m $(OTHERS)

## race: all tests once more with the race detector, which takes about three times as long
race: tools
	go test $(TAGS) -race -count=1 -timeout 60m ./...

## tools: Chromium, Java for the HTML checker, LibreOffice for the tables, the npm reference libraries, the open data, and what it is dated by beside ours
tools: $(NPM)/node_modules/.package-lock.json $(FETCHED)/aircraft.dat $(FETCHED)/ames.csv
	@command -v chromium >/dev/null || { $(APT) update -q && $(APT) install -yq --no-install-recommends chromium; }
	@command -v java >/dev/null || { $(APT) update -q && $(APT) install -yq --no-install-recommends default-jre-headless; }
	@command -v soffice >/dev/null || { $(APT) update -q && $(APT) install -yq --no-install-recommends libreoffice-calc-nogui; }

$(NPM)/node_modules/.package-lock.json: $(NPM)/package-lock.json
	npm ci --ignore-scripts --no-audit --no-fund --fetch-timeout=30000 --fetch-retries=5 --prefix $(NPM)
	@touch $@

# Open data under the GPL is fetched for the test and not kept here.
$(FETCHED)/aircraft.dat:
	@mkdir -p $(FETCHED)/deb
	cd $(FETCHED)/deb && { apt-get download r-cran-sm || { $(APT) update -q && apt-get download r-cran-sm; }; }
	dpkg-deb -x $(FETCHED)/deb/r-cran-sm_*.deb $(FETCHED)/deb/tree
	find $(FETCHED)/deb/tree -name aircraft.dat -exec cp {} $@ \;
	@test -s $@ && touch $@

$(FETCHED)/ames.csv:
	@mkdir -p $(FETCHED)/deb
	/usr/bin/python3 -c 'import sklearn, rdata' 2>/dev/null || { $(APT) update -q && $(APT) install -yq --no-install-recommends python3-sklearn python3-rdata; }
	cd $(FETCHED)/deb && { apt-get download r-cran-modeldata || { $(APT) update -q && apt-get download r-cran-modeldata; }; }
	dpkg-deb -x $(FETCHED)/deb/r-cran-modeldata_*.deb $(FETCHED)/deb/tree
	/usr/bin/python3 testdata/opendata/modeldata.py $(FETCHED)/deb/tree/usr/lib/R/site-library/modeldata/data/Rdata $(FETCHED) ames tate_text
	@test -s $@ && touch $@

## generate: the Go of the components and the bundled scripts, which are committed
generate:
	go tool templ generate
	go tool esbuild site/assets/js/*.js --bundle --minify --format=iife --target=es2022 --outdir=site/assets/bundles

## vet: formatting and the compiler's own doubts
vet:
	@unformatted=$$(find . -name node_modules -prune -o -name '*.go' ! -name '*_templ.go' -print | xargs gofmt -l); \
	test -z "$$unformatted" || { echo "run gofmt -w on these files:"; echo "$$unformatted"; exit 1; }
	go vet ./...

## bench: the ratios, each against a bare baseline in the same run
bench:
	go test -run '^$$' -bench . -benchtime 1x ./...

PLATFORMS := linux/amd64 linux/arm64 darwin/amd64 darwin/arm64 windows/amd64 windows/arm64

## release: an archive for every system with the command, without cgo, and the licences of all that is in it; checksums beside them
release:
	@command -v zip >/dev/null || { $(APT) update -q && $(APT) install -yq --no-install-recommends zip; }
	@rm -rf dist; mkdir -p dist
	@set -e; for p in $(PLATFORMS); do \
	  export CGO_ENABLED=0 GOOS=$${p%/*} GOARCH=$${p#*/}; name=yearmark-$$GOOS-$$GOARCH; in=dist/$$name; \
	  mkdir -p $$in/licences/go; echo "$$in"; \
	  go build -trimpath -buildvcs=true $(TAGS) -ldflags '-s -w' -o $$in/ ./cmd/yearmark; \
	  cp LICENSE README.md $$in/; cp cmd/yearmark/start-here.html $$in/START-HERE.html; cp "$$(go env GOROOT)/LICENSE" $$in/licences/go/; \
	  go list -deps -f '{{with .Module}}{{if not .Main}}{{.Path}} {{.Dir}}{{end}}{{end}}' ./cmd/yearmark | sort -u | while read -r path dir; do \
	    to=$$in/licences/$$path; mkdir -p $$to; \
	    find "$$dir" $$(ls -d "$$dir/lib" 2>/dev/null) -maxdepth 1 -type f \( -iname 'licen[cs]e*' -o -iname 'copying*' -o -iname 'notice*' -o -iname 'patents*' \) -exec cp {} $$to/ \; ; \
	    ls $$to/* >/dev/null 2>&1 || { echo "$$path has no licence file: look for it and say where it is here"; exit 1; }; \
	  done; \
	  chmod -R u+w,go+rX $$in; \
	  if [ $$GOOS = windows ]; then \
	    find $$in -exec touch -h -d 1980-01-01T00:00:00Z {} +; \
	    (cd dist && find $$name | LC_ALL=C sort | TZ=UTC zip -qX $$name.zip -@); \
	  else tar --sort=name --mtime=@0 --owner=0 --group=0 --numeric-owner -C dist -cf - $$name | gzip -n > $$in.tar.gz; fi; \
	  rm -r $$in; \
	done
	@cd dist && sha256sum *.tar.gz *.zip > SHA256SUMS && cat SHA256SUMS

clean:
	rm -rf dist $(FETCHED) $(NPM)/node_modules
