"""A chart as a drawing: its squares, heavier lines each five, numbers where rows start, frames of repeats.

In: a :class:`~purlwright.chart.grid.Grid`. Out: a :class:`~purlwright.drawing.Drawing` in millimetres, every
sign tied to the words it came from. The key is drawn by ``draw_key``, pages are laid out by ``pages``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from purlwright.chart.grid import Grid, GridRow, Square, Tile
from purlwright.chart.signs import LETTERS
from purlwright.chart.symbols import LINE, mirrored_name, sign
from purlwright.drawing import (
    BLACK,
    NONE,
    Circle,
    Drawing,
    Group,
    Ink,
    Path,
    Rect,
    Shape,
    Step,
    Symbol,
    Text,
    Use,
    text_width_mm,
)

__all__ = [
    "SQUARE_MM",
    "Part",
    "draw_grid",
    "for_left_hand",
    "gutters_mm",
    "named_beside",
    "square_symbol",
    "yarn_shapes",
]

SQUARE_MM = 5.0
"""The size of a square; signs stay legible down to 4 mm."""
_GRID = Ink(stroke="#8a8a8a", width_mm=0.13, cap="butt")
_FIVE = Ink(stroke="#3c3c3c", width_mm=0.3, cap="butt")
MARKER = Ink(stroke="#8f2413", width_mm=0.8, dash_mm=(1.1, 0.7), cap="butt")
"""The line of a marker: its dashes tell it from a frame where colours are not seen."""
_FRAME = Ink(stroke=BLACK, width_mm=0.8, join="miter", cap="square")
_NOTHING = Ink(fill="#c9c9c9", stroke=NONE)
_HIT = Ink(fill=BLACK, stroke=NONE, opacity=0)
_FAINT = "#5a5a5a"
_LIGHT = "#fff"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of a chart: columns ``first`` to ``last`` and rows ``bottom`` to ``top``, ends left out."""

    first: int
    last: int
    bottom: int
    top: int

    @classmethod
    def whole(cls, grid: Grid) -> Part:
        """All of a chart."""
        return cls(first=0, last=grid.columns, bottom=0, top=len(grid.rows))


def for_left_hand(grid: Grid) -> Grid:
    """The chart as a mirror shows it, for one who works mirrored: the words of the key stay the same."""
    n = grid.columns

    def row(r: GridRow) -> GridRow:
        return replace(
            r,
            squares=tuple(
                replace(s, column=n - s.column - s.width, sign=mirrored_name(s.sign)) for s in r.squares[::-1]
            ),
            waiting=tuple(n - 1 - c for c in r.waiting[::-1]),
            absent=tuple(n - 1 - c for c in r.absent[::-1]),
            markers=tuple(n - c for c in r.markers[::-1]),
        )

    tiles = tuple(
        replace(t, first=n - t.first - t.width, moved=tuple(-k for k in t.moved)) for t in grid.tiles[::-1]
    )
    return replace(grid, rows=tuple(map(row, grid.rows)), tiles=tiles, mirrored=not grid.mirrored)


# --- signs in squares ------------------------------------------------------------------------------


@lru_cache(maxsize=512)
def square_symbol(name: str, width: int, square_mm: float, *, light: bool = False) -> Symbol | None:
    """A sign over ``width`` squares as a symbol to use; None for the empty square. ``light`` is for dark
    squares.
    """
    ink, paper = (_LIGHT, "#3a3a3a") if light else (BLACK, _LIGHT)
    if name.startswith(LETTERS):
        shapes = _letters(name.removeprefix(LETTERS), width, square_mm, ink)
    else:
        found = sign(name)
        if found is None or not found.shapes:
            return None
        inner = tuple(_inked(shape, ink, paper) for shape in found.shapes)
        aside = (width - found.squares) / 2 * square_mm
        shapes = (
            Group(shapes=inner, x_mm=aside, scale=square_mm, ink=Ink(width_mm=LINE, stroke=ink, fill=NONE)),
        )
    return Symbol(name=f"{name}-{width}{'-light' if light else ''}", shapes=shapes)


