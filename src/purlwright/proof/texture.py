"""The texture of rows: what each written row does, operation by operation, and how an operation looks.

In: a :class:`~purlwright.proof.subject.Subject`. Out: a :class:`Worked` for each line that was worked as a
row, at its first working, with its operations as numbers, where each stands on the needle, and its words.
Two rows with the same operations have the same ``key``, so what is told of a key is told once. What is right
or wrong with a texture is left to the family modules.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from msgspec import Struct

from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.optable import op_table
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.stitches.kinds import Family, Lean, Motion, Stitch
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject, Way

__all__ = [
    "Look",
    "Op",
    "Tile",
    "Worked",
    "crosses",
    "label_of",
    "look_of_stitch",
    "looks",
    "mirrored",
    "names",
    "ops_of",
    "seen_from_right",
    "special",
    "tile_of",
    "worked_rows",
]


class Look(NamedTuple):
    """How an operation looks: loops taken and made, the way it leans, the faces it shows, whether it crosses.

    Two ways to knit the same thing (ssk, skp) have one look.
    """

    takes: int
    makes: int
    lean: str
    faces: str
    crosses: bool
    twisted: bool


class Op(NamedTuple):
    """An operation of a row: its look, and how many stitches of the row below were taken before it."""

    look: Look
    at: int
    place: int
    """Which operation of the row it is, from 0."""


@lru_cache(maxsize=4096)
def look_of(op: int) -> Look:
    """The look of an operation of the table; needle actions that are no stitch have none to show."""
    s = op_table().stitches[op]
    return Look(0, 0, "", "act", False, False) if s is None else look_of_stitch(s)


def look_of_stitch(s: Stitch) -> Look:
    """The look of a stitch of the dictionary."""
    crosses = s.motion is Motion.CROSS or s.family in {Family.CABLE, Family.TWIST}
    lean = s.lean.value if s.lean in {Lean.LEFT, Lean.RIGHT} else ""
    if not crosses and (s.takes > 2 or s.key == "M1"):
        lean = ""  # a double decrease stands for a centred one, make 1 for either lean
    faces = "s" if s.motion is Motion.SLIP else "".join(f.value[0] for f in s.faces)
    return Look(s.takes, s.makes, lean, faces, crosses, s.twisted and s.takes == s.makes == 1)


@lru_cache(maxsize=4096)
def mirrored(look: Look) -> Look:
    """The look of the same operation in a mirror."""
    lean = {"left": "right", "right": "left"}.get(look.lean, look.lean)
    faces = look.faces if look.takes == 0 or look.makes > look.takes else look.faces[::-1]
    return look._replace(lean=lean, faces=faces)


def special(look: Look) -> bool:
    """Whether an operation is more than a knit, purl or slipped stitch."""
    return look.takes != 1 or look.makes != 1


@lru_cache(maxsize=2048)
def looks(key: bytes) -> tuple[Op, ...]:
    """Every operation of a row with this key, in working order."""
    out = []
    at = 0
    for place, op in enumerate(np.frombuffer(key, np.int16).tolist()):
        look = look_of(op)
        out.append(Op(look, at, place))
        at += look.takes
    return tuple(out)


class Worked(Struct, frozen=True, eq=False, gc=False):
    """A line worked as a row, the first time it is worked.

    ``spans`` and ``passes`` have one place an operation: its words (numbers of the fabric's spans), and which
    working of the innermost repeat it belongs to.
    """

    line: tree.Line
    entry: Entry
    way: Way
    key: bytes
    spans: Any
    passes: Any
    drawn: bool = False
    """True for a row of a chart, taken as drawn; its ``spans`` are places in the source."""

    @property
    def knitted(self) -> tuple[object, ...]:
        """All of a row but its words and its place: two rows alike in this are one row knitted twice."""
        e = self.entry
        return (
            self.key,
            self.passes.tobytes(),
            self.passes.itemsize,
            e.kind,
            e.side,
            e.start,
            e.made,
            e.lost,
        )

    @property
    def back(self) -> bool:
        """Whether it was worked on the wrong side."""
        return self.entry.side is _WS

    @property
    def name(self) -> str:
        """What to call it in a sentence."""
        return self.entry.label or f"the row in line {self.entry.line}"

    def words(self, place: int, last: int | None = None) -> Span:
        """Where the words of an operation stand, or those of a stretch of operations."""
        if self.drawn:
            found: Span = self.spans[place]
            return found if last is None else found.cover(self.spans[last])
        fabric = self.way.knitted.fabric
        of = self.spans[[place, place if last is None else last]].tolist()
        starts = [int(fabric.span_start[n]) for n in of]
        ends = [int(fabric.span_end[n]) for n in of]
        if min(ends) < 0 or not self.entry.span.start <= min(starts) < max(ends) <= self.entry.span.end:
            return self.entry.span
        return Span(min(starts), max(ends))


def ops_of(row: Worked) -> tuple[Op, ...]:
    """Every operation of a row in working order."""
    return looks(row.key)


@lru_cache(maxsize=2048)
def crosses(key: bytes) -> bool:
    """Whether a row with this key has a crossing, of which the rows below tell more than the row."""
    return any(op.look.crosses for op in looks(key))


class Tile(NamedTuple):
    """The repeat of a row: where it begins, and its end, as places of operations; and its width in
    stitches.
    """

    first: int
    last: int
    at: int
    width: int


def tile_of(row: Worked) -> Tile | None:
    """The first repeat across a row that is worked at least twice and keeps its count; None if there is
    none.
    """
    return _tile(row.key, row.passes.tobytes())


@lru_cache(maxsize=2048)
def _tile(key: bytes, passes: bytes) -> Tile | None:
    of = np.frombuffer(passes, np.int32 if len(passes) == 2 * len(key) else np.int64)
    twos = np.flatnonzero(of == 2)
    if not len(twos):
        return None
    b = int(twos[0])
    e = b + 1
    while e < len(of) and of[e] == 2:
        e += 1
    ops = np.frombuffer(key, np.int16)
    first = 2 * b - e
    if first < 0 or not np.array_equal(ops[first:b], ops[b:e]):
        return None
    body = looks(key)[first:b]
    width = sum(op.look.takes for op in body)
    if not width or width != sum(op.look.makes for op in body):
        return None
    return Tile(first, b, body[0].at, width)


@lru_cache(maxsize=2048)
def seen_from_right(key: bytes, back: bool) -> tuple[Op, ...]:
    """The operations that are more than knit, purl or slip, as the right side shows them.

    ``at`` counts from the right edge of the right side, in stitches of the row below.
    """
    every = looks(key)
    found = [op for op in every if special(op.look) and op.look.faces != "act"]
    if not back:
        return tuple(found)
    total = every[-1].at + every[-1].look.takes if every else 0
    return tuple(Op(_turned(op.look), total - op.at - op.look.takes, op.place) for op in reversed(found))


def _turned(look: Look) -> Look:
    """The look from the other side: what was worked first stands last, and knits are purls."""
    faces = look.faces[::-1].translate(_OTHER_FACE)
    return look._replace(faces=faces)


_OTHER_FACE = str.maketrans("kp", "pk")


def worked_rows(subject: Subject) -> tuple[Worked, ...]:
    """Each line worked whole as a row, once, in the order of the first way, then what others add.

    Rows with a fault in them already, rows that turn before their end, and rows that copy another's words
    are left out.
    """
    out: list[Worked] = []
    seen: set[int] = set()
    for way in subject.ways:
        entries = [e for p in way.knitted.ledger.pieces for e in p.rows if _plain(e, seen)]
        if not entries:
            continue
        log = way.knitted.log
        wanted = {e.order: e for e in entries}
        rows: dict[int, list[tuple[Any, ...]]] = {}
        for item in log:
            if item[-1] in wanted and item[0] == "run":
                rows.setdefault(item[-1], []).append(item)
        for e in entries:
            runs = rows.get(e.order)
            line = subject.line_of(e)
            if not runs or line is None or e.span.start in seen:
                continue
            seen.add(e.span.start)
            out.append(_worked(line, e, way, runs))
    return tuple(out)


def _plain(e: Entry, seen: set[int]) -> bool:
    return (
        (e.kind is _ROW or e.kind is _ROUND)
        and e.copied is None and not (e.unread or e.resumed or e.unworked)
        and e.span.end >= 0 and e.span.start not in seen
    )  # fmt: skip


_ROW, _ROUND, _WS = Kind.ROW, Kind.ROUND, Side.WS


def _worked(line: tree.Line, e: Entry, way: Way, runs: list[tuple[Any, ...]]) -> Worked:
    if len(runs) == 1:
        _, ops, spans, passes, _, _ = runs[0]
    else:
        ops = np.concatenate([r[1] for r in runs])
        spans = np.concatenate([np.broadcast_to(r[2], len(r[1])) for r in runs])
        passes = np.concatenate([np.broadcast_to(r[3], len(r[1])) for r in runs])
        return Worked(line, e, way, ops.tobytes(), spans, passes)
    n = len(ops)
    if getattr(spans, "shape", ()) != (n,):
        spans = np.broadcast_to(spans, n)
    if getattr(passes, "shape", ()) != (n,):
        passes = np.broadcast_to(passes, n)
    return Worked(line, e, way, ops.tobytes(), spans, passes)


def names(rows: Sequence[Worked]) -> str:
    """Rows as a sentence has them: "rows 1, 3 and 7", "rows 1, 3, 5, 7 and 4 more"."""
    numbers = [str(r.entry.number) if r.entry.number is not None else r.name for r in rows]
    numbers = list(dict.fromkeys(numbers))
    word = "rounds" if rows and rows[0].entry.kind is Kind.ROUND else "rows"
    if len(numbers) == 1:
        return f"{word[:-1]} {numbers[0]}"
    if len(numbers) > 5:
        return f"{word} {', '.join(numbers[:4])} and {len(numbers) - 4} more"
    return f"{word} {', '.join(numbers[:-1])} and {numbers[-1]}"


def label_of(row: Worked) -> Span:
    """Where a row's label stands; its words if it has none."""
    label = row.line.label
    if row.drawn or label is None or label.span.end < 0:
        return row.entry.span
    return Span(label.span.start + row.line.offset, label.span.end + row.line.offset)
