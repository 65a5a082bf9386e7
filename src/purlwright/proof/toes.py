"""Check C077, the toe: what is left of the foot when it is worked to its told length is what the toe takes.

In: a foot that is worked "until it measures 19 cm", the toe that follows, and the length of the foot that the
header gives. Out: a finding where the two together are another length.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Severity
from purlwright.pattern import tree
from purlwright.proof.answer import Seen
from purlwright.proof.measures import CM, Said, stated
from purlwright.proof.parts import parts, sure
from purlwright.proof.rates import worked_rows
from purlwright.proof.sleeves import main_rate
from purlwright.text import Span

if TYPE_CHECKING:
    from fractions import Fraction

    from purlwright.proof.subject import Subject, Way

__all__ = ["ToeDoesNotFit", "toes"]


@dataclass(frozen=True, slots=True)
class ToeDoesNotFit:
    """The foot is worked to a length that does not leave what the toe takes.

    The foot ends where the toe begins; the rounds of the toe are the rest of it. A foot that is worked too
    far comes out longer than its size, by as much as the toe has rounds too many.

    Example: a foot of 24 cm, worked until it measures 22 cm, and a toe of 20 rounds at 36 rounds in 10 cm:
    5.5 cm more.

    Cure: begin the toe sooner or later, or change its rounds.

    Source: arithmetic; a cm and a half is let pass.
    """

    foot: str
    toe: str
    wanted: str

    code = "toe-does-not-fit"
    check = "C077"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The foot is worked to {self.foot} cm and the toe adds {self.toe} cm; it is to be {self.wanted} "
            f"cm long."
        )

    def label(self) -> str:
        return f"and {self.toe} cm of toe"

    def help(self) -> str | None:
        return "Begin the toe sooner or later, or change its rounds."


_SLACK = 1.5


def toes(subject: Subject) -> Iterator[tuple[Way, Seen, bool]]:
    """For each way the foot and its toe, and whether they are as long as the header says."""
    lengths = [
        m
        for m in subject.kept(stated)
        if m.source is Said.FINISHED and m.part == "foot" and m.way == "length"
    ]
    rate = main_rate(subject)
    if len(lengths) != 1 or rate is None or not rate.rows:
        return
    for way in subject.ways:
        size = subject.size_place(way.size)
        wanted = lengths[0].cm(size)
        until = _foot_until(subject, size)
        rounds = [p for p in parts(subject, way) if "toe" in p.heading.own and sure(p)]
        toe = rate.length_cm(worked_rows(rounds[0].worked)) if rounds else None
        if wanted is None or until is None or toe is None or not toe:
            continue
        foot, span = until
        seen = Seen("toe", span, (round(foot), round(toe), round(wanted)), _does_not_fit)
        yield way, seen, abs(float(foot + toe - wanted)) <= _SLACK


def _foot_until(subject: Subject, size: int) -> tuple[Fraction, Span] | None:
    """The length to which the foot is worked before the toe, and its words; None if that is told
    otherwise.
    """
    for line, node in reversed(subject.nodes(tree.Until)):
        length = node.length
        low = line.text.lower()
        if length is None or not length.values or length.less or "foot" not in low or node.span.end < 0:
            continue
        value = length.values[size] if len(length.values) > size else length.values[0]
        if value is not None:
            span = Span(node.span.start + line.offset, node.span.end + line.offset)
            return value * CM.get(length.unit, CM["cm"]), span
    return None


def _does_not_fit(numbers: tuple[str, ...]) -> ToeDoesNotFit:
    return ToeDoesNotFit(*numbers)
