"""Family E, lists of sizes: they run one way, and no size steps out of line with its neighbours (C045, C046).

In: every list of the tree, the named numbers and the header. Out: findings on a list that runs backwards, on
one entry with a digit lost, gained or exchanged, and on two sizes far apart. Lists of rows and times may go
up and down for good reasons, so they are told of only when a digit too many or too few explains the jump.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject
from purlwright.text import Span

__all__ = ["JUDGES", "ListRunsBackwards", "SizeOutOfLine", "SizesFarApart"]


@dataclass(frozen=True, slots=True)
class SizeOutOfLine:
    """In a list of sizes one entry does not fit between its neighbours, and one digit would make it fit.

    A digit was lost or typed twice, or two digits changed places. Knitters of that size find it at the
    needles, the others never.

    Example: `K19 (9, 10)`, `work until 38 (40, 24, 44) cm`.

    Cure: look the number up in the table it came from. (Common practice; no source.)
    """

    listed: str
    size: str
    found: str
    wanted: str

    code = "size-out-of-line"
    check = "C046"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"In {self.listed} the number of size {self.size}, {self.found}, is out of line with its "
            f"neighbours; "
            f"{self.wanted} would fit."
        )

    def label(self) -> str:
        return f"{self.found} out of line"

    def help(self) -> str | None:
        return f"Look whether {self.wanted} is meant."


@dataclass(frozen=True, slots=True)
class ListRunsBackwards:
    """A list of sizes runs from large to small where the other lists run from small to large.

    Every size but the middle one would take another's number.

    Example: sizes S (M, L), and `Cast on 96 (88, 80) sts`.

    Cure: turn the list round, or the sizes. (Common practice; no source.)
    """

    listed: str
    others: int

    code = "list-runs-backwards"
    check = "C045"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.listed} runs from large to small; {self.others} other lists of this pattern run the "
            f"other way."
        )

    def label(self) -> str:
        return "runs backwards"

    def help(self) -> str | None:
        return "Turn the list round if the sizes run from small to large."


@dataclass(frozen=True, slots=True)
class ListStepsBack:
    """A list grows with the size but for two neighbours, which stand the wrong way round.

    Example: sizes 2 (4, 6, 8) years, and `Knit every round for 15 (19, 17, 21) cm`.

    Cure: exchange the two numbers, or mend the one that is wrong. (Common practice; no source.)
    """

    listed: str
    first: str
    second: str
    in_first: str
    in_second: str

    code = "list-steps-back"
    check = "C045"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.listed} grows with the size but for one step back: {self.first} in size {self.in_first}, "
            f"{self.second} in size {self.in_second}."
        )

    def label(self) -> str:
        return f"{self.first}, then {self.second}"

    def help(self) -> str | None:
        return "Exchange the two numbers, or mend the one that is wrong."


@dataclass(frozen=True, slots=True)
class SizesFarApart:
    """Of two sizes one has three times as many as the other, or more, and in all other lists they are near.

    With two sizes there is no third to tell the line by. But sizes of one pattern differ by a little and not
    by a multiple: a digit was lost, or typed twice.

    Example: `Cast on 48 (56) sts`, `knit 20 (24) rounds`, and `rep round 1 23 (2) times more`.

    Cure: look the number up in the table it came from. (Common practice; no source.)
    """

    listed: str
    others: int

    code = "sizes-far-apart"
    check = "C046"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"In {self.listed} one size has three times as many as the other, or more; in {self.others} "
            f"other lists they are less than twice as many."
        )

    def label(self) -> str:
        return "far apart"

    def help(self) -> str | None:
        return "Look whether a digit is missing, or too many."


class _List(NamedTuple):
    """One list: its values as far as there are any, what it counts, and where it stands."""

    values: tuple[Fraction, ...]
    kind: str
    """"size": grows with the size (stitches cast on, totals, measures); "number": anything else."""
    span: Span


def _lists(subject: Subject) -> Iterator[_List]:
    """Every list with a number for each size."""
    n = len(subject.pattern.sizes)
    sized = {id(node.count) for _, node in subject.nodes(tree.CastOn)}
    sized |= {id(node.total) for _, node in subject.nodes(tree.Stated) if node.kind == "total"}
    for line, number in subject.nodes(tree.Number):
        if len(number.values) == n and None not in number.values and number.span.end >= 0:
            values = tuple(Fraction(v) for v in number.values if v is not None)
            kind = "size" if id(number) in sized else "number"
            yield _List(values, kind, Span(number.span.start + line.offset, number.span.end + line.offset))
    for line, length in subject.nodes(tree.Length):
        if len(length.values) == n and None not in length.values and length.span.end >= 0:
            values = tuple(v for v in length.values if v is not None)
            yield _List(values, "size", Span(length.span.start + line.offset, length.span.end + line.offset))
    for named in subject.pattern.numbers:
        if len(named.values) == n:
            yield _List(tuple(Fraction(v) for v in named.values), "number", named.span)
    for entry in subject.pattern.header.entries:
        if entry.known in _MEASURED:
            yield from _in_words(entry.value, entry.value_span.start, n)


_MEASURED = {"To fit", "Finished size", "Yarn"}
_LIST = re.compile(r"(?<![\d.])(\d{1,5}(?:\.\d{1,2})?) ?[(\[]([\d., /-]{1,200})[)\]]")
_NUMBER = re.compile(r"\d{1,5}(?:\.\d{1,2})?")


def _in_words(words: str, start: int, n: int) -> Iterator[_List]:
    for m in _LIST.finditer(words):
        inner = [p.strip() for p in m[2].split(",")]
        if len(inner) == n - 1 and all(_NUMBER.fullmatch(p) for p in inner):
            values = tuple(Fraction(p) for p in (m[1], *inner))
            yield _List(values, "size", Span(start + m.start(), start + m.end()))


# --- one entry out of line --------------------------------------------------------------------------------


class _Odd(NamedTuple):
    place: int
    wanted: Fraction


@lru_cache(maxsize=4096)
def _out_of_line(values: tuple[Fraction, ...], kind: str) -> _Odd | None:
    """The one entry that one digit would bring into line; None if there is none, or more than one."""
    n = len(values)
    if n < 3 or (_one_way(values) and not _leaps(values)):
        return None
    found = []
    for i in range(n):
        rest = [*values[:i], *values[i + 1 :]]
        if not _even(rest):
            continue
        fits = [w for w in _one_digit_off(values[i], kind) if _fits(values, i, w, kind)]
        near = _expected(values, i)
        if not fits and values[i] >= 20 and values[i] >= 5 * max(rest) and near > 0:
            fits = [near] if near.denominator == 1 else []
        if fits and abs(values[i] - near) >= max(8 if kind == "number" else 4, near / 4):
            found.append(_Odd(i, min(fits, key=lambda w: abs(w - near))))
    return found[0] if len(found) == 1 else None


def _one_way(values: Sequence[Fraction]) -> bool:
    up = all(a <= b for a, b in pairwise(values))
    return up or all(a >= b for a, b in pairwise(values))


def _leaps(values: Sequence[Fraction]) -> bool:
    """Whether an end of the list is four times its neighbour or a quarter of it: a digit's worth."""
    ends = [(values[0], values[1]), (values[-1], values[-2])]
    return any(min(pair) > 0 and max(pair) >= 4 * min(pair) for pair in ends)


