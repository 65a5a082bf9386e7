"""Checks C116 and C117: the amounts of yarn in the header agree with one another and with the kind of yarn.

In: a subject. Out: the amounts of each yarn entry, and findings where two of them disagree. How much yarn the
stitches take is left to rooms above.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from purlwright.findings import Finding, Severity
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject
from purlwright.proof.trade import yarn_class
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.header import Header, YarnEntry

__all__ = [
    "JUDGES",
    "BallsDoNotAddUp",
    "SkeinLengthUnlikely",
    "YarnAmount",
    "YarnMeasuresDiffer",
    "amounts_of",
    "amounts_told",
]

_M = {"m": Fraction(1), "yd": Fraction(9144, 10000)}
"""Metres: a yard is 0.9144 m exactly. Source: international yard and pound agreement, 1959."""
_G = {"g": Fraction(1), "oz": Fraction(2835, 100), "kg": Fraction(1000)}
"""Grams: an ounce is 28.35 g. Source: international yard and pound agreement, 1959."""


@dataclass(frozen=True, slots=True)
class YarnMeasuresDiffer:
    """One length or weight of yarn is printed in two units, and the two are not the same.

    A knitter buys by the one she knows; one of the two buys her too little.

    Example: `Yarn: wool, 220 yds / 400 m per 100 g`. 220 yards are 201 metres.

    Cure: look at the label of the ball and correct the figure that is wrong.

    Source: a yard is 0.9144 m and an ounce 28.35 g; figures rounded to the next ten are taken as right.
    """

    first: str
    second: str
    true: str

    code = "yarn-measures-differ"
    check = "C117"
    severity = Severity.ERROR

    def message(self) -> str:
        return f"{self.first} is {self.true}, and {self.second} stands beside it."

    def label(self) -> str:
        return f"{self.first} is {self.true}"

    def help(self) -> str | None:
        return f"Write {self.true}, or correct {self.first}."


@dataclass(frozen=True, slots=True)
class BallsDoNotAddUp:
    """The balls to buy, at the length or weight of one ball, are not the amount that the pattern asks for.

    Too few, and the piece cannot be finished from one dye lot; twice too many, and either the ball or the
    amount is misprinted.

    Example: `Yarn: 5 balls of 120 m; about 790 m`. 5 balls of 120 m are 600 m.

    Cure: count the balls again: the amount divided by one ball, rounded up.
    """

    balls: str
    each: str
    sum: str
    asked: str

    code = "balls-do-not-add-up"
    check = "C117"
    severity = Severity.ERROR

    def message(self) -> str:
        return f"{self.balls} balls of {self.each} are {self.sum}, and the words ask for {self.asked}."

    def label(self) -> str:
        return f"{self.sum} in all"

    def help(self) -> str | None:
        return "Correct the number of balls, the size of one ball, or the amount."


@dataclass(frozen=True, slots=True)
class SkeinLengthUnlikely:
    """A yarn of this class has far more, or far fewer, metres in 100 g.

    The length on the band decides how many balls are bought; printed at twice the true figure it buys half
    the yarn.

    Example: `Yarn: wool, 4 Medium, 440 m per 100 g`. A medium yarn has 120 to 240 m in 100 g.

    Cure: look at the label of the ball and correct the length, the weight or the class.

    Source: common practice of the trade, tables of shops, guilds and spinners compared. Only what is half as
    much again as the most, or half the least, is spoken of; brushed and mohair yarns are left out.
    """

    metres: int
    yarn: str
    least: int
    most: int

    code = "skein-length-unlikely"
    check = "C117"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"This is {self.metres} m in 100 g; yarn of class {self.yarn} has about {self.least} to "
            f"{self.most} m."
        )

    def label(self) -> str:
        return f"{self.metres} m in 100 g"

    def help(self) -> str | None:
        return "Look at the label of the ball: correct the length, the weight or the class."


# --- amounts in words ---------------------------------------------------------------------------

_N = r"\d{1,3}(?:,\d{3})+(?!\d)|\d{1,5}(?:\.\d{1,2})?"
_AMOUNT = re.compile(
    rf"(?<![\w.,])(?<!\d/)(?P<list>(?:{_N})(?:\s*[(\[]\s*(?:{_N}|-)(?:\s*[,:;]\s*(?:{_N}|-))*\s*[)\]])*)\s*-?\s*"
    r"(?:(?P<m>m\b(?![\d-])|met(?:re|er)s?\b)|(?P<yd>yds?\b|yards?\b)|(?P<g>g\b|gr\b|gms?\b|grams?\b|grammes?\b)"
    r"|(?P<oz>oz\b|ounces?\b)|(?P<kg>kg\b)|(?P<ball>(?:balls?|skeins?|hanks?|cones?)\b|[x×]\s?(?=\d)))",
    re.IGNORECASE,
)
_ONE = re.compile(rf"{_N}|(?<=[,(\[ ])-")
_BESIDE = re.compile(
    r"(?:\s|[()\[\]/=~≈]|,\s*(?=[\d~≈])|\b(?:or|per|in|to|for|of|each|about|approx(?:imately)?\.?|a|an)\b)*(?:\d+\s)?",
    re.IGNORECASE,
)
Unit = Literal["m", "yd", "g", "oz", "kg", "ball"]


@dataclass(frozen=True, slots=True, kw_only=True)
class YarnAmount:
    """One amount: its values (one, or one a size), its unit and its words."""

    values: tuple[Fraction | None, ...]
    unit: Unit
    words: str
    start: int
    end: int

    def at(self, size: int) -> Fraction | None:
        """The value for a size."""
        if len(self.values) == 1:
            return self.values[0]
        return self.values[size] if size < len(self.values) else None


@dataclass(slots=True)
class _Group:
    """Amounts that stand side by side: one ball, or one total."""

    amounts: list[YarnAmount] = field(default_factory=list)
    before: str = ""
    between: str = ""
    after: str = ""

    def get(self, *units: Unit) -> YarnAmount | None:
        return next((a for a in self.amounts if a.unit in units), None)


@lru_cache(maxsize=4096)
def amounts_of(words: str, sizes: int) -> tuple[YarnAmount, ...]:
    """Every amount of yarn in some words: "200 m", "5 (6, 7) balls", "3.5 oz"; lists only with one a size."""
    return tuple(_amounts(words, sizes))


def _amounts(words: str, sizes: int) -> Iterator[YarnAmount]:
    for m in _AMOUNT.finditer(words):
        if m.lastgroup is None:
            continue
        values = tuple(
            None if n[0] == "-" else Fraction(n[0].replace(",", "")) for n in _ONE.finditer(m["list"])
        )
        if len(values) in {1, sizes}:
            unit: Unit = m.lastgroup  # type: ignore[assignment]
            yield YarnAmount(values=values, unit=unit, words=m[0].strip(), start=m.start(), end=m.end())


def _groups(words: str, sizes: int) -> list[_Group]:
    """Amounts gathered while only strokes, brackets and "per" stand between, and no unit comes twice."""
    out: list[_Group] = []
    end = 0
    for a in amounts_of(words, sizes):
        between = words[end : a.start]
        last = out[-1] if out else None
        if (
            last is None
            or not _BESIDE.fullmatch(between)
            or a.unit == "ball"
            or last.get(a.unit) is not None
            or _told_of_one(words, end, a.start, last, sizes)
            or (a.unit in {"g", "oz"} and last.get("ball") is not None and len(last.amounts) > 2)
        ):
            out.append(_Group([a], before=between))
            if last is not None:
                last.after = between
        else:
            last.amounts.append(a)
            last.between += between
        end = a.end
    if out:
        out[-1].after = words[end:]
    return out


def _told_of_one(words: str, end: int, start: int, last: _Group, sizes: int) -> bool:
    """Whether a bracket opens here that tells of one ball, after the whole: "20 g (100 m per 50 g)"."""
    opened = words.find("(", end, start)
    if opened < 0:
        return False
    closed = words.find(")", opened)
    inside = amounts_of(words[opened : closed if closed >= 0 else len(words)], sizes)
    return any(last.get(a.unit) is not None for a in inside)


# --- two units of one amount --------------------------------------------------------------------


def _shown(amount: Fraction, unit: str) -> str:
    return f"{float(amount):.0f} {unit}" if amount >= 10 else f"{float(amount):.1f} {unit}"


def _unit_pairs(group: _Group, at: int, places: list[int]) -> Iterator[Finding]:
    """Yards beside metres, ounces beside grams."""
    for small, great, known, near, least in (("yd", "m", _M, 12, 5), ("oz", "g", _G, 6, 4)):
        a, b = group.get(small), group.get(great)  # type: ignore[arg-type]
        if a is None or b is None or len(a.values) != len(b.values):
            continue
        places[0] += 1
        for x, y in zip(a.values, b.values, strict=True):
            if not x or not y:
                continue
            true = x * known[small] / known[great]
            if abs(true - y) > max(true / near, y / near, Fraction(least)):
                problem = YarnMeasuresDiffer(
                    f"{float(x):g} {small}", f"{float(y):g} {great}", _shown(true, great)
                )
                start, end = min(a.start, b.start), max(a.end, b.end)
                yield Finding(problem=problem, span=Span(at + start, at + end))
                break


# --- balls, one ball, the whole -----------------------------------------------------------------


def _metres(group: _Group, size: int) -> Fraction | None:
    a = group.get("m", "yd")
    value = a.at(size) if a is not None else None
    return None if a is None or value is None else value * _M[a.unit]


def _grams(group: _Group, size: int) -> Fraction | None:
    a = group.get("g", "oz", "kg")
    value = a.at(size) if a is not None else None
    return None if a is None or value is None else value * _G[a.unit]


_SMALL_BALL = 60
"""Metres told per so many grams or fewer are told of one ball: yarn that is compared is told per 100 g.

