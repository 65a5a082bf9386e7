"""Which of the three is wrong where stitches, gauge and width disagree: the gauge, or stitches of one needle.

In: for each size the stitches, the gauge that holds, and the width that is stated. Out: a finding on the one
to blame, if the numbers tell. That they disagree at all is told by ``widths``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.proof.rates import Rate
from purlwright.proof.stretches import Cloth, Stretch
from purlwright.proof.subject import Subject

__all__ = ["Blame", "CastOnOfOneNeedle", "GaugeGivesOtherWidths", "Words", "to_blame"]


@dataclass(frozen=True, slots=True)
class GaugeGivesOtherWidths:
    """The stitches and the stated widths agree with one another in every size, and not with the gauge.

    One gauge would give every width from its stitches, and it is not the one that is printed. The knitter
    swatches to the printed one, and every size comes out wrong by the same share.

    Example: `Gauge: 23 sts = 10 cm`, `Finished size: 18.5 (20, 21.5) cm round`, and 56 (60, 64) sts. They
    are 24.5 (26, 28) cm; at 30 sts in 10 cm they would be what is stated.

    Cure: measure the swatch again and correct the stitches of the gauge.

    Source: stitches divided by width; the sizes must agree within a twenty-fifth, and the gauge be
    less than two thirds more or two fifths less: what is farther off is another slip.
    """

    stitches: str
    ours: str
    stated: str
    gauge: str
    wanted: str

    code = "gauge-gives-other-widths"
    check = "C053"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"At {self.gauge} sts in 10 cm {self.stitches} sts are {self.ours} cm wide, and the words say "
            f"{self.stated}; {self.wanted} sts in 10 cm would give that in every size."
        )

    def label(self) -> str:
        return f"{self.wanted} sts?"

    def help(self) -> str | None:
        return f"Measure the swatch again: {self.gauge} is likely mistyped for {self.wanted}."


@dataclass(frozen=True, slots=True)
class CastOnOfOneNeedle:
    """The stitches cast on are a third or a quarter of those that the width asks for.

    A tube is cast on over a set of three or four needles, and the number printed is likely that of one of
    them. Knitted so, the piece goes round a thumb instead of a head.

    Example: `Cast on 24 sts on three needles`, at 24 sts in 10 cm, for a cap of 40 cm round. That asks for
    96.

    Cure: print the stitches of all needles together, or say that they are on each.

    Source: width times gauge, in work in the round, within a twenty-fifth.
    """

    stitches: str
    ours: str
    stated: str
    wanted: str

    code = "cast-on-of-one-needle"
    check = "C053"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.stitches} sts are {self.ours} cm round at the gauge, and the words say {self.stated}; "
            f"that asks for {self.wanted} sts."
        )

    def label(self) -> str:
        return f"{self.wanted} sts?"

    def help(self) -> str | None:
        return f"Write {self.wanted}, or say that these are the stitches of each needle."


class Blame(NamedTuple):
    """One size: its knitting, the stretch that plainly makes the width, its gauge, and the width in cm."""

    cloth: Cloth
    main: Stretch
    rate: Rate
    wanted: float


class Words(NamedTuple):
    """The three that disagree, as a designer writes them in all sizes."""

    stitches: str
    ours: str
    stated: str


_ALIKE = 1.04
"""Widths are rounded to half a centimetre or a quarter of an inch, and stitches to whole repeats."""
_MOST_OFF = 5 / 3
"""A gauge farther off is no slip of a figure: half or twice is a half width for a whole."""
_NEEDLES = (3, 4)
_SET = re.compile(
    r"\b(?:three|four|five|3|4|5|double[- ]pointed)\b.{0,12}\b(?:needles|pins)\b|\bdpns\b", re.IGNORECASE
)


def to_blame(subject: Subject, sizes: Sequence[Blame], words: Words, found: Finding) -> Finding:
    """The finding on what is to blame; ``found`` itself, on the width, where nothing tells."""
    return _one_needle(subject, sizes, words, found) or _one_gauge(sizes, words, found) or found


def _one_gauge(sizes: Sequence[Blame], words: Words, found: Finding) -> Finding | None:
    """One gauge would give every size its width; a single size cannot tell."""
    asked = [b.main.count / b.wanted for b in sizes]
    rate = sizes[0].rate
    if (
        len({b.main.count for b in sizes}) < 2
        or max(asked) > _ALIKE * min(asked)
        or any(b.rate.gauge != rate.gauge for b in sizes)
    ):
        return None
    middle = sum(asked) / len(asked)
    share = middle / float(rate.stitches or 1)
    if not 1 / _MOST_OFF < share < _MOST_OFF:
        return None
    printed, wanted = f"{float((rate.stitches or 0) * 10):g}", f"{round(middle * 20) / 2:g}"
    problem = GaugeGivesOtherWidths(*words, printed, wanted)
    related = (*found.related[:1], Related(found.span, "the width"))
    return Finding(problem=problem, span=rate.gauge.span, related=related)


def _one_needle(subject: Subject, sizes: Sequence[Blame], words: Words, found: Finding) -> Finding | None:
    """Work cast on over a set of needles asks for three or four times as many stitches in every size."""
    for many in _NEEDLES:
        casts = [_cast_on(b) for b in sizes]
        shares = [b.wanted * float(b.rate.stitches or 0) / (many * b.main.count) for b in sizes]
        if (
            casts[0] is not None
            and all(casts)
            and _on_a_set(subject, casts[0])
            and all(1 / _ALIKE < s < _ALIKE for s in shares)
        ):
            counts = [str(many * b.main.count) for b in sizes]
            wanted = counts[0] if len(set(counts)) == 1 else f"{counts[0]} ({', '.join(counts[1:])})"
            related = (Related(found.span, "the width"), *found.related[1:])
            return Finding(problem=CastOnOfOneNeedle(*words, wanted), span=casts[0].span, related=related)
    return None


def _on_a_set(subject: Subject, cast_on: Entry) -> bool:
    line = subject.line_of(cast_on)
    return line is not None and _SET.search(line.text) is not None


def _cast_on(one: Blame) -> Entry | None:
    """The cast-on from which the stretch goes round with as many stitches; None if it does not."""
    first = one.cloth.way.knitted.ledger.pieces[one.main.piece].rows[0]
    same = first.kind is Kind.CAST_ON and first.end == one.main.count and first.span.end >= 0
    return first if same and one.main.ring else None
