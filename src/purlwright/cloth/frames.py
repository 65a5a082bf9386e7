"""Every stitch of a settled cloth as a small frame in space: where it lies, which way up, what it is.

In: a knitting and its settled shape. Out: :class:`Frames`, arrays of one length that a viewer can draw from
without knowing anything of knitting. The loop of yarn itself is left to ``loops``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING, Any, TypeAlias, cast

import numpy as np
from numpy.typing import NDArray

from purlwright.cloth.loops import frames_of
from purlwright.fabric.arrays import Link, Seen
from purlwright.needles.ledger import Kind
from purlwright.stitches.kinds import Loose
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.cloth.loops import Floats
    from purlwright.cloth.settled import Settled
    from purlwright.fabric.arrays import Fabric, Int32
    from purlwright.needles.knitted import Knitted

__all__ = ["Frames", "StitchShape", "stitch_frames"]

_Single: TypeAlias = NDArray[np.float32]
_Drawn = (Link.DRAWN, Link.BELOW, Link.TUCKED, Link.CROSSED_FRONT, Link.CROSSED_BACK, Link.EDGE, Link.JOINED)
_LEAST, _MOST = 0.4, 2.0
"""A stitch is drawn no narrower and no wider than so many times its own width: not across a gap."""
_BOUND_OFF = 0.5
"""How high the middle of a bound-off stitch stands over the loop it was worked into, in rows (by eye)."""


class StitchShape(IntEnum):
    """What the right side shows of a stitch, as far as a drawing needs to know."""

    KNIT = 0
    PURL = 1
    YARN_OVER = 2
    SLIPPED = 3
    """Its loop was slipped by later rows, and is drawn up beside them."""
    DECREASE_LEFT = 4
    DECREASE_RIGHT = 5
    DECREASE_CENTRE = 6
    CROSSED = 7
    CAST_ON = 8
    BOUND_OFF = 9
    OTHER = 10


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Frames:
    """The frames of k stitches, in the order they were made.

    stitch : (k,) int32, the fabric's number of each; the inner rows of bobbles have no place of their own.
    at_mm : (k, 3) float32, its middle; axes as those of the settled shape.
    wale_mm : (k, 3), up the column, as long as the stitch is high; a slipped loop as high as all its rows.
    course_mm : (k, 3), along the row to the right as the right side shows it, as long as the stitch is wide.
    normal : (k, 3), of length 1, out of the right side.
    shape : (k,) uint8, a :class:`StitchShape`.
    yarn : (k,) uint8, place in the fabric's yarns.
    order : (k,) uint32, ledger order of its row.
    span : (k, 2) uint32, where the words that made it begin and end in the source, in characters.
    Arrays are read-only. An empty knitting gives empty arrays.
    """

    stitch: Int32
    at_mm: _Single
    wale_mm: _Single
    course_mm: _Single
    normal: _Single
    shape: NDArray[np.uint8]
    yarn: NDArray[np.uint8]
    order: NDArray[np.uint32]
    span: NDArray[np.uint32]


def stitch_frames(knitted: Knitted, settled: Settled) -> Frames:
    """The frame of every stitch that has a place in the cloth."""
    fabric, mesh, rest = knitted.fabric, settled.mesh, settled.rest
    n = fabric.n
    rows = np.bincount(mesh.stitch, minlength=n)
    low = np.full(n, -1, np.int64)
    own = np.flatnonzero(~mesh.slipped)
    low[mesh.stitch[own]] = own
    at = np.zeros((n, 3))
    np.add.at(at, mesh.stitch, settled.shape.position_mm)
    at /= np.maximum(rows, 1)[:, None]
    wide, high = np.zeros(n), np.zeros(n)
    wide[mesh.stitch[own]], high[mesh.stitch[own]] = rest.stitch_mm[own], rest.row_mm[own]
    bound = _bound_off(knitted, low >= 0)
    placed = np.flatnonzero((low >= 0) | (bound >= 0)).astype(np.int32)
    lying = np.flatnonzero(low >= 0).astype(np.int32)
    along, up, out = (np.zeros((n, 3)) for _ in range(3))
    along[lying], up[lying], out[lying] = frames_of(fabric, lying, at[lying])
    late = placed[low[placed] < 0]
    under = bound[late]
    at[late] = at[under] + up[under] * (high[under] * _BOUND_OFF)[:, None]
    wide[late], high[late] = wide[under], high[under] * _BOUND_OFF
    along[late], up[late], out[late] = along[under], up[under], out[under]
    right = np.cross(up, out)
    tall = high * np.maximum(rows, 1)
    course = right * _widths(fabric, placed, at, wide)[:, None]
    shape = _shapes(knitted, at, right, rows)[placed]
    placed.flags.writeable = False
    return Frames(
        stitch=placed, at_mm=_single(at[placed]), wale_mm=_single((up * tall[:, None])[placed]),
        course_mm=_single(course[placed]), normal=_single(out[placed]), shape=_fixed(shape, np.uint8),
        yarn=_fixed(fabric.yarn_of_stitch[placed], np.uint8),
        order=_fixed(fabric.row_of_stitch[placed], np.uint32), span=_spans(fabric, placed),
    )  # fmt: skip


def _single(values: Floats) -> _Single:
    return cast("_Single", _fixed(values, np.float32))


def _fixed(values: Any, kind: type[np.generic]) -> Any:
    out = np.ascontiguousarray(values, kind)
    out.flags.writeable = False
    return out


def _spans(fabric: Fabric, placed: Int32) -> NDArray[np.uint32]:
    words = fabric.span_of_stitch[placed]
    known = (words >= 0) & (words < len(fabric.span_start))
    out = np.zeros((len(placed), 2), np.uint32)
    out[known, 0] = np.maximum(fabric.span_start[words[known]], 0)
    out[known, 1] = np.maximum(fabric.span_end[words[known]], 0)
    out.flags.writeable = False
    return out


def _bound_off(knitted: Knitted, placed: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Of each stitch worked as it was bound off, the placed stitch that it was worked into; -1 for others."""
    fabric = knitted.fabric
    out = np.full(fabric.n, -1, np.int64)
    first = fabric.first_parent_of_stitch
    here = _worked_off(knitted, placed) & ~placed & (np.diff(first) > 0)
    parent = fabric.parent[first[:-1][here]]
    out[here] = np.where(placed[parent], parent, -1)
    return out


