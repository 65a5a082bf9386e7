"""Sewn seams: which row or stitch of one edge meets which of the other, and how the needle goes.

In: one size, knitted. Out: a :class:`Seam` for each pair of edges that a seam joins, from the links that it
made in
the fabric. A seam whose words leave open which edges meet has none. Drawing it is left to ``seam_drawing``.

Method: side edges are laid side by side, right sides up, and sewn up between the edge stitch and the next,
a bar
of one and a bar of the other by turns; in garter stitch through the bumps. Edges of loops are sewn under the
two legs of the stitch inside each edge, so that the yarn lies as a row would. Common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import TYPE_CHECKING, Literal

import numpy as np

from purlwright.fabric.arrays import Link, Seen
from purlwright.lesson.joins import SEAM_TIMES, Join, shares
from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["Seam", "seams_of"]

_HOLD_MM = 200.0
_CAST_ON = frozenset({"cast on", "co"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """Two edges sewn together. ``names`` are those of their pieces; ``many`` the rows or stitches along each.

    ``along`` says what they are made of: the ends of rows, or loops. ``face`` is what a side edge shows on
    the
    right side. ``heads`` says of edges of loops that heads meet heads, or feet meet feet. ``lost_mm`` is
    the width that goes into
    the seam, ``mm`` its length; None where no gauge tells. ``join`` has the loops that meet, to be drawn.
    """

    entry: Entry
    names: tuple[str, str]
    many: tuple[int, int]
    along: Literal["rows", "loops", "both"]
    face: Literal["V", "bump", "garter"]
    heads: bool
    mm: float | None
    lost_mm: float | None
    join: Join
    cast_on: bool = False
    """Whether the edge of loops, of one that is sewn to ends of rows, is a cast-on."""
    meets: tuple[tuple[int, int], ...] = ()
    """Where stitches of one edge meet ends of rows of the other: how many with how many, each stretch."""

    @property
    def each(self) -> tuple[tuple[int, int], ...]:
        """For each row or stitch of the shorter edge, how many of the longer."""
        return shares(*self.many)

    @property
    def loops_edge(self) -> str:
        """What the edge of loops is called, where it is sewn to ends of rows."""
        return "cast-on" if self.cast_on else "bound-off"

    @property
    def tail_mm(self) -> float | None:
        """Half as long again as the seam, and a hand's length to hold and weave in."""
        return None if self.mm is None else self.mm * SEAM_TIMES + _HOLD_MM


def seams_of(knitted: Knitted, size_mm: tuple[float, float] | None = None) -> tuple[Seam, ...]:
    """Every seam whose edges are known, in the order sewn; ``size_mm`` is the width and height of a
    stitch.
    """
    f = knitted.fabric
    at = np.flatnonzero(f.join_kind == Link.SEAMED)
    entries = [e for e in knitted.ledger.entries if e.kind is Kind.SEAM]
    if not len(at) or not entries:
        return ()
    pairs = list(zip(f.join_a[at].tolist(), f.join_b[at].tolist(), strict=True))
    piece_of = {e.order: p.name for p in knitted.ledger.pieces for e in p.rows}
    return tuple(_seam(f, some, piece_of, entries, size_mm) for some in _apart(f, pairs))


def _apart(f: Fabric, pairs: list[tuple[int, int]]) -> Iterator[list[tuple[int, int]]]:
    """The pairs of one seam, and of the next: a new one begins where an edge turns back, or jumps."""
    row = f.row_of_stitch
    some: list[tuple[int, int]] = []
    ways = [0, 0]  # up or down either edge, as far as the rows have told
    for pair in pairs:
        if some:
            steps = [int(row[y]) - int(row[x]) for x, y in zip(some[-1], pair, strict=True)]
            if any(
                _is_another(way, step, abs(y - x))
                for way, step, x, y in zip(ways, steps, some[-1], pair, strict=True)
            ):
                yield some
                some, ways = [], [0, 0]
            else:
                ways = [way or step for way, step in zip(ways, steps, strict=True)]
        some.append(pair)
    if some:
        yield some


