"""A drawing as a mirror shows it, its words still readable.

In: a :class:`Drawing`. Out: another. What the signs in it mean when mirrored is left to who drew them.
"""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from purlwright.drawing.measure import extent
from purlwright.drawing.shapes import (
    Anchor,
    Circle,
    Drawing,
    Group,
    Line,
    Path,
    Polygon,
    Rect,
    Shape,
    Step,
    Symbol,
    Text,
    Use,
)

__all__ = ["mirrored", "mirrored_in_place"]


def mirrored(drawing: Drawing) -> Drawing:
    """The drawing as a mirror beside it shows it, but with words that can still be read."""
    known: dict[int, Symbol] = {}
    return replace(
        drawing, shapes=tuple(_flipped(shape, drawing.width_mm, known) for shape in drawing.shapes)
    )


def mirrored_in_place(drawing: Drawing) -> Drawing:
    """The drawing with every part of its outermost group in a mirror of its own: what is told from left to
    right, stage after stage, keeps its order.
    """
    known: dict[int, Symbol] = {}

    def turned(part: Shape) -> Shape:
        box = extent((part,))
        return part if box is None else _flipped(part, box[0] + box[2], known)

    shapes = tuple(
        replace(shape, shapes=tuple(map(turned, shape.shapes))) if isinstance(shape, Group) else turned(shape)
        for shape in drawing.shapes
    )
    return replace(drawing, shapes=shapes)


def _flipped(shape: Shape, across: float, known: dict[int, Symbol]) -> Shape:
    """The shape with every x taken from ``across``."""
    match shape:
        case Line():
            return replace(shape, x1_mm=across - shape.x1_mm, x2_mm=across - shape.x2_mm)
        case Rect():
            return replace(shape, x_mm=across - shape.x_mm - shape.width_mm)
        case Circle():
            return replace(shape, x_mm=across - shape.x_mm)
        case Polygon():
            return replace(shape, points_mm=tuple((across - x, y) for x, y in shape.points_mm))
        case Path():
            return replace(shape, steps=tuple(_flipped_step(step, across) for step in shape.steps))
        case Text():
            anchor: Anchor = {"start": "end", "end": "start", "middle": "middle"}[shape.anchor]  # type: ignore[assignment]
            return replace(shape, x_mm=across - shape.x_mm, anchor=anchor, turn_deg=-shape.turn_deg)
        case Use():
            symbol = known.get(id(shape.symbol))
            if symbol is None:
                flipped = tuple(_flipped(part, 0, known) for part in shape.symbol.shapes)
                symbol = known[id(shape.symbol)] = replace(shape.symbol, shapes=flipped)
            return replace(shape, symbol=symbol, x_mm=across - shape.x_mm)
        case Group():
            parts = tuple(_flipped(part, 0, known) for part in shape.shapes)
            return replace(shape, shapes=parts, x_mm=across - shape.x_mm, turn_deg=-shape.turn_deg)
        case _:
            assert_never(shape)


def _flipped_step(step: Step, across: float) -> Step:
    """An arc that was drawn clockwise is drawn the other way round."""
    letter, *numbers = step
    if letter == "A":
        rx, ry, turn, large, sweep, x, y = map(float, numbers)
        return ("A", rx, ry, -turn, large, 1 - sweep, across - x, y)
    return (letter, *(across - float(n) if i % 2 == 0 else n for i, n in enumerate(numbers)))
