"""Charts ready for a page: squares, key and rows in words together.

In: a read pattern, one knitting of it, and what is asked for. Out: a :class:`Charted` for each chart. Drawing
them is left to ``draw_key`` and ``pages``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from purlwright.chart.charts import charts_of, rows_chart, section_charts
from purlwright.chart.draw import for_left_hand
from purlwright.chart.grid import Grid
from purlwright.chart.key import KeyEntry, key_of
from purlwright.chart.words import rows_in_words
from purlwright.pattern.sources import sources_at
from purlwright.pattern.words import Terms

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.file import Pattern

__all__ = ["Charted", "told_charts", "with_key"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Charted:
    """A chart with its key and its rows in words, one line each, the first row first."""

    grid: Grid
    key: tuple[KeyEntry, ...]
    words: tuple[str, ...]

    @property
    def title(self) -> str:
        return self.grid.title

    @property
    def description(self) -> str:
        """What the picture shows, for those who cannot see it: its size, and where the same is told in
        words.
        """
        grid = self.grid
        rounds = bool(grid.rows) and all(row.round for row in grid.rows)
        unit = "round" if rounds else "row"
        many = f"{len(grid.rows)} {unit}{'' if len(grid.rows) == 1 else 's'}"
        across = f"{grid.columns} square{'' if grid.columns == 1 else 's'}"
        repeats = {0: "", 1: ", with a repeat framed"}.get(len(grid.tiles), ", with repeats framed")
        return f"A chart of {many} over {across}{repeats}. {' '.join(self.words)}"


def told_charts(
    pattern: Pattern,
    knitted: Knitted,
    *,
    section: str | None = None,
    rows: tuple[int, int] | None = None,
    terms: Terms = "US",
    left_handed: bool = False,
) -> tuple[Charted, ...]:
    """The charts asked for: of one section, of some rows by their numbers, else all that are worth one.

    Raises :class:`~purlwright.chart.charts.NoSuchRows`, a ValueError, if there is no such section or row.
    """
    if rows is not None:
        grids: Iterable[Grid] = (rows_chart(knitted, *rows, section=section),)
    elif section is not None:
        grids = section_charts(pattern, knitted, section)
    else:
        grids = charts_of(pattern, knitted)
    return tuple(with_key(grid, pattern, terms=terms, left_handed=left_handed) for grid in grids)


def with_key(grid: Grid, pattern: Pattern, *, terms: Terms = "US", left_handed: bool = False) -> Charted:
    """A chart with what belongs to it. ``left_handed`` shows it to one who works mirrored."""
    yarns = _yarns(grid, pattern)
    grid = replace(grid, sources=sources_at(pattern, grid.span))
    shown = for_left_hand(grid) if left_handed else grid
    return Charted(
        grid=shown,
        key=key_of(shown, pattern.definitions, terms=terms, yarns=yarns, source=pattern.source),
        words=rows_in_words(grid, terms),
    )


def _yarns(grid: Grid, pattern: Pattern) -> dict[int, str]:
    """What each yarn of a chart is called in full: "MC: wool, grey"; the plain one if it has no name."""
    entries = {y.name: y for y in pattern.yarns}
    out: dict[int, str] = {}
    for n, name in enumerate(grid.yarns):
        entry = entries.get(name)
        if entry is None:
            out[n] = name
            continue
        parts = [part.strip() for part in entry.words.split(",")]
        said = [p for p in parts if p and p != name and not any(c.isdigit() for c in p)]
        out[n] = f"{name}: {', '.join(said)}" if said else name
    return out
