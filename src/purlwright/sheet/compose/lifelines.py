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
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry
    from purlwright.sheet.compose.worked import Worked

__all__ = ["lifelines"]


def lifelines(worked: Worked) -> frozenset[int]:
    """The places of the lines whose row is safe."""
    out: set[int] = set()
    for section in worked.told.pattern.sections:
        if section.kind != "work":
            continue
        plain: dict[int, bool] = {}
        lace = False
        for line in section.lines:
            for n, entries in enumerate(worked.rows_of(line)):
                knitted = worked.told.knitted[n]
                for entry in entries:
                    ops = _ops(knitted, entry)
                    lace = lace or _is_lace(ops)
                    safe = ops <= {"k", "p"} and bool(ops) and not entry.gaps and not entry.unworked
                    safe = safe and not entry.resumed and entry.made == entry.lost == 0
                    plain[line.offset] = plain.get(line.offset, True) and safe
        if lace:
            out.update(place for place, safe in plain.items() if safe)
    return frozenset(out)


def _ops(knitted: Knitted, entry: Entry) -> set[str]:
    fabric = knitted.fabric
    return {fabric.ops[i] for i in np.unique(fabric.op_of_stitch[row_slice(fabric, entry.order)])}


def _is_lace(ops: set[str]) -> bool:
    stitches = [s for s in (dictionary().stitches.get(op) for op in ops) if s is not None]
    return any(s.loose is Loose.OVER for s in stitches) and any(s.family is Family.DECREASE for s in stitches)
