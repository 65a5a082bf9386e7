"""Whether a piece lies flat, cups or ruffles, told from its stitches alone; and what would make it flat.

In: a knitting, its net and its rest lengths. Out: a :class:`Flatness` for each piece that has one. What the
relaxed shape says of it is in ``depth``; no shape is needed here.

The length around is set against the distance it is measured at: C(r), round by round, or column by column
where short rows make wedges. Its slope is the angle that the piece sweeps: nothing for a tube, 2 pi for
a flat disc, less for a bowl, more for a ruffle. Of a piece that does not close to a ring the slope may be
anything: it lies flat as a fan while the slope stays the same from the inside out. What is bound off, gained
or lost at the edges of such a piece gives it its outline and bends nothing: only what changes between the
edges counts. A rib that is narrower than the cloth beside it stretches as far as that cloth, if it can.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import asin, degrees, pi
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.mesh import EdgeKind
from purlwright.needles.ledger import Kind
from purlwright.units import length_words

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.cloth.mesh import Mesh
    from purlwright.cloth.rest import Floats, Rest
    from purlwright.fabric.arrays import Int32
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry, Piece

__all__ = ["Flatness", "Stretch", "Verdict", "Wedges", "flatness_of", "increases_for_flat", "wedges_for_flat"]

TUBE = 0.35
"""A slope of less, in radians, is that of a tube; 20 degrees."""
FLAT = 0.06
"""Within this share of 2 pi a disc lies flat, or all but."""
BENT = 0.5
"""A piece that is no ring lies flat while its slope changes by less, in radians, from inside to outside."""
EVEN = 0.85
"""A profile of which a straight line explains as much is one piece, be its steps few and large, as those of a
circle whose stitches are doubled."""
STRAIGHT = 0.97
"""From a middle outwards, a profile less straight than this is judged by its area."""
WINDOW = 5
"""Rounds on each side of one over which its slope is taken; changes that pass sooner are passed over."""
EDGE = 8
"""Shaping so many stitches from an edge, or in the outer quarter of a narrow row, is that of the edge.

