"""Edges along a curve as the trade words them: bind-offs at the beginning of rows, then decreases.

In: an :class:`~purlwright.sizing.curves.Edge` or rounds. Out: lines with a count after each, which
Purlwright itself reads and knits.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from purlwright.sizing.curves import Edge, Rounds
from purlwright.sizing.lists import ordinal, times
from purlwright.sizing.shaping import Rate

__all__ = ["at_both_ends", "even", "increase_rounds", "one_side"]

Where: TypeAlias = Literal["both", "RS", "WS"]
"""Both ends; or one edge, bound off at the beginning of right-side or of wrong-side rows."""


def even(rows: int, kind: str = "row") -> str:
    """``Work 7 rows even.``"""
    return f"Work {rows} {kind}{'s' if rows > 1 else ''} even."


@dataclass(slots=True)
class _Lines:
    """Lines as they are written. ``row`` : the last one worked, counted from 1; the odd ones are RS rows."""

    where: Where
    count: int
    row: int
    edge: str
    lines: list[str] = field(default_factory=list)

    def say(self, words: str) -> None:
        self.lines.append(f"{words} ({self.count} sts)")

    def even_to(self, row: int) -> None:
        """Plain rows, so that ``row`` is the last one worked."""
        if row > self.row:
            self.lines.append(even(row - self.row))
            self.row = row

    def bind_off(self, rate: Rate, at: int) -> None:
        """``at`` : the first row of the first one's pair."""
        many = f"Bind off {rate.stitches} sts at the beginning of"
        if self.where == "both":
            self.even_to(at - 1)
            self.count -= 2 * rate.stitches * rate.times
            self.row = at + 2 * rate.times - 1
            self.say(f"{many} the next {2 * rate.times} rows.")
            return
        first = at - (self.where == "WS")
        if first - self.row > 2:
            self.even_to(first - 1)
        self.count -= rate.stitches * rate.times
        self.row = first + 2 * (rate.times - 1)
        often = (
            f"the next {self.where} row" if rate.times == 1 else f"the next {rate.times} {self.where} rows"
        )
        self.say(f"{many} {often}.")

    def decrease(self, rate: Rate, at: int, *, going_on: bool) -> None:
        """``going_on`` : decreases went before, so that ``rate`` counts from the last of them."""
        what = f"Dec 1 st at {self.edge} of"
        each = 2 if self.where == "both" else 1
        left = rate.times
        if not going_on:
            if at - self.row > 2:
                self.even_to(at - 1)
            first = rate.times if rate.every == 2 else 1
            self.count -= each * first
            self.row = at + 2 * (first - 1)
            self.say(f"{what} the next {'RS row' if first == 1 else f'{first} RS rows'}.")
            left -= first
        if left:
            every = {2: "every RS row"}.get(rate.every, f"every {ordinal(rate.every)} row")
            self.count -= each * left
            self.row += rate.every * left
            often = f"{every} {times(left)}" if left > 1 or rate.every == 2 else (
                f"the following {ordinal(rate.every)} row"
            )  # fmt: skip
            self.say(f"{what} {often}.")


def _written(edge: Edge, lines: _Lines, first: int) -> list[str]:
    """``first`` : the row of the first pair, on which decreases stand."""
    at = first + edge.before - 2
    going_on = False
    for rate in edge.rates.rates:
        at += rate.every
        if rate.stitches > 1:
            lines.bind_off(rate, at)
        else:
            lines.decrease(rate, at, going_on=going_on)
        going_on = rate.stitches == 1
        at += rate.every * (rate.times - 1)
    lines.even_to(edge.rows)
    return lines.lines


def at_both_ends(edge: Edge, stitches: int) -> list[str]:
    """Both edges of a piece, from the right-side row on; with the plain rows left at the end."""
    return _written(edge, _Lines("both", stitches, 0, "each end"), 1)


def one_side(edge: Edge, stitches: int, side: Literal["RS", "WS"]) -> list[str]:
    """One side of a neck after the row that divides, which is row 1.

    side : on which rows the neck edge stands at the beginning: WS for the side worked first.
    """
    return _written(edge, _Lines(side, stitches, 1, "neck edge"), 3)


def increase_rounds(found: Rounds) -> list[str]:
    """Rounds from the middle out, each increase round with its count."""
    out: list[str] = []
    count, each, done = found.start, 1, 1
    for rate in found.rates.rates:
        for _ in range(rate.times):
            if rate.every > 1:
                out.append(f"Knit {rate.every - 1} rnd{'s' if rate.every > 2 else ''}.")
            count += found.lines
            out.append(f"Inc rnd: *K{each}, m1; rep from * to end. ({count} sts)")
            each += 1
            done += rate.every
    if found.rounds > done:
        left = found.rounds - done
        out.append(f"Knit {left} rnd{'s' if left > 1 else ''}.")
    return out
