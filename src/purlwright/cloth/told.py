"""What a settled cloth measures and how it lies, piece by piece, in the words of a knitter.

In: a knitting and its settled cloth. Out: :class:`PieceTold`, plain values. How they look is left to others.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.cloth.depth import depth_of
from purlwright.cloth.flatness import Verdict, flatness_of
from purlwright.cloth.measure import measured
from purlwright.cloth.said import Basis, Said
from purlwright.needles.ledger import Kind
from purlwright.units import length_words

if TYPE_CHECKING:
    from purlwright.cloth.flatness import Flatness
    from purlwright.cloth.measure import Measured
    from purlwright.cloth.mesh import Mesh
    from purlwright.cloth.settled import Settled
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Piece

__all__ = ["Figure", "PieceTold", "left_open", "pieces_told"]

_FEWEST_ROWS = 4
"""A piece of fewer rows is a strip of which nothing but its length is worth telling."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One measure in mm: what is measured, and how far it may be off either way."""

    of: str
    mm: float
    off_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceTold:
    """One piece: its measures, how it lies (a :class:`Verdict`'s word, or ""), and that in sentences.

    number : its place in the ledger.
    """

    number: int
    name: str
    figures: tuple[Figure, ...]
    area_mm2: float
    lies: str
    told: tuple[str, ...]


def pieces_told(knitted: Knitted, settled: Settled) -> tuple[PieceTold, ...]:
    """Every piece that has some rows."""
    measures = measured(settled, knitted)
    flats = {flat.piece: flat for flat in flatness_of(knitted, settled.mesh, settled.rest)}
    out = []
    for number, piece in enumerate(knitted.ledger.pieces):
        mine = [m for m in measures if m.piece == number]
        if not mine or sum(e.kind in {"row", "round"} for e in piece.rows) < _FEWEST_ROWS:
            continue
        flat = flats.get(number)
        out.append(
            PieceTold(
                number=number,
                name=piece.name,
                figures=tuple(_figures(mine, piece)),
                area_mm2=next((m.mm for m in mine if m.what == "area"), 0.0),
                lies="" if flat is None else str(flat.verdict),
                told=() if flat is None else (*flat.said(), *_how_deep(flat, settled, number)),
            )
        )
    return tuple(out)


def left_open(knitted: Knitted, mesh: Mesh) -> tuple[Said, ...]:
    """What of the whole the words leave open, so that a picture shows less than the finished thing."""
    out = []
    for piece in knitted.ledger.pieces:
        if {entry.kind for entry in piece.rows} in ({Kind.CAST_ON}, {Kind.CAST_ON, Kind.BIND_OFF}):
            words = f"{piece.name or 'The piece'} has no row after its cast-on: there is no size to tell."
            out.append(Said(basis=Basis.MISSING, words=words))
    if mesh.loose:
        many = f"{mesh.loose} stitches are" if mesh.loose > 1 else "1 stitch is"
        words = (
            f"{many} picked up from an edge that the words do not make known; in the picture they hang loose."
        )
        out.append(Said(basis=Basis.MISSING, words=words))
    sewn = any(entry.kind is Kind.SEAM for piece in knitted.ledger.pieces for entry in piece.rows)
    if mesh.components > 1 and sewn:
        words = (
            "The words do not say of each seam which two edges meet, or these differ in length; what is not "
            f"joined is shown side by side ({mesh.components} parts)."
        )
        out.append(Said(basis=Basis.MISSING, words=words))
    if mesh.one_sided:
        words = "A closing lays a right side on a wrong side: the ring has half a twist."
        out.append(Said(basis=Basis.MISSING, words=words))
    return tuple(out)


_ACROSS = {"width": "width", "round": "round about"}


def _figures(mine: list[Measured], piece: Piece) -> list[Figure]:
    """Widths in the order worked, each with its place, then lengths; what is the same is told once."""
    across = [m for m in mine if m.what in {"width", "round"}]
    worked = {e.order: e for e in piece.rows}
    widest, narrowest = max((m.mm for m in across), default=0.0), min((m.mm for m in across), default=0.0)
    out = []
    for n, m in enumerate(across):
        entry = worked.get(m.order)
        places = []
        if entry is not None and str(entry.kind) == "cast-on":
            places.append("at the cast-on")
        elif n == len(across) - 1:
            places.append("at the end")
        if m.mm == widest != narrowest:
            places.append("widest")
        if m.mm == narrowest != widest:
            places.append("narrowest")
        where = ", ".join(places) or (f"at {m.at}" if m.at else "")
        comma = "" if where.startswith("at") or not where else ","
        out.append(Figure(of=f"{_ACROSS[m.what]}{comma} {where}".strip(), mm=m.mm, off_mm=m.off_mm))
    if len(out) > 1 and widest - narrowest < 0.02 * widest:  # a strip or a tube: one width says it all
        most = max(across, key=lambda m: m.mm)
        out = [Figure(of=_ACROSS[most.what], mm=most.mm, off_mm=most.off_mm)]
    named = {"length": "length", "left edge": "left edge", "right edge": "right edge"}
    lengths = [m for m in mine if m.what in named]
    edges = [m for m in lengths if m.what != "length"]
    longest = next((m for m in lengths if m.what == "length"), None)
    if longest is not None:
        out.append(Figure(of="length", mm=longest.mm, off_mm=longest.off_mm))
        edges = [m for m in edges if abs(m.mm - longest.mm) > 0.02 * longest.mm]
    return [*out, *(Figure(of=named[m.what], mm=m.mm, off_mm=m.off_mm) for m in edges)]


def _how_deep(flat: Flatness, settled: Settled, number: int) -> list[str]:
    """How deep a cup is and how high a ruffle stands, where the cloth is one round thing."""
    if flat.verdict not in {Verdict.CUPS, Verdict.RUFFLES}:
        return []
    deep = depth_of(settled.shape.position_mm[settled.mesh.piece == number])
    out = []
    if flat.verdict is Verdict.CUPS and deep.cup_mm > 1:
        out.append(f"As it takes its shape, it is about {length_words(deep.cup_mm, 'cm')} cm deep.")
    if flat.verdict is Verdict.RUFFLES and deep.ruffle_mm > 1:
        high = length_words(deep.ruffle_mm, "cm")
        out.append(f"As it takes its shape, its waves stand about {high} cm high.")
    return out
