# make demo      proves the Skerry Hat, shows it row by row, then a pattern with a fault, then the hat's sheet
# make test      style, types and every test: what CI runs
# make measure   speed and size, beside their references
# make check     style and types only
# make fix       mends what the tools can mend, then checks
# make pictures  draws the pictures of the README again
# make lock      chooses the exact versions of the packages again
# make clean     takes away .venv and everything else that was made
# Needs Python 3.11 or newer and pip; the rest is installed into .venv, from the lock in requirements/.

BIN := .venv/bin

.DEFAULT_GOAL := help
.PHONY: help demo test measure check fix pictures lock clean

help:
	@sed -n 's/^# //p' Makefile

demo:
	@scripts/venv run
	@scripts/demo

test: check
	$(BIN)/pytest -n auto --dist loadfile --ignore tests/browser
	CHROMIUM="$$(scripts/browser)" $(BIN)/pytest tests/browser

measure:
	@scripts/venv dev
	$(BIN)/python benchmarks/run.py

check:
	@scripts/venv dev
	scripts/check

fix:
	@scripts/venv dev
	scripts/check --fix

pictures:
	@scripts/venv dev
	sed -n 's/^    \(scripts\|\.venv\)/\1/p' docs/pictures/README.md | \
		PATH="$(CURDIR)/$(BIN):$$PATH" CHROMIUM="$$(scripts/browser)" sh -e

lock:
	scripts/lock

clean:
	rm -rf .venv .mypy_cache .pytest_cache .ruff_cache .hypothesis dist
	find src tests -name __pycache__ -type d -prune -exec rm -rf {} +
