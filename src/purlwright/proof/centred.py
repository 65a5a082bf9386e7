"""A panel in the middle, in every size (C091), and one number where each size needs its own (C047).

In: the first working of each row in each size. Out: findings on a panel between two markers, or a crossing or
hole in the middle of a row, that stands in the centre in some sizes and beside it in the others.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject, Way, where_met
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["JUDGES", "NumberForOneSize", "PanelOffCentre"]


@dataclass(frozen=True, slots=True)
class PanelOffCentre:
    """A panel that should stand in the middle has more stitches at one side than at the other.

    The count of the row is right. The panel stands beside the centre, and on the body it shows from afar.

    Example: `K28 (30, 32), pm, k13, pm, k28 (30, 36)`.

    Cure: give both sides the same number of stitches, or one more to one of them if they are odd.
    (Common practice; no source.)
    """

    before: str
    after: str
    even: tuple[str, ...]

    code = "panel-off-centre"
    check = "C091"
    severity = Severity.WARNING

    def message(self) -> str:
        sizes = f"; in size {' and '.join(self.even)} both sides are alike" if self.even else ""
        return f"{self.before} stitches stand before this panel and {self.after} after it{sizes}."

    def label(self) -> str:
        return f"{self.before} before, {self.after} after"

    def help(self) -> str | None:
        return "Give both sides of the panel as many stitches."


@dataclass(frozen=True, slots=True)
class NumberForOneSize:
    """One number places the centre in one size, and the same number stands there for all sizes.

    With more stitches in the larger sizes the middle lies further on, so each size needs its own number.

    Example: `K18, pm, k12, pm, knit to end` over 48 (52, 56) stitches: only the first size is centred.

    Cure: write the number as a list, one for each size. (Common practice; no source.)
    """

    number: int
    needed: str
    size: str

    code = "number-for-one-size"
    check = "C047"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.number} stitches before the panel put it in the centre in size {self.size} only; "
            f"centred in every size it would be {self.needed}."
        )

    def label(self) -> str:
        return f"right for size {self.size} only"

    def help(self) -> str | None:
        return f"Write {self.needed}."


_CENTRE = re.compile(r"\b(?:cent(?:re|er)(?:ed|d)?|middle)\b", re.IGNORECASE)
Sides = tuple[Way, Entry, int, int]


def _panels(subject: Subject) -> Iterator[tuple[tree.Line, list[Sides]]]:
    """Each row that sets two markers, or works a chart over some stitches, with those at either side, by
    way.
    """
    calls = {line.offset: line for line, call in subject.nodes(tree.Call) if call.over is not None}
    if calls:
        yield from _called(subject, calls)
    setting: dict[int, tree.Line] = {}
    looked: set[int] = set()
    for line, marker in subject.nodes(tree.Marker):
        if marker.act != "place" or line.offset in looked:
            continue
        looked.add(line.offset)
        places = [n for n in tree.walk(line.actions) if isinstance(n, tree.Marker) and n.act == "place"]
        if len(places) == 2:
            setting[line.offset] = line
    if not setting:
        return
    met: dict[int, list[Sides]] = {}
    for way in subject.ways:
        seen: set[int] = set()
        for piece in way.knitted.ledger.pieces:
            for before, e in zip((None, *piece.rows), piece.rows, strict=False):
                row = subject.line_of(e)
                if row is None or row.offset not in setting or row.offset in seen or e.kind is not Kind.ROW:
                    continue
                if len(e.markers) != 2 or e.resumed or e.unread or (before is not None and before.markers):
                    continue
                seen.add(row.offset)
                one, two = sorted(m.after for m in e.markers)
                met.setdefault(row.offset, []).append((way, e, e.end - two, one))
    for offset, sides in met.items():
        yield setting[offset], sides


def _called(subject: Subject, calls: Mapping[int, tree.Line]) -> Iterator[tuple[tree.Line, list[Sides]]]:
    """Rows with one chart in the middle and plain stitches with numbers before it."""
    met: dict[int, list[Sides]] = {}
    for way in subject.ways:
        seen: set[int] = set()
        for piece in way.knitted.ledger.pieces:
            for e in piece.rows:
                row = subject.line_of(e)
                if row is None or row.offset not in calls or row.offset in seen or e.kind is not Kind.ROW:
                    continue
                around = _around(row, subject.size_place(way.size))
                if around is not None and not (e.resumed or e.unread or e.made or e.lost):
                    seen.add(row.offset)
                    met.setdefault(row.offset, []).append(
                        (way, e, around[0], e.start - around[0] - around[1])
                    )
    for offset, sides in met.items():
        yield calls[offset], sides


def _around(line: tree.Line, size: int) -> tuple[int, int] | None:
    """The stitches before a row's one chart, and those the chart is worked over; None if needles must
    tell.
    """
    before = 0
    for n, a in enumerate(line.actions):
        if isinstance(a, tree.Call):
            rest = [x for x in line.actions[n + 1 :] if isinstance(x, tree.Work | tree.Fill)]
            over = a.over.at(size) if a.over is not None else None
            return (before, over) if over is not None and before and rest else None
        if isinstance(a, tree.Work):
            before += a.count.at(size) or 0
        elif not isinstance(a, tree.Marker | tree.Yarn | tree.Note):
            return None
    return None


def _between(subject: Subject) -> Iterator[tuple[tree.Line, list[Sides]]]:
    """Rows spelled out with a list of plain stitches at either end and something else between."""
    n = len(subject.pattern.sizes)
    if n < 2:
        return
    listed = {line.offset: line for line, w in subject.nodes(tree.Work) if len(w.count.values) == n}
    lines = {}
    for offset, line in listed.items():
        works = [a for a in line.actions if not isinstance(a, tree.Note | tree.Stated)]
        ends = (works[0], works[-1]) if len(works) > 2 else ()
        if all(isinstance(a, tree.Work) and len(a.count.values) == n for a in ends) and ends:
            lines[offset] = (line, works[0], works[-1])
    if not lines:
        return
    met: dict[int, list[Sides]] = {}
    for way in subject.ways:
        seen: set[int] = set()
        place = subject.size_place(way.size)
        for piece in way.knitted.ledger.pieces:
            for e in piece.rows:
                row = subject.line_of(e)
                if row is None or row.offset not in lines or row.offset in seen or e.unworked or e.resumed:
                    continue
                _, first, last = lines[row.offset]
                if (
                    isinstance(first, tree.Work)
                    and isinstance(last, tree.Work)
                    and first.stitch == last.stitch
                ):
                    seen.add(row.offset)
                    before, after = first.count.at(place) or 0, last.count.at(place) or 0
                    met.setdefault(row.offset, []).append((way, e, before, after))
    for offset, sides in met.items():
        if len({x[0].size for x in sides}) > 2:
            yield lines[offset][0], sides


def _sides_of(sides: Iterable[Sides], place: int) -> list[tuple[Way, int]]:
    return [(x[0], x[place]) for x in sides]  # type: ignore[misc]


def judge_centre(subject: Subject) -> Answer:
    """C091: places are the panels that stand in the middle in some size at least."""
    places, findings = 0, []
    for line, sides in chain(_panels(subject), _between(subject)):
        even = [x for x in sides if abs(x[2] - x[3]) <= 1]
        odd = [x for x in sides if abs(x[2] - x[3]) > 1]
        places += bool(even)
        if not odd or _one_number(line, sides):
            continue
        many = len({x[0].size for x in sides})
        wrong = {x[0].size for x in odd}
        few = 2 * len(wrong) < many and not wrong & {x[0].size for x in even}
        said = not even and _CENTRE.search(line.text) is not None
        near = all(abs(x[2] - x[3]) <= max(6, (x[2] + x[3]) // 4) for x in odd)
        if (few or said) and near:
            before, after = subject.by_size(_sides_of(odd, 2)), subject.by_size(_sides_of(odd, 3))
            if few and len(wrong) == 1:
                before, after = str(odd[0][2]), str(odd[0][3])
            problem = PanelOffCentre(before, after, tuple(dict.fromkeys(x[0].size for x in even)))
            found = Finding(problem=problem, span=_first_marker(line))
            findings.append(where_met(found, [x[0] for x in odd], subject.ways))
    return Answer(places=places + len(findings), findings=tuple(findings))


def _first_marker(line: tree.Line) -> Span:
    for node in tree.walk(line.actions):
        found = isinstance(node, tree.Call) or (isinstance(node, tree.Marker) and node.act == "place")
        if found and node.span.end >= 0:
            return Span(node.span.start + line.offset, node.span.end + line.offset)
    works = [a for a in line.actions if isinstance(a, tree.Work) and a.span.end >= 0]
    if works:
        return Span(works[0].span.start + line.offset, works[-1].span.end + line.offset)
    return Span(line.offset, line.offset + len(line.text))


def _one_number(line: tree.Line, sides: Sequence[Sides]) -> bool:
    """Whether the words before the first marker are the same for all sizes, over rows of different
    lengths.
    """
    for a in line.actions:
        if isinstance(a, tree.Marker | tree.Call):
            break
        if any(isinstance(n, tree.Number) and len(n.values) > 1 for n in tree.walk(a)):
            return False
    return len({x[2] for x in sides}) == 1 and len({x[1].end for x in sides}) > 1


def judge_numbers(subject: Subject) -> Answer:
    """C047: places are the rows with lone numbers that several sizes of different counts work."""
    if len({way.size for way in subject.ways}) < 2:
        return Answer()
    places, findings = 0, []
    for line, sides in _panels(subject):
        if not _one_number(line, sides):
            continue
        places += 1
        even = {x[0].size for x in sides if abs(x[2] - x[3]) <= 1}
        if len(even) != 1 or len({x[0].size for x in sides}) < 2 or not _plain_rest(line):
            continue
        needed = subject.by_size((x[0], (x[2] + x[3]) // 2) for x in sides)
        problem = NumberForOneSize(sides[0][2], needed, next(iter(even)))
        findings.append(Finding(problem=problem, span=_first_marker(line)))
    stuck = _stuck_in_some(subject)
    return Answer(places=places + _shared_rows(subject), findings=tuple(findings), fails=stuck)


def _plain_rest(line: tree.Line) -> bool:
    """Whether the row goes on to its end without a number of its own after the second marker."""
    last = next((a for a in reversed(line.actions) if not isinstance(a, tree.Stated | tree.Note)), None)
    return isinstance(last, tree.Fill)


def _shared_rows(subject: Subject) -> int:
    """Lines without any list that are worked in all sizes."""
    listed = {line.offset for line, n in subject.nodes(tree.Number) if len(n.values) > 1}
    numbered = {line.offset for line, n in subject.nodes(tree.Number) if len(n.values) == 1}
    return len(numbered - listed)


def _stuck_in_some(subject: Subject) -> bool:
    """Whether a row without a list does not come out in some sizes only; the finding stands at the row."""
    listed = {line.line for line, n in subject.nodes(tree.Number) if len(n.values) > 1}
    return any(
        f.sizes and f.check in {"C001", "C006"} and subject.source.place(f.span.start)[0] not in listed
        for f in subject.findings
        if f.span.end >= 0
    )


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C047": judge_numbers, "C091": judge_centre}
