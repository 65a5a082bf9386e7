"""A chart put into words, row by row, so that nothing stands in squares alone.

In: a :class:`~purlwright.chart.grid.Grid`. Out: lines such as "Row 1 (RS): K3, [yo, k1, sk2p, k1, yo, k1] 3
times, k2.", in the terms asked for. Knitted from as many stitches they make the fabric that the chart was
drawn from. What her own stitches mean stands in the key.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import groupby

from purlwright.chart.grid import Grid, GridRow, Square
from purlwright.pattern import tree
from purlwright.pattern.words import Terms, steps_words
from purlwright.stitches.load import dictionary

__all__ = ["row_in_words", "rows_in_words"]

_TURNED = {"turn": tree.TurnHow.PLAIN, "turn-wrapped": tree.TurnHow.WRAP}
_INTO = re.compile(r"\((?P<steps>.*)\) in (?P<over>\d+)")


def rows_in_words(grid: Grid, terms: Terms = "US", *, labelled: bool = True) -> tuple[str, ...]:
    """Every row of a chart from the bottom up, a line each.

    labelled : with the number and the side before it.
    """
    out: list[str] = []
    yarns = grid.yarns if grid.colours > 1 else ()
    for n, row in enumerate(grid.rows):
        words = _row(n, grid, yarns, terms)
        if not row.round and n + 1 < len(grid.rows) and grid.rows[n + 1].round:
            words = f"{words} Join to work in the round."
        out.append(f"{label_of(row, grid)}{words}" if labelled else words)
    return tuple(out)


def label_of(row: GridRow, grid: Grid) -> str:
    """Says "Row 1 (RS): ", "Rnd 3: "; a row without a number keeps its own label."""
    unit = "Rnd" if row.round else "Row"
    side = f" ({'RS' if row.from_right else 'WS'})" if grid.flat else ""
    if row.number is None:
        plain = row.label if row.label and not re.search(r"\d|^Next", row.label) else f"Next {unit.lower()}"
        return f"{plain}{side}: "
    return f"{unit} {row.number}{side}: "


def row_in_words(n: int, grid: Grid, terms: Terms = "US") -> str:
    """Row ``n`` (from 0) as a sentence; the stitches of a frame stand in brackets, with how often they are
    worked.
    """
    return _row(n, grid, grid.yarns if grid.colours > 1 else (), terms)


def _row(n: int, grid: Grid, yarns: Sequence[str], terms: Terms) -> str:
    """``yarns`` are those to be named; none where there is only one."""
    row = grid.rows[n]
    order = list(row.squares[::-1] if row.from_right != grid.mirrored else row.squares)
    steps = _plain(list(_steps(order, n, grid, yarns)))
    if row.turned:
        steps.append(tree.Turn(how=_TURNED.get(row.turned, tree.TurnHow.PLAIN)))
    words = steps_words(steps, terms)
    return f"{words[:1].upper()}{words[1:]}."


def _steps(order: Sequence[Square], n: int, grid: Grid, yarns: Sequence[str]) -> Iterator[tree.Step]:
    """The steps of a row in working order, those within a frame as a repeat."""
    frames = []
    for tile in grid.tiles:
        aside = tile.moved[n] if n < len(tile.moved) else 0
        frames.append((tile.first - aside, tile.first - aside + tile.width, tile.times))

    def frame_of(s: Square) -> int:
        return next((k for k, (a, b, _) in enumerate(frames) if a <= s.column < b), -1)

    for frame, squares in groupby(order, key=frame_of):
        inside = list(_gathered(list(squares), yarns))
        if frame < 0:
            yield from inside
        else:
            times = tree.Number(values=(frames[frame][2],))
            yield tree.Repeat(body=tuple(inside), times=times, mark="[")


def _plain(steps: list[tree.Step]) -> list[tree.Step]:
    """A frame of one stitch over and over as so many of it, and with what is like it on either side."""
    out: list[tree.Step] = []
    for step in steps:
        now = step
        if isinstance(now, tree.Repeat) and len(now.body) == 1 and now.times is not None:
            (one,) = now.body
            if isinstance(one, tree.Work) and _is_counted(one):
                now = _times(one, (one.count.values[0] or 0) * (now.times.values[0] or 0))
        last = out[-1] if out else None
        if isinstance(last, tree.Work) and isinstance(now, tree.Work) and _is_counted(now):
            if (last.stitch, last.own, last.colour) == (now.stitch, now.own, now.colour):
                out[-1] = _times(now, (last.count.values[0] or 0) + (now.count.values[0] or 0))
                continue
        out.append(now)
    return out


def _is_counted(work: tree.Work) -> bool:
    stitch = None if work.own else dictionary().stitches.get(work.stitch)
    return stitch is not None and stitch.counted


def _times(work: tree.Work, many: int) -> tree.Work:
    return tree.Work(stitch=work.stitch, count=tree.Number(values=(many,)), own=work.own, colour=work.colour)


def _gathered(squares: Sequence[Square], yarns: Sequence[str]) -> Iterator[tree.Step]:
    """Squares as steps, equal ones side by side as one with its count."""
    for _, run in groupby(squares, key=lambda s: (s.name, s.own, s.yarn, s.sign == "close")):
        same = list(run)
        yield from _step(same[0], len(same), yarns)


def _step(s: Square, many: int, yarns: Sequence[str]) -> Iterator[tree.Step]:
    count = tree.Number(values=(many,))
    colour = yarns[s.yarn] if 0 <= s.yarn < len(yarns) and s.stitches else None
    if s.sign == "close":
        yield tree.BindOff(count=count)
    elif s.name == "co":
        yield tree.CastOn(count=count, at="end")
    elif s.name == "drop":
        yield tree.Drop(count=count)
    elif s.name == "pick up k":
        yield tree.PickUp(count=count)
    elif s.own:
        yield tree.Work(stitch=s.name, count=count, own=True)
    elif s.name in dictionary().stitches:
        yield from _counted(s.name, many, colour)
    elif (into := _INTO.fullmatch(s.name)) is not None:
        keys = [key.strip() for key in into["steps"].split(",")]
        inner = tuple(tree.Work(stitch=key, count=tree.Number(values=(1,))) for key in keys)
        for _ in range(many):
            yield tree.Into(steps=inner, count=tree.Number(values=(1,)), over=int(into["over"]))
    else:
        for _ in range(many):
            yield from _passed(s.name)


def _counted(key: str, many: int, colour: str | None) -> Iterator[tree.Step]:
    """One stitch so many times; two that are named by a number stand one after the other."""
    stitch = dictionary().stitches[key]
    if stitch.counted or many == 1:
        yield tree.Work(stitch=key, count=tree.Number(values=(many,)), colour=colour)
        return
    one = tree.Work(stitch=key, count=tree.Number(values=(1,)), colour=colour)
    if many == 2:
        yield one
        yield one
    else:
        yield tree.Repeat(body=(one,), times=tree.Number(values=(many,)), mark="[")


def _passed(name: str) -> Iterator[tree.Step]:
    """Stitches worked one by one and passed over: "sl, k2tog, psso"."""
    keys = name.split(", ")
    over = 0
    for key in keys:
        if key == "psso":
            gone = tree.Number(values=(over - 1,))
            yield tree.PassOver(count=gone, over=tree.Number(values=(1,)))
        elif key in dictionary().stitches:
            over += 1
            yield tree.Work(stitch=key, count=tree.Number(values=(1,)))
