"""What a test knitter should find, if pattern and gauge are right: each thing with the name it is asked by.

In: one size as knitted, its measures, its yarn. Out: :class:`Expected`, plain values. How it is asked is in
``form``; what answers say is in ``compare``.

Of many rows those are asked that tell most: the last of each part, and in between some whose count changes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from purlwright.lesson.stages import minutes_of_rows
from purlwright.needles.looks import is_worked
from purlwright.rescue.naming import name_of

if TYPE_CHECKING:
    from purlwright.cloth.told import PieceTold
    from purlwright.cloth.yarn import YarnUse
    from purlwright.lesson.rows import Part
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.looks import RowLook
    from purlwright.pattern.gauge import Gauge
    from purlwright.pattern.tree import Length

__all__ = ["CountAsked", "Expected", "GaugeAsked", "MeasureAsked", "StretchAsked", "YarnAsked", "expect"]

MOST_IN_A_PART = 6
"""So many rows of a part are asked for, its last one included."""
UNCHANGED = 2
"""So many before its last, of a part whose count stays."""
_FEWEST_STITCHES = 40
"""A stretch of fewer stitches is too short to be timed."""
_MM = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction(127, 5)}


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeAsked:
    """Stitches and rows to 10 cm as the pattern says; None for what it does not say."""

    name: str
    stitches: float | None
    rows: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CountAsked:
    """A row, by its piece ("" for the only one) and its number in it from 1, with the stitches after it.

    ``name`` is its number in words; ``called`` what the pattern calls it.
    """

    name: str
    called: str
    piece: str
    row: int
    stitches: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureAsked:
    """A measure in mm. ``along`` says what it grows with: stitches across, or rows up."""

    name: str
    mm: float
    off_mm: float
    along: Literal["stitches", "rows"]


@dataclass(frozen=True, slots=True, kw_only=True)
class YarnAsked:
    """A yarn: metres with their range, and how many weigh 100 g, None if nothing tells."""

    name: str
    metres: float
    least: float
    most: float
    metres_per_100_g: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StretchAsked:
    """A part to be timed, and its work as so many plain stitches."""

    name: str
    stitches: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """All that is asked of one size."""

    title: str
    version: str
    size: str
    options: Mapping[str, str]
    gauges: tuple[GaugeAsked, ...]
    counts: tuple[CountAsked, ...]
    every: Mapping[tuple[str, int], CountAsked]
    """Every row, by piece and number: she may tell of others than those asked for."""
    measures: tuple[MeasureAsked, ...]
    yarns: tuple[YarnAsked, ...]
    stretches: tuple[StretchAsked, ...]


def expect(
    knitted: Knitted,
    parts: Sequence[Part],
    pieces: Iterable[tuple[str, Sequence[RowLook]]],
    cloth: Sequence[PieceTold],
    yarns: Iterable[YarnUse],
    gauges: Iterable[Gauge],
    *,
    title: str,
    version: str,
    options: Mapping[str, str],
) -> Expected:
    """What is to be found in one size; a pattern without a gauge has no measures and no yarn."""
    pieces = [(piece, rows) for piece, rows in pieces if rows]
    every = {
        (piece, look.index + 1): _count(look, piece)
        for piece, rows in pieces
        for look in rows
    }  # fmt: skip
    return Expected(
        title=title,
        version=version,
        size=knitted.size,
        options=dict(options),
        gauges=tuple(_gauges(gauges)),
        counts=tuple(every[piece, look.index + 1] for piece, rows in pieces for look in _telling(rows)),
        every=every,
        measures=tuple(_measures(cloth)),
        yarns=tuple(
            YarnAsked(
                name=use.name or "yarn",
                metres=use.metres,
                least=use.least,
                most=use.most,
                metres_per_100_g=use.metres_per_100_g,
            )
            for use in yarns
        ),
        stretches=tuple(_stretches(knitted, parts)),
    )


def _count(look: RowLook, piece: str) -> CountAsked:
    called, number = name_of(look, piece)
    return CountAsked(
        name=f"{number[:1].upper()}{number[1:]}",
        called=called,
        piece=piece,
        row=look.index + 1,
        stitches=look.stitches,
    )


def _telling(rows: Sequence[RowLook]) -> Iterator[RowLook]:
    """The rows of a piece that are asked for."""
    parts: list[list[RowLook]] = []
    for look in rows:
        if look.in_part == 1:
            parts.append([])
        parts[-1].append(look)
    for part in parts:
        changed = [a for a, b in pairwise(part) if a.stitches != b.stitches and a.stitches]
        whole = [look for look in part[:-1] if not look.waiting and look.stitches]
        inner, most = (changed, MOST_IN_A_PART - 1) if changed else (whole, UNCHANGED)
        if len(inner) > most:
            inner = [inner[(n + 1) * len(inner) // (most + 1)] for n in range(most)]
        yield from inner
        if part[-1].stitches:
            yield part[-1]


def _gauges(gauges: Iterable[Gauge]) -> Iterator[GaugeAsked]:
    for n, g in enumerate(gauges, 1):
        stitches, rows = _to_10_cm(g.stitches, g.over), _to_10_cm(g.rows, g.rows_over or g.over)
        if stitches is None and rows is None:
            continue
        where = f"in {g.ground}" if g.ground else "" if n == 1 else f"gauge {n}"
        yield GaugeAsked(name=where, stitches=stitches, rows=rows)


def _to_10_cm(count: Fraction | None, over: Length) -> float | None:
    value = over.values[0] if over.values else None
    unit = _MM.get(over.unit)
    if not count or not value or unit is None:
        return None
    mm = value * unit
    # the trade takes 4 inches as 10 cm
    return float(count * 100 / (Fraction(100) * value / 4 if over.unit == "in" else mm))


def _measures(cloth: Sequence[PieceTold]) -> Iterator[MeasureAsked]:
    for piece in cloth:
        for n, figure in enumerate(piece.figures):
            of = figure.of
            again = [f for f in piece.figures[n + 1 :] if abs(f.mm - figure.mm) < 1 and "," not in f.of]
            if again and of.endswith("narrowest"):
                continue  # the same place, told more exactly below
            name = f"{piece.name}: {of}" if len(cloth) > 1 else f"{of[:1].upper()}{of[1:]}"
            across = of.startswith(("width", "round"))
            yield MeasureAsked(
                name=name, mm=figure.mm, off_mm=figure.off_mm, along="stitches" if across else "rows"
            )


def _stretches(knitted: Knitted, parts: Sequence[Part]) -> Iterator[StretchAsked]:
    work = minutes_of_rows(knitted, parts, 1.0)
    found: dict[str, float] = {}
    knitted_in: set[str] = set()
    for piece in knitted.ledger.pieces:
        for e in piece.rows:
            name = e.section or piece.name or "The whole"
            knitted_in.update([name] if is_worked(e) else [])
            found[name] = found.get(name, 0.0) + work.get(e.order, 0.0)
    yield from (
        StretchAsked(name=name, stitches=n)
        for name, n in found.items()
        if n >= _FEWEST_STITCHES and name in knitted_in
    )