Rule of thumb, no source: full-fashioned shaping lies two to five stitches in, a border may be wider.
"""
DRAWN_IN = 0.95
"""A rib that is narrower than this beside what it stretches to is told to draw in."""
RIM = 3
"""Stitches outside the last turn stand up as a rim if they are more than these, and than one step."""


class Verdict(StrEnum):
    """How a piece lies."""

    FLAT = "flat"
    TUBE = "tube"
    CUPS = "cups"
    RUFFLES = "ruffles"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wedges:
    """The short-row wedges of a piece.

    count : how many; turns : in each; step : stitches from one turn to the next.
    angle : that each sweeps, in radians, 2 h / (step w). flat : how many close a ring that lies flat as
    knitted, pi step w / h. blocked : how many close flat when pinned out, from the whole profile.
    rim_stitches : stitches outside the last turn, which stand up like the rim of a pan.
    """

    count: int
    turns: int
    step: int
    angle: float
    flat: float
    blocked: float
    rim_stitches: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Rounds one after another that lie alike: a yoke, a body, a crown.

    first, last : ledger orders of its rounds; first_label, last_label : their words. swept : the slope there,
    in radians, below 0 where it goes in.
    """

    verdict: Verdict
    first: int
    last: int
    first_label: str
    last_label: str
    swept: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rib:
    """The narrowest row of a rib: how wide it is at rest, and how wide with the cloth beside it, in mm."""

    rest_mm: float
    out_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Flatness:
    """How one piece lies.

    piece : its number in the ledger. ring : it closes to a ring. by_columns : the profile goes across the
    columns, not up the rows. out_mm, around_mm : (g,) the profile: distance outwards, and the length there.
    swept : its slope in radians, least squares; inner, outer : of its two halves.
    stretches : of work in the round, the parts that lie alike, in the order worked.
    wedges : where short rows make wedges. per_round : stitches that one round has more than the one before,
    on the mean; flat_per_round : how many would lie flat.
    """

    piece: int
    verdict: Verdict
    ring: bool
    by_columns: bool
    out_mm: Floats
    around_mm: Floats
    swept: float
    inner: float
    outer: float
    stretches: tuple[Stretch, ...]
    wedges: Wedges | None
    per_round: float
    flat_per_round: float
    rib: Rib | None = None
    """Where a piece worked in rows has a rib that draws in beside its other cloth."""

    def said(self) -> tuple[str, ...]:
        """What a knitter is told, the verdict first."""
        out = [self._verdict()]
        if self.rib is not None and self.verdict is Verdict.FLAT:
            rest, wide = (length_words(mm, "cm") for mm in (self.rib.rest_mm, self.rib.out_mm))
            out.append(f"Its rib draws in to {rest} cm, and lies out to {wide} cm with the cloth beside it.")
        if self.wedges is not None and self.ring:
            w = self.wedges
            if self.verdict is not Verdict.FLAT:
                out.append(f"{round(w.flat)} wedges lie flat at this gauge; you have {w.count}.")
            if round(w.blocked) != round(w.flat) and not w.rim_stitches:
                out.append(f"Pinned out flat, {round(w.blocked)} wedges close the ring.")
            if w.rim_stitches:
                out.append(
                    f"The {w.rim_stitches} stitches beyond the last turn have the same rows all round: they "
                    "stand up like the rim of a pan, however many wedges there are."
                )
        elif self.ring and self.verdict in {Verdict.CUPS, Verdict.RUFFLES}:
            more = "more" if self.per_round >= 0 else "fewer"
            out.append(
                f"A round has about {abs(self.per_round):.1f} stitches {more} than the one before; "
                f"{self.flat_per_round:.1f} a round lie flat at this gauge."
            )
        if len(self.stretches) > 1:
            out += [_stretch_said(s) for s in self.stretches]
        return tuple(out)

    def _verdict(self) -> str:
        turn = f"{degrees(abs(self.swept)):.0f} of 360 degrees"
        match self.verdict:
            case Verdict.FLAT:
                return "It lies flat." if not self.ring else f"It lies flat: it goes round {turn}."
            case Verdict.TUBE:
                return "It is a tube."
            case Verdict.CUPS if self.ring:
                half = degrees(asin(min(abs(self.swept) / (2 * pi), 1.0)))
                return f"It cups: it goes round {turn}, a cone that opens by {half:.0f} degrees each side."
            case Verdict.CUPS:
                return "It cups: the middle has more than its edges can hold flat."
            case Verdict.RUFFLES if self.ring:
                return f"It ruffles: it goes round {turn}."
            case _:
                return "It ruffles: the edges have more than the middle can hold flat."


def _stretch_said(s: Stretch) -> str:
    what = {
        Verdict.TUBE: "a tube",
        Verdict.FLAT: "a flat disc",
        Verdict.RUFFLES: "a ruffle",
        Verdict.CUPS: "it widens like a bowl" if s.swept > 0 else "it draws in like a bowl",
    }[s.verdict]
    angle = "" if s.verdict is Verdict.TUBE else f", {degrees(abs(s.swept)):.0f} of 360 degrees"
    return f"From {s.first_label} to {s.last_label}: {what}{angle}."


def wedges_for_flat(step: int, stitch_mm: float, row_mm: float) -> float:
    """How many short-row wedges close to a ring that lies flat, with ``step`` stitches from turn to turn.

    Each wedge is two rows higher for every ``step`` stitches outwards: N = pi s w / h.
    """
    return pi * step * stitch_mm / row_mm


def increases_for_flat(rounds: int, stitch_mm: float, row_mm: float) -> float:
    """How many stitches to add every ``rounds`` rounds so that a disc lies flat: 2 pi p h / w."""
    return 2 * pi * rounds * row_mm / stitch_mm


def flatness_of(knitted: Knitted, mesh: Mesh, rest: Rest) -> tuple[Flatness, ...]:
    """How each piece lies, in the order of the ledger; pieces of fewer than three rows are left out."""
    out = []
    for number, piece in enumerate(knitted.ledger.pieces):
        found = _of_piece(knitted, mesh, rest, number, piece)
        if found is not None:
            out.append(found)
    return tuple(out)


