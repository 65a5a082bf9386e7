"""One row by given steps, or an earlier row once more.

In: steps or an earlier row, and the knitter at work. Out: one row worked, or word that nothing could be.
How many rows, and which, is left to ``again`` and ``shapings``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from purlwright.needles.rowends import end_row
from purlwright.needles.state import STATEMENTS, Info, Row
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter

MOST_TIMES = 20_000
"""No words work more rows or repeats than this."""
PLAIN: tuple[tree.Step, ...] = (tree.InPattern(),)
EVEN: tuple[tree.Step, ...] = (tree.InPattern(how="even"),)
"""A row with no shaping: as established."""


def one_row(
    k: Knitter, steps: Sequence[tree.Action], *, passive: bool = False, own_shaping: bool = False
) -> bool:
    """Work one row by ``steps``. False when nothing could be worked."""
    before = len(k.entries)
    k.info.passive = passive
    k.info.own_shaping = own_shaping
    k.info.part = False
    actions, copied, at = k.info.actions, k.info.copied, k.info.at
    k.info.actions = tuple(steps)
    k.group(steps)
    end_row(k)
    k.info.actions, k.info.copied, k.info.at = actions, copied, at
    k.info.passive = k.info.own_shaping = False
    k.info.gave_up, k.info.left_behind = False, 0
    return len(k.entries) > before


def replay(k: Knitter, r: Row, *, new_pass: bool = True) -> bool:
    """Work an earlier row once more, under its own label and line."""
    was, offset = k.info, k.worker.offset
    k.info = Info(
        label=r.label, number=r.number, line=r.line, offset=r.offset, unit=r.unit, span=r.span, name=r.name,
        actions=r.actions, new_pass=new_pass, side=r.side,
        quiet=any(isinstance(a, tree.Unread) for a in r.actions),
    )  # fmt: skip
    k.info.quiet = k.info.quiet or r.line in k.bad
    k.worker.offset = r.offset
    before = len(k.entries)
    actions = [a for a in r.actions if not isinstance(a, (tree.Stated, *STATEMENTS))]
    needles = k.worker.needles
    if not any(b.kind == "marker" for b in (*needles.left_marks, *needles.right_marks)):
        actions = [a for a in actions if not _takes_all_off(a)]
    k.group(actions)
    end_row(k)
    k.info, k.worker.offset = was, offset
    if r.number is not None and r.entry >= 0:
        k.last_number = r.number
    return len(k.entries) > before


def _takes_all_off(a: tree.Action) -> bool:
    """Whether words take every marker off: a row repeated has none left to take."""
    return isinstance(a, tree.Marker) and a.act == "remove" and a.name == "all"
