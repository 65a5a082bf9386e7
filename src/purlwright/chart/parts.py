"""Charts too large for a page, in parts that overlap.

In: a chart and how many squares a page has room for. Out: :class:`~purlwright.chart.draw.Part` s with a
sentence each. Where a page begins is left to who prints it.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.chart.draw import Part
from purlwright.chart.grid import Grid

__all__ = ["parts_of", "said_of_part"]

OVERLAP = 2
"""So many squares stand in both of two neighbouring parts."""
_LOOK_BACK = 12
_NEAR = 3
"""So many squares round a cut are best plain: a hole and its decrease that belong together stand nearer."""


def parts_of(grid: Grid, most_columns: int, most_rows: int) -> tuple[Part, ...]:
    """Parts of a chart in working order: from the bottom up, and across from where right-side rows start.

    They are about alike in size. Neighbours share two columns, or two rows. No crossing is cut, and no panel
    of lace or cables, if there is a place for a cut near by.
    Raises ValueError for a page with room for fewer than 8 by 4 squares.
    """
    if most_columns < 8 or most_rows < 4:
        raise ValueError("a page has room for at least 8 by 4 squares")
    across = list(_cuts(grid, _even(grid.columns, most_columns)))
    if len(across) > _fewest(
        grid.columns, most_columns
    ):  # a cut that spares crossings made the parts smaller
        across = min(across, list(_cuts(grid, most_columns)), key=len)
    if not grid.mirrored:
        across.reverse()
    up = list(_stretches(len(grid.rows), _even(len(grid.rows), most_rows)))
    return tuple(
        Part(first=first, last=last, bottom=bottom, top=top) for bottom, top in up for first, last in across
    )


def _fewest(total: int, most: int) -> int:
    """In how many parts a chart of so many squares comes at least."""
    return 1 if total <= most else -(-(total - OVERLAP) // (most - OVERLAP))


def _even(total: int, most: int) -> int:
    """How large the parts are if there are no more than there must be, and all are about alike."""
    many = _fewest(total, most)
    return -(-(total + (many - 1) * OVERLAP) // many)


def _stretches(total: int, most: int) -> Iterator[tuple[int, int]]:
    begin = 0
    while total - begin > most:
        yield begin, begin + most
        begin += most - OVERLAP
    yield begin, total


def _cuts(grid: Grid, most: int) -> Iterator[tuple[int, int]]:
    """Stretches of columns that meet where few squares are cut."""
    begin, total = 0, grid.columns
    while total - begin > most:
        end = begin + most
        last = _fewest_cut(grid, max(begin + OVERLAP + 2, end - _LOOK_BACK), end)
        yield begin, last
        begin = _fewest_cut(grid, max(begin + 1, last - OVERLAP - _LOOK_BACK), last - OVERLAP)
    yield begin, total


def _fewest_cut(grid: Grid, first: int, last: int) -> int:
    """The place for a cut from ``first`` to ``last``; of equally good ones the one farthest to the right."""
    return min(range(last, first - 1, -1), key=lambda column: _cut(grid, column))


def _cut(grid: Grid, column: int) -> tuple[int, bool]:
    """How many squares a cut goes through, and whether any near it is more than one stitch for one."""
    through, near = 0, False
    for row in grid.rows:
        for s in row.squares:
            through += s.column < column < s.column + s.width
            shapes = s.width > 1 or s.taken != 1 or s.made != 1
            near |= shapes and s.column - _NEAR < column < s.column + s.width + _NEAR
    return through, near


def said_of_part(grid: Grid, part: Part, parts: tuple[Part, ...]) -> str:
    """What to say under a part: "Part 2 of 3: squares 39 to 78 from the right, which repeats the last 2 of
    part 1."; nothing for a chart in one part.
    """
    if len(parts) < 2:
        return ""
    n = parts.index(part)
    a, b = part.first + 1, part.last
    if not grid.mirrored:
        a, b = grid.columns - part.last + 1, grid.columns - part.first
    side = "left" if grid.mirrored else "right"
    words = f"Part {n + 1} of {len(parts)}: squares {a} to {b} from the {side}"
    if part.bottom or part.top < len(grid.rows):
        words += f", rows {part.bottom + 1} to {part.top} from the bottom"
    if n:
        before = parts[n - 1]
        same_rows = before.bottom == part.bottom
        shared = before.top - part.bottom
        if same_rows:
            shared = min(before.last, part.last) - max(before.first, part.first)
        if shared > 0:
            what = "squares of each row" if same_rows else "rows"
            words += f"; the first {shared} {what} stand in part {n} too"
    return f"{words}."
