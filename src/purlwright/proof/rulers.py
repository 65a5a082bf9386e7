"""Checks C059, C060 and C062: stated measures agree with one another, and can be read on a ruler.

In: a subject. Out: findings on the words of measures. Whether the knitting gives them is left to ``widths``
and ``lengths``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.answer import Answer
from purlwright.proof.measures import CM, Amount, Measure, Said, amounts_in, near, stated
from purlwright.proof.subject import Subject
from purlwright.text import Span
from purlwright.units import MM

if TYPE_CHECKING:
    from purlwright.pattern.header import Header

__all__ = ["JUDGES", "InchesDiffer", "MeasuresDisagree", "NotOnARuler", "RoundedTwoWays"]


def _number(value: Fraction) -> str:
    return f"{float(value):.4g}"


def _list(values: tuple[Fraction | None, ...]) -> str:
    words = ["-" if v is None else _number(v) for v in values]
    return words[0] if len(words) == 1 else f"{words[0]} ({', '.join(words[1:])})"


# --- C059 ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class InchesDiffer:
    """A length is printed in inches and in centimetres, and the two are not the same length.

    Half the knitters measure in the one and half in the other, and their pieces do not come out alike.

    Example: `Work until the piece measures 8 in (25 cm).` 8 inches are 20 cm.

    Cure: correct the one that is mistyped.

    Source: an inch is 2.54 cm; the trade counts 4 in as 10 cm where lengths come from a gauge (Craft Yarn
    Council). Both, and figures rounded to whole inches or centimetres, are taken as right.
    """

    inches: str
    true: str
    printed: str

    code = "inches-differ"
    check = "C059"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.inches} in is {self.true} cm, and {self.printed} cm stands beside it."

    def label(self) -> str:
        return f"{self.inches} in is {self.true} cm"

    def help(self) -> str | None:
        return f"Write {self.true} cm, or correct the {self.inches} in."


@dataclass(frozen=True, slots=True)
class RoundedTwoWays:
    """Of the lengths printed in both units, some are rounded to whole or half centimetres and some to tenths.

    The one looks like a measure that must be kept to the millimetre and the other like one that need not be,
    and in truth both are equally near.

    Example: `16 in (40.6 cm)` in one place and `20 in (51 cm)` in another.

    Cure: round all to half or whole centimetres. Lengths below 2 inches, those that come out alike by both
    rules, and those of 4 in as 10 cm are not asked. (Common practice of editors, no source.)
    """

    fine: str
    coarse: str

    code = "rounded-two-ways"
    check = "C059"
    severity = Severity.NOTE

    def message(self) -> str:
        fine, coarse = self.fine, self.coarse
        return f"{fine} cm is rounded to a tenth of a centimetre here, and {coarse} cm elsewhere is not."

    def label(self) -> str:
        return f"rounded otherwise than {self.coarse} cm"

    def help(self) -> str | None:
        return "Round all lengths alike, to half or whole centimetres."


def _roundings(one: Amount, other: Amount) -> Iterator[tuple[bool, Fraction]]:
    """Of each length in both units that shows how it was rounded: whether to a tenth of a centimetre."""
    inches, cm = (one, other) if one.unit == "in" else (other, one)
    if (inches.unit, cm.unit) != ("in", "cm") or len(inches.values) != len(cm.values):
        return
    for i, c in zip(inches.values, cm.values, strict=True):
        if i is None or c is None or i < _SMALL or not near(i, c):
            continue
        true = i * MM["in"] / 10
        if (c * 2).denominator != 1:
            if abs(c - true) <= Fraction(1, 20):
                yield True, c
        elif abs(c - true) > Fraction(1, 10) and c != i * CM["in"]:
            yield False, c


_SMALL = 2
"""Inches below which a length is rounded more finely in every book."""


def _one_rounding(pairs: list[tuple[Amount, Amount]]) -> Iterator[Finding]:
    """At most one note, on the first length to a tenth."""
    met: dict[bool, tuple[Fraction, Span]] = {}
    for one, other in pairs:
        for fine, value in _roundings(one, other):
            met.setdefault(fine, (value, one.span.cover(other.span)))
    if len(met) == 2:
        (fine_cm, span), (coarse_cm, elsewhere) = met[True], met[False]
        problem = RoundedTwoWays(_number(fine_cm), _number(coarse_cm))
        yield Finding(problem=problem, span=span, related=(Related(elsewhere, "and here"),))


def _pair(one: Amount, other: Amount) -> Iterator[Finding]:
    inches, cm = (one, other) if one.unit == "in" else (other, one)
    if cm.unit != "cm" or len(inches.values) != len(cm.values):
        return
    for i, c in zip(inches.values, cm.values, strict=True):
        if i is not None and c is not None and not near(i, c):
            true = Fraction(round(i * MM["in"] / 10 * 2), 2)
            problem = InchesDiffer(_number(i), _number(true), _number(c))
            yield Finding(problem=problem, span=one.span.cover(other.span))
            return


def judge_pairs(subject: Subject) -> Answer:
    """C059: the measures, and the lengths of the gauges."""
    places = 0
    findings: list[Finding] = []
    pairs = [(m.amount, m.other) for m in subject.kept(stated) if m.other is not None]
    for pair in pairs:
        places += 1
        findings += _pair(*pair)
    findings += _one_rounding(pairs)
    for both in subject.of_header(_paired_in_gauges):
        places += 1
        findings += _pair(*both)
    return Answer(places=places, findings=tuple(findings))


def _paired_in_gauges(header: Header, _sizes: int) -> list[tuple[Amount, Amount]]:
    """The two lengths of each gauge that is told in both units."""
    out = []
    for gauge in header.gauges:
        both = tuple(amounts_in(gauge.words, gauge.span.start, 1))
        if len(both) == 2 and {a.unit for a in both} == {"cm", "in"}:
            out.append(both)
    return out


# --- C060 ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class NotOnARuler:
    """A length has a fraction that no ruler or tape shows.

    A knitter cannot find 2.8 inches or 7.62 cm on her tape. It is mostly left over from working one unit
    out of the other.

    Example: `Work until the piece measures 2.8 in.`

    Cure: round inches to a quarter and centimetres to a half.

    Source: common practice of technical editors, no single source.
    """

    printed: str
    near: str

    code = "not-on-a-ruler"
    check = "C060"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"{self.printed} cannot be found on a ruler; the nearest that can is {self.near}."

    def label(self) -> str:
        return "not on a ruler"

    def help(self) -> str | None:
        return "Round inches to a quarter and centimetres to a half."


_STEP = {"cm": Fraction(1, 10), "in": Fraction(1, 16), "mm": Fraction(1)}
_ROUND = {"cm": Fraction(1, 2), "in": Fraction(1, 4), "mm": Fraction(1)}


def _off(amount: Amount) -> Fraction | None:
    """The first value that lies between the lines of a ruler; a third of an inch and the like as well."""
    step = _STEP[amount.unit]
    return next((v for v in amount.values if v is not None and (v / step).denominator != 1), None)


def judge_ruler(subject: Subject) -> Answer:
    """C060: one note, on the first."""
    measures = subject.kept(stated)
    for m in measures:
        for amount in (m.amount, m.other):
            value = _off(amount) if amount is not None else None
            if amount is None or value is None:
                continue
            step = _ROUND[amount.unit]
            line = Fraction(round(value / step)) * step
            problem = NotOnARuler(f"{_number(value)} {amount.unit}", f"{_number(line)} {amount.unit}")
            return Answer(places=len(measures), findings=(Finding(problem=problem, span=amount.span),))
    return Answer(places=len(measures))


# --- C062 ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class MeasuresDisagree:
    """The same finished measure is stated twice, with different numbers.

    A knitter goes by the one she reads first.

    Example: `Finished size: chest 90 cm`, and under Measurements `chest 96 cm`.

    Cure: keep the one that the stitches give.
    """

    what: str
    here: str
    there: str

    code = "measures-disagree"
    check = "C062"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"The {self.what} is {self.here} here and {self.there} in the other place."

    def label(self) -> str:
        return f"{self.there} elsewhere"

    def help(self) -> str | None:
        return "Keep the number that the stitches give."


_TELLS_APART = re.compile(
    r"\b(?:un)?stretched|\b(?:before|after|un|with|without|incl\w*|excl\w*|front|back|left|right|inner|outer|upper|lower"
    r"|top|bottom|from|at|above|below|body|buttoned|closed|open)\b",
    re.IGNORECASE,
)
_DRAWN = re.compile(r"\bschematic|\bdiagram|\bdrawing", re.IGNORECASE)


def _same_thing(a: Measure, b: Measure) -> bool:
    """Whether two measures are surely of one thing: part and way named, and no word that tells them apart."""
    if not a.part or not a.way or (a.part, a.way) != (b.part, b.way) or a.line == b.line:
        return False
    return {w.lower() for w in _TELLS_APART.findall(a.words)} == {
        w.lower() for w in _TELLS_APART.findall(b.words)
    }


def judge_twice(subject: Subject) -> Answer:
    """C062: words against words; a drawing cannot be read."""
    finished = [m for m in subject.kept(stated) if m.source is Said.FINISHED]
    sizes = range(max(1, len(subject.pattern.sizes)))
    places = 0
    findings: list[Finding] = []
    for n, b in enumerate(finished):
        a = next((x for x in finished[:n] if _same_thing(x, b)), None)
        if a is None:
            continue
        places += 1
        for size in sizes:
            first, second = a.cm(size), b.cm(size)
            if first is None or second is None or abs(first - second) <= max(Fraction(1), first / 25):
                continue
            problem = MeasuresDisagree(
                b.part if b.way == "round" else f"{b.part} {b.way}",
                f"{_list(b.amount.values)} {b.amount.unit}",
                f"{_list(a.amount.values)} {a.amount.unit}",
            )
            related = (Related(a.span, "and here"),)
            findings.append(Finding(problem=problem, span=Span(*b.span), related=related))
            break
    drawn = finished and _DRAWN.search(subject.source.text)
    return Answer(places=places, findings=tuple(findings), missing="the drawing" if drawn else None)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C059": judge_pairs,
    "C060": judge_ruler,
    "C062": judge_twice,
}