_JUMP = 12
"""Rows in which an edge has no stitch of its own: more, and it is another edge."""


def _is_another(way: int, rows: int, along: int) -> bool:
    """Whether a step of so many rows, or so far along one row, begins another edge."""
    return along > _JUMP if rows == 0 else abs(rows) > _JUMP or rows * way < 0


def _seam(
    f: Fabric,
    pairs: list[tuple[int, int]],
    piece_of: dict[int, str],
    entries: list[Entry],
    size_mm: tuple[float, float] | None,
) -> Seam:
    edges = tuple(list(dict.fromkeys(edge)) for edge in zip(*pairs, strict=True))
    a, b = edges[0], edges[1]
    rows = [len({int(f.row_of_stitch[s]) for s in edge}) > 1 for edge in (a, b)]
    along: Literal["rows", "loops", "both"] = "rows" if all(rows) else "both" if any(rows) else "loops"
    cast = [f.ops[f.op_of_stitch[edge[0]]] in _CAST_ON for edge in (a, b)]
    last = max(int(f.row_of_stitch[s]) for s in (a[-1], b[-1]))
    entry = next((e for e in entries if e.order > last), entries[-1])
    wide = None if size_mm is None else size_mm[0]
    length = _length(along, (len(a), len(b)), rows[0], size_mm)
    return Seam(
        entry=entry,
        names=(piece_of.get(int(f.row_of_stitch[a[0]]), ""), piece_of.get(int(f.row_of_stitch[b[0]]), "")),
        many=(len(a), len(b)),
        along=along,
        face=_face(f, a) if rows[0] else _face(f, b) if rows[1] else "V",
        heads=along == "loops" and cast[0] == cast[1],
        mm=length,
        cast_on=along == "both" and cast[rows[0]],
        lost_mm=None if wide is None else wide * (2 if along == "rows" else 1),
        meets=_meets(f, pairs),
        join=Join(
            entry=entry, how="seam", pairs=tuple(pairs), heads=cast[0] == cast[1],
            faces=tuple([(True, True)] * len(pairs)), mm=None,
        ),
    )  # fmt: skip


def _length(
    along: str, many: tuple[int, int], first_is_rows: bool, size_mm: tuple[float, float] | None
) -> float | None:
    """How long the seam is, in mm: as long as its rows where there are any."""
    if size_mm is None:
        return None
    wide, high = size_mm
    if along == "both":
        return high * many[0 if first_is_rows else 1]
    return max(many) * (high if along == "rows" else wide)


_STRETCH = 3
"""Fewer pairs are a corner, and no stretch in which a rate could be kept."""


def _meets(f: Fabric, pairs: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Stitches with rows, for each stretch in which one edge is of loops and the other of ends of rows."""
    loops = [_is_loop(f, edge) for edge in zip(*pairs, strict=True)]
    out = []
    for (a, b), stretch in groupby(range(len(pairs)), key=lambda i: (loops[0][i], loops[1][i])):
        here = [pairs[i] for i in stretch]
        if a != b and len(here) >= _STRETCH:
            many = [len(set(edge)) for edge in zip(*here, strict=True)]
            out.append((many[0], many[1]) if a else (many[1], many[0]))
    return tuple(out)


def _is_loop(f: Fabric, edge: tuple[int, ...]) -> list[bool]:
    """Whether each place of an edge lies along a row, beside another of the same row."""
    in_row = Counter(int(f.row_of_stitch[s]) for s in set(edge))
    return [in_row[int(f.row_of_stitch[s])] > 1 for s in edge]


def _face(f: Fabric, edge: list[int]) -> Literal["V", "bump", "garter"]:
    """What the edge shows on the right side: V above V, bump above bump, or by turns as in garter stitch."""
    seen = [int(f.seen_of_stitch[s]) for s in edge if f.seen_of_stitch[s] != Seen.NONE]
    turns = sum(x != y for x, y in pairwise(seen))
    if turns * 2 > len(seen):
        return "garter"
    return "V" if sum(x == Seen.KNIT for x in seen) * 2 >= len(seen) else "bump"
