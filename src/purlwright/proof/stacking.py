"""What stands under a stitch: brioche stitches over their yarn overs, slipped stitches over each other.

In: the fabric of each choice of options. Out: findings on a brioche stitch that has no yarn over to be
knitted with, and on a pair of rows in one colour that slips other stitches going than coming back. Every
count is right in both. ``period`` asks for this.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from purlwright.fabric.arrays import Link
from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern.tree import Side
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject, Way

__all__ = ["BriocheWithoutYarnOver", "SlipsDoNotStack", "stacking_faults"]


@dataclass(frozen=True, slots=True)
class BriocheWithoutYarnOver:
    """A brioche stitch is worked into a stitch over which no yarn over lies.

    brk1 knits a slipped stitch together with its yarn over. Where the row before did not slip, there is
    nothing to knit together: the set-up row is missing, or sl1yo and brk1 have changed places. The count is
    right.

    Example: `Row 3: K1, *brk1, sl1yo; rep from * to last st, k1` over a row that slipped the other stitches.

    Cure: slip and knit the stitches as they lie. (Common practice; no source.)
    """

    row: str
    name: str

    code = "brioche-without-yarn-over"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.row}: {self.name} has no yarn over to take: the row before did not slip this stitch."

    def label(self) -> str:
        return "no yarn over lies here"

    def help(self) -> str | None:
        return "Look whether two stitches have changed places, or a row that slips is missing."


@dataclass(frozen=True, slots=True)
class SlipsDoNotStack:
    """Two rows in one colour slip other stitches going than coming back, and all other pairs slip the same.

    In cloth worked two rows to a colour the way back slips what the way there slipped, so that the stitch
    below is drawn up over both. One pair that does not has a mistake in one of its rows. The count is right.

    Example: `Row 1: With B, *k3, sl1; rep from * to last 3 sts, k3` and `Row 2: With B, k3, *sl1, k3` where
    rows 3 to 8 go back as they came.

    Cure: look in which of the two rows the stitches are out of place. (Common practice; no source.)
    """

    there: str
    back: str
    others: int

    code = "slips-do-not-stack"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.there} and {self.back} do not slip the same stitches; {self.others} other pairs of rows "
            f"here do."
        )

    def label(self) -> str:
        return "other stitches are slipped"

    def help(self) -> str | None:
        return "Look which of the two rows has its stitches out of place."


_PAIRS = 3
"""So many other pairs of rows make a rule; common practice, no source."""


def stacking_faults(subject: Subject) -> list[Finding]:
    """What stands on what it should not; the first of each kind."""
    found: list[Finding] = []
    key = (stacking_faults, subject.kept(_speaks_of_slips))
    keeps = subject.calm and not subject.kept(_speaks_of_brioche)
    if keeps and subject.of_work(key):
        return found
    for way in subject.ways:
        if way.size == subject.ways[0].size and way.knitted.log and not subject.amiss(way):
            found += _brioche(subject, way)
            found += _slips(way) if subject.kept(_speaks_of_slips) else ()
            if found:
                break
    if keeps and not found:
        subject.keep_of_work(key, told=True)
    return found[:1]


_SLIP = re.compile(r"\bsl")


def _speaks_of_slips(subject: Subject) -> bool:
    low = subject.low
    return "sl" in low and _SLIP.search(low) is not None


def _speaks_of_brioche(subject: Subject) -> bool:
    return "brk" in subject.low or "brp" in subject.low


# --- brioche ----------------------------------------------------------------------------------------------


def _brioche(subject: Subject, way: Way) -> Iterator[Finding]:
    """The first brioche stitch that has no yarn over."""
    fabric, text = way.knitted.fabric, subject.source.text
    if not subject.kept(_speaks_of_brioche):
        return
    words = [
        n
        for n, (a, b) in enumerate(zip(fabric.span_start.tolist(), fabric.span_end.tolist(), strict=True))
        if 0 <= a < b and text[a : a + 3].lower() in {"brk", "brp"}
    ]
    if not words:
        return
    stitch = np.flatnonzero(np.isin(fabric.span_of_stitch, words))
    first = fabric.first_parent_of_stitch
    stitch = stitch[first[stitch + 1] > first[stitch]]
    below = fabric.parent[first[stitch]]
    has = first[below + 1] > first[below]
    pair = np.zeros(len(below), bool)
    pair[has] = fabric.link[first[below[has]]] == Link.TUCKED
    if pair.all() or not np.isin(fabric.link, Link.TUCKED).any():
        return
    odd = int(stitch[~pair][0])
    entry = next((e for e in _rows(way) if e.order == fabric.row_of_stitch[odd]), None)
    if entry is None:
        return
    at = int(fabric.span_of_stitch[odd])
    span = Span(int(fabric.span_start[at]), int(fabric.span_end[at]))
    yield Finding(problem=BriocheWithoutYarnOver(_name(entry), text[span.start : span.end]), span=span)


def _rows(way: Way) -> Iterator[Entry]:
    for piece in way.knitted.ledger.pieces:
        yield from piece.rows


def _name(entry: Entry) -> str:
    return entry.label or f"The row in line {entry.line}"


# --- slipped stitches -------------------------------------------------------------------------------------


class _Pair(NamedTuple):
    there: Entry
    back: Entry
    alike: bool


def _slips(way: Way) -> Iterator[Finding]:
    """The one pair of rows of a section that slips other stitches going than coming back."""
    fabric = way.knitted.fabric
    last = max((e.order for piece in way.knitted.ledger.pieces for e in piece.rows), default=0)
    made = np.bincount(fabric.row_of_stitch, minlength=last + 1).tolist()
    of_section: dict[str, list[_Pair]] = {}
    told: set[tuple[int, int]] = set()
    for piece in way.knitted.ledger.pieces:
        for there, back in pairwise(piece.rows):
            if not 0 < made[there.order] < there.worked and not 0 < made[back.order] < there.worked:
                continue  # neither slips
            key = (there.line, back.line)
            if key in told or not _is_pair(there, back):
                continue
            told.add(key)
            if not made[there.order] or not made[back.order]:
                continue
            a, b = (np.flatnonzero(fabric.row_of_stitch == e.order) for e in (there, back))
            if len(set(fabric.yarn_of_stitch[np.concatenate([a, b])].tolist())) != 1:
                continue
            alike = set(fabric.column_of_stitch[a].tolist()) == set(fabric.column_of_stitch[b].tolist())
            of_section.setdefault(there.section, []).append(_Pair(there, back, alike))
    for pairs in of_section.values():
        odd = [p for p in pairs if not p.alike]
        if len(odd) != 1 or len(pairs) <= _PAIRS:
            continue
        there, back, _ = odd[0]
        problem = SlipsDoNotStack(_name(there), _name(back), len(pairs) - 1)
        yield Finding(problem=problem, span=there.span, related=(Related(back.span, "back over them"),))


def _is_pair(there: Entry, back: Entry) -> bool:
    return (
        there.kind is Kind.ROW and back.kind is Kind.ROW
        and there.side is Side.RS and back.side is Side.WS
        and there.span.end >= 0 and back.span.end >= 0
        and there.worked == back.worked == there.end and not there.made and not there.lost
        and not there.unworked and not back.unworked
    )  # fmt: skip
