"""Drawings of a piece to scale: its outline with measures, how its rows build it, and how it grows.

In: a laid-out piece in each size, and how lengths are said. Out: drawings in mm with their words beside them.
What is drawn is rows laid straight at the gauge; a drawing says so, and its measures are counts of stitches
and rows at that gauge, never what was typed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from purlwright.cloth.laid import Laid
from purlwright.cloth.outline import Box, Measures, boxes, has_short_rows, measure
from purlwright.cloth.silhouette import line_round
from purlwright.drawing import Drawing, Group, Ink, Line, Path, Polygon, Rect, Shape, Text, text_width_mm

__all__ = [
    "ACCENT", "INK", "PAPER", "Lengths", "Picture", "across", "common_scale", "fitted", "growth", "row_map",
    "schematic", "upright",
]  # fmt: skip

Lengths: TypeAlias = Callable[[Sequence[float]], str]
"""Lengths in mm, one a size, as they are printed: "46.5 (50, 56.5) cm"."""

INK, PAPER, SHADE, FAINT, ACCENT = "#222222", "#f4f1ea", "#d9d3c6", "#8a8378", "#7a3b2e"
_TYPE = 3.2
_SMALL = 2.8
_WALL = 0.5
"""How thick the outline is drawn, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing, and the same in words for those who do not see it."""

    drawing: Drawing
    words: str


def common_scale(pieces: Sequence[Laid], *, width_mm: float = 72.0, height_mm: float = 66.0) -> float:
    """At what scale all of these fit into a box, so that they can be compared with each other."""
    scale = 1.0
    for laid in pieces:
        mine = measure(laid)
        if mine is not None and mine.high_mm > 0:
            wide = mine.widest_mm / (2 if laid.tube else 1)
            scale = min(scale, width_mm / wide, height_mm / mine.high_mm)
    return scale


def schematic(
    name: str,
    sizes: Sequence[Laid],
    drawn: int,
    lengths: Lengths,
    *,
    scale: float,
    knitted: Measures | None = None,
) -> Picture | None:
    """The outline of a piece in size number ``drawn``, with the measures of every size.

    ``scale`` is how many mm of paper stand for one of cloth (:func:`common_scale`). A tube is drawn laid flat
    and its width told round about. ``knitted`` : of a single size, what its cloth measures, told in place of
    its counts. None for a piece without stitches.
    """
    found = [m for m in (measure(laid) for laid in sizes) if m is not None]
    if len(found) != len(sizes) or not found:
        return None
    laid, mine = sizes[drawn], found[drawn]
    if mine.high_mm <= 0 or mine.widest_mm <= 0:
        return None
    frame = _Frame(laid, scale)
    shapes: list[Shape] = [_silhouette(boxes(laid), frame)]
    said, told = _said(found if knitted is None else [knitted], lengths, rounds=laid.rounds)
    left, right, top, bottom = frame.left, frame.right, frame.top, frame.bottom
    first, last = frame.span(0), frame.span(-1)
    shapes += across(first, bottom + 7, said["first"])
    if "last" in said:
        shapes += across(last, top - 5, said["last"])
    if "widest" in said:
        shapes += across((left, right), bottom + 15, said["widest"])
    shapes += upright(right + 6, frame.y(0), frame.y(mine.right_mm), said["right"])
    if "left" in said:
        shapes += upright(left - 6, frame.y(0), frame.y(mine.left_mm), said["left"])
    shapes += _arrow(frame, mine)
    shapes.append(Text(x_mm=(first[0] + first[1]) / 2, y_mm=bottom + 3.6, words="begin here", size_mm=_SMALL,
                       anchor="middle", colour=ACCENT))  # fmt: skip
    words = f"Outline of {name}: {'; '.join(told)}. It is worked from the lower edge of the drawing upwards."
    return Picture(drawing=fitted(shapes), words=words)


_FEWEST_BANDS, _MOST_BANDS = 6, 60


def row_map(
    name: str, laid: Laid, times: Mapping[int, int], *, width_mm: float = 80.0, high_mm: float = 56.0
) -> Picture | None:
    """How the rows build the piece: each row a band on the stitches it works. None if no row is short of the
    others: then the outline says it all.

    times : for each row by its ledger order, how many repeats were worked before it; each is a band, unless
    they are too few or too many.
    """
    mine = measure(laid)
    if mine is None or mine.high_mm <= 0 or not has_short_rows(laid):
        return None
    scale = min(width_mm / mine.widest_mm, high_mm / mine.high_mm)
    frame = _Frame(laid, scale)
    every = boxes(laid)
    orders = sorted({box.order for box in every})
    band = max(1, len(orders) // 60)
    number = {order: n // band for n, order in enumerate(orders)}
    each = "a row" if band == 1 else f"{band} rows"
    if _FEWEST_BANDS <= len(set(times.values())) <= _MOST_BANDS:
        number, each = dict(times), "one time through the rows"
    shade = Group(
        shapes=tuple(frame.rect(box) for box in every if number.get(box.order, 0) % 2),
        ink=Ink(fill=SHADE, stroke="none"),
    )
    shapes: list[Shape] = [_silhouette(every, frame, (shade,))]
    words = (
        f"How the rows build {name}: {len(orders)} rows one on the other, each band stands for {each}. "
        f"{round(mine.left_mm / laid.row_mm)} of them reach the left edge, "
        f"{round(mine.right_mm / laid.row_mm)} the right edge."
    )
    return Picture(drawing=fitted(shapes), words=words)


def growth(
    name: str, laid: Laid, stages: Sequence[tuple[int, str]], *, width_mm: float = 34.0
) -> Picture | None:
    """The piece after some of its rows: each stage is the ledger order of a row, and what it is called.

    What has been worked since the stage before is darker. Each stage is a group of its own. None for fewer
    than two stages.
    """
    mine = measure(laid)
    if mine is None or mine.high_mm <= 0 or len(stages) < 2:
        return None
    scale = min(width_mm / mine.widest_mm, 48.0 / mine.high_mm)
    every = boxes(laid)
    shapes: list[Shape] = []
    x = 0.0
    before = -1
    told: list[str] = []
    whole = _area(every)
    for order, said in stages:
        done = [box for box in every if box.order <= order]
        if _area(done) - _area([box for box in done if box.order <= before]) < whole * 0.01:
            continue  # nothing that could be seen
        frame = _Frame(laid, scale, x)
        told.append(said)
        new = line_round(_rects([box for box in done if box.order > before], frame), frame.step_mm)
        stage: list[Shape] = [
            _silhouette(done, frame, (Path(steps=new, ink=Ink(fill=SHADE, stroke="none")),))
        ]
        lines = _two_lines(said)
        for n, line in enumerate(lines):
            stage.append(
                Text(
                    x_mm=(frame.left + frame.right) / 2,
                    y_mm=frame.bottom + 5 + n * 3.6,
                    words=line,
                    size_mm=_SMALL,
                    anchor="middle",
                    colour=INK,
                )
            )
        shapes.append(Group(shapes=tuple(stage)))
        before = order
        x += max(frame.right - frame.left, *(text_width_mm(line, _SMALL) for line in lines)) + 6
    if len(told) < 2:
        return None
    words = f"How {name} grows, stage by stage: {'; then '.join(told)}."
    return Picture(drawing=fitted(shapes), words=words)


def _area(some: Sequence[Box]) -> float:
    return sum((box.right_mm - box.left_mm) * (box.high_mm - box.low_mm) for box in some)


def _two_lines(said: str) -> list[str]:
    """Words on one line, or on two where they are long."""
    parts = said.split()
    if len(said) < 20 or len(parts) < 2:
        return [said]
    cut = min(range(1, len(parts)), key=lambda n: abs(len(" ".join(parts[:n])) - len(said) / 2))
    return [" ".join(parts[:cut]), " ".join(parts[cut:])]


# --- lines and words -----------------------------------------------------------------------------


class _Frame:
    """Where mm of the piece stand on the drawing."""

    def __init__(self, laid: Laid, scale: float, x_mm: float = 0.0) -> None:
        half = laid.stitch_mm / 2
        self.laid, self.scale, self.x0 = laid, scale, x_mm
        self.low_x = float(laid.x_mm.min()) - half
        self.high = float(laid.high_mm.max())
        self.left = x_mm
        self.right = x_mm + (float(laid.x_mm.max()) + half - self.low_x) * scale
        self.top, self.bottom = 0.0, self.high * scale
        self.step_mm = max(laid.stitch_mm, laid.row_mm) * scale

    def x(self, x_mm: float) -> float:
        return self.x0 + (x_mm - self.low_x) * self.scale

    def y(self, y_mm: float) -> float:
        return (self.high - y_mm) * self.scale

    def rect(self, box: Box) -> Rect:
        return Rect(
            x_mm=self.x(box.left_mm),
            y_mm=self.y(box.high_mm),
            width_mm=(box.right_mm - box.left_mm) * self.scale,
            height_mm=(box.high_mm - box.low_mm) * self.scale,
        )

    def span(self, row: int) -> tuple[float, float]:
        """Where the first (0) or last (-1) row begins and ends."""
        orders = sorted(set(self.laid.order.tolist()))
        x = self.laid.x_mm[self.laid.order == orders[row]]
        half = self.laid.stitch_mm / 2
        return self.x(float(x.min()) - half), self.x(float(x.max()) + half)


def _rects(every: Sequence[Box], frame: _Frame) -> list[Rect]:
    return [frame.rect(box) for box in _merged(every) if box.high_mm > box.low_mm]


def _silhouette(every: Sequence[Box], frame: _Frame, inside: Sequence[Shape] = ()) -> Shape:
    """The whole piece in one tone with a line round it; ``inside`` is drawn under the line."""
    steps = line_round(_rects(every, frame), frame.step_mm)
    return Group(
        shapes=(
            Path(steps=steps, ink=Ink(fill=PAPER, stroke="none")),
            *inside,
            Path(steps=steps, ink=Ink(fill="none", stroke=INK, width_mm=_WALL, join="round")),
        )
    )


def _merged(every: Sequence[Box]) -> list[Box]:
    """Boxes of rows that stand one over the other, over the same stitches, made into one."""
    out: list[Box] = []
    at: dict[tuple[float, float, float], int] = {}
    for box in every:
        key = (round(box.left_mm, 3), round(box.right_mm, 3), round(box.low_mm, 3))
        n = at.pop(key, None)
        if n is None:
            n = len(out)
            out.append(box)
        else:
            old = out[n]
            out[n] = Box(old.order, old.left_mm, old.right_mm, old.low_mm, box.high_mm)
        at[(key[0], key[1], round(box.high_mm, 3))] = n
    return out


def _said(found: Sequence[Measures], lengths: Lengths, *, rounds: bool) -> tuple[dict[str, str], list[str]]:
    """The measures that the drawing shows, by the edge they stand at; and each in words."""
    first = [m.first_mm for m in found]
    said = {"first": lengths(first), "right": lengths([m.right_mm for m in found])}
    about = " round" if rounds else ""
    told = [f"{said['first']}{about} at the beginning"]
    if rounds:
        said["first"] += " round"
    if any(abs(m.widest_mm - max(m.first_mm, m.last_mm)) > m.widest_mm * 0.02 for m in found):
        said["widest"] = f"{lengths([m.widest_mm for m in found])}{about} at the widest"
        told.append(said["widest"])
    if any(abs(m.last_mm - m.first_mm) > m.first_mm * 0.02 for m in found):
        said["last"] = f"{lengths([m.last_mm for m in found])}{about}"
        told.append(f"{said['last']} at the end")
    if any(abs(m.left_mm - m.right_mm) > m.high_mm * 0.02 for m in found):
        said["left"] = lengths([m.left_mm for m in found])
        told += [f"{said['left']} along the left edge", f"{said['right']} along the right edge"]
    else:
        told.append(f"{said['right']} long")
    return said, told


def across(span: tuple[float, float], y: float, words: str) -> list[Shape]:
    """A measure from left to right at ``y``, its words under it, or over it where ``y`` is below 0."""
    a, b = span
    line = Ink(stroke=FAINT, width_mm=0.2)
    return [
        Line(x1_mm=a, y1_mm=y, x2_mm=b, y2_mm=y, ink=line),
        Line(x1_mm=a, y1_mm=y - 1.2, x2_mm=a, y2_mm=y + 1.2, ink=line),
        Line(x1_mm=b, y1_mm=y - 1.2, x2_mm=b, y2_mm=y + 1.2, ink=line),
        Text(x_mm=(a + b) / 2, y_mm=y + 4.2 if y > 0 else y - 1.8, words=words, size_mm=_TYPE,
             anchor="middle", colour=INK),
    ]  # fmt: skip


def upright(x: float, low: float, high: float, words: str) -> list[Shape]:
    """A measure from below upwards at ``x``, its words on the outer side of it."""
    line = Ink(stroke=FAINT, width_mm=0.2)
    right = x > 0
    return [
        Line(x1_mm=x, y1_mm=low, x2_mm=x, y2_mm=high, ink=line),
        Line(x1_mm=x - 1.2, y1_mm=low, x2_mm=x + 1.2, y2_mm=low, ink=line),
        Line(x1_mm=x - 1.2, y1_mm=high, x2_mm=x + 1.2, y2_mm=high, ink=line),
        Text(x_mm=x + 2 if right else x - 2, y_mm=(low + high) / 2 + 1.1, words=words, size_mm=_TYPE,
             anchor="start" if right else "end", colour=INK),
    ]  # fmt: skip


def _arrow(frame: _Frame, mine: Measures) -> list[Shape]:
    """The direction of work, in the middle of the first row."""
    a, b = frame.span(0)
    x, low = (a + b) / 2, frame.y(0) - min(3.0, mine.high_mm * frame.scale * 0.1)
    length = min(22.0, mine.high_mm * frame.scale * 0.45)
    ink = Ink(stroke=ACCENT, width_mm=0.5)
    return [
        Line(x1_mm=x, y1_mm=low, x2_mm=x, y2_mm=low - length, ink=ink),
        Polygon(
            points_mm=((x, low - length - 2.6), (x - 1.3, low - length), (x + 1.3, low - length)),
            ink=Ink(fill=ACCENT, stroke="none"),
        ),
    ]


def fitted(shapes: Sequence[Shape], margin: float = 2.0) -> Drawing:
    """A drawing just as large as what is on it."""
    from purlwright.drawing import extent

    box = extent(shapes)
    if box is None:
        return Drawing(width_mm=1, height_mm=1)
    left, top, right, bottom = box
    return Drawing(
        width_mm=right - left + 2 * margin,
        height_mm=bottom - top + 2 * margin,
        shapes=(Group(shapes=tuple(shapes), x_mm=margin - left, y_mm=margin - top),),
    )
