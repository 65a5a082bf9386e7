"""Gauges converted, as they leave.

In: nothing; the command fills it. Out: msgspec structs; field names and order are the contract. Counts of a
gauge are to 10 cm, lengths in cm.
"""

from __future__ import annotations

from msgspec import Struct

__all__ = ["GaugeAnswerOut", "GaugeFigureOut", "GaugeFiguresOut", "GaugeOut", "GaugeWashOut", "GaugeYoursOut"]


class GaugeFigureOut(Struct, frozen=True, kw_only=True):
    """A figure with its least and its most."""

    value: float
    least: float
    most: float


class GaugeFiguresOut(Struct, frozen=True, kw_only=True):
    """A gauge: stitches and rows to 10 cm, null where they are not counted."""

    words: str
    stitches: GaugeFigureOut | None
    rows: GaugeFigureOut | None


class GaugeWashOut(Struct, frozen=True, kw_only=True):
    """What washing did to a swatch: 0.05 is a twentieth wider or longer, null where it was not measured."""

    before: GaugeFiguresOut
    wider: float | None
    longer: float | None


class GaugeYoursOut(Struct, frozen=True, kw_only=True):
    """The same at the knitter's own gauge.

    ``cm`` is what the pattern's count comes to; ``count`` what gives the pattern's length, ``other`` the next
    that would do.
    """

    cm: GaugeFigureOut
    count: int
    other: int | None


class GaugeAnswerOut(Struct, frozen=True, kw_only=True):
    """One question: ``asked`` is width, length, stitches or rows, ``given`` as it was typed."""

    asked: str
    given: str
    count: int
    other: int | None
    cm: GaugeFigureOut
    other_cm: float | None
    yours: GaugeYoursOut | None


class GaugeOut(Struct, frozen=True, kw_only=True):
    """Answer of ``gauge --json``."""

    gauge: GaugeFiguresOut
    yours: GaugeFiguresOut | None
    wash: GaugeWashOut | None
    pick_up: list[int] | None
    """Along row ends: so many stitches for so many rows; null where a gauge lacks one of them."""
    flat_disc: float | None
    """Stitches by which each round of a flat circle grows."""
    answers: list[GaugeAnswerOut]
    said: list[str]
