"""Statements over rows: so many rows alike, repeats of rows, shaping, joins and closings.

In: a statement of the tree and the knitter at work. Out: the statement worked. How is left to the module it
belongs to.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, assert_never

from msgspec.structs import replace

from purlwright.needles.again import repeat_rows, work_again, work_rows
from purlwright.needles.beside import at_same_time
from purlwright.needles.joining import arrange, close, gather, join_round, rejoin, resume
from purlwright.needles.shapings import shaping
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter

__all__ = ["work_statement"]


def work_statement(k: Knitter, s: tree.Statement, rest: Sequence[tree.Action], line: tree.Line) -> None:
    """Work one statement; ``rest`` are the actions that follow it in its line."""
    s = _to_the_count(k, s, rest)
    match s:
        case tree.WorkRows():
            work_rows(k, s)
        case tree.RepeatRows():
            repeat_rows(k, s, rest)
        case tree.Shaping():
            shaping(k, s, rest)
        case tree.Again():
            work_again(k, s, line)
        case tree.AtSameTime():
            at_same_time(k, s, rest, line)
        case tree.JoinRound():
            join_round(k)
        case tree.Rejoin():
            rejoin(k, s)
        case tree.Resume():
            resume(k, s)
        case tree.Close():
            close(k, s)
        case tree.Gather():
            gather(k, s)
        case tree.Arrange():
            arrange(k, s)
        case _:
            assert_never(s)


def _to_the_count(k: Knitter, s: tree.Statement, rest: Sequence[tree.Action]) -> tree.Statement:
    """In words: ``decreasing ... until the 4th cable is worked (93 sts)``: the total says where that is.

    Only where the words name a place that no count of rows or stitches gives, and the shaping leads there.
    """
    until = getattr(s, "until", None)
    after = rest[0] if rest else None
    if (
        not isinstance(s, tree.Shaping)
        or not isinstance(until, tree.Until)
        or not isinstance(after, tree.Stated)
        or after.kind != "total"
        or after.total is None
        or after.approximate
    ):
        return s
    named = until.things is not None or (until.length is not None and not until.length.values)
    want, have = after.total.at(k.size), k.worker.needles.live
    if not named or until.stitches is not None or until.rows is not None or want is None:
        return s
    towards = [x.change for x in s.steps if isinstance(x, tree.AtEdges)]
    if not towards or not all((want - have) * change > 0 for change in towards):
        return s
    return replace(s, until=tree.Until(stitches=after.total, span=until.span))