def _widths(fabric: Fabric, placed: Int32, at: Floats, wide: Floats) -> Floats:
    """How wide each stitch is in its shape: half-way to its neighbours of the row, but not across a gap."""
    out = wide.copy()
    row = fabric.row_of_stitch[placed]
    near = (np.diff(placed) == 1) & (np.diff(row) == 0)
    apart = np.linalg.norm(np.diff(at[placed], axis=0), axis=1)[near]
    a, b = placed[:-1][near], placed[1:][near]
    usable = (apart >= _LEAST * wide[a]) & (apart <= _MOST * wide[a])
    total, many = np.zeros(len(wide)), np.zeros(len(wide))
    for side in (a, b):
        np.add.at(total, side[usable], apart[usable])
        np.add.at(many, side[usable], 1)
    some = many > 0
    out[some] = total[some] / many[some]
    return out


def _shapes(knitted: Knitted, at: Floats, right: Floats, rows: NDArray[np.int64]) -> NDArray[np.int8]:
    """The :class:`StitchShape` of every stitch, told from what it hangs on. rows : how many it lies in."""
    fabric = knitted.fabric
    n = fabric.n
    counts = np.diff(fabric.first_parent_of_stitch)
    out = np.full(n, StitchShape.OTHER, np.int8)
    out[fabric.seen_of_stitch == Seen.KNIT] = StitchShape.KNIT
    out[fabric.seen_of_stitch == Seen.PURL] = StitchShape.PURL
    # among several loops out of one, one without a face is a yarn over
    out[(fabric.seen_of_stitch == Seen.NONE) & (counts > 0)] = StitchShape.YARN_OVER
    for place, key in enumerate(fabric.ops):
        stitch = dictionary().stitches.get(key)
        here = (fabric.op_of_stitch == place) & (counts == 0)
        if stitch is not None and stitch.loose is Loose.OVER:
            out[here] = StitchShape.YARN_OVER
        elif key == "cast on" or (stitch is not None and stitch.loose is Loose.CAST_ON):
            out[here] = StitchShape.CAST_ON
    out[rows > 1] = StitchShape.SLIPPED
    child = np.repeat(np.arange(n), counts)
    crossed = np.isin(fabric.link, (Link.CROSSED_FRONT, Link.CROSSED_BACK))
    out[child[crossed]] = StitchShape.CROSSED
    decreased, lean = _leans(fabric, child, at, right)
    out[decreased] = lean
    out[_worked_off(knitted, rows > 0)] = StitchShape.BOUND_OFF
    return out


