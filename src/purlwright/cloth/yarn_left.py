"""What can be asked of the yarn that is left: when to stop, and whether one more repeat can be worked.

In: the yarn taken by one knitting, row by row. Out: plain numbers and frozen answers, in metres. What is left
in a ball is weighed by the knitter; every answer is given with the most that it may take.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.cloth.yarn import YarnTaken, YarnUse
    from purlwright.needles.knitted import Knitted

__all__ = ["LastRepeat", "OneMore", "balls_for", "last_repeat", "needed_after", "one_more"]


@dataclass(frozen=True, slots=True, kw_only=True)
class OneMore:
    """Whether one more repeat can be worked and the piece still be ended.

    ``repeat`` is what one more repeat takes, ``rest`` what is needed after it, ``left`` what there is; all in
    metres. ``sure`` is true if even the most that they may take is there, ``no`` if even the least is not.
    """

    repeat: float
    rest: float
    left: float
    sure: bool
    no: bool


def _column(taken: YarnTaken, use: YarnUse) -> int:
    return taken.uses.index(use)


def needed_after(taken: YarnTaken, use: YarnUse, order: int) -> tuple[float, float]:
    """Metres of a yarn that are needed after the entry with a ledger order, to the end of the words; and the
    most that it may be. Below that she should stop and end the work.
    """
    after = taken.metres[taken.order > order, _column(taken, use)]
    need = float(after.sum())
    return need, need * (use.most / use.metres if use.metres else 1.0)


def one_more(
    taken: YarnTaken, use: YarnUse, rows: Sequence[int], ending: int, left: float, growth: float = 0.0
) -> OneMore:
    """Whether there is yarn for one more working of some rows, and for what follows the last of them.

    rows : ledger orders of the last working of the repeat.
    ending : ledger order after which only the ending is left: the last row of the last repeat.
    left : metres there are.
    growth : share by which each repeat takes more than the one before, as in a shawl that widens; the ending
        grows by as much.
    """
    column = taken.metres[:, _column(taken, use)]
    repeat = float(column[np.isin(taken.order, np.asarray(rows))].sum()) * (1 + growth)
    rest = needed_after(taken, use, ending)[0] * (1 + growth)
    short, long = (use.least / use.metres, use.most / use.metres) if use.metres else (1.0, 1.0)
    need = repeat + rest
    return OneMore(repeat=repeat, rest=rest, left=left, sure=need * long <= left, no=need * short > left)


def balls_for(metres: float, ball_metres: float) -> int:
    """Whole balls for a length. Raises ValueError unless a ball has some length."""
    if ball_metres <= 0:
        raise ValueError(f"a ball has some length, not {ball_metres} m")
    return int(-(-round(metres, 6) // ball_metres))


@dataclass(frozen=True, slots=True, kw_only=True)
class LastRepeat:
    """The rows that are worked again and again before the ending, as they were worked for the last time.

    rows : ledger orders. growth : by what share the last working took more stitches than the one before.
    """

    rows: tuple[int, ...]
    growth: float


def last_repeat(knitted: Knitted) -> LastRepeat | None:
    """The last rows that repeat the rows before them; None where nothing repeats.

    In the piece with the most stitches: the shortest stretch that ends with the last row worked for a second
    or later time, and has just before it rows of the same names in the same order.
    """
    pieces = knitted.ledger.pieces
    piece = max(pieces, key=lambda p: sum(e.worked for e in p.rows), default=None)
    rows = [e for e in piece.rows if e.kind in {Kind.ROW, Kind.ROUND}] if piece is not None else []
    names = [(e.line, e.label, e.number, e.copied.label if e.copied else "") for e in rows]
    for end in range(len(rows) - 1, 0, -1):
        for length in range(1, (end + 1) // 2 + 1):
            if names[end] != names[end - length]:
                continue
            last, before = rows[end - length + 1 : end + 1], rows[end - 2 * length + 1 : end - length + 1]
            if names[end - length + 1 : end + 1] == names[end - 2 * length + 1 : end - length + 1]:
                worked, was = (sum(e.worked for e in stretch) for stretch in (last, before))
                return LastRepeat(rows=tuple(e.order for e in last), growth=worked / was - 1 if was else 0.0)
            break
    return None
