"""Shaping on both sides of a marker, and the row in which it stands or leans otherwise.

In: the worked rows of all sections. Out: a finding on the one row whose increases or decreases beside its
markers are not those of the other rows: a stitch nearer, or leaning the other way. The count is right.
``mirror`` asks for this.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.panels import Panel, panels_of
from purlwright.proof.texture import Look, Worked, label_of, names, special

__all__ = ["BesideMarkerOtherwise", "marker_faults"]


@dataclass(frozen=True, slots=True)
class BesideMarkerOtherwise:
    """The shaping beside the markers of one row is not that of the other rows.

    Along a raglan the same two increases stand on both sides of each marker, row after row, and make a line.
    In one row they stand a stitch nearer on one side, or both lean one way. The count is right.

    Example: `[knit to 1 st before m, m1r, k1, sm, m1l, k1] 4 times` where other rows say `k1, sm, k1, m1l`.

    Cure: work them as in the other rows. (Common practice; no source.)
    """

    row: str
    like: str
    leans: bool

    code = "beside-marker-otherwise"
    check = "C086"
    severity = Severity.WARNING

    def message(self) -> str:
        what = "leans otherwise" if self.leans else "stands otherwise"
        return f"{self.row}: the shaping beside the markers {what} than in {self.like}."

    def label(self) -> str:
        return "otherwise here"

    def help(self) -> str | None:
        return "Work the two sides of the marker as in the other rows."


class _Beside(NamedTuple):
    """What is shaped before and after a marker, and the plain stitches between it and the marker."""

    before: Look
    plain_before: int
    plain_after: int
    after: Look


def _beside(a: Panel, b: Panel) -> _Beside | None:
    one = next((n for n, op in enumerate(reversed(a.ops)) if special(op.look)), None)
    two = next((n for n, op in enumerate(b.ops) if special(op.look)), None)
    if one is None or two is None or one > _FAR or two > _FAR:
        return None
    return _Beside(a.ops[-1 - one].look, one, two, b.ops[two].look)


_FAR = 3
"""Shaping farther from a marker is not shaping at it; common practice, no source."""


def _of_row(row: Worked) -> tuple[_Beside, int] | None:
    """What stands beside the markers of a row, if it is the same at all of them, and its place after one."""
    panels = panels_of(row)
    found = [(one, b) for a, b in pairwise(panels) if (one := _beside(a, b)) is not None]
    if len(found) < 2 or len({one for one, _ in found}) != 1:
        return None
    one, panel = found[0]
    return one, panel.ops[one.plain_after].place


def marker_faults(rows: Sequence[Worked]) -> Iterator[Finding]:
    """The one row that is otherwise, of three or more in different lines."""
    marked = (row for row in rows if row.entry.markers and not row.drawn)
    told = [(row, one) for row in marked if (one := _of_row(row)) is not None]
    for row, (here, place) in told:
        like = [r for r, (one, _) in told if r is not row]
        others = {one for r, (one, _) in told if r is not row}
        if len(like) < 2 or len(others) != 1 or here in others:
            continue
        (rule,) = others
        sums = (rule.before.makes - rule.before.takes, rule.after.makes - rule.after.takes)
        if sums != (here.before.makes - here.before.takes, here.after.makes - here.after.takes):
            continue
        if sum(a != b for a, b in zip(rule, here, strict=True)) != 1:
            continue
        leans = (rule.plain_before, rule.plain_after) == (here.plain_before, here.plain_after)
        related = tuple(Related(label_of(r), "as the others") for r in like[:2])
        problem = BesideMarkerOtherwise(row.name, names(like), leans)
        yield Finding(problem=problem, span=row.words(place), related=related)
        return
