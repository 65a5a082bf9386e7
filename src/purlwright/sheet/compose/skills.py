"""What a knitter must know how to do for this sheet, told from what is really knitted.

In: the told pattern and its knittings. Out: one line a technique, in the order a piece is begun, worked and
finished. A list is preferred to a word such as "intermediate".
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.query import waste_yarns
from purlwright.needles.ledger import Kind
from purlwright.pattern import tree
from purlwright.pattern.tree import TurnHow
from purlwright.stitches.kinds import Family, Loose
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.needles.knitted import Knitted
    from purlwright.sheet.compose.told import Told

__all__ = ["skills"]

_TURNS = {
    TurnHow.PLAIN: "short rows", TurnHow.WRAP: "short rows with wrapped turns",
    TurnHow.DOUBLE: "short rows with double stitches at the turns",
    TurnHow.OVER: "short rows with yarn overs at the turns", TurnHow.PIN: "short rows with pinned loops",
    TurnHow.TWIN: "short rows with twin stitches",
}  # fmt: skip
_CLOSED = {
    "graft": "grafting", "seam": "sewing seams", "three-needle": "joining two needles by binding off",
}  # fmt: skip


def skills(told: Told) -> tuple[str, ...]:
    """The techniques, each once."""
    return tuple(dict.fromkeys(line for line in _skills(told) if line))


def _skills(told: Told) -> Iterator[str]:
    nodes = [n for line in told.pattern.lines for n in tree.walk(line.actions)]
    kinds = {e.kind for k in told.knitted for e in k.ledger.entries}
    ops = {op for k in told.knitted for op in _ops(k)}
    stitches = [s for s in (dictionary().stitches.get(op) for op in ops) if s is not None]
    families = {s.family for s in stitches}
    if any(isinstance(n, tree.CastOn) and n.provisional for n in nodes):
        yield "casting on provisionally"
    flat, turned = Kind.ROW in kinds, Kind.ROUND in kinds
    if flat and turned:
        yield "knitting back and forth and in the round"
    elif turned:
        yield "knitting in the round"
    elif flat:
        yield "knitting back and forth in rows"
    if {"k", "p"} <= ops and (flat or turned):
        yield "knit and purl"
    for how in dict.fromkeys(
        n.how for n in nodes if isinstance(n, tree.Turn) and not n.never and not n.slide
    ):
        if any(e.unworked for k in told.knitted for e in k.ledger.entries):
            yield _TURNS[how]
    lace = Family.DECREASE in families and any(_is_holed(k) for k in told.knitted)
    if Family.BRIOCHE in families:
        yield "brioche"
    elif lace:
        yield "lace: yarn overs beside decreases"
    if "buttonhole" in told.text.casefold():
        yield "making buttonholes"
    if Family.CABLE in families:
        yield "cables"
    if Family.TWIST in families:
        yield "twisted stitches that cross"
    if Family.INCREASE in families or any(s.net > 0 for s in stitches if s.family is Family.GROUP):
        yield "increasing"
    if Family.DECREASE in families:
        yield "decreasing"
    yield from _colours(told)
    if told.pattern.charts:
        yield "working from a chart"
    if any(isinstance(n, tree.Marker) for n in nodes):
        yield "placing and slipping markers"
    if any(isinstance(n, tree.Hold) for n in nodes):
        yield "leaving stitches on a holder and taking them up again"
    if Kind.PICK_UP in kinds or any(isinstance(n, tree.PickUp) for n in nodes):
        yield "picking up stitches along an edge"
    if any(isinstance(n, tree.EdgeJoin) for n in nodes):
        yield "joining to an edge as you go"
    if Kind.BIND_OFF in kinds or any(isinstance(n, tree.BindOff) for n in nodes):
        yield "binding off" if told.terms == "US" else "casting off"
    for closed in dict.fromkeys(n.how for n in nodes if isinstance(n, tree.Close)):
        yield _CLOSED[closed]
    if any(isinstance(n, tree.Gather) for n in nodes):
        yield "drawing the yarn through the last stitches"


_HOLES = 100
"""Lace has at least one yarn over in so many stitches, and in more rows than one; fewer are buttonholes or
eyelets. By eye."""


def _is_holed(knitted: Knitted) -> bool:
    """Whether there are yarn overs enough for lace."""
    fabric = knitted.fabric
    stitches = (dictionary().stitches.get(op) for op in fabric.ops)
    over = [n for n, s in enumerate(stitches) if s is not None and s.loose is Loose.OVER]
    at = np.isin(fabric.op_of_stitch, over)
    rows = np.unique(fabric.row_of_stitch[at])
    return len(rows) > 1 and int(at.sum()) * _HOLES >= fabric.n


def _ops(knitted: Knitted) -> set[str]:
    """The keys of the stitches that were worked."""
    fabric = knitted.fabric
    return {fabric.ops[i] for i in np.unique(fabric.op_of_stitch)}


def _colours(told: Told) -> Iterator[str]:
    """Two yarns in one row are stranded, unless one is slipped past; in rows of their own, stripes."""
    for knitted in told.knitted:
        fabric = knitted.fabric
        kept = ~np.isin(fabric.yarn_of_stitch, list(waste_yarns(fabric.yarns)))
        row, yarn = fabric.row_of_stitch[kept], fabric.yarn_of_stitch[kept].astype(np.int32)
        if len(np.unique(yarn)) < 2:
            continue
        pairs = np.unique(np.stack([row, yarn]), axis=1)
        together = len(np.unique(pairs[0])) < pairs.shape[1]
        slipped = any(e.worked > 0 and e.chains_right >= 0 for e in knitted.ledger.entries) and _slips(
            knitted
        )
        if together:
            yield "knitting with two colours in a row"
        elif slipped:
            yield "slip-stitch colour work, one yarn at a time"
        else:
            yield "changing colours"
        return


def _slips(knitted: Knitted) -> bool:
    """Whether stitches are slipped in the middle of the fabric."""
    moves = knitted.moves
    slips = {n for n, op in enumerate(moves.ops) if op.startswith("sl")}
    return bool(slips & set(np.unique(moves.op_of_move).tolist()))
