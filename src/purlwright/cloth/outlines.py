"""The outline of every piece to a round scale, with what it measures in the settled cloth.

In: a knitting and its settled cloth. Out: one drawing a piece, in cm. A cloth that lies flat is drawn as it
lies pinned out: the line round it goes through its edge stitches. Anything else (tubes, cups, pieces that are
sewn) has no one outline on paper: its rows are drawn laid straight, each as wide as its own stitches, and
that is said. The measures are those that ``told`` tells, with the least and the most that the gauge allows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.flatness import Verdict
from purlwright.cloth.laid import lay_out
from purlwright.cloth.measure import length_along, measured, rims_of
from purlwright.cloth.mesh import EdgeKind
from purlwright.cloth.outline import Measures, measure
from purlwright.cloth.pictures import one_of_its_kind
from purlwright.cloth.schematic import ACCENT, INK, PAPER, across, fitted, schematic, upright
from purlwright.cloth.told import pieces_told
from purlwright.cloth.view import hung
from purlwright.drawing import Drawing, Group, Ink, Path, Shape, Text
from purlwright.units import length_words, lengths_words

if TYPE_CHECKING:
    from purlwright.cloth.laid import Laid
    from purlwright.cloth.measure import Measured
    from purlwright.cloth.mesh import Mesh
    from purlwright.cloth.rest import Floats
    from purlwright.cloth.settled import Settled
    from purlwright.cloth.told import PieceTold
    from purlwright.drawing import Step
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Piece

__all__ = ["OutlineOf", "outlines"]

_WIDE_MM, _HIGH_MM = 150.0, 200.0
"""The drawing of the largest piece is no larger."""
_SCALES = (1, 2, 4, 5, 8, 10, 20, 40, 50, 100)
_HOLE = 0.05
"""A hole is drawn if its edge is no shorter than this share of the outer edge: openings, not eyelets."""
_TYPE, _LINE = 3.0, 4.4


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineOf:
    """One piece: its drawing, and the same in words."""

    name: str
    drawing: Drawing
    words: str


def outlines(knitted: Knitted, settled: Settled, title: str = "") -> Iterator[OutlineOf]:
    """The outline of each piece that ``told`` tells of, all to one scale; none of a cloth of unknown size.

    title : what a piece is called that is the whole. Of copies the first is drawn.
    """
    if not settled.gauge.scaled:
        return
    kinds: dict[str | int, PieceTold] = {}
    for one in pieces_told(knitted, settled):
        kinds.setdefault(one_of_its_kind(one.name) or one.number, one)
    told = list(kinds.values())
    pinned = bool(settled.flatness) and all(f.verdict is Verdict.FLAT for f in settled.flatness)
    shapes = [
        _Pinned(settled, one.number)
        if pinned and _alone(settled.mesh, one.number)
        else _laid(knitted, settled, one.number)
        for one in told
    ]
    times = _times([s.size if isinstance(s, _Pinned) else _size(s) for s in shapes])
    every = measured(settled, knitted)
    for one, shape in zip(told, shapes, strict=True):
        mine = [m for m in every if m.piece == one.number]
        name = (title if len(told) == 1 else one_of_its_kind(one.name)) or one.name or "the piece"
        if isinstance(shape, _Pinned):
            yield _pinned(name, one, shape, times)
        elif (drawn := _straight(name, one, shape, mine, times)) is not None:
            yield drawn


def _alone(mesh: Mesh, number: int) -> bool:
    """Whether the piece is joined to no other."""
    mine = mesh.piece == number
    return bool(mine.any()) and not np.isin(mesh.component[~mine], mesh.component[mine]).any()


def _times(sizes: Sequence[tuple[float, float]]) -> int:
    """How many times as large as its drawing the cloth is: the least round number that fits on a page."""
    need = max((max(w / _WIDE_MM, h / _HIGH_MM) for w, h in sizes), default=1.0)
    return next((n for n in _SCALES if n >= need), int(need) + 1)


# --- pinned out ------------------------------------------------------------------------------------


class _Pinned:
    """The edge of a flat piece where it lies, mm, the first row below; the first line is the outer one."""

    def __init__(self, settled: Settled, number: int) -> None:
        mesh = settled.mesh
        mine = mesh.piece == number
        wale = mesh.edge[mesh.edge_kind == EdgeKind.WALE]
        wale = wale[mine[wale].all(axis=1)]
        at = hung(_widened(settled), wale, down=False)[:, :2]
        lines = [line for line in rims_of(mesh) if mine[line].all()]
        round_about = [length_along(at, np.append(line, line[:1])) for line in lines]
        most = max(round_about, default=0.0)
        self.lines: list[Floats] = [
            at[line] for line, mm in zip(lines, round_about, strict=True) if mm >= _HOLE * most
        ]
        self.low = self.lines[0].min(axis=0) if self.lines else np.zeros(2)
        self.high = self.lines[0].max(axis=0) if self.lines else np.zeros(2)
        first = np.flatnonzero(mine[mesh.node_of_row[mesh.first_of_row[:-1]]])[0]
        self.begin = at[mesh.node_of_row[mesh.first_of_row[first] : mesh.first_of_row[first + 1]]].mean(
            axis=0
        )

    @property
    def size(self) -> tuple[float, float]:
        wide, high = (self.high - self.low).tolist()
        return wide, high


def _widened(settled: Settled) -> Floats:
    """Where the stitches lie, those at the ends of rows moved out by half a stitch, to their outer side."""
    mesh, at = settled.mesh, settled.shape.position_mm
    out: Floats = at.copy()
    first, last = mesh.first_of_row[:-1], mesh.first_of_row[1:] - 1
    long = last > first
    for end, beside in ((first[long], first[long] + 1), (last[long], last[long] - 1)):
        a, b = mesh.node_of_row[end], mesh.node_of_row[beside]
        way = at[a] - at[b]
        far = np.linalg.norm(way, axis=1, keepdims=True)
        out[a] += way / np.maximum(far, 1e-9) * settled.rest.stitch_mm[a, None] / 2
    return out


def _pinned(name: str, one: PieceTold, shape: _Pinned, times: int) -> OutlineOf:
    wide, high = shape.size
    steps: list[Step] = []
    for line in shape.lines:
        points = (line - shape.low) / times
        points[:, 1] = high / times - points[:, 1]
        steps += [("L" if n else "M", *p) for n, p in enumerate(np.round(points, 2).tolist())]
        steps.append(("Z",))
    right, below = wide / times, high / times
    x, y = ((shape.begin - shape.low) / times).tolist()
    shapes: list[Shape] = [
        Path(steps=tuple(steps), ink=Ink(fill=PAPER, stroke=INK, width_mm=0.5, join="round")),
        *across((0.0, right), below + 7, _cm(wide)),
        *upright(right + 6, 0.0, below, _cm(high)),
        Text(x_mm=x, y_mm=below - y + 3.6, words="begin here", size_mm=_TYPE, anchor="middle", colour=ACCENT),
    ]
    how = f"pinned out, {_cm(wide)} across and {_cm(high)} high over all"
    return _finished(name, one, shapes, how, times)


# --- laid straight ---------------------------------------------------------------------------------


def _laid(knitted: Knitted, settled: Settled, number: int) -> Laid:
    """The rows of a piece, each as wide as its own stitches; in a tube also as high.

    Notes: in a flat piece the heights are those of the cloth that there is most of.
    """
    usual = settled.gauge.gauges[0]
    piece: Piece = knitted.ledger.pieces[number]
    laid = lay_out(knitted.fabric, piece, stitch_mm=usual.stitch_mm, row_mm=usual.row_mm)
    if not len(laid.stitch):
        return laid
    x, low, high = laid.x_mm.copy(), laid.low_mm.copy(), laid.high_mm.copy()
    width, row = settled.gauge.width_mm[laid.stitch], settled.gauge.row_mm[laid.stitch]
    level = 0.0
    for order in dict.fromkeys(laid.order.tolist()):
        mine = laid.order == order
        middle = (x[mine].max() + x[mine].min()) / 2
        x[mine] = middle + (x[mine] - middle) * width[mine].mean() / usual.stitch_mm
        if laid.tube:
            tall = float(np.median(high[mine] - low[mine])) * row[mine].mean() / usual.row_mm
            low[mine], high[mine] = level, level + tall
            level += tall
    return replace(laid, x_mm=x, low_mm=low, high_mm=high)


def _size(laid: Laid) -> tuple[float, float]:
    mine = measure(laid)
    return (0.0, 0.0) if mine is None else (mine.widest_mm / (2 if laid.tube else 1), mine.high_mm)


def _straight(
    name: str, one: PieceTold, laid: Laid, mine: Sequence[Measured], times: int
) -> OutlineOf | None:
    counted = measure(laid)
    if counted is None:
        return None
    picture = schematic(
        name,
        [laid],
        0,
        lambda mm: lengths_words(mm, "metric"),
        scale=1 / times,
        knitted=_known(counted, mine),
    )
    if picture is None:
        return None
    return _finished(name, one, picture.drawing.shapes, "its rows laid straight", times)


def _known(counted: Measures, mine: Sequence[Measured]) -> Measures:
    """What the cloth measures, in place of what its rows do when they are laid straight."""
    rows = [m.mm for m in mine if m.what in {"width", "round"}]
    edges = {m.what: m.mm for m in mine}
    length = edges.get("length", counted.high_mm)
    return Measures(
        first_mm=rows[0] if rows else counted.first_mm,
        widest_mm=max(rows, default=counted.widest_mm),
        last_mm=rows[-1] if rows else counted.last_mm,
        left_mm=edges.get("left edge", length),
        right_mm=edges.get("right edge", length),
        high_mm=counted.high_mm,
    )


# --- both ------------------------------------------------------------------------------------------


def _finished(name: str, one: PieceTold, shapes: Sequence[Shape], how: str, times: int) -> OutlineOf:
    """The drawing with the measures under it, and its words."""
    body = fitted(shapes)
    lines = [
        f"{f.of}: {_cm(f.mm)} ({_number_of(f.mm - f.off_mm)} to {_number_of(f.mm + f.off_mm)})"
        for f in one.figures
    ]
    scale = "full size" if times == 1 else f"1 cm of the drawing is {times} cm of cloth"
    said = [name[:1].upper() + name[1:], f"{how}; {scale}", *lines]
    texts: list[Shape] = [
        Text(x_mm=0, y_mm=body.height_mm + 5 + n * _LINE, words=words, size_mm=_TYPE, colour=INK)
        for n, words in enumerate(said)
    ]
    words = f"Outline of {name}, {how}; {scale}. {'; '.join(lines)}."
    return OutlineOf(name=name, drawing=fitted([Group(shapes=body.shapes), *texts]), words=words)


def _cm(mm: float) -> str:
    return f"{length_words(mm, 'cm')} cm"


def _number_of(mm: float) -> str:
    return length_words(max(mm, 0.0), "cm")
