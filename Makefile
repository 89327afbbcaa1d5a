# Two commands matter: `make demo` and `make test`. Everything lives in .venv; results go to out/.
PYTHON ?= python3
VENV ?= .venv
CONSTRAINTS ?= constraints.txt
JOBS ?= 2
EXTRAS := everything
BIN := $(VENV)/bin
SITES := skerry skerry-mended
MENDED := examples/skerry/skerry-mended.yaml
PYTEST := PYTHONUTF8=1 $(BIN)/python -m pytest -n $(JOBS)
INSTALL := sh tools/environment.sh "$(PYTHON)" "$(VENV)"
MADE_FROM := pyproject.toml $(CONSTRAINTS) tools/environment.sh

.NOTPARALLEL:
.PHONY: help demo test lint trust bench pictures pins clean

help:
	@echo "make demo       make .venv, install, check the example site, say where the reports are"
	@echo "make test       all tests, with the style and type checks"
	@echo "make trust      write docs/trust.md from what the tests compare with"
	@echo "make bench      run the benchmarks; they print ratios"
	@echo "make pictures   draw the pictures of the documentation anew"
	@echo "make pins       write constraints.txt from what is installed in .venv"
	@echo "make clean      remove .venv and out/"

$(VENV)/.ready-demo: $(MADE_FROM)
	@$(INSTALL) $(EXTRAS) "$(CONSTRAINTS)"
	@touch $@

$(VENV)/.ready-test: $(MADE_FROM)
	@$(INSTALL) $(EXTRAS),test "$(CONSTRAINTS)"
	@touch $(VENV)/.ready-demo $@

# `ohmstead check` answers 0 when all is in order, 1 when it found something, 2 when the file cannot be used.
demo: $(VENV)/.ready-demo
	@mkdir -p out
	@for site in $(SITES); do \
	    file=examples/skerry/$$site.yaml; report=out/$$site.txt; \
	    echo; echo "$$ ohmstead check $$file"; \
	    $(BIN)/ohmstead check $$file; \
	    NO_COLOR=1 $(BIN)/ohmstead check $$file > $$report; status=$$?; \
	    if [ $$status -gt 1 ] || [ ! -s $$report ]; then \
	        echo "the check of $$file broke off (status $$status)" >&2; exit 2; \
	    fi; \
	done
	@echo; echo "$$ ohmstead season $(MENDED)"
	@$(BIN)/ohmstead season $(MENDED) --pictures out/season > out/season.txt; test $$? -le 1 || exit 2
	@sed -n 1,14p out/season.txt
	@echo "$$ ohmstead heat $(MENDED)"
	@$(BIN)/ohmstead heat $(MENDED) --pictures out/heat > out/heat.txt; test $$? -le 1 || exit 2
	@sed -n 1,14p out/heat.txt
	@echo "$$ ohmstead bench $(MENDED)"
	@$(BIN)/ohmstead bench $(MENDED) > out/bench.txt || exit 2
	@echo "$$ ohmstead sheets $(MENDED)"
	@$(BIN)/ohmstead sheets $(MENDED) --out out/sheets --date 2026-11-25 > out/sheets.txt
	@echo
	@echo "The reports are in: $(SITES:%=out/%.txt) out/season.txt out/heat.txt out/bench.txt"
	@echo "Their pictures are in out/season and out/heat"
	@echo "The sheets to build from are in out/sheets: open out/sheets/index.html, print out/sheets/all-sheets.pdf"
	@echo "  the site with six mistakes:  examples/skerry/skerry.yaml"
	@echo "  the same site, mended:       $(MENDED)"
	@echo "See it in the browser:  $(BIN)/ohmstead page $(MENDED)"
	@echo "Your own site:  $(BIN)/ohmstead check FILE"

lint: $(VENV)/.ready-test
	$(BIN)/ruff check .
	$(BIN)/mypy

test: $(VENV)/.ready-test
	@sh tools/oracles.sh $(BIN)/python
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(PYTEST) --trust check

trust: $(VENV)/.ready-test
	@sh tools/oracles.sh $(BIN)/python
	$(PYTEST) --trust write

bench: $(VENV)/.ready-test
	@for file in benchmarks/[!_]*.py; do echo; echo "$$file"; $(BIN)/python $$file || exit 1; done

pictures: $(VENV)/.ready-demo
	$(BIN)/python docs/pictures/make.py

pins: $(VENV)/.ready-test
	@{ sed -n '/^#/p' constraints.txt; \
	   $(BIN)/python -m pip list --format=freeze --exclude-editable --exclude pip --exclude setuptools \
	       --exclude hatchling; \
	   grep -i '^hatchling==' constraints.txt; } > constraints.new && mv constraints.new constraints.txt

clean:
	rm -rf $(VENV) out
