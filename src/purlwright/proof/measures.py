"""The measures that a pattern states: of what, in which direction, how much in each size.

In: a subject. Out: frozen :class:`Measure` values, from the header ("Finished size", "To fit") and from
the words of the sections. What the knitting itself measures is told by ``rates``; whether the two agree is
left to the checks.

How checks use it (everything is read once for a subject, and costs nothing without lengths in the words)::

    for m in subject.kept(stated):              # header first, then the sections, in the order of the words
        if m.source is Said.FINISHED and m.way == "round":
            cm = m.cm(subject.size_place(way.size))        # a Fraction, or None if this size has none
            ours = rate.width_cm(entry.end)         # rate = rates.rate_for(subject, ground, in_round=...)

``part`` is the part of body or piece by one name ("chest", "sleeve", "upper arm"; "" if none is named),
``way`` how it is measured: "round", "width", "length", "square", or "" if the words do not say. ``other`` is
the same measure in the other unit where both are printed (never a measure of its own).
"""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, TypeAlias

from purlwright.text import Span
from purlwright.units import BY_GAUGE, MM

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.proof.subject import Subject

__all__ = ["CM", "Amount", "Measure", "Said", "Way", "amounts_in", "near", "stated"]

CM = {unit: BY_GAUGE[unit] / 10 for unit in ("cm", "mm", "in")}
"""Centimetres in each unit where lengths are told by a gauge."""

Way: TypeAlias = Literal["round", "width", "length", "square", ""]


class Said(StrEnum):
    """Where a measure is stated, and so of what."""

    FINISHED = "finished size"
    """Of the finished piece, in the header."""
    BODY = "body"
    """Of whom it is to fit, in the header."""
    TEXT = "text"
    """In the sections, of the knitting as it goes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """A length as printed: one value, or one a size (None where a size has none), and its words."""

    values: tuple[Fraction | None, ...]
    unit: Literal["cm", "mm", "in"]
    span: Span

    def cm(self, size: int) -> Fraction | None:
        """The length in a size, in cm by the trade's rule; None if the size has none."""
        value = self.values[0] if len(self.values) == 1 else None
        if len(self.values) > size >= 0:
            value = self.values[size] if len(self.values) > 1 else value
        return None if value is None else value * CM[self.unit]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One stated measure. ``words`` is the clause it stands in; ``about`` is true for "about 30 cm".

    ``section`` is the heading it stands under, "" in the header; ``line`` counts from 1.
    """

    source: Said
    part: str
    way: Way
    amount: Amount
    other: Amount | None = None
    words: str
    about: bool = False
    section: str = ""
    line: int = 0

    @property
    def agrees(self) -> bool:
        """Whether inches and centimetres, where both are printed, are one length."""
        if self.other is None or len(self.other.values) != len(self.amount.values):
            return True
        inches, cm = (self.amount, self.other) if self.amount.unit == "in" else (self.other, self.amount)
        if inches.unit != "in" or cm.unit != "cm":
            return True
        both = zip(inches.values, cm.values, strict=True)
        return all(i is None or c is None or near(i, c) for i, c in both)

    @property
    def span(self) -> Span:
        """The number and unit, without the words round it."""
        return self.amount.span

    def cm(self, size: int) -> Fraction | None:
        """The length in a size (place in the list of sizes, from 0), in cm by the trade's rule."""
        metric = self.other if self.other is not None and self.amount.unit == "in" else self.amount
        return metric.cm(size)


def near(inches: Fraction, cm: Fraction) -> bool:
    """Whether a pair is one length by 2.54 or 2.5, rounded as generously as is ever done."""
    slack = max(Fraction(1), min(Fraction(9, 5), cm / 8)) if inches.denominator == 1 else Fraction(1)
    return any(abs(inches * ratio - cm) <= slack for ratio in (MM["in"] / 10, CM["in"]))


# --- lengths in words ---------------------------------------------------------------------------

