"""What a proof says of the whole pattern, for the head of its page.

In: a proof. Out: each check with its title and answer, and one sentence over all.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.wire.bench import BenchCheckOut

if TYPE_CHECKING:
    from purlwright.workup import Proved, WorkUp

__all__ = ["checks_told", "summary_told"]


def checks_told(proved: Proved) -> list[BenchCheckOut]:
    """Every check in the order of the catalogue."""
    from purlwright.proof.catalogue import CATALOGUE

    return [
        BenchCheckOut(
            check=v.check, title=CATALOGUE[v.check].title, result=v.result, places=v.places, missing=v.missing
        )
        for v in proved.verdicts
    ]


def summary_told(work: WorkUp, proved: Proved) -> str:
    """Whether it can be knitted as written, in how many ways that was tried, and how much is to be
    corrected.
    """
    ways = len(proved.knitted)
    rows = sum(bool(e.worked) for k in proved.knitted for e in k.ledger.entries)
    if not rows:
        return "Nothing is knitted yet."
    tried = "knitted once" if ways == 1 else f"knitted in {ways} ways"
    errors = proved.errors
    warnings = sum(f.severity.value == "warning" for f in proved.findings)
    may = f" {_many(warnings, 'thing', 'things')} may trip a knitter." if warnings else ""
    if errors:
        return f"{_many(errors, 'error', 'errors')} to correct; {tried}.{may}"
    what = "It" if len(work.sizes) == 1 else "Every size"
    return f"{what} can be knitted as written; {tried}.{may}"


def _many(n: int, one: str, many: str) -> str:
    return f"{n:,} {one if n == 1 else many}"
