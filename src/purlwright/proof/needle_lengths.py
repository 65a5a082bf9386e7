"""Family J, needles: the stitches fit the length of the circular needle.

In: the lengths that the header gives, the gauge, and the stitches of every row. Out: findings for C107.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import ROWS, Kind
from purlwright.proof.answer import Seen, over_sizes
from purlwright.proof.notions import header_entries
from purlwright.proof.sleeves import main_rate

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.proof.subject import Subject, Way
    from purlwright.text import Span

__all__ = ["NeedleTooLong", "NeedleTooShort", "judge_lengths"]

_STRETCH = Fraction(5, 4)
"""Stitches on a needle can be drawn out by a quarter, not more: common practice, no source."""
_CROWD = Fraction(7, 2)
"""So many times its own length of cloth goes on a circular needle at most: common practice, no source."""


@dataclass(frozen=True, slots=True)
class NeedleTooLong:
    """A round has too few stitches to reach round the circular needle that is listed.

    Stitches can be drawn out along a needle by about a quarter, not more (common practice; no source). The
    first round that does not reach is marked. Double-pointed needles, two circulars or the magic loop
    get over it, and many patterns leave that to the knitter, so this is a note. Nothing is said where any of
    them is named, or where the words leave the way to the knitter ("or your preferred method").

    Example: 60 stitches at 20 to 10 cm are 30 cm round, on a circular needle of 80 cm.

    Cure: list double-pointed needles or a shorter circular as well, or name the magic loop, and say where to
    change.
    """

    stitches: str
    around: str
    length: str

    code = "needle-too-long"
    check = "C107"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f"{self.stitches} stitches are {self.around} cm round at the gauge, and do not reach round the "
            f"shortest needle listed, of {self.length} cm."
        )

    def label(self) -> str:
        return f"{self.around} cm round"

    def help(self) -> str | None:
        return "List double-pointed needles too, or name the magic loop, and say where to change."


@dataclass(frozen=True, slots=True)
class NeedleTooShort:
    """A row has more stitches than the longest circular needle listed can hold.

    At the gauge they are more than three and a half times as wide as the needle is long, and however closely
    they are pushed together some slip off its tips (common practice; no source). The gauge is of washed and
    blocked cloth, and lace on the needle is closer than that, so this is a note.

    Example: 300 stitches at 20 to 10 cm are 150 cm wide, on a circular needle of 40 cm.

    Cure: list a longer circular needle, and say where to change to it.
    """

    stitches: str
    wide: str
    length: str

    code = "needle-too-short"
    check = "C107"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f"{self.stitches} stitches are {self.wide} cm wide at the gauge, and the longest needle listed, "
            f"of {self.length} cm, does not hold them."
        )

    def label(self) -> str:
        return f"{self.wide} cm wide"

    def help(self) -> str | None:
        return "List a longer circular needle, and say where to change to it."


_CIRCULAR = re.compile(r"\bcirc", re.IGNORECASE)
_STRAIGHT = re.compile(r"\bstraight", re.IGNORECASE)
_INCH = Fraction(127, 50)
_LENGTH = re.compile(
    r"(?<![\d./])(?P<n>\d{2,3})\s?-?\s?(?:(?P<cm>cm|centimet\w+)|(?P<inch>in\b|inch\w*|[\"”″]))",
    re.IGNORECASE,
)
_SMALL_ROUNDS = re.compile(
    r"\b(?:dpns?|dps|double[- ]?point\w*|magic[- ]loop|(?:two|2) (?:long |short )?circ\w*|travell?ing loop"
    r"|shorter|small\w*[- ]circumferences?|small rounds|sets? of (?:four|five|4|5))\b"
    r"|\b(?:prefer\w*|favou?rite|usual|chosen|any|own|other) (?:\w+ )?(?:method|way|technique)\b"
    r"|\b(?:method|way|technique)s? (?:of your choice|(?:that )?you (?:like|prefer))\b|\bas (?:you )?prefer",
    re.IGNORECASE,
)
"""Words that say how a round too short for the needle is worked, or leave it to the knitter."""


class Lengths(NamedTuple):
    """The circular needles of the header, in cm, and where they stand."""

    shortest: Fraction
    longest: Fraction
    span: Span
    others: bool
    """Whether needles of another make, or of one not said, are listed too: any row may be worked on them."""


def _lengths(subject: Subject) -> Lengths | None:
    """The lengths of the circular needles; None if one of them has none."""
    listed = header_entries(subject, frozenset({"Needles"}))
    circular = [e for e in listed if _CIRCULAR.search(e.value)]
    found: list[Fraction] = []
    for entry in circular:
        lengths = [Fraction(m["n"]) * (1 if m["cm"] else _INCH) for m in _LENGTH.finditer(entry.value)]
        if not lengths:
            return None
        found += lengths
    if not found:
        return None
    others = len(circular) < len(listed) or any(_STRAIGHT.search(e.value) for e in listed)
    return Lengths(min(found), max(found), circular[0].value_span, others)


def _rows(way: Way) -> Iterator[Entry]:
    for piece in way.knitted.ledger.pieces:
        for entry in piece.rows:
            if entry.kind in ROWS and not (entry.unread or entry.resumed):
                yield entry


def _seen(way: Way, needles: Lengths, stitch_cm: Fraction, *, loops: bool) -> Iterator[Seen]:
    """The first round too short for every needle, and the widest row too wide for every needle."""
    related = (Related(needles.span, "listed here"),)
    rows = list(_rows(way))
    reach = needles.shortest / _STRETCH / stitch_cm
    small = next((e for e in rows if e.kind is Kind.ROUND and 0 < e.start < reach), None)
    if small is not None and not loops:
        numbers = small.start, round(small.start * stitch_cm)
        yield Seen("long", small.span, numbers, partial(_too_long, _cm(needles.shortest)), related)
    wide = max(rows, key=lambda e: e.end, default=None)
    if wide is not None and wide.end * stitch_cm > needles.longest * _CROWD and not needles.others:
        numbers = wide.end, round(wide.end * stitch_cm)
        yield Seen("short", wide.span, numbers, partial(_too_short, _cm(needles.longest)), related)


def _cm(length: Fraction) -> str:
    return f"{float(length):g}"


def _too_long(length: str, numbers: tuple[str, ...]) -> NeedleTooLong:
    return NeedleTooLong(numbers[0], numbers[1], length)


def _too_short(length: str, numbers: tuple[str, ...]) -> NeedleTooShort:
    return NeedleTooShort(numbers[0], numbers[1], length)


def judge_lengths(subject: Subject) -> tuple[int, tuple[Finding, ...]]:
    """How many needles with a length were looked at, and what does not fit them."""
    needles = _lengths(subject)
    rate = main_rate(subject) if needles is not None else None
    if needles is None or rate is None or not rate.stitches:
        return 0, ()
    loops = needles.others or _SMALL_ROUNDS.search(subject.source.text) is not None
    cm = 1 / rate.stitches
    seen = ((way, one) for way in subject.ways for one in _seen(way, needles, cm, loops=loops))
    return 1, tuple(over_sizes(subject, seen))