_GLYPHS = {"½": 2, "¼": 4, "¾": 4, "⅓": 3, "⅔": 3, "⅛": 8, "⅜": 8, "⅝": 8, "⅞": 8}
_TOPS = {"¾": 3, "⅔": 2, "⅜": 3, "⅝": 5, "⅞": 7}
_AMT = r"(?:\d{1,4}(?:\.\d{1,3})?(?:\s?[½¼¾⅓⅔⅛⅜⅝⅞]|[ -]\d/\d{1,2}(?!\d))?|[½¼¾⅓⅔⅛⅜⅝⅞])"
_ITEM = rf"(?:{_AMT}|[-–—])"
_UNIT = (
    r"(?:cms?\b|centimet(?:re|er)s?\b|mm\b|inch(?:es)?\b|ins\b\.?|in\.(?=\W|$)|[\"”″]"
    r"|in(?=\s*(?:[;:,.)\]/(\[]|$|long|wide|deep|high|tall|round|around|across|from|square|above|below|x\b|×|or\b"
    r"|and\b|\d)))"
)
_LIST = (
    rf"(?:{_AMT}(?:\s*[(\[]\s*{_ITEM}(?:\s*[,;:/]\s*{_ITEM}){{0,40}}\s*[)\]])*"
    rf"|{_AMT}(?:\s*,\s*{_AMT}){{1,40}})"
)
_LENGTH = re.compile(
    rf"(?<![\w.,/-])(?:(?P<each>{_AMT}\s?{_UNIT}\s*[(\[]\s*{_AMT}\s?{_UNIT}(?:\s*,\s*{_AMT}\s?{_UNIT}){{0,40}}\s*[)\]])"
    rf"|(?P<list>{_LIST})(?:\s|-)?(?P<unit>{_UNIT}))",
    re.IGNORECASE,
)
_NEAR = re.compile(r"[\d½¼¾⅓⅔⅛⅜⅝⅞)\]][ -]?(?:[cC]m|[cC]enti|[iI]n|[\"”″])")
"""Where a length may stand: quickly found, and looked at closely afterwards."""
_NUMBER = re.compile(_ITEM)
_UNITS = re.compile(rf"{_AMT}\s?(?P<unit>{_UNIT})", re.IGNORECASE)
_BY = re.compile(rf"(?<![\w.,/-])(?P<n>{_AMT})\s*(?:x|×|by)\s*$", re.IGNORECASE)
_PAIRED = re.compile(r"\s*(?:[/(\[,=]|or|\()?\s*(?:or\s+)?(?:about\s+|approx\.?\s+)?", re.IGNORECASE)
MOST = 4000
"""No more words of one line are looked through for measures."""


def _number(words: str) -> Fraction | None:
    """A number as printed: "46½", "18 1/4", "46.5"; None for the dash of a size left out."""
    if words in {"-", "–", "—"}:
        return None
    total = Fraction(0)
    for piece in re.findall(r"\d+/\d+|\d+(?:\.\d+)?|[½¼¾⅓⅔⅛⅜⅝⅞]", words):
        if piece in _GLYPHS:
            total += Fraction(_TOPS.get(piece, 1), _GLYPHS[piece])
        elif piece.endswith("/0"):
            continue
        else:
            total += Fraction(piece)
    return total


def _unit(words: str) -> Literal["cm", "mm", "in"]:
    low = words.lower()
    if low.startswith("c"):
        return "cm"
    return "mm" if low.startswith("mm") else "in"


def amounts_in(words: str, at: int, sizes: int) -> Iterator[Amount]:
    """Every length in some words that start at ``at``: "46.5 (50, 56.5) cm", "18" (20")", "20½ in".

    A list that has neither one number nor one a size is left out (``size-list-length`` speaks of those).
    """
    for m in _LENGTH.finditer(words, 0, MOST):
        if m["each"] is not None:
            units = [_unit(u["unit"]) for u in _UNITS.finditer(m["each"])]
            if len(set(units)) > 1 or len(units) != sizes:
                for u in _UNITS.finditer(words, m.start(), m.end()):
                    span = Span(at + u.start(), at + u.end())
                    yield Amount(
                        values=(_number(u[0][: u.start("unit") - u.start()]),),
                        unit=_unit(u["unit"]),
                        span=span,
                    )
                continue
            values = tuple(_number(u[0][: u.start("unit") - u.start()]) for u in _UNITS.finditer(m["each"]))
            yield Amount(values=values, unit=units[0], span=Span(at + m.start(), at + m.end()))
            continue
        values = tuple(_number(n[0]) for n in _NUMBER.finditer(m["list"]))
        start = m.start()
        side = _BY.search(words, max(0, start - 16), start)
        if side is not None:  # "20 x 25 cm"
            span = Span(at + side.start("n"), at + side.end("n"))
            yield Amount(values=(_number(side["n"]),), unit=_unit(m["unit"]), span=span)
        if len(values) not in {1, sizes} and re.fullmatch(rf"{_AMT}(?:\s*,\s*{_AMT})+", m["list"]):
            last = list(_NUMBER.finditer(words, m.start("list"), m.end("list")))[-1]  # "in row 4, 20 cm"
            values, start = values[-1:], last.start()
        if len(values) in {1, sizes} and values[0] is not None:
            end = m.end() - (m["unit"][-1] == "." and (m.end() == len(words) or not words[m.end()].isalnum()))
            yield Amount(values=values, unit=_unit(m["unit"]), span=Span(at + start, at + end))


# --- of what ------------------------------------------------------------------------------------

