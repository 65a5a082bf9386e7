"""How well each line of a table fits what she says.

In: a table and facts. Out: for each line the logarithm of how likely it is beside the others. Which lines are
told, and what is asked next, is left to ``rank`` and ``asking``.

Facts are soft. A count is right in 80 of 100 tellings, out by one in 15 and by two in 5; a side is wrong in
3; other facts are wrong now and then. These are assumptions, fixed before anything was measured with them.
"""

from __future__ import annotations

from math import log
from typing import Any

import numpy as np

from purlwright.needles.columns import UNTOLD
from purlwright.rescue.mistakes.made import Odd
from purlwright.rescue.observe import (
    COUNTS,
    HOLE_WORDS,
    LOOKS,
    ODD_WORDS,
    OUTLINE_WORDS,
    ROW_WORDS,
    STACK_WORDS,
    YARN_WORDS,
    Facts,
    Said,
)
from purlwright.rescue.table import Table, in_column
from purlwright.rescue.walks import MARKER

__all__ = ["chances", "fit", "left_over", "said_of"]

_COUNTED = (0.80, 0.075, 0.025)
"""How likely a count is right, one too many (or too few), two too many (or too few)."""
_NEAR = (0.985, 0.005, 0.0015)
"""The same for the small numbers that are seen rather than counted."""
_FAR = 1e-4
_WRONG_SIDE = 0.03
_MISSED = 0.03
"""How likely something odd is overlooked, or a word is the wrong one."""
_NOT_TOLD = 0.1
"""How likely any one count up a column is, where nothing tells it."""
_NOT_LATER = -6.0
"""What speaks against a mistake before the last row she is sure of."""
_WORDS: dict[str, dict[str, Any]] = {
    "lies_in": dict(ROW_WORDS),
    "holes": dict(HOLE_WORDS),
    "odd": dict(ODD_WORDS),
    "stacks": dict(STACK_WORDS),
    "outline": dict(OUTLINE_WORDS),
    "yarn": dict(YARN_WORDS),
}


def fit(table: Table, facts: Facts) -> Any:
    """The logarithm of how likely each line is beside the others, (n,) float32; not made to add up."""
    score = table.prior.copy()
    for name, said in facts.known.items():
        if name not in {"piece", "on_left", "on_right", "yarn_on"}:
            score += _fact(table, name, said)
    return score


def _fact(table: Table, name: str, said: Said) -> Any:
    if name == "sure":
        row = int(said) - 1 if isinstance(said, int) else 0
        early = (table.made_in <= row) & (table.made_in >= 0)
        return _chosen(early, _NOT_LATER, 0.0) + _chosen(table.column("row") < row, _NOT_LATER, 0.0)
    if name in LOOKS:
        there = np.isin(table.column("odd"), [int(ODD_WORDS[word]) for word in LOOKS[name]])
        return _chosen(there, log(_MISSED), log(1 - _MISSED))
    if name in COUNTS:
        counts = said if isinstance(said, tuple) else (int(said),)
        each = np.array([log(_between_chance(b, counts)) for b in table.counts[name]], np.float32)
        return each[table.column(name)]
    if name == "column":
        return _up_a_column(table, said)
    column = table.column(name)
    low, high = (int(column.min()), int(column.max())) if table.n else (0, 0)
    values = np.arange(low, high + 1)
    if name == "off":
        return left_over(column.astype(np.int32), table.each.astype(np.int32), said)
    return np.log(chances(name, values, said)).astype(np.float32)[column - np.int16(low)]


def _up_a_column(table: Table, said: Said) -> Any:
    """A count up a column. Where she has more or fewer stitches than is right, she may be in the next one."""
    stitch, above = said if isinstance(said, tuple) else (0, 0)
    off = np.abs(table.column("sts") - _right_counts(table))
    best = np.full(table.n, -np.inf, np.float32)
    for beside in range(-2, 3):
        values = in_column(table, stitch + beside)
        score = np.log(chances("above", values, above)).astype(np.float32)
        score = np.where(values == UNTOLD, np.float32(log(_NOT_TOLD)), score)
        best = np.where(np.minimum(off, 2) >= abs(beside), np.maximum(best, score), best)
    return best


def _right_counts(table: Table) -> Any:
    """Stitches there should be at the row of each line, (n,)."""
    looks = table.piece.looks
    counts = np.array([x.stitches for x in looks] + [looks[0].entry.start], np.int32)
    return counts[np.clip(table.column("row"), -1, len(looks) - 1)]


def chances(name: str, values: Any, said: Said) -> Any:
    """How likely she says this, for each of some values that can be seen."""
    if name == "side":
        value = {"RS": 0, "WS": 1}[str(said)]
        return np.where(values == 2, 0.5, np.where(values == value, 1 - _WRONG_SIDE, _WRONG_SIDE))
    if name in _WORDS:
        value = int(_WORDS[name][str(said)])
        wrong = _MISSED if name == "odd" and value == Odd.NONE else _MISSED / (len(_WORDS[name]) - 1)
        out = np.where(values == value, 1 - _MISSED, wrong)
        return np.where(values < 0, 1 / len(_WORDS[name]), out) if name == "yarn" else out
    if not isinstance(said, int):
        raise TypeError(name)
    off = np.minimum(np.abs(values - (said - 1 if name == "row" else said)), 3)
    out = np.array([*(_COUNTED if name in {"sts", "cast_on", "part_rows"} else _NEAR), _FAR])[off]
    if name in {"down", "up", "marks_above", "above_mark"}:  # nothing odd should be there at all
        out = np.where(values < 0, 0.05, out)
    return out


def _chosen(which: Any, yes: float, no: float) -> Any:
    return np.where(which, np.float32(yes), np.float32(no))


def left_over(seen: Any, each: Any, said: Said) -> Any:
    """Left over or short, (n,): of a repeat that does not come out, two over of five are also three short."""
    value = int(said) if isinstance(said, int) else 0
    repeat = np.maximum(each, 1)
    same = (seen == value) | ((each > 0) & (seen != 0) & ((seen - value) % repeat == 0) & (value != 0))
    near = (np.abs(seen - value) <= 1) & (seen != 0) & (value != 0)
    stopped = (seen == MARKER) & (value != 0)
    out = _chosen(near, log(0.05), log(0.005))
    out[stopped] = log(0.3)
    out[same] = log(0.9)
    return out


def _between_chance(seen: tuple[int, ...], said: tuple[int, ...]) -> float:
    if len(seen) != len(said):
        return _FAR
    chance = 1.0
    for a, b in zip(seen, said, strict=True):
        off = abs(a - b)
        chance *= _COUNTED[off] if off < 3 else _FAR
    return max(chance, 1e-8)


def said_of(table: Table, line: int, name: str) -> Said:
    """What one who sees this line would truly say of a fact."""
    value = int(table.column(name)[line])
    if name == "side":
        return ("RS", "WS", "RS")[value]
    if name in COUNTS:
        return table.counts[name][value]
    if name in _WORDS:
        return next((word for word, v in _WORDS[name].items() if int(v) == value), "")
    if name == "row":
        return value + 1
    return value
