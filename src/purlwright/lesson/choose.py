"""The few clues worth telling of each part: those that rule out most for the least trouble.

In: a part, and the same part in the other sizes. Out: every clue with its strength, and at most so many
chosen: first the one that rules out most other states a second of testing, then the one that rules out most
of what is left.

The other states are the other rows of the part, those close by counting more, and each row with a likely
slip in it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from purlwright.lesson.clues.all_sizes import in_every_size
from purlwright.lesson.clues.clue import Claim, Clue
from purlwright.lesson.clues.kinds import clues_of
from purlwright.lesson.facts import FACTS, Fact, Value, read
from purlwright.lesson.mistakes import BEGUN_LATE, BOTH_LEFT_OUT, mistaken
from purlwright.lesson.rows import Part, Row, Seen

__all__ = ["MOST", "Told", "choose"]

MOST = 3
"""So many clues a part are told, unless more are asked for."""
_SAMPLE = 28
"""Of a longer part so many rows are weighed, evenly spaced, each with the rows beside it."""
_LEAST = 0.04
"""A further clue that rules out less than this share of what there is, is not worth telling."""
_NEAR, _FAR, _SLIP = 3.0, 1.0, 3.0
_EVERY_SIZE = 1.25
_START = 6.0
"""Seconds that any test costs before it begins. (All four by eye.)"""
_NOT_CHOSEN = frozenset({"K24", "K25"})
"""How large the work is, and when half of it is done, are good to know and tell no row."""
_FAKES = (BOTH_LEFT_OUT, BEGUN_LATE)
_CAN_BE_FAKED = frozenset("K01 K02 K03 K04 K05 K06 K07 K09 K10 K11 K12".split(" "))


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A clue weighed. ``strength`` is the share of other states that it rules out, from 0 to 1. ``faked``
    names the likely slips after which it would still seem to hold.
    """

    clue: Clue
    strength: float
    every_size: bool
    faked: tuple[str, ...] = ()
    chosen: bool = False


class _Other(NamedTuple):
    """A state that is not the one believed in: what is believed, what is so, how likely to be met, which
    slip.
    """

    believed: Row
    row: Row
    seen: Seen
    weight: float
    slip: str


def choose(
    part: Part,
    others: Sequence[Part] = (),
    *,
    most: int = MOST,
    gauge: tuple[Fraction | None, Fraction | None] = (None, None),
) -> tuple[Told, ...]:
    """Every clue of a part, the chosen ones first and in the order chosen."""
    clues = clues_of(part, *gauge)
    same = [clues_of(other, *gauge) for other in others]
    states = list(_others(part))
    whole = sum(o.weight for o in states) or 1.0
    known: dict[tuple[Fact, int], Value] = {}
    out = [[_rules_out(c, o, known) for o in states] for c in clues]
    every = [in_every_size(c, same) for c in clues]
    told = [
        Told(
            clue=c,
            strength=sum(o.weight for o, gone in zip(states, rules, strict=True) if gone) / whole,
            every_size=e,
            faked=tuple(_faked(c, states, rules)) if c.kind in _CAN_BE_FAKED else (),
        )
        for c, rules, e in zip(clues, out, every, strict=True)
    ]
    picked = _picked(told, out, states, whole, most)
    return (
        *(
            Told(
                clue=told[i].clue,
                strength=told[i].strength,
                every_size=told[i].every_size,
                faked=told[i].faked,
                chosen=True,
            )
            for i in picked
        ),
        *(t for i, t in enumerate(told) if i not in picked),
    )


def _picked(
    told: Sequence[Told], out: Sequence[Sequence[bool]], states: Sequence[_Other], whole: float, most: int
) -> list[int]:
    picked: list[int] = []
    left = [True] * len(states)
    while len(picked) < most:
        best, worth = -1, 0.0
        for i, rules in enumerate(out):
            if i in picked or told[i].clue.kind in _NOT_CHOSEN:
                continue
            gain = sum(o.weight for o, gone, still in zip(states, rules, left, strict=True) if gone and still)
            if gain < _LEAST * whole:
                continue
            value = gain * (_EVERY_SIZE if told[i].every_size else 1.0) / (_START + told[i].clue.seconds)
            if value > worth:
                best, worth = i, value
        if best < 0:
            break
        picked.append(best)
        left = [still and not gone for still, gone in zip(left, out[best], strict=True)]
    return picked


def _others(part: Part) -> Iterator[_Other]:
    rows = part.rows
    step = max(1, -(-len(rows) // _SAMPLE))
    believed = rows[::step]
    for r in believed:
        near = [o for o in rows[max(r.number - 3, 0) : r.number + 2] if o is not r]
        far = [o for o in believed if abs(o.number - r.number) > 2]
        yield from (_Other(r, o, o.seen, _NEAR, "") for o in near)
        yield from (_Other(r, o, o.seen, _FAR, "") for o in far)
        yield from (_Other(r, r, seen, _SLIP, slip) for slip, seen in mistaken(r))


def _rules_out(clue: Clue, other: _Other, known: dict[tuple[Fact, int], Value]) -> bool:
    """Whether she who believes to be after one row would see by the clue that she is not."""
    return any(_differs(c, other, known) for c in clue.claims)


def _differs(claim: Claim, other: _Other, known: dict[tuple[Fact, int], Value]) -> bool:
    if claim.fact.name not in FACTS or other.believed.order not in claim.orders:
        return False
    key = claim.fact, id(other.seen)
    if key not in known:
        known[key] = read(claim.fact, other.row, other.seen)
    return known[key] != claim.values[claim.orders.index(other.believed.order)]


def _faked(clue: Clue, states: Sequence[_Other], rules: Sequence[bool]) -> Iterator[str]:
    """Slips that can happen in its rows, and that it never shows."""
    orders = {order for c in clue.claims for order in c.orders}
    for slip in _FAKES:
        met = [
            gone
            for o, gone in zip(states, rules, strict=True)
            if o.slip == slip and o.believed.order in orders
        ]
        if met and not any(met):
            yield slip