_PARTS = {
    "chest": r"chest|bust", "head": r"head", "brim": r"brim",
    "upper arm": r"upper[ -]arm|biceps?|upper sleeve",
    "wrist": r"wrist|cuff", "hand": r"hand|palm|knuckles?", "thumb": r"thumb", "finger": r"fingers?",
    "foot": r"foot|sole|heel to toe", "calf": r"calf|leg", "ankle": r"ankle", "waist": r"waist",
    "hip": r"hips?|seat",
    "armhole": r"armholes?|armscye", "sleeve": r"sleeves?(?: seam)?|arm length", "yoke": r"yoke",
    "neck": r"neck(?:line)?|collar", "shoulder": r"shoulders?", "back": r"(?:cross[ -])?back",
    "hem": r"hem|(?:lower|bottom) edge", "top edge": r"(?:top|upper) edge|across the top", "crown": r"crown",
    "spine": r"spine", "wingspan": r"wing ?span", "body": r"body", "pocket": r"pockets?", "heel": r"heel",
    "toe": r"toe",
}  # fmt: skip
_PART = re.compile(
    "|".join(rf"\b(?P<p{i}>{words})\b" for i, words in enumerate(_PARTS.values())), re.IGNORECASE
)
_PART_NAMES = tuple(_PARTS)
_FROM = r"from\b.{1,40}?\bto\b"
_WAYS: dict[Way, str] = {
    "square": r"square\b",
    "round": r"(?<!every )(?<!each )(?<!next )(?<!last )(?<!the )a?round\b|circumference|circ\b",
    "length": rf"long\b|length|deep\b|depth|high\b|height|tall\b|drop\b|{_FROM}",
    "width": r"wide\b|width|across\b|wing ?span",
}
_WAY = re.compile("|".join(rf"\b(?P<{w}>{words})" for w, words in _WAYS.items()), re.IGNORECASE)
_ROUND = {"chest", "head", "waist", "hip", "upper arm", "wrist", "hand", "calf", "ankle", "thumb", "finger"}
_LONG = {"sleeve", "armhole", "yoke", "crown", "spine"}
_ABOUT = re.compile(r"\b(?:about|approx(?:imately|\.)?|circa|roughly|around)\s*$|[~≈]\s*$", re.IGNORECASE)
_CLAUSE = re.compile(r"[;\n]|\.(?:\s|$)|(?<!\d),\s(?=[A-Za-z])|,\s*$|\band\b")
_ASIDE = re.compile(
    r"\b(?:with|including|excluding|without|not counting)\b.*|\(.*", re.IGNORECASE | re.DOTALL
)
_BETWEEN = re.compile(rf"{_FROM}\s*(?:the\s+)?\w*", re.IGNORECASE)


def _of_what(words: str) -> tuple[str, Way]:
    """The part and the way some words name, "" for none; "from brim to crown" is no one part."""
    words = _ASIDE.sub("", words)
    found = _PART.search(_BETWEEN.sub("", words) if "heel" not in words else words)
    part = _PART_NAMES[int((found.lastgroup or "p0")[1:])] if found is not None else ""
    said = _WAY.search(words)
    way: Way = said.lastgroup if said is not None else ""  # type: ignore[assignment]
    if not way and part:
        way = "round" if part in _ROUND else "length" if part in _LONG else ""
    if part == "wingspan":
        way = "width"
    return part, way


def _way_said(words: str) -> bool:
    """Whether some words say how they measure, beyond what their part goes by."""
    return _WAY.search(_ASIDE.sub("", words)) is not None


@lru_cache(maxsize=16384)
def _may_measure(words: str) -> bool:
    return _NEAR.search(words) is not None


@lru_cache(maxsize=1024)
def _measured(words: str, at: int, sizes: int, source: Said, section: str, line: int) -> tuple[Measure, ...]:
    return tuple(_measures(words, at, sizes, source, section, line))


def _measures(words: str, at: int, sizes: int, source: Said, section: str, line: int) -> Iterator[Measure]:
    """(CLAUSE? LENGTH CLAUSE?)*: "chest 90 cm; 30 cm wide and 170 cm long", "Length: 60 cm / 23½ in".

    What is measured is told by the words before a length if those name it, else by the words after it.
    """
    amounts = list(amounts_in(words, at, sizes))
    pairs: list[tuple[Amount, Amount | None]] = []
    done = 0
    for n, amount in enumerate(amounts):
        if n < done:
            continue
        if _is_sheet(words, at, amounts[n : n + 4]):  # "8 x 10 in (20 x 25 cm)"
            pairs += [(amount, amounts[n + 2]), (amounts[n + 1], amounts[n + 3])]
            done = n + 4
            continue
        if pairs and pairs[-1][1] is None and _is_pair(words, at, pairs[-1][0], amount):
            pairs[-1] = (pairs[-1][0], amount)
        else:
            pairs.append((amount, None))
    before = 0
    about = False
    for i, (amount, other) in enumerate(pairs):
        end = (other or amount).span.end - at
        start = amount.span.start - at
        after = pairs[i + 1][0].span.start - at if i + 1 < len(pairs) else len(words)
        lead = _last_clause(words[before:start])
        tail = _first_clause(words[end:after])
        part, way = _of_what(lead)
        way = "" if way == "square" else way  # "each square is 15 cm wide"
        if not part and not way:
            part, way = _of_what(tail)
        elif not way or not part:
            more, how = _of_what(tail)
            part, way = part or more, way or how
        elif not _way_said(lead) and _way_said(tail):
            way = _of_what(tail)[1]  # "sleeve 34 cm round at the top"
        between = words[before:start]
        about = (about and ";" not in between) or _ABOUT.search(between) is not None
        yield Measure(
            source=source, part=part, way=way, amount=amount, other=other,
            words=" ".join(f"{lead} {words[start:end]} {tail}".split()), about=about,
            section=section, line=line,
        )  # fmt: skip
        before = end


