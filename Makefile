# Setwell: `make run` opens the kitchen, `make test` proves it. Each sets itself up.
.DELETE_ON_ERROR:
.PHONY: help run test check format lint types imports core browser hunt bench docs clean

PYTHON ?= $(shell for p in python3.13 python3.12 python3.11 python3; do \
	if $$p -c 'import sys, venv; sys.exit(not (3, 11) <= sys.version_info[:2] < (3, 14))' \
	2>/dev/null; then echo $$p; break; fi; done)
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check -q install -c constraints.txt
ARGS ?=

help:
	@echo "make run     open the kitchen in a browser (ARGS=\"--no-browser --port 8770\")"
	@echo "make test    run every test, in a real browser too"
	@echo "make check   format, lint, types, import contract, tests"
	@echo "make bench   measure speed as ratios"
	@echo "make clean   remove the environment and what was built; your kitchen stays"

$(VENV)/made:
	@test -n "$(PYTHON)" || { echo "Setwell needs Python 3.11, 3.12 or 3.13. Install one, or name it: make PYTHON=/path/to/python3.12"; exit 1; }
	@$(PYTHON) -m venv $(VENV) || { echo "Python could not make an environment. On Debian or Ubuntu: apt-get install python3-venv"; exit 1; }
	@touch $@

$(VENV)/installed: $(VENV)/made pyproject.toml constraints.txt
	@echo "Installing Setwell (once; about a minute) ..."
	@$(PIP) -e .
	@touch $@

$(VENV)/test-installed: $(VENV)/made pyproject.toml constraints.txt
	@echo "Installing Setwell and its test tools (once) ..."
	@$(PIP) -e '.[test]'
	@touch $@ $(VENV)/installed

$(VENV)/dev-installed: $(VENV)/test-installed
	@$(PIP) -e '.[test,dev]'
	@touch $@

$(VENV)/bench-installed: $(VENV)/test-installed
	@$(PIP) -e '.[test,bench]'
	@touch $@

run: $(VENV)/installed
	@$(BIN)/setwell serve $(ARGS)

test: core browser

core: $(VENV)/test-installed
	$(BIN)/python -m pytest -n 2 -q $(ARGS)

browser: $(VENV)/test-installed
	SETWELL_CHROMIUM="$$(sh tools/find_chromium.sh $(BIN))" && export SETWELL_CHROMIUM && \
	$(BIN)/python -m pytest -n 2 -q -m browser tests/browser $(ARGS)

# New random examples for the properties; a find becomes an @example beside its test.
hunt: $(VENV)/test-installed
	SETWELL_EXAMPLES=hunt $(BIN)/python -m pytest -n 2 -q tests/property $(ARGS)

check: format lint types imports test

format: $(VENV)/dev-installed
	$(BIN)/ruff format --check src tests tools

lint: $(VENV)/dev-installed
	$(BIN)/ruff check src tests tools

types: $(VENV)/dev-installed
	$(BIN)/mypy

imports: $(VENV)/test-installed
	$(BIN)/lint-imports

bench: $(VENV)/bench-installed
	$(BIN)/python tools/bench.py

docs: $(VENV)/installed
	$(BIN)/python tools/reference_pages.py

clean:
	rm -rf $(VENV) build artifacts .pytest_cache .mypy_cache .ruff_cache .hypothesis .import_linter_cache
	find src tests tools -name __pycache__ -type d -prune -exec rm -rf {} +
	rm -rf src/*.egg-info
