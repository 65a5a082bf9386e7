"""What a mirrored row is, and whether a mirrored piece came out.

In: the steps of a row; a knitting with two halves. Out: the steps of the mirrored row; and "", or what is
not mirrored. Between two anchors (the row's ends and its markers) the steps stand in the other order:
what stood after the long run comes before it. Each stitch that leans changes over to the one that leans
the other way.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from msgspec.structs import replace as with_fields

from purlwright.fabric.arrays import Link
from purlwright.fabric.query import parent_links, parents
from purlwright.pattern import tree
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["NoMirror", "mirrored_actions", "not_mirrored", "other_hand"]


class NoMirror(Exception):  # noqa: N818 - a reason, not a fault
    """Why a row has no mirror that can be written."""


_PAIRS = (
    ("k2tog", "ssk"),
    ("p2tog", "ssp"),
    ("k3tog", "sssk"),
    ("p3tog", "sssp"),
    ("M1L", "M1R"),
    ("M1LP", "M1RP"),
)
_OTHER = {**dict(_PAIRS), **{b: a for a, b in _PAIRS}, "skp": "k2tog", "sk2p": "k3tog"}
_EVEN = frozenset({"k", "p", "yo", "sl", "cdd", "s2kp", "k1tbl", "p1tbl", "ktbl", "ptbl", "bo", "k1b"})
_NO_HAND = frozenset({Family.BASIC, Family.SLIP, Family.CAST_ON, Family.BIND_OFF, Family.PICK_UP})
_HANDED = re.compile(r"^(?P<a>\d+/\d+(?:/\d+)? )(?P<hand>[LRlr])(?P<b>[Pp]?[Cc])$")


def other_hand(stitch: str) -> str:
    """The stitch that leans, or crosses, the other way; itself for one that does neither. Raises NoMirror."""
    if stitch in _OTHER:
        return _OTHER[stitch]
    crossing = _HANDED.match(stitch)
    if crossing is not None:
        hand = {"L": "R", "R": "L", "l": "r", "r": "l"}[crossing["hand"]]
        return f"{crossing['a']}{hand}{crossing['b']}"
    found = dictionary().find(stitch)
    if stitch in _EVEN or found is None or found.family in _NO_HAND:
        return stitch
    raise NoMirror(f'"{stitch}" has no stitch that is its mirror')


def mirrored_actions(actions: Sequence[tree.Action]) -> tuple[tree.Action, ...]:
    """A line's actions mirrored; counts and notes stay behind them."""
    steps = [a for a in actions if not isinstance(a, (tree.Stated, tree.Note))]
    rest = tuple(a for a in actions if isinstance(a, tree.Stated))
    if len(steps) == 1 and isinstance(steps[0], _WHOLE):
        return (_whole(steps[0]), *rest)
    if any(isinstance(s, _WHOLE) for s in steps):
        return (*(_whole(s) if isinstance(s, _WHOLE) else _refuse(s) for s in steps), *rest)
    return (*_steps(steps), *rest)


_WHOLE = (
    tree.WorkRows, tree.RepeatRows, tree.Shaping, tree.CastOn, tree.BindOff, tree.AtEdges, tree.Evenly,
    tree.InGround, tree.RowRef, tree.JoinRound,
)  # fmt: skip
"""Actions that stand for a whole row, or for several."""


def _refuse(action: tree.Action) -> tree.Action:
    raise NoMirror(f"{type(action).__name__.lower()} beside whole rows cannot be mirrored")


def _whole(action: tree.Action) -> tree.Action:
    match action:
        case tree.BindOff(count=None, keep=None):
            return action
        case tree.BindOff():
            raise NoMirror(
                "stitches are bound off in the row; in the mirrored half that falls on the row after"
            )
        case tree.AtEdges():
            where = {"beginning": "end", "end": "beginning"}.get(action.where, action.where)
            stitch = other_hand(action.stitch) if action.stitch else action.stitch
            return with_fields(action, where=where, stitch=stitch)
        case tree.WorkRows():
            return with_fields(
                action, body=_steps(action.body), alternate=tuple(_steps(b) for b in action.alternate)
            )
        case tree.Shaping():
            return with_fields(action, steps=tuple(mirrored_actions(action.steps)))
        case _:
            return action


def _steps(steps: Sequence[tree.Action]) -> tuple[tree.Step, ...]:
    """The steps of one row, or of a group, in mirrored order."""
    segments: list[list[tree.Action]] = [[]]
    anchors: list[tree.Marker] = []
    for step in steps:
        if isinstance(step, tree.Marker):
            anchors.append(step)
            segments.append([])
        else:
            segments[-1].append(step)
    out: list[tree.Step] = []
    for n in range(len(segments) - 1, -1, -1):
        out += _segment(segments, anchors, n)
        if n:
            out.append(anchors[n - 1])
    return tuple(out)


