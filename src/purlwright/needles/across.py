"""Rows whose words are one pass of a repeat that nobody says: "Rnd 1: K8, k2tog" with 80 stitches.

In: the knitter, just after the words of a row. Out: the same words worked again to the end of the row, with a
finding; nothing where the words are no whole part of the row, or may be meant to stop.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from purlwright.needles import problems
from purlwright.pattern import tree
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter

__all__ = ["work_across"]


def _one_decrease(steps: Sequence[tree.Action]) -> bool:
    """Whether the words are one decrease and no more."""
    one = steps[0] if len(steps) == 1 else None
    if not isinstance(one, tree.Work) or one.own or one.count.values != (1,):
        return False
    stitch = dictionary().find(one.stitch)
    return stitch is not None and stitch.family is Family.DECREASE


_LEAST = 3
"""So often at least must the words go into the row; half a row may well be meant."""


def work_across(k: Knitter, part: Sequence[tree.Action]) -> None:
    """Works the words of a row to its end if they stop short of it and go into it a whole number of times.

    Only words of several stitches, as "k8, k2tog" or "k1, p1", and a decrease alone, as "K2tog" with 40
    stitches; "k20" may be the beginning of something.
    """
    w = k.worker
    if w.right_at_start or w.left_over <= 0:
        return
    steps = [s for s in part if not isinstance(s, (tree.Note, tree.Stated))]
    kinds = {s.stitch for s in steps if isinstance(s, tree.Work)}
    if not all(isinstance(s, (tree.Work, tree.Cross)) for s in steps):
        return
    if len(kinds) < 2 and not _one_decrease(steps):
        return
    w.flush()
    used, rest = w.count.worked, len(w.needles.left)
    if used < 2 or rest % used or rest // used + 1 < _LEAST or w.count.returned or w.count.held:
        return
    times = rest // used + 1
    span = steps[0].span.cover(steps[-1].span) if steps[0].span.end >= 0 else Span(0, 0)
    k.report(problems.RepeatUnsaid(k.info.name_of_row(), used, times), span)
    for _ in range(times - 1):
        w.row(steps)
