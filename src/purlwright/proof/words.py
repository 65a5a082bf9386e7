"""Family I, words and abbreviations."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from purlwright.proof.answer import Answer, while_knitting
from purlwright.proof.subject import Subject

__all__ = ["JUDGES"]

JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C093": while_knitting("C093")}