def _segment(
    segments: Sequence[Sequence[tree.Action]], anchors: Sequence[tree.Marker], n: int
) -> list[tree.Step]:
    """The steps of segment ``n`` mirrored: what stood after its long run, the run, what stood before it.

    The mirrored run goes to the anchor before the segment. A marker that this row places is none yet: the
    run then stops short of the anchor before that one, by the stitches that stand between.
    """
    steps = segments[n]
    runs = [i for i, s in enumerate(steps) if _runs(s)]
    if len(runs) > 1:
        raise NoMirror("two runs of open length follow each other")
    if not runs:
        return [_step(s) for s in reversed(steps)]
    at = runs[0]
    run = steps[at]
    first = n
    while first and anchors[first - 1].act == "place":
        first -= 1
    before = _taken([s for segment in segments[first:n] for s in segment] + list(steps[:at]))
    end = anchors[first - 1] if first else None
    kind = tree.PlaceKind.MARKER if end is not None else tree.PlaceKind.END
    place = tree.Place(kind=kind, before=before, name=end.name if end is not None else None)
    body = tuple(_step(s) for s in reversed(run.body))  # type: ignore[union-attr]
    new: tree.Step = with_fields(run, body=body, to=place)  # type: ignore[assignment]
    return [*(_step(s) for s in reversed(steps[at + 1 :])), new, *(_step(s) for s in reversed(steps[:at]))]


def _runs(step: tree.Action) -> bool:
    return isinstance(step, tree.Fill) or (isinstance(step, tree.Repeat) and step.to is not None)


def _step(step: tree.Action) -> tree.Step:
    match step:
        case tree.Work(own=True):
            raise NoMirror(f'"{step.stitch}" is the pattern\'s own, and its mirror is not known')
        case tree.Work():
            return with_fields(step, stitch=other_hand(step.stitch), readings=())
        case tree.Repeat(cut=True):
            raise NoMirror("a repeat stops in its middle")
        case tree.Repeat():
            return with_fields(step, body=tuple(_step(s) for s in reversed(step.body)))
        case tree.InPattern(to=None) | tree.Yarn() | tree.YarnTo():
            return step
        case _:
            raise NoMirror(f"{type(step).__name__.lower()} in a row cannot be mirrored yet")


def _taken(steps: Sequence[tree.Action]) -> tree.Number | None:
    """How many stitches the steps take, in each size; None for none."""
    total = [0]
    for step in steps:
        each = 1
        times: tuple[int, ...] = (1,)
        if isinstance(step, tree.Work):
            stitch = dictionary().find(step.stitch)
            each = stitch.takes if stitch is not None else 1
            times = tuple(v or 0 for v in step.count.values)
        elif isinstance(step, tree.Repeat) and step.times is not None and not step.star:
            inner = _taken(step.body)
            each = (inner.values[0] or 0) if inner is not None and len(inner.values) == 1 else 0
            times = tuple(v or 0 for v in step.times.values)
        elif isinstance(step, (tree.Yarn, tree.YarnTo)):
            continue
        else:
            raise NoMirror("how many stitches stand before the long run is not told by number")
        width = max(len(total), len(times))
        total = [
            total[i if len(total) > 1 else 0] + each * times[i if len(times) > 1 else 0] for i in range(width)
        ]
    return tree.Number(values=tuple(total)) if any(total) else None


# --- was it knitted so? -----------------------------------------------------------------------------------


def not_mirrored(knitted: Knitted, one: str, other: str) -> str:
    """What is not mirrored between two pieces, by their names; "" if every stitch is."""
    pieces = {p.name: p for p in knitted.ledger.pieces}
    if one not in pieces or other not in pieces:
        return "the two halves are not two pieces"
    rows, theirs = pieces[one].rows, pieces[other].rows
    if len(rows) != len(theirs):
        return f"it has {len(theirs)} rows, and the other half {len(rows)}"
    fabric = knitted.fabric
    ops = np.array(fabric.ops)[fabric.op_of_stitch]
    partner: dict[int, int] = {}
    for n, (a, b) in enumerate(zip(rows, theirs, strict=True), 1):
        if (a.kind, a.side, a.end, a.made, a.lost) != (b.kind, b.side, b.end, b.made, b.lost):
            return f"its row {n} ends with {b.end} stitches, and that of the other half with {a.end}"
        mine, other_ids = _made(knitted, a), _made(knitted, b)[::-1]
        if len(mine) != len(other_ids):
            return f"its row {n} makes {len(other_ids)} stitches, and that of the other half {len(mine)}"
        partner.update(zip(mine, other_ids, strict=True))
        for x, y in zip(mine, other_ids, strict=True):
            if not _same_hand(str(ops[x]), str(ops[y])):
                return f"its row {n} has {ops[y]} in the place that mirrors {ops[x]}"
            if {partner.get(p) for p in _stands_on(fabric, x)} != _stands_on(fabric, y):
                return f"the stitches of its row {n} do not stand over those that they should"
    return ""


def _made(knitted: Knitted, entry: Entry) -> list[int]:
    return [int(i) for i in np.flatnonzero(knitted.fabric.row_of_stitch == entry.order)]


def _stands_on(fabric: Fabric, stitch: int) -> set[int]:
    """The stitches that it is drawn through; a lifted strand lies between two, and counts to neither."""
    drawn = zip(parents(fabric, stitch), parent_links(fabric, stitch), strict=True)
    return {int(p) for p, link in drawn if link != Link.STRAND}


def _same_hand(one: str, other: str) -> bool:
    try:
        return other_hand(one) == other
    except NoMirror:
        return False
