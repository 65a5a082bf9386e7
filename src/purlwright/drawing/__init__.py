"""Drawings in millimetres, and SVG of them: the names that other rooms draw with."""

from purlwright.drawing.measure import extent, text_width_mm
from purlwright.drawing.mirror import mirrored, mirrored_in_place
from purlwright.drawing.shapes import (
    BLACK,
    NONE,
    SANS,
    Circle,
    Drawing,
    Group,
    Ink,
    Line,
    Path,
    Polygon,
    Rect,
    Shape,
    Step,
    Symbol,
    Text,
    Use,
    path,
    placed,
)
from purlwright.drawing.svg import to_svg

__all__ = [
    "BLACK", "NONE", "SANS", "Circle", "Drawing", "Group", "Ink", "Line", "Path", "Polygon", "Rect", "Shape",
    "Step", "Symbol", "Text", "Use", "extent", "mirrored", "mirrored_in_place", "path", "placed",
    "text_width_mm", "to_svg",
]  # fmt: skip
