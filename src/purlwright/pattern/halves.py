"""The lines of a half mirrored: what begins with a bind-off at one edge is worked on the other side.

In: the lines of a left front. Out: those of the right front. Stitches are bound off at the beginning of a
row, and the edge that right-side rows begin at is, in the other half, the one that wrong-side rows begin at.
From the first such bind-off on, each row is therefore worked on the other side: one more row comes before
it, or "ending with a WS row" becomes a right-side row. A row on the other side keeps its order; each stitch
is the one that looks from behind as its mirror. A line without a mirror raises NoMirror.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace as with_fields

from purlwright.pattern import tree
from purlwright.pattern.mirrored import NoMirror, mirrored_actions, other_hand
from purlwright.pattern.tree import Side
from purlwright.stitches.load import dictionary

__all__ = ["mirrored_lines"]


def mirrored_lines(parts: Sequence[Sequence[tree.Line]]) -> list[tuple[tree.Line, ...]]:
    """The lines of the other half, for each part; one row may be put before a line that binds off."""
    out: list[list[tree.Line]] = []
    behind = False
    for part in parts:
        out.append([])
        for line in part:
            if any(isinstance(a, tree.CastOn) and a.at == "start" for a in line.actions):
                behind = False
            if not behind and _at_one_edge(line.actions) and not _both_sides(line.label):
                behind = True
                _end_on_other_side(out, line)
            if behind:
                turned = with_fields(line, label=_label(line.label), actions=_turned_all(line.actions))
            else:
                turned = with_fields(line, actions=mirrored_actions(line.actions))
            out[-1].append(turned)
    return [tuple(part) for part in out]


def _at_one_edge(actions: Sequence[tree.Action]) -> bool:
    """Whether stitches are bound off, or cast on, at the beginning of rows that all begin at one edge."""
    works = [a for a in actions if not isinstance(a, (tree.Note, tree.Stated, tree.Yarn, tree.Resume))]
    if not works:
        return False
    first = works[0]
    if isinstance(first, tree.Shaping):
        edge = next((a for a in first.steps if isinstance(a, (tree.BindOff, tree.CastOn))), None)
        both = set(first.every.values) == {1} and first.times is not None and first.times.at(0) != 1
        return edge is not None and not both
    if isinstance(first, tree.WorkRows):
        return any(_begins_edge(a) for a in first.body[:1]) and set(_rows(first)) == {1}
    return _begins_edge(first)


def _both_sides(label: tree.Label | None) -> bool:
    """Whether the row is worked on both sides: "Next 2 rows: Bind off 2 sts, work to end"."""
    if label is None:
        return False
    rows = (label.next.at(0) or 1) if label.next is not None else max(len(label.numbers), 1)
    return rows % 2 == 0


def _rows(s: tree.WorkRows) -> tuple[int | None, ...]:
    return s.rows.values if s.rows is not None else (1,)


def _begins_edge(a: tree.Action) -> bool:
    if isinstance(a, tree.BindOff):
        return a.count is not None and a.at != "end"
    return isinstance(a, tree.CastOn) and a.at == "beginning"


def _end_on_other_side(out: list[list[tree.Line]], line: tree.Line) -> None:
    """One row more before the bind-off: the rows before end on the other side, or a row is put in."""
    part = next((p for p in reversed(out) if any(_works(ln) for ln in p)), [])
    at = next((i for i in range(len(part) - 1, -1, -1) if _works(part[i])), -1)
    last = part[at].actions if at >= 0 else ()
    i = max((n for n, a in enumerate(last) if not isinstance(a, (tree.Stated, tree.Note))), default=-1)
    until = getattr(last[i], "until", None) if i >= 0 else None
    counted = getattr(last[i], "rows", None) is not None if i >= 0 else False
    if isinstance(last[i] if i >= 0 else None, tree.RepeatRows):
        counted = False  # there it says which rows, not how many
    if isinstance(until, tree.Until) and until.edge:
        return  # "ending at armhole edge" is right for both halves
    if (
        isinstance(until, tree.Until)
        and until.side is not None
        and not (counted or until.rows or until.stitches)
    ):
        changed = with_fields(last[i], until=with_fields(until, side=_other(until.side)))
        part[at] = with_fields(part[at], actions=(*last[:i], changed, *last[i + 1 :]))
        return
    out[-1].append(tree.Line(actions=(tree.InPattern(),), line=line.line, offset=line.offset, text=line.text))


def _works(line: tree.Line) -> bool:
    return any(not isinstance(a, (tree.Stated, tree.Note)) for a in line.actions)


def _other(side: Side) -> Side:
    return Side.WS if side is Side.RS else Side.RS


def _label(label: tree.Label | None) -> tree.Label | None:
    if label is None or (label.side is None and label.rule not in {"RS", "WS"}):
        return label
    rule = {"RS": "WS", "WS": "RS"}.get(label.rule or "", label.rule)
    return with_fields(label, side=_other(label.side) if label.side is not None else None, rule=rule)


def _turned_all(actions: Sequence[tree.Action]) -> tuple[tree.Action, ...]:
    return tuple(_turned(a) for a in actions)


def _turned(a: tree.Action) -> tree.Action:
    """An action as the other half works it, on the other side: its order stays, its stitches turn."""
    match a:
        case tree.Work(own=True):
            raise NoMirror(f'"{a.stitch}" is the pattern\'s own, and its mirror is not known')
        case tree.Work():
            return with_fields(a, stitch=_turned_stitch(a.stitch), readings=())
        case tree.Fill() | tree.Repeat():
            return with_fields(a, body=_turned_all(a.body))
        case tree.AtEdges():
            return with_fields(a, stitch=_turned_stitch(a.stitch) if a.stitch else a.stitch)
        case tree.WorkRows():
            return with_fields(
                a,
                body=_turned_all(a.body),
                alternate=tuple(_turned_all(b) for b in a.alternate),
                until=_until(a.until),
                side=_other(a.side) if a.side is not None else None,
            )
        case tree.Shaping():
            side = _other(a.side) if a.side is not None else None
            return with_fields(a, steps=_turned_all(a.steps), until=_until(a.until), side=side)
        case tree.RepeatRows():
            return with_fields(a, until=_until(a.until))
        case tree.AtSameTime():
            return with_fields(a, parts=_turned_all(a.parts))
        case tree.Resume(part="") | tree.Rejoin():
            return with_fields(a, side=_other(a.side)) if a.side is not None else a
        case tree.BindOff() | tree.CastOn():
            if a.at == "end":
                raise NoMirror("stitches are bound off at the end of a row")
            return a
        case tree.InPattern() | tree.InGround() if a.to is None or a.to.kind is tree.PlaceKind.END:
            return a  # "work to last 3 sts" comes to the same place from the other side
        case (
            tree.Stated() | tree.Note() | tree.Yarn()
            | tree.Evenly() | tree.Close() | tree.Gather() | tree.RowRef() | tree.Hold(of="all")
            | tree.Unread()
        ):  # fmt: skip
            return a
        case _:
            raise NoMirror(f"{type(a).__name__.lower()} in a row cannot be mirrored yet")


def _until(until: tree.Until | None) -> tree.Until | None:
    if until is None or until.side is None:
        return until
    return with_fields(until, side=_other(until.side))


def _turned_stitch(stitch: str) -> str:
    """The stitch that, worked on the other side, mirrors this one: p2tog for ssk, p for k."""
    if stitch in {"yo", "sl", "M1"}:
        return stitch
    found = dictionary().find(stitch)
    if found is None or not found.behind:
        raise NoMirror(f'"{stitch}" has no stitch that is its mirror')
    return other_hand(found.behind)
