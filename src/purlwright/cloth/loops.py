"""Each stitch as the loop of yarn it is: a line in space for every loop, over and under its neighbours.

In: the fabric, and where some of its stitches lie (from the rows laid straight, or from the relaxed shape).
Out: :class:`Loops`, the middle line of the yarn as points in mm, stitch by stitch. A loop drawn through to
the front lies with its legs before the heads of the loops it came through, and its feet behind their legs; a
purl the other way about. How the line is drawn or made round is left to others.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.fabric.arrays import Link, Seen
from purlwright.fabric.query import parent_counts

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric, Int32

__all__ = ["POINTS", "Floats", "Loops", "frames_of", "loops"]

Floats: TypeAlias = NDArray[np.float64]

POINTS = 13
"""Points of a loop: where its yarn comes in, five up, the top of the head, five down, where it goes out."""
_FOOT, _MIDDLE, _HEAD = 0, 1, 2
_HALF = (
    # across in stitch widths, along in row heights from (foot, middle or head), depth by its own face, and by
    # the face of the loop drawn through it; all by eye, after drawings of plain knitting in textile handbooks
    (0.15, -0.20, _FOOT, -0.5, 0.0),
    (0.22, 0.20, _FOOT, 1.0, 0.0),
    (0.27, 0.00, _MIDDLE, 0.45, 0.45),
    (0.33, -0.18, _HEAD, 0.0, 1.0),
    (0.27, 0.22, _HEAD, 0.0, -0.5),
)
_TOP = 0.42
"""How far the head reaches round the loop that is drawn through it, in row heights (by eye)."""
_SINK = 0.36
"""How far the feet reach below, in row heights (by eye)."""
_THICK = 0.75
"""How far a loop lies before or behind the middle of the cloth, in thicknesses of its yarn."""
_FLOAT = 1.7
"""From so many stitch widths on, yarn between two stitches is a float behind the work."""
_CARRY = 2.5
"""How far before or behind the others a loop lies that is carried across."""
_LEAN = 0.8
"""How much of its lean a loop loses: columns may lean, but a loop does not lie down."""
_DRAWN = (
    Link.DRAWN, Link.BELOW, Link.TUCKED, Link.CROSSED_FRONT, Link.CROSSED_BACK, Link.EDGE, Link.JOINED,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loops:
    """The yarn of k stitches in mm; x to the right, y upwards as the right side is seen, z towards the eye.

    stitch : (k,) int32, the fabric's number of each.
    line : (k, 13, 3), the points of its loop, from where the yarn comes in to where it goes out.
    depth : (k, 13), how far before (above 0) or behind the middle of the cloth each point lies, in loops.
    yarn : (k,) int8, place in the fabric's yarns.
    row : (k,) int32, ledger order of the row that made it.
    goes_to : (k,) the place of the stitch its yarn makes next, where ``line`` goes on; -1 where it ends.
    thick_mm : how thick the yarn is drawn.
    Arrays are read-only.
    """

    stitch: Int32
    line: Floats
    depth: Floats
    yarn: NDArray[np.int8]
    row: Int32
    goes_to: NDArray[np.int64]
    thick_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Web:
    """What hangs on what among the chosen stitches, by their places in the choice."""

    child: NDArray[np.int64]
    parent: NDArray[np.int64]
    link: NDArray[np.int8]
    before: NDArray[np.int64]
    """(k,) the stitch made just before it in its row, or itself."""
    after: NDArray[np.int64]


def loops(fabric: Fabric, stitch: Int32, at_mm: Floats, *, width_mm: float, height_mm: float) -> Loops:
    """The loops of some stitches.

    stitch : (k,) int32, ascending; other stitches are as if they were not there.
    at_mm : (k, 3), the middle of each; (k, 2) for a flat piece, seen from its right side.
    width_mm, height_mm : of a stitch and of a row. Raises ValueError unless both are above 0.
    """
    if width_mm <= 0 or height_mm <= 0:
        raise ValueError(f"a stitch and a row have a size: not {width_mm} mm and {height_mm} mm")
    if at_mm.shape[1] == 2:
        at_mm = np.column_stack([at_mm, np.zeros(len(at_mm))])
    k = len(stitch)
    thick = min(0.27 * width_mm, 0.5 * height_mm)
    line, depth = np.zeros((k, POINTS, 3)), np.zeros((k, POINTS))
    goes_to = np.full(k, -1, np.int64)
    if k:
        web = _web(fabric, stitch)
        at_mm = _eased(at_mm, web)
        along, up, out = _frames(fabric, stitch, at_mm, web)
        foot = _feet(at_mm, up * height_mm, web)
        head = _heads(fabric, stitch, at_mm, foot, up * height_mm, along * width_mm, web)
        own, above = _faces(fabric, stitch, web)
        carried, carrying = _crossings(web, k)
        for n, (across, high, base, by_own, by_above) in enumerate(_HALF):
            spot = (foot, (foot + head) / 2, head)[base] + up * (high * height_mm)
            over = (carried, carried + carrying, carrying)[base] * _CARRY
            for place, side in ((1 + n, -1), (POINTS - 2 - n, 1)):
                line[:, place] = spot + along * (side * across * width_mm)
                depth[:, place] = own * by_own + above * by_above
                depth[:, place] += over
        line[:, POINTS // 2] = head + up * (_TOP * height_mm)
        depth[:, POINTS // 2] = -above + carrying * _CARRY
        goes_to = _join(fabric, stitch, line, depth, foot, along * width_mm, up * height_mm, own)
        line += out[:, None, :] * (depth * (_THICK * thick))[:, :, None]
    yarn, row = fabric.yarn_of_stitch[stitch], fabric.row_of_stitch[stitch]
    for values in (line, depth, yarn, row, goes_to):
        values.flags.writeable = False
    return Loops(stitch=stitch, line=line, depth=depth, yarn=yarn, row=row, goes_to=goes_to, thick_mm=thick)


def frames_of(fabric: Fabric, stitch: Int32, at_mm: Floats) -> tuple[Floats, Floats, Floats]:
    """Of some stitches, the ways along their row as worked, up the column, and out of the right side.

    stitch : (k,), ascending; at_mm : (k, 3), the middle of each. Gives (k, 3) each, of length 1.
    """
    return _frames(fabric, stitch, at_mm, _web(fabric, stitch))


def _web(fabric: Fabric, stitch: Int32) -> _Web:
    k = len(stitch)
    place = np.full(fabric.n, -1, np.int64)
    place[stitch] = np.arange(k)
    child = place[np.repeat(np.arange(fabric.n), parent_counts(fabric))]
    parent = place[fabric.parent]
    both = (child >= 0) & (parent >= 0) & np.isin(fabric.link, _DRAWN)
    here = np.arange(k)
    near = (np.diff(stitch) == 1) & (np.diff(fabric.row_of_stitch[stitch]) == 0)
    return _Web(
        child=child[both],
        parent=parent[both],
        link=fabric.link[both],
        before=np.where(np.concatenate(([False], near)), here - 1, here),
        after=np.where(np.concatenate((near, [False])), here + 1, here),
    )


def _eased(at: Floats, web: _Web) -> Floats:
    """A strand that crosses others does not jump to its place in one row: it leans over before and after."""
    crossed = np.isin(web.link, (Link.CROSSED_FRONT, Link.CROSSED_BACK))
    if not crossed.any():
        return at
    child, parent = web.child[crossed], web.parent[crossed]
    way = at[child] - at[parent]
    # strands that cross go as far to the one side as to the other: what is left of them together is the row
    run = np.concatenate(([0], np.cumsum(np.diff(child) > 1)))
    many = np.bincount(run)
    way -= np.stack([np.bincount(run, way[:, c]) / many for c in range(3)], axis=1)[run]
    gone, came = np.zeros_like(at), np.zeros_like(at)
    np.add.at(gone, child, way)
    np.add.at(came, parent, way)
    out = at - _NEXT * gone + _NEXT * came
    np.subtract.at(out, web.child, _AFTER * gone[web.parent])
    np.add.at(out, web.parent, _AFTER * came[web.child])
    return out


_NEXT, _AFTER = 0.25, 0.1
"""What share of its way a crossing strand leans over in the row of the crossing and in that beside it (by
eye)."""


def _frames(fabric: Fabric, stitch: Int32, at: Floats, web: _Web) -> tuple[Floats, Floats, Floats]:
    """Unit vectors: along the row as it was worked, up the column, and out of the right side; (k, 3) each."""
    along = at[web.after] - at[web.before]
    up = np.zeros_like(at)
    np.add.at(up, web.child, at[web.child] - at[web.parent])
    alone = ~np.isin(np.arange(len(at)), web.child)
    on = np.zeros_like(at)
    np.add.at(on, web.parent, at[web.child] - at[web.parent])
    up[alone] = on[alone]
    up = _lent(up, web)
    along = _unit(along, np.array([1.0, 0, 0]))
    up -= along * np.sum(up * along, axis=1, keepdims=True) * _LEAN
    up = _unit(up, np.array([0, 1.0, 0]))
    wrong = fabric.side_of_stitch[stitch] == 1
    out = _unit(np.cross(along, up) * np.where(wrong, 1, -1)[:, None], np.array([0, 0, 1.0]))
    # Which way a cast-on was laid is not known from itself: its right side is that of what stands on it.
    above = np.zeros_like(out)
    np.add.at(above, web.parent, out[web.child])
    turned = (fabric.side_of_stitch[stitch] == 2) & (np.einsum("ij,ij->i", above, out) < 0)
    return along, up, np.where(turned[:, None], -out, out)


def _feet(at: Floats, up: Floats, web: _Web) -> Floats:
    """Where each loop comes out of what it hangs on; one carried across comes out half-way."""
    foot = at - up / 2
    across = np.isin(web.link, (Link.CROSSED_FRONT, Link.CROSSED_BACK))
    child, parent = web.child[across], web.parent[across]
    foot[child] = (at[child] + at[parent]) / 2
    return foot


def _lent(up: Floats, web: _Web) -> Floats:
    """A stitch that hangs on nothing and holds nothing stands as its neighbours do."""
    for _ in range(2):
        none = np.einsum("ij,ij->i", up, up) < 1e-12
        up = np.where(none[:, None], up[web.before] + up[web.after], up)
    return up


def _unit(vectors: Floats, usual: Floats) -> Floats:
    size = np.linalg.norm(vectors, axis=1, keepdims=True)
    return np.where(size > 1e-9, vectors / np.maximum(size, 1e-9), usual)


def _heads(
    fabric: Fabric, stitch: Int32, at: Floats, foot: Floats, up: Floats, along: Floats, web: _Web
) -> Floats:
    """Where each loop is held: at the feet of what was drawn through it; several held by one side by side.

    Loops passed over others at a bind-off are held by those.
    """
    k = len(at)
    held = np.bincount(web.parent, minlength=k)
    several = np.bincount(web.child, minlength=k)
    first = np.concatenate(([0], np.cumsum(several)))[:-1]
    nth = np.arange(len(web.child)) - first[web.child]
    beside = (nth - (several[web.child] - 1) / 2) * 0.22
    sums = np.zeros_like(at)
    np.add.at(sums, web.parent, foot[web.child] + along[web.child] * beside[:, None])
    head = np.where(held[:, None] > 0, sums / np.maximum(held, 1)[:, None], at + up / 2)
    place = np.full(fabric.n, -1, np.int64)
    place[stitch] = np.arange(k)
    passed = fabric.join_kind == Link.PASSED
    over, under = place[fabric.join_a[passed]], place[fabric.join_b[passed]]
    both = (over >= 0) & (under >= 0)
    over, under = over[both], under[both]
    free = held[over] == 0
    head[over[free]] = foot[under[free]] + up[under[free]] * 0.15
    return head


def _crossings(web: _Web, k: int) -> tuple[Floats, Floats]:
    """1 for a loop carried across in front, -1 for one behind: at its own foot, and at its head."""
    way = np.where(web.link == Link.CROSSED_FRONT, 1.0, np.where(web.link == Link.CROSSED_BACK, -1.0, 0.0))
    carried, carrying = np.zeros(k), np.zeros(k)
    np.add.at(carried, web.child, way)
    np.add.at(carrying, web.parent, way)
    return np.sign(carried), np.sign(carrying)


def _faces(fabric: Fabric, stitch: Int32, web: _Web) -> tuple[Floats, Floats]:
    """1 where a loop comes to the front and -1 where to the back: its own, and what is drawn through it."""
    own = np.where(fabric.seen_of_stitch[stitch] == Seen.PURL, -1.0, 1.0)
    sums = np.zeros(len(stitch))
    np.add.at(sums, web.parent, own[web.child])
    return own, np.where(sums == 0, own, np.sign(sums))


def _join(
    fabric: Fabric, stitch: Int32, line: Floats, depth: Floats,
    foot: Floats, along: Floats, up: Floats, own: Floats,
) -> NDArray[np.int64]:  # fmt: skip
    """Let the yarn run from each loop to the next of its colour, as it was worked; gives which that is."""
    goes_to = np.full(len(stitch), -1, np.int64)
    line[:, 0] = foot - along * 0.5 - up * _SINK
    line[:, -1] = foot + along * 0.5 - up * _SINK
    depth[:, 0] = depth[:, -1] = -own
    rows = fabric.row_of_stitch[stitch]
    yarns = fabric.yarn_of_stitch[stitch]
    for yarn in np.unique(yarns):
        mine = np.flatnonzero(yarns == yarn)
        a, b = mine[:-1], mine[1:]
        same = rows[a] == rows[b]
        gone = foot[b] - foot[a]
        wide = np.linalg.norm(along[a], axis=1)
        far = np.linalg.norm(gone, axis=1) / wide
        joined = same | (far < 3)
        a, b, same, far = a[joined], b[joined], same[joined], far[joined]
        middle = (foot[a] + along[a] * 0.55 + foot[b] - along[b] * 0.55) / 2
        middle -= (up[a] + up[b]) / 2 * np.where(same, _SINK, 0)[:, None]
        line[a, -1] = line[b, 0] = middle
        level = np.where(far > _FLOAT, -1.3, -(own[a] + own[b]) / 2)
        depth[a, -1] = depth[b, 0] = level
        goes_to[a] = b
    return goes_to
