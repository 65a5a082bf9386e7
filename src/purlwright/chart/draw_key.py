"""The key of a chart as a drawing, and chart and key together under a title.

In: key entries and a grid. Out: drawings. What the entries say is left to ``key``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from purlwright.chart.draw import MARKER, SQUARE_MM, Part, draw_grid, square_symbol, yarn_order, yarn_shapes
from purlwright.chart.grid import Grid
from purlwright.chart.key import KeyEntry
from purlwright.chart.symbols import NO_STITCH
from purlwright.drawing import Drawing, Group, Ink, Path, Rect, Shape, Text, Use, placed, text_width_mm

__all__ = ["draw_chart", "draw_key", "draw_key_in_columns"]

_BOX = Ink(stroke="#8a8a8a", width_mm=0.13)
_FRAME = Ink(stroke="#000", width_mm=0.7)
_FAINT = "#4a4a4a"
KEY_MM = 70.0
"""How wide a key is at most."""
_GAP = 6.0
_TITLE_MM = 4.6
_MOST_SQUARES = 4
"""A sign over more squares is drawn smaller in the key."""


def draw_key(
    grid: Grid, key: Sequence[KeyEntry], *, square_mm: float = SQUARE_MM, width_mm: float = KEY_MM
) -> Drawing:
    """The key: each sign in a square, what it asks for, and its name in full."""
    type_mm = 0.56 * square_mm
    small = 0.46 * square_mm
    order = {yarn: place for place, yarn in enumerate(yarn_order(grid))}
    widest = max((e.squares for e in key if e.kind == "sign"), default=1)
    column = min(widest, _MOST_SQUARES) * square_mm
    y, wide = 0.0, 0.0
    shapes: list[Shape] = []
    for entry in key:
        at = column + 0.5 * square_mm
        room = width_mm - at
        lines = [(line, type_mm, True) for line in _wrapped(entry.line, type_mm, room)]
        if entry.words and entry.words != entry.line:
            lines += [(line, small, False) for line in _wrapped(entry.words, small, room)]
        high = max(square_mm, sum(size * 1.3 for _, size, _ in lines))
        room_for = min(1.0, _MOST_SQUARES / entry.squares)
        shapes.append(
            Group(
                shapes=tuple(_sample(entry, square_mm, order)),
                x_mm=column - entry.squares * square_mm * room_for,
                y_mm=y + (min(high, 2 * square_mm) - square_mm * room_for) / 2,
                scale=room_for,
            )
        )
        base = y + (high - sum(size * 1.3 for _, size, _ in lines)) / 2
        for words, size, strong in lines:
            base += size * 1.3
            shapes.append(
                Text(
                    x_mm=at, y_mm=base - size * 0.36, words=words, size_mm=size,
                    colour="#000" if strong else _FAINT,
                )
            )  # fmt: skip
            wide = max(wide, at + text_width_mm(words, size))
        y += high + 0.34 * square_mm
    return Drawing(width_mm=max(wide, 1), height_mm=max(y, 1), shapes=tuple(shapes))


def draw_key_in_columns(
    grid: Grid, key: Sequence[KeyEntry], room_mm: float, *, square_mm: float = SQUARE_MM
) -> Drawing:
    """The key in as many columns, three at most, as stand side by side in the room: for under a chart."""
    many = max(1, min(3, int((room_mm + _GAP) / (KEY_MM + _GAP)), len(key)))
    for columns in (3, many):  # narrow ones may fit where the widest would not
        each = max(1, -(-len(key) // columns))
        drawn = [
            draw_key(grid, key[n : n + each], square_mm=square_mm) for n in range(0, len(key), each)
        ] or [draw_key(grid, key, square_mm=square_mm)]
        wide = sum(d.width_mm for d in drawn) + _GAP * (len(drawn) - 1)
        if wide <= room_mm:
            break
    shapes: list[Group] = []
    x = 0.0
    for column in drawn:
        shapes.append(placed(column, x, 0))
        x += column.width_mm + _GAP
    return Drawing(width_mm=wide, height_mm=max(d.height_mm for d in drawn), shapes=tuple(shapes))


def _sample(entry: KeyEntry, square_mm: float, order: dict[int, int]) -> Iterator[Shape]:
    """The sign in its square or squares."""
    y = 0.0
    wide = entry.squares * square_mm
    if entry.kind == "repeat":
        yield Rect(x_mm=0.35, y_mm=y + 0.35, width_mm=square_mm - 0.7, height_mm=square_mm - 0.7, ink=_FRAME)
        return
    if entry.kind == "marker":
        yield Path(steps=(("M", square_mm / 2, square_mm), ("L", square_mm / 2, 0)), ink=MARKER)
        return
    if entry.sign == NO_STITCH:
        yield Rect(x_mm=0, y_mm=y, width_mm=wide, height_mm=square_mm, ink=Ink(fill="#c9c9c9", stroke="none"))
        return
    place = order.get(entry.yarn, 0) if entry.kind == "yarn" else 0
    yield from yarn_shapes(place, 0, y, wide, square_mm, square_mm)
    yield Rect(x_mm=0, y_mm=y, width_mm=wide, height_mm=square_mm, ink=_BOX)
    symbol = square_symbol(entry.sign, entry.squares, square_mm) if entry.sign else None
    if symbol is not None:
        yield Use(symbol=symbol, x_mm=0, y_mm=y)


def _wrapped(words: str, size_mm: float, room_mm: float) -> list[str]:
    """Words in lines no wider than the room."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(longer, size_mm) <= room_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


