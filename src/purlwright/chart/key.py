"""The key of a chart: each sign in it once, and what it asks for on the right side and on the wrong side.

In: a :class:`~purlwright.chart.grid.Grid` and the pattern's own stitches. Out: a tuple of
:class:`KeyEntry`, those of plain stitches first. How it is laid out is left to ``draw``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from purlwright.chart.draw import yarn_order
from purlwright.chart.grid import Grid, Square
from purlwright.chart.symbols import NO_STITCH
from purlwright.pattern import tree
from purlwright.pattern.words import Terms, steps_words
from purlwright.stitches.kinds import Stitch
from purlwright.stitches.load import dictionary
from purlwright.text import Source

__all__ = ["KeyEntry", "key_of", "word_for"]

_FIRST = ("knit", "purl", "knit-twisted", "purl-twisted")
_TURNS = {"turn": "turn", "turn-wrapped": "wrap & turn"}
_SHORT = 4
"""An abbreviation of hers has so many letters at most."""
_BOTH_WAYS = {"k ds": "k", "p ds": "p", "pick up wrap k": "k", "pick up wrap p": "p"}


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyEntry:
    """One line of the key.

    ``kind`` "sign" has a sign over ``squares`` squares; "yarn" a yarn (``yarn`` is its number), "marker" the
    line of a marker, "repeat" the frame of a repeat. ``rs`` and ``ws`` are what to work on either side, "" if
    the chart does not ask for it there; ``words`` says it in full.
    """

    kind: Literal["sign", "yarn", "marker", "repeat"]
    sign: str = ""
    squares: int = 1
    rs: str = ""
    ws: str = ""
    words: str = ""
    yarn: int = -1

    @property
    def line(self) -> str:
        """The entry in words: "k on RS, p on WS"."""
        if self.rs and self.ws and self.rs != self.ws:
            return f"{self.rs} on RS, {self.ws} on WS"
        if self.rs or self.ws:
            only = "" if self.rs and self.ws else " on WS" if self.ws else ""
            return f"{self.rs or self.ws}{only}"
        return self.words


def word_for(name: str, *, own: bool, terms: Terms = "US", hers: Mapping[str, str] | None = None) -> str:
    """How a stitch is written in a row: by its abbreviation, or by her own.

    hers : names of hers for stitches of the dictionary, by its keys.
    """
    if own:
        return name
    if hers and name in hers:
        return hers[name]
    if name in {"co", "bo"}:
        return ("cast on" if name == "co" else "bind off" if terms == "US" else "cast off") + " 1"
    stitch = dictionary().stitches.get(name)
    if stitch is None:
        return name
    return stitch.uk if terms == "UK" else stitch.us


def key_of(
    grid: Grid,
    definitions: Sequence[tree.Definition] = (),
    *,
    terms: Terms = "US",
    yarns: Mapping[int, str] | None = None,
    source: Source | None = None,
) -> tuple[KeyEntry, ...]:
    """The key of a chart; an empty chart has none.

    yarns : for each yarn of the chart what it is called in full.
    source : where its stitches are written, so that one is called as she calls it.
    """
    own = {d.name: d for d in definitions}
    hers = _named_by_her(grid, source)
    by_sign: dict[tuple[str, int], dict[bool, Square]] = {}
    for row in grid.rows:
        for s in row.squares:
            sides = by_sign.setdefault((s.sign, s.width if s.sign.startswith("letters:") else 0), {})
            known = sides.get(row.from_right)
            if known is None or (known.name in _BOTH_WAYS and s.name not in _BOTH_WAYS):
                sides[row.from_right] = s
    every = sorted(by_sign.items(), key=lambda item: _rank(item[0][0], item[1]))
    out = [_entry(sign, sides, grid, own, hers, terms) for (sign, _), sides in every]
    if any(row.absent for row in grid.rows):
        out.append(KeyEntry(kind="sign", sign=NO_STITCH, words="no stitch here: go on to the next square"))
    out += [
        KeyEntry(kind="sign", sign=turned, words=_TURNS.get(turned, turned))
        for turned in dict.fromkeys(row.turned for row in grid.rows if row.turned)
    ]
    if grid.colours > 1:
        out = _with_yarns(out, grid, yarns or {})
    if any(row.markers for row in grid.rows):
        out.append(KeyEntry(kind="marker", rs="marker", ws="marker", words="between two stitches"))
    if grid.tiles:
        times = {tile.times for tile in grid.tiles}
        often = f"worked {times.pop()} times across here" if len(times) == 1 and not grid.varies else ""
        out.append(KeyEntry(kind="repeat", rs="repeat", ws="repeat", words=often))
    return tuple(out)


def _with_yarns(signs: list[KeyEntry], grid: Grid, yarns: Mapping[int, str]) -> list[KeyEntry]:
    """The signs and then the yarns, no two of which look alike: the empty square of a knit stitch is also
    that of the yarn left white.

    Where every stitch is knitted plain, the yarns say so themselves.
    """
    order = yarn_order(grid)
    named = {y: yarns.get(y) or (grid.yarns[y] if y < len(grid.yarns) else "") for y in order}
    plain = next((e for e in signs if e.sign == "knit"), None)
    entries = [
        KeyEntry(kind="yarn", yarn=yarn, words=named[yarn] or "the first yarn") for yarn in sorted(order)
    ]
    if plain is None:
        return [*signs, *entries]
    if signs == [plain]:
        how = plain.words if plain.rs == plain.ws or not plain.ws else plain.line
        return [replace(e, rs=e.words, ws=e.words, words=how) for e in entries]
    white = next(e for e in entries if e.yarn == order[0])
    told = replace(plain, words=f"{plain.words}; white is {white.words}")
    return [*(told if e is plain else e for e in signs), *(e for e in entries if e is not white)]


def _rank(sign: str, sides: Mapping[bool, Square]) -> tuple[int, int, str]:
    width = next(iter(sides.values())).width
    return (_FIRST.index(sign) if sign in _FIRST else len(_FIRST), width, sign)


def _named_by_her(grid: Grid, source: Source | None) -> dict[str, str]:
    """Stitches of the dictionary that she writes otherwise than is usual in either English: "CDD"."""
    out: dict[str, str] = {}
    for square in (s for row in grid.rows for s in row.squares) if source is not None else ():
        if square.own or square.name in out or square.span.end < 0:
            continue
        word = source.words(square.span) if source is not None else ""
        stitch = dictionary().find(word) if word.isalpha() and len(word) <= _SHORT else None
        if stitch is None or stitch.readings or stitch.key != square.name:
            continue
        usual = {stitch.us, stitch.uk, *stitch.name_us.split()}
        if word.casefold() not in {name.casefold() for name in usual}:
            out[square.name] = word if word.isupper() else word.casefold()
    return out


def _entry(
    sign: str,
    sides: Mapping[bool, Square],
    grid: Grid,
    own: Mapping[str, tree.Definition],
    hers: Mapping[str, str],
    terms: Terms,
) -> KeyEntry:
    rs, ws = sides.get(True), sides.get(False)
    some = rs or ws
    if some is None:
        raise ValueError("a sign of the key stands nowhere in the chart")
    shown: dict[bool, str] = {}
    for right, square in sides.items():
        shown[right] = _written(square, terms, hers)
    if grid.flat and len(sides) == 1 and not some.own:
        other = _from_behind(some.name, terms)
        if other and sign in {"knit", "purl"}:
            shown[rs is None] = other
    return KeyEntry(
        kind="sign", sign=sign, squares=some.width, rs=shown.get(True, ""), ws=shown.get(False, ""),
        words=_full(some, own, terms, from_right=rs is not None),
    )  # fmt: skip


def _written(square: Square, terms: Terms, hers: Mapping[str, str]) -> str:
    if square.sign == "close":
        return word_for("bo", own=False, terms=terms)
    return word_for(_BOTH_WAYS.get(square.name, square.name), own=square.own, terms=terms, hers=hers)


def _from_behind(name: str, terms: Terms) -> str:
    """What makes the same fabric from the other side, if the dictionary says."""
    stitches = dictionary().stitches
    stitch = stitches.get(name)
    return word_for(stitch.behind, own=False, terms=terms) if stitch is not None and stitch.behind else ""


def _full(square: Square, own: Mapping[str, tree.Definition], terms: Terms, *, from_right: bool) -> str:
    """The stitch in full words, as the right side shows it; her own explanation for one of hers."""
    if square.sign == "close":
        return "bind off" if terms == "US" else "cast off"
    if square.own:
        return _explained(own.get(square.name), terms)
    stitches = dictionary().stitches
    stitch: Stitch | None = stitches.get(_BOTH_WAYS.get(square.name, square.name))
    if stitch is None:
        return ""
    if not from_right and square.sign in _FIRST and stitch.behind:
        stitch = stitches[stitch.behind]
    return stitch.name_uk if terms == "UK" else stitch.name_us


def _explained(d: tree.Definition | None, terms: Terms) -> str:
    """What her explanation of a stitch works; one stitch that the dictionary knows in full words."""
    if d is None:
        return ""
    one = d.steps[0] if len(d.steps) == 1 else None
    stitch = dictionary().stitches.get(one.stitch) if isinstance(one, tree.Work) and not one.own else None
    if stitch is not None and isinstance(one, tree.Work) and one.count.values == (1,):
        return stitch.name_uk if terms == "UK" else stitch.name_us
    return steps_words(d.steps, terms)
