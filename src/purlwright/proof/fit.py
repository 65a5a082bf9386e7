"""Families C, E and G, fit and assembly: the judges of every check that holds parts of a piece together."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from purlwright.proof import bands, bodies, feet_and_fingers, pairs, seams, sleeves, wedges, yokes
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject

__all__ = ["JUDGES"]

JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    **pairs.JUDGES,
    **wedges.JUDGES,
    **seams.JUDGES,
    **sleeves.JUDGES,
    **yokes.JUDGES,
    **bands.JUDGES,
    **feet_and_fingers.JUDGES,
    **bodies.JUDGES,
}
