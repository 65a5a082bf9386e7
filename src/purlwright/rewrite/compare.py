"""Whether two knittings are the same: row for row, stitch for stitch.

In: two knitted patterns. Out: "", or in words the first thing that differs. What was read and where its
words stand does not count; what is on the needles does.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["counts_differ", "difference"]

_ROW = ("kind", "side", "start", "worked", "unworked", "made", "lost", "held", "returned", "end")
_STITCH = (
    "row_of_stitch", "column_of_stitch", "seen_of_stitch", "side_of_stitch", "mount_of_stitch",
    "first_parent_of_stitch", "parent", "link", "join_a", "join_b", "join_kind",
)  # fmt: skip


def difference(mine: Knitted, other: Knitted) -> str:
    """The first thing in which the other knitting differs; "" if there is none."""
    return counts_differ(mine, other) or _fabric(mine.fabric, other.fabric)


def counts_differ(mine: Knitted, other: Knitted) -> str:
    """The first row whose counts differ in the other knitting; "" if there is none."""
    rows, theirs = mine.ledger.entries, other.ledger.entries
    for n, (a, b) in enumerate(zip(rows, theirs, strict=False), 1):
        if differs := _row(a, b):
            return f"row {n} of the work {differs}"
    return "" if len(rows) == len(theirs) else f"{len(theirs)} rows are worked instead of {len(rows)}"


def _row(a: Entry, b: Entry) -> str:
    if a.end != b.end:
        return f"ends with {b.end} stitches instead of {a.end}"
    for name in _ROW:
        if getattr(a, name) != getattr(b, name):
            return f"is not worked in the same way ({name})"
    return ""


def _fabric(mine: Fabric, other: Fabric) -> str:
    if mine.n != other.n:
        return f"{other.n} stitches are made instead of {mine.n}"
    ops, others = np.array(mine.ops)[mine.op_of_stitch], np.array(other.ops)[other.op_of_stitch]
    odd = np.flatnonzero(ops != others)
    if len(odd):
        i = int(odd[0])
        return f"row {int(mine.row_of_stitch[i])} has {others[i]} in the place of {ops[i]}"
    yarns = np.array(mine.yarns)[mine.yarn_of_stitch], np.array(other.yarns)[other.yarn_of_stitch]
    if not np.array_equal(*yarns):
        return "another yarn is used"
    for name in _STITCH:
        if not np.array_equal(getattr(mine, name), getattr(other, name)):
            return f"the stitches hang together otherwise ({name.replace('_', ' ')})"
    return ""
