"""Charts on the sheet: drawn from the knitted rows, each with its key beside it.

In: the told pattern. Out: for each section the :class:`Figure` s that belong to it. The rows of every chart
stand on the sheet in words as well. A chart that is wider or higher than a page is cut into parts that
overlap.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from purlwright.chart.charts import charts_of
from purlwright.chart.draw import SQUARE_MM, Part, draw_grid, for_left_hand, gutters_mm, named_beside
from purlwright.chart.draw_key import draw_key, draw_key_in_columns
from purlwright.chart.key import key_of
from purlwright.chart.parts import parts_of, said_of_part
from purlwright.chart.tiling import picture
from purlwright.proof.said import and_list, count
from purlwright.sheet.compose.rows import said
from purlwright.sheet.document import Figure

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.chart.grid import Grid
    from purlwright.chart.key import KeyEntry
    from purlwright.sheet.compose.told import Told

__all__ = ["figures"]

_PRINT_MM, _HIGH_MM = 165.0, 190.0
"""The width of either paper between its margins, and the height that a chart may take. The squares of a chart
stay within the width; only the numbers of its rows hang beside it."""
_ROOM_MM = 132.0
"""What lies right of the page's second edge, where narrow charts stand: beside them names may hang."""
_LARGE_WIDE_MM, _LARGE_HIGH_MM = 159.0, 165.0
"""What a page of large print has room for."""
_TALL_MM = 150.0
"""A chart higher than this is drawn in smaller squares, so that its key finds room on the page."""
_APART_MM = 8.0
"""What lies between a chart and a key beside it."""
_FOOT = 1.3
"""So many squares high is what stands over and under the squares."""
_LEAST_MM = 4.0
"""A square is legible down to this; a wider chart is cut into parts."""
_LEAST_LARGE_MM = 6.0
"""The same for large print."""
_KEY_LARGE_MM = 8.0
"""Squares of the key in large print, where it always stands under its chart."""


def figures(told: Told) -> dict[int, list[Figure]]:
    """The charts by the place of their section in the pattern; none for rows that could not be knitted."""
    sections = told.pattern.sections
    starts = [s.span.start if s.span.end >= 0 else -1 for s in sections]
    out: dict[int, list[Figure]] = {}
    first = charts_of(told.pattern, told.knitted[0])
    every = [first, *(charts_of(told.pattern, k) if first else () for k in told.knitted[1:])]
    for n, grid in enumerate(first):
        if grid.unread or not grid.rows or not grid.columns:
            continue
        others = [grids[n] if n < len(grids) else None for grids in every[1:]]
        place = max((n for n, start in enumerate(starts) if start <= grid.span.start), default=0)
        over = sections[place].heading.strip() if sections and sections[place].kind == "define" else ""
        out.setdefault(place, []).extend(_figures(grid, others, told, n, over))
    return out


def _figures(grid: Grid, others: list[Grid | None], told: Told, n: int, heading: str) -> Iterator[Figure]:
    """The figures of a chart. ``others`` are the same chart in the other sizes; ``heading`` stands right over
    it, or is "".
    """
    if told.left_handed:
        grid = for_left_hand(grid)
    key = key_of(grid, told.pattern.definitions, terms=told.terms, source=told.pattern.source)
    notes = list(grid.notes)
    if any(other is None or _seen(other) != _seen(grid) for other in others):
        notes = [f"Drawn for size {told.work.sizes[0]}.", *notes]
    elif any(
        other is not None and (other.notes, other.tiles) != (grid.notes, grid.tiles) for other in others
    ):
        notes = []  # it is worked more often in one size than in another
        key = tuple(replace(e, words="") if e.kind == "repeat" else e for e in key)
    roomy = grid.columns * SQUARE_MM <= _PRINT_MM and len(grid.rows) * SQUARE_MM <= _TALL_MM
    square = _beside_names(grid) if roomy else _LEAST_MM
    parts = _parts(grid, square, _PRINT_MM, _HIGH_MM)
    found = list(_in_parts(grid, key, notes, parts, square, f"figure-{n}", heading, told))
    beside = sum(gutters_mm(grid, _LEAST_LARGE_MM))  # nothing hangs into the margins of a large print
    large = _parts(grid, _LEAST_LARGE_MM, _LARGE_WIDE_MM - beside, _LARGE_HIGH_MM)
    larger = _in_parts(grid, key, notes, large, _LEAST_LARGE_MM, f"figure-{n}", heading, told)
    found[0] = replace(found[0], larger=tuple(larger))
    yield from found


