"""What the answers of test knitters say: what differs, and whether it is the hand or the pattern.

In: what is expected, the answers of one or several, and a way to ask what a wrong count most likely means.
Out: a :class:`Line` for each thing that was asked and answered.

How it is told apart. A measure that is off as much as her gauge is off is her gauge. One that is off although
her gauge is taken into account is not: then the pattern, or the measuring, is to be looked at. A count does
not depend on gauge: what it is was knitted, so a wrong one is a slip of hers, unless others of the same size
have it too, or the words do not come out. Times are set beside her own pace.

How much is let pass (rules of thumb): 2 mm in 10 cm of gauge; for a measure what the reckoning itself may be
off, 3 mm of ruler and 1.5 in 100 of laying out; for yarn 5 in 100 more than its own range; a part that took
half as long again as her pace has it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from purlwright.proof.said import and_list, count
from purlwright.testknit.expected import CountAsked, Expected, GaugeAsked, MeasureAsked, YarnAsked
from purlwright.testknit.form import Answers
from purlwright.units import length_words

__all__ = ["Line", "Whose", "compare"]

GAUGE_OFF = 0.02
RULER_MM, LAID = 3.0, 0.015
YARN_OFF = 0.05
SLOW = 1.5
PACE = 15.0
"""The usual pace, in plain stitches a minute; by eye, no source."""

Meaning = Callable[[CountAsked, int], tuple[bool, str]]
"""Of a wrong count after a row: whether the pattern itself is most likely at fault, and what most likely
happened, in words."""


class Whose(StrEnum):
    """What a line says."""

    AGREES = "agrees"
    GAUGE = "her gauge"
    HAND = "her knitting"
    PATTERN = "the pattern"
    PACE = "her pace"
    OPEN = "open"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing: ``about`` gauge, stitches, size, yarn, time or words; ``name`` what was asked; ``expected``
    and ``told`` in words; and what it says in a sentence.
    """

    about: str
    name: str
    knitter: str
    expected: str
    told: str
    whose: Whose
    words: str


def compare(expected: Expected, answers: Sequence[Answers], meaning: Meaning) -> tuple[Line, ...]:
    """Set the answers beside what was expected, knitter by knitter; none for forms without an answer."""
    out: list[Line] = []
    for n, one in enumerate(answers, 1):
        who = one.knitter or (f"form {n}" if len(answers) > 1 else "")
        out += _gauges(expected, one, who)
        out += _counts(expected, one, who, answers, meaning)
        out += _measures(expected, one, who, answers)
        out += _yarns(expected, one, who)
        out += _times(expected, one, who)
        out += [
            Line(about="words", name="hard to follow", knitter=who, expected="", told=w, whose=Whose.OPEN,
                 words="Read these rows again as she did.")
            for w in one.hard
        ]  # fmt: skip
    return tuple(out)


# --- gauge -----------------------------------------------------------------------------------------


def _gauges(expected: Expected, one: Answers, who: str) -> Iterator[Line]:
    for g in expected.gauges:
        swatch, piece = (told.get(g.name, (None, None)) for told in (one.swatch, one.piece))
        for n, (what, stated) in enumerate((("stitches", g.stitches), ("rows", g.rows))):
            if stated is None or (swatch[n] is None and piece[n] is None):
                continue
            yield _one_gauge(g, what, stated, swatch[n], piece[n], who)


