"""Lengths and weights in metric, in imperial, or in both.

In: a pattern's text that was read. Out: edits, by line, and a sentence that declares the rounding. In a gauge
10 cm stand for 4 in, as the trade has it; other lengths are told by the ruler (``units``). Needles keep their
diameter and gain the US number.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.findings import Edit
from purlwright.proof.trade import needle_numbers
from purlwright.text import Span
from purlwright.units import BY_GAUGE, MM, length_words, ruler_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.sheet.compose.asked import Units, Work

__all__ = ["DECLARED", "in_units", "measures_in_inches"]

DECLARED = {
    "metric": "Inches of 2.54 cm are given in centimetres, to the nearest half; only in the gauge do 4 in "
    "stand for 10 cm.",
    "imperial": "Centimetres are given in inches of 2.54 cm, to the nearest quarter; only in the gauge do "
    "10 cm stand for 4 in.",
    "both": "Centimetres and inches stand side by side, each as a ruler shows it; work with one of them "
    "throughout.",
}
_M = Fraction(9144, 10000)
_OZ = Fraction(2835, 100)
_GLYPHS = {"¼": Fraction(1, 4), "½": Fraction(1, 2), "¾": Fraction(3, 4), "⅛": Fraction(1, 8),
           "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8)}  # fmt: skip
_N = r"(?:\d+(?:\.\d+)?(?: ?[¼½¾⅛⅜⅝⅞]| \d/\d)?|[¼½¾⅛⅜⅝⅞])"
_LIST = rf"(?P<first>{_N})(?: ?[(\[](?P<rest>(?:{_N}|-)(?:, ?(?:{_N}|-))*)[)\]])?"
_AFTER_IN = (
    r"(?=\s*(?:[,.;:)\]]|$|(?:wide|long|deep|high|tall|round|around|across|from|circular|square|in)\b))"
)
_METRIC = re.compile(rf"(?<![\w./]){_LIST} ?(?P<unit>cm)\b(?! ?[/(\[] ?[\d¼½¾])")
_IMPERIAL = re.compile(
    rf"(?<![\w./]){_LIST}(?: ?(?:inches|inch|ins)\b| ?[\"”]| in{_AFTER_IN})(?! ?[/(\[] ?[\d¼½¾])"
)
_BESIDE = re.compile(r"(?:cm|mm|m|inches|inch|ins|in|[\"”]) ?[/(\[] ?$")
_METRES = re.compile(rf"(?<![\w./]){_LIST} ?(?P<unit>m|metres?)\b")
_YARDS = re.compile(rf"(?<![\w./]){_LIST} ?(?P<unit>yards?|yds?)\b")
_GRAMS = re.compile(rf"(?<![\w./]){_LIST} ?(?P<unit>g|grams?)\b")
_OUNCES = re.compile(rf"(?<![\w./]){_LIST} ?(?P<unit>oz|ounces?)\b")
_NEEDLE = re.compile(r"(?<![\w./])(?P<mm>\d+(?:\.\d+)?) ?mm\b(?! ?[(/])")
_CABLE = {40: 16, 50: 20, 60: 24, 80: 32, 100: 40, 120: 47, 150: 60}
"""Lengths in which circular needles are sold, in cm and in; common practice, no source."""


def in_units(work: Work, units: Units) -> dict[int, list[Edit]]:
    """The edits that give lengths in these units, by line; none where nothing is to be given otherwise."""
    source = work.source
    out: dict[int, list[Edit]] = {}
    if not units:
        return out

    def add(edits: Iterator[Edit]) -> None:
        for edit in edits:
            out.setdefault(source.place(edit.span.start)[0], []).append(edit)

    for entry in work.pattern.header.entries:
        at, words = entry.value_span.start, source.words(entry.value_span)
        if entry.known == "Needles":
            add(_needles(words, at, units))
        elif entry.known == "Yarn":
            add(_yarn(words, at, units))
        elif entry.known != "Sizes":
            add(_lengths(words, at, units, gauge=entry.known == "Gauge"))
    for words, span in work.pattern.header.description:
        add(_lengths(words, span.start, units))
    charts = [c.span for c in work.pattern.charts]
    for line in work.pattern.lines:
        if not any(c.start <= line.offset < c.end for c in charts):
            add(_lengths(line.text, line.offset, units))
    return out


def measures_in_inches(work: Work) -> bool:
    """Whether she gives the measures of the work in inches alone, whatever her gauge is counted over."""
    told = [
        work.source.words(e.value_span)
        for e in work.pattern.header.entries
        if e.known not in {"Gauge", "Needles", "Yarn", "Sizes"}
    ]
    told += [line.text for line in work.pattern.lines]
    return any(map(_IMPERIAL.search, told)) and not any(map(_METRIC.search, told))


def _lengths(words: str, at: int, units: Units, *, gauge: bool = False) -> Iterator[Edit]:
    """Every length in some words, in the units asked for."""
    find = _METRIC if units != "metric" else _IMPERIAL
    for m in find.finditer(words):
        yield from _one(m, at, units, gauge=gauge)
    if units == "both":
        for m in _IMPERIAL.finditer(words):
            yield from _one(m, at, units, gauge=gauge)


def _one(m: re.Match[str], at: int, units: Units, *, gauge: bool) -> Iterator[Edit]:
    if _BESIDE.search(m.string[: m.start()]):
        return  # it is given in both already
    metric = m.re is _METRIC
    values = [m["first"], *re.split(r", ?", m["rest"] or "")] if m["rest"] else [m["first"]]
    if metric:
        new = [_inches(_value(v), gauge=gauge) if v != "-" else v for v in values]
        said = f"{_listed(new)} in"
    else:
        new = [_centimetres(_value(v), gauge=gauge) if v != "-" else v for v in values]
        said = f"{_listed(new)} cm"
    if units == "both":
        yield Edit(Span(at + m.end(), at + m.end()), f" / {said}")
    else:
        yield Edit(Span(at + m.start(), at + m.end()), said)


def _needles(words: str, at: int, units: Units) -> Iterator[Edit]:
    """Says "4.5 mm (US 7)"; a circular needle's length as it is sold."""
    if units == "metric":
        return
    for m in _NEEDLE.finditer(words):
        number = needle_numbers("us").get(Fraction(m["mm"]))
        if number is not None:
            yield Edit(Span(at + m.end(), at + m.end()), f" (US {number})")
    for m in re.finditer(r"(?<![\w./])(?P<cm>\d+) ?cm\b", words):
        inches = _CABLE.get(int(m["cm"]))
        said = f"{inches} in" if inches is not None else f"{_inches(Fraction(m['cm']), gauge=False)} in"
        if units == "both":
            yield Edit(Span(at + m.end(), at + m.end()), f" / {said}")
        else:
            yield Edit(Span(at + m.start(), at + m.end()), said)


