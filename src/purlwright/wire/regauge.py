"""A pattern at another gauge, as it leaves.

In: nothing; the command fills it. Out: msgspec structs; field names and order are the contract.
"""

from __future__ import annotations

from msgspec import Struct

from purlwright.wire.plan import PlanProofOut

__all__ = ["RegaugeMeasureOut", "RegaugeMovedOut", "RegaugeOut", "RegaugeSizeOut"]


class RegaugeMovedOut(Struct, frozen=True, kw_only=True):
    """A number that moved: its ``line``, what it ``counts``, ``before`` and ``after`` in the trade's form."""

    line: int
    counts: str
    before: str
    after: str


class RegaugeSizeOut(Struct, frozen=True, kw_only=True):
    """One size: what its own counts come to at the new gauge, as a share, and the yarn that it takes.

    ``wider`` and ``longer`` are shares: 0.1 is a tenth more. ``metres_before`` and ``metres`` are null
    where the yarn cannot be reckoned; ``metres`` is of the new counts, or of her own where there are none.
    """

    size: str
    wider: float
    longer: float
    metres_before: float | None
    metres: float | None


class RegaugeMeasureOut(Struct, frozen=True, kw_only=True):
    """A stated measure, one entry a size: what it is, and what the same counts come to at the new gauge."""

    words: str
    made_of: str
    cm: list[float]
    same_counts_cm: list[float]
    same_counts_in: list[float]


class RegaugeOut(Struct, frozen=True, kw_only=True):
    """Answer of ``regauge --json``.

    ``refused`` says why no new counts are offered; null if they are. ``by_rows`` are the lines that depend
    on the row gauge. ``left`` are lines with numbers in notes, which were not changed.
    """

    title: str
    before: str
    after: str
    moved: list[RegaugeMovedOut]
    sizes: list[RegaugeSizeOut]
    measures: list[RegaugeMeasureOut]
    by_rows: list[int]
    left: list[int]
    refused: str | None
    said: list[str]
    pattern: str | None
    proof: PlanProofOut | None
