"""Likely slips of one row, as what would be seen after it: against these a clue is weighed.

In: a row. Out: each slip by name, with the row as it would then be seen. Only slips that the row gives
occasion for are made. What follows from a slip in later rows is left to others. (Which slips are likely:
common practice, no source.)
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from purlwright.lesson.rows import Done, Row, Seen
from purlwright.stitches.load import dictionary

__all__ = ["BEGUN_LATE", "BOTH_LEFT_OUT", "mistaken"]

LOST, GAINED = "a stitch is lost", "a stitch is gained"
OVER_LEFT_OUT, DECREASE_LEFT_OUT = "a yarn over is left out", "a decrease is left out"
BOTH_LEFT_OUT = "a yarn over and a decrease are both left out"
BEGUN_LATE = "the pattern is begun one stitch late"
TURNED_SOON = "the turn comes a stitch too soon"


def mistaken(row: Row) -> Iterator[tuple[str, Seen]]:
    """The row with each slip in it."""
    seen = row.seen
    yield LOST, _counted(seen, -1)
    yield GAINED, _counted(seen, 1)
    over = next((i for i, d in enumerate(seen.done) if d.hole), None)
    fewer = next((i for i, d in enumerate(seen.done) if d.net < 0), None)
    if over is not None:
        without = (*seen.done[:over], *seen.done[over + 1 :])
        yield OVER_LEFT_OUT, replace(_counted(seen, -len(seen.done[over].made)), done=without)
    if fewer is not None:
        plain = _plain(seen.done[fewer])
        done = (*seen.done[:fewer], *plain, *seen.done[fewer + 1 :])
        yield DECREASE_LEFT_OUT, replace(_counted(seen, -seen.done[fewer].net), done=done)
        if over is not None and seen.done[over].net + seen.done[fewer].net == 0:
            both = [x for i, d in enumerate(seen.done) if i != over for x in (plain if i == fewer else [d])]
            yield BOTH_LEFT_OUT, replace(seen, done=tuple(both))
    if len({d.name for d in seen.done}) > 1 and seen.done[-1].net == 0:
        yield BEGUN_LATE, replace(seen, done=(*_plain(seen.done[-1]), *seen.done[:-1]))
    if seen.waiting and seen.worked > 1:
        gaps = tuple(g + 1 if abs(g - seen.waiting) == 0 else g for g in seen.gaps)
        yield TURNED_SOON, replace(seen, waiting=seen.waiting + 1, worked=seen.worked - 1, gaps=gaps)


def _counted(seen: Seen, by: int) -> Seen:
    """With so many stitches more, in the widest stretch between the markers."""
    if not seen.fences:
        return replace(seen, count=seen.count + by)
    wide = seen.fences.index(max(seen.fences))
    fences = tuple(n + by if i == wide else n for i, n in enumerate(seen.fences))
    return replace(seen, count=seen.count + by, fences=fences)


def _plain(done: Done) -> list[Done]:
    """The stitches that it takes, each knitted by itself."""
    knit = dictionary().stitches["k"]
    return [Done(name="k", stitch=knit, taken=(s,), made=(-1,), again=done.again) for s in done.taken]
