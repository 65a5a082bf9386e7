"""What the actions of a line say together: rows worked from a chart that is named first ("Following chart A,
work rows 1-4 three times"), and bind-offs at both ends.

In: the actions of a line as read. Out: the same, with those joined. Calls of a chart by themselves are left
to ``references``.
"""

from __future__ import annotations

import re

from msgspec.structs import replace

from purlwright.pattern.tree import (
    Action,
    BindOff,
    Call,
    InPattern,
    Number,
    Place,
    PlaceKind,
    RepeatRows,
    Said,
    Shaping,
    Step,
    Unit,
    WorkRows,
)

__all__ = ["bound_at_both_ends", "worked_from"]

_OF_ROW = re.compile(r"\brows?\b", re.IGNORECASE)

_NAMED_FIRST = re.compile(
    r"(?:(?:now|then|next) )?(?:working|following|foll|reading|using|knitting|begin|beg|beginning|start"
    r"|starting)\b",
    re.IGNORECASE,
)


def worked_from(actions: list[Action], text: str) -> list[Action]:
    """CALL "," ROWS: "Working from the lace chart, work 8 rows": the rows of that chart, and no row more."""
    out: list[Action] = []
    for a in actions:
        last = out[-1] if out else None
        name = _named(last, text)
        if name is not None and last is not None:
            span = last.span.cover(a.span)
            if isinstance(a, WorkRows) and not a.alternate and _as_set(a):
                out[-1] = replace(a, body=(Call(name=name, span=last.span),), span=span)
                continue
            if isinstance(a, RepeatRows) and a.rows.first is not None and a.rows.section is None:
                out[-1] = replace(a, rows=replace(a.rows, section=name), span=span)
                continue
        out.append(a)
    return out


def bound_at_both_ends(actions: list[Action], text: str, *, in_row: bool) -> list[Action]:
    """BIND-OFF "at each end": at the beginnings of the next two rows; of one row, at both its ends.

    "Bind off 5 sts at each end."
    """
    out: list[Action] = []
    for a in actions:
        off = a.steps[0] if isinstance(a, Shaping) and len(a.steps) == 1 else a
        if not (isinstance(off, BindOff) and off.at == "each end" and off.count is not None):
            out.append(a)
        elif isinstance(a, Shaping):
            if a.every.values == (1,) and a.times is not None and a.times.values == (1,):
                out += _both_ends(off, off.count)
            elif a.every.values == (1,) and a.times is not None and a.times.values == (2,):
                out.append(replace(a, steps=(replace(off, at="beginning"),)))  # one end of each of two rows
            else:
                out.append(a)
        elif in_row or _OF_ROW.search(text[a.span.start : a.span.end]):
            out += _both_ends(off, off.count)
        else:
            once, twice = Number(values=(1,), span=a.span), Number(values=(2,), span=a.span)
            step = replace(off, at="beginning")
            out.append(
                Shaping(steps=(step,), every=once, times=twice, said=Said.IN_ALL, unit=Unit.ROW, span=a.span)
            )
    return out


def _both_ends(off: BindOff, count: Number) -> tuple[Step, ...]:
    """Bound off at the beginning, worked as set, and bound off at the end of one row."""
    here = replace(off, at="here")
    to = Place(kind=PlaceKind.END, before=count, span=off.span)
    return (here, InPattern(to=to, span=off.span), here)


def _as_set(a: WorkRows) -> bool:
    return not a.body or (len(a.body) == 1 and isinstance(a.body[0], InPattern) and a.body[0].count is None)


def _named(a: Action | None, text: str) -> str | None:
    """The name of a chart that is only named: "Following chart A", "Begin chart A"."""
    if a is None or _NAMED_FIRST.match(text[a.span.start : a.span.end]) is None:
        return None
    if isinstance(a, Call) and a.row is None and a.over is None and a.to is None:
        return a.name
    if isinstance(a, RepeatRows) and a.rows.all and a.times is None and a.until is None:
        return a.rows.section
    return None
