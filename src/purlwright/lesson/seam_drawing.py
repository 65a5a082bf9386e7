"""Two side edges and the way of the sewing needle up between them, as a drawing.

In: a seam of row ends. Out: a drawing in mm: the edge stitch and the next of both edges, the bars between
them, and
the yarn under one bar and another by turns. Of edges of unlike length the longer gives two bars here and
there. Or in: a seam of loops to row ends. Out: the stitches of the one lying on their side, each with its bar
or bars of the other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.drawing import Drawing, Ink, Line, Path, Shape, Text

if TYPE_CHECKING:
    from purlwright.lesson.seams import Seam

__all__ = ["SHOWN", "draw_seam", "draw_turned"]

SHOWN = 7
_HIGH, _COLUMN, _MARGIN, _GAP, _FOOT = 12.0, 13.0, 26.0, 22.0, 12.0
_EDGE, _YARN, _BAR = "#8a8378", "#9a3b2a", "#4d463d"


def draw_seam(seam: Seam, shown: int = SHOWN) -> Drawing:
    """The first rows, seen from the right side, the beginning of the seam below."""
    each = _window(seam.each, shown)
    short, long_ = len(each), sum(n for _, n in each)
    longer_left = seam.many[0] > seam.many[1]
    tall = _HIGH * short
    top = _FOOT
    bars = {
        "left": _bars(each if longer_left else tuple((1, 1) for _ in each), tall, top),
        "right": _bars(tuple((1, 1) for _ in each) if longer_left else each, tall, top),
    }
    x_left, x_right = _MARGIN + _COLUMN, _MARGIN + 3 * _COLUMN + _GAP
    shapes: list[Shape] = []
    for side, x in (("left", x_left), ("right", x_right)):
        rows = long_ if (side == "left") is longer_left else short
        shapes += _strip(x, rows, tall, top)
    behind, front, yarn = [], [], Ink(stroke=_YARN, width_mm=1.5, cap="round")
    last: tuple[float, float] | None = None
    for k in range(short):
        for side, x in (("left", x_left), ("right", x_right)):
            low, high, heights = bars[side][k]
            behind.append(Line(x1_mm=x, y1_mm=low, x2_mm=x, y2_mm=high, ink=yarn))
            front += [_bar(x, y, halo=halo) for y in heights for halo in (True, False)]
            if last is not None:
                front.append(Line(x1_mm=last[0], y1_mm=last[1], x2_mm=x, y2_mm=low, ink=yarn))
            last = (x, high)
    wide = x_right + 2 * _COLUMN + _MARGIN - 10
    words: list[Shape] = [
        Text(x_mm=x_left, y_mm=top + tall + 8, words="one edge", size_mm=3.6, anchor="middle", bold=True),
        Text(x_mm=x_right, y_mm=top + tall + 8, words="the other", size_mm=3.6, anchor="middle", bold=True),
    ]
    words += [
        Text(x_mm=6, y_mm=(bars["left"][k][0] + bars["left"][k][1]) / 2 + 1.2, words=str(k + 1), size_mm=3.4)
        for k in range(short)
    ]
    shapes += [*behind, *front, *words]
    return Drawing(width_mm=wide, height_mm=top + tall + 13, shapes=tuple(shapes))


def _window(each: tuple[tuple[int, int], ...], shown: int) -> tuple[tuple[int, int], ...]:
    """So many shares, with one of those that take more, if there are any."""
    more = next((n for n, (_, many) in enumerate(each) if many != each[0][1]), 0)
    begin = min(max(more - shown // 2, 0), max(len(each) - shown, 0))
    return each[begin : begin + shown]


def _bars(
    each: tuple[tuple[int, int], ...], tall: float, top: float
) -> list[tuple[float, float, list[float]]]:
    """For each share where the yarn goes under, where it comes up, and the heights of the bars between."""
    rows = sum(n for _, n in each)
    high = tall / rows
    out, done = [], 0
    for _, many in each:
        low = top + tall - done * high - high * 0.15
        heights = [top + tall - (done + n + 0.5) * high for n in range(many)]
        done += many
        out.append((low, top + tall - done * high + high * 0.15, heights))
    return out


def _strip(x: float, rows: int, tall: float, top: float) -> list[Shape]:
    """Two columns of stitches beside a line of bars."""
    high = tall / rows
    out: list[Shape] = []
    for column in (x - _COLUMN, x):
        for n in range(rows):
            y = top + tall - n * high
            left, middle, right = column + 1.2, column + _COLUMN / 2, column + _COLUMN - 1.2
            out.append(
                Path(
                    steps=(("M", left, y - high), ("L", middle, y - high * 0.25), ("L", right, y - high)),
                    ink=Ink(stroke=_EDGE, width_mm=1.1, cap="round"),
                )
            )
    return out


def _bar(x: float, y: float, *, halo: bool) -> Line:
    ink = Ink(stroke="#ffffff", width_mm=2.4) if halo else Ink(stroke=_BAR, width_mm=1.2, cap="round")
    half = 2.0 if halo else 2.6
    return Line(x1_mm=x - half, y1_mm=y, x2_mm=x + half, y2_mm=y, ink=ink)


def draw_turned(seam: Seam, shown: int = SHOWN) -> Drawing:
    """The first stitches of an edge of loops, each with the ends of rows it takes, the beginning below."""
    each = _window(seam.each, shown)
    tall, top, rows = _HIGH * len(each), _FOOT, sum(many for _, many in each)
    x_left, x_right = _MARGIN + 2 * _COLUMN, _MARGIN + 2 * _COLUMN + _GAP
    yarn = Ink(stroke=_YARN, width_mm=1.5, cap="round")
    shapes: list[Shape] = _strip(x_right + _COLUMN, rows, tall, top)
    behind: list[Shape] = []
    front: list[Shape] = _lying(x_left, len(each), top, heads_out=not seam.cast_on)
    bars = _bars(each, tall, top)
    up = x_left - _COLUMN * 0.36
    last: tuple[float, float] | None = None
    for k, (low, high, heights) in enumerate(bars):
        foot, head = top + tall - (k + 0.06) * _HIGH, top + tall - (k + 0.94) * _HIGH
        if last is not None:
            front.append(Line(x1_mm=last[0], y1_mm=last[1], x2_mm=up, y2_mm=foot, ink=yarn))
        behind.append(Line(x1_mm=up, y1_mm=foot, x2_mm=up, y2_mm=head, ink=yarn))
        x = x_right + _COLUMN
        front.append(Line(x1_mm=up, y1_mm=head, x2_mm=x, y2_mm=low, ink=yarn))
        behind.append(Line(x1_mm=x, y1_mm=low, x2_mm=x, y2_mm=high, ink=yarn))
        front += [_bar(x, y, halo=halo) for y in heights for halo in (True, False)]
        last = (x, high)
    foot_mm = top + tall + 8
    words: list[Shape] = [
        Text(
            x_mm=x_left - _COLUMN,
            y_mm=foot_mm,
            words=f"{seam.loops_edge} edge",
            size_mm=3.6,
            anchor="middle",
            bold=True,
        ),
        Text(
            x_mm=x_right + _COLUMN,
            y_mm=foot_mm,
            words="ends of rows",
            size_mm=3.6,
            anchor="middle",
            bold=True,
        ),
    ]
    wide = x_right + 2 * _COLUMN + 14
    for k, (_, many) in enumerate(each):
        y = top + tall - (k + 0.5) * _HIGH + 1.2
        words.append(Text(x_mm=_MARGIN - 14, y_mm=y, words=str(k + 1), size_mm=3.4))
        middle = sum(bars[k][2]) / many + 1.2
        said = f"{many} row{'' if many == 1 else 's'}"
        words.append(
            Text(x_mm=x_right + 2 * _COLUMN + 3, y_mm=middle, words=said, size_mm=3.2, bold=many > 1)
        )
    return Drawing(width_mm=wide, height_mm=top + tall + 13, shapes=(*shapes, *behind, *front, *words))


def _lying(x: float, many: int, top: float, *, heads_out: bool) -> list[Shape]:
    """Two stitches deep of an edge of loops that is turned to the right: each V lies on its side."""
    out: list[Shape] = []
    for n in range(many):
        y = top + (many - 1 - n) * _HIGH
        for depth in (1, 0):
            near, far = x - depth * _COLUMN - 1.2, x - (depth + 1) * _COLUMN + 1.2
            mouth, point = (near, far + 1.6) if heads_out else (far, near - 1.6)
            steps = (("M", mouth, y + 1.2), ("L", point, y + _HIGH / 2), ("L", mouth, y + _HIGH - 1.2))
            halo = Ink(stroke="#ffffff", width_mm=2.6, cap="round")
            leg = Ink(stroke=_EDGE, width_mm=1.1, cap="round")
            out += [Path(steps=steps, ink=halo), Path(steps=steps, ink=leg)]
    return out
