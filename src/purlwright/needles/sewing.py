"""Which edges a seam joins, row to row or loop to loop.

In: a seam's words and the knitter at work. Out: pairs of stitches in turn; none where the words leave open
which edges meet, or these are of different lengths. Grafts and live loops are left to ``joining``.

Side edges are sewn row to row (mattress stitch), a cast-on to a bind-off loop to loop, and an edge of loops
to the ends of rows, one or two rows to a stitch. Common practice, no source.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from purlwright.fabric.arrays import Int32, Link
from purlwright.needles.garment import armhole_seams, raglan_seams, shoulder_seams

if TYPE_CHECKING:
    from purlwright.needles.hands import Edges
    from purlwright.needles.knit import Knitter
    from purlwright.pattern import tree

__all__ = ["seam_of"]

_MORE = 2
"""One edge may have so many rows more than the other and still be sewn to it row to row."""
_ROWS_EACH = 2
"""So many rows meet one stitch at most: two do in garter stitch, four meet three in stockinette."""
_SIDE_KINDS = frozenset({"left", "right"})
_SLEEVE = re.compile(r"\b(?:sleeves?|arms?)\b", re.IGNORECASE)
_OF_SLEEVE = re.compile(r"\b(?:sleeves?|underarm)\b", re.IGNORECASE)
_OF_SIDES = re.compile(r"\bside\b", re.IGNORECASE)
_OF_SHOULDERS = re.compile(r"\bshoulders?\b", re.IGNORECASE)
_INTO_ARMHOLES = re.compile(r"\b(?:sleeves?|caps?)\b.*\b(?:armholes?|place|position)\b", re.IGNORECASE)
_TO_BODY = re.compile(r"\b(?:body|front|back|armholes?)\b", re.IGNORECASE)
_RAGLAN = re.compile(r"\braglans?\b", re.IGNORECASE)
_BACK, _LEFT, _RIGHT = (re.compile(rf"\b{word}\b", re.IGNORECASE) for word in ("back", "left", "right"))
_OWN = re.compile(r"\b(?:(?:side|long|row) edges|row ends|(?:side|back|centre back) seam)\b", re.IGNORECASE)
"""Words by which one piece is sewn to itself; "side seams" of one piece are those of a folded bag."""


def seam_of(k: Knitter, s: tree.Close) -> list[tuple[Int32, Int32]]:
    """The edges that a seam joins, two by two, each from its first stitch to its last."""
    if s.a is None:
        return []
    between = _sleeves_to_body(k, s)
    if between:
        return between
    if s.b is not None:
        a, b = _named(k, s.a), _named(k, s.b)
        if a is None or b is None:
            return []
        sides = [e.kind in _SIDE_KINDS for e in (a, b)]
        if sides[0] == sides[1]:
            return _match(a.stitches, b.stitches)
        return _turned(b, a, second=False) if sides[0] else _turned(a, b, second=True)
    out: list[tuple[Int32, Int32]] = []
    if _OF_SHOULDERS.search(s.a.words):
        out += shoulder_seams(k)
    if _INTO_ARMHOLES.search(s.a.words):
        out += armhole_seams(k)
    if _RAGLAN.search(s.a.words):
        out += raglan_seams(k)
    if s.a.kind != "row ends" and not (out and _OF_SIDES.search(s.a.words)):
        return [*out, *_of_sleeves(k, s.a.words)]
    flat = [(name, e) for name, e in _pieces(k) if e.left.stitches and e.right.stitches]
    if len(flat) == 1 and _OWN.search(s.a.words) is not None:
        only = flat[0][1]
        return _match(_to_underarm(only, only.left.stitches), _to_underarm(only, only.right.stitches))
    if _OF_SIDES.search(s.a.words):
        out += _sides(k, [(name, e) for name, e in flat if not _SLEEVE.search(name)])
    return [*out, *_of_sleeves(k, s.a.words)]


def _sleeves_to_body(k: Knitter, s: tree.Close) -> list[tuple[Int32, Int32]]:
    """Sleeves that are said to be sewn to the body, front or back, whichever is named first."""
    if s.a is None or s.b is None:
        return []
    words = (s.a.words, s.b.words)
    if not any(_SLEEVE.search(x) and _TO_BODY.search(y) for x, y in (words, words[::-1])):
        return []
    return raglan_seams(k) if any(map(_RAGLAN.search, words)) else armhole_seams(k)


def _of_sleeves(k: Knitter, words: str) -> list[tuple[Int32, Int32]]:
    """The long seam of each sleeve."""
    out: list[tuple[Int32, Int32]] = []
    if _OF_SLEEVE.search(words) and not _INTO_ARMHOLES.search(words):
        for name, e in _pieces(k):
            if _SLEEVE.search(name) and e.left.stitches and e.right.stitches:
                out += _match(_to_underarm(e, e.left.stitches), _to_underarm(e, e.right.stitches))
    return out


def _pieces(k: Knitter) -> list[tuple[str, Edges]]:
    """Every piece by name, with its edges, in the order knitted."""
    names = [name for name, _ in k.pieces]
    edges = [*k.worker.earlier, k.worker.edges][-len(names) :] if names else []
    return list(zip(names, edges, strict=True))


def _sides(k: Knitter, pieces: list[tuple[str, Edges]]) -> list[tuple[Int32, Int32]]:
    """Both side seams of two pieces: the left edge of each meets the right edge of the other; or of a back
    and two fronts.

    A shoulder knitted after the other is a piece of its own, without a side. What a sleeve is sewn to is open
    no more.
    """
    joins = np.array(k.grower.joins, np.int32).reshape(-1, 3)
    sewn = set(joins[joins[:, 2] == Link.SEAMED, :2].ravel().tolist())

    def open_side(edges: Edges, side: list[int]) -> Int32:
        return np.array([s for s in _to_underarm(edges, side).tolist() if s not in sewn], np.int32)

    pieces = [(name, e) for name, e in pieces if e.cast_on]
    bodies = [e for _, e in pieces]
    if len(bodies) == 3:
        named = [[e for name, e in pieces if word.search(name)] for word in (_BACK, _LEFT, _RIGHT)]
        if any(len(found) != 1 for found in named):
            return []
        back, left, right = (found[0] for found in named)
        ways = [(left.right, left, back.left, back), (right.left, right, back.right, back)]
    elif len(bodies) == 2:
        one, other = bodies
        ways = [(one.left, one, other.right, other), (one.right, one, other.left, other)]
    else:
        return []
    out = [_match(open_side(e, a.stitches), open_side(f, b.stitches)) for a, e, b, f in ways]
    return [pair for seam in out for pair in seam] if all(out) else []


def _to_underarm(edges: Edges, side: list[int]) -> Int32:
    """A side edge up to where stitches are first bound off in the course of the work, if they are."""
    end = int(edges.bound_off[0].min()) if len(edges.bound_off) > 1 else None
    return np.array([s for s in side if end is None or s < end], np.int32)


class _Named(NamedTuple):
    """An edge, what sort it is, and the piece's own edges."""

    stitches: Int32
    kind: str
    of: Edges


