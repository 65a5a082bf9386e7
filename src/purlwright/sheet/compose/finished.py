"""The finished piece: a small picture of it as it takes its shape, and the yarn that its stitches take.

In: what is told. Out: a :class:`Figure` where the stitches make a thing in space that the outline of its
pieces does not show; and the yarn of each size, where a gauge says how large a stitch is. Both are reckoned
by ``cloth``.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Literal

from purlwright.cloth.gauge import gauge_of_fabric
from purlwright.cloth.portrait import look_for, standing
from purlwright.cloth.settled import settle
from purlwright.cloth.yarn import yarn_taken
from purlwright.drawing import mirrored
from purlwright.fabric.query import waste_yarns
from purlwright.needles.ledger import Kind
from purlwright.proof.said import and_list
from purlwright.sheet.compose.rows import said
from purlwright.sheet.document import Block, Figure, Paragraph
from purlwright.units import half_up

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.cloth.yarn import YarnTaken, YarnUse
    from purlwright.pattern.header import Header
    from purlwright.sheet.compose.asked import Asked
    from purlwright.sheet.compose.told import Told

__all__ = ["SHAPING", "finished", "yarn_alone", "yarn_by_size"]

_MOST = 20_000
"""So many stitches settle within two seconds or so; a sheet is not kept waiting for more."""
_WIDE_MM, _HIGH_MM = 56.0, 62.0
SHAPING = frozenset({Kind.ROUND, Kind.JOIN, Kind.GRAFT, Kind.SEAM})
"""Without any of these a piece is as flat as its outline."""


def finished(told: Told, asked: Asked) -> Iterator[Block]:
    """The picture of the whole in the first size, unless it lies flat, does not hang together by its
    stitches, or there is one of hers.
    """
    knitted = told.knitted[0]
    if asked.pictures or not told.pattern.gauges or not 0 < knitted.fabric.n <= _MOST:
        return
    if not any(e.kind in SHAPING for e in knitted.ledger.entries):
        return
    look = look_for(told.pattern.header, knitted)
    settled = settle(knitted, gauge_of_fabric(told.pattern.header, knitted))
    if settled.mesh.components > 1:  # pieces whose seams are told in words alone would lie about
        return
    drawing = standing(
        knitted,
        settled,
        look,
        within_mm=(_WIDE_MM, _HIGH_MM),
    )
    if drawing is None:
        return
    size = f" in size {told.work.sizes[0]}" if len(told.knitted) > 1 else ""
    name = told.pattern.title or "The piece"
    yield Figure(
        drawing=mirrored(drawing) if told.left_handed else drawing,
        alternative=f"{name}{size}, seen a little from above as it takes its shape.",
        caption=said(f"Drawn{size} from its stitches."),
    )


# --- yarn ------------------------------------------------------------------------------------------

_OZ = 28.35
"""Grams in an ounce. Source: international yard and pound agreement, 1959; as in ``proof/balls.py``."""
_YD = 0.9144


def yarn_by_size(told: Told, asked: Asked, header: Header) -> list[tuple[str, list[str]]]:
    """A column for each yarn: its head, and in each size what the stitches take; none without a gauge.

    header : hers, as she wrote it, whatever units the sheet is in.
    """
    taken = _taken(told, header)
    columns = []
    for each in zip(*(t.uses for t in taken), strict=True):
        name = f"Yarn {each[0].name}".strip() if len(taken[0].uses) > 1 else "Yarn"
        head = f"{name} as computed, give or take {_off(each)}%"
        columns.append((head, [_amount(use, told, asked) for use in each]))
    return columns


def yarn_alone(told: Told, asked: Asked, header: Header) -> Iterator[Block]:
    """What the stitches take of each yarn, where there is but one size; and how far that may be off."""
    taken = _taken(told, header)
    if len(taken) != 1:
        return
    (one,) = taken
    amounts = [
        re.sub(  # a number stays in the line with its unit
            r"(?<=\d) (?=[a-z])",
            "\u00a0",
            f"{use.name if len(one.uses) > 1 else ''} about {_amount(use, told, asked)}".strip(),
        )
        for use in one.uses
    ]
    gauge = "tension" if told.terms == "UK" else "gauge"
    yield Paragraph(
        words=said(
            f"Yarn as computed from the stitches at this {gauge}, with edges and ends: {and_list(amounts)}, "
            f"give or take {_off(one.uses)}%."
        ),
        hers=False,
    )


def _taken(told: Told, header: Header) -> list[YarnTaken]:
    """The yarn of every size; nothing where no gauge is given, or the sizes use other yarns. Waste yarn is
    taken out again, and not bought.
    """
    if not told.pattern.gauges:
        return []
    every = [yarn_taken(header, k, told.text) for k in told.knitted]
    taken = [replace(t, uses=tuple(u for u in t.uses if not waste_yarns([u.name]))) for t in every]
    names = [[use.name for use in t.uses] for t in taken]
    if not all(t.known and t.uses for t in taken) or any(n != names[0] for n in names):
        return []
    return taken


def _off(uses: Sequence[YarnUse]) -> int:
    """By how many hundredths it may be off."""
    shares = [max(u.most / u.metres - 1, 1 - u.least / u.metres) for u in uses if u.metres > 0]
    return ceil(max(shares, default=0.0) * 100)


def _amount(use: YarnUse, told: Told, asked: Asked) -> str:
    """Says "80 m, 40 g"; in yards and ounces, or both, where that is asked."""
    grams = use.grams(use.metres)
    parts = []
    for unit in _kinds(told, asked):
        metric = unit == "metric"
        long, heavy = ("m", "g") if metric else ("yd", "oz")
        part = f"{_rounded(use.metres if metric else use.metres / _YD)} {_named(long, told)}"
        if grams is not None:
            part += f", {_rounded(grams if metric else grams / _OZ)} {_named(heavy, told)}"
        parts.append(part)
    return " / ".join(parts)


def _kinds(told: Told, asked: Asked) -> tuple[Literal["metric", "imperial"], ...]:
    if asked.units == "both":
        return ("metric", "imperial")
    if asked.units:
        return (asked.units,)
    return ("imperial",) if told.in_inches else ("metric",)


_IN_FULL = {"m": "metres", "g": "grams", "yd": "yards", "oz": "ounces"}


def _named(unit: str, told: Told) -> str:
    return _IN_FULL[unit] if told.spoken else unit


def _rounded(amount: float) -> str:
    """From 100 on to the next 5, below that to the next 1; under 10 to a tenth."""
    step = Fraction(5) if amount >= 100 else Fraction(1) if amount >= 10 else Fraction(1, 10)
    return f"{float(half_up(amount, step)):g}"
