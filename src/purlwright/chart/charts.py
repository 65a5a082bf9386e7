"""Which stretches of a pattern are charted, and their charts.

In: a read pattern and one knitting of it. Out: :class:`~purlwright.chart.grid.Grid` s, every repeat shown
once: the charts she typed, her stitch patterns, and the sections in which more is worked than plain rows;
or one section, or some rows, when asked. What they look like is left to ``draw``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.chart.grid import Grid, GridRow, make_grid
from purlwright.chart.tiling import once_across, once_upwards, picture
from purlwright.chart.typed import knit_apart, knit_chart
from purlwright.fabric.query import waste_yarns
from purlwright.needles.ledger import ROWS, Entry, Kind
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.charts import Chart
    from purlwright.pattern.file import Pattern
    from purlwright.pattern.sections import Section

__all__ = [
    "NoSuchRows",
    "chart_of",
    "charts_of",
    "rows_chart",
    "section_charts",
    "section_names",
    "sections_of",
    "too_wide",
]

WIDEST = 100
"""A section wider than this, its repeats taken in, is charted only when asked for."""
MOST_ROWS = 400
MOST_ACROSS = 1000
"""A chart that she typed wider than this is told in words and not drawn."""
MOST_STITCHES = 200_000
"""A stretch of rows with more stitches is not looked through for a chart unless asked for."""
_PLAIN = frozenset({"knit", "purl"})


class NoSuchRows(ValueError):  # noqa: N818 - what was asked for is not there; nothing went wrong
    """The section or the rows asked for are not there; the message lists those that are."""


# --- all that is worth a chart ---------------------------------------------------------------------


def charts_of(pattern: Pattern, knitted: Knitted) -> tuple[Grid, ...]:
    """Every chart of a pattern: typed ones, stitch patterns written apart, and sections worth one."""
    out = [
        chart_of(pattern, chart, knitted) for chart in pattern.charts if _clear(chart) and not too_wide(chart)
    ]
    for section in pattern.sections:
        if section.kind == "define" and section.topic in {"", "stitch", "pattern"}:
            grid = _apart(pattern, section, knitted)
            if grid is not None and _worth(grid, again=True):
                out.append(grid)
    told = [chart.span for chart in pattern.charts]
    for _, grid, times in _sections(knitted, MOST_STITCHES):
        if (
            _worth(grid, again=times > 1)
            and grid.columns <= WIDEST
            and not _called(grid, told)
            and not _begins_another(grid, out)
        ):
            out.append(_named(grid, pattern))
    return tuple(out)


def _named(grid: Grid, pattern: Pattern) -> Grid:
    """A chart whose rows all stand under the heading of a stitch pattern has the name of that."""
    if grid.span == NOWHERE:
        return grid
    under = [s for s in pattern.sections if s.span.start <= grid.span.start]
    after = [s for s in pattern.sections if grid.span.start < s.span.start < grid.span.end]
    mine = under[-1] if under else None
    if mine is None or after or mine.kind != "define" or not mine.heading:
        return grid
    return replace(grid, title=mine.heading)


def _called(grid: Grid, charts: Sequence[Span]) -> bool:
    """Whether its rows work a chart that she typed, which is drawn already."""
    spans = {s.span for row in grid.rows for s in row.squares}
    return any(chart.start <= span.start < chart.end for span in spans for chart in charts)


def _begins_another(grid: Grid, others: Sequence[Grid]) -> bool:
    """Whether another chart begins with the same rows."""
    n = len(grid.rows)
    mine = [(row.number, picture(row)) for row in grid.rows]
    return any([(row.number, picture(row)) for row in other.rows[:n]] == mine for other in others)


def too_wide(chart: Chart) -> bool:
    """Whether a typed chart has more squares across than are drawn."""
    return any(len(row.marks) > MOST_ACROSS for row in chart.rows)


def _clear(chart: Chart) -> bool:
    """Whether a typed chart has rows, and lines round its repeat that can be followed."""
    return bool(chart.rows) and not any(row.unclear for row in chart.rows)


def chart_of(pattern: Pattern, chart: Chart, knitted: Knitted) -> Grid:
    """A chart that she typed, as a grid of standard signs."""
    size, options = _way(pattern, knitted)
    alone, rows = knit_chart(pattern, chart, size=size, options=options, whole=knitted)
    grid = once_across(make_grid(alone, rows, chart.name))
    return replace(grid, span=chart.span, varies=True)


def _apart(pattern: Pattern, section: Section, knitted: Knitted) -> Grid | None:
    """A stitch pattern that is written apart; None if the section has no rows."""
    if not any(ln.label is not None and ln.label.numbers for ln in section.lines):
        return None
    size, options = _way(pattern, knitted)
    alone, rows = knit_apart(pattern, section, size=size, options=options, own=knitted.own)
    if not rows or any(e.unread or e.resumed for e in rows):
        return None
    return replace(once_upwards(once_across(make_grid(alone, rows, section.heading))), varies=True)


def _way(pattern: Pattern, knitted: Knitted) -> tuple[int, dict[str, str]]:
    size = pattern.sizes.index(knitted.size) if knitted.size in pattern.sizes else 0
    return size, dict(knitted.options)


def _sections(knitted: Knitted, most: int | None = None) -> Iterator[tuple[str, Grid, int]]:
    """A chart of each block of rows of each section, and how often it is worked; of pieces worked alike the
    first. A block of more than ``most`` stitches is left out.
    """
    seen: set[tuple[object, ...]] = set()
    for piece in knitted.ledger.pieces:
        for name, rows in _by_section(piece.rows):
            for block in _blocks(rows):
                sort = tuple((e.line, e.number, e.label) for e in block[0])
                if sort in seen:
                    continue
                seen.add(sort)
                if most is not None and sum(max(e.start, e.end) for e in block[0]) > most:
                    continue
                yield name, _best(knitted, name or piece.name, block), len(block)


def _by_section(rows: Sequence[Entry]) -> Iterator[tuple[str, list[Entry]]]:
    out: dict[str, list[Entry]] = {}
    for e in rows:
        if e.kind in ROWS:
            out.setdefault(e.section, []).append(e)
    yield from out.items()


def _blocks(rows: Sequence[Entry]) -> Iterator[list[list[Entry]]]:
    """Stretches of rows, each as its workings: the rows up to the end of their first repeat, then its other
    workings. Short rows are one stretch, since no two workings of them are alike.
    """
    signs = [(e.line, e.number, e.label, e.side) for e in rows]
    i = 0
    while i < len(rows):
        found: tuple[int, int] | None = None
        for j in range(i, len(rows)):
            found = next(
                (
                    (j, n) for n in range(1, min(len(rows) - j, MOST_ROWS) // 2 + 1)
                    if signs[j] == signs[j + n] and signs[j : j + n] == signs[j + n : j + 2 * n]
                    and not rows[j + n - 1].gaps and not rows[j + n - 1].unworked
                ),
                None,
            )  # fmt: skip
            if found is not None:
                break
        if found is None:
            yield [list(rows[i : i + MOST_ROWS])]
            return
        j, n = found
        cycles = [list(rows[i : j + n])]
        k = j + n
        while signs[k : k + n] == signs[j : j + n]:
            cycles.append(list(rows[k : k + n]))
            k += n
        while k < len(rows) and signs[k] == signs[j + (k - j) % n]:
            k += 1
        if i < j:
            cycles = cycles[:1]
        yield cycles
        i = k


_TRIED = 6
_COPIES = 3


def _best(knitted: Knitted, title: str, cycles: Sequence[Sequence[Entry]]) -> Grid:
    """The working that shows its repeats best: the first in which each was knitted three times or more."""
    best: Grid | None = None
    for rows in cycles[:_TRIED]:
        grid = once_upwards(once_across(make_grid(knitted, rows, title)))
        if best is None or _proved(grid) > _proved(best):
            best = grid
        if _proved(grid) >= _COPIES or rows[0].start == cycles[-1][0].start:
            break
    if best is None:
        raise ValueError("a block has no rows")
    if len({rows[0].start for rows in cycles}) > 1:
        best = replace(best, varies=True)
    if len(cycles) > 1:
        best = replace(best, notes=(*best.notes, f"These rows are worked {len(cycles)} times."))
    return best


def _proved(grid: Grid) -> int:
    """How often the repeat that was worked fewest times was worked; 0 for a chart without repeats."""
    return min((tile.times for tile in grid.tiles), default=0)


_SHAPING = re.compile(r"make|lift|fork|hitch|(?:purl-)?(?:two|three)-|cast$|close|picked-up$|dropped$")
_DECREASE = re.compile(r"(?:purl-)?(?:two|three|four|five|six|seven)-")


def _worth(grid: Grid, *, again: bool) -> bool:
    """Whether a chart tells more than words: not of rows that are plain, or ribs all the way up, or only
    become wider or narrower. ``again`` says that its rows are worked more than once.

    A stitch slipped at an edge is no pattern, and a waste yarn no colour.
    """
    if not grid.rows or grid.unread:
        return False
    waste = waste_yarns(grid.yarns)
    if any(row.turned or len({s.yarn for s in row.squares} - waste) > 1 for row in grid.rows):
        return True
    grid = replace(grid, rows=tuple(map(_within_edges, grid.rows)))
    signs = {s.sign for row in grid.rows for s in row.squares} - _PLAIN
    some = {s for s in signs if not _SHAPING.match(s)}
    if some - {"over"} or (some and any(_DECREASE.match(s) for s in signs)):
        return True
    looks = [_look(row) for row in grid.rows]
    changes = sum(a != b for a, b in pairwise(looks))
    return any(looks) and changes >= (1 if again else 2)


def _within_edges(row: GridRow) -> GridRow:
    """The row without stitches slipped at its edges."""
    first = bool(row.squares) and row.squares[0].sign.startswith("slip")
    last = len(row.squares) > 1 and row.squares[-1].sign.startswith("slip")
    return replace(row, squares=row.squares[int(first) : len(row.squares) - int(last)])


def _look(row: GridRow) -> tuple[int, ...]:
    """Where a row of knits and purls has its purls; nothing for a row that is all one or all the other.

    A purl beside stitches that are bound off is one of theirs, and no pattern.
    """
    signs = ["", *(s.sign for s in row.squares), ""]
    purls = tuple(
        s.column
        for before, s, after in zip(signs, row.squares, signs[2:], strict=False)
        if s.sign == "purl" and "close" not in {before, after}
    )
    return purls if 0 < len(purls) < len(row.squares) else ()


def sections_of(knitted: Knitted) -> tuple[Grid, ...]:
    """A chart of every block of rows, those that are plain too."""
    return tuple(grid for _, grid, _ in _sections(knitted))


# --- what is asked for -----------------------------------------------------------------------------


def section_names(pattern: Pattern, knitted: Knitted) -> tuple[str, ...]:
    """The names that a chart can be asked for by: typed charts, stitch patterns, sections, pieces."""
    names = [chart.name for chart in pattern.charts if chart.rows]
    names += [
        s.heading for s in pattern.sections
        if s.kind == "define" and any(ln.label is not None and ln.label.numbers for ln in s.lines)
    ]  # fmt: skip
    for piece in knitted.ledger.pieces:
        names += [e.section for e in piece.rows if e.kind in ROWS]
        names.append(piece.name)
    return tuple(dict.fromkeys(name for name in names if name))


def section_charts(pattern: Pattern, knitted: Knitted, name: str) -> tuple[Grid, ...]:
    """The charts of a typed chart, a stitch pattern, a section or a piece, by its name. Raises NoSuchRows."""
    low = name.strip().casefold()
    exact = [n for n in section_names(pattern, knitted) if n.casefold() == low]
    near = exact or [n for n in section_names(pattern, knitted) if low and low in n.casefold()]
    if not near:
        names = ", ".join(f'"{n}"' for n in section_names(pattern, knitted))
        raise NoSuchRows(f'There is no section "{name}" with rows in it; there are {names}.')
    wanted = near[0].casefold()
    for chart in pattern.charts:
        if chart.rows and chart.name.casefold() == wanted:
            if too_wide(chart):
                raise NoSuchRows(
                    f'The chart "{chart.name}" is more than {MOST_ACROSS:,} squares across, too wide to be '
                    "drawn; its rows are told in words on the sheet."
                )
            if not _clear(chart):
                raise NoSuchRows(
                    f'The chart "{chart.name}" cannot be knitted as it is typed; proof says why.'
                )
            return (chart_of(pattern, chart, knitted),)
    for section in pattern.sections:
        if section.kind == "define" and section.heading.casefold() == wanted:
            grid = _apart(pattern, section, knitted)
            if grid is not None:
                return (grid,)
    found = [grid for title, grid, _ in _sections(knitted) if title.casefold() == wanted]
    if found:
        return tuple(found)
    piece = next(p for p in knitted.ledger.pieces if p.name.casefold() == wanted)
    rows = [e for e in piece.rows if e.kind in ROWS]
    return (once_across(make_grid(knitted, rows[:MOST_ROWS], piece.name)),)


def rows_chart(knitted: Knitted, first: int, last: int, section: str | None = None) -> Grid:
    """Rows ``first`` to ``last`` by their numbers, in their first working. Raises NoSuchRows."""
    wanted = section.strip().casefold() if section is not None else ""
    for piece in knitted.ledger.pieces:
        for name, rows in _by_section(piece.rows):
            if wanted and wanted not in {name.casefold(), piece.name.casefold()}:
                continue
            for i, e in enumerate(rows):
                if e.number != first:
                    continue
                stretch: list[Entry] = []
                for row in rows[i:]:
                    if stretch and row.number != (stretch[-1].number or 0) + 1:
                        break
                    stretch.append(row)
                    if row.number == last:
                        title = f"{name or piece.name}, " + ("round" if e.kind is Kind.ROUND else "row")
                        title += f" {first}" if first == last else f"s {first} to {last}"
                        return once_across(make_grid(knitted, stretch, title))
    where = f' in the section "{section}"' if section else ""
    raise NoSuchRows(f"There are no rows {first} to {last}, one after the other{where}.")
