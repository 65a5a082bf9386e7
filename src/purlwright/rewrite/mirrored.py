"""Whether a mirrored piece came out.

In: a knitting with two halves. Out: "", or what is not mirrored. What a mirrored row is, ``pattern/mirrored``
says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Link
from purlwright.fabric.query import parent_links, parents
from purlwright.pattern.mirrored import NoMirror, other_hand

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["not_mirrored"]


def not_mirrored(knitted: Knitted, one: str, other: str) -> str:
    """What is not mirrored between two pieces, by their names; "" if every stitch is."""
    pieces = {p.name: p for p in knitted.ledger.pieces}
    if one not in pieces or other not in pieces:
        return "the two halves are not two pieces"
    rows, theirs = pieces[one].rows, pieces[other].rows
    if len(rows) != len(theirs):
        return f"it has {len(theirs)} rows, and the other half {len(rows)}"
    fabric = knitted.fabric
    ops = np.array(fabric.ops)[fabric.op_of_stitch]
    partner: dict[int, int] = {}
    for n, (a, b) in enumerate(zip(rows, theirs, strict=True), 1):
        if (a.kind, a.side, a.end, a.made, a.lost) != (b.kind, b.side, b.end, b.made, b.lost):
            return f"its row {n} ends with {b.end} stitches, and that of the other half with {a.end}"
        mine, other_ids = _made(knitted, a), _made(knitted, b)[::-1]
        if len(mine) != len(other_ids):
            return f"its row {n} makes {len(other_ids)} stitches, and that of the other half {len(mine)}"
        partner.update(zip(mine, other_ids, strict=True))
        for x, y in zip(mine, other_ids, strict=True):
            if not _same_hand(str(ops[x]), str(ops[y])):
                return f"its row {n} has {ops[y]} in the place that mirrors {ops[x]}"
            if {partner.get(p) for p in _stands_on(fabric, x)} != _stands_on(fabric, y):
                return f"the stitches of its row {n} do not stand over those that they should"
    return ""


def _made(knitted: Knitted, entry: Entry) -> list[int]:
    return [int(i) for i in np.flatnonzero(knitted.fabric.row_of_stitch == entry.order)]


def _stands_on(fabric: Fabric, stitch: int) -> set[int]:
    """The stitches that it is drawn through; a lifted strand lies between two, and counts to neither."""
    drawn = zip(parents(fabric, stitch), parent_links(fabric, stitch), strict=True)
    return {int(p) for p, link in drawn if link != Link.STRAND}


def _same_hand(one: str, other: str) -> bool:
    try:
        return other_hand(one) == other
    except NoMirror:
        return False
