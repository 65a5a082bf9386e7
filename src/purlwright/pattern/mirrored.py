"""What a mirrored row is: the steps in the other order, each lean and crossing to the other hand.

In: the actions of a line. Out: those of the mirrored line. Between two anchors (the row's ends and its
markers) the steps stand in the other order: what stood after the long run comes before it. Each stitch that
leans changes over to the one that leans the other way. A line that has no such mirror raises NoMirror.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace as with_fields

from purlwright.pattern import tree
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary

__all__ = ["NoMirror", "mirrored_actions", "other_hand"]


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
        return (*(_whole(s) if isinstance(s, (*_WHOLE, *_ASIDE)) else _refuse(s) for s in steps), *rest)
    return (*_steps(steps), *rest)


_WHOLE = (
    tree.WorkRows, tree.RepeatRows, tree.Shaping, tree.CastOn, tree.BindOff, tree.AtEdges, tree.Evenly,
    tree.InGround, tree.RowRef, tree.JoinRound, tree.AtSameTime,
)  # fmt: skip
"""Actions that stand for a whole row, or for several."""
_ASIDE = (tree.Yarn, tree.Resume, tree.Unread, tree.Hold)
"""Actions that go with whole rows, and have no hand."""


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
        case tree.AtSameTime():
            return with_fields(action, parts=tuple(_whole(p) for p in action.parts))
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
        case (
            tree.InPattern(to=None)
            | tree.Yarn()
            | tree.YarnTo()
            | tree.InGround(to=None)
            | tree.Hold(of="all")
        ):
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
        elif isinstance(step, (tree.InGround, tree.InPattern)) and step.count is not None:
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
