"""What the bench is told of an idea, and what it answers: plans, and a pattern at another gauge.

In: nothing; ``plans`` and ``bench`` fill it. Out: msgspec structs whose field names are the contract with the
page; the answers themselves are those of ``plan --json`` and ``regauge --json``.
"""

from __future__ import annotations

from msgspec import Struct

from purlwright.wire.regauge import RegaugeOut

__all__ = [
    "AnswerIn",
    "ChoiceOut",
    "ChoosableOut",
    "FillableAskOut",
    "FillableOut",
    "FillablesOut",
    "PlanIn",
    "RegaugeIn",
    "RegaugedOut",
]  # fmt: skip


class ChoiceOut(Struct, frozen=True, kw_only=True):
    """One of the answers to choose from: what is sent, and what it is called."""

    value: str
    words: str


class FillableAskOut(Struct, frozen=True, kw_only=True):
    """One question of a plan.

    kind : "gauge", "whole" (a number), "words", "lines" (one a line), "yes", "choice" (one of ``choices``),
    "people" (bodies of the tables) or "table" (a table of one's own). how : how it is written.
    """

    option: str
    label: str
    kind: str
    how: str
    needed: bool
    choices: list[ChoiceOut]


class ChoosableOut(Struct, frozen=True, kw_only=True):
    """A body of the tables: its name in an answer, what it is called under its heading, what it measures."""

    heading: str
    name: str
    words: str
    told: str
    usual: bool


class FillableOut(Struct, frozen=True, kw_only=True):
    """A plan to be filled in. ``heading`` : among what it stands. ``whose`` : the chest, head, hand or foot
    that it goes round; "" for what fits nobody. ``piece`` : whether it gives a pattern.
    """

    name: str
    piece: bool
    heading: str
    words: str
    asks: list[FillableAskOut]
    people: list[ChoosableOut]
    whose: str


class FillablesOut(Struct, frozen=True, kw_only=True):
    """Every plan."""

    plans: list[FillableOut]


class AnswerIn(Struct, frozen=True, kw_only=True):
    """What was filled in for an ``option``; words are sent once for each line of "lines"."""

    option: str
    words: str = ""


class PlanIn(Struct, frozen=True, kw_only=True):
    """A plan, filled in. ``table`` : a table of bodies of one's own."""

    plan: str
    answers: list[AnswerIn] = []
    table: str | None = None


class RegaugeIn(Struct, frozen=True, kw_only=True):
    """A pattern and the gauge that it is to have."""

    path: str = ""
    version: int = 0
    text: str
    gauge: str


class RegaugedOut(Struct, frozen=True, kw_only=True):
    """The pattern at that gauge, or why not."""

    version: int
    found: RegaugeOut
