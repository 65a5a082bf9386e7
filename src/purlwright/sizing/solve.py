"""Whole numbers for all sizes together: the counts nearest to their targets that keep every rule.

In: a :class:`~purlwright.sizing.unknowns.Question`. Out: a :class:`Solved`, or a :class:`Cannot` that names
what stands against each other and the cheapest thing to give up. What belongs together (by a rule, or by
steps from size to size) is solved together and exactly; what does not is solved by itself, which is quick.

Method: mixed whole-number linear programme, solved by SciPy's HiGHS; every answer is checked again in
whole numbers, and nothing is called impossible before a second programme, in which each rule may be missed
at a price, has found that one must be.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING, TypeAlias

from purlwright.sizing.unknowns import (
    Broken,
    NoPlan,
    Question,
    Unknown,
    broken,
    may_not_fall,
    multiple_words,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

__all__ = ["Cannot", "Relaxed", "Solved", "solve"]

REGULAR = Fraction(1, 8)
"""What an uneven step from size to size costs, beside one stitch off a target."""
UNLIKED = Fraction(1, 4)
"""What a step costs that is not one of those liked best."""
SECONDS = 20.0
"""After so long the best that was found is given, and it is said that a better one may exist."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """The counts, one a size; ``best`` is False if time ran out before it was proved that none is nearer."""

    counts: Mapping[str, tuple[int, ...]]
    best: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxed:
    """What has to give: a rule in a size, missed by so many stitches."""

    size: str
    words: str
    by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cannot:
    """The question cannot be met: what is cheapest to give up, and the counts that then come out."""

    give_up: tuple[Relaxed, ...]
    counts: Mapping[str, tuple[int, ...]]


def solve(question: Question) -> Solved | Cannot:
    """The nearest counts that keep every rule. Raises NoPlan where time runs out with nothing found."""
    counts: dict[str, tuple[int, ...]] = {}
    best = True
    against: list[Relaxed] = []
    for part in _parts(question):
        found, sure = _solve_part(part)
        if found is None:
            found, lost = _relax(part)
            against += lost
        best = best and sure
        counts |= found
    ordered = {u.name: counts[u.name] for u in question.unknowns}
    if against:
        return Cannot(give_up=tuple(against), counts=ordered)
    return Solved(counts=ordered, best=best)


# --- what belongs together --------------------------------------------------------------------------


def _parts(question: Question) -> Iterator[Question]:
    """The question in parts that have no rule in common."""
    group = {u.name: u.name for u in question.unknowns}

    def root(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    for rule in question.rules:
        names = list(rule.terms)
        for other in names[1:]:
            group[root(other)] = root(names[0])
    if any(not rule.terms for rule in question.rules):
        raise NoPlan("A rule speaks of no count.")
    for leader in dict.fromkeys(root(u.name) for u in question.unknowns):
        yield replace(
            question,
            unknowns=tuple(u for u in question.unknowns if root(u.name) == leader),
            rules=tuple(r for r in question.rules if root(next(iter(r.terms))) == leader),
        )


# --- the programme ----------------------------------------------------------------------------------

Row: TypeAlias = "tuple[dict[int, float], float, float]"
"""Coefficients, the least and the most of their sum."""


@dataclass(slots=True)
class _Programme:
    """Columns (least, most, whole, price) and rows of a linear programme."""

    columns: list[tuple[float, float, bool, float]] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)

    def column(self, least: float, most: float, *, whole: bool, price: float = 0.0) -> int:
        self.columns.append((least, most, whole, price))
        return len(self.columns) - 1

    def row(self, terms: dict[int, float], least: float, most: float) -> None:
        self.rows.append((terms, least, most))

    def run(self, seconds: float) -> tuple[list[float] | None, bool, bool]:
        """The values, whether they are proved best, and whether it was found that there are none."""
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp  # heavy: loaded when something is solved
        from scipy.sparse import coo_matrix

        at = [(r, c, v) for r, (terms, _, _) in enumerate(self.rows) for c, v in terms.items()]
        shape = (len(self.rows), len(self.columns))
        matrix = coo_matrix(
            ([v for _, _, v in at], ([r for r, _, _ in at], [c for _, c, _ in at])), shape=shape
        ).tocsr()
        found = milp(
            np.array([c[3] for c in self.columns]),
            integrality=np.array([int(c[2]) for c in self.columns]),
            bounds=Bounds([c[0] for c in self.columns], [c[1] for c in self.columns]),
            constraints=LinearConstraint(
                matrix, [least for _, least, _ in self.rows], [most for _, _, most in self.rows]
            ) if self.rows else None,
            options={"time_limit": seconds, "mip_rel_gap": 0.0},
        )  # fmt: skip
        values = None if found.x is None else [float(v) for v in found.x]
        return values, found.status == 0, found.status == 2


_FAR = float("inf")


def _count_columns(p: _Programme, question: Question, near: Fraction | None) -> dict[tuple[str, int], int]:
    """Each count, or rather how many times its multiple it holds; looked for ``near`` its target only, if
    given.
    """
    at = {}
    for u in question.unknowns:
        for n, target in enumerate(u.targets):
            least, most = _looked_for(u, target, near)
            low, high = -(-(least - u.plus) // u.of), (most - u.plus) // u.of
            at[u.name, n] = p.column(low, max(high, low), whole=True)
            if high < low:  # no multiple lies between the limits: nothing can be right
                p.row({at[u.name, n]: 1.0}, low + 1, low + 1)
    return at


def _looked_for(u: Unknown, target: Fraction | None, near: Fraction | None) -> tuple[int, int]:
    if target is None or near is None:
        return u.least, u.most
    off = near / u.weight
    return max(u.least, int(target - off)), min(u.most, int(target + off) + 1)


def _price_targets(p: _Programme, question: Question, value: _Value) -> None:
    """How far each count is from its target, and each step from the step of the targets."""
    several = len(question.sizes)
    for u in question.unknowns:
        for n, target in enumerate(u.targets):
            if target is not None:
                _price_off(p, [(value(u, n), 1)], target, u.weight)
        for n in range(1, several - 1):
            a, b, c = u.targets[n - 1 : n + 2]
            if a is not None and b is not None and c is not None:
                three = [(value(u, n - 1), 1), (value(u, n), -2), (value(u, n + 1), 1)]
                _price_off(p, three, a - 2 * b + c, u.weight * REGULAR)
        for n in range(1, several) if u.steps else ():
            _like_steps(p, u, [(value(u, n), 1), (value(u, n - 1), -1)])


def _price_off(p: _Programme, parts: Sequence[tuple[_Held, int]], target: Fraction, weight: Fraction) -> None:
    """A price for each stitch by which a sum is off its target.

    The sum can only take whole multiples; the line through the prices of the two of them on both sides of
    the target is added, so that the programme without whole numbers already knows the true price. That
    makes it quick.
    """
    of = parts[0][0].of
    terms: dict[int, float] = {}
    plus = 0
    for held, times in parts:
        terms[held.column] = terms.get(held.column, 0.0) + times
        plus += held.plus * times
    price = float(weight)
    off = p.column(0, _FAR, whole=False, price=price)
    there = (target - plus) / of  # how many multiples would be just right
    low = there.numerator // there.denominator
    below, above = of * (there - low), of * (low + 1 - there)  # the prices on both sides
    p.row({**{c: of * v for c, v in terms.items()}, off: -1.0}, -_FAR, float(target - plus))
    p.row({**{c: -of * v for c, v in terms.items()}, off: -1.0}, -_FAR, float(plus - target))
    slope = above - below
    p.row({**{c: float(slope) * v for c, v in terms.items()}, off: -1.0}, -_FAR, float(slope * low - below))


def _like_steps(p: _Programme, u: Unknown, parts: Sequence[tuple[_Held, int]]) -> None:
    """A step is one of those liked, or any other at a price."""
    of = parts[0][0].of  # a step is a multiple of it, whatever is liked
    chosen = {p.column(0, 1, whole=True): float(s) for s in u.steps if s % of == 0}
    if not chosen:
        return
    other = p.column(0, 1, whole=True, price=float(u.weight * UNLIKED) * u.of)
    (low, high), (low_before, high_before) = (p.columns[held.column][:2] for held, _ in parts)
    far = of * max(high - low_before, high_before - low, 1.0) + max(abs(s) for s in u.steps)
    free = p.column(-far, far, whole=False)
    p.row({**dict.fromkeys(chosen, 1.0), other: 1.0}, 1, 1)
    p.row({free: 1.0, other: -far}, -_FAR, 0)
    p.row({free: -1.0, other: -far}, -_FAR, 0)
    step: dict[int, float] = {}
    for held, times in parts:  # what stands alone in a count falls out of a step
        step[held.column] = step.get(held.column, 0.0) + float(held.of * times)
    p.row({**step, **{c: -v for c, v in chosen.items()}, free: -1.0}, 0, 0)


_MOST = 40_000.0


@dataclass(frozen=True, slots=True)
class _Held:
    """A count is ``of`` times its column, and ``plus``."""

    column: int
    of: int
    plus: int


_Value: TypeAlias = "Callable[[Unknown, int], _Held]"


NEAR = Fraction(60)
"""Counts are looked for so near to their targets first; it is far quicker, and proved afterwards to be
enough.
"""


def _solve_part(question: Question) -> tuple[dict[str, tuple[int, ...]] | None, bool]:
    """The nearest counts of one part; None if there are none. Raises NoPlan where time runs out.

    What was found near the targets has a price; a count so far off that it alone costs more cannot be part
    of anything better. If that is farther than was looked, it is looked for as far as that; if nothing was
    found, everywhere.
    """
    counts, sure, price = _look(question, NEAR)
    if counts is not None and price > NEAR:
        counts, sure, price = _look(question, Fraction(price) + 1)
    if counts is None:
        counts, sure, price = _look(question, None)
    if counts is None or broken(question, counts):  # what is rounded must still hold; if not, ask with prices
        return None, True
    return counts, sure


def _look(question: Question, near: Fraction | None) -> tuple[dict[str, tuple[int, ...]] | None, bool, float]:
    """The nearest counts and their price, looked for near the targets or everywhere."""
    p = _Programme()
    at = _count_columns(p, question, near)

    def value(u: Unknown, n: int) -> _Held:
        return _Held(at[u.name, n], u.of, u.plus)

    by_name = {u.name: u for u in question.unknowns}
    _price_targets(p, question, value)
    for n in range(len(question.sizes)):
        for u in question.unknowns:
            if question.in_order and n and may_not_fall(u, n):
                p.row({at[u.name, n]: 1.0, at[u.name, n - 1]: -1.0}, 0, _FAR)
        for rule in question.rules:
            terms: dict[int, float] = {}
            alone = 0
            for name, k in rule.terms.items():
                terms[at[name, n]] = float(k * by_name[name].of)
                alone += k * by_name[name].plus
            wanted = rule.wanted(n) - alone
            if rule.of and wanted % rule.of == 0 and all(v % rule.of == 0 for v in terms.values()):
                continue  # it holds whatever the counts are
            if rule.of:
                terms[p.column(-_MOST, _MOST, whole=True)] = -float(rule.of)
            p.row(terms, wanted, _FAR if rule.least and not rule.of else wanted)
    values, sure, none = p.run(SECONDS)
    if none:
        return None, True, 0.0
    if values is None:
        raise NoPlan(
            "No whole numbers were found in the time there is; ask for fewer sizes or rules at once."
        )
    counts = {
        u.name: tuple(
            round(values[at[u.name, n]]) * u.of + u.plus for n in range(len(question.sizes))
        )
        for u in question.unknowns
    }  # fmt: skip
    price = sum(v * c[3] for v, c in zip(values, p.columns, strict=True))
    return counts, sure, price


# --- what gives -------------------------------------------------------------------------------------


def _relax(question: Question) -> tuple[dict[str, tuple[int, ...]], list[Relaxed]]:
    """The counts with the least that has to be given up, and what that is.

    Every limit, multiple, order and rule may be missed, each stitch by which it is missed costs far more
    than any stitch off a target. Nothing given up means that the first answer was wrong; the counts are
    right then.
    """
    p = _Programme()
    dear = 1000.0
    at = {
        (u.name, n): p.column(0, 20_000, whole=True)
        for u in question.unknowns
        for n in range(len(question.sizes))
    }

    def value(u: Unknown, n: int) -> _Held:
        return _Held(at[u.name, n], 1, 0)

    def missed(most: float) -> tuple[int, int]:
        return (
            p.column(0, most, whole=True, price=dear),
            p.column(0, most, whole=True, price=dear),
        )

    _price_targets(p, question, value)
    for n in range(len(question.sizes)):
        for u in question.unknowns:
            here = at[u.name, n]
            if u.of > 1:
                more, fewer = missed(u.of - 1)
                times = p.column(-_MOST, _MOST, whole=True)
                p.row({here: 1.0, times: -float(u.of), more: -1.0, fewer: 1.0}, u.plus, u.plus)
            more, fewer = missed(_MOST)
            p.row({here: 1.0, fewer: 1.0}, u.least, _FAR)
            p.row({here: 1.0, more: -1.0}, -_FAR, u.most)
            if question.in_order and n and may_not_fall(u, n):
                p.row({here: 1.0, at[u.name, n - 1]: -1.0, missed(_MOST)[0]: 1.0}, 0, _FAR)
        for rule in question.rules:
            terms = {at[name, n]: float(k) for name, k in rule.terms.items()}
            more, fewer = missed(rule.of - 1 if rule.of else _MOST)
            terms |= {more: -1.0, fewer: 1.0}
            if rule.of:
                terms[p.column(-_MOST, _MOST, whole=True)] = -float(rule.of)
            wanted = rule.wanted(n)
            p.row(terms, wanted, _FAR if rule.least and not rule.of else wanted)
    values, _, _ = p.run(SECONDS)
    if values is None:
        raise NoPlan(
            "No whole numbers were found in the time there is; ask for fewer sizes or rules at once."
        )
    counts = {
        u.name: tuple(round(values[at[u.name, n]]) for n in range(len(question.sizes)))
        for u in question.unknowns
    }
    return counts, [_as_given_up(b, question) for b in broken(question, counts)]


def _as_given_up(b: Broken, question: Question) -> Relaxed:
    """A multiple is missed by the nearer way round."""
    by = b.by
    for u in question.unknowns:
        if b.words == multiple_words(u):
            by = min(by, u.of - by)
    for rule in question.rules:
        if rule.of and b.words == rule.words:
            by = min(by, rule.of - by)
    return Relaxed(size=b.size, words=b.words, by=by)
