"""Every kind of finding can be tried: a small pattern gets it, and another of its kind does not.

The small patterns are those that `explain` shows for each check, the files of `examples/faults`, and the cases of
`tests/cases`. Who adds a finding adds one of them.
"""

from functools import cache
from pathlib import Path

import pytest

from notation import CASES, cases
from purlwright.proof.pages import pages
from purlwright.proof.two_examples import examples
from purlwright.workup import WorkUp

ROOT = Path(__file__).resolve().parents[2]
CODES = [page.code for page in pages()]
CHECK_OF = {page.code: page.check for page in pages()}


def found_in(text):
    return {f.code for f in WorkUp(text).proved().findings}


@cache
def by_check():
    """What each check's two patterns get: those in which it fails or is open, and that in which it holds."""
    return {
        check: (
            set().union(*(found_in(text) for text in (two.fails, two.undecided) if text)),
            found_in(two.holds) if two.holds else None,
        )
        for check, two in examples().items()
    }


@cache
def by_case():
    """What each block of each case gets, by the name of its file."""
    out = {}
    for room in sorted(path.name for path in CASES.iterdir() if path.is_dir()):
        for case in cases(room):
            out.setdefault(case.name.rpartition("-")[0], []).append(found_in(case.text))
    return out


@cache
def by_file():
    """What each planted fault gets, and what the whole examples get, by the first word of the file's name."""
    planted = {}
    for path in sorted((ROOT / "examples" / "faults").glob("*.pattern.md")):
        planted.setdefault(path.name.partition(".")[0], set()).update(
            found_in(path.read_text(encoding="utf-8"))
        )
    whole = [
        found_in(path.read_text(encoding="utf-8"))
        for path in sorted((ROOT / "examples").glob("*.pattern.md"))
    ]
    return planted, whole


@pytest.mark.parametrize("code", CODES)
def test_a_small_pattern_gets_it(code):
    everywhere = [fails for fails, _ in by_check().values()] + list(by_file()[0].values())
    everywhere += [blocks for of_file in by_case().values() for blocks in of_file]
    assert any(code in found for found in everywhere), (
        f"no small pattern gets {code}: add examples/faults/{code}.NAME.pattern.md, a case in tests/cases, or the"
        f" pattern in which {CHECK_OF[code]} fails in src/purlwright/proof/examples"
    )


@pytest.mark.parametrize("code", CODES)
def test_its_twin_does_not_get_it(code):
    twin = by_check().get(CHECK_OF[code], (set(), None))[1]
    blocks = by_case().get(code, [])
    twins = ([twin] if twin is not None else []) + [found for found in blocks[1:] if code not in found]
    assert any(code not in found for found in twins or by_file()[1])
    assert twin is None or code not in twin


def test_a_planted_fault_is_named_for_what_it_gets():
    assert [name for name, found in by_file()[0].items() if name not in found] == []
