"""Rows that a safety thread may be run through: plain rows of lace, when no turn is open.

In: what the lines did. Out: the places of those lines. A row is one of them if every stitch of it is a plain
knit or purl stitch in every size and working, and lace stands in the same section.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.query import row_slice
from purlwright.stitches.kinds import Family, Loose
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry
    from purlwright.sheet.compose.worked import Worked

__all__ = ["lifelines"]


_APART = 8
"""So many rows lie between two of them at least: a thread in every other row is more bother than help. Common
practice is one a repeat, or every ten rows or so; no source."""
_FEW = 8
"""A single row of lace has a hole in so many stitches at least, or is one of buttonholes. By eye."""


def lifelines(worked: Worked) -> frozenset[int]:
    """The places of the lines whose row is safe; of those that lie close together the last."""
    out: set[int] = set()
    for section in worked.told.pattern.sections:
        if section.kind != "work":
            continue
        plain: dict[int, bool] = {}
        first: dict[int, int] = {}
        holed: set[int] = set()
        lace = False
        for line in section.lines:
            for n, entries in enumerate(worked.rows_of(line)):
                knitted = worked.told.knitted[n]
                for entry in entries:
                    ops = _ops(knitted, entry)
                    if _is_lace(ops):  # a row of buttonholes or eyelets by itself is none
                        lace = lace or n in holed or _holes(knitted, entry) * _FEW >= entry.end
                        holed.add(n)
                    safe = ops <= {"k", "p"} and bool(ops) and not entry.gaps and not entry.unworked
                    safe = safe and not entry.resumed and entry.made == entry.lost == 0
                    plain[line.offset] = plain.get(line.offset, True) and safe
                    first.setdefault(line.offset, entry.order)
        if lace:
            out.update(_apart({first[place]: place for place, safe in plain.items() if safe}))
    return frozenset(out)


def _apart(places: dict[int, int]) -> Iterator[int]:
    """Of places by the order of their rows those that lie apart, from the last one back."""
    above = None
    for order in sorted(places, reverse=True):
        if above is None or above - order >= _APART:
            yield places[order]
            above = order


def _ops(knitted: Knitted, entry: Entry) -> set[str]:
    fabric = knitted.fabric
    return {fabric.ops[i] for i in np.unique(fabric.op_of_stitch[row_slice(fabric, entry.order)])}


def _holes(knitted: Knitted, entry: Entry) -> int:
    """How many yarn overs the row has."""
    fabric = knitted.fabric
    known = dictionary().stitches
    over = [n for n, op in enumerate(fabric.ops) if op in known and known[op].loose is Loose.OVER]
    return int(np.isin(fabric.op_of_stitch[row_slice(fabric, entry.order)], over).sum())


def _is_lace(ops: set[str]) -> bool:
    stitches = [s for s in (dictionary().stitches.get(op) for op in ops) if s is not None]
    return any(s.loose is Loose.OVER for s in stitches) and any(s.family is Family.DECREASE for s in stitches)
