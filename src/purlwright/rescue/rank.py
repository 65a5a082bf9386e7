"""How well each mistake fits what she says, and which question would tell most.

In: a table and facts. Out: :class:`Ranked`, the likeliest first, and the next question. How answers are said
is left to ``verdict``.

Facts are soft. A count is right in 80 of 100 tellings, out by one in 15 and by two in 5; a side is wrong in
3; other facts are wrong now and then. These are assumptions, fixed before anything was measured with them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from purlwright.rescue.mistakes.made import Made, Odd
from purlwright.rescue.observe import (
    HOLE_WORDS,
    ODD_WORDS,
    OUTLINE_WORDS,
    QUESTIONS,
    ROW_WORDS,
    STACK_WORDS,
    Facts,
    Said,
)
from purlwright.rescue.table import AT, MARKER, Table

__all__ = ["CLEAR", "Ranked", "fit", "next_question", "rank", "said_of"]

CLEAR = 0.95
"""So likely is almost certain, and nothing more is asked."""
SURE_WITHIN = 8
"""About so many rows come after the last one she is sure of (rule of thumb)."""
LEADERS = 1500
"""So many of the likeliest lines are looked at for the next question."""
_COUNTED = (0.80, 0.075, 0.025)
"""How likely a count is right, one too many (or too few), two too many (or too few)."""
_NEAR = (0.97, 0.010, 0.003)
"""The same for the small numbers that are seen rather than counted."""
_FAR = 1e-4
_WRONG_SIDE = 0.03
_WORDS: dict[str, dict[str, Any]] = {
    "lies_in": dict(ROW_WORDS),
    "holes": dict(HOLE_WORDS),
    "odd": dict(ODD_WORDS),
    "stacks": dict(STACK_WORDS),
    "outline": dict(OUTLINE_WORDS),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """A diagnosis: one mistake in one row, and where she is now.

    likely : from 0 to 1. line : the line of the table that fits best. alike : other mistakes that show the
    very same, so that nothing she can see tells them apart.
    """

    table: Table
    made: Made
    row: int
    likely: float
    line: int
    alike: tuple[Made, ...] = ()


def fit(table: Table, facts: Facts) -> Any:
    """The logarithm of how likely each line is beside the others, (n,); not made to add up."""
    score = np.log(table.prior)
    for name, said in facts.known.items():
        if name in {"on_left", "on_right"}:
            continue
        if name == "sure":
            row = np.array([m.row for m in table.made], np.int32)[table.made_of]
            score = score + np.where((row <= _number(said)) & (row >= 0), -6.0, 0.0)
            score = score + np.where(table.column("row") < _number(said), -6.0, 0.0)
            continue
        if name == "between":
            score = score + _between(table, said)
            continue
        score = score + _one(table, name, said)
    return score


def _number(said: Said) -> int:
    """A row as she counts it, from 1, as an index."""
    return int(said) - 1 if isinstance(said, int) else 0


def _one(table: Table, name: str, said: Said) -> Any:
    seen = table.column(name).astype(np.int32)
    if name == "side":
        value = {"RS": 0, "WS": 1}[str(said)]
        return np.log(np.where(seen == 2, 0.5, np.where(seen == value, 1 - _WRONG_SIDE, _WRONG_SIDE)))
    if name in _WORDS:
        value = int(_WORDS[name][str(said)])
        wrong = 0.05 / (len(_WORDS[name]) - 1)
        out = np.where(seen == value, 0.95, wrong)
        if name == "odd" and value == Odd.NONE:
            out = np.where(seen == value, 0.95, 0.03)
        return np.log(out)
    if not isinstance(said, int):
        raise TypeError(name)
    value = said - 1 if name == "row" else said
    if name == "off":
        return _left_over(table, seen, value)
    off = np.abs(seen - value)
    chances = _COUNTED if name == "sts" else _NEAR
    out = np.where(off == 0, chances[0], np.where(off == 1, chances[1], np.where(off == 2, chances[2], _FAR)))
    if name == "down":  # nothing odd should be there at all
        out = np.where(seen < 0, 0.05, out)
    return np.log(out)


def _left_over(table: Table, seen: Any, value: int) -> Any:
    """Left over or short: of a repeat that does not come out, two over of five are also three short."""
    each = np.maximum(table.each.astype(np.int32), 1)
    same = (seen == value) | ((table.each > 0) & (seen != 0) & ((seen - value) % each == 0) & (value != 0))
    near = (np.abs(seen - value) <= 1) & (seen != 0) & (value != 0)
    stopped = (seen == MARKER) & (value != 0)
    return np.log(np.where(same, 0.9, np.where(stopped, 0.3, np.where(near, 0.05, 0.005))))


def _between(table: Table, said: Said) -> Any:
    counts = said if isinstance(said, tuple) else (int(said),)
    chance = np.array([_between_chance(b, counts) for b in table.betweens])
    return np.log(chance)[table.column("between")]


def _between_chance(seen: tuple[int, ...], said: tuple[int, ...]) -> float:
    if len(seen) != len(said):
        return _FAR
    chance = 1.0
    for a, b in zip(seen, said, strict=True):
        off = abs(a - b)
        chance *= _COUNTED[off] if off < 3 else _FAR
    return max(chance, 1e-8)


def rank(tables: Iterable[Table], facts: Facts, most: int = 8) -> list[Ranked]:
    """The likeliest diagnoses, best first; their chances add up to 1 over all there are."""
    found: list[Ranked] = []
    parts = [(t, fit(t, facts)) for t in tables if t.n]
    if not parts:
        return []
    top = max(float(score.max()) for _, score in parts)
    total = sum(float(np.exp(score - top).sum()) for _, score in parts)
    for table, score in parts:
        chance = np.exp(score - top) / total
        found += _diagnoses(table, chance, most)
    found.sort(key=lambda r: -r.likely)
    return found[:most]


def _diagnoses(table: Table, chance: Any, most: int) -> list[Ranked]:
    """Lines that show the same, taken together; then lines of one mistake in one row and place."""
    sorts = np.bincount(table.sorts, chance, minlength=int(table.sorts.max()) + 1)
    best = np.argsort(-sorts)[: most * 6]
    out: list[Ranked] = []
    taken: dict[tuple[str, int, int], int] = {}
    for sort in best.tolist():
        if sorts[sort] <= 0 or len(out) >= most * 3:
            break
        lines = np.flatnonzero(table.sorts == sort)
        lines = lines[np.argsort(-chance[lines])]
        line = int(lines[0])
        made, row = table.made[int(table.made_of[line])], int(table.column("row")[line])
        alike = tuple(table.made[int(table.made_of[x])] for x in lines[1:].tolist())
        key = (made.kind.code + made.detail, made.row, row)
        if key in taken:  # another stretch of the same row
            k = taken[key]
            was = out[k]
            out[k] = Ranked(
                table=table,
                made=was.made,
                row=was.row,
                likely=was.likely + float(sorts[sort]),
                line=was.line,
                alike=(*was.alike, *alike),
            )
            continue
        taken[key] = len(out)
        out.append(Ranked(table=table, made=made, row=row, likely=float(sorts[sort]), line=line, alike=alike))
    return out


def next_question(
    tables: Iterable[Table], facts: Facts, asked: Iterable[str] = (), *, place_only: bool = False
) -> tuple[str, float] | None:
    """The fact that tells most for its effort, and how much (bits); None if no question tells anything.

    place_only : only the row matters, not what went wrong.
    """
    done = {*asked, *facts.known}
    parts = [(t, fit(t, facts)) for t in tables if t.n]
    if not parts:
        return None
    top = max(float(score.max()) for _, score in parts)
    weights: list[Any] = []
    seen: list[Any] = []
    ids: list[Any] = []
    made_rows: list[Any] = []
    base = betweens = 0
    for table, score in parts:
        chance = np.exp(score - top)
        n = min(LEADERS, table.n)
        lines = np.argpartition(-chance, n - 1)[:n]
        weights.append(chance[lines])
        rows = table.seen[lines].astype(np.int32)
        rows[:, AT["between"]] += betweens
        betweens += len(table.betweens)
        seen.append(rows)
        made_rows.append(np.array([m.row for m in table.made], np.int32)[table.made_of[lines]])
        ids.append((table.column("row")[lines] if place_only else _diagnosis(table, lines)) + base)
        base += 1_000_000
    weight, rows, what = np.concatenate(weights), np.concatenate(seen), np.concatenate(ids)
    weight = weight / weight.sum()
    _, what = np.unique(what, return_inverse=True)
    before = _bits(np.bincount(what, weight))
    best: tuple[str, float, float] | None = None
    for name, question in QUESTIONS.items():
        if name in done or (name == "lies_in" and facts.odd in {None, "nothing"}):
            continue
        if name == "sure":
            values = np.concatenate(made_rows) // SURE_WITHIN
        else:
            new = [part for part in question.facts if part not in facts.known]
            if not new:
                continue
            values = _joint([rows[:, AT[part]] for part in new])
        gain = (before - _left(what, values, weight)) * (0.8 if name in {"sts", "between", "sure"} else 0.95)
        worth = gain / (question.effort + 20.0)
        if gain > 0.02 and (best is None or worth > best[2]):
            best = (name, gain, worth)
    return None if best is None else (best[0], best[1])


def _joint(columns: list[Any]) -> Any:
    """One number for each different row of values."""
    out = np.zeros(len(columns[0]), np.int64) if columns else np.zeros(0, np.int64)
    for column in columns:
        out = out * 100_003 + column
    return out


def _diagnosis(table: Table, lines: Any) -> Any:
    """A number for each mistake and row among some lines; what shows the same is the same."""
    return table.sorts[lines]


def _left(what: Any, values: Any, weight: Any) -> float:
    """The bits that are left on average when the values are known."""
    _, value = np.unique(values, return_inverse=True)
    n = int(what.max()) + 1
    joint = np.bincount(value.astype(np.int64) * n + what, weight)
    joint = joint[joint > 0]
    per = np.bincount(value, weight)
    per = per[per > 0]
    return float(-(joint * np.log2(joint)).sum() + (per * np.log2(per)).sum())


def _bits(p: Any) -> float:
    p = p[p > 0]
    return float(-(p * np.log2(p)).sum())


def said_of(table: Table, line: int, name: str) -> Said:
    """What one who sees this line would truly say of a fact."""
    value = int(table.column(name)[line])
    if name == "side":
        return ("RS", "WS", "RS")[value]
    if name == "between":
        return table.betweens[value]
    if name in _WORDS:
        return next(word for word, v in _WORDS[name].items() if int(v) == value)
    if name == "row":
        return value + 1
    return value
