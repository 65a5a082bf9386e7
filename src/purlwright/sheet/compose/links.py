"""Abbreviations in the rows lead to where they are explained.

In: the blocks of a sheet. Out: the same blocks with the same words, in which each row's first use of an
abbreviation leads to its entry. The few that every knitter reads without looking lead nowhere.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from purlwright.sheet.document import Block, Glossary, Row, Run, Words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["with_links"]

_PLAIN = frozenset({"k", "p", "st", "sts", "rep", "rs", "ws", "row", "rnd", "rnds"})


def with_links(blocks: Sequence[Block]) -> tuple[Block, ...]:
    """The blocks, their rows with links."""
    to = {
        name.casefold(): term.anchor
        for block in blocks
        if isinstance(block, Glossary)
        for term in block.terms
        if term.anchor
        for name in _names(term.term)
        if name.casefold() not in _PLAIN
    }
    if not to:
        return tuple(blocks)
    longest_first = sorted(to, key=lambda name: (-len(name), name))
    some = "|".join(r"\s*".join(map(re.escape, name.split())) for name in longest_first)
    find = re.compile(rf"(?<![A-Za-z0-9'’])(?:{some})(?![A-Za-z0-9'’])", re.IGNORECASE)
    return tuple(
        replace(block, words=_linked(block.words, find, to)) if isinstance(block, Row) else block
        for block in blocks
    )


def _names(term: str) -> list[str]:
    """What an entry explains: "k2tog", "st" and "sts", "w&t" of "w&t (wrap and turn)"."""
    return [name.strip() for name in re.split(r", |/ ", term.partition(" (")[0]) if name.strip()]


def _linked(words: Words, find: re.Pattern[str], to: Mapping[str, str]) -> Words:
    out: list[Run] = []
    met: set[str] = set()
    for run in words:
        at = 0
        for m in find.finditer(run.text) if not run.to else ():
            anchor = to.get(" ".join(m[0].casefold().split()), "")
            if not anchor or anchor in met:
                continue
            met.add(anchor)
            if m.start() > at:
                out.append(replace(run, text=run.text[at : m.start()]))
            out.append(replace(run, text=m[0], to=anchor))
            at = m.end()
        if at < len(run.text):
            out.append(replace(run, text=run.text[at:]))
    return tuple(out)
