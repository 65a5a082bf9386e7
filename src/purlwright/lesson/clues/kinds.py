"""All kinds of clue, and all clues of a part.

In: a part of one size. Out: every clue that any kind finds in it. K28 (all sizes), K29 (touch) and K32
(cost) say something of the others, and K30 (the first sign of trouble) needs the pattern knitted again, so
they stand apart.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from purlwright.lesson.clues import (
    before_row,
    beyond_gap,
    column_stays,
    constant_count,
    count_tells_row,
    edge_chains,
    edge_shape,
    faces_below,
    fenced,
    fingerprint,
    gap_list,
    halves,
    kinds_of_rows,
    landmarks,
    lean,
    left_over,
    line_walks,
    milestones,
    never_reached,
    remainder,
    ridges,
    row_ends,
    side,
    since_landmark,
    size_now,
    steady_growth,
    under,
    yarn_used,
)
from purlwright.lesson.clues.clue import Clue
from purlwright.lesson.clues.touch import BY_TOUCH
from purlwright.lesson.rows import Part

__all__ = ["KINDS", "clues_of"]

KINDS: Mapping[str, Callable[[Part], Iterator[Clue]]] = {
    "K01": constant_count.find,
    "K02": steady_growth.find,
    "K03": remainder.find,
    "K04": count_tells_row.find,
    "K05": never_reached.find,
    "K06": fenced.find,
    "K07": halves.find,
    "K08": row_ends.find,
    "K09": left_over.find,
    "K10": under.find,
    "K11": column_stays.find,
    "K12": line_walks.find,
    "K13": kinds_of_rows.find,
    "K14": side.find,
    "K15": ridges.find,
    "K16": edge_chains.find,
    "K17": since_landmark.find,
    "K18": gap_list.find,
    "K19": beyond_gap.find,
    "K20": edge_shape.find,
    "K21": lean.find,
    "K22": faces_below.find,
    "K23": landmarks.find,
    "K25": yarn_used.find,
    "K26": milestones.find,
    "K27": fingerprint.find,
    "K31": before_row.find,
}


def clues_of(
    part: Part, stitches_per_10_cm: Fraction | None = None, rows_per_10_cm: Fraction | None = None
) -> tuple[Clue, ...]:
    """Every clue of a part, by kind; none for a part with rows that were not read. The gauge is that of its
    fabric.
    """
    if not part.rows:
        return ()
    found = [clue for find in KINDS.values() for clue in find(part)]
    found += size_now.find(part, stitches_per_10_cm, rows_per_10_cm)
    return tuple(replace(c, touch=c.touch or c.kind in BY_TOUCH) for c in sorted(found, key=lambda c: c.kind))
