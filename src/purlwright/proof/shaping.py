"""What shapes a part: where along its rows stitches are bound off, decreased, increased, crossed, turned.

In: a part and the fabric of its knitting. Out: :class:`Event` values, places told from the right side. What
two parts should have in common is left to the family modules.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

import numpy as np

from purlwright.fabric.arrays import Link
from purlwright.proof.parts import ROWS, Part
from purlwright.stitches.kinds import Family, Lean, Stitch
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.proof.subject import Subject, Way

__all__ = ["Event", "Raw", "events", "lean_of", "mirror_of", "mirrored", "shaped", "shown"]

Edge: TypeAlias = Literal["right", "left", "middle"]
Sort: TypeAlias = Literal["bind off", "decrease", "increase", "crossing", "turn"]

_SHAPES = {Family.INCREASE, Family.DECREASE, Family.LACE, Family.BRIOCHE, Family.GROUP}
_CROSSES = {Family.CABLE, Family.TWIST}
_UNNAMED = {"dec", "inc", "M1", "M1P", "yo"}
"""Stitches whose lean the words leave open."""


class Event(NamedTuple):
    """Something that shapes a row, as the right side shows it.

    ``order`` is the row's place in the ledger, ``row`` its number in the part, from 1. ``edge`` is the nearer
    edge of the row and ``inside`` how many stitches stand between; ``amount`` how many stitches it takes or
    makes.
    """

    order: int
    row: int
    edge: Edge
    sort: Sort
    amount: int
    inside: int
    lean: str
    stitch: str


class Raw(NamedTuple):
    """An event before it is told which edge it is near."""

    sort: Sort
    amount: int
    right: int
    left: int
    stitch: str


@lru_cache(maxsize=512)
def lean_of(stitch: str) -> str:
    """Which way a stitch leans as the right side shows it; "" for one that leans neither way, or either."""
    known = dictionary().stitches.get(stitch)
    if known is None or stitch in _UNNAMED or known.lean not in {Lean.LEFT, Lean.RIGHT}:
        return ""
    return str(known.lean.value)


def mirrored(event: Event) -> Event:
    """The same event on the other half of a pair."""
    other = {"left": "right", "right": "left"}
    return event._replace(
        edge=other.get(event.edge, event.edge),  # type: ignore[arg-type]
        lean=other.get(event.lean, event.lean),
    )


_MIRRORS = (
    ("k2tog", "ssk"), ("k2tog", "skp"), ("p2tog", "ssp"), ("M1L", "M1R"), ("M1LP", "M1RP"), ("rt", "lt"),
    ("rpt", "lpt"), ("rli", "lli"), ("k3tog", "sssk"), ("k3tog", "sk2p"), ("k2tog", "k2tog tbl"),
    ("p2tog", "p2tog tbl"),
)  # fmt: skip
_CROSSING = re.compile(r"^(?:(?P<a>.*)(?P<way>[rl])(?P<p>p?c)|(?P<b>[ct]\d+)(?P<hold>[fb]))$")


def mirror_of(stitch: str) -> str:
    """What the mirror of a stitch is called, or what it must do if it has no usual name."""
    for right, left in _MIRRORS:
        if stitch in {right, left}:
            return shown(left if stitch == right else right)
    m = _CROSSING.match(stitch)
    if m is not None:
        way = {"r": "l", "l": "r", "f": "b", "b": "f"}[m["way"] or m["hold"]]
        key = f"{m['b']}{way}" if m["b"] else f"{m['a']}{way}{m['p']}"
        if key in dictionary().stitches:
            return shown(key)
    return f"the mirror of {shown(stitch)}" if lean_of(stitch) else shown(stitch)


def shown(stitch: str) -> str:
    """A stitch as a pattern writes it."""
    known = dictionary().stitches.get(stitch)
    return known.us if known is not None else stitch


def events(subject: Subject, way: Way, part: Part) -> tuple[Event, ...]:
    """What shapes a part, in the order worked; rows that keep their count are shaped only by crossings."""
    return tuple(_events(shaped(subject, way), part))


def shaped(subject: Subject, way: Way) -> dict[int, list[Raw]]:
    """Everything that shapes each row of one knitting, by ledger order, in order along the needle."""
    return subject.once(("shaped", way.size, way.options), lambda: _of_fabric(way.knitted.fabric))


def _events(found: dict[int, list[Raw]], part: Part) -> Iterator[Event]:
    row = 0
    for entry in part.rows:
        row += entry.kind in ROWS
        if entry.kind not in ROWS:
            continue
        changes = entry.made != entry.lost
        for raw in found.get(entry.order, ()):
            if raw.sort == "crossing" or changes:
                yield _placed(raw, entry.order, row)
        for gap in entry.gaps:
            if gap.turned_on == entry.order:
                right = gap.from_right_rs
                yield _placed(Raw("turn", 0, right, entry.end - right, ""), entry.order, row)


def _placed(raw: Raw, order: int, row: int) -> Event:
    edge: Edge = "right" if raw.right < raw.left else "left" if raw.left < raw.right else "middle"
    lean = lean_of(raw.stitch)
    return Event(order, row, edge, raw.sort, raw.amount, min(raw.right, raw.left), lean, raw.stitch)


# --- read off the fabric -------------------------------------------------------------------------


@lru_cache(maxsize=16)
def _changes(ops: Sequence[str]) -> np.ndarray[tuple[int, ...], np.dtype[np.int16]]:
    """For each operation the loops it adds; 100 for a crossing, 0 for all that shapes nothing."""
    out = np.zeros(len(ops) + 1, np.int16)
    stitches = dictionary().stitches
    for place, key in enumerate(ops):
        known = stitches.get(key)
        if known is not None and known.family in _CROSSES and known.takes == known.makes:
            out[place] = 100
        elif known is not None and known.family in _SHAPES and known.takes < 50:
            out[place] = known.makes - known.takes
    return out


def _of_fabric(fabric: Fabric) -> dict[int, list[Raw]]:
    """Every event of the whole fabric."""
    out: dict[int, list[Raw]] = {}
    row_of = fabric.row_of_stitch
    table = _changes(fabric.ops)
    at = np.flatnonzero(table[fabric.op_of_stitch])
    passed = np.unique(fabric.join_a[fabric.join_kind == Link.PASSED])
    begin = np.searchsorted(row_of, row_of[at], "left")
    end = np.searchsorted(row_of, row_of[at], "right")
    wrong = fabric.side_of_stitch[at] == 1
    ops = fabric.op_of_stitch[at]
    stitches = dictionary().stitches
    seen: dict[int, Stitch] = {}
    skip = 0
    for stitch, row, first, last, back, op in zip(
        at.tolist(), row_of[at].tolist(), begin.tolist(), end.tolist(), wrong.tolist(), ops.tolist(),
        strict=True,
    ):  # fmt: skip
        if stitch < skip:
            continue  # a further loop of the same stitch
        key = fabric.ops[op]
        if op not in seen:
            seen[op] = stitches[key]
        known = seen[op]
        made = max(known.makes, 1)
        if made > 1:
            skip = stitch + made
        before, after = stitch - first, last - stitch - made
        right, left = (after, before) if back else (before, after)
        change = int(table[op])
        sort: Sort = "crossing" if change == 100 else "increase" if change > 0 else "decrease"
        amount = known.takes if sort == "crossing" else abs(change)
        out.setdefault(row, []).append(Raw(sort, amount, right, left, key))
    _bound_off(fabric, passed, out)
    return out


def _bound_off(
    fabric: Fabric, passed: np.ndarray[tuple[int, ...], np.dtype[np.int32]], out: dict[int, list[Raw]]
) -> None:
    """Stitches lifted over the next, side by side in one row, are one bind-off."""
    row_of = fabric.row_of_stitch
    rows = row_of[passed]
    starts = np.flatnonzero(np.concatenate(([True], (np.diff(passed) != 1) | (np.diff(rows) != 0))))
    if not len(passed):
        return
    many = np.diff(np.append(starts, len(passed)))
    first = passed[starts]
    begin = np.searchsorted(row_of, row_of[first], "left")
    end = np.searchsorted(row_of, row_of[first], "right")
    wrong = fabric.side_of_stitch[first] == 1
    for stitch, row, n, low, high, back in zip(
        first.tolist(), row_of[first].tolist(), many.tolist(), begin.tolist(), end.tolist(), wrong.tolist(),
        strict=True,
    ):  # fmt: skip
        before, after = stitch - low, high - stitch - n
        right, left = (after, before) if back else (before, after)
        if n == 1 and before and after:
            raw = Raw("decrease", 1, right, left, "skp")
        else:
            raw = Raw("bind off", n, right, left, "")
        out.setdefault(row, []).append(raw)
