"""Repeats told both ways: how many times more, how many in all, how many rows.

In: a read pattern. Out: one suggestion for each "rep rows 1-4 3 times more": the same words, and a note
under them with the times in all and the rows, counted off the ledger.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from purlwright.needles.ledger import ROWS, Kind
from purlwright.pattern import tree
from purlwright.rewrite.suggestion import Read, Suggestion, replaced, rows_of, try_words

__all__ = ["repeats"]


def repeats(read: Read) -> Iterator[Suggestion]:
    """Each line that repeats rows a number of times, or until a count is reached."""
    for line in read.words():
        found = [a for a in line.actions if isinstance(a, tree.RepeatRows) and not a.define]
        if len(found) != 1 or (line.label is not None and line.label.numbers):
            continue
        numbers = _numbers(found[0].rows)
        if not numbers or _says_both(read, line.line):
            continue
        counted = _counted(read, line.line, numbers)
        if counted is not None:
            yield _told(read, line.line, counted)


def _numbers(rows: tree.RowSet) -> tuple[int, ...]:
    if rows.section or rows.names or rows.back is not None:
        return ()
    if rows.first is not None and rows.last is not None:
        return tuple(range(rows.first, rows.last + 1))
    return rows.numbers or ((rows.first,) if rows.first is not None else ())


def _says_both(read: Read, number: int) -> bool:
    """Whether the line, or the note under it, tells the times in all already."""
    lines = read.lines
    under = lines[number] if number < len(lines) and lines[number].startswith(">") else ""
    return "in all" in lines[number - 1] or "in all" in under


Counted = tuple[dict[str, int], dict[str, int], str]
"""Times in all and rows, by size, and whether they are rows or rounds."""


def _counted(read: Read, number: int, rows: tuple[int, ...]) -> Counted | None:
    """For each size how often the rows are worked in all, and how many that is; None if unclear."""
    spans = rows_of(read, number)
    if spans is None:
        return None
    often: dict[str, int] = {}
    unit = "rows"
    total: dict[str, int] = {}
    for k in read.knitted:
        first, last = spans[k.size, k.options]
        entries = k.ledger.entries
        worked = [e for e in entries[first:last] if e.kind in ROWS]
        before = [e for e in entries[:first] if e.kind in ROWS][-len(rows) :]
        if not worked or len(worked) % len(rows) or tuple(e.number for e in before) != rows:
            return None
        if any(e.unread or e.resumed for e in worked):
            return None
        times = len(worked) // len(rows) + 1
        if often.setdefault(k.size, times) != times:
            return None
        unit = "rounds" if worked[0].kind is Kind.ROUND else "rows"
        total[k.size] = len(worked) + len(rows)
    return often, total, unit


def _list(numbers: Mapping[str, int]) -> str:
    values: Sequence[int] = list(numbers.values())
    if len(set(values)) == 1:
        return str(values[0])
    return f"{values[0]} ({', '.join(str(v) for v in values[1:])})"


def _told(read: Read, number: int, counted: Counted) -> Suggestion:
    often, total, unit = counted
    before = read.lines[number - 1]
    note = f"> {_list(often)} times in all, {_list(total)} {unit}."
    said = Suggestion(
        kind="repeats", title="Times in all, and rows", line=number, end_line=number, before=(before,)
    )
    tried = try_words(read, replaced(read.lines, number, number, (before, note)))
    if tried.differs:
        return replace(said, refused=f"with the note, {tried.differs}")
    return replace(said, after=(before, note), ways=tried.ways)
