"""What each line of the words did on the needles, in every size.

In: a told pattern. Out: for each line the ledger's entries it stands for, size by size, and the entries that
a repeat works again. Nothing is judged; how it looks on a sheet is left to ``rows`` and ``passes``.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from purlwright.needles.ledger import Kind
from purlwright.pattern import tree

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from purlwright.needles.ledger import Entry
    from purlwright.sheet.compose.told import Told

__all__ = ["ROWS", "Again", "Worked", "by_size"]

ROWS = frozenset({Kind.ROW, Kind.ROUND})


class Again(NamedTuple):
    """What a repeat works again in one size: its entries, and the last entry before them."""

    before: Entry
    entries: tuple[Entry, ...]


class Worked:
    """The ledgers of all sizes, laid beside the lines."""

    def __init__(self, told: Told) -> None:
        self.told = told
        lines = [line for section in told.pattern.sections for line in section.lines]
        self._lines = sorted(lines, key=lambda line: line.offset)
        self._offsets = [line.offset for line in self._lines]

    def line_of(self, entry: Entry) -> tree.Line | None:
        """The line whose words an entry works."""
        return self.line_at(entry.span.start) if entry.span.end >= 0 else None

    def line_at(self, place: int) -> tree.Line | None:
        """The line in which a place of the told text lies."""
        n = bisect_right(self._offsets, place) - 1
        if n < 0 or place > self._lines[n].offset + len(self._lines[n].text):
            return None
        return self._lines[n]

    @cached_property
    def _of_line(self) -> Mapping[int, list[list[Entry]]]:
        out: dict[int, list[list[Entry]]] = {}
        for n, knitted in enumerate(self.told.knitted):
            for entry in knitted.ledger.entries:
                line = self.line_of(entry)
                if line is not None:
                    sizes = out.setdefault(line.offset, [[] for _ in self.told.knitted])
                    sizes[n].append(entry)
        return out

    def of(self, line: tree.Line) -> list[list[Entry]]:
        """The entries that work a line's own words, a list for each size."""
        return self._of_line.get(line.offset, [[] for _ in self.told.knitted])

    def rows_of(self, line: tree.Line) -> list[list[Entry]]:
        """Only the rows and rounds among them."""
        return [[e for e in entries if e.kind in ROWS] for entries in self.of(line)]

    def once(self, line: tree.Line) -> list[list[Entry]]:
        """The rows of a line in its first working, for each size: no repeat, no second piece."""
        out: list[list[Entry]] = []
        for n, entries in enumerate(self.rows_of(line)):
            if not entries:
                out.append([])
                continue
            first = entries[0]
            piece = self._piece(n, first)
            out.append([
                e for e in entries
                if (e.pass_, e.section) == (first.pass_, first.section) and self._piece(n, e) == piece
            ])  # fmt: skip
        return out

    @cached_property
    def _pieces(self) -> list[dict[int, int]]:
        return [
            {entry.order: n for n, piece in enumerate(k.ledger.pieces) for entry in piece.rows}
            for k in self.told.knitted
        ]

    def _piece(self, size: int, entry: Entry) -> int:
        return self._pieces[size].get(entry.order, 0)

    @cached_property
    def _again(self) -> Mapping[int, list[Again | None]]:
        """What each repeat works, by the place of its line; a repeat that shares its rows with the next one
        is left out.
        """
        repeats = [line for line in self._lines if repeat_in(line) is not None]
        places = [line.offset for line in repeats]
        out: dict[int, list[Again | None]] = {}
        for n, knitted in enumerate(self.told.knitted):
            for piece in knitted.ledger.pieces:
                for latest, run, after in self._runs(piece.rows):
                    first = bisect_right(places, latest)
                    last = bisect_right(places, after) if after >= 0 else len(places)
                    mine = repeats[first:last] if after >= 0 else self._of_one_section(repeats[first:last])
                    for line, again in self._shared(mine, run):
                        told = out.setdefault(line.offset, [None] * len(self.told.knitted))
                        if told[n] is None:
                            told[n] = again
        return out

    def _of_one_section(self, repeats: list[tree.Line]) -> list[tree.Line]:
        """The repeats that stand in the same section as the first of them."""
        for section in self.told.pattern.sections:
            inside = {line.offset for line in section.lines}
            if repeats and repeats[0].offset in inside:
                return [line for line in repeats if line.offset in inside]
        return repeats[:1]

    def _shared(self, repeats: list[tree.Line], run: list[Entry]) -> Iterator[tuple[tree.Line, Again]]:
        """A run of rows shared out between the repeats that stand in a row: each takes whole workings of its
        rows as long as they fit. Nothing is given where that cannot be told.
        """
        if len(repeats) == 1:
            yield repeats[0], Again(run[0], tuple(run[1:]))
            return
        at = 1
        for n, line in enumerate(repeats):
            repeat = repeat_in(line)
            numbers = _numbers(repeat.rows) if repeat is not None else ()
            start = at
            if not numbers:
                return
            words = [e.line for e in run[at : at + len(numbers)]]
            while (
                tuple(e.number for e in run[at : at + len(numbers)]) == numbers
                and [e.line for e in run[at : at + len(numbers)]] == words  # of the same stitch pattern
            ):
                at += len(numbers)
            if start == at or (n + 1 == len(repeats) and at != len(run)):
                return
            yield line, Again(run[start - 1], tuple(run[start:at]))

    def _runs(self, entries: Iterable[Entry]) -> Iterable[tuple[int, list[Entry], int]]:
        """Stretches of a piece that go back to words above: where they began, the entries, where they end.

        The first entry of each is the last one before the stretch.
        """
        latest = -1
        before: Entry | None = None
        run: list[Entry] = []
        for entry in entries:
            line = self.line_of(entry)
            at = line.offset if line is not None else latest
            if run and entry.section != run[-1].section:  # worked once more under another heading
                under = self._start_of(entry.section, latest)
                yield latest, run, under
                run, latest = [], max(latest, under)
            if at < latest or (run and at == latest) or (before is not None and entry.pass_ > before.pass_):
                if before is not None and not run:
                    run.append(before)
                run.append(entry)
            else:
                if len(run) > 1:
                    yield latest, run, at
                run = []
            latest = max(latest, at)
            before = entry
        if len(run) > 1:
            yield latest, run, -1

    def _start_of(self, heading: str, after: int) -> int:
        """Where the section of a heading begins, after a place of the text; -1 if there is none."""
        places = (s.span.start for s in self.told.pattern.sections if s.heading.strip() == heading.strip())
        return next((place for place in places if place > after), -1)

    def again(self, line: tree.Line) -> list[Again | None]:
        """What a repeat works again, for each size; None where it works nothing or that cannot be told."""
        return self._again.get(line.offset, [None] * len(self.told.knitted))


def _numbers(rows: tree.RowSet) -> tuple[int, ...]:
    """The numbers of the rows that are repeated, if they are told by number."""
    if rows.numbers:
        return rows.numbers
    if rows.first is not None and rows.last is not None:
        return tuple(range(rows.first, rows.last + 1))
    return (rows.first,) if rows.first is not None else ()


def repeat_in(line: tree.Line) -> tree.RepeatRows | None:
    """The repeat of whole rows that a line is, if it is one and nothing else; not the label of a row."""
    if line.label is not None:
        return None
    found = [a for a in line.actions if not isinstance(a, tree.Note | tree.Stated)]
    first = found[0] if len(found) == 1 else None
    if isinstance(first, tree.AtSameTime):
        first = first.parts[0] if first.parts else None
    return first if isinstance(first, tree.RepeatRows) and not first.define else None


def by_size(numbers: list[int | None]) -> str:
    """Numbers of all sizes as she would write them: "36", "36 (42, 46)"; "-" where there is none."""
    said = ["-" if n is None else f"{n}" for n in numbers]
    if len(set(said)) == 1:
        return said[0]
    return f"{said[0]} ({', '.join(said[1:])})"
