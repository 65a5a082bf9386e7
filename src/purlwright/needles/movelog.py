"""From the worker's log to the array of moves.

In: runs and single actions, in working order. Out: :class:`~purlwright.fabric.moves.Moves`. Keeping the log
is left to ``worker``.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from purlwright.fabric.moves import Moves
from purlwright.needles.optable import op_table
from purlwright.stitches.kinds import Face

__all__ = ["moves_of"]


def moves_of(log: list[tuple[Any, ...]]) -> Moves:
    """Lay out a log as arrays; an empty log gives empty arrays."""
    t = op_table()
    front = np.array(
        [1 if s is not None and (Face.PURL in s.faces[:1] or "wyif" in s.key) else 0 for s in t.stitches],
        np.int8,
    )
    ops: list[Any] = []
    taken: list[Any] = []
    made: list[Any] = []
    stitch: list[Any] = []
    rows: list[Any] = []
    spans: list[Any] = []
    passes: list[Any] = []
    for entry in log:
        if entry[0] == "run":
            _, o, sp, pa, first, row = entry
            n = len(o)
            makes = t.makes[o]
            children = np.repeat(t.first_child[o] - (np.cumsum(makes) - makes), makes) + np.arange(
                int(makes.sum())
            )
            new = np.concatenate([[0], np.cumsum(t.child_new[children])])
            ends = np.cumsum(makes)
            before = new[ends - makes]
            here = new[ends] - before
            ops.append(o)
            taken.append(t.takes[o])
            made.append(makes)
            stitch.append(np.where(here > 0, first + before, -1))
            rows.append(np.full(n, row))
            spans.append(np.broadcast_to(sp, n))
            passes.append(np.broadcast_to(pa, n))
        elif entry[0] == "act":
            _, op, span, take, make, row = entry
            ops.append([op])
            taken.append([take])
            made.append([make])
            stitch.append([-1])
            rows.append([row])
            spans.append([span])
            passes.append([1])

    def cat(parts: list[Any], dtype: Any) -> Any:
        a = np.concatenate(parts).astype(dtype) if parts else np.zeros(0, dtype)
        a.flags.writeable = False
        return a

    o = cat(ops, np.int16)
    return Moves(
        ops=tuple(t.keys), op_of_move=o, taken_of_move=cat(taken, np.int16), made_of_move=cat(made, np.int16),
        stitch_of_move=cat(stitch, np.int32), row_of_move=cat(rows, np.int32),
        front_of_move=front[o] if len(o) else np.zeros(0, np.int8), span_of_move=cat(spans, np.int32),
        pass_of_move=cat(passes, np.int32),
    )  # fmt: skip
