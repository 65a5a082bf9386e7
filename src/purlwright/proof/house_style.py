"""The house style: how a designer writes all her patterns, as she has said it.

In: the words of a header line `House style:`, or of a file of `Key: value` lines. Out: a frozen
:class:`HouseStyle`, and the words that were not understood. Files are opened by others. How a pattern
keeps to it is left to ``style``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, fields, replace
from typing import Literal, TypeAlias

__all__ = ["KEYS", "HouseStyle", "read_house_file", "read_house_line"]

Brackets: TypeAlias = Literal["", "( )", "[ ]"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseStyle:
    """What was said; "" or None where nothing was."""

    terms: Literal["", "US", "UK"] = ""
    sizes: Brackets = ""
    repeats: Brackets = ""
    capitals: bool | None = None
    full_stops: bool | None = None
    units: Literal["", "cm", "in", "both"] = ""
    numbers: Literal["", "2 1/2", "2½", "2.5"] = ""

    @property
    def said(self) -> bool:
        """Whether anything was said at all."""
        return self != HouseStyle()

    def over(self, other: HouseStyle) -> HouseStyle:
        """What this style says, and what the other says where this is silent."""
        plain = HouseStyle()
        mine = {f.name: getattr(self, f.name) for f in fields(self)}
        kept = {name: value for name, value in mine.items() if value != getattr(plain, name)}
        return replace(other, **kept)


KEYS = ("Terms", "Sizes", "Repeats", "Capitals", "Full stops", "Units", "Numbers")
"""The keys of a house style file."""

_BOTH = frozenset({"both", "both units", "cm and in", "cm and inches", "inches and cm", "in and cm"})
_YES = frozenset({"yes", "on", "always"})
_NO = frozenset({"no", "off", "none", "never"})


def _brackets(words: str) -> Brackets:
    low = words.lower()
    if "[" in words or "square" in low:
        return "[ ]"
    return "( )" if "(" in words or "round" in low else ""


def _one(words: str) -> HouseStyle | None:
    """One phrase: "UK terms", "sizes in ( )", "repeats in square brackets", "full stops", "no capitals",
    "cm", "cm and inches", "2½".
    """
    low = " ".join(words.lower().split()).rstrip(".")
    no = re.match(r"(?:no|without)\b", low) is not None
    if re.fullmatch(r"(?:us|american)(?: terms| words)?", low):
        return HouseStyle(terms="US")
    if re.fullmatch(r"(?:uk|british)(?: terms| words)?", low):
        return HouseStyle(terms="UK")
    if low.startswith("sizes") and _brackets(words):
        return HouseStyle(sizes=_brackets(words))
    if low.startswith("repeats") and _brackets(words):
        return HouseStyle(repeats=_brackets(words))
    if re.search(r"\bsmall letters?\b|\blower case\b", low):
        return HouseStyle(capitals=False)
    if re.search(r"\bcapitals?\b", low):
        return HouseStyle(capitals=not no)
    if re.search(r"\bfull stops?\b|\bperiods?\b", low):
        return HouseStyle(full_stops=not no)
    if low.removeprefix("in ") in _BOTH:
        return HouseStyle(units="both")
    if re.fullmatch(r"(?:(?:units )?in )?(?:cm|centimetres|centimeters)(?: only)?", low):
        return HouseStyle(units="cm")
    if re.fullmatch(r"(?:(?:units )?in )?(?:in|inch|inches)(?: only)?", low):
        return HouseStyle(units="in")
    number = re.fullmatch(r"(?:numbers? (?:as|like) )?(2 1/2|2½|2\.5)", low)
    return HouseStyle(numbers=number[1]) if number is not None else None  # type: ignore[arg-type]


def read_house_line(value: str) -> tuple[HouseStyle, tuple[str, ...]]:
    """PHRASE ("," PHRASE)*: the value of `House style:`; and the phrases not understood.

    Reads "UK terms, sizes in ( ), repeats in [ ], capitals after the label, full stops, cm, 2½".
    """
    style = HouseStyle()
    unknown: list[str] = []
    for phrase in re.split(r"[,;]", value):
        if not phrase.strip():
            continue
        said = _one(phrase.strip())
        if said is None:
            unknown.append(phrase.strip())
        else:
            style = said.over(style)
    return style, tuple(unknown)


def read_house_file(text: str) -> tuple[HouseStyle, tuple[str, ...]]:
    """(KEY ":" VALUE)*: a file of its own, one setting a line; `House style:` with a list will do too.

    Headings, notes and empty lines are passed over. Lines not understood are given back as they stand.
    """
    style = HouseStyle()
    unknown: list[str] = []
    for line in text.split("\n"):
        key, mark, value = line.strip().partition(":")
        if not mark or line.lstrip().startswith(("#", ">")):
            continue
        said, rest = _keyed(" ".join(key.lower().split()), value.strip())
        style = said.over(style)
        unknown += [line.strip()] if rest else []
    return style, tuple(unknown)


def _keyed(key: str, value: str) -> tuple[HouseStyle, bool]:
    """One line of the file, and whether something of it was not understood."""
    low = value.lower().rstrip(".")
    if key == "house style":
        said, unknown = read_house_line(value)
        return said, bool(unknown)
    if key in {"capitals", "full stops"} and low in _YES | _NO:
        answer = low in _YES
        return (HouseStyle(capitals=answer) if key == "capitals" else HouseStyle(full_stops=answer)), False
    phrase = {"sizes": f"sizes in {value}", "repeats": f"repeats in {value}"}.get(key, value)
    got = _one(phrase) if key in {"terms", "sizes", "repeats", "units", "numbers"} else None
    return (got, False) if got is not None else (HouseStyle(), True)
