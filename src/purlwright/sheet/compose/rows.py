"""One line of the words as one printed row: label, side, words, total, tick boxes, for whom.

In: a line of the told pattern, and what it did on the needles. Out: a :class:`Row`. Her words stay hers; a
side or a total that she does not give is taken from the knitting and marked as proved.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from purlwright.pattern import tree
from purlwright.sheet.compose.worked import by_size
from purlwright.sheet.document import Row, Run, Words
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.sheet.compose.worked import Worked

__all__ = ["MOST_BOXES", "anchor_of", "label_of", "only_of", "row", "said", "squeezed", "words_of"]

MOST_BOXES = 40
"""More rows in one line than this are counted on a counter, not ticked off: the line has one box."""

_SIDE = re.compile(r"\s*[(\[]\s*(?P<side>RS|WS|right side|wrong side)\s*[)\]]", re.IGNORECASE)
_LEAD = re.compile(r"^[\s:.–—-]+")
_BRACKETS = {"(": ")", "[": "]"}


def said(text: str) -> Words:
    """Plain words."""
    return (Run(text),) if text else ()


def squeezed(text: str) -> str:
    """Words that went on over several lines, in one."""
    return " ".join(text.split())


def anchor_of(line: tree.Line) -> str:
    """Where a line's row is found in the document."""
    return f"row-{line.offset}"


def only_of(line: tree.Line, outer: tuple[str, ...] = ()) -> str:
    """For whom a line is: "Size M only", "Sizes M, L only"; "" for all, or if its heading says it."""
    if not line.sizes or line.sizes == outer:
        return ""
    return f"{'Sizes' if len(line.sizes) > 1 else 'Size'} {', '.join(line.sizes)} only"


def label_of(line: tree.Line) -> tuple[str, Literal["RS", "WS", ""]]:
    """How a row is called, and the side that its label names."""
    label = line.label
    if label is None or label.span.end < 0:
        return "", ""
    words = squeezed(line.text[label.span.start : label.span.end]).strip(" :")
    side: Literal["RS", "WS", ""] = "" if label.side is None else "WS" if label.side is tree.Side.WS else "RS"
    if side:
        words = _SIDE.sub("", words, count=1)
    return words, side


def words_of(line: tree.Line) -> tuple[str, str]:
    """The words of a line after its label, and the total in brackets at their end, taken out of them."""
    at = line.label.span.end if line.label is not None and line.label.span.end >= 0 else 0
    end = len(line.text)
    total = ""
    last = line.actions[-1] if line.actions else None
    if isinstance(last, tree.Stated) and last.kind == "total" and last.change is None and last.span.end > at:
        told = line.text[last.span.start : last.span.end].strip()
        whole = not line.text[last.span.end :].strip(" .")
        if whole and told[:1] in _BRACKETS and told[-1:] == _BRACKETS[told[0]]:
            total, end = squeezed(told[1:-1]), last.span.start
    words = line.text[at:end]
    if at:
        words = _LEAD.sub("", words)
    return squeezed(words), total


def row(line: tree.Line, worked: Worked, outer: tuple[str, ...] = (), *, lifeline: bool = False) -> Row:
    """The printed row of a line. ``outer`` are the sizes that its heading names."""
    label, side = label_of(line)
    words, total = words_of(line)
    proved = False
    once = worked.once(line)
    if not total:
        total = _total(line, worked)
        proved = bool(total)
    return Row(
        label=label,
        words=said(words),
        side=side or _side(worked.rows_of(line), line),
        total=total,
        proved=proved,
        only=only_of(line, outer),
        boxes=_boxes(once, line),
        lifeline=lifeline,
        anchor=anchor_of(line),
        span=worked.told.places.hers(Span(line.offset, line.offset + len(line.text))),
    )


def _side(rows: list[list[Entry]], line: tree.Line) -> Literal["RS", "WS", ""]:
    """The side that faces in every working of a labelled row; "" in the round and where it changes."""
    if line.label is None:
        return ""
    sides = {e.side for entries in rows for e in entries if e.kind.value == "row"}
    if len(sides) != 1 or any(e.kind.value == "round" for entries in rows for e in entries):
        return ""
    side = sides.pop()
    return "" if side is None else "WS" if side is tree.Side.WS else "RS"


def _total(line: tree.Line, worked: Worked) -> str:
    """The count after a row that changes it, if it is the same in every working of the row."""
    if any(isinstance(a, tree.Stated) and a.kind != "change" for a in line.actions):
        return ""
    ends: list[int | None] = []
    changed = False
    for entries, once in zip(worked.rows_of(line), worked.once(line), strict=True):
        if any(e.unread or e.resumed for e in entries):
            return ""
        if len({e.pass_ for e in entries}) > 1 and len({e.end for e in entries}) > 1:
            return ""
        changed = changed or any(e.start != e.end for e in entries)
        ends.append(once[-1].end if once else None)
    if not changed or all(end in {None, 0} for end in ends):
        return ""
    many = any(end != 1 for end in ends if end is not None)
    return f"{by_size(ends)} {'sts' if many else 'st'}"


def _boxes(once: list[list[Entry]], line: tree.Line) -> int:
    """One box a row; one for all where they are too many; a line that is no row has none."""
    most = max((len(entries) for entries in once), default=0)
    if line.label is not None and not most:
        return 1
    return most if most <= MOST_BOXES else 1
