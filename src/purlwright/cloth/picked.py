"""Where stitches were picked up from, when the words name an edge that is not known by itself.

In: a row of stitches picked up, and the net so far. Out: the edge of the cloth that they can only mean, and
the node that each is drawn through; or None. "Across the front neck" names no edge that was made under that
name; but twelve stitches, next to twelve along the left side, lie on the twelve loops cast on between the
two sides. A stretch whose place nothing tells is left without one.

Two things tell a place: a stretch of as many stitches as were cast on at once (one for each is common
practice), and a stretch whose own edge is known. What lies between two such is spread over what lies between
them along the edge.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.mesh import open_lines

if TYPE_CHECKING:
    from purlwright.cloth.hanging import Hanging
    from purlwright.fabric.arrays import Int32

__all__ = ["on_an_edge"]


def on_an_edge(
    hanging: Hanging, mine: Int32, first: Int32, faces: Int32, sizes: Int32, *, ring: bool
) -> tuple[Int32, Int32] | None:
    """The edge as a closed line in the order it is worked, and the node of each stitch, -1 where untold.

    mine : the stitches of the row; first : what each hangs on so far, -1 for nothing. faces, sizes : the net
    so far. ring : whether the row is joined into a round, so that what follows its last stitch is its first.
    None where no edge, or more than one, can be meant.
    """
    wrong = bool(hanging.nodes.wrong[mine[0]])
    offsets = np.concatenate(([0], np.cumsum(sizes))).astype(np.int32)
    legs = _legs(hanging, mine)
    best: tuple[int, Int32, dict[int, list[int]]] | None = None
    tie = False
    for line in open_lines(hanging.nodes.n, offsets, faces):
        edge = line if wrong else line[::-1]  # worked from right to left, the cloth lies below the needle
        if not _free(hanging, edge, int(mine[-1])):
            continue
        anchors = _anchors(hanging, edge, legs, first)
        told = sum(len(at) for at in anchors.values())
        if told and (best is None or told > best[0]):
            best, tie = (told, edge, anchors), False
        elif best is not None and told == best[0]:
            tie = True
    if best is None or tie:
        return None
    _, edge, anchors = best
    places = _spread(legs, anchors, len(edge), ring=ring)
    return edge, np.where(places >= 0, edge[places], -1).astype(np.int32)


def _legs(hanging: Hanging, mine: Int32) -> list[tuple[int, int]]:
    """The stretches of the row that are picked up by words of their own, as ranges of its stitches."""
    words = hanging.fabric.span_of_stitch[mine]
    cuts = np.flatnonzero(np.diff(words)) + 1
    return list(pairwise([0, *cuts.tolist(), len(mine)]))


def _free(hanging: Hanging, edge: Int32, last: int) -> bool:
    """Whether no loop of an edge is still to be worked after the stitch ``last``."""
    return bool((hanging.last_child[hanging.nodes.stitch[edge]] <= last).all())


def _anchors(
    hanging: Hanging, edge: Int32, legs: list[tuple[int, int]], first: Int32
) -> dict[int, list[int]]:
    """The legs whose places on an edge are told, by their numbers: the place of each of their stitches.

    Legs on loops that were cast on outweigh those on row ends, whose left and right are the wearer's in one
    pattern and the knitter's in another.
    """
    runs = _cast_runs(hanging, edge)
    lengths = [len(run) for run in runs]
    loose = [n for n, (a, b) in enumerate(legs) if (first[a:b] < 0).all()]
    counted = [legs[n][1] - legs[n][0] for n in loose]
    by_count = {
        n: runs[lengths.index(many)]
        for n, many in zip(loose, counted, strict=True)
        if lengths.count(many) == 1 and counted.count(many) == 1
    }
    if by_count and _in_turn(list(by_count.values()), len(edge)):
        return by_count
    place = {int(node): i for i, node in enumerate(edge)}
    known = {
        n: [place[int(p)] for p in first[a:b]]
        for n, (a, b) in enumerate(legs)
        if all(int(p) in place for p in first[a:b])
    }
    return known if _in_turn(list(known.values()), len(edge)) else {}


def _cast_runs(hanging: Hanging, edge: Int32) -> list[list[int]]:
    """The stretches of an edge that were cast on at once, as places in turn."""
    row = hanging.fabric.row_of_stitch
    n = hanging.fabric.n
    of = np.array(
        [int(row[p]) if p < n and hanging.nodes.first_below[p] < 0 and hanging.cast(int(p)) else -1
         for p in edge.tolist()]
    )  # fmt: skip
    starts = np.flatnonzero((of >= 0) & (of != np.roll(of, 1)))
    out = []
    for start in starts.tolist():
        run = [start]
        while len(run) < len(edge) and of[(run[-1] + 1) % len(edge)] == of[start]:
            run.append((run[-1] + 1) % len(edge))
        out.append(run)
    return out


def _in_turn(places: list[list[int]], n: int) -> bool:
    """Whether places follow each other along a closed line of ``n`` without going round it twice."""
    every = [p for run in places for p in run]
    steps = [(b - a) % n for a, b in pairwise(every)]
    return sum(steps) < n


def _spread(legs: list[tuple[int, int]], anchors: dict[int, list[int]], n: int, *, ring: bool) -> Int32:
    """The place of every stitch; those between two anchors lie evenly between them."""
    out = np.full(legs[-1][1], -1, np.int32)
    for leg, at in anchors.items():
        out[legs[leg][0] : legs[leg][1]] = at
    told = sorted(anchors)
    stretches = [(legs[a][1], legs[b][0], anchors[a][-1], anchors[b][0]) for a, b in pairwise(told)]
    if ring:
        a, b = told[-1], told[0]
        stretches.append((legs[a][1], legs[b][0] + len(out), anchors[a][-1], anchors[b][0]))
    for a, b, before, after in stretches:
        gap = (after - before - 1) % n
        for j in range(b - a):
            step = 1 + int((j + 0.5) * gap / (b - a)) if gap else 0
            out[(a + j) % len(out)] = (before + step) % n
    return out
