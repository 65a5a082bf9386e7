"""The picture of a whole cloth: loop by loop where it lies flat and is small enough, else as a thing.

In: a settled knitting. Out: a drawing, and what it shows, in a sentence. Which yarn is drawn in which
colour is told from the words of its name where they name a colour.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np

from purlwright.cloth.flatness import Verdict
from purlwright.cloth.loop_drawing import Look, draw_loops
from purlwright.cloth.loops import Loops, loops
from purlwright.cloth.mesh import EdgeKind, rims_of
from purlwright.cloth.view import FROM_BEHIND, FROM_THE_FRONT, FROM_THE_SIDE, draw_view, hung, stood_up
from purlwright.cloth.worn import axis_of, worn_up

if TYPE_CHECKING:
    from purlwright.cloth.loops import Floats
    from purlwright.cloth.settled import Settled
    from purlwright.drawing import Drawing
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.header import Header

__all__ = [
    "MOST_LOOPS",
    "NoWrongSide",
    "lies_flat",
    "look_for",
    "look_of",
    "loops_of",
    "portrait",
    "standing",
]

Side: TypeAlias = Literal["right", "wrong"]

MOST_LOOPS = 4000
"""A picture with more loops than that is too fine to be seen, and slow to open."""

_WIDER = 3
"""Last rows so many times as long as the first are the lower edge of something that hangs."""

_COLOURS: Mapping[str, str] = MappingProxyType(
    {
        "black": "#33312f", "charcoal": "#4a4a4c", "white": "#ece8df", "cream": "#e6dcc3",
        "natural": "#ddd0b4", "ecru": "#d9ccae", "grey": "#8e9092", "gray": "#8e9092",
        "silver": "#b4b7ba", "red": "#a83a34", "crimson": "#952f3c", "rust": "#a4573d",
        "orange": "#c87636", "ochre": "#b98a3c", "mustard": "#bb9434", "gold": "#c19b3f",
        "yellow": "#d9bd52", "green": "#5f7d52", "moss": "#6f7a45", "olive": "#75753e", "kelp": "#585f39",
        "teal": "#3f7470", "turquoise": "#4b9292", "blue": "#4a6f96", "navy": "#33415f",
        "indigo": "#3f4478", "purple": "#6f5486", "violet": "#77598f", "heather": "#8b7796",
        "lilac": "#a793b8", "pink": "#c98a97", "rose": "#b96a77", "brown": "#7b5a41", "peat": "#54402f",
        "sand": "#cdb38b", "fawn": "#bfa17c", "beige": "#cbb898", "slate": "#5f6a74", "foam": "#dfe6e2",
        "coral": "#cf7863",
    }
)  # fmt: skip
"""Colours of yarn by the words that name them; by eye."""


def look_of(names: Sequence[str]) -> Look:
    """The colours for yarns with these names or words; where none is named, one of the usual."""
    usual = Look()
    chosen: list[str] = []
    for n, name in enumerate(names):
        words = re.findall(r"[a-z]+", name.lower())
        named = next((_COLOURS[w] for w in reversed(words) if w in _COLOURS), None)
        free = next((c for c in usual.yarns[n:] + usual.yarns if c not in chosen), usual.yarns[0])
        chosen.append(free if named is None or named in chosen else named)
    return Look(yarns=tuple(chosen)) if chosen else usual


def look_for(header: Header, knitted: Knitted) -> Look:
    """The colours for the yarns of a knitting, by what the header says of each.

    A yarn that no stitch is of takes no colour from the others.
    """
    told = {y.name.casefold(): y.words for y in header.yarns}
    alone = header.yarns[0].words if len(header.yarns) == 1 else ""
    words = [f"{y} {told.get(y.casefold(), '' if y else alone)}" for y in knitted.fabric.yarns]
    used = np.unique(knitted.fabric.yarn_of_stitch)
    mine: list[int] = [n for n in used.tolist() if 0 <= n < len(words)]
    if not mine:
        return Look()
    colours: dict[int, str] = dict(zip(mine, look_of([words[n] for n in mine]).yarns, strict=True))
    return Look(yarns=tuple(colours.get(n, colours[mine[0]]) for n in range(len(words))))


def loops_of(knitted: Knitted, settled: Settled, at_mm: Floats | None = None) -> Loops:
    """The loops of all stitches where they lie in the settled cloth; or at (k, 3) places of its nodes."""
    at_mm = settled.shape.position_mm if at_mm is None else at_mm
    mesh = settled.mesh
    own = np.flatnonzero(~mesh.slipped)
    _, first = np.unique(mesh.stitch[own], return_index=True)
    node = own[first]
    return loops(
        knitted.fabric,
        mesh.stitch[node],
        at_mm[node],
        width_mm=float(settled.rest.stitch_mm.mean()),
        height_mm=float(settled.rest.row_mm.mean()),
    )


def lies_flat(settled: Settled) -> bool:
    """Whether all of it lies flat in one layer, so that it is shown as it is pinned out."""
    return bool(settled.flatness) and all(f.verdict is Verdict.FLAT for f in settled.flatness)


class NoWrongSide(ValueError):  # noqa: N818 - a reason, not a fault
    """Why the wrong side of a cloth cannot be shown, in a sentence."""


def standing(
    knitted: Knitted,
    settled: Settled,
    look: Look | None = None,
    *,
    within_mm: tuple[float, float] | None = None,
    side: Side = "right",
) -> Drawing | None:
    """The picture of a cloth that takes a shape in space, seen a little from above; None if it lies flat.

    side : "wrong" shows it turned inside out: its mirror image, in which every stitch and every fold is as
    long as before. Raises NoWrongSide where it has no opening to turn it through, or one side only.
    """
    mesh, at = settled.mesh, settled.shape.position_mm
    stood, solid = stood_up(at, worn_up(knitted, mesh, at), axis_of(mesh, at))
    if not solid:
        return None
    if side == "wrong":
        if mesh.one_sided:
            raise NoWrongSide("The cloth has one side only, so there is no wrong side to turn out.")
        if not rims_of(mesh):
            raise NoWrongSide("The cloth is closed all round: it has no opening to turn it inside out.")
        stood = stood * (-1.0, 1.0, 1.0)
    yarn = knitted.fabric.yarn_of_stitch[mesh.stitch]
    faces = (mesh.first_of_face, mesh.node_of_face)
    return draw_view(stood, *faces, yarn, look, eye=FROM_THE_SIDE, within_mm=within_mm)


def _widens(settled: Settled) -> bool:
    """Whether a piece ends far wider than it begins, as a shawl does that hangs from where it is begun."""
    mesh = settled.mesh
    rows = np.diff(mesh.first_of_row)
    return mesh.components == 1 and len(rows) > 1 and bool(rows[-3:].max() > _WIDER * rows[:3].max())


def portrait(
    knitted: Knitted, settled: Settled, look: Look | None = None, *, side: Side = "right"
) -> tuple[Drawing, str]:
    """The picture of a settled cloth from one side, and what it shows. Raises NoWrongSide."""
    solid = standing(knitted, settled, look, side=side)
    if solid is not None:
        out = ", turned inside out: the paler side is the wrong side" if side == "wrong" else ""
        return solid, f"The whole, as it takes its shape by itself, seen a little from above{out}."
    mesh = settled.mesh
    wale = mesh.edge[mesh.edge_kind == EdgeKind.WALE]
    at = hung(settled.shape.position_mm, wale, down=_widens(settled))
    if knitted.fabric.n <= MOST_LOOPS:
        drawing = draw_loops(loops_of(knitted, settled, at), look, side=side)
        return drawing, f"The {side} side, each stitch as the loop of yarn it is."
    yarn = knitted.fabric.yarn_of_stitch[mesh.stitch]
    eye = FROM_BEHIND if side == "wrong" else FROM_THE_FRONT
    drawing = draw_view(at, mesh.first_of_face, mesh.node_of_face, yarn, look, eye=eye)
    return drawing, f"The {side} side, pinned out flat."