def _even(values: Sequence[Fraction]) -> bool:
    """Whether the other entries run one way, the largest at most twice the smallest."""
    return _one_way(values) and min(values) > 0 and max(values) <= 2 * min(values)


def _expected(values: Sequence[Fraction], i: int) -> Fraction:
    """The middle between the neighbours; at an end one step beyond them."""
    if 0 < i < len(values) - 1:
        return (values[i - 1] + values[i + 1]) / 2
    a, b = (values[1], values[2]) if i == 0 else (values[-2], values[-3])
    return 2 * a - b


def _fits(values: Sequence[Fraction], i: int, wanted: Fraction, kind: str) -> bool:
    """Whether the list with the entry replaced runs one way, and by no greater step than twice the
    others'.
    """
    mended = [*values[:i], wanted, *values[i + 1 :]]
    if kind == "number" and mended != sorted(mended):
        return False  # rests and rows that fall may fall unevenly
    steps = [abs(b - a) for a, b in pairwise(mended)]
    others = [abs(b - a) for n, (a, b) in enumerate(pairwise(values)) if i not in {n, n + 1}]
    return _one_way(mended) and max(steps) <= max(
        Fraction(2), 2 * max(others, default=Fraction(0)), wanted / 8
    )


def _one_digit_off(value: Fraction, kind: str) -> set[Fraction]:
    """The whole numbers that a digit lost or gained, or two exchanged, make of this; in measures also one
    wrong.
    """
    if value.denominator != 1:
        return set()
    digits = str(int(value))
    found = {digits[:i] + digits[i + 1 :] for i in range(len(digits))}
    found |= {digits[:i] + d + digits[i:] for i in range(len(digits) + 1) for d in "0123456789"}
    if len(digits) > 1:
        found |= {digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :] for i in range(len(digits) - 1)}
    if kind == "size":
        found |= {digits[:i] + d + digits[i + 1 :] for i in range(len(digits)) for d in "0123456789"}
    return {Fraction(int(f)) for f in found if f and not f.startswith("0") and f != digits}


