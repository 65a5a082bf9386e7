"""Rows worked from a chart that is named first: "Following chart A, work rows 1-4 three times".

In: the actions of a line as read. Out: the same, in which rows that stand after such words are the chart's
rows. Calls of a chart by themselves are left to ``references``.
"""

from __future__ import annotations

import re

from msgspec.structs import replace

from purlwright.pattern.tree import Action, Call, InPattern, RepeatRows, WorkRows

__all__ = ["worked_from"]

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
