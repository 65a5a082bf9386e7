"""K20: the shape of the edges: straight, leaning in or out, in steps where rows turn, or to a point."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import LOOK, MEASURE
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import LANDMARKS, Part, Row

KIND = "K20"
_BESIDE = 4
"""Shaping in so many stitches beside an edge shapes that edge."""
_FEWEST = 6
_POINT = 4
"""So few stitches at the end are a point."""
_LEANS = {"straight": "runs straight up", "in": "leans in", "out": "leans out"}
_BOTH = {
    "straight": "Both edges run straight up, without a step.",
    "in": "Both edges lean in",
    "out": "Both edges lean out, away from each other.",
}


def find(part: Part) -> Iterator[Clue]:
    """Flat rows: how the edges run where all are worked to the end; or the steps of an edge with turns."""
    if not part.flat or len(part.rows) < _FEWEST:
        return
    if any(r.seen.waiting for r in part.rows):
        yield from _steps(part)
    else:
        yield from _leans(part)


def _leans(part: Part) -> Iterator[Clue]:
    """Both edges, where nothing is made or lost between them that would move them."""
    rows = part.rows
    facts = (Fact("right edge", _BESIDE), Fact("left edge", _BESIDE))
    nets = [tuple(read(fact, r) for fact in facts) for r in rows]
    known = [(a, b) for a, b in nets if isinstance(a, int) and isinstance(b, int)]
    if len(known) < len(rows) or any(
        sum(n) != r.seen.count - r.seen.start for n, r in zip(known, rows, strict=True)
    ):
        return
    right, left = (_shape([n[i] for n in known]) for i in (0, 1))
    if not right or not left:
        return
    middle = any(r.seen.landmarks & {"increases", "decreases", "holes"} for r in rows)
    if right == left == "straight" and middle:
        return  # what is made and lost between them is told by other clues
    said, stops = rows_said(part, rows)
    yield Clue(
        kind=KIND,
        words=_words(right, left, rows[-1]),
        claims=(
            *(claim(fact, rows) for fact in facts),
            claim(Fact("change"), rows),
            claim(Fact("waiting"), rows),
        ),
        rows=said,
        stops=stops,
        seconds=LOOK if right == left == "straight" else MEASURE,  # laid flat
    )


def _shape(nets: list[int]) -> str:
    """What an edge does that gains or loses so many stitches in each row; "" where it does both."""
    if not any(nets):
        return "straight"
    return "in" if max(nets) <= 0 else "out" if min(nets) >= 0 else ""


def _words(right: str, left: str, last: Row) -> str:
    if right != left:
        return f"The right edge {_LEANS[right]}, and the left edge {_LEANS[left]}, right side facing."
    if right == "in":
        ends = " and meet in a point" if last.seen.count <= _POINT else ", towards each other"
        return f"{_BOTH[right]}{ends}."
    return _BOTH[right]


def _steps(part: Part) -> Iterator[Clue]:
    """Turns that are all at one edge, each so many stitches beyond the last."""
    rows = part.rows
    turned = [r for r in rows if r.seen.waiting]
    sides = {r.seen.side for r in turned}
    steps = {b.seen.waiting - a.seen.waiting for a, b in pairwise(turned)}
    growing = {n for n in steps if n > 0}
    if (
        len(turned) < 3
        or len(sides) != 1
        or "" in sides
        or len(growing) != 1
        or any(r.seen.done[0].net for r in turned)
    ):
        return
    (step,) = growing
    edge, other = ("right", "left") if sides == {"WS"} else ("left", "right")
    said, stops = rows_said(part, rows)
    yield Clue(
        kind=KIND,
        words=f"The {edge} edge, where the turns are, goes in steps of {step}; the {other} edge has every "
        "row and runs on without a step.",
        claims=(
            claim(Fact("waiting"), rows),
            claim(Fact("side"), rows),
            claim(Fact("holds", LANDMARKS.index("turns")), rows),
        ),
        rows=said,
        stops=stops,
        seconds=MEASURE,  # laid flat
    )