@dataclass(frozen=True, slots=True)
class _Block:
    drawing: Drawing
    x: float
    y: float


def draw_chart(
    grid: Grid,
    key: Sequence[KeyEntry],
    *,
    square_mm: float = SQUARE_MM,
    part: Part | None = None,
    counts: bool = False,
    linked: bool = False,
    title: bool = True,
    beside_mm: float = 200.0,
    notes: Sequence[str] = (),
    margin_mm: float = 4.0,
) -> Drawing:
    """Chart and key together: the key beside the chart if both fit into ``beside_mm``, else under it, in as
    many columns as the chart is wide.

    notes : sentences under the chart, with those of the chart itself.
    """
    margin = margin_mm
    chart = draw_grid(grid, square_mm=square_mm, part=part, counts=counts, linked=linked)
    blocks: list[_Block] = []
    shapes: list[Shape] = []
    y = margin
    if title and grid.title:
        y += _TITLE_MM
        shapes.append(
            Text(x_mm=margin, y_mm=y - 0.2 * _TITLE_MM, words=grid.title, size_mm=_TITLE_MM, bold=True)
        )
        y += 2.5
    blocks.append(_Block(chart, margin, y))
    legend = draw_key(grid, key, square_mm=square_mm) if key else None
    said = [*grid.sayings, *notes]
    beside = legend is not None and margin * 2 + chart.width_mm + _GAP + legend.width_mm <= beside_mm
    right, bottom = margin + chart.width_mm, y + chart.height_mm
    if legend is not None and beside:
        at = y + 0.3 * square_mm
        blocks.append(_Block(legend, right + _GAP, at))
        right += _GAP + legend.width_mm
        bottom = max(bottom, at + legend.height_mm)
    elif legend is not None:
        many = max(1, min(3, int(chart.width_mm / KEY_MM), len(key)))
        each = -(-len(key) // many)
        x, low = margin, bottom
        for n in range(0, len(key), each):
            column = draw_key(grid, key[n : n + each], square_mm=square_mm)
            blocks.append(_Block(column, x, bottom + 3))
            x += column.width_mm + _GAP
            low = max(low, bottom + 3 + column.height_mm)
        right = max(right, x - _GAP)
        bottom = low
    size = 0.5 * square_mm
    room = max(right - margin, 90.0)
    for words in said:
        for line in _wrapped(words, size, room):
            bottom += size * 1.4
            shapes.append(Text(x_mm=margin, y_mm=bottom, words=line, size_mm=size, colour=_FAINT))
            right = max(right, margin + text_width_mm(line, size))
    if title and grid.title:
        right = max(right, margin + text_width_mm(grid.title, _TITLE_MM, bold=True))
    groups: list[Group] = [placed(b.drawing, b.x, b.y) for b in blocks]
    return Drawing(width_mm=right + margin, height_mm=bottom + margin, shapes=(*shapes, *groups))