def _of_piece(knitted: Knitted, mesh: Mesh, rest: Rest, number: int, piece: Piece) -> Flatness | None:
    nodes = np.flatnonzero(mesh.piece == number)
    entries = [e for e in piece.rows if e.kind in {Kind.ROW, Kind.ROUND}]
    if len(nodes) < 2 or len(entries) < 3:
        return None
    w, h = float(rest.stitch_mm[nodes].mean()), float(rest.row_mm[nodes].mean())
    rounds = sum(e.kind is Kind.ROUND for e in entries) * 2 > len(entries)
    short = [e for e in entries if e.unworked]
    by_columns = not rounds and len(short) >= 4
    orders: list[int] = []
    rib = None
    if by_columns:
        out_mm, around_mm = _across(knitted, mesh, rest, nodes)
        grafted = mesh.edge[mesh.edge_kind == EdgeKind.GRAFT]
        ring = bool(len(grafted)) and bool(np.isin(grafted, nodes).all())
    else:
        out_mm, around_mm, orders = _upwards(mesh, rest, entries)
        ring = rounds
    if len(out_mm) < 3:
        return None
    swept, inner, outer = _slopes(out_mm, around_mm)
    if not rounds and not by_columns:
        wide = _eased(rest, nodes)
        lines = _lines(mesh, orders)
        rib = _rib(rest, wide, lines)
        _, inner, outer = _slopes(out_mm, _between_the_edges(mesh, wide, lines, around_mm))
    wedges = _wedges(entries, w, h, swept, around_mm) if by_columns else None
    even = np.corrcoef(out_mm, around_mm)[0, 1] ** 2 if np.ptp(around_mm) > 0 else 1.0
    stretches = _stretches(out_mm, around_mm, orders, entries) if rounds and even < EVEN else ()
    if rounds and even < STRAIGHT and around_mm[0] < 0.25 * around_mm[-1]:
        swept = _swept_by_area(out_mm, around_mm)
    if len(stretches) > 1:  # what most of it does; each part is told beside it
        swept = max(stretches, key=lambda s: s.last - s.first).swept
    return Flatness(
        piece=number, verdict=_judge(swept, inner, outer, wedges, ring), ring=ring, by_columns=by_columns,
        out_mm=out_mm, around_mm=around_mm, swept=swept, inner=inner, outer=outer, stretches=stretches,
        wedges=wedges, per_round=swept * h / w, flat_per_round=2 * pi * h / w, rib=rib,
    )  # fmt: skip


def _judge(swept: float, inner: float, outer: float, wedges: Wedges | None, ring: bool) -> Verdict:
    if not ring:  # the profile bulges where the cloth is rounded like a bowl, and sags where it is a saddle
        if abs(outer - inner) < BENT:
            return Verdict.FLAT
        return Verdict.RUFFLES if outer > inner else Verdict.CUPS
    angle = abs(swept) if wedges is None else wedges.count * wedges.angle
    if angle < TUBE:
        return Verdict.TUBE
    if abs(angle - 2 * pi) <= FLAT * 2 * pi:
        return Verdict.FLAT
    return Verdict.CUPS if angle < 2 * pi else Verdict.RUFFLES


def _slopes(out: Floats, around: Floats) -> tuple[float, float, float]:
    """The slope of the profile, and those of its inner and outer halves."""
    half = (out[0] + out[-1]) / 2
    inside, outside = out <= half, out >= half

    def slope(which: Floats) -> float:
        if which.sum() < 2 or np.ptp(out[which]) <= 0:
            return float(np.polyfit(out, around, 1)[0])
        return float(np.polyfit(out[which], around[which], 1)[0])

    return float(np.polyfit(out, around, 1)[0]), slope(inside), slope(outside)


