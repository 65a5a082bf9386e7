"""Two mistakes at once: looked for only when no single one explains what she says.

In: tables, facts, and the best single diagnosis. Out: the best pair, or None. A knitter who counts 37 on one
side of the spine and 34 on the other has made two slips; one mistake alone leaves one of them unexplained.

The search is bounded: the row she is at is taken from the best single diagnosis, the first mistake from the
leading ones there, the second from all. What each pair comes to is first reckoned: each mistake changes the
counts by what it changes alone. The likeliest of these are then really made and worked on, row by row
(:mod:`~purlwright.rescue.together`): what she would count, whether the next row comes out, and whether she
would have met them in a row before. A mistake with a cure gone wrong, the likeliest pair, is no sum: E47 to
E50 are knitted on like any other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from purlwright.rescue.fit import chances, fit, left_over
from purlwright.rescue.knitted_on import Knit
from purlwright.rescue.mistakes.made import Made
from purlwright.rescue.observe import COUNTS, Facts
from purlwright.rescue.rank import Ranked
from purlwright.rescue.table import Table, shown_by
from purlwright.rescue.together import Both, both_made
from purlwright.rescue.walks import MARKER, left_by

__all__ = ["Pair", "best_pair"]

FIRST = 80
"""So many of the leading mistakes are tried as one of the two."""
SECOND = 4000
MADE = 40
"""So many of the likeliest pairs are really made."""
RARER = 4.0
"""Where one mistake was made, a second is so many times rarer than none, whichever it be (rule of thumb)."""
_ADD_UP = (
    "sts", "cast_on", "gaps", "waiting", "ridges_right", "ridges_left", "chains_right", "chains_left",
    "part_rows",
)  # fmt: skip
_KNITTED = ("sts", "gaps", *COUNTS, "off")
"""What is known of a pair that was really made."""
_MET = -8.0
"""What speaks against a pair that she would have met in a row before."""
_OTHER_MARKS = -7.0
"""What speaks against more or fewer marks than she tells of (by eye, as for one mistake)."""
_EITHER = (
    "holes", "stacks", "outline", "since_hole", "since_decrease", "since_increase", "since_crossing",
    "since_stripe", "yarn",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two mistakes, the earlier first.

    some : how likely it is that there are two mistakes at all. likely : that it is these two.
    """

    table: Table
    first: Made
    second: Made
    row: int
    some: float
    likely: float


