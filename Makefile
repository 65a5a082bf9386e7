# make demo      knits and proves the Skerry Hat, then shows its ledger
# make test      style, types and every test: what CI runs
# make measure   speed and size, beside their references
# make check     style and types only
# Needs Python 3.11 or newer and pip; the rest is installed into .venv, from the lock in requirements/.

BIN := .venv/bin
HAT := examples/skerry-hat.pattern.md

.DEFAULT_GOAL := help
.PHONY: help demo test measure check fix lock clean

help:
	@sed -n 's/^# //p' Makefile

demo:
	@scripts/venv run
	$(BIN)/purlwright proof $(HAT)
	$(BIN)/purlwright ledger $(HAT)

test: check
	$(BIN)/pytest

measure:
	@scripts/venv dev
	$(BIN)/python benchmarks/run.py

check:
	@scripts/venv dev
	scripts/check

fix:
	@scripts/venv dev
	scripts/check --fix

lock:
	scripts/lock

clean:
	rm -rf .venv .mypy_cache .pytest_cache .ruff_cache .hypothesis dist
	find src tests -name __pycache__ -type d -prune -exec rm -rf {} +