def _stretches(out: Floats, around: Floats, orders: list[int], entries: list[Entry]) -> tuple[Stretch, ...]:
    """Cut a profile where its slope changes from one kind to another for more than a few rounds."""
    n = len(out)
    if n <= 2 * WINDOW:
        return ()
    near = [slice(max(i - WINDOW, 0), i + WINDOW + 1) for i in range(n)]
    slope = [float(np.polyfit(out[k], around[k], 1)[0]) for k in near]
    kind = [_lies(s) for s in slope]
    cuts = [0, *(i for i in range(1, n) if kind[i] != kind[i - 1]), n]
    parts: list[tuple[int, int]] = []
    for a, b in pairwise(cuts):
        if b - a <= 2 * WINDOW:
            continue  # a change of gauge, or one shaping round
        if parts and kind[parts[-1][0]] == kind[a]:
            parts[-1] = (parts[-1][0], b)
        else:
            parts.append((a, b))
    parts = parts or [(0, n)]
    # what lies between two parts is where one passes into the other: half of it goes to each
    middles = [(b + c) // 2 for (_, b), (c, _) in pairwise(parts)]
    edges = [0, *middles, n]
    label = {e.order: f"{e.label or 'the round'} (line {e.line})" for e in entries}
    made = []
    for (a, b), (c, d) in zip(pairwise(edges), parts, strict=True):
        swept = float(np.polyfit(out[c:d], around[c:d], 1)[0])
        one = Stretch(
            verdict=_judge(swept, swept, swept, None, True), first=orders[a], last=orders[b - 1],
            first_label=label[orders[a]], last_label=label[orders[b - 1]], swept=swept,
        )  # fmt: skip
        made.append(one)
    return tuple(made)


def _lies(slope: float) -> tuple[Verdict, bool]:
    verdict = _judge(slope, slope, slope, None, True)
    return verdict, verdict is not Verdict.TUBE and slope > 0


def _swept_by_area(out: Floats, around: Floats) -> float:
    """The angle of the cone with as much cloth within the same distance: 2 A / R^2, its tip made whole."""
    area = float((around * np.diff(out, prepend=0.0)).sum())
    tip, swept = 0.0, 2 * pi
    for _ in range(30):
        tip = float(around[0]) / swept
        swept = 2 * (area + float(around[0]) * tip / 2) / (float(out[-1]) + tip) ** 2
    return swept


def _upwards(mesh: Mesh, rest: Rest, entries: list[Entry]) -> tuple[Floats, Floats, list[int]]:
    """Row by row: how far up each is, and how long. Short rows are passed over."""
    whole = {e.order for e in entries if not e.unworked and e.worked >= e.start - 1}
    out: list[float] = []
    around: list[float] = []
    up = 0.0
    parts: dict[int, list[int]] = {}
    for r, order in enumerate(mesh.row_order.tolist()):
        if order in whole:
            parts.setdefault(order, []).append(r)
    for rows in parts.values():
        nodes = np.concatenate(
            [mesh.node_of_row[mesh.first_of_row[r] : mesh.first_of_row[r + 1]] for r in rows]
        )
        up += float(np.median(rest.row_mm[nodes]))
        out.append(up)
        around.append(float(rest.stitch_mm[nodes].sum()))
    return np.array(out), np.array(around), list(parts)


def _eased(rest: Rest, nodes: NDArray[np.int64]) -> Floats:
    """The width of each stitch, (k,): in a cloth that gives, that of the other cloth as far as it gives."""
    wide = rest.stitch_mm.copy()
    soft = nodes[rest.gives[nodes] > 1]
    firm = nodes[rest.gives[nodes] <= 1]
    if len(soft) and len(firm):
        beside = float(np.median(rest.stitch_mm[firm]))
        wide[soft] = np.clip(beside, wide[soft], wide[soft] * rest.gives[soft])
    return wide


def _lines(mesh: Mesh, orders: list[int]) -> list[Int32]:
    """The nodes of each row, in the order worked along it; a row in parts has them one after another."""
    at: dict[int, list[Int32]] = {}
    for r, order in enumerate(mesh.row_order.tolist()):
        at.setdefault(order, []).append(mesh.node_of_row[mesh.first_of_row[r] : mesh.first_of_row[r + 1]])
    return [np.concatenate(at[order]) for order in orders]


def _rib(rest: Rest, wide: Floats, lines: list[Int32]) -> Rib | None:
    """The row that draws in most beside what it stretches to; None if none does."""
    sums = [(float(rest.stitch_mm[row].sum()), float(wide[row].sum())) for row in lines]
    rest_mm, out_mm = min(sums, key=lambda s: s[0] / s[1], default=(1.0, 1.0))
    return Rib(rest_mm=rest_mm, out_mm=out_mm) if rest_mm < DRAWN_IN * out_mm else None


def _between_the_edges(mesh: Mesh, wide: Floats, lines: list[Int32], around: Floats) -> Floats:
    """The profile without what is gained or lost at the edges: it changes as the middle of a row does."""
    wale = mesh.edge[mesh.edge_kind == EdgeKind.WALE]
    below = np.full(mesh.n, -1, np.int64)
    below[wale[::-1, 0]] = wale[::-1, 1]
    place = np.full(mesh.n, -1, np.int64)
    line = np.full(mesh.n, -1, np.int64)
    for n, row in enumerate(lines):
        place[row], line[row] = np.arange(len(row)), n
    out = np.zeros(len(lines))
    out[0] = around[0]
    for n, row in enumerate(lines[1:], 1):
        out[n] = out[n - 1]
        edge = min(EDGE, len(row) // 4)
        middle = row[edge : len(row) - edge]
        held = middle[(below[middle] >= 0) & (line[below[middle]] == n - 1)]
        if len(held) < 2:
            continue
        here = place[held[[0, -1]]]
        there = np.sort(place[below[held[[0, -1]]]])
        out[n] += wide[row[here[0] : here[1] + 1]].sum() - wide[lines[n - 1][there[0] : there[1] + 1]].sum()
    return out


def _across(knitted: Knitted, mesh: Mesh, rest: Rest, nodes: NDArray[np.int64]) -> tuple[Floats, Floats]:
    """Column by column from the side with fewer rows: how far across each is, and how high."""
    column = knitted.fabric.column_of_stitch[mesh.stitch[nodes]]
    names, first, place = np.unique(column, return_index=True, return_inverse=True)
    below = np.zeros(mesh.n, bool)
    below[mesh.edge[mesh.edge_kind == EdgeKind.WALE, 0]] = True
    high = np.bincount(place, rest.row_mm[nodes] * below[nodes]).astype(np.float64)
    wide = rest.stitch_mm[nodes][first]
    for a in mesh.edge[mesh.edge_kind == EdgeKind.GRAFT, 0].tolist():
        at = np.searchsorted(names, knitted.fabric.column_of_stitch[mesh.stitch[a]])
        if at < len(names):
            high[at] += float(rest.row_mm[a])
    out = np.cumsum(wide) - wide / 2
    k = max(len(high) // 4, 1)
    if high[:k].mean() > high[-k:].mean():
        high, out = high[::-1], out[-1] - out[::-1]
    return out - out[0], high


def _wedges(entries: list[Entry], w: float, h: float, swept: float, around: Floats) -> Wedges | None:
    """The wedges: runs of rows of which every second one turns before its end."""
    groups: list[list[int]] = []
    open_ = False
    for e in entries:
        if e.unworked:
            if not open_:
                groups.append([])
            groups[-1].append(e.unworked)
            open_ = True
        elif e.worked == e.end and not e.gaps:
            open_ = False
    steps = [abs(b - a) for g in groups for a, b in pairwise(g) if b != a]
    if len(groups) < 2 or not steps:
        return None
    step = max(set(steps), key=steps.count)
    angle = 2 * h / (step * w)
    top = around >= around.max() - h / 2
    rim = int(top.sum())
    return Wedges(
        count=len(groups), turns=max(len(g) for g in groups), step=step, angle=angle,
        flat=wedges_for_flat(step, w, h),
        blocked=len(groups) * 2 * pi / abs(swept) if abs(swept) > 1e-6 else 0.0,
        rim_stitches=rim if rim > max(step, RIM) else 0,
    )  # fmt: skip