def best_pair(single: Ranked, facts: Facts, knit: Knit | None = None) -> Pair | None:
    """The pair of mistakes that fits best at the row of the best single one; None if one is likelier.

    knit : a way to knit the size once more, so that the likeliest pairs can be really made.
    """
    table = single.table
    here = np.flatnonzero(table.column("row") == single.row)
    right = here[table.made_of[here] == 0]
    here = here[table.made_in[here] >= 0]
    if not len(right) or len(here) < 2:
        return None
    alone = fit(table, facts)
    any_second = float(np.logaddexp.reduce(table.prior[here].astype(np.float64)))
    here = here[np.argsort(-alone[here])][:SECOND]
    # one of the two explains what is odd, the other may be any that changes something
    first = here[:FIRST]
    score = table.prior[first][:, None] + table.prior[here][None, :] - any_second - np.log(RARER)
    for name, said in facts.known.items():
        score += _both(table, name, said, first, here, int(right[0]))
    same = table.made_of[first][:, None] == table.made_of[here][None, :]
    score = np.where(same, -np.inf, score)
    k = int(np.argmax(score))
    if knit is not None:
        k = _really_made(table, facts, score, first, here, int(right[0]), knit)
    a, b = int(first[k // len(here)]), int(here[k % len(here)])
    top = float(max(score.max(), alone[single.line]))
    pairs = float(np.exp(score - top).sum()) / 2  # each stands there twice, in either order
    singles = float(np.exp(alone[table.column("row") == single.row] - top).sum())
    if pairs <= singles:
        return None
    made = sorted((table.made[int(table.made_of[x])] for x in (a, b)), key=lambda m: (m.row, m.kind.code))
    share = float(np.exp(score.flat[k] - top)) / (pairs + singles)
    some = pairs / (pairs + singles)
    return Pair(table=table, first=made[0], second=made[1], row=single.row, some=some, likely=share)


def _really_made(
    table: Table, facts: Facts, score: Any, first: Any, here: Any, right: int, knit: Knit
) -> int:
    """Weigh the likeliest pairs by what they really come to, in ``score``; the place of the best of them."""
    leading = [k for k in np.argsort(-score, axis=None)[: 2 * MADE].tolist() if np.isfinite(score.flat[k])]
    if not leading:  # nothing but a mistake with itself
        return int(np.argmax(score))
    places: dict[frozenset[int], list[int]] = {}  # each stands there in either order
    for k in leading:
        places.setdefault(frozenset((int(first[k // len(here)]), int(here[k % len(here)]))), []).append(k)
    lines = [sorted(pair, key=lambda x: table.made[int(table.made_of[x])].on) for pair in places]
    pairs = [(table.made[int(table.made_of[a])], table.made[int(table.made_of[b])]) for a, b in lines]
    found = both_made(table.piece, pairs, int(table.column("row")[right]), knit)
    for (a, b), where, both in zip(lines, places.values(), found, strict=True):
        if both is None:
            continue  # it cannot be laid: its sum stands
        for k in where:
            score.flat[k] += _beside_the_sum(table, facts, (a, b), right, both)
    return max((k for where in places.values() for k in where), key=lambda k: float(score.flat[k]))


def _beside_the_sum(table: Table, facts: Facts, lines: tuple[int, int], right: int, both: Both) -> float:
    """What speaks for a pair by what it really comes to, less what spoke for it by its sum."""
    if both.met:
        return _MET
    shown = shown_by(both.lie)
    a, b = (np.array([x]) for x in lines)
    out = 0.0
    for name in _KNITTED:
        said = facts.known.get(name)
        if said is None:
            continue
        if name == "off":
            if both.next is None:
                continue
            off = np.array([left_by(both.next)])
            real = left_over(off, np.array([both.next.each if off[0] else 0]), said)
        elif name in COUNTS:
            true = table.counts[name][int(table.column(name)[right])]
            if not isinstance(said, tuple) or len(true) != len(said):
                continue
            real = _between(np.array([shown[name]]), said)
        else:
            real = np.log(chances(name, np.array([shown[name]]), said))
        out += float(np.sum(real)) - float(np.sum(_both(table, name, said, a, b, right)))
    return out


def _both(table: Table, name: str, said: Any, first: Any, second: Any, right: int) -> Any:
    """What a fact says of each pair, (first, second)."""
    if name in COUNTS:
        return _counts(table, name, said, first, second, right)
    if name in {"odd", "down", "lies_in", "up", "marks_above", "above_mark"}:
        # she tells of one odd place: that of either
        column = table.column(name).astype(np.int32)
        one, two = (np.log(chances(name, column[x], said)) for x in (first, second))
        return np.maximum(one[:, None], two[None, :])
    if name == "row":  # the same for both
        return np.log(chances(name, table.column(name)[right], said))
    if name == "off":
        return _off(table, said, first, second)
    if name not in {*_ADD_UP, *_EITHER, "side"}:
        return 0.0
    column = table.column(name).astype(np.int32)
    a, b, true = column[first][:, None], column[second][None, :], int(column[right])
    if name == "side":
        together = np.where(a == true, b, np.where(b == true, a, true))
    elif name in _EITHER:
        together = np.where(a == true, b, a)
    else:
        together = a + b - true
    return np.log(chances(name, together, said))


def _off(table: Table, said: Any, first: Any, second: Any) -> Any:
    """What the next row leaves over or lacks: that of both, if nothing but a number is in the way."""
    column, each = table.column("off").astype(np.int32), table.each.astype(np.int32)
    a, b = column[first][:, None], column[second][None, :]
    together = np.where((np.abs(a) == MARKER) | (np.abs(b) == MARKER), MARKER, a + b)
    repeat = np.maximum(each[first][:, None], each[second][None, :])
    return left_over(together, repeat, said)


def _counts(table: Table, name: str, said: Any, first: Any, second: Any, right: int) -> Any:
    """Counts from marker to marker, or from turn to turn: each mistake changes its own stretch."""
    column = table.column(name)
    true = table.counts[name][int(column[right])]
    if not isinstance(said, tuple) or len(true) != len(said):
        return 0.0

    def changes(lines: Any) -> Any:
        rows = [table.counts[name][int(column[x])] for x in lines]
        return np.array(
            [np.subtract(r, true) if len(r) == len(true) else np.full(len(true), 99) for r in rows]
        )

    return _between(np.array(true) + changes(first)[:, None, :] + changes(second)[None, :, :], said)


def _between(together: Any, said: tuple[int, ...]) -> Any:
    """Counts of each stretch, in the last axis; where she has more or fewer stretches it is hardly this."""
    if together.shape[-1] != len(said):
        return np.full(together.shape[:-1], _OTHER_MARKS)
    each = [np.log(chances("sts", together[..., i], n)) for i, n in enumerate(said)]
    return np.sum(each, axis=0)