def judge_out_of_line(subject: Subject) -> Answer:
    """C046: places are the lists with three sizes or more, each list of numbers once."""
    n = len(subject.pattern.sizes)
    if n < 2:
        return Answer()
    lists = list(_lists(subject))
    times = Counter(x.values for x in lists)
    findings = []
    told: set[tuple[Fraction, ...]] = set()
    for x in lists:
        if times[x.values] > 2 or x.values in told:
            continue
        odd = _out_of_line(x.values, x.kind)
        if odd is not None:
            told.add(x.values)
            problem = SizeOutOfLine(
                _as_list(x.values),
                subject.pattern.sizes[odd.place],
                _say(x.values[odd.place]),
                _say(odd.wanted),
            )
            findings.append(Finding(problem=problem, span=x.span))
    findings += _far_apart(lists)
    return Answer(places=len(times), findings=tuple(findings))


_OTHERS = 4
"""So many other lists make a rule; common practice, no source."""


def _far_apart(lists: Sequence[_List]) -> Iterator[Finding]:
    """The one list of two sizes in which they differ by a multiple. Small numbers may: k1 (3)."""
    two = {x.values: x for x in lists if len(x.values) == 2 and min(x.values) > 0 and max(x.values) >= 8}
    far = [x for x in two.values() if max(x.values) >= 3 * min(x.values)]
    near = [x for x in two.values() if max(x.values) < 2 * min(x.values)]
    if len(far) == 1 and len(near) >= _OTHERS and len(near) == len(two) - 1:
        yield Finding(problem=SizesFarApart(_as_list(far[0].values), len(near)), span=far[0].span)


def _say(value: Fraction) -> str:
    return str(value.numerator) if value.denominator == 1 else f"{float(value):g}"


def _as_list(values: Sequence[Fraction]) -> str:
    return f"{_say(values[0])} ({', '.join(_say(v) for v in values[1:])})"


# --- from small to large ----------------------------------------------------------------------------------


def judge_direction(subject: Subject) -> Answer:
    """C045: places are the lists that grow with the size."""
    n = len(subject.pattern.sizes)
    if n < 2:
        return Answer()
    lists = [x for x in _lists(subject) if x.kind == "size" and len(set(x.values)) > 1]
    up = [x for x in lists if list(x.values) == sorted(x.values)]
    down = [x for x in lists if list(x.values) == sorted(x.values, reverse=True) and len(set(x.values)) == n]
    findings = []
    distinct = {x.values for x in up}
    findings += [
        f for x in _growing(subject) if (f := _step_back(subject, x)) is not None and len(distinct) >= 3
    ]
    if len(down) == 1 and len(distinct) >= 3:
        problem = ListRunsBackwards(_as_list(down[0].values), len(distinct))
        findings.append(Finding(problem=problem, span=down[0].span))
    return Answer(places=len(lists), findings=tuple(findings))


def _growing(subject: Subject) -> Iterator[_List]:
    """Lists of what a larger size has more of: lengths to knit, and stops at a count or a number of repeats.

    Rows and times alone are left out: what is left to a length may well be fewer in a larger size.
    """
    untils = [until for _, until in subject.nodes(tree.Until)]
    stops = {id(number) for until in untils for number in (until.stitches, until.times)}
    lengths = {length.span.start + line.offset for line, length in subject.nodes(tree.Length)}
    numbers = {
        number.span.start + line.offset for line, number in subject.nodes(tree.Number) if id(number) in stops
    }
    for x in _lists(subject):
        if x.span.start in lengths or x.span.start in numbers:
            yield x


def _step_back(subject: Subject, x: _List) -> Finding | None:
    steps = [n for n, (a, b) in enumerate(pairwise(x.values)) if b < a]
    if len(x.values) < 3 or len(steps) != 1 or x.values[-1] < x.values[0]:
        return None
    if _out_of_line(x.values, x.kind) is not None:
        return None  # told by the digit that is wrong
    n = steps[0]
    rest = [*x.values[:n], *x.values[n + 2 :]]
    if rest != sorted(rest):
        return None
    sizes = subject.pattern.sizes
    first, second = _say(x.values[n]), _say(x.values[n + 1])
    problem = ListStepsBack(_as_list(x.values), first, second, sizes[n], sizes[n + 1])
    return Finding(problem=problem, span=x.span)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C045": judge_direction, "C046": judge_out_of_line}
