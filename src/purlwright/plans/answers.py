"""Answers of a plan, as they leave.

In: counts, measures and words. Out: the structs of ``wire.plan``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from purlwright.sizing.lists import of_sizes
from purlwright.sizing.starts.asked import Finish, Start
from purlwright.units import BY_GAUGE
from purlwright.wire.plan import PlanMeasureOut, PlanNumberOut, PlanOut

__all__ = ["answer", "measure_out", "numbers_out"]


def numbers_out(start: Start) -> list[PlanNumberOut]:
    """The counts of a pattern to begin from."""
    return [
        PlanNumberOut(name=name, counts=list(counts), words=of_sizes(counts))
        for name, counts in start.counts.items()
    ]


def measure_out(f: Finish) -> PlanMeasureOut:
    """One measure, and by how much it is off."""
    off = [b - a for a, b in zip(f.wanted_mm, f.mm, strict=True)]
    return PlanMeasureOut(
        name=f.name,
        wanted_cm=[round(float(v) / 10, 1) for v in f.wanted_mm],
        cm=[round(float(v) / 10, 1) for v in f.mm],
        off_cm=[round(float(v) / 10, 1) + 0.0 for v in off],
        off_in=[round(float(v / BY_GAUGE["in"]), 2) + 0.0 for v in off],
    )


def answer(
    plan: str,
    title: str,
    *,
    sizes: Sequence[str] = (),
    numbers: Mapping[str, Sequence[int]] | None = None,
    measures: Sequence[Finish] = (),
    words: Sequence[str] = (),
    give_up: Sequence[str] = (),
    said: Sequence[str] = (),
) -> PlanOut:
    """An answer without a pattern."""
    return PlanOut(
        plan=plan,
        title=title,
        sizes=list(sizes),
        numbers=[
            PlanNumberOut(name=name, counts=list(counts), words=of_sizes(counts))
            for name, counts in (numbers or {}).items()
        ],
        measures=[measure_out(f) for f in measures],
        words=list(words),
        give_up=list(give_up),
        said=list(said),
        pattern=None,
        proof=None,
    )
