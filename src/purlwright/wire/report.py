"""The editor's report as it leaves: the same letter in named fields.

In: a report. Out: msgspec structs; field names and order are the contract.
"""

from __future__ import annotations

import msgspec
from msgspec import UNSET, Struct, UnsetType

from purlwright.findings import Severity
from purlwright.proof.report import Report

__all__ = [
    "AlsoOut",
    "ComparedOut",
    "KnittingOut",
    "RemarkOut",
    "ReportOut",
    "ScopeOut",
    "report_out",
]


class KnittingOut(Struct, frozen=True, kw_only=True):
    """What was knitted for a report."""

    sizes: list[str]
    options: dict[str, list[str]]
    ways: int
    every: bool
    """False when not all combinations of options were knitted."""
    rows: int
    rounds: int
    stitches: int
    said: str
    """All of it in a sentence."""


class ComparedOut(Struct, frozen=True, kw_only=True):
    """Another place that a remark speaks of."""

    line: int | None
    quoted: str
    said: str


class AlsoOut(Struct, frozen=True, kw_only=True):
    """The same remark with other numbers, in other sizes or choices."""

    where: str
    found: str
    repair: str | None


class RemarkOut(Struct, frozen=True, kw_only=True):
    """One thing to tell the designer."""

    number: int
    gravity: Severity
    place: str
    line: int | None
    quoted: str
    """The exact words; "" when it is about no words."""
    in_line: str
    """The line they stand in; "" when they are all of it."""
    found: str
    compared: list[ComparedOut]
    where: str
    """Which sizes and choices; "" when there is one of each."""
    also: list[AlsoOut]
    repair: str | None
    mends: list[str]
    """Changes that were knitted: each by itself mends it and upsets nothing else."""
    code: str
    check: str | None
    asked: str | None


class ScopeOut(Struct, frozen=True, kw_only=True):
    """One check in words, and its answer."""

    check: str
    family: str
    asked: str
    said: str
    """At how many places, or what would be needed."""
    places: int


class ReportOut(Struct, frozen=True, kw_only=True):
    """Answer of ``proof --report --json``."""

    file: str | UnsetType = UNSET
    """Only in a list of several patterns."""
    title: str
    version: list[str]
    knitting: KnittingOut
    summary: str
    remarks: list[RemarkOut]
    readings: list[ComparedOut]
    """Words with two readings of which the printed counts chose one, and which."""
    fails: list[ScopeOut]
    proved: list[ScopeOut]
    undecided: list[ScopeOut]
    not_made: list[ScopeOut]
    person: list[ScopeOut]
    absent: list[ScopeOut]


def report_out(report: Report, file: str | UnsetType = UNSET) -> ReportOut:
    """A report as it leaves; ``file`` only in a list."""
    out = msgspec.convert(report, ReportOut, from_attributes=True)
    return out if file is UNSET else msgspec.structs.replace(out, file=file)
