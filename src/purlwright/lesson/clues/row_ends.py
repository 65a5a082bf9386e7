"""K08: how the rows begin and end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, Row
from purlwright.stitches.kinds import Motion
from purlwright.stitches.load import dictionary

KIND = "K08"
_MOST = 5
_DONE = {"k": "knit", "p": "purl"}


def find(part: Part) -> Iterator[Clue]:
    """The stitches that every row begins and ends with; else those of every row of one side."""
    for rows in _groups(part):
        begins, ends = _alike(rows, last=False), _alike(rows, last=True)
        if not begins and not ends:
            continue
        if _plain(rows):
            continue  # a row of one stitch all along has no ends to speak of
        said, stops = rows_said(part, rows)
        name = said.removeprefix("every ").removesuffix(" of this part")
        both = begins == ends
        what = (
            f"begins and ends with {_said(begins)}"
            if both
            else " and ".join(
                x
                for x in (begins and f"begins with {_said(begins)}", ends and f"ends with {_said(ends)}")
                if x
            )
        )
        claims = [claim(Fact("begins", len(begins)), rows)] * bool(begins)
        claims += [claim(Fact("ends", len(ends)), rows)] * bool(ends)
        yield Clue(
            kind=KIND,
            words=f"Every {name} {what}.",
            claims=tuple(claims),
            rows=said,
            stops=stops,
            seconds=2 * LOOK,
        )
        return


def _groups(part: Part) -> list[list[Row]]:
    whole = list(part.rows)
    sides = [[r for r in whole if r.seen.side == side] for side in ("RS", "WS")] if part.even else []
    return [g for g in (whole, *sides) if len(g) >= 3]


def _plain(rows: Sequence[Row]) -> bool:
    return all(len({d.name for d in r.seen.done}) == 1 for r in rows)


def _alike(rows: Sequence[Row], *, last: bool) -> tuple[str, ...]:
    """The names of the first, or last, stitches that all rows share, as long as they are of one kind."""
    names = [[d.name for d in r.seen.done] for r in rows]
    if not all(names):
        return ()
    step = -1 if last else 1
    first = names[0][::step][0]
    n = 0
    while n < _MOST and all(len(x) > n and x[::step][n] == first for x in names):
        n += 1
    if all(len(set(x)) == 1 for x in names):
        n = min(n, 1)
    if n == _MOST and all(x[::step][: n + 1].count(first) > n for x in names if len(x) > n):
        n = 1  # it goes on and on: only the first is worth a word
    return (first,) * n


def _said(names: tuple[str, ...]) -> str:
    name = names[0]
    if name in _DONE:
        n = len(names)
        return f"a {_DONE[name]} stitch" if n == 1 else f"{n} {_DONE[name]} stitches"
    stitch = dictionary().stitches.get(name)
    if stitch is not None and stitch.motion is Motion.SLIP and stitch.takes == 1:
        n = len(names)
        return "a slipped stitch" if n == 1 else f"{n} slipped stitches"
    shown = stitch.name_us if stitch is not None else name
    return f"{shown}, {len(names)} times" if len(names) > 1 else shown
