"""Shoulder and raglan seams, sleeves set in or sewn on: which edges of a back, fronts and sleeves meet.

In: the knitter at work, when all pieces are knitted. Out: pairs of edges, each from its first stitch to its
last; none where the pieces do not tell which they are. Side seams and named edges are left to ``sewing``.

Each piece is laid out in columns, so that what was bound off can be told by where it lies: at the sides and
low down the underarm, at the sides and on top the shoulders, the rest the neck. The right side is outside, so
the left shoulder of a front, as it lies before one, meets the right shoulder of a back. Common practice, no
source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.fabric.arrays import Int32, Link

if TYPE_CHECKING:
    from purlwright.needles.hands import Edges
    from purlwright.needles.knit import Knitter

__all__ = ["armhole_seams", "raglan_seams", "shoulder_seams"]

Side: TypeAlias = Literal["left", "right"]
_Pair: TypeAlias = tuple[Int32, Int32]

_STEPS_APART = 3
"""Steps of one shoulder are bound off no more than so many rows apart."""
_EASE = 0.25
"""A cap is sewn into an armhole that differs from it by no more than this share: the rest is eased in."""
_ALIKE = 0.1
"""Shoulders that differ by no more than this share, or by two stitches, are sewn to one another."""
_ROWS_OF_THREE = 4
"""So many rows meet three stitches where a sleeve is sewn to a straight side; common practice, no source."""
_HANGS = (Link.DRAWN, Link.BELOW, Link.CROSSED_FRONT, Link.CROSSED_BACK)


@dataclass(slots=True, eq=False)
class _Part:
    """One flat part of a garment, which may have been knitted as several pieces (one a shoulder).

    rows : for each row its order and its stitches from left to right, as the right side shows them.
    x : (n,) the column of each stitch of the whole fabric; of this part only those are of use.
    bound : stitches bound off together, from left to right.
    """

    name: str
    x: NDArray[np.float64]
    rows: list[tuple[int, Int32]] = field(default_factory=list)
    bound: list[tuple[int, Int32]] = field(default_factory=list)

    @property
    def half(self) -> bool:
        """Whether it is one of two fronts."""
        return re.search(r"\b(?:left|right)\b", self.name, re.IGNORECASE) is not None

    @property
    def middle(self) -> float:
        """The column half-way between its sides."""
        first = self.x[self.rows[0][1]]
        return float(first.min() + first.max()) / 2


def shoulder_seams(k: Knitter) -> list[_Pair]:
    """Both shoulder seams of a back and a front, or of a back and two fronts."""
    parts = _parts(k)
    out = []
    for front, side, back in _shoulders(parts):
        pair = _sewn(_shoulder(front, side), _shoulder(back, _other(side)), half=front.half)
        if pair is None:
            return []
        out.append(pair)
    return out


def armhole_seams(k: Knitter) -> list[_Pair]:
    """Two sleeves set into the armholes of a back and its front or fronts; or sewn to straight sides, their
    tops as far down from the shoulder as they reach.
    """
    out = []
    for sleeve, front, side, back in _sleeves_in_place(_parts(k)):
        up, down = _armhole(front, side), _armhole(back, _other(side))
        cap = _cap(sleeve, _other(side))
        if not len(up) and not len(down) and not len(cap):
            up, down, cap = _dropped(sleeve, front, side, back)
            eased = _ROWS_OF_THREE / 3 - 1 + _EASE
        else:
            eased = _EASE
        if not len(up) or not len(down) or not len(cap):
            return []
        hole = np.concatenate([up, down[::-1]])
        if abs(len(hole) - len(cap)) > eased * max(len(hole), len(cap)):
            return []
        out.append(_eased(hole, cap))
    return out


def raglan_seams(k: Knitter) -> list[_Pair]:
    """Four slanted seams, each from the side seam along the underarm and up to the neck."""
    out = []
    for sleeve, front, side, back in _sleeves_in_place(_parts(k)):
        for body, at, on in ((front, side, _other(side)), (back, _other(side), side)):
            edge, other = _armhole(body, at), _armhole(sleeve, on)
            longer = max(len(edge), len(other))
            if not len(edge) or not len(other) or abs(len(edge) - len(other)) > max(2, _ALIKE * longer):
                return []
            out.append(_eased(edge, other))
    return out


def _sleeves_in_place(parts: Sequence[_Part]) -> list[tuple[_Part, _Part, Side, _Part]]:
    """Each of two sleeves with the front, which of its sides, and the back that it is sewn to.

    A front's right, as it lies before one, is the wearer's left; it does not matter which sleeve goes where.
    """
    sleeves = [p for p in parts if re.search(r"\bsleeves?\b", p.name, re.IGNORECASE)]
    holes = sorted(_shoulders(parts), key=lambda hole: hole[1])
    if len(sleeves) != 2 or len(holes) != 2:
        return []
    return [(sleeve, *hole) for sleeve, hole in zip(sleeves, holes, strict=True)]


def _dropped(sleeve: _Part, front: _Part, side: Side, back: _Part) -> tuple[Int32, Int32, Int32]:
    """Where the straight top of a sleeve is sewn: up the side of a front, down that of a back, and the top.

    Both sides end below where they are bound off; empty where a side is too short.
    """
    none = np.zeros(0, np.int32)
    if not sleeve.bound:
        return none, none, none
    top = sleeve.bound[-1][1]
    rows = round(len(top) * _ROWS_OF_THREE / 3 / 2)
    up, down = _straight_side(front, side), _straight_side(back, _other(side))
    if min(len(up), len(down)) < rows:
        return none, none, none
    return up[-rows:], down[-rows:], top[::-1] if side == "left" else top


def _straight_side(part: _Part, side: Side) -> Int32:
    """The ends of the rows at a side, from below up to the shoulder."""
    top = _top_row(part, side)
    ends = [
        ids[0] if side == "left" else ids[-1]
        for order, ids in part.rows
        if order < top and _reaches(part, ids, side)
    ]
    return np.array(ends, np.int32)


def _shoulders(parts: Sequence[_Part]) -> list[tuple[_Part, Side, _Part]]:
    """Each shoulder: a front, which of its sides, as it lies before one, and the back."""
    back = [p for p in parts if re.search(r"\bback\b", p.name, re.IGNORECASE)]
    front = [p for p in parts if re.search(r"\bfronts?\b", p.name, re.IGNORECASE)]
    if len(back) != 1 or back[0] in front:
        return []
    if len(front) == 1:
        return [(front[0], "left", back[0]), (front[0], "right", back[0])]
    # the left front is worn on the left; its armhole lies to the right of it as one looks at it
    by_side: dict[Side, list[_Part]] = {
        "right": [p for p in front if re.search(r"\bleft\b", p.name, re.IGNORECASE)],
        "left": [p for p in front if re.search(r"\bright\b", p.name, re.IGNORECASE)],
    }
    if len(front) == 2 and all(len(found) == 1 for found in by_side.values()):
        return [(by_side["left"][0], "left", back[0]), (by_side["right"][0], "right", back[0])]
    return []


def _other(side: Side) -> Side:
    return "right" if side == "left" else "left"


# --- pieces laid out in columns ----------------------------------------------------------------------


def _parts(k: Knitter) -> list[_Part]:
    """The flat parts, in the order begun. Pieces that go on with loops of an earlier one belong to it."""
    n = k.grower.n
    row, side = (k.grower.buf[name][:n] for name in ("row", "side"))
    starts = [0, *(np.flatnonzero(np.diff(row)) + 1).tolist(), n] if n else [0]
    x = np.full(n, np.nan)
    entries = [at for _, at in k.pieces]
    orders = [k.entries[at].order if at < len(k.entries) else np.inf for at in entries]
    part_of_piece: dict[int, _Part] = {}
    of_stitch = np.full(n, -1, np.int32)
    for a, b in pairwise(starts):
        order = int(row[a])
        piece = int(np.searchsorted(orders, order, side="right")) - 1
        if piece < 0:
            continue
        ids = np.arange(a, b, dtype=np.int32)
        below = _below(k, a, b)
        hung = below >= 0
        if piece not in part_of_piece:
            owners = of_stitch[below[hung]]
            owner = int(np.bincount(owners[owners >= 0]).argmax()) if (owners >= 0).any() else -1
            part_of_piece[piece] = part_of_piece[owner] if owner >= 0 else _Part(name=k.pieces[piece][0], x=x)
        of_stitch[a:b] = piece
        way = 1.0 if int(side[a]) == 1 else -1.0
        steps = np.arange(b - a) * way
        known = hung & np.isfinite(x[np.maximum(below, 0)])
        offset = float(np.median(x[below[known]] - steps[known])) if known.any() else 0.0
        x[a:b] = steps + offset
        fresh = hung & ~known
        x[below[fresh]] = x[a:b][fresh]  # a cast-on lies as the first row finds it
        part_of_piece[piece].rows.append((order, ids[::-1] if way < 0 else ids))
    _note_bound_off(k, part_of_piece, row, x)
    return list(dict.fromkeys(part_of_piece.values()))


def _below(k: Knitter, a: int, b: int) -> Int32:
    """The first loop that each stitch of a row was drawn through, -1 for none."""
    g = k.grower
    first = g.buf["first"][: g.n]
    ends = np.append(first[a + 1 : b], first[b] if b < g.n else g.m)
    begin = first[a:b]
    out = np.full(b - a, -1, np.int32)
    some = ends > begin
    parents = g.parent[begin[some]]
    out[some] = np.where(np.isin(g.link[begin[some]], _HANGS), parents, -1)
    return out


def _note_bound_off(
    k: Knitter, part_of_piece: dict[int, _Part], row: NDArray[np.int32], x: NDArray[np.float64]
) -> None:
    all_edges: list[Edges] = [*k.worker.earlier, k.worker.edges][-len(k.pieces) :]
    for piece, edges in enumerate(all_edges):
        part = part_of_piece.get(piece)
        for group in edges.bound_off if part is not None else ():
            if part is not None and len(group):
                part.bound.append((int(row[group[0]]), group[np.argsort(x[group], kind="stable")]))


# --- where the edges are -----------------------------------------------------------------------------


def _armpit(part: _Part, side: Side) -> int | None:
    """The row in which the first stitches are bound off at a side, if the side goes on above it."""
    for order, group in part.bound:
        if not _at_side(part, order, group, side):
            continue
        later = sum(o > order and _reaches(part, ids, side) for o, ids in part.rows)
        return order if later > 2 * _STEPS_APART else None
    return None


def _at_side(part: _Part, order: int, group: Int32, side: Side) -> bool:
    """Whether what was bound off lay outermost at a side."""
    ids = next(ids for o, ids in part.rows if o == order)
    outer = ids[0] if side == "left" else ids[-1]
    beside = (
        part.x[group[0]] <= part.x[outer] + 0.5
        if side == "left"
        else part.x[group[-1]] >= part.x[outer] - 0.5
    )
    return bool(beside) and _reaches(part, ids, side)


def _reaches(part: _Part, ids: Int32, side: Side) -> bool:
    """Whether a row goes out to that side of its part: the rows of the other shoulder do not."""
    outer = part.x[ids[0] if side == "left" else ids[-1]]
    return bool(outer < part.middle if side == "left" else outer > part.middle)


def _shoulder(part: _Part, side: Side) -> tuple[Int32, bool]:
    """The stitches of a shoulder from the arm to the neck, and whether they are all that were bound off
    there: a row bound off from arm to arm does not tell where the neck begins.
    """
    pit = _armpit(part, side)
    steps = [
        (order, group)
        for order, group in part.bound
        if (pit is None or order > pit) and _at_side(part, order, group, side)
    ]
    if not steps:
        return np.zeros(0, np.int32), False
    last = len(steps) - 1
    first = last
    while first and steps[first][0] - steps[first - 1][0] <= _STEPS_APART:
        first -= 1
    steps = steps[first:]
    across = [_at_side(part, order, group, _other(side)) for order, group in steps]
    if across[-1] and len(steps) > 1:  # what is left between two shoulders is the neck
        steps, across = steps[:-1], across[:-1]
    stitches = np.concatenate([group if side == "left" else group[::-1] for _, group in steps])
    return stitches, not across[-1]


def _sewn(a: tuple[Int32, bool], b: tuple[Int32, bool], *, half: bool) -> _Pair | None:
    """Two shoulders stitch to stitch from the arm to the neck; where one goes on to the other arm, as far as
    the other goes. None where neither tells, or they differ too much. half : the first is of half a front,
    which has but one shoulder.
    """
    (one, one_told), (other, other_told) = a, b
    one_told |= half
    if one_told and not other_told:
        other = other[: len(one)]
    elif other_told and not one_told:
        one = one[: len(other)]
    elif not one_told:
        return None
    longer = max(len(one), len(other))
    if not len(one) or not len(other) or abs(len(one) - len(other)) > max(2, _ALIKE * longer):
        return None
    return _eased(one, other)


def _armhole(part: _Part, side: Side) -> Int32:
    """From the side seam in along the underarm and up to the shoulder; empty without an underarm."""
    pit = _armpit(part, side)
    if pit is None:
        return np.zeros(0, np.int32)
    top = _top_row(part, side)
    under = [
        group if side == "left" else group[::-1]
        for order, group in part.bound
        if pit <= order < top and _at_side(part, order, group, side)
    ]
    up = [
        ids[0] if side == "left" else ids[-1]
        for order, ids in part.rows
        if pit < order < top and _reaches(part, ids, side)
    ]
    return np.concatenate([*under, np.array(up, np.int32)])


def _top_row(part: _Part, side: Side) -> int:
    """The row in which the shoulder, or the top of a cap, begins to be bound off."""
    stitches, _ = _shoulder(part, side)
    if not len(stitches):
        return part.rows[-1][0] + 1
    return next(order for order, group in part.bound if int(stitches[0]) in group)


def _cap(part: _Part, side: Side) -> Int32:
    """All round the cap of a sleeve, from the underarm at that side over the top to the other."""
    up, down = _armhole(part, side), _armhole(part, _other(side))
    if not len(up) or not len(down):
        return np.zeros(0, np.int32)
    begun = min(_top_row(part, side), _top_row(part, _other(side)))
    top = [group for order, group in part.bound if order >= begun]
    across = np.concatenate(top) if top else np.zeros(0, np.int32)
    across = across[np.argsort(part.x[across], kind="stable")]
    return np.concatenate([up, across if side == "left" else across[::-1], down[::-1]])


def _eased(a: Int32, b: Int32) -> _Pair:
    """Stitch to stitch; where one is longer, the difference is eased in evenly."""
    n = max(len(a), len(b))
    steps = np.arange(n)
    return a[steps * len(a) // n], b[steps * len(b) // n]
