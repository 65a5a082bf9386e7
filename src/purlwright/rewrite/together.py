"""What happens at the same time, merged to one list of rows.

In: a read pattern. Out: one suggestion for each line that does two things at the same time: every row of
it, told once, as it was knitted; in one list for all sizes where their rows agree, else a list for each
size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from purlwright.pattern import tree
from purlwright.rewrite.rows_in_words import NotInWords, Row, knitted_rows, lines_of
from purlwright.rewrite.suggestion import Read, Suggestion, in_her_letters, replaced, rows_of, try_words

__all__ = ["together"]

MOST_ROWS = 200
"""A longer list helps nobody."""


def together(read: Read) -> Iterator[Suggestion]:
    """Each line of things at the same time, as one list of rows."""
    for line in read.words():
        if any(isinstance(a, tree.AtSameTime) for a in line.actions):
            yield _listed(read, line)


def _listed(read: Read, line: tree.Line) -> Suggestion:
    before = read.lines[line.line - 1]
    said = Suggestion(
        kind="same time",
        title=_title(line),
        line=line.line,
        end_line=line.line,
        before=(before,),
    )
    if any(not isinstance(a, (tree.AtSameTime, tree.Stated, tree.Note)) for a in line.actions) or line.sizes:
        return replace(said, refused="the line does more than this, or is for some sizes only")
    spans = rows_of(read, line.line)
    if spans is None:
        return replace(said, refused="its rows cannot be told apart from those round it")
    by_size: dict[str, list[Row]] = {}
    try:
        for k in read.knitted:
            if k.size not in by_size:
                by_size[k.size] = knitted_rows(k, *spans[k.size, k.options])
    except NotInWords as why:
        return replace(said, refused=str(why))
    longest = max((len(rows) for rows in by_size.values()), default=0)
    if not longest or longest > MOST_ROWS:
        return replace(said, refused=f"it works {longest} rows, more than a list can hold")
    after = [in_her_letters(words, read.text) for words in _lines(by_size)]
    tried = try_words(read, replaced(read.lines, line.line, line.line, after))
    if tried.differs:
        return replace(said, refused=f"written as a list, {tried.differs}")
    return replace(said, after=tuple(after), ways=tried.ways)


def _title(line: tree.Line) -> str:
    """What is offered; that a stitch was chosen is said where the words leave it open."""
    if any(n.stitch is None for n in tree.walk(line.actions) if isinstance(n, tree.AtEdges)):
        return "One list of rows; where the words name no stitch, the list has the usual one"
    return "One list of rows"


def _lines(by_size: dict[str, list[Row]]) -> list[str]:
    """One list if all sizes work the same rows, else one for each group of sizes that do."""
    shapes = {size: tuple(row.shape for row in rows) for size, rows in by_size.items()}
    if len(set(shapes.values())) == 1:
        return lines_of(list(by_size.values()))
    out: list[str] = []
    for size, rows in by_size.items():
        out += [f"{size} only: {line}" for line in lines_of([rows])]
    return out
