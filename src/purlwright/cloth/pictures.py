"""The drawings of a pattern: each piece to scale, how short rows build it, how it grows.

In: a pattern, each of its sizes knitted with one choice of options, which size is drawn, and how lengths are
said. Out: the pictures in the order of work, or why there are none. Everything is measured from the stitches
and rows that were knitted, at the first gauge of the header that counts both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from purlwright.cloth.laid import Laid, lay_out
from purlwright.cloth.schematic import Lengths, Picture, common_scale, growth, row_map, schematic
from purlwright.needles.ledger import ROWS
from purlwright.units import MM

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Piece
    from purlwright.pattern.file import Gauge, Pattern
    from purlwright.pattern.tree import Length

__all__ = ["NoPictures", "PiecePicture", "one_of_its_kind", "piece_pictures", "stitch_and_row_mm"]

_FEWEST_ROWS = 4
"""A piece of fewer rows is a strip that no drawing makes clearer."""
_COPY = re.compile(r"\s*(?:\((?:make|both)[^)]*\))?\s*(?P<number>\d+)$", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class PiecePicture:
    """One drawing: of which piece, and what it shows."""

    piece: str
    shows: Literal["outline", "rows", "growth"]
    picture: Picture


class NoPictures(ValueError):  # noqa: N818 - a reason, not a fault
    """Why a pattern has no drawings to scale, in a sentence."""


def stitch_and_row_mm(pattern: Pattern) -> tuple[float, float]:
    """How wide a stitch and how high a row is, by the first gauge that says both. Raises NoPictures."""
    for gauge in pattern.gauges:
        found = _sizes_of(gauge)
        if found is not None:
            return found
    raise NoPictures("no gauge says how many stitches and how many rows there are over a length")


def _sizes_of(gauge: Gauge) -> tuple[float, float] | None:
    over = _length_mm(gauge.over)
    rows_over = over if gauge.rows_over is None else _length_mm(gauge.rows_over)
    if not gauge.stitches or not gauge.rows or not over or not rows_over:
        return None
    return over / float(gauge.stitches), rows_over / float(gauge.rows)


def _length_mm(length: Length) -> float | None:
    value = length.values[0] if length.values else None
    unit = MM.get(length.unit)
    return None if value is None or unit is None or value <= 0 else float(value * unit)


def piece_pictures(
    pattern: Pattern, knitted: Sequence[Knitted], drawn: int, lengths: Lengths
) -> list[PiecePicture]:
    """The drawings of every piece; a piece made twice is drawn once. Raises NoPictures without a gauge.

    knitted : one a size, in the pattern's order; those in which a piece is not knitted are left out of its
    measures, and it is not drawn unless size number ``drawn`` has it.
    """
    stitch_mm, row_mm = stitch_and_row_mm(pattern)
    pieces = list(_drawn_pieces(knitted[drawn].ledger.pieces))
    alone = len(pieces) == 1
    laid = [_laid(knitted, n, piece.name, drawn, stitch_mm, row_mm) for n, piece in pieces]
    scale = common_scale([sizes[at] for sizes, at in laid])
    out: list[PiecePicture] = []
    for (_, piece), (sizes, at) in zip(pieces, laid, strict=True):
        stages = _stages(piece)
        name = pattern.title if alone and pattern.title else _all_of(_COPY.sub("", piece.name), stages)
        found: list[tuple[Literal["outline", "rows", "growth"], Picture | None]] = [
            ("outline", schematic(name, sizes, at, lengths, scale=scale)),
            ("rows", row_map(name, sizes[at], _times(piece))),
            ("growth", growth(name, sizes[at], stages)),
        ]
        out += [PiecePicture(piece=name, shows=shows, picture=p) for shows, p in found if p is not None]
    return out


def one_of_its_kind(name: str) -> str:
    """The name of a piece without what tells its copies apart: ``Sleeve`` for ``Sleeve (make 2) 1``."""
    return _COPY.sub("", name)


def _drawn_pieces(pieces: Sequence[Piece]) -> Iterator[tuple[int, Piece]]:
    """Pieces of some length with their places, the first of several copies only."""
    seen: set[str] = set()
    for n, piece in enumerate(pieces):
        name = _COPY.sub("", piece.name)
        if _row_count(piece) < _FEWEST_ROWS or (name in seen and _COPY.search(piece.name)):
            continue
        seen.add(name)
        yield n, piece


def _laid(
    knitted: Sequence[Knitted], n: int, name: str, drawn: int, stitch_mm: float, row_mm: float
) -> tuple[list[Laid], int]:
    """The piece laid out in each size that has it, and which of those is drawn."""
    out: list[Laid] = []
    at = 0
    for size, k in enumerate(knitted):
        pieces = k.ledger.pieces
        if n < len(pieces) and pieces[n].name == name:
            if size == drawn:
                at = len(out)
            out.append(lay_out(k.fabric, pieces[n], stitch_mm=stitch_mm, row_mm=row_mm))
    return out, at


def _row_count(piece: Piece) -> int:
    return sum(e.kind in ROWS for e in piece.rows)


def _all_of(name: str, stages: Sequence[tuple[int, str]]) -> str:
    """``Sleeve``; ``Yoke to Body`` for a piece that goes on under other headings; ``the piece`` with none."""
    last = stages[-1][1].removeprefix("after ") if stages else ""
    last = _COPY.sub("", last)
    return f"{name} to {last}" if name and last not in {"", name} else name or "the piece"


def _times(piece: Piece) -> dict[int, int]:
    """For each row how many workings of repeats there were before it."""
    out: dict[int, int] = {}
    now: tuple[str, int] | None = None
    for entry in piece.rows:
        if entry.kind in ROWS:
            if now is not None and now != (entry.section, entry.pass_):
                out[entry.order] = max(out.values()) + 1
            else:
                out[entry.order] = max(out.values(), default=0)
            now = (entry.section, entry.pass_)
    return out


def _stages(piece: Piece) -> list[tuple[int, str]]:
    """The last row under each heading, with the heading."""
    last: dict[str, int] = {}
    for entry in piece.rows:
        if entry.section and entry.kind in ROWS:
            last.pop(entry.section, None)
            last[entry.section] = entry.order
    return [(order, f"after {section}") for section, order in last.items()]
