"""Family J, timing: what happens at the same time is told before its rows, and does not collide.

In: statements that run side by side, and where they stand. Out: C104, C105.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import ROWS
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject, at, here, serves
from purlwright.text import Span

__all__ = ["JUDGES", "ShapingsMeet", "ToldTooLate"]


@dataclass(frozen=True, slots=True)
class ToldTooLate:
    """What happens at the same time is told after the rows in which it happens.

    A knitter works line by line: when she comes to this one, the rows it speaks of are done.

    Example: `Work even until the back measures 30 cm.` and, in the next paragraph, `At the same time,
    decrease 1 st at each end of every 6th row.`

    Cure: begin the earlier line with it: "At the same time as ..., read ahead".
    """

    rows: int

    code = "told-too-late"
    check = "C104"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"What happens at the same time as the {self.rows} rows before it is told here, after them."

    def label(self) -> str:
        return "told after its rows"

    def help(self) -> str | None:
        return "Say it in the line before, ahead of the rows that it belongs to."


@dataclass(frozen=True, slots=True)
class ShapingsMeet:
    """Two shapings fall on the same edge of the same row.

    The words tell each by itself, and where both fall due the knitter has to guess: both stitches, one
    inside the other, or one of them a row later.

    Example: `Dec 1 st at each end of every 4th row 5 times, and at the same time dec 1 st at the beginning
    of every 6th row 3 times.`

    Cure: say what is done on the rows where both fall due.
    """

    row: int
    times: int

    code = "shapings-meet"
    check = "C105"
    severity = Severity.WARNING

    def message(self) -> str:
        more = f", and {self.times - 1} times more" if self.times > 1 else ""
        return f"Both shapings fall on the same edge in row {self.row} of these rows{more}."

    def label(self) -> str:
        return f"both due in row {self.row}"

    def help(self) -> str | None:
        return "Say what is done on the rows where both fall due."


def judge_announced(subject: Subject) -> Answer:
    """C104."""
    said = list(subject.watched.of("same time"))
    if not said:
        return Answer()
    findings: list[Finding] = []
    lines = subject.lines
    for line, heard in said:
        before = line.text[: heard.start].strip(" *_(")
        if before and before.lower() not in {"and", "and,", "but"}:
            continue
        place = next((n for n, ln in enumerate(lines) if ln.line == line.number), None)
        if place is None or not place:
            continue
        earlier = next((ln for ln in reversed(lines[:place]) if ln.actions), None)
        if earlier is None or earlier.line == line.number:
            continue
        rows = _rows_of(subject, earlier)
        if rows > 2 and _has_shaping(lines[place]):
            span = line.span(heard)
            findings.append(
                Finding(problem=ToldTooLate(rows), span=span, related=(here(earlier, "these rows"),))
            )
    return Answer(places=len(said), findings=tuple(findings))


def _rows_of(subject: Subject, line: tree.Line) -> int:
    """How many rows a line works in the first way that it serves."""
    for way in subject.ways:
        if serves(line, way):
            return sum(
                e.line == line.line and e.kind in ROWS
                for piece in way.knitted.ledger.pieces
                for e in piece.rows
            )
    return 0


def _has_shaping(line: tree.Line) -> bool:
    return any(isinstance(node, tree.Shaping) for node in tree.walk(line.actions))


_MOST_ROWS = 2000


def _due(shaping: tree.Shaping, size: int) -> Iterator[int]:
    """The rows, from 1, on which a shaping falls."""
    every = shaping.every.at(size)
    times = shaping.times.at(size) if shaping.times is not None else None
    if not every or not times:
        return
    if shaping.said is tree.Said.MORE:
        times += 1
    first = 1 if shaping.start == "next" else every
    for n in range(times):
        if first + n * every > _MOST_ROWS:
            return
        yield first + n * every


def _edges(shaping: tree.Shaping) -> set[str]:
    """At which edges it works; "each end" is both."""
    out: set[str] = set()
    for node in shaping.steps:
        if isinstance(node, tree.AtEdges):
            out |= {"beginning", "end"} if node.where == "each end" else {node.where}
    return out


def judge_collisions(subject: Subject) -> Answer:
    """C105."""
    both = subject.nodes(tree.AtSameTime)
    if not both:
        return Answer()
    sizes = range(max(1, len(subject.pattern.sizes)))
    findings: list[Finding] = []
    for line, node in both:
        shapings = [part for part in node.parts if isinstance(part, tree.Shaping)]
        for n, one in enumerate(shapings):
            for other in shapings[n + 1 :]:
                if not _edges(one) & _edges(other):
                    continue
                met = [sorted(set(_due(one, size)) & set(_due(other, size))) for size in sizes]
                worst = max(met, key=len)
                if worst:
                    problem = ShapingsMeet(worst[0], len(worst))
                    related = (Related(_in_source(line, one), "one shaping"),)
                    findings.append(at(line, problem, other.span, related))
    return Answer(places=len(both), findings=tuple(findings))


def _in_source(line: tree.Line, node: tree.Node) -> Span:

    return Span(node.span.start + line.offset, node.span.end + line.offset)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C104": judge_announced, "C105": judge_collisions}
