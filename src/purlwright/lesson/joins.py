"""Seams and grafts: which stitch meets which, and how the sewing needle goes, step by step.

In: one size, knitted. Out: a :class:`Join` for each graft or seam, from the links that closing it made in
the fabric. Drawing it is left to ``join_drawing``.

Method: a graft sews one row of new stitches. On the needle that lies nearer, with its right side outwards,
the sewing needle meets each loop twice: for a knit face first purlwise, then knitwise; for a purl face the
other way about. The needle behind shows its wrong side, so there it is knitwise first for a knit face. (The
usual graft of stockinette, front knitwise off and purlwise on, back purlwise off and knitwise on, comes out
of this; M. Thomas, Mary Thomas's Knitting Book, 1938, from memory.) Which face the new row has is read off
the fabric: a column that goes on as it is has the face it has; one that changes with every row, as in
garter stitch, changes once more.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Link, Seen
from purlwright.fabric.query import children_of_all, parents
from purlwright.needles.ledger import Kind
from purlwright.proof.said import count

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["Join", "SewingStep", "joins_of", "rate_of", "ratio_said", "shares"]

TAIL_TIMES = 4
"""How often its own length a graft needs as tail, so that there is enough to sew with; by common practice,
no source.
"""
SEAM_TIMES = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class SewingStep:
    """Once into one loop: on which needle, which loop from 1, which way in, and whether it stays on its
    needle.
    """

    needle: str
    loop: int
    enters: str
    drops: bool

    @property
    def words(self) -> str:
        """The step as it is told."""
        leaves = "slip it off" if self.drops else "leave it on"
        return f"{self.needle} needle, loop {self.loop}: {self.enters}, {leaves}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Two edges that become one. ``pairs`` are stitches of the fabric that meet, from the first sewn to the
    last.

    ``heads`` says that heads of loops meet heads, so that the columns lie half a stitch apart; else loops
    meet the feet of a cast-on, and columns run on. ``faces`` are the faces, in the new row, over the near
    edge and the far one.
    """

    entry: Entry
    how: str
    pairs: tuple[tuple[int, int], ...]
    heads: bool
    faces: tuple[tuple[bool, bool], ...]
    """For each pair, whether the new row is a knit stitch over the near loop, and over the far one."""
    mm: float | None

    @property
    def tail_mm(self) -> float | None:
        """How long the tail should be; None where the length of the edge is not known."""
        times = TAIL_TIMES if self.how == "graft" else SEAM_TIMES
        return None if self.mm is None else self.mm * times + 200

    def steps(self, many: int | None = None) -> tuple[SewingStep, ...]:
        """The way of the sewing needle through the first loops, or through all: two to set up, then four a
        pair; two at the last, after which no loop waits to be entered.
        """
        if self.how != "graft":
            return ()
        out: list[SewingStep] = []
        pairs = self.faces
        shown = min(many or len(pairs), len(pairs))

        def enters(needle: str, loop: int, *, again: bool) -> str:
            knit = pairs[loop - 1][0 if needle == "front" else 1]
            purlwise_first = knit if needle == "front" else not knit
            return "purlwise" if purlwise_first is not again else "knitwise"

        if not pairs:
            return ()
        out += [
            SewingStep(needle=needle, loop=1, enters=enters(needle, 1, again=False), drops=False)
            for needle in ("front", "back")
        ]
        for n in range(1, shown + 1):
            for needle in ("front", "back"):
                out.append(
                    SewingStep(needle=needle, loop=n, enters=enters(needle, n, again=True), drops=True)
                )
                if n < len(pairs):
                    way = enters(needle, n + 1, again=False)
                    out.append(SewingStep(needle=needle, loop=n + 1, enters=way, drops=False))
        return tuple(out)


def joins_of(knitted: Knitted, stitch_mm: float | None = None) -> tuple[Join, ...]:
    """Every graft and seam, in the order worked; none for a pattern without."""
    f = knitted.fabric
    out = []
    kinds = {
        Kind.GRAFT: (Link.GRAFTED,),
        Kind.SEAM: (Link.JOINED,),
    }  # what is sewn at edges has no loops to tell of
    used = 0
    entries = [e for e in knitted.ledger.entries if e.kind in kinds]
    for e in entries:
        mine = np.flatnonzero(np.isin(f.join_kind, kinds[e.kind]))[used:]
        here = mine[: max(e.lost // 2, e.lost if e.worked == e.lost else 0) or len(mine)]
        used += len(here)
        pairs = tuple(zip(f.join_a[here].tolist(), f.join_b[here].tolist(), strict=True))
        if not pairs:
            continue
        cast = {"cast on", "co"}
        heads = not any(
            f.ops[f.op_of_stitch[b]] in cast or f.ops[f.op_of_stitch[a]] in cast for a, b in pairs
        )
        out.append(
            Join(
                entry=e, how="graft" if e.kind is Kind.GRAFT else "bound off together",
                pairs=pairs, heads=heads,
                faces=tuple((_face(f, a), _face(f, b)) for a, b in pairs),
                mm=None if stitch_mm is None else stitch_mm * len(pairs),
            )
        )  # fmt: skip
    return tuple(out)


def _face(fabric: Fabric, stitch: int) -> bool:
    """Whether a row over this loop, as the fabric goes on, shows a knit face there."""
    seen = fabric.seen_of_stitch
    if (
        seen[stitch] == Seen.NONE
    ):  # a cast-on: what was drawn through it tells what it looks like from its other end
        first, child, _ = children_of_all(fabric)
        kids = child[first[stitch] : first[stitch + 1]]
        return not len(kids) or bool(seen[kids[0]] == Seen.KNIT)
    below = parents(fabric, stitch)
    knit = bool(seen[stitch] == Seen.KNIT)
    goes_on = not len(below) or seen[below[0]] == Seen.NONE or bool(seen[below[0]] == seen[stitch])
    return knit if goes_on else not knit


def shares(a: int, b: int) -> tuple[tuple[int, int], ...]:
    """How two edges of unlike length are sewn evenly: for each bar of the shorter one, how many of the
    longer are taken with it. (1, 1) all along for edges of one length; raises ValueError for an edge of
    nothing.
    """
    if min(a, b) < 1:
        raise ValueError(f"an edge has a stitch or a row: not {a} and {b}")
    short, long_ = sorted((a, b))
    cuts = [long_ * n // short for n in range(short + 1)]
    return tuple((1, y - x) for x, y in pairwise(cuts))


_MOST_IN_RATE = 8
"""A rate of more than so many at once is not kept in mind (rule of thumb)."""


def rate_of(a: int, b: int) -> tuple[int, int]:
    """The nearest rate in small numbers: of 24 stitches and 32 rows, 3 and 4."""
    if min(a, b) < 1:
        raise ValueError(f"an edge has a stitch or a row: not {a} and {b}")
    tried = [(n, m) for m in range(1, _MOST_IN_RATE + 1) for n in range(1, _MOST_IN_RATE + 1)]
    return min(tried, key=lambda r: (abs(r[0] * b - r[1] * a) / r[1], sum(r)))


def ratio_said(a: int, b: int) -> str:
    """The rate in words: stitch for stitch, or so many of the longer edge to one of the shorter."""
    if a == b:
        return "stitch for stitch"
    each = [n for _, n in shares(a, b)]
    low, high = min(each), max(each)
    if low == high:
        return f"1 to {low} all along"
    return f"mostly 1 to {low}, and {count(each.count(high), 'time')} 1 to {high}, evenly spaced"
