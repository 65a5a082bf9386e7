"""Plans, as they leave.

In: nothing; the command fills it. Out: msgspec structs; field names and order are the contract. Lengths
are in cm and in inches by the trade's rule, four inches to 10 cm.
"""

from __future__ import annotations

from msgspec import Struct

__all__ = ["PlanMeasureOut", "PlanNumberOut", "PlanOut", "PlanProofOut"]


class PlanNumberOut(Struct, frozen=True, kw_only=True):
    """A count in every size: ``counts`` one a size, ``words`` in the trade's form, 88 (96, 104)."""

    name: str
    counts: list[int]
    words: str


class PlanMeasureOut(Struct, frozen=True, kw_only=True):
    """A measure in every size: wanted, coming out, and by how much it is off, in cm and in inches."""

    name: str
    wanted_cm: list[float]
    cm: list[float]
    off_cm: list[float]
    off_in: list[float]


class PlanProofOut(Struct, frozen=True, kw_only=True):
    """What the proof of the pattern found in all sizes and options; ``clean`` if nothing at all."""

    clean: bool
    sizes: list[str]
    ways: int
    errors: int
    warnings: int
    notes: int


class PlanOut(Struct, frozen=True, kw_only=True):
    """Answer of ``plan --json``.

    ``plan`` is what was asked for. ``words`` are lines of an answer, rows and rates. ``give_up`` is what
    has to give where the numbers cannot be met; else it is empty. ``pattern`` is the text of a pattern to
    begin from.
    """

    plan: str
    title: str
    sizes: list[str]
    numbers: list[PlanNumberOut]
    measures: list[PlanMeasureOut]
    words: list[str]
    give_up: list[str]
    said: list[str]
    pattern: str | None
    proof: PlanProofOut | None