def _letters(words: str, width: int, square_mm: float, ink: str) -> tuple[Shape, ...]:
    """Her own abbreviation, as large as it fits."""
    room = (width - 0.24) * square_mm
    size = min(0.62 * square_mm, 0.62 * square_mm * room / max(text_width_mm(words, 0.62 * square_mm), 0.01))
    return (
        Text(
            x_mm=width * square_mm / 2, y_mm=square_mm / 2 + size * 0.36, words=words, size_mm=size,
            anchor="middle", bold=True, colour=ink,
        ),
    )  # fmt: skip


def _inked(shape: Shape, ink: str, paper: str) -> Shape:
    """The shape in another ink."""
    if isinstance(shape, Group):
        return replace(shape, shapes=tuple(_inked(part, ink, paper) for part in shape.shapes))
    if isinstance(shape, (Use, Text)) or shape.ink is None:
        return shape
    fill = {BLACK: ink, _LIGHT: paper}.get(shape.ink.fill or "", shape.ink.fill)
    return replace(shape, ink=replace(shape.ink, fill=fill))


# --- yarns -----------------------------------------------------------------------------------------

_SHADES = (_LIGHT, "#4a4a4a", "#b9b9b9", "#e6e6e6", "#8e8e8e", "#dadada")


def yarn_order(grid: Grid) -> list[int]:
    """The yarns of a chart, the one with most squares first: it is left white."""
    many: dict[int, int] = {}
    for row in grid.rows:
        for s in row.squares:
            if s.yarn >= 0:
                many[s.yarn] = many.get(s.yarn, 0) + s.width
    return sorted(many, key=lambda yarn: (-many[yarn], yarn))


def yarn_shapes(
    place: int, x_mm: float, y_mm: float, width_mm: float, height_mm: float, square_mm: float
) -> Iterator[Shape]:
    """A stretch of squares in the yarn with this place in the order: a shade, and from the third on a
    pattern too, so that no two differ by shade alone.
    """
    if place <= 0:
        return
    shade = _SHADES[min(place, len(_SHADES) - 1)]
    yield Rect(x_mm=x_mm, y_mm=y_mm, width_mm=width_mm, height_mm=height_mm, ink=Ink(fill=shade, stroke=NONE))
    many = round(width_mm / square_mm)
    for n in range(many if place > 1 else 0):
        x = x_mm + n * square_mm
        yield from _yarn_mark(place, x, y_mm, square_mm)


def _yarn_mark(place: int, x: float, y: float, size: float) -> Iterator[Shape]:
    thin = Ink(width_mm=0.25, stroke="#222")
    if place == 2:
        for k in (0.25, 0.75):
            yield Path(steps=(("M", x, y + size * k), ("L", x + size * k, y)), ink=thin)
            yield Path(steps=(("M", x + size * k, y + size), ("L", x + size, y + size * k)), ink=thin)
    elif place == 3:
        for k in (0.2, 0.5, 0.8):
            yield Path(steps=(("M", x, y + size * k), ("L", x + size, y + size * k)), ink=thin)
    else:
        for a, b in ((0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)):
            r = 0.07 * size * (place - 2)
            yield Circle(x_mm=x + a * size, y_mm=y + b * size, radius_mm=r, ink=thin)


# --- the whole -------------------------------------------------------------------------------------


def draw_grid(
    grid: Grid,
    *,
    square_mm: float = SQUARE_MM,
    part: Part | None = None,
    counts: bool = False,
    linked: bool = False,
) -> Drawing:
    """The squares of a chart, or of a part, with numbers and frames; no key and no title.

    counts : the stitches after each row stand at its other end.
    linked : every square, the empty ones too, can be found by a click on it.
    """
    return _Sketch(grid, square_mm, part or Part.whole(grid), counts=counts, linked=linked).drawing()


def gutters_mm(grid: Grid, square_mm: float, part: Part | None = None) -> tuple[float, float]:
    """How much room the numbers of rows take at the left and at the right of the squares, without counts."""
    sketch = _Sketch(grid, square_mm, part or Part.whole(grid), counts=False, linked=False)
    return sketch.left, sketch.right


