"""Check C058 against the measures: shaping does not take more rows than the part that it stands in is long.

In: a subject. Out: findings where the rows of one shaping alone, at the gauge, are longer than the whole part
is stated to be. Shaping beside a length or beside other rows is looked at while knitting.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from purlwright.findings import Related, Severity
from purlwright.needles.ledger import ROWS
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, Seen, over_sizes, while_knitting
from purlwright.proof.lengths import told_by
from purlwright.proof.measures import Measure, Said, stated
from purlwright.proof.sleeves import main_rate
from purlwright.proof.stretches import cloths
from purlwright.proof.subject import Subject, Way
from purlwright.text import Span

__all__ = ["JUDGES", "ShapingOutrunsLength"]


@dataclass(frozen=True, slots=True)
class ShapingOutrunsLength:
    """The rows of one shaping alone are longer, at the gauge, than the whole part is stated to be.

    Mostly the frequency is misprinted: every 6th row where every 2nd was meant. The knitter either runs past
    the length or stops with stitches still to be taken off.

    Example: `Dec 1 st at each end of every 6th row 9 times.` at 30 rows in 10 cm, in a sleeve top 9 cm deep.
    The 54 rows are 18 cm.

    Cure: correct how often the shaping is worked, its frequency, or the length.

    Source: rows divided by the row gauge; up to a fifth more is let pass.
    """

    rows: str
    ours: str
    stated: str

    code = "shaping-outruns-length"
    check = "C058"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The {self.rows} rows of this shaping are {self.ours} cm at the gauge, and the whole part is "
            f"stated as {self.stated}."
        )

    def label(self) -> str:
        return f"{self.ours} cm of {self.stated}"

    def help(self) -> str | None:
        return "Correct how often the shaping is worked, or on which rows."


_LONGER = Fraction(6, 5)


def _lengths(subject: Subject) -> list[Measure]:
    return [
        m for m in subject.kept(stated)
        if m.source is Said.FINISHED and m.way == "length" and m.agrees
    ]  # fmt: skip


def _outrunning(subject: Subject, shapings: dict[int, tree.Line]) -> Iterator[tuple[Way, Seen | None]]:
    """Each shaping of a measured part, and what is seen if it is longer than the part."""
    rate = main_rate(subject)
    for m in _lengths(subject) if rate is not None else ():
        for cloth in subject.kept(cloths):
            wanted, told = m.cm(cloth.size), told_by(m, cloth)
            if not wanted or told is None or not cloth.sure or rate is None:
                continue
            rows: dict[tuple[int, int], int] = {}
            for s in told[1]:
                for e in s.entries:
                    if e.line in shapings and e.kind in ROWS:
                        rows[s.piece, e.line] = rows.get((s.piece, e.line), 0) + 1
            for (_, line), many in rows.items():
                cm = rate.length_cm(many)
                seen = None
                if cm is not None and cm > wanted * _LONGER + 1:
                    words = shapings[line]
                    span = Span(words.offset, words.offset + len(words.text))
                    related = (Related(Span(*m.span), "the length"),)
                    numbers = many, round(cm)
                    told_words = subject.source.text[m.span.start : m.span.end]
                    seen = Seen("outruns", span, numbers, partial(_outruns, told_words), related)
                yield cloth.way, seen


def _outruns(length: str, numbers: tuple[str, ...]) -> ShapingOutrunsLength:
    return ShapingOutrunsLength(numbers[0], numbers[1], length)


def judge_shapings(subject: Subject) -> Answer:
    """C058: what is seen while knitting, and rows against the stated length."""
    knitted = while_knitting("C058")(subject)
    shapings = {
        line.line: line for line, node in subject.nodes(tree.Shaping) if node.every.at(0) and not node.until
    }
    if not shapings or not subject.kept(stated) or knitted.fails or subject.found.get("C058"):
        return knitted
    found = list(_outrunning(subject, shapings))
    findings = over_sizes(subject, ((way, seen) for way, seen in found if seen is not None))
    return knitted._replace(places=knitted.places + len(found), findings=tuple(findings))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C058": judge_shapings}
