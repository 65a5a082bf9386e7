"""Shapes, strokes and words in millimetres, each of which may stand for a place in the source.

In: places and sizes that another room has chosen. Out: immutable values. The origin is the upper left corner,
x grows to the right and y downwards. Nothing here knows knitting.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

from purlwright.text import NOWHERE, Span

__all__ = [
    "BLACK", "NONE", "SANS", "Anchor", "Circle", "Drawing", "Group", "Ink", "Line", "Path", "Polygon", "Rect",
    "Shape", "Step", "Symbol", "Text", "Use", "path", "placed",
]  # fmt: skip

BLACK, NONE = "#000", "none"
SANS = ("Atkinson Hyperlegible Next", "DejaVu Sans", "Noto Sans", "Arial", "sans-serif")
"""The faces that words are written in, the one that ships with the package first."""

Anchor: TypeAlias = Literal["start", "middle", "end"]
Step: TypeAlias = tuple[str | float, ...]
"""One step of a path: a letter of the SVG path language (M, L, Q, C, A, Z, all absolute) and its numbers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """How a shape is drawn. What is None is taken from the group round it; a drawing starts with a black line
    0.25 mm wide and no fill.
    """

    stroke: str | None = None
    fill: str | None = None
    width_mm: float | None = None
    dash_mm: tuple[float, ...] | None = None
    cap: Literal["butt", "round", "square"] | None = None
    join: Literal["miter", "round", "bevel"] | None = None
    opacity: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line between two points."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float
    ink: Ink | None = None
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect:
    """A rectangle by its upper left corner; ``round_mm`` rounds its corners."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    round_mm: float = 0
    ink: Ink | None = None
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle by its centre."""

    x_mm: float
    y_mm: float
    radius_mm: float
    ink: Ink | None = None
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Polygon:
    """Corners joined by straight lines, and the last with the first if it is ``closed``."""

    points_mm: tuple[tuple[float, float], ...]
    closed: bool = True
    ink: Ink | None = None
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """Lines and curves; :func:`path` makes the steps from words such as ``M0 0 L4 0``."""

    steps: tuple[Step, ...]
    ink: Ink | None = None
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of words, standing on ``y_mm``; ``size_mm`` is the size of the type. Longer words are not
    wrapped: :func:`text_width_mm` tells about how wide they are.
    """

    x_mm: float
    y_mm: float
    words: str
    size_mm: float
    anchor: Anchor = "start"
    colour: str = BLACK
    bold: bool = False
    italic: bool = False
    turn_deg: float = 0
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Symbol:
    """Shapes that are written once and used in many places; a box round them, from its upper left corner."""

    name: str
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """A symbol, its origin at a place."""

    symbol: Symbol
    x_mm: float
    y_mm: float
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Shapes that share their ink, or are moved, turned and scaled as one: scaled and turned about their own
    origin first, then moved.
    """

    shapes: tuple[Shape, ...]
    x_mm: float = 0
    y_mm: float = 0
    turn_deg: float = 0
    scale: float = 1
    ink: Ink | None = None
    span: Span = NOWHERE


Shape: TypeAlias = Line | Rect | Circle | Polygon | Path | Text | Use | Group


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A sheet of its own width and height, and what is drawn on it, the lowest first."""

    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...] = ()


_NUMBERS_OF: Mapping[str, int] = MappingProxyType({"M": 2, "L": 2, "Q": 4, "C": 6, "A": 7, "Z": 0})
_PART = re.compile(r"\s*([A-Za-z])([^A-Za-z]*)")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)")


def path(words: str, *, ink: Ink | None = None, span: Span = NOWHERE) -> Path:
    """A path from words: ``M`` or ``L`` x y, ``Q`` with one bend, ``C`` with two, ``A`` as in SVG, ``Z``.

    More numbers after a letter are the same letter again (after ``M``, they are ``L``). Raises ValueError
    for another letter, and for numbers that do not come out.
    """
    steps: list[Step] = []
    for letter, rest in _PART.findall(words):
        numbers = [float(n) for n in _NUMBER.findall(rest)]
        size = _NUMBERS_OF.get(letter, -1)
        if size < 0:
            raise ValueError(f"a path is drawn with M, L, Q, C, A and Z, not {letter}: {words!r}")
        if size == 0 or not numbers or len(numbers) % size:
            if numbers or size:
                raise ValueError(f"{letter} takes {size} numbers, not {len(numbers)}: {words!r}")
            steps.append((letter,))
        steps += [
            ("L" if letter == "M" and at else letter, *numbers[at : at + size])
            for at in range(0, len(numbers), size or 1)
        ]
    if not steps or steps[0][0] != "M":
        raise ValueError(f"a path begins with M: {words!r}")
    return Path(steps=tuple(steps), ink=ink, span=span)


def placed(drawing: Drawing, x_mm: float, y_mm: float, scale: float = 1) -> Group:
    """A drawing as a group in a larger one."""
    return Group(shapes=drawing.shapes, x_mm=x_mm, y_mm=y_mm, scale=scale)