def _beside_names(grid: Grid) -> float:
    """A square that leaves room on the page for the names of rows: a number may hang beside the page's
    edge, a word should not. In tenths of a millimetre.
    """
    names = sum(g for g, named in zip(gutters_mm(grid, 1.0), named_beside(grid), strict=True) if named)
    return max(_LEAST_MM, min(SQUARE_MM, int(10 * _PRINT_MM / (grid.columns + names)) / 10))


def _hangs(grid: Grid, square_mm: float, part: Part) -> tuple[float, float]:
    """What hangs beside the squares: numbers do, and names where the page has a column for them."""
    left, right = gutters_mm(grid, square_mm, part)
    name_left, name_right = named_beside(grid, part)
    wide = left + (part.last - part.first) * square_mm + right > _ROOM_MM
    return 0.0 if name_left and wide else left, 0.0 if name_right and wide else right


def _parts(grid: Grid, square_mm: float, wide_mm: float, high_mm: float) -> tuple[Part, ...]:
    """The parts of a chart whose squares, of this size, fit into so much room."""
    return parts_of(grid, int(wide_mm / square_mm), int(high_mm / square_mm - _FOOT))


def _in_parts(
    grid: Grid,
    key: tuple[KeyEntry, ...],
    notes: Sequence[str],
    whole: tuple[Part, ...],
    square: float,
    anchor: str,
    heading: str,
    told: Told,
) -> Iterator[Figure]:
    """A figure for each part, the first with the key."""
    name = _name(grid)
    large = square >= _LEAST_LARGE_MM
    if large:
        legend = draw_key(grid, key, square_mm=_KEY_LARGE_MM, width_mm=_LARGE_WIDE_MM) if key else None
    else:
        legend = draw_key(grid, key) if key else None
    for k, part in enumerate(whole):
        drawing = draw_grid(grid, part=part, square_mm=square)
        hangs = _hangs(grid, square, part)
        if (
            k == 0
            and legend is not None
            and not large
            and drawing.width_mm - hangs[0] + _APART_MM + legend.width_mm > _PRINT_MM
        ):
            legend = draw_key_in_columns(grid, key, _PRINT_MM)
        parted = [said_of_part(grid, part, whole)] if len(whole) > 1 else []
        called = [] if grid.title == heading and not parted else [f"{name}."]
        caption = [*called, *parted, *notes]
        yield Figure(
            drawing=drawing,
            alternative=_alternative(grid),
            caption=said(" ".join(caption)),
            beside=legend if k == 0 else None,
            beside_alternative=_key_said(key) if k == 0 and legend is not None else "",
            hangs_mm=hangs,
            anchor=f"{anchor}-{k}" if k else anchor,
            span=told.places.hers(grid.span),
            goes_on=k > 0,
        )


def _seen(grid: Grid) -> list[tuple[object, ...]]:
    """What the squares of a chart show."""
    return [picture(row) for row in grid.rows]


def _name(grid: Grid) -> str:
    """What the chart is called: "Chart A", "Chart of Wings", "Tide chart"."""
    title = grid.title or "the rows"
    return title if re.search(r"\bchart\b", title, re.IGNORECASE) else f"Chart of {title}"


def _alternative(grid: Grid) -> str:
    """What the picture is; its rows are told in words beside it."""
    kind = "round" if all(row.round for row in grid.rows) else "row"
    rows = count(len(grid.rows), kind)
    across = count(grid.columns, "square")
    return f"{_name(grid)}: {rows} of {across}. The same is told in words in the {kind}s."


def _key_said(key: tuple[KeyEntry, ...]) -> str:
    """The key in words, for those who do not see it."""
    told = [f"{e.words} ({e.line})" if e.line and e.line != e.words else e.words for e in key if e.words]
    return f"Key of the chart: {and_list(told)}."
