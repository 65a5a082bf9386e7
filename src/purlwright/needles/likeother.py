"""Lengths told by another piece: "until front measures same as back to armhole".

In: such words, and the knitter at work. Out: how many more rows that is, by the rows of the piece named, or
None where it was not knitted or the words name no place in it. What the rows are worked in is left to
``stopping``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.needles.ledger import ROWS, Kind

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter

__all__ = ["rows_like"]

_SAME = re.compile(
    r"^(?P<what>.*?)\b(?:(?:the )?same (?:(?:length|depth|height|number of rows|measurement) )?as"
    r"|as (?:long|many rows) as|match(?:es|ing)?|corresponds? (?:with|to)|equals?|agrees? with)\s+"
    r"(?:that of |those of |on |for |in |to )?(?:the )?"
    r"(?P<piece>[a-z' -]+?)"
    r"(?: (?:up to|to|at|before) (?:the )?(?:start of |beg(?:inning)? of |same point at )?(?:the )?"
    r"(?P<place>[a-z -]+))?$"
)
_ARMHOLE = frozenset("armhole armholes underarm underarms arm".split())
_SHOULDER = frozenset("shoulder shoulders".split())
_STRAIGHT = 6
"""So many rows without a bind-off part the armholes from the shoulders: common practice, no source."""


def rows_like(k: Knitter, words: str) -> int | None:
    """How many more rows the words ask for: "armhole measures same as back", "same as back to shoulder"."""
    m = _SAME.match(" ".join(words.lower().split()).strip(" ."))
    if m is None:
        return None
    piece = set(re.findall(r"[a-z]+", m["piece"].replace("'s", ""))) - {"on", "of"}
    named = piece - _ARMHOLE - _SHOULDER
    place = set(re.findall(r"[a-z]+", m["place"] or "")) or (piece & (_ARMHOLE | _SHOULDER))
    other = _piece(k, named)
    if other is None:
        return None
    begins, ends = other
    here = k.pieces[-1][1]
    armhole = _armhole(k, begins, ends)
    from_armhole = bool(_ARMHOLE & set(re.findall(r"[a-z]+", m["what"])))
    if armhole is None:
        return None
    if place & _ARMHOLE and not from_armhole:
        want, done = _rows(k, begins, armhole), _rows(k, here, len(k.entries))
    else:
        mine = _armhole(k, here, len(k.entries))
        shoulder = _shoulder(k, armhole, ends)
        if shoulder is None or mine is None or (place and not place & (_SHOULDER | _ARMHOLE)):
            return None
        if from_armhole:
            want, done = _rows(k, armhole, shoulder), _rows(k, mine, len(k.entries))
        else:
            want, done = _rows(k, begins, shoulder), _rows(k, here, len(k.entries))
    return max(want - done, 0)


def _piece(k: Knitter, named: set[str]) -> tuple[int, int] | None:
    """The entries of the latest earlier piece of that name."""
    for i in range(len(k.pieces) - 2, -1, -1):
        name = set(re.findall(r"[a-z]+", k.pieces[i][0].lower()))
        if named and named <= name:
            return k.pieces[i][1], k.pieces[i + 1][1]
    return None


def _rows(k: Knitter, a: int, b: int) -> int:
    return sum(1 for e in k.entries[a:b] if e.kind in ROWS)


def _armhole(k: Knitter, a: int, b: int) -> int | None:
    """The first row of the armhole: the first under a heading of that name, or the first to bind off."""
    for i in range(a, b):
        if _ARMHOLE & set(re.findall(r"[a-z]+", k.entries[i].section.lower())):
            return i
        if _binds(k, i):
            return i
    return None


def _shoulder(k: Knitter, armhole: int, b: int) -> int | None:
    """The first row of the shoulder: under a heading of that name, or the first that binds off again."""
    last = armhole
    for i in range(armhole, b):
        if _SHOULDER & set(re.findall(r"[a-z]+", k.entries[i].section.lower())):
            return i
        if not _binds(k, i) and k.entries[i].kind is not Kind.BIND_OFF:
            continue
        if i - last > _STRAIGHT:
            return i
        last = i
    return None


def _binds(k: Knitter, i: int) -> bool:
    e = k.entries[i]
    return e.kind is Kind.ROW and e.lost > 0 and not e.held and "divide" in k.marks[i]
