"""Two texts that both came from a third, put together line by line; where both changed the same lines, told.

In: what both began from, hers and the other. Out: one text in which hers stands wherever they clash, and the
clashes. Nothing is written.

Source for the method, three-way comparing by the longest runs in common: S. Khanna, K. Kunal, B. C. Pierce,
"A Formal Investigation of Diff3", FSTTCS 2007, pages 485 to 496.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import SequenceMatcher

__all__ = ["Clash", "Merged", "merge"]

_MOST_LINES = 5_000
"""Texts of more lines are not put together, since comparing takes the square of them: they clash as a
whole.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Lines that both changed: where hers stand in the merged text, in code points, and both texts."""

    start: int
    end: int
    hers: str
    theirs: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """The texts put together."""

    text: str
    clashes: tuple[Clash, ...]


def merge(base: str, hers: str, theirs: str) -> Merged:
    """Put two later versions of a text together."""
    lines = [text.splitlines(keepends=True) for text in (base, hers, theirs)]
    out: list[str] = []
    clashes: list[Clash] = []
    length = 0
    b = h = t = 0
    for b_from, h_from, t_from, same in _anchors(*lines):
        of_base, of_hers, of_theirs = (
            "".join(part[a:z]) for part, a, z in zip(lines, (b, h, t), (b_from, h_from, t_from), strict=True)
        )
        if of_hers in {of_theirs, of_base}:
            chosen = of_theirs
        else:
            chosen = of_hers
            if of_theirs != of_base:
                clashes.append(Clash(start=length, end=length + len(of_hers), hers=of_hers, theirs=of_theirs))
        kept = "".join(lines[0][b_from : b_from + same])
        out += [chosen, kept]
        length += len(chosen) + len(kept)
        b, h, t = b_from + same, h_from + same, t_from + same
    return Merged(text="".join(out), clashes=tuple(clashes))


def _anchors(base: list[str], hers: list[str], theirs: list[str]) -> list[tuple[int, int, int, int]]:
    """Runs of lines that all three have: where they begin in each, and how many; the ends last, with none."""
    if max(map(len, (base, hers, theirs))) > _MOST_LINES:
        return [(len(base), len(hers), len(theirs), 0)]
    in_hers = SequenceMatcher(None, base, hers, autojunk=False).get_matching_blocks()
    in_theirs = SequenceMatcher(None, base, theirs, autojunk=False).get_matching_blocks()
    found = []
    i = j = 0
    while i < len(in_hers) and j < len(in_theirs):
        b1, h1, n1 = in_hers[i]
        b2, t2, n2 = in_theirs[j]
        first, end = max(b1, b2), min(b1 + n1, b2 + n2)
        if first < end:
            found.append((first, h1 + first - b1, t2 + first - b2, end - first))
        if b1 + n1 < b2 + n2:
            i += 1
        else:
            j += 1
    return [*found, (len(base), len(hers), len(theirs), 0)]