Source: common practice of bands and lists, no single source.
"""


def _is_a_ball(rate: _Group) -> bool:
    """Whether "160 m per 50 g" tells what one ball holds."""
    grams = _grams(rate, 0)
    return grams is not None and grams <= _SMALL_BALL


_PER = re.compile(r"\bper\b|\bto\b|\bin\b", re.IGNORECASE)


@dataclass(slots=True)
class _Balls:
    """What an entry says of its balls: how many, one of them, and the whole amount."""

    count: YarnAmount
    one: _Group
    whole: _Group
    per_100_g: Fraction | None

    def metres_each(self, size: int) -> Fraction | None:
        """Metres in one ball, by its weight if no length is given of it."""
        grams = _grams(self.one, size)
        if self.one.get("m", "yd") is not None or self.per_100_g is None or grams is None:
            return _metres(self.one, size)
        return grams * self.per_100_g / 100

    def grams_each(self, size: int) -> Fraction | None:
        """Grams in one ball."""
        return _grams(self.one, size)


_WHOLE = re.compile(r"\b(?:about|approx\w*|total|in all|all|need\w*|requires?|uses?)\b|;|^$", re.IGNORECASE)
_IN_ALL = re.compile(r"\s*(?:in all|in total|altogether|total)\b", re.IGNORECASE)


def _balls(words: str, sizes: int, per_100_g: Fraction | None) -> _Balls | None:
    """COUNT "balls" ... ONE ... WHOLE: "5 balls (120 m / 50 g each), about 600 m"; None if any lacks."""
    groups = _groups(words, sizes)
    counts = [a for g in groups for a in g.amounts if a.unit == "ball"]
    if len(counts) != 1:
        return None
    ones: list[_Group] = []
    wholes: list[_Group] = []
    for g in groups:
        rest = [a for a in g.amounts if a.unit != "ball"]
        if not rest:
            continue
        rated = _PER.search(g.between) is not None
        single = all(len(a.values) == 1 for a in rest)
        bare = _Group(rest, before=g.before, between=g.between, after=g.after)
        has_both = bare.get("m", "yd") is not None and bare.get("g", "oz") is not None
        if single and (has_both or g.get("ball") is not None) and not wholes:
            if not rated or _is_a_ball(bare):
                ones.append(bare)
        elif not has_both and (_WHOLE.search(g.before) or _IN_ALL.match(g.after)):
            wholes.append(bare)
    if len(ones) != 1 or len(wholes) != 1 or re.search(r"\b(?:or|double|held|strands?)\b", words):
        return None
    return _Balls(counts[0], ones[0], wholes[0], per_100_g)


def metres_of_a_ball(yarn: YarnEntry, sizes: int, size: int) -> Fraction | None:
    """How long the yarn on one ball is, as far as the words of a header's entry tell it; else None.

    size : which number of a list is meant, from 0. "5 balls (120 m / 50 g each)" tells it, and "120 m per 50
        g".
    """
    balls = _balls(yarn.words, sizes, yarn.metres_per_100_g)
    if balls is not None:
        return balls.metres_each(size)
    for group in _groups(yarn.words, sizes):
        if all(len(a.values) == 1 for a in group.amounts) and _PER.search(group.between):
            metres = _metres(group, 0)
            if metres is not None and _is_a_ball(group):
                return metres
    return None


def _sum_finding(yarn: YarnEntry, sizes: int, balls: _Balls) -> Finding | None:
    """Balls times one ball against the whole, in every size."""
    for measure, each_of, unit in ((_metres, balls.metres_each, "m"), (_grams, balls.grams_each, "g")):
        found: list[tuple[Fraction, Fraction, Fraction]] = []
        wrong = False
        for place in range(sizes):
            n, each, whole = balls.count.at(place), each_of(place), measure(balls.whole, place)
            if not n or not each or not whole:
                continue
            found.append((n, n * each, whole))
            wrong |= n * each < whole * Fraction(95, 100) or (
                n * each > whole * Fraction(17, 10) and (n - 2) * each > whole
            )
        if wrong:
            fitting = [a.words for a in balls.one.amounts if (a.unit in _M) == (unit == "m")]
            each_words = (fitting or [balls.one.amounts[0].words])[0]
            problem = BallsDoNotAddUp(
                _list([n for n, _, _ in found]), each_words, f"{_list([s for _, s, _ in found])} {unit}",
                next(a.words for a in balls.whole.amounts if (a.unit in _M) == (unit == "m")),
            )  # fmt: skip
            at = yarn.span.start
            return Finding(problem=problem, span=Span(at + balls.count.start, at + balls.count.end))
    return None


def _list(numbers: list[Fraction]) -> str:
    """Numbers as a designer writes them: "5 (6, 7)"."""
    words = [f"{float(n):.0f}" for n in numbers]
    return words[0] if len(set(words)) == 1 else f"{words[0]} ({', '.join(words[1:])})"


# --- metres in 100 g ----------------------------------------------------------------------------

_AIRY = re.compile(
    r"mohair|brushed|suri|blown|chainette|\bair\b|angora|tape|ribbon|thread|held|double|strands?",
    re.IGNORECASE,
)


def _unlikely(yarn: YarnEntry) -> tuple[bool, Finding | None]:
    """Whether metres in 100 g and the class are told, and the finding if the one is far from the other."""
    group = next((g for g in _groups(yarn.words, 1) if g.get("m", "yd") and g.get("g", "oz")), None)
    metres, grams = (_metres(group, 0), _grams(group, 0)) if group is not None else (None, None)
    per = metres * 100 / grams if metres and grams else yarn.metres_per_100_g
    known = yarn_class(yarn.words) if per is not None else None
    if per is None or known is None or _AIRY.search(yarn.words):
        return False, None
    least, most = known.metres
    if per <= most * Fraction(3, 2) and per >= least / 2:
        return True, None
    problem = SkeinLengthUnlikely(round(per), known.name, int(least), int(most))
    if group is None:
        return True, Finding(problem=problem, span=yarn.span)
    start = min(a.start for a in group.amounts) + yarn.span.start
    return True, Finding(
        problem=problem, span=Span(start, max(a.end for a in group.amounts) + yarn.span.start)
    )


# --- what is told to have -----------------------------------------------------------------------

_ABOUT = re.compile(
    r"\b(?:about|approx\w*|total|in all|all|need\w*|requires?|uses?|some)\b|[~≈]", re.IGNORECASE
)
_OF_A_PART = re.compile(
    r"\s*\W?\s*(?:for (?!all|every|each size|size|the whole)|each\b|per\b|a (?:piece|pair)\b)", re.IGNORECASE
)
_UNSURE = re.compile(r"\b(?:or|double[d]?|held|strands?)\b", re.IGNORECASE)


def amounts_told(
    words: str, sizes: int, per_100_g: Fraction | None
) -> Iterator[tuple[YarnAmount, tuple[Fraction | None, ...]]]:
    """Each amount of yarn in all that the words tell to have, with its metres in every size.

    "about 690 (790) m"; "about 350 g" where the metres in 100 g are told; "6 (7) balls of 50 g (120 m each)".
    """
    if _UNSURE.search(words):
        return
    groups = _groups(words, sizes)
    for g in groups:
        count = g.get("ball")
        if count is not None:
            each = _one_ball(g, groups, per_100_g)
            if each is not None:
                many = [count.at(s) for s in range(sizes)]
                yield count, tuple(n * each if n is not None else None for n in many)
            continue
        length, mass = g.get("m", "yd"), g.get("g", "oz", "kg")
        if length is not None and mass is not None:
            continue  # so many metres per so many grams
        if _OF_A_PART.match(g.after):
            return  # of a part, or of several, of which only one may be knitted here
        a = g.amounts[0]
        if len(a.values) == 1 and not (_ABOUT.search(g.before) or _IN_ALL.match(g.after)):
            continue
        if length is not None:
            yield a, tuple(_metres(g, s) for s in range(sizes))
        elif per_100_g is not None:
            grams = (_grams(g, s) for s in range(sizes))
            yield a, tuple(n * per_100_g / 100 if n is not None else None for n in grams)


def _one_ball(counted: _Group, groups: list[_Group], per_100_g: Fraction | None) -> Fraction | None:
    """Metres in one ball: told beside the balls, or of the one other group of a ball; else by weight."""
    others = [g for g in groups if g is not counted and g.get("m", "yd") and g.get("g", "oz")]
    for g in (counted, *(others if len(others) == 1 else ())):
        rated = _PER.search(g.between) is not None and not _is_a_ball(g)
        if not rated and all(len(a.values) == 1 for a in g.amounts if a.unit != "ball"):
            metres, grams = _metres(g, 0), _grams(g, 0)
            if metres is not None:
                return metres
            if grams is not None and per_100_g is not None:
                return grams * per_100_g / 100
    return None


def judge_amounts(subject: Subject) -> Answer:
    """C117."""
    return subject.of_header(_in_header)


def _in_header(header: Header, sizes: int) -> Answer:
    sizes = max(1, sizes)
    places = [0]
    findings: list[Finding] = []
    for yarn in header.yarns:
        found = [f for g in _groups(yarn.words, sizes) for f in _unit_pairs(g, yarn.span.start, places)]
        findings += found
        balls = _balls(yarn.words, sizes, yarn.metres_per_100_g)
        if balls is not None:
            places[0] += 1
            wrong = _sum_finding(yarn, sizes, balls)
            findings += [wrong] if wrong else []
        told, far = _unlikely(yarn)
        places[0] += told
        findings += [far] if far and not found else []
    return Answer(places=places[0], findings=tuple(findings))


def judge_enough(subject: Subject) -> Answer:
    """C116, without the cloth: asked of every pattern that says how much yarn it takes.

    The stitches' yarn is reckoned in a room above, whose judge takes this one's place.
    """
    return subject.of_header(_enough)


def _enough(header: Header, sizes: int) -> Answer:
    for yarn in header.yarns:
        for g in _groups(yarn.words, max(1, sizes)):
            if g.get("ball") or (len(g.amounts) == 1 and g.amounts[0].unit != "ball"):
                return Answer(missing="the yarn taken by each stitch")
    return Answer()


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C116": judge_enough, "C117": judge_amounts}
