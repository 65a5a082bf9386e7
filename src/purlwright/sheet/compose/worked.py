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

__all__ = ["ROWS", "Again", "Worked", "by_size", "numbers_in", "repeat_in", "repeats_in"]

ROWS = frozenset({Kind.ROW, Kind.ROUND})


class Again(NamedTuple):
    """What a repeat works again in one size: its entries, and the last entry before them."""

    before: Entry
    entries: tuple[Entry, ...]
    then: int = 0
    """How many of the entries, at the end, a second repeat of the same line works: "then row 1 once more"."""


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
                    for line, again in self._shared(mine, run, n):
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

    def _shared(
        self, repeats: list[tree.Line], run: list[Entry], size: int
    ) -> Iterator[tuple[tree.Line, Again]]:
        """A run of rows shared out between the repeats that stand in a row: each takes whole workings of its
        rows as long as they fit. Nothing is given where that cannot be told.
        """
        asked = [(line, repeat) for line in repeats for repeat in repeats_in(line)]
        if len(asked) == 1:
            yield repeats[0], Again(run[0], tuple(run[1:]))
            return
        ends = [1]
        for _, repeat in asked:
            ends.append(_worked_up_to(run, ends[-1], repeat, size))
            if ends[-1] <= ends[-2]:
                break
        for line in repeats:
            mine = [n for n, (other, _) in enumerate(asked, 1) if other is line and n < len(ends)]
            whole = len(mine) == len(repeats_in(line)) and ends[mine[-1]] > ends[mine[-1] - 1]
            if not whole or (line is repeats[-1] and ends[-1] != len(run)):
                return
            start, first, last = ends[mine[0] - 1], ends[mine[0]], ends[mine[-1]]
            yield line, Again(run[start - 1], tuple(run[start:last]), last - first)

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


def _worked_up_to(run: list[Entry], at: int, repeat: tree.RepeatRows, size: int) -> int:
    """Where in a run a repeat ends that begins at a place of it: after as many whole workings of its rows as
    it asks for, or as fit; and of the last one as far as it says ("ending with row 3").
    """
    numbers = numbers_in(repeat.rows)
    if not numbers:
        return at
    words = [e.line for e in run[at : at + len(numbers)]]
    asked = repeat.times.at(size) if repeat.times is not None and repeat.said is tree.Said.MORE else None
    done = 0
    while (asked is None or done < asked) and (
        tuple(e.number for e in run[at : at + len(numbers)]) == numbers
        and [e.line for e in run[at : at + len(numbers)]] == words  # of the same stitch pattern
    ):
        at, done = at + len(numbers), done + 1
    last = repeat.until.ending_row if repeat.until is not None else None
    more = numbers.index(last) + 1 if last in numbers else len(numbers)
    if done and more < len(numbers) and tuple(e.number for e in run[at : at + more]) == numbers[:more]:
        at += more
    return at


def numbers_in(rows: tree.RowSet) -> tuple[int, ...]:
    """The numbers of the rows that are repeated, if they are told by number."""
    if rows.numbers:
        return rows.numbers
    if rows.first is not None and rows.last is not None:
        return tuple(range(rows.first, rows.last + 1))
    return (rows.first,) if rows.first is not None else ()


def repeats_in(line: tree.Line) -> tuple[tree.RepeatRows, ...]:
    """The repeats of whole rows that a line is, if it is that and nothing else; not the label of a row.

    "Rep rows 1-8 five more times, then rows 1 and 2 once more" is two of them.
    """
    if line.label is not None:
        return ()
    out = []
    for action in line.actions:
        if isinstance(action, tree.Note | tree.Stated):
            continue
        first = action.parts[0] if isinstance(action, tree.AtSameTime) and action.parts else action
        if not isinstance(first, tree.RepeatRows) or first.define:
            return ()
        out.append(first)
    return tuple(out)


def repeat_in(line: tree.Line) -> tree.RepeatRows | None:
    """The first of the repeats that a line is."""
    return next(iter(repeats_in(line)), None)


def by_size(numbers: list[int | None]) -> str:
    """Numbers of all sizes as she would write them: "36", "36 (42, 46)"; "-" where there is none."""
    said = ["-" if n is None else f"{n}" for n in numbers]
    if len(set(said)) == 1:
        return said[0]
    return f"{said[0]} ({', '.join(said[1:])})"
