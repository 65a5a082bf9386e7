"""Heights and lengths beside the header's: rows printed beside a length, wedges of short rows.

In: a subject. Out: findings of checks C038 and C054. Slanted edges are left to ``slants``. The lengths of the
header are left to ``lengths``; lengths that are waited for, shaping beside rows and stitches picked up along
rows are looked at while knitting.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.answer import Answer, while_knitting
from purlwright.proof.measures import Measure, Said, stated
from purlwright.proof.rates import rates
from purlwright.proof.stretches import cloths
from purlwright.proof.subject import Subject
from purlwright.text import Span

__all__ = ["JUDGES", "SLANTED", "RowsNotThatLong", "WedgeHeightDiffers", "row_pairs", "the_gauge"]


@dataclass(frozen=True, slots=True)
class RowsNotThatLong:
    """A number of rows and a length stand side by side, and at the gauge they are not the same.

    Half the knitters count and half measure, and their pieces do not come out alike.

    Example: `Work 40 rows (5 cm).` at 28 rows in 10 cm. 40 rows are 14 cm.

    Cure: correct the rows or the length.

    Source: rows divided by the row gauge; up to seven tenths more or less is let pass, since ribs and
    garter stitch have other rows than the gauge.
    """

    rows: int
    ours: str
    stated: str

    code = "rows-not-that-long"
    check = "C054"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.rows} rows are {self.ours} cm at the gauge, and {self.stated} stands beside them."

    def label(self) -> str:
        return f"{self.ours} cm at the gauge"

    def help(self) -> str | None:
        return "Correct the rows or the length."


@dataclass(frozen=True, slots=True)
class WedgeHeightDiffers:
    """The short rows do not raise the edge by as much as is stated.

    Example: `The short rows raise the back neck by 6 cm` over 4 short rows at 28 rows in 10 cm. They are
    1.5 cm.

    Cure: correct the number of turns, or the height.

    Source: each short row is one row more at the high edge.
    """

    rows: int
    ours: str
    stated: str

    code = "wedge-height-differs"
    check = "C038"
    severity = Severity.WARNING

    def message(self) -> str:
        many = f"The {self.rows} short rows"
        return f"{many} are {self.ours} cm high at the gauge, and the words say {self.stated}."

    def label(self) -> str:
        return f"{self.ours} cm at the gauge"

    def help(self) -> str | None:
        return "Correct the number of turns, or the height."


SLANTED = re.compile(
    r"\braglan|\bdiagonal|\bslant|\bslop|\bhypotenuse|\balong the (?:edge|curve)", re.IGNORECASE
)
"""Words of an edge that is neither a width nor a length."""
_WEDGE = re.compile(r"\b(?:short rows?|wedge)\b", re.IGNORECASE)
_RISE = re.compile(r"\b(?:rais\w*|rise|higher|drop|deeper|longer|height|high)\b", re.IGNORECASE)


def the_gauge(subject: Subject) -> tuple[Related, ...]:
    """The first gauge with rows, as a place that matters."""
    gauge = next((r.gauge for r in subject.kept(rates) if r.rows), None)
    return () if gauge is None else (Related(gauge.span, "the gauge"),)


# --- rows printed beside a length ---------------------------------------------------------------

_N_ROWS = r"(?P<n>\d{1,4})\s*(?:rows|rnds|rounds)\b"
_ROWS_AFTER = re.compile(rf"\s*[,(\[=]*\s*(?:=|about|approx\.?|or|is)?\s*{_N_ROWS}", re.IGNORECASE)
_ROWS_BEFORE = re.compile(
    rf"(?<![\d),-])(?<!\d )\b{_N_ROWS}(?:[ a-z]{{0,40}}?\s*[(\[]|\s*[,=/])\s*(?:=|about|approx\.?|or)?\s*$",
    re.IGNORECASE,
)


def row_pairs(subject: Subject, found: Sequence[Measure]) -> tuple[int, list[Finding]]:
    """How many rows stand beside a length, and those that are another length by every gauge."""
    known = [r for r in subject.kept(rates) if r.rows]
    text = subject.source.text
    places, out = 0, []
    for m in found if known else ():
        if m.source is not Said.TEXT or len(m.amount.values) > 1:
            continue
        span = m.amount.span.cover(m.other.span) if m.other is not None else m.amount.span
        beside = _ROWS_AFTER.match(text, span.end, span.end + 40)
        lead = _ROWS_BEFORE.search(text, max(0, span.start - 60), span.start) if beside is None else None
        at = beside or lead
        wanted = m.cm(0)
        if at is None or not wanted:
            continue
        places += 1
        rows = int(at["n"])
        lengths = [r.length_cm(rows) or Fraction(0) for r in known]
        if all(
            ours > wanted * Fraction(17, 10) + 1 or ours + 1 < wanted * Fraction(10, 17) for ours in lengths
        ):
            ours = f"{float(round(lengths[0] * 2) / 2):g}"
            whole = span.cover(Span(at.start("n"), at.end()))
            words = text[m.span.start : m.span.end]
            out.append(
                Finding(problem=RowsNotThatLong(rows, ours, words), span=whole, related=the_gauge(subject))
            )
    return places, out


# --- wedges ----------------------------------------------------------------------


def judge_wedges(subject: Subject) -> Answer:
    """C038: a height that the words give to short rows, against their number."""
    told = [m for m in subject.kept(stated) if _WEDGE.search(m.words) and _RISE.search(m.words)]
    if not told:
        return Answer()
    known = [r for r in subject.kept(rates) if r.rows]
    if not known:
        return Answer(missing="a gauge with rows")
    places, findings = 0, []
    for m in told:
        for cloth in subject.kept(cloths)[:1]:
            rows = sum(s.short for s in cloth.stretches if s.section.startswith(m.section))
            wanted = m.cm(cloth.size)
            if not rows or not wanted or not cloth.sure:
                continue
            places += 1
            lengths = [r.length_cm(rows) or Fraction(0) for r in known]
            if all(
                ours > wanted * Fraction(3, 2) + 1 or ours + 1 < wanted * Fraction(2, 3) for ours in lengths
            ):
                words = subject.source.text[m.span.start : m.span.end]
                problem = WedgeHeightDiffers(rows, f"{float(round(lengths[0] * 2) / 2):g}", words)
                findings.append(Finding(problem=problem, span=Span(*m.span), related=the_gauge(subject)))
    return Answer(places=places, findings=tuple(findings))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C015": while_knitting("C015"),
    "C038": judge_wedges,
    "C057": while_knitting("C057"),
}
