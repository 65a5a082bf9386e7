"""Check C021 where the work goes from round to flat: the labels RS and WS do not turn the cloth inside out.

In: a subject. Out: a finding on the first label of flat rows after rounds, if it says WS though nothing has
turned, and the rows show the other face than the rounds before them. Labels that contradict the row before
are found while knitting.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import ROWS, Entry, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, while_knitting
from purlwright.proof.rates import row_kind
from purlwright.proof.subject import Subject, Way, at, here

__all__ = ["JUDGES", "SidesExchanged"]


@dataclass(frozen=True, slots=True)
class SidesExchanged:
    """The first flat row after rounds is labelled WS, and by its labels the cloth shows its other face.

    In the round the right side faces, and the next row begins with the right side too unless the work is
    turned. Where the labels say otherwise, and the rows knitted by them show purls on a piece that shows
    knits everywhere else, RS and WS have been exchanged.

    Example: `Knit 20 rnds.`, then `Row 1 (WS): K27, w&t.`, `Row 2 (RS): P26, w&t.`

    Cure: exchange RS and WS, or say that the work is turned. (Common practice; no source.)
    """

    row: str
    is_: str

    code = "sides-exchanged"
    check = "C021"
    severity = Severity.WARNING

    def message(self) -> str:
        other = "knits" if self.is_ == "purls" else "purls"
        return (
            f"{self.row} is labelled WS straight after a round, and rows worked by these labels show "
            f"{self.is_} on the right side, where the rounds show {other}."
        )

    def label(self) -> str:
        return "RS and WS exchanged?"

    def help(self) -> str | None:
        return "Exchange RS and WS in these rows, or say that the work is turned."


_FEW = 4
"""Fewer flat rows than this do not tell which face they show."""


def _exchanged(way: Way, subject: Subject) -> Iterator[Finding]:
    """Blocks of flat rows between rounds, or after them."""
    for piece in way.knitted.ledger.pieces:
        rows = [e for e in piece.rows if e.kind in ROWS]
        blocks = [list(block) for _, block in groupby(rows, key=lambda e: e.kind)]
        for before, flat_rows in pairwise(blocks):
            block = [e for e in flat_rows if e.section == flat_rows[0].section]
            if block[0].kind is Kind.ROW and len(block) >= _FEW and len(before) >= _FEW:
                first = block[0]
                line = subject.line_of(first)
                if line is None or not _says_ws(line) or _turns_first(subject, line):
                    continue
                flat, rounds = _face(way, block), _face(way, before[-_FEW:])
                if flat and rounds and flat != rounds:
                    problem = SidesExchanged(first.label or "This row", f"{flat}s")
                    span = line.label.span if line.label is not None else None
                    yield at(line, problem, span, _others(subject, block))


def _says_ws(line: tree.Line) -> bool:
    label = line.label
    return label is not None and label.side is tree.Side.WS and label.unit is not tree.Unit.ROUND


def _turns_first(subject: Subject, line: tree.Line) -> bool:
    """Whether the line, or the one before it, says to turn before the row begins."""
    lines = subject.lines
    place = next((n for n, other in enumerate(lines) if other is line), 0)
    if place and "turn" in lines[place - 1].text.lower():
        return True
    return "turn" in line.text.lower()


def _face(way: Way, rows: Sequence[Entry]) -> str:
    """What the right side shows of all these rows, "knit" or "purl"; "" if it is not one of them."""
    kinds = {row_kind(way.knitted.fabric, e) for e in rows}
    return kinds.pop() if len(kinds) == 1 and kinds <= {"knit", "purl"} else ""


def _others(subject: Subject, block: Sequence[Entry]) -> Iterable[Related]:
    line = subject.line_of(block[1])
    return (here(line, "and here"),) if line is not None else ()


def judge_labels(subject: Subject) -> Answer:
    """C021: what is found while knitting, and labels against the cloth."""
    knitted = while_knitting("C021")(subject)
    if subject.found.get("C021") or not any(_says_ws(line) for line in subject.lines):
        return knitted
    findings = subject.each_way(lambda way: _exchanged(way, subject))
    return Answer(places=knitted.places, findings=tuple(findings), missing=knitted.missing)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C021": judge_labels}
