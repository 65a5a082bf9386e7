"""How much room shapes and words take.

In: shapes. Out: millimetres, by rules of thumb where a typeface decides.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import cos, radians, sin
from types import MappingProxyType
from typing import assert_never

from purlwright.drawing.shapes import Circle, Group, Line, Path, Polygon, Rect, Shape, Text, Use

__all__ = ["extent", "text_width_mm"]

_NARROW, _SLIM, _BROAD = "ijlI|.,:;'!` ", 'frt()[]/-*"', "mwMW@%—"
_WIDE: Mapping[str, float] = MappingProxyType(
    {c: w for letters, w in ((_NARROW, 0.31), (_SLIM, 0.4), (_BROAD, 0.9)) for c in letters}
)


def text_width_mm(words: str, size_mm: float, *, bold: bool = False) -> float:
    """About how wide words come out in a plain upright face; a little more rather than less.

    A rule of thumb from the widths of common sans-serif faces; the face that shows them may differ.
    """
    total = sum(_WIDE.get(c, 0.7 if c.isupper() else 1.0 if ord(c) > 0x2E7F else 0.58) for c in words)
    return total * size_mm * (1.07 if bold else 1)


def extent(shapes: Sequence[Shape]) -> tuple[float, float, float, float] | None:
    """The box round shapes as (left, top, right, bottom) in mm, without the width of their lines; None for
    no shapes. Curves are taken by the points that bend them, words by their rough width.
    """
    points = [point for shape in shapes for point in _points(shape)]
    if not points:
        return None
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _points(shape: Shape) -> Iterator[tuple[float, float]]:
    match shape:
        case Line():
            yield from ((shape.x1_mm, shape.y1_mm), (shape.x2_mm, shape.y2_mm))
        case Rect():
            yield (shape.x_mm, shape.y_mm)
            yield (shape.x_mm + shape.width_mm, shape.y_mm + shape.height_mm)
        case Circle():
            r = shape.radius_mm
            yield from ((shape.x_mm - r, shape.y_mm - r), (shape.x_mm + r, shape.y_mm + r))
        case Polygon():
            yield from shape.points_mm
        case Path():
            for letter, *numbers in shape.steps:
                kept = [float(n) for n in (numbers[5:] if letter == "A" else numbers)]
                yield from zip(kept[::2], kept[1::2], strict=True)
        case Text():
            wide = text_width_mm(shape.words, shape.size_mm, bold=shape.bold)
            left = {"start": 0.0, "middle": wide / 2, "end": wide}[shape.anchor]
            box = ((-left, -shape.size_mm * 0.8), (wide - left, shape.size_mm * 0.25))
            corners = [(x, y) for x in (box[0][0], box[1][0]) for y in (box[0][1], box[1][1])]
            yield from _turned(corners, shape.turn_deg, 1, shape.x_mm, shape.y_mm)
        case Use():
            for x, y in (point for part in shape.symbol.shapes for point in _points(part)):
                yield x + shape.x_mm, y + shape.y_mm
        case Group():
            inner = [point for part in shape.shapes for point in _points(part)]
            yield from _turned(inner, shape.turn_deg, shape.scale, shape.x_mm, shape.y_mm)
        case _:
            assert_never(shape)


def _turned(
    points: Sequence[tuple[float, float]], turn_deg: float, scale: float, x_mm: float, y_mm: float
) -> Iterator[tuple[float, float]]:
    c, s = cos(radians(turn_deg)) * scale, sin(radians(turn_deg)) * scale
    for x, y in points:
        yield x_mm + x * c - y * s, y_mm + x * s + y * c
