"""Gauge lines: stitches and rows over a length, in what fabric, flat or round, washed or not.

In: the value of a Gauge line. Out: a frozen :class:`Gauge`, amounts as exact fractions. What follows from a
gauge is left to the rooms above.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from purlwright.pattern.tokens import number_word
from purlwright.pattern.tree import Length
from purlwright.text import Span

__all__ = ["Gauge", "read_gauge", "read_length"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """Stitches and rows over a length, in a ground (her own words for it), flat or round, washed or not.

    ``rows_over`` is given when rows are counted over another length than stitches.
    ``round`` and ``washed`` are None when the words do not say.
    """

    words: str
    span: Span
    over: Length
    stitches: Fraction | None = None
    rows: Fraction | None = None
    rows_over: Length | None = None
    ground: str = ""
    round: bool | None = None
    washed: bool | None = None


_AMOUNT = (
    r"(?:\d+\s*[½¼¾]|\d+\s+\d/\d|\d+(?:\.\d+)?|[½¼¾]"
    r"|(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b)"
)
_LENGTH_UNIT = r"(?:cms?|centimet(?:re|er)s?|mm|inch(?:es)?|ins?\b|[\"”″])"
_GAUGE_STS = re.compile(rf"(?P<n>{_AMOUNT})\s*(?:sts?|stitch(?:es)?)\b", re.IGNORECASE)
_GAUGE_ROWS = re.compile(rf"(?P<n>{_AMOUNT})\s*(?P<unit>rows?|rws?|rnds?|rounds?|ridges?)\b", re.IGNORECASE)
_GAUGE_OVER = re.compile(rf"(?P<n>{_AMOUNT})\s*-?\s*(?P<unit>{_LENGTH_UNIT})", re.IGNORECASE)
_GAUGE_IN = re.compile(
    r"(?<![\d½¼¾] )(?<![\d½¼¾])\bin\s+(?P<ground>(?!the\s+round)[A-Za-z0-9][^,;.()]*?)"
    r"(?=\s*(?:[,;.()]|$|\b(?:after|before|on|with|using|worked|when|in the round|blocked)\b))",
    re.IGNORECASE,
)
_PER = re.compile(r"\s*(?:/|\bper\b|\bto (?:the|an?)\b)\s*(?=(?:in(?:ch)?|cm)\b)", re.IGNORECASE)
"""Over one inch or centimetre, said without a number: "8 sts/in", "5 sts to the inch"."""
_GLYPH = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}


def _amount(words: str) -> Fraction:
    low = words.strip().lower()
    n = number_word(low)
    if n is not None:
        return Fraction(n)
    total = Fraction(0)
    for piece in re.findall(r"\d+/\d+|\d+(?:\.\d+)?|[½¼¾]", low):
        if piece in _GLYPH:
            total += _GLYPH[piece]
        elif "/" in piece and piece.endswith("/0"):
            continue
        else:
            total += Fraction(piece[:20])
    return total


def _unit(words: str) -> str:
    low = words.lower()
    if low.startswith(("cm", "cent")):
        return "cm"
    return "mm" if low.startswith("mm") else "in"


def read_gauge(value: str, at: int) -> Gauge | None:
    """STITCHES ("and" ROWS)? ("=" | "over" | "to") LENGTH ("in" GROUND)? ("after washing")?

    "18 sts and 36 rows = 10 cm in garter stitch, after washing", "5 sts to 1 inch". None if no stitches stand
    over a length.
    """
    words, value = value, _PER.sub(" to 1 ", value)
    sts = _GAUGE_STS.search(value)
    rows = _GAUGE_ROWS.search(value)
    lengths = list(_GAUGE_OVER.finditer(value))
    if (sts is None and rows is None) or not lengths:
        return None
    over = lengths[0]
    rows_over = None
    if sts is not None and rows is not None and sts.end() <= over.start() < rows.start():
        later = [m for m in lengths if m.start() > rows.start()]
        rows_over = later[0] if later else None
    ground = _GAUGE_IN.search(value)
    low = value.lower()
    per_row = 2 if rows is not None and rows["unit"].lower().startswith("ridge") else 1
    round_: bool | None = None
    if re.search(r"\bin the round\b|\brnds?\b|\brounds?\b", low):
        round_ = True
    elif re.search(r"\bflat\b|\brows?\b|\brws?\b", low):
        round_ = False
    washed: bool | None = None
    if re.search(r"\b(?:before|un)[ -]?(?:washing|blocking|washed|blocked)\b", low):
        washed = False
    elif re.search(r"\b(?:wash|block|steam|press|soak|wet)", low):
        washed = True
    return Gauge(
        words=words,
        span=Span(at, at + len(words)),
        over=_length(over),
        stitches=_amount(sts["n"]) if sts else None,
        rows=_amount(rows["n"]) * per_row if rows else None,
        rows_over=_length(rows_over) if rows_over else None,
        ground=" ".join(ground["ground"].split()) if ground else "",
        round=round_,
        washed=washed,
    )


def read_length(words: str) -> Length | None:
    """A length alone: "45 cm", "17¾ in", "18 1/2 inches"; None for anything else."""
    m = _GAUGE_OVER.fullmatch(words.strip())
    return _length(m) if m is not None else None


def _length(m: re.Match[str]) -> Length:
    return Length(values=(_amount(m["n"]),), unit=_unit(m["unit"]), words=m[0].strip())
