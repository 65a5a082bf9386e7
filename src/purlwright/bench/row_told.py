"""One row unfolded: its words in full, the needles before and after, the cloth so far, its line of a chart.

In: the work on a pattern, a size and choice, the row's place in the ledger. Out: a
:class:`~purlwright.wire.bench_looks.RowToldOut`. All of it is read off the knitting by the rooms below.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from itertools import groupby
from typing import TYPE_CHECKING

from purlwright.bench.refusals import Refused
from purlwright.wire import bench_looks as wire
from purlwright.wire.bench import Utf16, row_out

if TYPE_CHECKING:
    from purlwright.bench.open_patterns import OpenPatterns
    from purlwright.lesson.played import Played
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry, Piece
    from purlwright.pattern import tree
    from purlwright.workup import WorkUp

__all__ = ["clues_told", "row_told"]

_ROWS_SHOWN = 8
_MOST_STITCHES = 700
_NARROW = 48
"""Of rows with more stitches than can be drawn, so many at the right-hand edge are shown."""


def row_told(
    work: WorkUp,
    size: str,
    options: Mapping[str, str],
    order: int,
    version: int,
    known: OpenPatterns,
    *,
    left_handed: bool = False,
) -> wire.RowToldOut:
    """All there is to know of a row. Raises Refused where there is none of that number."""
    knitted = work.knitted(size, options)
    piece, entry = _found(knitted, order)
    why: list[str] = []
    played = known.played(work, knitted, piece).get(order)
    if played is None:
        why.append("This row cannot be shown loop by loop.")
    words, full = _words(work, knitted, entry)
    at = Utf16(work.source.text)
    alike = (entry.line, entry.label, entry.section)
    passes = max(e.pass_ for e in piece.rows if (e.line, e.label, e.section) == alike)
    from purlwright.sheet.compose.look import look_for

    return wire.RowToldOut(
        version=version,
        order=order,
        words=words,
        words_full=full,
        look_for=look_for(knitted, entry),
        ledger=row_out(at, entry, piece.name, passes),
        markers=[mark.after for mark in entry.markers],
        before=None if played is None else _before(played),
        after=None if played is None else _after(played),
        frames=None if played is None else _frames(played),
        close_up=_close_up(work, knitted, piece, entry, options, why),
        chart_line=_chart_line(work, knitted, entry, at, why, left_handed=left_handed),
        why=why,
    )


def _found(knitted: Knitted, order: int) -> tuple[Piece, Entry]:
    for piece in knitted.ledger.pieces:
        for entry in piece.rows:
            if entry.order == order:
                return piece, entry
    raise Refused(404, "There is no such row in this size any more.")


# --- words ------------------------------------------------------------------------------------------------


def _words(work: WorkUp, knitted: Knitted, entry: Entry) -> tuple[str, str]:
    """Her words for the row in this size, and the same without an abbreviation."""
    from purlwright.rewrite.onesize import NotClear, for_size
    from purlwright.sheet.compose.full import in_full
    from purlwright.sheet.compose.rows import words_of

    line = _line_of(work, knitted, entry)
    words = " ".join(work.source.words(entry.span).split()) if line is None else words_of(line)[0]
    if len(work.sizes) > 1:
        with suppress(NotClear):  # her words for every size say it as well
            words = for_size(words, work.sizes.index(knitted.size), len(work.sizes), 0) or words
    own = {d.name.casefold(): d.meaning for d in work.pattern.definitions}
    return words, in_full(words, own)


def _line_of(work: WorkUp, knitted: Knitted, entry: Entry) -> tree.Line | None:
    """The line whose words made the stitches of the row: that of another row, where it works that again."""
    from purlwright.fabric.query import row_slice

    fabric = knitted.fabric
    part = row_slice(fabric, entry.order)
    spans = fabric.span_of_stitch[part]
    place = int(fabric.span_start[spans[0]]) if len(spans) else entry.span.start
    for line in work.pattern.lines:
        if line.offset <= place <= line.offset + len(line.text) and line.label is not None:
            return line
    return None


# --- the needles ------------------------------------------------------------------------------------------


def _runs(looks: Sequence[str]) -> list[wire.LoopsOut]:
    return [wire.LoopsOut(count=sum(1 for _ in run), look=look) for look, run in groupby(looks)]


def _before(row: Played) -> wire.NeedlesOut:
    return wire.NeedlesOut(left=_runs(row.left), right=_runs([""] * row.behind))


def _after(row: Played) -> wire.NeedlesOut:
    right = [""] * row.behind + [look for beat in row.beats for look in beat.makes]
    left = row.left[sum(beat.takes for beat in row.beats) :]
    return wire.NeedlesOut(left=_runs(left), right=_runs(right[::-1]))


def _frames(row: Played) -> wire.ShownRowOut:
    return wire.ShownRowOut(
        left=list(row.left),
        behind=row.behind,
        beats=[
            wire.ShownBeatOut(words=b.words, takes=b.takes, makes=list(b.makes), yarn=b.yarn, does=b.does)
            for b in row.beats
        ],
        after=row.after,
    )


# --- pictures ---------------------------------------------------------------------------------------------


def _close_up(
    work: WorkUp,
    knitted: Knitted,
    piece: Piece,
    entry: Entry,
    options: Mapping[str, str],
    why: list[str],
) -> str | None:
    """The cloth up to this row, loop by loop."""
    import numpy as np

    from purlwright.cloth.close_up import close_up
    from purlwright.cloth.loop_drawing import draw_loops
    from purlwright.cloth.portrait import look_of
    from purlwright.drawing import to_svg

    fabric = knitted.fabric
    rows = [e for e in piece.rows if e.order <= entry.order]
    many = np.bincount(np.maximum(fabric.row_of_stitch, 0), minlength=entry.order + 1) if fabric.n else None
    if many is None or not many[entry.order]:
        why.append("No new stitch is made here, so there is nothing to draw.")
        return None
    shown = [e.order for e in rows[-_ROWS_SHOWN:]]
    while len(shown) > 3 and many[shown].sum() > _MOST_STITCHES:
        shown = shown[1:]
    narrow = (1, _NARROW) if many[shown].sum() > _MOST_STITCHES else None
    gauge = work.fabric_gauge(knitted.size, options)
    here = np.isin(fabric.row_of_stitch, shown)
    wide, high = float(np.median(gauge.width_mm[here])), float(np.median(gauge.row_mm[here]))
    loops = close_up(fabric, piece, shown, stitch_mm=wide, row_mm=high, columns=narrow)
    if not len(loops.stitch):
        why.append("These rows cannot be laid out to be drawn.")
        return None
    words = {y.name.casefold(): y.words for y in work.pattern.header.yarns}
    look = look_of([f"{name} {words.get(name.casefold(), '')}" for name in fabric.yarns])
    drawing = draw_loops(loops, look, scale=2)
    name = entry.label or str(entry.kind)
    edge = f" The first {_NARROW} stitches at the right-hand edge." if narrow else ""
    told = f"The right side, up to {name}, each stitch as the loop of yarn it is.{edge}"
    return to_svg(drawing, f"The cloth up to {name}", told, prefix=f"c{entry.order}-")


def _chart_line(
    work: WorkUp, knitted: Knitted, entry: Entry, at: Utf16, why: list[str], *, left_handed: bool
) -> str | None:
    """The row as the squares of a chart, with a key."""
    from purlwright.chart.draw_key import draw_chart
    from purlwright.chart.grid import make_grid
    from purlwright.chart.told import with_key
    from purlwright.drawing import to_svg
    from purlwright.needles.ledger import ROWS

    if entry.kind not in ROWS or entry.unread or entry.resumed:
        return None
    grid = make_grid(knitted, [entry], entry.label)
    if not grid.rows:
        why.append("This row has no squares to draw.")
        return None
    charted = with_key(grid, work.pattern, left_handed=left_handed)
    drawing = draw_chart(charted.grid, charted.key, linked=True, title=False)
    svg = to_svg(drawing, charted.title, charted.description, prefix=f"r{entry.order}-", linked=True)
    return linked_in_units(svg, at)


def linked_in_units(svg: str, at: Utf16) -> str:
    """A drawing whose places in the words are counted as the page counts them."""
    import re

    return re.sub(
        r'data-span="(\d+)-(\d+)"',
        lambda m: f'data-span="{at.to(int(m[1]))}-{at.to(int(m[2]))}"',
        svg,
    )


# --- clues ------------------------------------------------------------------------------------------------


def clues_told(
    work: WorkUp, size: str, options: Mapping[str, str], order: int, version: int
) -> wire.BenchCluesOut:
    """What tells her in this section where she is, those that hold for this row first."""
    from purlwright.lessons import clues

    _, entry = _found(work.knitted(size, options), order)
    here: list[wire.BenchClueOut] = []
    others: list[wire.BenchClueOut] = []
    for part in clues(work, size, options, section=entry.section) if entry.section else ():
        for told in part.told:
            if not told.chosen:
                continue
            clue = told.clue
            orders = sorted({o for claim in clue.claims for o in claim.orders})
            out = wire.BenchClueOut(
                words=clue.words,
                rows=clue.rows,
                stops=clue.stops or None,
                orders=orders,
                touch=clue.touch,
                tells_row=clue.tells_row,
            )
            (here if order in orders else others).append(out)
    return wire.BenchCluesOut(version=version, order=order, here=here, section=others)