def _one_gauge(
    g: GaugeAsked, what: str, stated: float, swatch: float | None, piece: float | None, who: str
) -> Line:
    hers = piece if piece is not None else swatch
    assert hers is not None  # noqa: S101 - the caller has one of them
    told = [f"{_n(v)} on the {of}" for v, of in ((swatch, "swatch"), (piece, "piece")) if v is not None]
    off = hers / stated - 1
    if abs(off) <= GAUGE_OFF:
        whose, words = Whose.AGREES, "Her gauge is the pattern's."
    else:
        more = "more" if off > 0 else "fewer"
        hand = "tighter" if off > 0 else "looser"
        whose = Whose.GAUGE
        words = f"{abs(off) * 100:.0f} in 100 {more} than the pattern's: she knits {hand}."
    if swatch is not None and piece is not None and abs(swatch / piece - 1) > GAUGE_OFF:
        words += " Her swatch and her piece differ: a larger swatch, washed and dried, tells more truly."
    name = f"{what} to 10 cm" + (f" {g.name}" if g.name else "")
    return Line(
        about="gauge", name=name, knitter=who, expected=_n(stated), told=", ".join(told), whose=whose,
        words=words,
    )  # fmt: skip


def _scale(expected: Expected, one: Answers, along: str) -> float | None:
    """By how much her gauge makes it larger; None if she does not tell it. The first gauge told counts."""
    n = 0 if along == "stitches" else 1
    for g in expected.gauges:
        stated = (g.stitches, g.rows)[n]
        for told in (one.piece, one.swatch):
            hers = told.get(g.name, (None, None))[n]
            if hers and stated:
                return stated / hers
    return None


# --- stitches --------------------------------------------------------------------------------------


def _counts(
    expected: Expected, one: Answers, who: str, every: Sequence[Answers], meaning: Meaning
) -> Iterator[Line]:
    said = False
    for at in sorted(one.counts):
        row, told = expected.every[at], one.counts[at]
        fits = told == row.stitches
        others = Counter(a.counts[at] for a in every if at in a.counts and a is not one)
        if fits:
            whose, words = Whose.AGREES, ""
        elif others and set(others) == {told}:
            whose = Whose.PATTERN
            words = (
                f"{count(others[told], 'other knitter')} of this size has it too: read the words of the rows "
                "before it as a stranger would."
            )
        elif said:
            whose, words = Whose.HAND, "It may follow from the difference above."
        else:
            at_fault, likely = meaning(row, told)
            whose = Whose.PATTERN if at_fault else Whose.HAND
            words = f"{likely[:1].upper()}{likely[1:]}."
            if others:
                words += " Others have another count there."
        said = said or not fits
        yield Line(
            about="stitches", name=row.called if not row.piece else f"{row.called} ({row.name})",
            knitter=who, expected=str(row.stitches), told=str(told), whose=whose, words=words,
        )  # fmt: skip


# --- size ------------------------------------------------------------------------------------------


def _measures(expected: Expected, one: Answers, who: str, every: Sequence[Answers]) -> Iterator[Line]:
    for m in expected.measures:
        if m.name in one.measures:
            yield _measure(
                m, one.measures[m.name], _scale(expected, one, m.along), who, _alike(m, one, every)
            )


def _alike(m: MeasureAsked, one: Answers, every: Sequence[Answers]) -> int:
    """How many others measured the same, within the ruler."""
    mine = one.measures[m.name]
    return sum(
        abs(a.measures[m.name] - mine) <= _let_pass(m) for a in every if a is not one and m.name in a.measures
    )


def _let_pass(m: MeasureAsked) -> float:
    return m.off_mm + RULER_MM + LAID * m.mm


def _measure(m: MeasureAsked, told: float, scale: float | None, who: str, alike: int) -> Line:
    off = told - m.mm
    words = ""
    if abs(off) <= _let_pass(m):
        whose = Whose.AGREES
    elif scale is None:
        whose = Whose.OPEN
        words = f"{_cm(abs(off))} {_more(off)}. Without her gauge it cannot be told whose it is: ask for it."
    else:
        hers = m.mm * scale
        rest = told - hers
        if abs(rest) <= _let_pass(m) * max(scale, 1.0) and abs(hers - m.mm) > RULER_MM:
            whose = Whose.GAUGE
            words = f"{_cm(abs(off))} {_more(off)}; at her gauge it would be {_cm(hers)}. It is her gauge."
        else:
            whose = Whose.PATTERN
            words = (
                f"{_cm(abs(off))} {_more(off)}, and at her gauge it would be {_cm(hers)}: it is not her "
                "gauge. Have it measured again; if it stays so, look at the pattern's measure and its rows "
                "there."
            )
    if alike and whose in {Whose.PATTERN, Whose.OPEN}:
        words += f" {count(alike, 'other knitter')} measured the same."
    return Line(
        about="size", name=m.name, knitter=who, expected=_cm(m.mm), told=_cm(told), whose=whose, words=words
    )


