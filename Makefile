# Lampblack: make run and make test are all that a newcomer needs; make help lists the rest.

PREFIX ?= $(if $(filter 0,$(shell id -u)),/usr/local,$(HOME)/.local)
DESTDIR ?=
BENCH ?= .

root := $(DESTDIR)$(PREFIX)
share := $(root)/share
icons := 16 22 24 32 48 64 128 256 512
folders := bin share/applications share/bash-completion/completions share/zsh/site-functions \
	share/fish/vendor_completions.d share/icons/hicolor/scalable/apps $(foreach s,$(icons),share/icons/hicolor/$(s)x$(s)/apps)
# A copy that belongs to another user (a folder mounted into a container) has no version to read.
vcs := $(if $(shell git status --porcelain >/dev/null 2>&1 && echo yes),,-buildvcs=false)

.DEFAULT_GOAL := help
.PHONY: run build test bench install uninstall icons clean help need-run need-test

run: build ## install what is missing, build, and open the window on the demo job
	bin/lampblack

build: need-run ## build bin/lampblack
	go build $(vcs) -o bin/lampblack .

test: need-test ## install what the tests need and run every check
	GOFLAGS="$(GOFLAGS) $(vcs)" .ci/test

bench: need-run ## run the benchmarks; BENCH=name picks some
	go test -run '^$$' -bench '$(BENCH)' -benchmem ./...

install: ## put program, icon, desktop entry and completions below PREFIX (and DESTDIR)
	@test -x bin/lampblack || { echo 'build first: make build'; exit 1; }
	@install -Dm755 bin/lampblack '$(root)/bin/lampblack'
	@install -Dm644 assets/icon/lampblack.svg '$(share)/icons/hicolor/scalable/apps/lampblack.svg'
	@set -e; for s in $(icons); do \
		install -Dm644 assets/icon/lampblack-$$s.png "$(share)/icons/hicolor/$${s}x$$s/apps/lampblack.png"; done
	@install -d '$(share)/applications'
	@sed 's|^Exec=.*|Exec="$(PREFIX)/bin/lampblack"|' assets/lampblack.desktop > '$(share)/applications/lampblack.desktop'
	@install -d '$(share)/bash-completion/completions' '$(share)/zsh/site-functions' '$(share)/fish/vendor_completions.d'
	@bin/lampblack completion bash > '$(share)/bash-completion/completions/lampblack'
	@bin/lampblack completion zsh > '$(share)/zsh/site-functions/_lampblack'
	@bin/lampblack completion fish > '$(share)/fish/vendor_completions.d/lampblack.fish'
	@test -n '$(DESTDIR)' || .ci/desktop '$(share)'
	@echo 'installed $(root)/bin/lampblack'

uninstall: ## take away what install put there; notebooks stay
	@rm -f '$(root)/bin/lampblack' '$(share)/applications/lampblack.desktop' \
		'$(share)/icons/hicolor/scalable/apps/lampblack.svg' \
		$(foreach s,$(icons),'$(share)/icons/hicolor/$(s)x$(s)/apps/lampblack.png') \
		'$(share)/bash-completion/completions/lampblack' \
		'$(share)/zsh/site-functions/_lampblack' '$(share)/fish/vendor_completions.d/lampblack.fish'
	@test -n '$(DESTDIR)' || .ci/desktop '$(share)'
	@cd '$(root)' 2>/dev/null || exit 0; for d in $(folders); do \
		test ! -d "$$d" || rmdir -p "$$d" 2>/dev/null || true; done # those that are empty now

icons: ## draw the icon's sizes anew (needs rsvg-convert)
	set -e; for s in $(icons); do \
		rsvg-convert -w $$s -h $$s assets/icon/lampblack.svg -o assets/icon/lampblack-$$s.png; done

clean: ## remove what build made
	rm -rf bin

need-run:
	@.ci/need run

need-test:
	@.ci/need test

help:
	@echo 'make run     installs what is missing, builds, and opens the window on the demo job'
	@echo 'make test    installs what the tests need and runs every check'
	@echo
	@sed -n 's/^\([a-z-]*\):.*## \(.*\)/\1\t\2/p' Makefile | expand -t 12
