"""The pattern for one size only: lists of numbers become that size's number, and lines for other sizes
fall out.

In: a read pattern and the name of a size. Out: one suggestion with the whole text, knitted beside the
pattern.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from purlwright.rewrite.compare import difference
from purlwright.rewrite.suggestion import Read, Suggestion, first_error

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.pattern.file import Pattern

__all__ = ["NotClear", "chosen_lines", "for_size", "number_for", "one_size"]

_PART = r"(?:\d+(?:\.\d+)?(?: ?\d/\d|[½¼¾⅓⅔⅛])?|-|–)"
_LIST = re.compile(rf"(?<![\d.])(?P<first>{_PART}) ?[(\[](?P<rest>{_PART}(?:, ?{_PART})*)[)\]]")
_NOTHING = {"-", "–"}
_PREFIX = re.compile(r"^[^:]{0,80}?\bonly[ ]{0,8}:[ ]*", re.IGNORECASE)


def one_size(read: Read, size: str) -> Suggestion:
    """The text for ``size`` alone, or why there is none."""
    sizes = read.pattern.sizes
    old = read.lines
    whole = Suggestion(
        kind="one size",
        title=f"The pattern for size {size} only",
        line=1,
        end_line=len(old),
        before=tuple(old),
    )
    if len(sizes) < 2:
        return replace(whole, refused="the pattern has one size")
    try:
        new = [text for _, text in chosen_lines(read.pattern, old, size)]
    except NotClear as why:
        return replace(whole, refused=str(why))
    pattern, others = read.knit("\n".join(new))
    wrong = first_error(pattern, others)
    if wrong:
        return replace(whole, refused=f"written for one size, {wrong}")
    if len({k.size for k in others}) != 1:
        return replace(whole, refused="the name of the size reads as several")
    theirs = {k.options: k for k in others}
    mine = [k for k in read.knitted if k.size == size]
    for k in mine:
        other = theirs.get(k.options)
        differs = difference(k, other) if other is not None else "an option is no longer there"
        if differs:
            return replace(whole, refused=f"knitted alone, {differs}")
    return replace(whole, after=tuple(new), ways=len(mine))


def number_for(words: str, place: int, count: int) -> str:
    """The words with each list of ``count`` numbers turned into the one at ``place``, from 0."""

    def choose(m: re.Match[str]) -> str:
        parts = [m["first"], *re.split(r", ?", m["rest"])]
        return parts[place] if len(parts) == count else m[0]

    return _LIST.sub(choose, words)


class NotClear(Exception):  # noqa: N818 - a reason, not a fault
    """Why a line cannot be written for one size."""


def chosen_lines(pattern: Pattern, lines: Sequence[str], size: str) -> list[tuple[int, str]]:
    """The lines of the text that are for ``size``, each with its number and its words for that size.

    Raises NotClear where a line leaves a part of itself out.
    """
    place, count = pattern.sizes.index(size), len(pattern.sizes)
    drop, bare = _limits(pattern, size)
    sizes_line = next((e.line for e in pattern.header.entries if e.known == "Sizes"), 0)
    out: list[tuple[int, str]] = []
    fenced = False
    for number, text in enumerate(lines, 1):
        if text.startswith(("```", "~~~")):
            fenced = not fenced
        if number in drop:
            continue
        if fenced:
            out.append((number, text))
        elif number == sizes_line:
            plain = re.search(r"[,;/()\[\]]", size) is None  # else it would be read as several
            out.append((number, f"{text.partition(':')[0]}: {size if plain else f'One size ({size})'}"))
        else:
            words = _PREFIX.sub("", text, count=1) if number in bare else text
            chosen = for_size(words, place, count, number)
            if chosen is not None:
                out.append((number, chosen))
    return out


def _limits(pattern: Pattern, size: str) -> tuple[set[int], set[int]]:
    """The lines that are for other sizes, and those whose limit can go."""
    drop: set[int] = set()
    bare: set[int] = set()
    for section in pattern.sections:
        if section.sizes:
            drop.add(section.line)  # the heading only says for whom; its lines stay if they are for this size
        for line in section.lines:
            if line.sizes and size not in line.sizes:
                drop.update(range(line.line, line.line + 1 + line.text.count("\n")))
            elif line.sizes and not section.sizes:
                bare.add(line.line)
    return drop, bare


def for_size(text: str, place: int, count: int, number: int) -> str | None:
    """The line with each list turned into its one number; None if the line falls out for this size."""
    left_out = False

    def choose(m: re.Match[str]) -> str:
        nonlocal left_out
        parts = [m["first"], *re.split(r", ?", m["rest"])]
        if len(parts) != count:
            return m[0]
        left_out = left_out or parts[place] in _NOTHING
        return parts[place]

    new = _LIST.sub(choose, text)
    if not left_out:
        return re.sub(r"(?:(?<=: )|(?<=, )|(?<=\. ))[kpKP]0, |, [kp]0(?=[.;])", "", new)
    body = new.partition(":")[2] or new
    if re.search(r"[.;,]\s+\S", body.strip().rstrip(".")):
        raise NotClear(f"line {number} leaves a part of itself out in this size")
    return None
