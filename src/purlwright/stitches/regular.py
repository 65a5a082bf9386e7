"""Stitches that follow a rule: crossings of any size, and any number worked together.

In: a term as written ("5/5 LPC", "C10F", "T3B", "k6tog"). Out: its :class:`Stitch`, or None.
Irregular ones stand in the tables; ``load`` looks there first.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache, lru_cache

from purlwright.stitches.kinds import Face, Family, Lean, Motion, Stitch
from purlwright.stitches.spelling import NUMBER_WORDS, squeeze

__all__ = ["LARGEST", "crossing", "regular", "together"]

LARGEST = 12
"""The largest group of loops that a crossing or a decrease made by rule may have."""

_CABLES = "Craft Yarn Council, Knit Chart Symbols: Cables, 2018; UK names from printed keys"
_KEYS = "Abbreviation keys printed with patterns, US and UK publishers, compared"
_RULE = "Follows from the smaller ones, whose keys are printed"
# Kept as text: compiled when first wanted, so that importing stays quick.
_SAID = (
    r"(?P<a>\d{1,2})[/x](?P<b>\d{1,2})(?:[/x](?P<c>\d{1,2}))?"
    r"(?P<side>r|l|right|left)(?P<purl>p|purl)?(?:c|t|cross|twist|cable)"
)
_NUMBER = "|".join(NUMBER_WORDS[1:13]) + r"|\d{1,2}"
_IN_WORDS = (
    rf"(?P<a>{_NUMBER})over(?P<b>{_NUMBER})(?:around(?P<m>{_NUMBER}))?"
    r"(?P<side>right|left)(?P<purl>purl)?cross"
)
_NAMED = r"(?P<kind>cr|tw|c|t|cable)(?P<n>\d{1,2})(?P<side>f|b|l|r|front|back|left|right)?"
_OVER_ALL = r"(?P<n>\d{1,2})st(?P<side>r|l|right|left)(?P<purl>p|purl)?(?:c|cross|cable)"
_TOGETHER = r"(?P<face>k|knit|p|purl)(?P<n>\d{1,2})tog(?:ether)?(?P<back>tbl|b|throughthebackloops)?"
_RIGHT = frozenset("br")
"""First letters of back and right: held at the back, the front group leans right."""


def regular(term: str) -> Stitch | None:
    """The stitch that a rule gives for a term, or None."""
    return crossing(term) or together(term)


@cache
def _cross(front: int, middle: int, back: int, right: bool, purl: bool) -> Stitch:
    """A crossing of ``front`` over ``back`` around ``middle``; ``right`` is the lean of the front group."""
    total = front + middle + back
    first, last = (front, back) if right else (back, front)
    # First worked are the loops farthest from the needle tip; those nearest wait on the cable needle.
    order = (*range(total - first, total), *range(last, last + middle), *range(last))
    knit_face, back_face = Face.KNIT, Face.PURL if purl else Face.KNIT
    groups = ((front, knit_face), (middle, back_face), (back, back_face if not middle else knit_face))
    faces = tuple(face for size, face in (groups if right else groups[::-1]) for _ in range(size))
    sizes = f"{front}/{middle}/{back}" if middle else f"{front}/{back}"
    letters = ("R" if right else "L") + ("PC" if purl else "C")
    us = f"{sizes} {letters}"
    uk, name_uk = us, ""
    if not middle and (front == back or (front, back) == (2, 1)):
        uk = f"{'T' if purl else 'C'}{total}{'B' if right else 'F'}"
        name_uk = f"{'twist' if purl else 'cable'} {NUMBER_WORDS[total]} {'back' if right else 'front'}"
    over = " over ".join(NUMBER_WORDS[size] for size in (front, back))
    around = f" around {NUMBER_WORDS[middle]}" if middle else ""
    name = f"{over}{around} {'right' if right else 'left'} {'purl cross' if purl else 'cross'}"
    side = "right" if right else "left"
    return Stitch(
        key=us.lower(),
        us=us,
        uk=uk,
        name_us=name,
        name_uk=name_uk or name,
        family=Family.CABLE,
        takes=total,
        makes=total,
        motion=Motion.CROSS,
        lean=Lean.RIGHT if right else Lean.LEFT,
        faces=faces,
        order=order,
        front=front,
        spoken=name,
        chart=f"cross-{sizes.replace('/', '-')}-{side}" + ("-purl" if purl else ""),
        yarn=round(1.05 * total, 2),
        source=_CABLES,
        status="confirmed" if uk != us and total <= 4 else "recalled",
        note="The stitches that pass behind are purled." if purl and not middle else "",
    )


def _figure(words: str | None) -> int:
    """The number that a figure or a word says; 0 for none."""
    if words is None:
        return 0
    return int(words) if words.isdigit() else NUMBER_WORDS.index(words)


def _fits(*sizes: int) -> bool:
    return all(1 <= size <= LARGEST for size in sizes)


def _several(key: str, us: str, stitches: list[Stitch], *, note: str = "") -> Stitch:
    """An ambiguous name: the first stitch's fields under the name's own key, and all readings."""
    return replace(
        stitches[0],
        key=key,
        us=us,
        uk=us,
        readings=tuple(stitch.key for stitch in stitches),
        source=_KEYS,
        status="common practice",
        note=note or "Keys differ: the pattern's own words are wanted.",
    )


@lru_cache(maxsize=2048)
def crossing(term: str) -> Stitch | None:
    """The crossing that a term names, or None.

    Reads ``a/b RC``, ``a/b LPC`` and ``a/m/b RPC`` for groups of 1 to 12 loops (a passes in front), in words
    too ("two over one left purl cross"); ``C4F``,
    ``T4B``, ``C6L``, ``Cr3R`` by the number of all loops; ``4-st RPC``. A name whose keys differ in print
    (odd numbers, ``Cr``, a missing direction) comes back with its ``readings``.
    """
    text = squeeze(term)
    if said := re.fullmatch(_SAID, text):
        right, purl = said["side"][0] == "r", said["purl"] is not None
        front, second, third = int(said["a"]), int(said["b"]), said["c"]
        middle, back = (second, int(third)) if third else (0, second)
        if not _fits(front, back, *([middle] if third else [])):
            return None
        return _cross(front, middle, back, right, purl)
    if told := re.fullmatch(_IN_WORDS, text):
        front, back, middle = (_figure(told[name]) for name in ("a", "b", "m"))
        if not _fits(front, back, *([middle] if told["m"] else [])):
            return None
        return _cross(front, middle, back, told["side"] == "right", told["purl"] is not None)
    if named := re.fullmatch(_NAMED, text):
        return _named(named["kind"].removesuffix("able"), int(named["n"]), named["side"])
    if over_all := re.fullmatch(_OVER_ALL, text):
        return _named("t" if over_all["purl"] else "c", int(over_all["n"]), over_all["side"])
    return None


def _named(kind: str, total: int, side: str | None) -> Stitch | None:
    """A crossing known by all its loops: kind is c (knit), t (purl behind), tw or cr (keys differ)."""
    larger, smaller = (total + 1) // 2, total // 2
    if total < 2 or not _fits(larger, smaller):
        return None
    if side is None:
        if kind != "c":
            return None
        both = [_named(kind, total, way) for way in "bf"]
        ways = [way for way in both if way is not None]
        return _several(
            f"c{total}",
            f"C{total}",
            ways,
            note="Front or back is not said; the pattern's own words are wanted.",
        )
    right = side[0] in _RIGHT
    letter = kind.capitalize() + str(total) + side[0].upper()
    if kind in {"cr", "tw"}:
        found = [_cross(larger, 0, smaller, right, True)]
        if smaller > 1:
            found.append(_cross(total - 1, 0, 1, right, True))
        found.append(_cross(larger, 0, smaller, right, False))
        return _several(letter.lower(), letter, found)
    purl = kind == "t"
    if larger == smaller:
        return _cross(larger, 0, smaller, right, purl)
    found = [_cross(larger, 0, smaller, right, purl), _cross(smaller, 0, larger, right, purl)]
    if total >= 5:
        found.insert(0 if purl else 2, _cross(smaller, 1, smaller, right, purl))
    return _several(letter.lower(), letter, found)


@lru_cache(maxsize=2048)
def together(term: str) -> Stitch | None:
    """Any number from 2 to 12 knitted or purled together ("k6tog", "p4tog tbl"), or None."""
    match = re.fullmatch(_TOGETHER, squeeze(term))
    if match is None or not 2 <= int(match["n"]) <= LARGEST:
        return None
    face = Face.KNIT if match["face"][0] == "k" else Face.PURL
    count, back = int(match["n"]), match["back"] is not None
    us = f"{face.value[0]}{count}tog" + (" tbl" if back else "")
    name = f"{face.value} {NUMBER_WORDS[count]} together" + (" through the back loops" if back else "")
    behind = Face.PURL if face is Face.KNIT else Face.KNIT
    shelf = "purl-" if face is Face.PURL else ""
    return Stitch(
        key=us,
        us=us,
        uk=us,
        name_us=name,
        name_uk=name,
        family=Family.DECREASE,
        takes=count,
        makes=1,
        lean=Lean.LEFT if back else Lean.RIGHT,
        faces=(face,),
        twisted=back,
        top=0 if back else count - 1,
        spoken=name,
        chart=f"{shelf}{NUMBER_WORDS[count]}-{'left-twisted' if back else 'right'}",
        behind=f"{behind.value[0]}{count}tog" + (" tbl" if back else ""),
        source=_RULE,
        status="own",
    )