def _yarn(words: str, at: int, units: Units) -> Iterator[Edit]:
    """Metres and yards, grams and ounces."""
    pairs = [(_METRES, 1 / _M, "yd", Fraction(1)), (_GRAMS, 1 / _OZ, "oz", Fraction(1, 4))]
    back = [(_YARDS, _M, "m", Fraction(1)), (_OUNCES, _OZ, "g", Fraction(5))]
    for find, scale, unit, step in {"metric": back, "imperial": pairs, "both": [*pairs, *back]}[
        units or "both"
    ]:
        for m in find.finditer(words):
            values = [m["first"], *re.split(r", ?", m["rest"])] if m["rest"] else [m["first"]]
            new = [ruler_words(_value(v) * scale, step) if v != "-" else v for v in values]
            said = f"{_listed(new)} {unit}"
            if units == "both":
                yield Edit(Span(at + m.end(), at + m.end()), f" / {said}")
            else:
                yield Edit(Span(at + m.start(), at + m.end()), said)


def _value(words: str) -> Fraction:
    """The exact value of "18", "4.5", "6¾", "6 3/4"."""
    total = Fraction(0)
    for part in re.findall(r"\d+/\d+|\d+(?:\.\d+)?|[¼½¾⅛⅜⅝⅞]", words):
        total += _GLYPHS[part] if part in _GLYPHS else Fraction(part)
    return total


def _inches(cm: Fraction, *, gauge: bool) -> str:
    if gauge and cm % 5 == 0:
        return ruler_words(cm * BY_GAUGE["cm"] / BY_GAUGE["in"], Fraction(1, 4))
    return length_words(cm * MM["cm"], "in")


def _centimetres(inches: Fraction, *, gauge: bool) -> str:
    rule = BY_GAUGE if gauge and inches % 2 == 0 else MM
    return length_words(inches * rule["in"], "cm")


def _listed(values: list[str]) -> str:
    return values[0] if len(values) == 1 else f"{values[0]} ({', '.join(values[1:])})"
