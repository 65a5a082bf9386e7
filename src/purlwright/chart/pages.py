"""Charts laid out on paper, each with its key beside or under it, the large ones in parts.

In: a chart and its key. Out: drawings of the size of the paper. How they become a PDF is left to who prints
them.
"""

from __future__ import annotations

from collections.abc import Sequence
from types import MappingProxyType

from purlwright.chart.draw import Part, draw_grid
from purlwright.chart.draw_key import draw_chart, draw_key
from purlwright.chart.grid import Grid
from purlwright.chart.key import KeyEntry
from purlwright.chart.parts import parts_of, said_of_part
from purlwright.drawing import Drawing, Shape, Text, placed

__all__ = ["PAPERS", "chart_pages"]

PAPERS = MappingProxyType({"a4": (210.0, 297.0), "letter": (215.9, 279.4)})
"""Width and height of the papers, in mm, upright. Source: ISO 216; ANSI/ASME Y14.1."""
MARGIN_MM = 12.0
_SQUARES = (5.0, 4.5, 4.0)
"""Sizes of squares, the first that fits is taken; signs are legible at the last."""
_HEAD_MM, _FOOT_MM, _SIDE_MM = 11.0, 9.0, 30.0
"""Room for the title of a part, for the sentence under it, and for row numbers at both sides."""
_TITLE_MM, _SAID_MM = 4.6, 2.6


def chart_pages(
    grid: Grid,
    key: Sequence[KeyEntry],
    *,
    paper: str = "a4",
    counts: bool = False,
    notes: Sequence[str] = (),
) -> tuple[Drawing, ...]:
    """The pages of a chart: one if it fits, upright or across; else its parts, and its key on the last.

    Raises ValueError for a paper that is not known.
    """
    if paper not in PAPERS:
        raise ValueError(f"the papers are {', '.join(PAPERS)}, not {paper}")
    upright = PAPERS[paper]
    across = upright[::-1]
    for square_mm in _SQUARES:
        for wide, high in (upright, across):
            room = wide - 2 * MARGIN_MM, high - 2 * MARGIN_MM
            whole = draw_chart(
                grid, key, square_mm=square_mm, counts=counts, beside_mm=room[0], notes=notes, margin_mm=0
            )
            if whole.width_mm <= room[0] and whole.height_mm <= room[1]:
                return (_page(wide, high, [(whole, MARGIN_MM, MARGIN_MM)]),)
    return _in_parts(grid, key, upright, counts=counts, notes=notes)


def _page(
    wide: float, high: float, placed_at: Sequence[tuple[Drawing, float, float]], words: Sequence[Shape] = ()
) -> Drawing:
    return Drawing(
        width_mm=wide, height_mm=high, shapes=(*words, *(placed(d, x, y) for d, x, y in placed_at))
    )


def _in_parts(
    grid: Grid,
    key: Sequence[KeyEntry],
    upright: tuple[float, float],
    *,
    counts: bool,
    notes: Sequence[str],
) -> tuple[Drawing, ...]:
    """A page for each part, upright or across as fewer pages do, and the key after the last part."""
    square_mm = _SQUARES[-1]
    ways: list[tuple[tuple[float, float], tuple[Part, ...]]] = []
    for wide, high in (upright, upright[::-1]):
        columns = int((wide - 2 * MARGIN_MM - _SIDE_MM) / square_mm)
        rows = int((high - 2 * MARGIN_MM - _HEAD_MM - _FOOT_MM) / square_mm) - 1
        ways.append(((wide, high), parts_of(grid, columns, rows)))
    (wide, high), parts = min(ways, key=lambda way: len(way[1]))
    legend = draw_key(grid, key, square_mm=5.0)
    pages: list[Drawing] = []
    free = 0.0
    for n, part in enumerate(parts):
        chart = draw_grid(grid, square_mm=square_mm, part=part, counts=counts)
        title = f"{grid.title}: part {n + 1} of {len(parts)}" if grid.title else ""
        y = MARGIN_MM + _HEAD_MM
        words: list[Shape] = [_words(title, MARGIN_MM, MARGIN_MM + _TITLE_MM, _TITLE_MM, bold=True)]
        foot = y + chart.height_mm + _SAID_MM * 1.6
        words.append(_words(said_of_part(grid, part, parts), MARGIN_MM, foot, _SAID_MM))
        last = n == len(parts) - 1
        blocks = [(chart, MARGIN_MM, y)]
        free = foot + 5
        if last and free + legend.height_mm + 4 * len(grid.sayings) <= high - MARGIN_MM:
            blocks.append((legend, MARGIN_MM, free))
            free += legend.height_mm
            words += _said(grid, notes, free)
        pages.append(_page(wide, high, blocks, words))
        if last and len(blocks) == 1:
            at = MARGIN_MM + _HEAD_MM
            head = _words(f"{grid.title}: key", MARGIN_MM, MARGIN_MM + _TITLE_MM, _TITLE_MM, bold=True)
            said = _said(grid, notes, at + legend.height_mm)
            pages.append(_page(wide, high, [(legend, MARGIN_MM, at)], [head, *said]))
    return tuple(pages)


def _said(grid: Grid, notes: Sequence[str], y: float) -> list[Shape]:
    return [
        _words(sentence, MARGIN_MM, y + (n + 1) * _SAID_MM * 1.6, _SAID_MM)
        for n, sentence in enumerate((*grid.sayings, *notes))
    ]


def _words(words: str, x: float, y: float, size: float, *, bold: bool = False) -> Text:
    return Text(x_mm=x, y_mm=y, words=words, size_mm=size, bold=bold)