def _more(off: float) -> str:
    return "more" if off > 0 else "less"


# --- yarn ------------------------------------------------------------------------------------------


def _yarns(expected: Expected, one: Answers, who: str) -> Iterator[Line]:
    for y in expected.yarns:
        if y.name in one.metres:
            yield _yarn(y, one.metres[y.name], _scale(expected, one, "stitches"), who)
        elif y.name in one.grams:
            yield Line(
                about="yarn", name=y.name, knitter=who, expected=_metres(y),
                told=f"{one.grams[y.name]:.0f} g",
                whose=Whose.OPEN,
                words="How long her yarn is for its weight is not told, so that its length is not known.",
            )  # fmt: skip


def _yarn(y: YarnAsked, told: float, scale: float | None, who: str) -> Line:
    def within(by: float) -> bool:
        return y.least * by * (1 - YARN_OFF) <= told <= y.most * by * (1 + YARN_OFF)

    words = ""
    if within(1.0):
        whose = Whose.AGREES
    elif scale is None:
        whose, words = Whose.OPEN, "Without her gauge it cannot be told whose it is: ask for it."
    elif within(scale):
        whose = Whose.GAUGE
        words = f"At her gauge it would be about {y.metres * scale:.0f} m. It is her gauge."
    else:
        whose = Whose.PATTERN
        words = (
            f"At her gauge it would be about {y.metres * scale:.0f} m: it is not her gauge. Ask whether the "
            "swatch, long ends or knitting ripped out are in it; if not, print what she took."
        )
    return Line(
        about="yarn", name=y.name, knitter=who, expected=_metres(y), told=f"{told:.0f} m", whose=whose,
        words=words,
    )  # fmt: skip


def _metres(y: YarnAsked) -> str:
    return f"{y.metres:.0f} m ({y.least:.0f} to {y.most:.0f})"


# --- time ------------------------------------------------------------------------------------------


def _times(expected: Expected, one: Answers, who: str) -> Iterator[Line]:
    told = [(s, one.minutes[s.name]) for s in expected.stretches if one.minutes.get(s.name)]
    if not told:
        return
    work, minutes = sum(s.stitches for s, _ in told), sum(m for _, m in told)
    pace = work / minutes
    parts = and_list([s.name for s, _ in told])
    at_pace = f"at {PACE:g} a minute it would be {_hours(work / PACE)}"
    yield Line(
        about="time", name="her pace", knitter=who, expected=f"{PACE:g}",
        told=f"{pace:.0f} plain stitches a minute", whose=Whose.PACE,
        words=f"{parts}: {_hours(minutes)} in all; {at_pace}.",
    )  # fmt: skip
    if len(told) < 2:
        return
    for s, m in told:
        rest = (work - s.stitches) / (minutes - m) if minutes > m else pace
        usual = s.stitches / rest
        slow = m > usual * SLOW
        yield Line(
            about="time", name=s.name, knitter=who, expected=_hours(usual), told=_hours(m),
            whose=Whose.OPEN if slow else Whose.AGREES,
            words="" if not slow else
            f"{m / usual:.1f} times as long as at her pace in the rest: hard to work, or hard to follow. "
            "Ask her which.",
        )  # fmt: skip


def _hours(minutes: float) -> str:
    whole = round(minutes)
    return f"{whole} min" if whole < 90 else f"{whole // 60} h {whole % 60:02d}"


def _cm(mm: float) -> str:
    return f"{length_words(mm, 'cm')} cm"


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
