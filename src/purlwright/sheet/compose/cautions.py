"""The usual cautions that fit what is made, for whom, of what fibre, and how long the work is.

In: the told pattern. Out: a :class:`Cautions` block under its heading, each with its source if there is
one to cite; the facts are in ``data/cautions.toml``. Nothing here says that a piece is safe.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from purlwright.sheet.compose.rows import said
from purlwright.sheet.document import Block, Caution, Cautions, Heading, Paragraph

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from purlwright.sheet.compose.told import Told

__all__ = ["cautions"]

USUAL = (
    "Usual cautions only. The rules of your country come first, and nothing here says that the piece is safe."
)
_NOT_CITED = frozenset({"common practice", "reported"})
"""What is only done or told so has no source that a reader could look up: none is printed."""
_KEYS = frozenset({"Sizes", "For", "To fit", "Finished size", "Yarn", "Notions"})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Usual:
    """A caution and when it fits: all of these things, one of those, none of the last, and how much work."""

    text: str
    cited: str
    all_of: tuple[str, ...]
    any_of: tuple[str, ...]
    none_of: tuple[str, ...]
    stitches: int
    colours: int


@cache
def _table() -> tuple[Mapping[str, re.Pattern[str]], tuple[_Usual, ...]]:
    table = tomllib.loads(files("purlwright.sheet.compose").joinpath("data/cautions.toml").read_text("utf-8"))
    things = {
        name: re.compile(rf"\b(?:{'|'.join(re.escape(w) for w in words)})\b", re.IGNORECASE)
        for name, words in table["words"].items()
        if name != "source"
    }
    usual = tuple(
        _Usual(
            text=c["text"],
            cited=c["source"] if c["status"] not in _NOT_CITED and c.get("cite", True) else "",
            all_of=tuple(c.get("all", ())),
            any_of=tuple(c.get("any", ())),
            none_of=tuple(c.get("none", ())),
            stitches=c.get("stitches", 0),
            colours=c.get("colours", 0),
        )
        for c in table["caution"]
    )
    return things, usual


def cautions(told: Told) -> Iterator[Block]:
    """The cautions that fit; no heading where there is none."""
    things, usual = _table()
    header = told.pattern.header
    words = "\n".join(
        [told.pattern.title, *(d for d, _ in header.description)]
        + [e.value for e in header.entries if e.known in _KEYS]
    )
    met = {name for name, find in things.items() if find.search(words)}
    if re.search(r"\b(?:cords?|ties?|drawstring|pompoms?|tassels?|buttons?)\b", told.text, re.IGNORECASE):
        met |= {name for name in ("cord", "trims") if things[name].search(told.text)}
    yarns = len({y.name for y in header.yarns})
    if yarns > 1:
        met.add("colours")
    most = max((k.fabric.n for k in told.knitted), default=0)
    fit = [
        Caution(words=said(u.text), source=u.cited)
        for u in usual
        if met.issuperset(u.all_of)
        and (not u.any_of or met.intersection(u.any_of))
        and not met.intersection(u.none_of)
        and most >= u.stitches
        and yarns >= u.colours
    ]
    if fit:
        yield Heading(text="Cautions", level=1, anchor="cautions")
        yield Paragraph(words=said(USUAL), hers=False)
        yield Cautions(cautions=tuple(fit))
