"""A pattern at another gauge: new numbers for the same size, found line by line, each tried by knitting.

In: the text, its numbers, the two gauges, and a way to knit a text (handed in). Out: the new numbers of
every size, or :class:`Stuck` with the line at which nothing near enough could be knitted. Totals are not
guessed: they are what the knitting gives.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from purlwright.sizing.numbers import Number, with_numbers
from purlwright.units import half_up

__all__ = ["Ratio", "Stuck", "Tried", "regauged"]

MOST_TRIALS = 300
"""So many knittings for a size, and it is given up; own."""
NEAREST = 11
"""So many values are tried for a number before the line at fault, and all for those in it; own."""
UNLIKE = Fraction(2)
"""What it costs, in stitches, that a number that was even in every size becomes odd, or odd even; own."""
WIDEST = 12
"""No number is taken farther from what the gauge asks than so many stitches or rows; own."""


@dataclass(frozen=True, slots=True)
class Ratio:
    """New stitches for each old one, and new rows for each old one."""

    stitches: Fraction
    rows: Fraction


@dataclass(frozen=True, slots=True)
class Tried:
    """What one knitting of a text came to: the first line with an error, None if there is none, and the error
    in words.
    """

    wrong_line: int | None
    words: str = ""


class Stuck(ValueError):  # noqa: N818 - it cannot be changed; said as to the one who asked
    """No numbers near enough could be knitted; ``line`` is where, ``words`` what was found there at best."""

    def __init__(self, line: int, words: str = "") -> None:
        super().__init__(f"no numbers near enough come out in line {line}")
        self.line = line
        self.words = words


def regauged(
    text: str,
    numbers: Sequence[Number],
    size: int,
    ratio: Ratio,
    shapes: Callable[[Number], bool],
    knit: Callable[[str], Tried],
) -> list[int | None]:
    """New values of all numbers in one size; totals stay as they were, to be filled in from the knitting.

    shapes : whether a number says how often rows are worked that change the count. Raises Stuck.
    """
    values: list[int | None] = [number.values[size] for number in numbers]
    groups = _groups(numbers, size)
    choices = [
        _choices(numbers[g[0]], size, ratio, shaping=any(shapes(numbers[n]) for n in g)) for g in groups
    ]
    first = [numbers[g[0]].line for g in groups]
    lengths = frozenset(n for n, g in enumerate(groups) if numbers[g[0]].counts == "rows")

    def put(group: int, value: int) -> None:
        for n in groups[group]:
            values[n] = value

    for g, may in enumerate(choices):
        put(g, may[0])
    at = [may[0] for may in choices]
    trials = 0
    now = knit(_filled(text, numbers, values, size))
    while (line := now.wrong_line) is not None:
        for change in _changes(choices, first, at, line, lengths):
            if trials >= MOST_TRIALS:
                raise Stuck(line, now.words)
            for g, v in change:
                put(g, v)
            trials += 1
            new = knit(_filled(text, numbers, values, size))
            if new.wrong_line is None or new.wrong_line > line:
                for g, v in change:
                    at[g] = v
                now = new
                break
            for g, _ in change:
                put(g, at[g])
        else:
            raise Stuck(line, now.words)
    return values


def _groups(numbers: Sequence[Number], size: int) -> list[list[int]]:
    """Numbers that are one and the same, since they were alike in all sizes: they move together."""
    found: dict[tuple[str, tuple[int | None, ...]], list[int]] = {}
    for n, number in enumerate(numbers):
        if number.counts != "total" and number.values[size] is not None:
            found.setdefault((number.counts, number.values), []).append(n)
    return list(found.values())


def _changes(
    choices: Sequence[Sequence[int]],
    first: Sequence[int],
    at: Sequence[int],
    line: int,
    lengths: frozenset[int],
) -> Iterator[tuple[tuple[int, int], ...]]:
    """Changes to try, the smallest first: of one number, and then of two that are not ``lengths`` in rows."""
    near = [g for g, begins in enumerate(first) if begins <= line]
    one = sorted(
        (rank, -g, v)
        for g in near
        for rank, v in enumerate(choices[g][: None if first[g] == line else NEAREST])
        if v != at[g]
    )
    for _, g, v in one:
        yield ((-g, v),)
    few = [(off, -g, v) for off, g, v in one if off <= 4 and -g not in lengths][:60]
    two = sorted((a[0] + b[0], a[1:], b[1:]) for i, a in enumerate(few) for b in few[i + 1 :] if a[1] != b[1])
    for _, a, b in two:
        yield (a, b)


def _filled(text: str, numbers: Sequence[Number], values: Sequence[int | None], size: int) -> str:
    """The text with the new values of one size, and without totals."""
    pairs: list[tuple[Number, Sequence[int | None] | None]] = []
    for number, value in zip(numbers, values, strict=True):
        if number.counts == "total":
            pairs.append((number, None))
        else:
            new = list(number.values)
            new[size] = value
            pairs.append((number, new))
    return with_numbers(text, pairs)


def _choices(number: Number, size: int, ratio: Ratio, *, shaping: bool) -> list[int]:
    """What a number may become, the nearest to what the gauge asks first; rows keep odd or even."""
    old = number.values[size] or 0
    if not old:
        return [0, 1] if number.counts == "stitches" else [0]
    by_rows = number.counts == "rows" or (number.counts == "times" and not shaping)
    want = old * (ratio.rows if by_rows else ratio.stitches)
    middle = int(half_up(want, Fraction(1)))
    step = 2 if number.counts == "rows" else 1
    if step == 2 and (middle - old) % 2:
        middle += 1 if want > middle else -1
    widest = WIDEST * 2 if number.until else WIDEST
    found = [middle + step * off for off in range(-widest, widest + 1)]
    least = 1 if number.counts != "rows" or old % 2 else 2
    alike = _alike(number)
    return sorted(
        (v for v in found if v >= least),
        key=lambda v: (abs(v - want) + (UNLIKE if alike is not None and v % 2 != alike else 0), v),
    ) or [old]


def _alike(number: Number) -> int | None:
    """0 for stitches that are even in every size, 1 for odd; None where sizes differ or it counts rows."""
    kinds = {v % 2 for v in number.values if v is not None}
    return kinds.pop() if number.counts == "stitches" and len(kinds) == 1 else None
