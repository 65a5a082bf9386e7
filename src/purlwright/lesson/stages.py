"""What to have ready on the needles for a lesson or a film, and how long each stretch takes.

In: one size, knitted, its new moves, a pace. Out: :class:`Stage` s: after which row to stop, what is on the
needle then, what is shown next; the minutes between. A stage stands just before a new move, and at the end
of each part.

Times: a plain stitch at the pace that is stated; a stitch of another kind takes as much longer as it draws
more yarn, and a new move is shown, tried and looked at in so many minutes. By eye; no source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.needles.ledger import ROWS, Entry, Kind

if TYPE_CHECKING:
    from purlwright.lesson.new_moves import Move
    from purlwright.lesson.rows import Part
    from purlwright.needles.knitted import Knitted

__all__ = ["EACH_MOVE", "Stage", "lessons", "minutes_of_rows", "stages"]

EACH_MOVE = 4.0
"""Minutes to show a new move, let it be tried, and look at what it has made."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A set of needles made ready. ``after`` is the last row worked on it; ``shows`` what is done next on
    it.
    """

    number: int
    after: Entry
    count: int
    waiting: int
    side_next: str
    shows: tuple[Move, ...]
    ends: str
    """The part that ends here, "" for none."""
    minutes: float
    """How long it takes to knit from the stage before."""
    section: str

    @property
    def teaching(self) -> float:
        """Minutes for what is shown on it."""
        return EACH_MOVE * len(self.shows)


def lessons(every: Sequence[Stage], minutes: float) -> tuple[tuple[Stage, ...], ...]:
    """The stages shared out over lessons of so many minutes: as many as fit, and never fewer than one."""
    out: list[list[Stage]] = []
    left = 0.0
    for stage in every:
        if not out or stage.teaching > left:
            out.append([])
            left = minutes
        out[-1].append(stage)
        left -= stage.teaching
    return tuple(map(tuple, out))


def minutes_of_rows(knitted: Knitted, parts: Sequence[Part], pace: float) -> Mapping[int, float]:
    """Minutes for each row by its order. ``pace`` is plain stitches a minute; raises ValueError unless
    above 0.
    """
    if pace <= 0:
        raise ValueError(f"a pace is above 0 stitches a minute, not {pace}")
    plain = {e.order: float(max(e.worked, e.made, e.lost)) for e in knitted.ledger.entries}
    for part in parts:
        for row in part.rows:
            plain[row.order] = sum(
                max(d.stitch.yarn, 1.0) if d.stitch is not None else float(max(len(d.taken), 1))
                for d in row.seen.done
            )
    return {order: n / pace for order, n in plain.items()}


def stages(knitted: Knitted, moves: Sequence[Move], minutes: Mapping[int, float]) -> tuple[Stage, ...]:
    """The stages in the order worked; none for a pattern without rows."""
    out: list[Stage] = []
    of_row: dict[int, list[Move]] = {}
    for move in moves:
        of_row.setdefault(move.order, []).append(move)
    spent = 0.0
    for piece in knitted.ledger.pieces:
        last: Entry | None = None
        for n, e in enumerate(piece.rows):
            fresh = [m for m in of_row.get(e.order, []) if m.key not in {"cast on", "join in the round"}]
            if fresh and last is not None and last.end:
                out.append(_stage(len(out) + 1, last, fresh, "", spent))
                spent = 0.0
            spent += minutes.get(e.order, 0.0)
            last = e
            after = piece.rows[n + 1] if n + 1 < len(piece.rows) else None
            ends = after is None or after.section != e.section
            if ends and e.end and e.kind in {*ROWS, Kind.PICK_UP}:
                shows = [] if after is None else of_row.get(after.order, [])
                if not shows:
                    out.append(_stage(len(out) + 1, e, [], e.section or piece.name, spent))
                    spent = 0.0
    return tuple(out)


def _stage(number: int, after: Entry, shows: Sequence[Move], ends: str, minutes: float) -> Stage:
    side = "" if after.side is None or after.kind is Kind.ROUND else after.side.value
    return Stage(
        number=number,
        after=after,
        count=after.end,
        waiting=after.unworked,
        side_next={"RS": "WS", "WS": "RS"}.get(side, ""),
        shows=tuple(shows),
        ends=ends,
        minutes=minutes,
        section=after.section,
    )