_TIMES = re.compile(r"\s*(?:cm|in(?:ches)?|[\"”″])?\s*(?:x|×|by)\s*", re.IGNORECASE)


def _is_sheet(words: str, at: int, a: Sequence[Amount]) -> bool:
    """Whether four lengths are two sides in one unit, and the same two in the other."""
    if len(a) < 4:
        return False
    between = [words[a[i].span.end - at : a[i + 1].span.start - at] for i in (0, 2)]
    return (
        all(_TIMES.fullmatch(b) for b in between)
        and _is_pair(words, at, a[1], a[2])
        and a[0].unit == a[1].unit
    )


def _is_pair(words: str, at: int, first: Amount, second: Amount) -> bool:
    """Whether two lengths are one, in two units: nothing but a bracket, stroke or "or" between them."""
    if (first.unit == "in") == (second.unit == "in"):
        return False
    return _PAIRED.fullmatch(words[first.span.end - at : second.span.start - at]) is not None


def _last_clause(words: str) -> str:
    return _CLAUSE.split(words)[-1].lstrip(" )]")


def _first_clause(words: str) -> str:
    return _CLAUSE.split(words.lstrip(")] "))[0]


# --- a whole pattern ----------------------------------------------------------------------------

_KEYS = {"Finished size": Said.FINISHED, "To fit": Said.BODY}
_OWN_KEY = re.compile(r"(?:actual|finished|garment|knitted)\b.*", re.IGNORECASE)
_TABLE = re.compile(r"\b(?:measurements?|schematics?|finished sizes?)\b", re.IGNORECASE)
"""A section that holds the finished measures."""
_NEEDLE = re.compile(r"\s*-?\s*(?:needles?|hooks?|circulars?|dpns?|double)", re.IGNORECASE)


def stated(subject: Subject) -> tuple[Measure, ...]:
    """Every stated measure: those of the header, then those in the sections, in the order of the words.

    Gauges, needles and yarns are not measures. Of a length in millimetres only those in the header count.
    """
    sizes = max(1, len(subject.pattern.sizes))
    out: list[Measure] = []
    header = subject.pattern.header
    for entry in header.entries:
        source = _KEYS.get(entry.known or "")
        if source is None and entry.known is None and _OWN_KEY.fullmatch(entry.key):
            source = Said.FINISHED
        if source is None:
            continue
        words = f"{entry.key}: " if entry.known is None else ""
        found = _measured(entry.value, entry.value_span.start, sizes, source, "", entry.line)
        part, way = _of_what(words)
        out += [m if m.part or not words else _named(m, part, way) for m in found]
    return (*out, *_in_sections(subject, sizes))


def _named(measure: Measure, part: str, way: Way) -> Measure:
    """A measure that its key names: "Finished chest: 90 cm"."""
    return Measure(
        source=measure.source, part=part, way=measure.way or way, amount=measure.amount, other=measure.other,
        words=measure.words, about=measure.about, section=measure.section, line=measure.line,
    )  # fmt: skip


def _in_sections(subject: Subject, sizes: int) -> Iterator[Measure]:
    """The measures in the words under the headings."""
    text = subject.source.text
    sections: Sequence[object] = subject.pattern.sections
    starts = [s.span.start for s in subject.pattern.sections]
    if not sections:
        return
    for line in subject.lines:
        if not _may_measure(line.text):
            continue
        at = bisect_right(starts, line.offset) - 1
        heading = subject.pattern.sections[at].heading if at >= 0 else ""
        source = Said.FINISHED if _TABLE.search(heading) else Said.TEXT
        for m in _measured(line.text, line.offset, sizes, source, heading, line.line):
            follows = text[m.span.end : m.span.end + 12]
            if m.amount.unit == "mm" or _NEEDLE.match(follows):
                continue
            yield m
