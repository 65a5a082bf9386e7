"""One true thing to see after a row, read off the fabric.

In: one knitted size and an entry of its ledger. Out: a sentence, or "" where nothing tells the row apart. A
thing is said only if it is so in the fabric that was knitted.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.query import row_slice
from purlwright.needles.ledger import ROWS
from purlwright.stitches.kinds import Family, Loose
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["look_for"]

_LEAN = {"left": "lean to the left", "right": "lean to the right", "centre": "stand upright"}


def look_for(knitted: Knitted, entry: Entry) -> str:
    """What can be seen when the row is done: the gap of a turn, the holes, the crossings, the lean."""
    if entry.kind not in ROWS or entry.unread or entry.resumed:
        return ""
    if entry.unworked:
        return _gap(entry)
    stitches = dictionary().stitches
    fabric = knitted.fabric
    part = row_slice(fabric, entry.order)
    ops, counts = np.unique(fabric.op_of_stitch[part], return_counts=True)
    met = [(stitches.get(fabric.ops[op]), int(n)) for op, n in zip(ops, counts, strict=True)]
    overs = sum(n for s, n in met if s is not None and s.loose is Loose.OVER and s.family is Family.LACE)
    if overs:
        return f"{_many(overs, 'new yarn over lies', 'new yarn overs lie')} on the needle."
    crossed = sum(n // max(1, s.makes) for s, n in met if s is not None and s.family is Family.CABLE)
    if crossed:
        return f"{_many(crossed, 'new crossing', 'new crossings')} in this {entry.kind.value}."
    leans = {
        s.lean.value: n for s, n in met if s is not None and s.family is Family.DECREASE and s.takes > s.makes
    }
    if len(leans) == 1 and set(leans) <= set(_LEAN):
        ((lean, n),) = leans.items()
        said = _LEAN[lean] if n > 1 else _LEAN[lean].replace("lean", "leans").replace("stand", "stands")
        return f"{_many(n, 'decrease', 'decreases')} that {said}, seen from the right side."
    if entry.gaps:
        n = len(entry.gaps)
        return f"{_many(n, 'gap is', 'gaps are')} left open by the turns."
    return ""


def _gap(entry: Entry) -> str:
    n = entry.unworked
    return f"{_many(n, 'stitch waits', 'stitches wait')} unworked beyond the turn."


def _many(n: int, one: str, more: str) -> str:
    return f"{n} {one if n == 1 else more}"
