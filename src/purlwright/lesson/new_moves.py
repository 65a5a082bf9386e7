"""The moves that a pattern asks for, in the order in which they first come: what a lesson teaches, and when.

In: one size, knitted. Out: each move once, with the row it comes in first. A move is a stitch of the
dictionary or one of the pattern's own, a way to turn, a cast-on, picking up, binding off, a graft or a
seam.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.fabric.arrays import Link
from purlwright.lesson.rows import label_of, parts_of
from purlwright.needles.ledger import Kind
from purlwright.stitches.kinds import Stitch

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.lesson.rows import Part
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["Move", "new_moves"]

_OTHER = {
    Kind.CAST_ON: "cast on",
    Kind.JOIN: "join in the round",
    Kind.PICK_UP: "pick up and knit",
    Kind.BIND_OFF: "bind off",
    Kind.GRAFT: "graft",
    Kind.SEAM: "sew a seam",
}

DRAW_THROUGH = "draw the yarn through the last stitches"

_AGAIN = {
    "co": "cast on during a row",
    "pick up k": "pick up and knit",
    "pick up p": "pick up and purl",
    "pick up": "pick up and knit",
}
"""Stitches of a row that are moves of another kind."""
_TURNS = {"turn": "turn before the end of the row", "w&t": "wrap and turn before the end of the row"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A move. ``key`` is its name in the dictionary, or hers; ``stitch`` the entry, if there is one; ``side``
    is that of the row it comes in first, "" where there is none.
    """

    key: str
    name: str
    stitch: Stitch | None
    takes: int
    makes: int
    order: int
    row: str
    section: str
    side: str = ""


def new_moves(knitted: Knitted, parts: Sequence[Part] | None = None) -> tuple[Move, ...]:
    """Each move where it first comes, in the order of work."""
    seen: set[str] = set()
    out: list[Move] = []
    for move in sorted(_met(knitted, parts or parts_of(knitted)), key=lambda m: m.order):
        if move.key not in seen:
            seen.add(move.key)
            out.append(move)
    return tuple(out)


def _drawn(knitted: Knitted, end: Entry) -> bool:
    """Whether the yarn was drawn through the last stitches: they all end, and nothing was made or joined."""
    f = knitted.fabric
    if end.end or end.worked != end.lost or (f.row_of_stitch == end.order).any():
        return False
    joined = {int(s) for side in (f.join_a, f.join_b) for s in side[f.join_kind == Link.JOINED]}
    before = max((e.order for e in knitted.ledger.entries if e.order < end.order), default=-1)
    return joined.isdisjoint((f.row_of_stitch == before).nonzero()[0].tolist())


def _met(knitted: Knitted, parts: Sequence[Part]) -> Iterator[Move]:
    for e in knitted.ledger.entries:
        if e.kind in _OTHER:
            name = DRAW_THROUGH if e.kind is Kind.BIND_OFF and _drawn(knitted, e) else _OTHER[e.kind]
            yield Move(
                key=name,
                name=name,
                stitch=None,
                takes=0,
                makes=0,
                order=e.order,
                row=e.label or name,
                section=e.section,
            )
    f = knitted.fabric
    wrapped = set(f.row_of_stitch[f.join_a[f.join_kind == Link.WRAPPED]].tolist())
    for part in parts:
        for row in part.rows:
            for d in row.seen.done:
                if d.stitch is not None and d.stitch.family.value == "bind-off":
                    continue
                name = _AGAIN.get(d.name, d.stitch.name_us if d.stitch is not None else d.name)
                yield Move(
                    key=name if d.name in _AGAIN else d.stitch.key if d.stitch is not None else d.name,
                    name=name,
                    stitch=None if d.name in _AGAIN else d.stitch,
                    takes=len(d.taken),
                    makes=len(d.made),
                    order=row.order,
                    row=label_of(row) or row.name,
                    section=part.name,
                    side=row.seen.side,
                )
            if row.seen.waiting:
                key = "w&t" if row.order in wrapped else "turn"
                yield Move(
                    key=key, name=_TURNS[key], stitch=None, takes=0, makes=0, order=row.order,
                    row=label_of(row) or row.name, section=part.name,
                )  # fmt: skip
