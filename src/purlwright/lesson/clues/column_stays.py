"""K11: the holes stand one above another, the same number of stitches from the beginning and the end of the
row.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import few
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import Part
from purlwright.pattern.words_numbers import ordinal_words

KIND = "K11"


def find(part: Part) -> Iterator[Clue]:
    """The first hole after the same stitch in all rows that have one; the last before the same number."""
    rows = [r for r in part.rows if isinstance(read(Fact("first hole"), r), int)]
    if len(rows) < 3:
        return
    first = {read(Fact("first hole"), r) for r in rows}
    last = {read(Fact("last hole"), r) for r in rows}
    alone = all(read(Fact("holes"), r) == 1 for r in rows)
    said, stops = rows_said(part, rows)
    claims, words = [], []
    at = next(iter(first)) if len(first) == 1 else None
    before = next(iter(last)) if len(last) == 1 else None
    if isinstance(at, int) and at <= 12:
        claims.append(claim(Fact("first hole"), rows))
        after = f"after the {ordinal_words(at)} stitch" if at else "at the very beginning"
        words.append(f"the {'hole' if alone else 'first hole of a row'} always comes {after}")
    if isinstance(before, int) and before <= 12 and not (alone and words):
        claims.append(claim(Fact("last hole"), rows))
        sts = f"{before} stitch{'es' if before > 1 else ''}"
        words.append(
            f"the last hole always has {sts} after it"
            if before
            else "a hole is always the last thing in the row"
        )
    if not words:
        return
    text = " and ".join(words)
    yield Clue(
        kind=KIND,
        words=f"{text[0].upper()}{text[1:]}.",
        claims=tuple(claims),
        rows=said,
        stops=stops,
        seconds=few(sum(x for x in (at, before) if isinstance(x, int))),
    )
