"""Shaping down the rows: the stitches before, between and after increases go on by a rule, and one row jumps.

In: the rows of one section. Out: findings on a row whose two numbers are exchanged or off against each other,
so that a gusset or dart jumps sideways and the count stays right. ``period`` asks for them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple, TypeAlias

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.texture import Look, Worked, label_of, looks, names, special, tile_of

__all__ = ["ShapingJumps", "place_faults"]


@dataclass(frozen=True, slots=True)
class ShapingJumps:
    """The shaping of a row stands beside the line of the others, for two numbers are exchanged or do not
    agree.

    A gusset that should stand over itself jumps to one side and back. The numbers of the row add up to the
    right count, so the knitter is well past it when she sees it.

    Example: `K24, m1l, k4, m1r, k22` among rounds that begin `k22` and end `k24`.

    Cure: put the two numbers back in their places. (Common practice; no source.)
    """

    row: str
    like: str
    before: int
    after: int
    wanted_before: int
    wanted_after: int

    code = "shaping-jumps"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The shaping of {self.row} jumps to one side: it stands between {self.before} and "
            f"{self.after} stitches, "
            f"and by the rule of {self.like} between {self.wanted_before} and {self.wanted_after}."
        )

    def label(self) -> str:
        return "jumps to one side"

    def help(self) -> str | None:
        if (self.before, self.after) == (self.wanted_after, self.wanted_before):
            return "Exchange the two numbers."
        return f"Write {self.wanted_before} and {self.wanted_after} for {self.before} and {self.after}."


Runs: TypeAlias = tuple[int, ...]


class _Jump(NamedTuple):
    """A row that jumps: which, its two numbers, what they should be, which runs they are, and whether others
    like it stand between the rows that keep the rule.
    """

    row: int
    found: tuple[int, int]
    wanted: tuple[int, int]
    runs: tuple[int, int]
    by_turns: bool = False


@lru_cache(maxsize=2048)
def _shape(key: bytes) -> tuple[tuple[Look, ...], Runs]:
    """The shapings of a row in order, and how many plain stitches stand before, between and after them."""
    ops = [op for op in looks(key) if op.look.faces != "act"]
    shapings: list[Look] = []
    runs = [0]
    for op in ops:
        if special(op.look):
            shapings.append(op.look)
            runs.append(0)
        else:
            runs[-1] += 1
    return tuple(shapings), tuple(runs)


def place_faults(rows: Sequence[Worked]) -> list[Finding]:
    """The row of a series of shapings that jumps, or those that jump by turns."""
    shaping = [r for r in rows if r.entry.made != r.entry.lost and tile_of(r) is None]
    if len(shaping) < 4:
        return []
    of_kind = groupby(
        sorted(shaping, key=lambda r: (r.back, _shape(r.key)[0])), key=lambda r: (r.back, _shape(r.key)[0])
    )
    for _, group in of_kind:
        series = sorted(group, key=lambda r: r.entry.order)
        odd = _jumping(tuple(_shape(r.key)[1] for r in series)) if len(series) >= 4 else None
        if odd is None:
            continue
        n, found, wanted, place, by_turns = odd
        row = series[n]
        like = series[::2] if by_turns else [r for r in series if r is not row]
        at = _first_op(row, place[0])
        problem = ShapingJumps(row.name, names(like), *found, *wanted)
        related = tuple(Related(label_of(r), "keeps the rule") for r in like[:2])
        return [Finding(problem=problem, span=row.words(at), related=related)]
    return []


def _first_op(row: Worked, run: int) -> int:
    """The first operation of a run of plain stitches."""
    seen = 0
    for op in looks(row.key):
        if seen == run and not special(op.look):
            return op.place
        seen += special(op.look) and op.look.faces != "act"
    return 0


@lru_cache(maxsize=256)
def _jumping(series: tuple[Runs, ...]) -> _Jump | None:
    """The row that leaves an even progression of runs: its place, two numbers, what they should be, and
    where.
    """
    n = len(series)
    if n >= 5:
        for k in range(1, n - 1):
            rest = [i for i in range(n) if i != k]
            rule = _rule([series[i] for i in rest], rest)
            if rule is not None:
                wanted = tuple(a + d * (k - rest[0]) for a, d in zip(series[rest[0]], rule, strict=True))
                return _exchange(k, series[k], wanted, 1)
    return _by_turns(series)


def _by_turns(series: tuple[Runs, ...]) -> _Jump | None:
    """Rows that keep one rule and rows between them that keep it with two numbers exchanged."""
    even, odd = series[::2], series[1::2]
    a = _rule(list(even), list(range(0, 2 * len(even), 2)))
    b = _rule(list(odd), list(range(1, 2 * len(odd), 2)))
    if a is None or b is None:
        return None
    wanted = tuple(x + d for x, d in zip(even[0], a, strict=True))
    got = _exchange(1, odd[0], wanted, 2)
    return got._replace(by_turns=True) if got is not None and got.found == got.wanted[::-1] else None


def _rule(rows: list[Runs], at: list[int]) -> tuple[int, ...] | None:
    """By how many each run grows from row to row, if all do so evenly."""
    step = at[1] - at[0]
    grown = [b - a for a, b in zip(rows[0], rows[1], strict=True)]
    if any(g % step for g in grown):
        return None
    rule = tuple(g // step for g in grown)
    even = all(
        b - a == d * (at[i] - at[0])
        for i in range(1, len(rows))
        for a, b, d in zip(rows[0], rows[i], rule, strict=True)
    )
    return rule if even else None


def _exchange(k: int, found: Runs, wanted: Runs, least: int) -> _Jump | None:
    """Two runs off by as much against each other, at least by ``least``."""
    differ = [i for i, (a, b) in enumerate(zip(found, wanted, strict=True)) if a != b]
    if len(differ) != 2 or min(wanted) < 0:
        return None
    i, j = differ
    by = found[i] - wanted[i]
    if by != wanted[j] - found[j] or abs(by) < least:
        return None
    return _Jump(k, (found[i], found[j]), (wanted[i], wanted[j]), (i, j))
