"""Fabrics by name: garter, stockinette, ribs, seed and moss, brioche.

In: the rows of a ground as the table writes them. Out: a frozen :class:`Ground`, and from it the keys of the
stitches to work over any number of loops. Reading the table is left to ``load``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from purlwright.stitches.spelling import squeeze

__all__ = ["Ground", "Grounds", "rib"]

LARGEST_RIB = 24
"""The most knits or purls side by side that a rib made by rule may have."""

# Kept as text: compiled when first wanted, so that importing stays quick.
_STITCH = r"(?:st|sts|stitch|stitches|pattern|patt|ptn)$"
_COUNTED_RIB = r"(?P<one>[kp])(?P<a>\d{1,2})(?P<other>[kp])(?P<b>\d{1,2})(?:rib|ribbing|ribpattern)?"
_SIZED_RIB = r"(?:rib|ribbing)?(?P<a>\d{1,2})(?:x|/|by|and|on)(?P<b>\d{1,2})(?:rib|ribbing)?"
_EVEN_RIB = r"(?P<a>single|double|triple)rib(?:bing)?"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """One fabric by name.

    Every row is one repeat of stitch keys **in working order**, the first at the needle tip. ``setup`` rows
    are worked once, then the ``flat`` rows over and over. The first row of all is a right-side row and the
    sides alternate, so without set-up ``flat[0]`` is RS and ``flat[1]`` WS. A wrong-side row is written as
    worked over an exact multiple: its first key lies over the last of the row before. ``setup_round`` and
    ``round`` are the same in the round, where every row is RS. Each key takes one loop and makes one.
    ``multiple`` is the width of the repeat, ``plus`` the loops that balance it (the second edge like the
    first). An ambiguous name has ``readings``: keys, the likeliest first.
    """

    key: str
    us: str
    uk: str
    flat: tuple[tuple[str, ...], ...]
    round: tuple[tuple[str, ...], ...]
    setup: tuple[tuple[str, ...], ...] = ()
    setup_round: tuple[tuple[str, ...], ...] = ()
    aliases: tuple[str, ...] = ()
    old: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    plus: int = 0
    source: str = ""
    status: str = ""
    note: str = ""

    @property
    def multiple(self) -> int:
        """Stitches in one repeat."""
        return len(self.flat[0])

    def row(self, count: int, index: int, *, in_the_round: bool = False) -> tuple[str, ...]:
        """The keys to work over ``count`` loops in row ``index``, in working order.

        index : from 0; flat rows alternate from a right-side row; set-up rows come first where there are any.
        A width that is no multiple keeps every column true: on the right side the repeat starts at the needle
        tip and is cut short at the far end, and wrong-side rows stand over it.
        Zero loops give an empty row; a negative count or index raises ValueError.
        """
        if count < 0 or index < 0:
            raise ValueError(f"a row has 0 or more loops and rows count from 0, not {count} and {index}")
        first, rows = (self.setup_round, self.round) if in_the_round else (self.setup, self.flat)
        keys = first[index] if index < len(first) else rows[(index - len(first)) % len(rows)]
        skipped = -count % len(keys) if not in_the_round and index % 2 else 0
        whole = keys * ((count + skipped) // len(keys) + 1)
        return whole[skipped : skipped + count]


def rib(first: int, second: int, *, purl_first: bool = False) -> Ground:
    """The rib of ``first`` knits and ``second`` purls (1 to 24 each); it opens with its purls if told.

    Raises ValueError outside that range.
    """
    return _rib(first, second, purl_first)


@cache
def _rib(first: int, second: int, purl_first: bool) -> Ground:
    if not (1 <= first <= LARGEST_RIB and 1 <= second <= LARGEST_RIB):
        raise ValueError(
            f"a rib has 1 to {LARGEST_RIB} knits and purls side by side, not {first} and {second}"
        )
    opening, other = ("p", "k") if purl_first else ("k", "p")
    lead, rest = (second, first) if purl_first else (first, second)
    words = f"{opening}{lead}, {other}{rest} rib"
    return Ground(
        key=words,
        us=words,
        uk=words,
        flat=((opening,) * lead + (other,) * rest, (opening,) * rest + (other,) * lead),
        round=((opening,) * lead + (other,) * rest,),
        aliases=(f"{lead}x{rest} rib", f"{lead}/{rest} rib"),
        plus=lead,
        source="Common practice of the trade, no single source",
        status="common practice",
        note="Knits stand over knits on both sides of the fabric.",
    )


def find_rib(text: str) -> Ground | None:
    """The rib that squeezed words name ("k2p2rib", "3x1rib", "singlerib"), or None."""
    if match := re.fullmatch(_COUNTED_RIB, text):
        one, other, a, b = match["one"], match["other"], int(match["a"]), int(match["b"])
        if one == other or not (1 <= a <= LARGEST_RIB and 1 <= b <= LARGEST_RIB):
            return None
        return rib(a, b) if one == "k" else rib(b, a, purl_first=True)
    if (match := re.fullmatch(_SIZED_RIB, text)) and "rib" in text:
        a, b = int(match["a"]), int(match["b"])
        return rib(a, b) if 1 <= a <= LARGEST_RIB and 1 <= b <= LARGEST_RIB else None
    if match := re.fullmatch(_EVEN_RIB, text):
        size = ("single", "double", "triple").index(match["a"]) + 1
        return rib(size, size)
    return None


@dataclass(frozen=True, slots=True)
class Grounds:
    """All grounds: those of the table by key, and ribs of any size by rule."""

    grounds: Mapping[str, Ground]
    names: Mapping[str, str]

    def find(self, text: str) -> Ground | None:
        """The ground that words name, or None; "stitch" and "pattern" at the end may be left out or added."""
        squeezed = squeeze(text)
        key = self.names.get(squeezed) or self.names.get(re.sub(_STITCH, "", squeezed))
        return self.grounds[key] if key is not None else find_rib(squeezed)
