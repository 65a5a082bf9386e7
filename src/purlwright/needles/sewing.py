"""Which edges a seam joins, row to row or loop to loop.

In: a seam's words and the knitter at work. Out: pairs of stitches in turn; none where the words leave open
which edges meet, or these are of different lengths. Grafts and live loops are left to ``joining``.

Side edges are sewn row to row (mattress stitch), a cast-on to a bind-off loop to loop. Common practice, no
source.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Int32

if TYPE_CHECKING:
    from purlwright.needles.hands import Edges
    from purlwright.needles.knit import Knitter
    from purlwright.pattern import tree

__all__ = ["seam_of"]

_MORE = 2
"""One edge may have so many rows more than the other and still be sewn to it row to row."""
_SLEEVE = re.compile(r"\b(?:sleeves?|arms?)\b", re.IGNORECASE)
_OF_SLEEVE = re.compile(r"\b(?:sleeves?|underarm)\b", re.IGNORECASE)
_OF_SIDES = re.compile(r"\bside\b", re.IGNORECASE)
_OWN = re.compile(r"\b(?:(?:side|long|row) edges|row ends|(?:side|back|centre back) seam)\b", re.IGNORECASE)
"""Words by which one piece is sewn to itself; "side seams" of one piece are those of a folded bag."""


def seam_of(k: Knitter, s: tree.Close) -> list[tuple[Int32, Int32]]:
    """The edges that a seam joins, two by two, each from its first stitch to its last."""
    if s.a is None:
        return []
    if s.b is not None:
        a, b = _named(k, s.a), _named(k, s.b)
        return _match(a, b) if a is not None and b is not None else []
    if s.a.kind != "row ends":
        return []
    flat = [(name, e) for name, e in _pieces(k) if e.left.stitches and e.right.stitches]
    if len(flat) == 1 and _OWN.search(s.a.words) is not None:
        only = flat[0][1]
        return _match(_to_underarm(only, only.left.stitches), _to_underarm(only, only.right.stitches))
    out: list[tuple[Int32, Int32]] = []
    if _OF_SIDES.search(s.a.words):
        out += _sides([e for name, e in flat if not _SLEEVE.search(name)])
    if _OF_SLEEVE.search(s.a.words):
        for e in (e for name, e in flat if _SLEEVE.search(name)):
            out += _match(_to_underarm(e, e.left.stitches), _to_underarm(e, e.right.stitches))
    return out


def _pieces(k: Knitter) -> list[tuple[str, Edges]]:
    """Every piece by name, with its edges, in the order knitted."""
    names = [name for name, _ in k.pieces]
    edges = [*k.worker.earlier, k.worker.edges][-len(names) :] if names else []
    return list(zip(names, edges, strict=True))


def _sides(bodies: list[Edges]) -> list[tuple[Int32, Int32]]:
    """Both side seams of two pieces: the left edge of each meets the right edge of the other."""
    if len(bodies) != 2:
        return []
    one, other = bodies
    first = _match(_to_underarm(one, one.left.stitches), _to_underarm(other, other.right.stitches))
    second = _match(_to_underarm(one, one.right.stitches), _to_underarm(other, other.left.stitches))
    return [*first, *second] if first and second else []


def _to_underarm(edges: Edges, side: list[int]) -> Int32:
    """A side edge up to where stitches are first bound off in the course of the work, if they are."""
    end = int(edges.bound_off[0].min()) if len(edges.bound_off) > 1 else None
    return np.array([s for s in side if end is None or s < end], np.int32)


def _named(k: Knitter, e: tree.Edge) -> Int32 | None:
    """The one edge that some words can mean; None where there are several, or none."""
    pieces = _pieces(k)
    words = set(re.findall(r"[a-z]+", e.words.lower()))
    called = [p for p in pieces if set(re.findall(r"[a-z]+", p[0].lower())) <= words]
    found = [edge for _, edges in called or pieces for edge in _all_of(edges, e.kind)]
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


def _match(a: Int32, b: Int32) -> list[tuple[Int32, Int32]]:
    """Two edges stitch to stitch; where one is a little longer, the difference is eased in evenly."""
    if not len(a) or not len(b) or abs(len(a) - len(b)) > _MORE:
        return []
    n = max(len(a), len(b))
    steps = np.arange(n)
    return [(a[steps * len(a) // n], b[steps * len(b) // n])]