def _leans(
    fabric: Fabric, child: NDArray[np.int64], at: Floats, right: Floats
) -> tuple[NDArray[np.int64], NDArray[np.int8]]:
    """Stitches that hang on several loops, and which way the loop on top leans as the right side shows it.

    A loop that was lifted over lies on top, else the one whose column goes on.
    """
    passed = fabric.join_kind == Link.PASSED
    over, under = fabric.join_a[passed].astype(np.int64), fabric.join_b[passed].astype(np.int64)
    lifted = (fabric.row_of_stitch[over] != fabric.row_of_stitch[under]) & (over < under)
    over, under = over[lifted], under[lifted]
    hangs = np.isin(fabric.link, _Drawn)
    above = np.concatenate([child[hangs], under])
    below = np.concatenate([fabric.parent[hangs].astype(np.int64), over])
    on_top = np.concatenate(
        [fabric.column_of_stitch[child[hangs]] == fabric.column_of_stitch[fabric.parent[hangs]],
         np.ones(len(over), bool)]
    )  # fmt: skip
    over_it = np.zeros(fabric.n, bool)
    over_it[under] = True
    on_top[: int(hangs.sum())] &= ~over_it[child[hangs]]
    many = np.bincount(above, minlength=fabric.n)
    which = np.flatnonzero(many > 1)
    across = np.einsum("ij,ij->i", at[below] - at[above], right[above])
    mean = np.bincount(above, across, fabric.n) / np.maximum(many, 1)
    tops = np.bincount(above[on_top], minlength=fabric.n)
    top = np.bincount(above[on_top], across[on_top], fabric.n) / np.maximum(tops, 1)
    spread = np.sqrt(np.bincount(above, (across - mean[above]) ** 2, fabric.n) / np.maximum(many, 1))
    off = np.where(tops > 0, top - mean, 0.0)
    lean = np.full(fabric.n, StitchShape.DECREASE_CENTRE, np.int8)
    # what lies on top as the wrong side is worked lies below as the right side shows it
    off *= np.where(fabric.side_of_stitch == 1, -1, 1)
    # what lies on top and comes from the left leans to the right
    lean[off < -0.5 * spread] = StitchShape.DECREASE_RIGHT
    lean[off > 0.5 * spread] = StitchShape.DECREASE_LEFT
    return which, lean[which]


def _worked_off(knitted: Knitted, placed: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Stitches made as loops were bound off, of those with a place in the net only whole rows of them."""
    fabric = knitted.fabric
    passed = fabric.join_kind == Link.PASSED
    a, b = fabric.join_a[passed], fabric.join_b[passed]
    same = (fabric.row_of_stitch[a] == fabric.row_of_stitch[b]) & ~placed[a]
    out = np.zeros(fabric.n, bool)
    out[a[same]] = True
    whole = [e.order for e in knitted.ledger.entries if e.kind is Kind.BIND_OFF]
    return out | np.isin(fabric.row_of_stitch, whole)
