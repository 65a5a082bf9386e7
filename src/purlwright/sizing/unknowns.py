"""What is asked of the grading: counts that are not known yet, and what must hold between them.

In: plain values. Out: frozen :class:`Unknown`, :class:`Rule`, :class:`Question`, and a check in whole
numbers, slow and plain, of what was found. How a solution is found is left to ``solve``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from purlwright.sizing.lists import so_many

__all__ = ["MOST_COUNT", "Broken", "NoPlan", "Question", "Rule", "Unknown", "broken"]

MOST_COUNT = 20_000
"""No piece of hand knitting has more stitches in a row, or more rows; common practice, no source."""


class NoPlan(ValueError):  # noqa: N818 - what was asked cannot be planned; said as to the one who asked
    """What was asked makes no sense or cannot be met; the message is one sentence for the one who asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknown:
    """A count to be found in every size.

    name : in trade words, "cast-on". targets : the exact count wanted, one a size; None where this size
    has no target of its own and only the rules bind it. of, plus : it is a multiple of ``of``, and
    ``plus`` more. least, most : limits, one for all sizes. steps : steps from size to size that are liked
    best; none if empty.
    weight : how dear one stitch off the target is, beside the other unknowns.
    """

    name: str
    targets: tuple[Fraction | None, ...]
    of: int = 1
    plus: int = 0
    least: int = 0
    most: int = MOST_COUNT
    steps: tuple[int, ...] = ()
    weight: Fraction = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """What must hold between counts, in every size: the sum of ``terms`` is ``equals``.

    terms : how often each unknown counts. equals : one number for all sizes, or one a size.
    of : above 0, the sum need only be ``equals`` more than a multiple of it: 2 and 0 is "even", which also
    says on which side a section of so many rows ends. least : the sum may also be more. words : the rule
    as it is told, "front and back are equally wide".
    """

    terms: Mapping[str, int]
    equals: int | tuple[int, ...] = 0
    of: int = 0
    least: bool = False
    words: str = ""

    def wanted(self, size: int) -> int:
        """What the sum must be in a size."""
        return self.equals if isinstance(self.equals, int) else self.equals[size]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """All sizes together. ``in_order`` : counts never fall from one size to the next where targets do not."""

    sizes: tuple[str, ...]
    unknowns: tuple[Unknown, ...]
    rules: tuple[Rule, ...] = ()
    in_order: bool = True

    def __post_init__(self) -> None:
        names = [u.name for u in self.unknowns]
        if not self.sizes:
            raise NoPlan("Name one size at least.")
        if len(set(names)) != len(names):
            raise NoPlan("Two of the counts have the same name.")
        for u in self.unknowns:
            _look_at(u, self.sizes)
        for rule in self.rules:
            if lost := set(rule.terms) - set(names):
                raise NoPlan(
                    f'The rule "{rule.words}" speaks of {", ".join(sorted(lost))}, which is no count.'
                )
            if not isinstance(rule.equals, int) and len(rule.equals) != len(self.sizes):
                raise NoPlan(
                    f'The rule "{rule.words}" gives {so_many(len(rule.equals), "number")} for '
                    f"{so_many(len(self.sizes), 'size')}."
                )


def _look_at(u: Unknown, sizes: Sequence[str]) -> None:
    if len(u.targets) != len(sizes):
        raise NoPlan(
            f"{u.name}: {so_many(len(u.targets), 'target')} given for {so_many(len(sizes), 'size')}."
        )
    if u.of < 1:
        raise NoPlan(f"{u.name}: a multiple is of 1 stitch at least, not {u.of}.")
    if u.weight <= 0:
        raise NoPlan(f"{u.name}: its weight is above 0, not {u.weight}.")
    for target in u.targets:
        if target is not None and not 0 <= target <= MOST_COUNT:
            raise NoPlan(
                f"{u.name}: {float(target):.0f} is not a number of stitches or rows that can be knitted."
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """One thing that does not hold in one size: its words, and by how much it is missed."""

    size: str
    words: str
    by: int


def broken(question: Question, counts: Mapping[str, Sequence[int]]) -> list[Broken]:
    """What does not hold of these counts, in plain whole numbers; nothing if they answer the question."""
    out = []
    for n, size in enumerate(question.sizes):
        for u in question.unknowns:
            value = counts[u.name][n]
            if (value - u.plus) % u.of:
                out.append(Broken(size=size, words=multiple_words(u), by=(value - u.plus) % u.of))
            if value < u.least:
                out.append(Broken(size=size, words=f"{u.name} is at least {u.least}", by=u.least - value))
            if value > u.most:
                out.append(Broken(size=size, words=f"{u.name} is at most {u.most}", by=value - u.most))
            if question.in_order and n and may_not_fall(u, n) and value < counts[u.name][n - 1]:
                out.append(Broken(size=size, words=order_words(u), by=counts[u.name][n - 1] - value))
        for rule in question.rules:
            miss = sum(k * counts[name][n] for name, k in rule.terms.items()) - rule.wanted(n)
            if rule.of:
                miss %= rule.of
            elif rule.least:
                miss = min(miss, 0)
            if miss:
                out.append(Broken(size=size, words=rule.words, by=abs(miss)))
    return out


def may_not_fall(u: Unknown, n: int) -> bool:
    """Whether an unknown has to be no smaller in size ``n`` than in the one before."""
    one, other = u.targets[n - 1], u.targets[n]
    return one is not None and other is not None and other >= one


def multiple_words(u: Unknown) -> str:
    """The multiple as it is told: "body is a multiple of 8 plus 2", "even"."""
    if (u.of, u.plus % u.of) == (2, 0):
        return f"{u.name} is even"
    if (u.of, u.plus % u.of) == (2, 1):
        return f"{u.name} is odd"
    plus = f" plus {u.plus % u.of}" if u.plus % u.of else ""
    return f"{u.name} is a multiple of {u.of}{plus}"


def order_words(u: Unknown) -> str:
    """The order of sizes as it is told."""
    return f"{u.name} is no smaller than in the size before"
