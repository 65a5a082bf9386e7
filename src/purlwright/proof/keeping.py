"""What is kept of a proof while its text is edited: what was told of lines, rows, header and knitting.

In: the subject of the text before and that of the text now. Out: whether the same work was knitted in both,
so that what leans on nothing else need not be asked again. Who keeps what is left to the checks.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias

import numpy as np
from msgspec.structs import replace as with_fields

from purlwright.pattern import tree

if TYPE_CHECKING:
    from collections.abc import Hashable, Sequence

    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.ledger import Entry, Ledger
    from purlwright.proof.subject import KnittedLike, PatternLike, Subject, Way
    from purlwright.proof.watchwords import Watched

__all__ = ["Actions", "ByKind", "Kept", "Laid", "LastWork", "nodes_by_kind", "same_work"]

Actions: TypeAlias = tuple[tree.Action, ...]
ByKind: TypeAlias = dict[type, tuple[tree.Node, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """All lines of one text laid open: what each says, and what was told of it so far."""

    lines: Sequence[tree.Line]
    texts: list[str]
    labels: list[object]
    actions: list[Actions]
    by_kind: dict[type, dict[int, tuple[tree.Node, ...]]]
    """The nodes of each kind, by the place of their line; the same object as before where none changed."""
    told: dict[object, list[Any]]
    """By who tells: what is said of each line's actions, or of its text."""
    earlier: dict[object, list[Any]]
    """The same of the text before, ..."""
    changed: list[int]
    """... in which only the lines at these places were others."""
    after: object = None
    """The mark of the text before, ..."""
    mark: object = field(default_factory=object)
    """... and that of this one."""


class LastWork(NamedTuple):
    """What was knitted of a text, and the frame that it was knitted in."""

    laid: Laid
    pattern: PatternLike
    ways: tuple[Way, ...]


class Kept:
    """What was told of lines, rows and header, kept from one text to the next while it is edited."""

    __slots__ = (
        "header", "heard", "laid", "of_actions", "of_rows", "of_work", "walked", "watched", "worked",
    )  # fmt: skip

    def __init__(self) -> None:
        self.laid: Laid | None = None
        """The lines of the text before."""
        self.walked: dict[tuple[int, int], tuple[object, Actions, ByKind]] = {}
        """The nodes of a line by kind, by its label and actions."""
        self.of_actions: dict[object, dict[int, tuple[Actions, Any]]] = {}
        """By who tells, and which actions they are."""
        self.of_rows: dict[tuple[object, Hashable], int] = {}
        """By who tells, and what is knitted in the rows: at how many places, where nothing was amiss."""
        self.header: dict[object, tuple[object, int, Any]] = {}
        """By who tells, of the header read last."""
        self.heard: dict[str, tuple[tuple[int, str, str], ...]] = {}
        """By kind of word, the lines in which it was heard: number, sort and text."""
        self.watched: Watched | None = None
        """The lines of the text before, and what was heard in them."""
        self.worked: LastWork | None = None
        """What was knitted of the text before."""
        self.of_work: dict[object, Any] = {}
        """By who tells, of what was knitted last."""


def nodes_by_kind(label: object, actions: Actions) -> ByKind:
    """The nodes of a line's label and actions, by kind, in the order of the words."""
    out: dict[type, list[tree.Node]] = {}
    for node in (*tree.walk(label), *tree.walk(actions)):
        out.setdefault(type(node), []).append(node)
    return {kind: tuple(nodes) for kind, nodes in out.items()}


def same_work(subject: Subject, was: LastWork | None, laid: Laid) -> bool:
    """Whether the same was knitted as of the text before, row for row and stitch for stitch, under the same
    headings and labels and with the same charts. Which words say it is no part of that.
    """
    if was is None or (laid is not was.laid and laid.after is not was.laid.mark):
        return False
    pattern, before = subject.pattern, was.pattern
    if len(was.ways) != len(subject.ways) or not _one_frame(pattern, before):
        return False
    for n in laid.changed if laid is not was.laid else ():
        a, b = was.laid.lines[n], laid.lines[n]
        if a.label != b.label or a.sizes != b.sizes or a.options != b.options:
            return False
    return all(
        a.size == b.size and a.options == b.options and _same_knitting(a.knitted, b.knitted)
        for a, b in zip(was.ways, subject.ways, strict=True)
    )


def _one_frame(a: PatternLike, b: PatternLike) -> bool:
    return (
        a.title == b.title
        and a.sizes == b.sizes
        and len(a.sections) == len(b.sections)
        and all(
            x.heading == y.heading and x.level == y.level and len(x.lines) == len(y.lines)
            for x, y in zip(a.sections, b.sections, strict=True)
        )
        and a.charts == b.charts
        and a.numbers == b.numbers
    )


def _same_knitting(a: KnittedLike, b: KnittedLike) -> bool:
    return a is b or (
        a.own == b.own
        and a.places == b.places
        and _same_log(a.log, b.log)
        and _same_ledger(a.ledger, b.ledger)
        and _same_fabric(a.fabric, b.fabric)
    )


def _same_log(a: Sequence[tuple[Any, ...]], b: Sequence[tuple[Any, ...]]) -> bool:
    """Whether the needles did the same: all but the words of each entry (its third part)."""
    if len(a) != len(b):
        return False
    for x, y in zip(a, b, strict=True):
        if x is y:
            continue
        if x[0] != y[0] or x[4:] != y[4:]:
            return False
        if not (_same_part(x[1], y[1]) and _same_part(x[3], y[3])):
            return False
    return True


def _same_part(a: object, b: object) -> bool:
    if isinstance(a, np.ndarray) and isinstance(b, np.ndarray):
        return a is b or np.array_equal(a, b)
    return a == b if type(a) is type(b) else False


def _same_ledger(a: Ledger, b: Ledger) -> bool:
    if len(a.pieces) != len(b.pieces):
        return False
    for p, q in zip(a.pieces, b.pieces, strict=True):
        if (p.name, p.bound_off, p.live, p.held, len(p.rows)) != (
            q.name, q.bound_off, q.live, q.held, len(q.rows),
        ):  # fmt: skip
            return False
        if not all(x is y or _same_entry(x, y) for x, y in zip(p.rows, q.rows, strict=True)):
            return False
    return True


def _same_entry(a: Entry, b: Entry) -> bool:
    """Whether two entries are the same but for where their words stand."""
    stated = b.stated
    if len(a.stated) == len(stated) != 0:
        stated = tuple(with_fields(s, span=t.span) for s, t in zip(stated, a.stated, strict=True))
    return a == with_fields(b, line=a.line, span=a.span, stated=stated)


_ARRAYS = (
    "op_of_stitch", "row_of_stitch", "column_of_stitch", "seen_of_stitch", "side_of_stitch",
    "mount_of_stitch", "yarn_of_stitch", "span_of_stitch", "pass_of_stitch", "first_parent_of_stitch",
    "parent", "link", "join_a", "join_b", "join_kind", "first_stitch_of_section",
)  # fmt: skip
"""All of a fabric but where the words stand that its stitches come from."""


def _same_fabric(a: Fabric, b: Fabric) -> bool:
    if a.n != b.n or a.ops != b.ops or a.yarns != b.yarns:
        return False
    for name in _ARRAYS:
        one, other = getattr(a, name), getattr(b, name)
        if one.shape != other.shape or one.tobytes() != other.tobytes():
            return False
    return True