def _named(k: Knitter, e: tree.Edge) -> _Named | None:
    """The one edge that some words can mean; None where there are several, or none."""
    pieces = _pieces(k)
    words = set(re.findall(r"[a-z]+", e.words.lower()))
    called = [p for p in pieces if set(re.findall(r"[a-z]+", p[0].lower())) <= words]
    sides = words & _SIDE_KINDS
    kind = sides.pop() if e.kind == "row ends" and len(sides) == 1 else e.kind  # "right side edge of Bib"
    found = [_Named(edge, kind, edges) for _, edges in called or pieces for edge in _all_of(edges, kind)]
    return found[0] if len(found) == 1 else None


def _all_of(edges: Edges, kind: str) -> list[Int32]:
    if kind == "cast-on":
        return edges.cast_on
    if kind == "bound-off":
        return edges.bound_off
    if kind in {"left", "right"}:
        side = (edges.right if kind == "right" else edges.left).stitches
        return [_to_underarm(edges, side)] if side else []
    return []


def _turned(loops: _Named, side: _Named, *, second: bool) -> list[tuple[Int32, Int32]]:
    """An edge of loops to the ends of rows, from the lowest row up; ``second``: the loops are named first.

    None where the rows are fewer than the stitches, or more than twice as many: they would not lie flat.
    """
    n, rows = len(loops.stitches), len(side.stitches)
    if not n or not n <= rows <= _ROWS_EACH * n:
        return []
    begins_right = _begins_right(loops)
    if begins_right is None:
        return []
    # right sides up, the head of a bind-off towards the other piece: its left end lies low at a right edge
    left_is_low = (side.kind == "right") == (loops.kind == "bound-off")
    along = loops.stitches[::-1] if begins_right == left_is_low else loops.stitches
    steps = np.arange(rows)
    pair = along[steps * n // rows], side.stitches
    return [pair if second else (pair[1], pair[0])]


def _begins_right(loops: _Named) -> bool | None:
    """Whether the first loop of an edge lies at the right end, right side up; None where nothing tells."""
    right, left = loops.of.right.stitches, loops.of.left.stitches
    if not right or not left:
        return None
    if loops.kind == "cast-on":  # the first row begins at the loop cast on last
        return right[0] > left[0]
    ends = [int(loops.stitches[0]), int(loops.stitches[-1])]
    if ends[0] in set(right) or ends[1] in set(left):
        return True
    return False if ends[0] in set(left) or ends[1] in set(right) else None


def _match(a: Int32, b: Int32) -> list[tuple[Int32, Int32]]:
    """Two edges stitch to stitch; where one is a little longer, the difference is eased in evenly."""
    if not len(a) or not len(b) or abs(len(a) - len(b)) > _MORE:
        return []
    n = max(len(a), len(b))
    steps = np.arange(n)
    return [(a[steps * len(a) // n], b[steps * len(b) // n])]
