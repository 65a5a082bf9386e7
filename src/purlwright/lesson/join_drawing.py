"""Two edges and the way of the sewing needle between them, as a drawing.

In: a graft. Out: a drawing in mm: the loops of both edges, the first few pairs, and the yarn through them.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

from purlwright.drawing import Drawing, Ink, Line, Path, Shape, Text

if TYPE_CHECKING:
    from purlwright.lesson.joins import Join

__all__ = ["draw_join"]

_EACH, _LEFT, _TOP, _APART, _LEG = 16.0, 26.0, 12.0, 26.0, 13.0
_EDGE, _YARN, _WORDS = "#8a8378", "#9a3b2a", "#222222"
SHOWN = 7


def draw_join(join: Join, shown: int = SHOWN) -> Drawing:
    """The first pairs, seen from the right side; the far edge above. Nothing but the edges for a join
    without pairs.

    A dotted line runs up each column: where heads meet heads, the far ones stand half a stitch beside the
    near ones.
    """
    n = min(shown, len(join.pairs))
    high = _TOP + _LEG
    low = high + _APART
    wide = _LEFT + n * _EACH + 14
    behind: list[Shape] = []
    loops: list[Shape] = []
    before: list[Shape] = []
    for k in range(n):
        x, far = _x(k), _x(k) + _EACH / 2
        column = far if join.heads else x
        behind += [
            Line(x1_mm=x, y1_mm=low + 6, x2_mm=x, y2_mm=low + _LEG, ink=_faint()),
            Line(x1_mm=column, y1_mm=high - _LEG, x2_mm=column, y2_mm=high - 6, ink=_faint()),
        ]
        for ends in (((x - 8, low + 6), (x, high - 6)), ((x, high - 6), (x + 8, low + 6))):
            behind.append(_strand(*ends, ink=Ink(stroke=_YARN, width_mm=1.3, cap="round")))
            before.append(_strand(*ends, cut=_CUT + 0.04, ink=Ink(stroke="#ffffff", width_mm=2.3)))
            before.append(_strand(*ends, cut=_CUT, ink=Ink(stroke=_YARN, width_mm=1.3, cap="round")))
        loops += [_loop(far, high, up=True), _loop(x, low, up=False)]
        loops += [
            Text(x_mm=far, y_mm=high - _LEG - 3, words=str(k + 1), size_mm=3.4, anchor="middle"),
            Text(x_mm=x, y_mm=low + _LEG + 6, words=str(k + 1), size_mm=3.4, anchor="middle"),
        ]
    words: list[Shape] = [
        Line(x1_mm=_LEFT - 8, y1_mm=high - _LEG, x2_mm=wide - 2, y2_mm=high - _LEG, ink=_faint()),
        Line(x1_mm=_LEFT - 8, y1_mm=low + _LEG, x2_mm=wide - 2, y2_mm=low + _LEG, ink=_faint()),
        Text(x_mm=2, y_mm=high - 4, words="back", size_mm=3.6, bold=True),
        Text(x_mm=2, y_mm=low + 6, words="front", size_mm=3.6, bold=True),
        Text(x_mm=2, y_mm=(high + low) / 2 + 1, words="new row", size_mm=3.6, colour=_YARN),
    ]
    return Drawing(width_mm=wide, height_mm=low + _LEG + 10, shapes=(*behind, *loops, *before, *words))


_Point: TypeAlias = tuple[float, float]
_CUT = 0.2
"""How much of a strand's way lies behind the loops at either end."""


def _strand(start: _Point, end: _Point, *, ink: Ink, cut: float = 0) -> Path:
    """Half of a new stitch, from the foot of a gap to the head of one; ``inner`` is the part before the
    loops.
    """
    middle = (start[0] + end[0]) / 2
    points = [start, (middle, start[1]), (middle, end[1]), end]
    if cut:
        points = _part(_part(points, cut)[1], (1 - 2 * cut) / (1 - cut))[0]
    (x, y), *rest = points
    return Path(steps=(("M", x, y), ("C", *(v for p in rest for v in p))), ink=ink)


def _part(points: list[_Point], at: float) -> tuple[list[_Point], list[_Point]]:
    """A curve cut in two (by de Casteljau's halving)."""
    first, last = [points[0]], [points[-1]]
    while len(points) > 1:
        points = [(a[0] + (b[0] - a[0]) * at, a[1] + (b[1] - a[1]) * at) for a, b in pairwise(points)]
        first.append(points[0])
        last.append(points[-1])
    return first, last[::-1]


def _x(k: int) -> float:
    return _LEFT + (k + 0.5) * _EACH


def _faint() -> Ink:
    return Ink(stroke="#c9c2b4", width_mm=0.3, dash_mm=(1.0, 1.0))


def _loop(x: float, y: float, *, up: bool) -> Path:
    """A loop of an edge: its head towards the middle, its legs away from it."""
    s = -1 if up else 1
    return Path(
        steps=(
            ("M", x - 3.2, y + s * _LEG),
            ("C", x - 3.2, y + s * 8, x - 7.4, y + s * 5, x - 7.0, y + s * 0.5),
            ("C", x - 6.4, y - s * 5.0, x + 6.4, y - s * 5.0, x + 7.0, y + s * 0.5),
            ("C", x + 7.4, y + s * 5, x + 3.2, y + s * 8, x + 3.2, y + s * _LEG),
        ),
        ink=Ink(stroke=_EDGE, width_mm=1.3, cap="round"),
    )
