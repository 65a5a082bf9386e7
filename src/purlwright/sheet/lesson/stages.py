"""The stages to have ready on the needles, the new moves, and how a lesson's time is spent.

In: the material and what is asked. Out: blocks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.cloth.close_up import close_up
from purlwright.cloth.loop_drawing import draw_loops
from purlwright.cloth.yarn_left import needed_after
from purlwright.lesson.stages import EACH_MOVE, Stage, lessons, minutes_of_rows, stages
from purlwright.needles.ledger import Kind
from purlwright.pattern.tree import Side
from purlwright.proof.said import and_list, count
from purlwright.sheet.document import Block, Fact, Facts, Figure, Heading, Paragraph, Run, Table, Words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.cloth.loops import Loops
    from purlwright.cloth.yarn import YarnTaken
    from purlwright.needles.ledger import Entry, Piece
    from purlwright.sheet.lesson.asked import Asked, Material

__all__ = ["closer", "moves", "ready", "said"]

_ROWS, _COLUMNS = 6, 14
"""How much of the work a picture shows."""
_FEWEST = 3
_WIDE_MM = 110.0


def said(words: str) -> Words:
    """Words as a document has them."""
    return (Run(words),)


def moves(material: Material) -> Iterator[Block]:
    """The new moves in the order in which they come."""
    yield Heading(text="New moves, in order", anchor="moves")
    rows = tuple(
        (f"{n}. {_capital(m.name)}", m.section, _capital(m.row)) for n, m in enumerate(material.moves, 1)
    )
    yield Table(caption="Each move where it first comes", head=("Move", "Section", "First in"), rows=rows)


def ready(material: Material, asked: Asked) -> Iterator[Block]:
    """The plan of the lessons, then each stage with what is on the needle and a picture of it."""
    minutes = minutes_of_rows(material.knitted, material.parts, asked.pace)
    every = stages(material.knitted, material.moves, minutes)
    yield Heading(text="How the time is spent", anchor="time")
    shared = lessons(every, asked.minutes)
    yield Paragraph(
        words=said(
            f"For each new move {EACH_MOVE:g} minutes: to show it, let it be tried, and look at it. At "
            f"{asked.pace:g} plain stitches a minute this is what has to be knitted between two stages; what "
            "does not fit into the lesson is knitted beforehand. These times are estimates by eye."
        ),
        hers=False,
    )
    for n, some in enumerate(shared, 1):
        rows = tuple(
            (
                str(s.number),
                and_list([m.name for m in s.shows]) or f"look at the end of {s.ends}",
                f"{s.teaching:g}" if s.teaching else "",
                _time(s.minutes),
            )
            for s in some
        )
        told = sum(s.teaching for s in some)
        yield Table(
            caption=f"Lesson {n} of {len(shared)}: {told:g} of {asked.minutes:g} minutes for new moves",
            head=("Stage", "Shown", "Minutes to show", "To knit since the last stage"),
            rows=rows,
        )
    yield Heading(text="Stages to have ready", anchor="stages")
    for s in every:
        yield from _stage(s, material)


def _stage(s: Stage, material: Material) -> Iterator[Block]:
    yield Heading(text=f"Stage {s.number}: {_after(s.after)}", level=2, anchor=f"stage-{s.number}")
    facts = [Fact(label="On the needle", words=said(count(s.count, "stitch", "stitches")))]
    if s.waiting:
        waits = count(s.waiting, "stitch waits", "stitches wait")
        facts.append(Fact(label="Beyond the turn", words=said(f"{waits}, counted in that number")))
    if s.side_next:
        side = "right" if s.side_next == "RS" else "wrong"
        facts.append(Fact(label="Facing you", words=said(f"the {side} side, ready to begin")))
    if material.yarn is not None:
        facts.append(Fact(label="Yarn", words=said(_yarn(material.yarn, s.after.order))))
    shows = and_list([f"{m.name} ({m.row})" for m in s.shows])
    facts.append(Fact(label="Shown next", words=said(shows or f"how {s.ends} looks when it is done")))
    yield Facts(facts=tuple(facts))
    piece = next(p for p in material.knitted.ledger.pieces if s.after in p.rows)
    figure = closer(material, piece, s.after, f"the work {_after(s.after)}")
    if figure is not None:
        yield figure


def _yarn(taken: YarnTaken, order: int) -> str:
    """What is gone by then, and what the rest may take at most, of each yarn."""
    told = []
    for n, use in enumerate(taken.uses):
        gone = float(taken.metres[taken.order <= order, n].sum())
        most = needed_after(taken, use, order)[1]
        name = f"{use.name}: " if use.name and len(taken.uses) > 1 else ""
        told.append(f"{name}about {max(gone, 1.0):.0f} m used, at most {max(most, 1.0):.0f} m to the end")
    return "; ".join(told)


def closer(material: Material, piece: Piece, last: Entry, what: str) -> Figure | None:
    """The last rows worked, as loops of yarn, from the right side; None where nothing can be drawn."""
    worked = (Kind.CAST_ON, Kind.ROW, Kind.ROUND, Kind.PICK_UP)
    before = [e for e in piece.rows if e.order <= last.order and e.kind in worked][-_ROWS:]
    stitch_mm, row_mm = material.drawn_mm
    found = None
    for edge, columns in _windows(before):
        loops = close_up(
            material.knitted.fabric,
            piece,
            [e.order for e in before],
            stitch_mm=stitch_mm,
            row_mm=row_mm,
            columns=columns,
        )
        if len(loops.stitch) >= _FEWEST and _lies_together(loops, len(before), row_mm):
            found = edge, loops
            break
    if found is None:
        return None
    edge, loops = found
    scale = min(1.6, _WIDE_MM / (_COLUMNS * stitch_mm))
    shown = f"last {count(len(before), 'row')}" if len(before) > 1 else "last row"
    where = f", at the {edge} edge" if edge else ""
    words = f"The {shown} of {what}{where}, seen from the right side."
    return Figure(drawing=draw_loops(loops, scale=scale), alternative=words, caption=said(words))


def _windows(rows: Sequence[Entry]) -> Iterator[tuple[str, tuple[int, int]]]:
    """Where to look, the best place first: at an edge, then farther in. Where short rows turn at the right,
    the left edge is the one they all reach.
    """
    wide = max(e.end for e in rows)
    if wide <= _COLUMNS:
        yield "", (1, max(wide, 1))
        return
    right, left = ("right", (1, _COLUMNS)), ("left", (wide - _COLUMNS + 1, wide))
    turned = any(e.unworked and e.side is Side.WS for e in rows)
    yield from (left, right) if turned else (right, left)
    yield from (("", (n, n + _COLUMNS - 1)) for n in range(_COLUMNS, wide - _COLUMNS, _COLUMNS))


def _lies_together(loops: Loops, rows: int, row_mm: float) -> bool:
    """Whether the rows lie one on the other, with no stretch of cloth missing between them."""
    heights = loops.line[..., 1]
    return bool(heights.max() - heights.min() <= (rows + 3) * row_mm)


def _after(e: Entry) -> str:
    if e.kind is Kind.CAST_ON:
        return "after the cast-on"
    if e.kind is Kind.JOIN:
        return "joined in the round"
    again = f", time {e.pass_}" if e.pass_ > 1 else ""
    where = f" of {e.section}" if e.section else ""
    return f"after {e.label or 'the last ' + e.kind.value}{again}{where}"


def _time(minutes: float) -> str:
    if minutes < 1:
        return "under 1 min"
    if minutes < 90:
        return f"{minutes:.0f} min"
    return f"{minutes / 60:.1f} h"


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"
