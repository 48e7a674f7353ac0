# Two commands do all the set-up: `make run` and `make test`. `make` lists the rest.
PYTHON ?= python3
BIN := .venv/bin
PIP := $(BIN)/pip install --quiet --disable-pip-version-check -c constraints.txt

.DEFAULT_GOAL := help
.PHONY: help run test check prove bench browser docs lock words

help: ## list what there is
	@sed -n 's/^\([a-z]*\):.*## /\1\t/p' Makefile | expand -t 10

run: .venv/installed ## set up, then show the demo holding: its season, and its pages
	@mkdir -p out
	$(BIN)/sheafwright demo --chart out/demo-outlook.svg --holding out/demo
	$(BIN)/sheafwright serve --holding out/demo

test: check browser ## set up, then lint and run every test but the long proofs
	$(BIN)/pytest -n 2 --dist loadfile -m "not prove"

check: .venv/installed-for-tests ## lint: style, format and the layers
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/lint-imports

prove: .venv/installed-for-tests browser ## run the long proofs: replays, soaks, killed servers
	$(BIN)/pytest -n 2 --dist loadfile -m prove

bench: .venv/installed-for-tests ## time the engine beside plain pandas and NumPy
	@set -e; for benchmark in $(wildcard benchmarks/*.py); do $(BIN)/python $$benchmark; done

browser: # Debian's, where there is none; the tests say so if there is still none
	@command -v chromium >/dev/null || (apt-get update -qq && apt-get install -qq -y chromium)

docs: .venv/installed-for-tests ## rebuild the generated parts of the docs
	$(BIN)/python tools/check_tables.py
	$(BIN)/sheafwright demo --chart docs/picture.svg > /dev/null

words: .venv/installed-for-tests ## gather all words for translators: LANGUAGE=de
	@$(BIN)/python tools/words.py $(LANGUAGE)

lock: .venv/installed-for-tests ## write the installed versions to constraints.txt
	$(BIN)/python tools/lock.py

.venv/pyvenv.cfg:
	$(PYTHON) -m venv .venv

.venv/installed: pyproject.toml constraints.txt | .venv/pyvenv.cfg
	$(PIP) -e .
	@touch $@

.venv/installed-for-tests: .venv/installed
	$(PIP) -e '.[test]'
	@touch $@
