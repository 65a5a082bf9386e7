"""Which end of a knitted thing is on top when it is worn.

In: a knitting, its net and where the stitches lie. Out: the way up, where the headings of the pattern tell
it; None where they do not, and the thing is then stood on its wider end by ``view``.

A pullover knitted from the neck down begins at what is worn uppermost; one knitted from the hem up ends
there. The headings of both say Neckband, and the hem is the longest edge. Of one sewn of a back, a front and
sleeves it is enough to know that a back is knitted from the hem up.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.mesh import rims_of

if TYPE_CHECKING:
    from purlwright.cloth.mesh import Mesh
    from purlwright.cloth.rest import Floats
    from purlwright.needles.knitted import Knitted

__all__ = ["axis_of", "worn_up"]

_UPPERMOST = (
    re.compile(r"\b(?:neck ?band|neck ?line|neck|collar|hood)\b", re.IGNORECASE),
    re.compile(r"\bcrown\b", re.IGNORECASE),
    re.compile(r"\byoke\b", re.IGNORECASE),
    re.compile(r"\b(?:finger)?tips?\b", re.IGNORECASE),
)
"""What is worn on top, by the headings of patterns, the surest word first; a mitten is held up. Common
practice, no source.
"""
_LOWERMOST = re.compile(r"\b(?:toes?|foot)\b", re.IGNORECASE)
_ROUND, _EVEN = 0.5, 0.35
"""An opening is round if it is half as wide as long, and even if it lies within so much of a plane."""
_BACK = re.compile(r"\bback\b", re.IGNORECASE)


def worn_up(knitted: Knitted, mesh: Mesh, at_mm: Floats) -> Floats | None:
    """The way from the longest edge to what is worn uppermost, (3,) of length 1; None where untold."""
    rims = rims_of(mesh)
    if mesh.components != 1 or not rims:
        return None
    for word in _UPPERMOST:
        top = np.isin(mesh.order, _rows_called(knitted, word))
        if not top.any():
            continue
        if top[rims[0]].mean() > 1 / 2:  # the longest edge is the top itself, as of a cape's hood or a cowl
            return None
        way: Floats = at_mm[top].mean(axis=0) - at_mm[rims[0]].mean(axis=0)
        return _unit(way)
    low = np.isin(mesh.order, _rows_called(knitted, _LOWERMOST))
    if low.any() and len(rims) == 1:
        return _across_rim(at_mm[rims[0]], at_mm[rims[0]].mean(axis=0) - at_mm[low].mean(axis=0))
    return _up_the_back(knitted, mesh, at_mm)


def _rows_called(knitted: Knitted, word: re.Pattern[str]) -> list[int]:
    return [
        entry.order
        for piece in knitted.ledger.pieces
        for entry in piece.rows
        if word.search(entry.section or "")
    ]


def _across_rim(rim: Floats, way: Floats) -> Floats | None:
    """Straight out of an opening, on the side that ``way`` goes to."""
    out: Floats = np.linalg.svd(rim - rim.mean(axis=0), full_matrices=False)[2][2]
    return _unit(out if float(out @ way) >= 0 else -out)


def axis_of(mesh: Mesh, at_mm: Floats) -> Floats | None:
    """The axis of something that stands on its longest edge, (3,) of length 1; None if that edge is not even.

    Which end is up is not told.
    """
    rims = rims_of(mesh)
    if mesh.components != 1 or not rims or len(rims[0]) < 8:
        return None
    rim = at_mm[rims[0]]
    _, spread, axes = np.linalg.svd(rim - rim.mean(axis=0), full_matrices=False)
    round_ = spread[1] > _ROUND * spread[0] and spread[2] < _EVEN * spread[1]
    return np.asarray(axes[2]) if round_ else None


def _up_the_back(knitted: Knitted, mesh: Mesh, at_mm: Floats) -> Floats | None:
    """From the first row of a piece called Back, that begins at the longest edge, to its last."""
    for piece in knitted.ledger.pieces:
        if not _BACK.search(piece.name):
            continue
        orders = [e.order for e in piece.rows]
        first, last = (np.isin(mesh.order, part) for part in (orders[:3], orders[-4:]))
        if first.any() and last.any() and first[rims_of(mesh)[0]].any():
            return _unit(at_mm[last].mean(axis=0) - at_mm[first].mean(axis=0))
    return None


def _unit(way: Floats) -> Floats | None:
    far = float(np.linalg.norm(way))
    return way / far if far > 1e-9 else None