def named_beside(grid: Grid, part: Part | None = None) -> tuple[bool, bool]:
    """Whether rows with a name instead of a number, "Set-up", stand at the left and at the right."""
    sketch = _Sketch(grid, SQUARE_MM, part or Part.whole(grid), counts=False, linked=False)
    return sketch.named(left=True), sketch.named(left=False)


class _Sketch:
    """One chart being drawn."""

    def __init__(self, grid: Grid, square_mm: float, part: Part, *, counts: bool, linked: bool) -> None:
        self.grid, self.size, self.part = grid, square_mm, part
        self.counts, self.linked = counts, linked
        self.rows = grid.rows[part.bottom : part.top]
        self.type_mm = 0.52 * square_mm
        self.left = self._gutter(left=True)
        self.right = self._gutter(left=False)
        self.top = 0.3 * square_mm
        self.foot = 1.0 * square_mm
        self.order = {yarn: place for place, yarn in enumerate(yarn_order(grid))}

    # --- places ---

    def x(self, column: float) -> float:
        return self.left + (column - self.part.first) * self.size

    def y(self, row: int) -> float:
        """The upper edge of a row, by its place from the bottom of the part."""
        return self.top + (len(self.rows) - 1 - row) * self.size

    def _at_right(self, row: GridRow) -> bool:
        return row.from_right != self.grid.mirrored

    def _number(self, row: GridRow) -> str:
        return str(row.number) if row.number is not None else _short(row.label)

    def named(self, *, left: bool) -> bool:
        return any(row.number is None and self._at_right(row) != left for row in self.rows)

    def _gutter(self, *, left: bool) -> float:
        """The room that numbers, arrows and counts need on one side."""
        words = [self._number(row) for row in self.rows if self._at_right(row) != left]
        wide = max((text_width_mm(w, self.type_mm) for w in words), default=0)
        room = wide + 0.95 * self.size if words else 0.35 * self.size
        if self.counts:
            ends = [f"({row.end})" for row in self.rows if self._at_right(row) == left]
            room = max(room, max((text_width_mm(w, self.type_mm) for w in ends), default=0) + 0.5 * self.size)
        return room

    # --- drawing ---

    def drawing(self) -> Drawing:
        wide = self.left + (self.part.last - self.part.first) * self.size + self.right
        high = self.top + len(self.rows) * self.size + self.foot
        shapes: list[Shape] = [*self._grounds()]
        thin, fives = self._lines()
        if thin:
            shapes.append(Path(steps=tuple(thin), ink=_GRID))
        if fives:
            shapes.append(Path(steps=tuple(fives), ink=_FIVE))
        shapes += self._signs()
        shapes += (frame for tile in self.grid.tiles for frame in self._frame(tile))
        shapes += self._markers()
        shapes += self._numbers()
        shapes += self._columns()
        if self.linked:
            shapes += self._hits()
        return Drawing(width_mm=wide, height_mm=high, shapes=tuple(shapes))

    def _inside(self, square: Square) -> bool:
        return square.column < self.part.last and square.column + square.width > self.part.first

    def _grounds(self) -> Iterator[Shape]:
        """Places without a stitch, and squares of another yarn, in runs."""
        size = self.size
        for r, row in enumerate(self.rows):
            y = self.y(r)
            absent = [c for c in row.absent if self.part.first <= c < self.part.last]
            for a, b in _runs(absent):
                yield Rect(x_mm=self.x(a), y_mm=y, width_mm=(b - a) * size, height_mm=size, ink=_NOTHING)
            for a, b, place in self._yarn_runs(row):
                yield from yarn_shapes(place, self.x(a), y, (b - a) * size, size, size)

    def _yarn_runs(self, row: GridRow) -> Iterator[tuple[int, int, int]]:
        if len(self.order) < 2:
            return
        last: tuple[int, int, int] | None = None
        for s in row.squares:
            place = self.order.get(s.yarn, 0)
            if not place or not self._inside(s):
                continue
            a, b = max(s.column, self.part.first), min(s.column + s.width, self.part.last)
            if last is not None and last[1] == a and last[2] == place:
                last = (last[0], b, place)
            else:
                if last is not None:
                    yield last
                last = (a, b, place)
        if last is not None:
            yield last

    def _lines(self) -> tuple[list[Step], list[Step]]:
        """Lines round the squares; heavier ones each five, counted from the first stitch of the first row."""
        n_rows, n_cols = len(self.rows), self.part.last - self.part.first
        upright = [[False] * n_rows for _ in range(n_cols + 1)]
        level = [[False] * n_cols for _ in range(n_rows + 1)]
        for r, row in enumerate(self.rows):
            for s in row.squares:
                if not self._inside(s):
                    continue
                a = max(s.column, self.part.first) - self.part.first
                b = min(s.column + s.width, self.part.last) - self.part.first
                upright[a][r] = upright[b][r] = True
                for c in range(a, b):
                    level[r][c] = level[r + 1][c] = True
        thin: list[Step] = []
        fives: list[Step] = []
        for c, marks in enumerate(upright):
            column = self.part.first + c
            from_edge = column if self.grid.mirrored else self.grid.columns - column
            out = fives if from_edge % 5 == 0 and 0 < from_edge < self.grid.columns else thin
            x = self.x(column)
            for a, b in _true_runs(marks):
                out += [("M", x, self.y(a) + self.size), ("L", x, self.y(b - 1))]
        for r, marks in enumerate(level):
            height = self.part.bottom + r
            out = fives if height % 5 == 0 and 0 < height < len(self.grid.rows) else thin
            y = self.y(r) + self.size
            for a, b in _true_runs(marks):
                out += [
                    ("M", self.x(self.part.first + a), y),
                    ("L", self.x(self.part.first + b), y),
                ]
        return thin, fives

    def _signs(self) -> Iterator[Shape]:
        for r, row in enumerate(self.rows):
            y = self.y(r)
            for s in row.squares:
                if s.column < self.part.first or s.column + s.width > self.part.last:
                    continue
                light = len(self.order) > 1 and self.order.get(s.yarn, 0) == 1
                symbol = square_symbol(s.sign, s.width, self.size, light=light)
                if symbol is not None:
                    yield Use(symbol=symbol, x_mm=self.x(s.column), y_mm=y, span=s.span)
            yield from self._turn(row, y)

    def _turn(self, row: GridRow, y: float) -> Iterator[Shape]:
        """The sign of a turn, in the first square that was not reached."""
        if not row.turned or not row.squares:
            return
        goes_left = self._at_right(row)
        column = row.squares[0].column - 1 if goes_left else row.squares[-1].column + row.squares[-1].width
        if not self.part.first <= column < self.part.last:
            return
        name = row.turned if not goes_left else f"mirrored:{row.turned}"
        symbol = square_symbol(name, 1, self.size)
        if symbol is not None:
            yield Use(symbol=symbol, x_mm=self.x(column), y_mm=y, span=row.span)

    def _frame(self, tile: Tile) -> Iterator[Shape]:
        """The heavy frame of a repeat, its edges moved aside where they would cut a crossing."""
        part = self.part
        bottom, top = max(tile.bottom, part.bottom), min(tile.top, part.top)
        if bottom >= top or tile.first >= part.last or tile.first + tile.width <= part.first:
            return
        moved = tile.moved or (0,) * (tile.top - tile.bottom)
        for edge in (tile.first, tile.first + tile.width):
            steps: list[Step] = []
            for r in range(bottom, top):
                column = edge - moved[r - tile.bottom]
                x, y = self.x(column), self.y(r - part.bottom)
                steps += [("L" if steps else "M", x, y + self.size), ("L", x, y)]
            if part.first <= edge <= part.last:
                yield Path(steps=tuple(steps), ink=_FRAME)
        low, high = moved[bottom - tile.bottom], moved[top - 1 - tile.bottom]
        for aside, y in (
            (low, self.y(bottom - part.bottom) + self.size),
            (high, self.y(top - 1 - part.bottom)),
        ):
            a = max(tile.first - aside, part.first)
            b = min(tile.first + tile.width - aside, part.last)
            if a < b:
                yield Path(steps=(("M", self.x(a), y), ("L", self.x(b), y)), ink=_FRAME)

    def _markers(self) -> Iterator[Shape]:
        """A dashed line between two squares where a marker stands."""
        for r, row in enumerate(self.rows):
            for column in row.markers:
                if self.part.first < column < self.part.last:
                    x, y = self.x(column), self.y(r)
                    yield Path(steps=(("M", x, y + self.size), ("L", x, y)), ink=MARKER)

    def _numbers(self) -> Iterator[Shape]:
        """Each row's number where it starts, with an arrow the way it is worked; counts at its other end."""
        size = self.size
        left, right = self.x(self.part.first), self.x(self.part.last)
        for r, row in enumerate(self.rows):
            middle = self.y(r) + size / 2
            base = middle + self.type_mm * 0.36
            at_right = self._at_right(row)
            side, away = (right, 1) if at_right else (left, -1)
            if row.waiting and row.squares:  # it starts within: so its number stands there
                first, last = row.squares[0], row.squares[-1]
                side = self.x(last.column + last.width) if at_right else self.x(first.column)
                side = min(max(side, left), right)
            tip, end = side + away * 0.2 * size, side + away * 0.62 * size
            yield Path(
                steps=(
                    ("M", end, middle), ("L", tip, middle),
                    ("M", tip + away * 0.16 * size, middle - 0.12 * size), ("L", tip, middle),
                    ("L", tip + away * 0.16 * size, middle + 0.12 * size),
                ),
                ink=Ink(stroke=_FAINT, width_mm=0.045 * size),
            )  # fmt: skip
            yield Text(
                x_mm=side + away * 0.8 * size, y_mm=base, words=self._number(row), size_mm=self.type_mm,
                anchor="start" if at_right else "end", span=row.span,
            )  # fmt: skip
            if self.counts:
                other = left - 0.3 * size if at_right else right + 0.3 * size
                yield Text(
                    x_mm=other, y_mm=base, words=f"({row.end})", size_mm=self.type_mm * 0.9,
                    anchor="end" if at_right else "start", colour=_FAINT,
                )  # fmt: skip

    def _columns(self) -> Iterator[Shape]:
        """Each fifth column's number under it, counted from where right-side rows start."""
        n = self.grid.columns
        y = self.top + len(self.rows) * self.size + 0.72 * self.size
        for c in range(self.part.first, self.part.last):
            number = c + 1 if self.grid.mirrored else n - c
            if number % 5 == 0 or (number == 1 and n >= 5):
                yield Text(
                    x_mm=self.x(c + 0.5), y_mm=y, words=str(number), size_mm=self.type_mm * 0.8,
                    anchor="middle", colour=_FAINT,
                )  # fmt: skip

    def _hits(self) -> Iterator[Shape]:
        for r, row in enumerate(self.rows):
            for s in row.squares:
                if self._inside(s):
                    yield Rect(
                        x_mm=self.x(s.column), y_mm=self.y(r), width_mm=s.width * self.size,
                        height_mm=self.size, ink=_HIT, span=s.span,
                    )  # fmt: skip


def _short(label: str) -> str:
    """A row's label where it has no number: "Set-up"."""
    words = label.replace(":", "").split()
    kept = [w for w in words if w.lower() not in {"row", "rnd", "round", "rows", "rnds", "rounds"}]
    return " ".join(kept)[:10]


def _runs(columns: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Stretches of columns next to each other, as begin and end."""
    begin = last = None
    for c in columns:
        if last is None or c != last + 1:
            if begin is not None and last is not None:
                yield begin, last + 1
            begin = c
        last = c
    if begin is not None and last is not None:
        yield begin, last + 1


def _true_runs(marks: Sequence[bool]) -> Iterator[tuple[int, int]]:
    yield from _runs([i for i, mark in enumerate(marks) if mark])
