"""The rows of each part of a piece, with what a knitter can see and count when a row is done.

In: one size, knitted. Out: a :class:`Part` for each stretch of rows under one heading, a :class:`Row` for
each row or round with its :class:`Seen`. Which of it helps her is left to ``clues``. A part in which a row
was not read has no rows here, for nothing sure can be said of it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby, pairwise
from typing import TYPE_CHECKING

from purlwright.chart.follow import Deed, Followed, follow
from purlwright.chart.signs import stitch_of
from purlwright.fabric.arrays import Seen as Face
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern.tree import Side
from purlwright.pattern.words_numbers import ordinal_words
from purlwright.stitches.kinds import Family, Loose, Stitch
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted

__all__ = ["LANDMARKS", "Done", "Part", "Row", "Seen", "entry_label", "label_of", "parts_of", "told"]

LANDMARKS = ("holes", "crossings", "increases", "decreases", "turns")
"""What a row may hold that can be found again in the knitting."""

_FOLLOWED = (Kind.ROW, Kind.ROUND, Kind.PICK_UP, Kind.BIND_OFF)
_ROWS = (Kind.ROW, Kind.ROUND)


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """One stitch worked. ``taken`` and ``made`` are numbers of the fabric's stitches, in the order worked; -1
    where one is not known. ``again`` says that it was worked by words that this row repeats. ``like`` is the
    stitch of the dictionary that it comes to, where the pattern has a name of its own for it.
    """

    name: str
    stitch: Stitch | None
    taken: tuple[int, ...]
    made: tuple[int, ...]
    again: bool = False
    like: Stitch | None = None

    @property
    def hole(self) -> bool:
        """Whether it is a yarn over, which leaves a hole."""
        s = self.stitch
        return s is not None and s.loose is Loose.OVER and s.family is Family.LACE

    @property
    def increases(self) -> bool:
        """Whether it makes stitches out of those there are, and no hole."""
        away = {Family.PICK_UP, Family.CAST_ON}
        of_stitches = bool(self.taken) if self.stitch is None else self.stitch.family not in away
        return self.net > 0 and not self.hole and of_stitches

    @property
    def crosses(self) -> bool:
        return self.like is not None and self.like.family in {Family.CABLE, Family.TWIST}

    @property
    def net(self) -> int:
        """How many loops more it leaves than it takes."""
        return len(self.made) - len(self.taken)

    @property
    def lean(self) -> str:
        """Which way a decrease leans, seen from the right side; "" for none."""
        s = self.like
        return s.lean.value if s is not None and self.net < 0 and s.lean.value != "none" else ""


@dataclass(frozen=True, kw_only=True)
class Seen:
    """What is to be seen and counted when a row is done, the knitter still at its end.

    ``start`` and ``count`` are the stitches before and after; ``worked`` those she worked, ``waiting``
    those left beyond a turn. ``gaps`` are the open gaps, in stitches from the right edge. ``fences`` are
    the stitches between the markers, from the right edge to the left; all as the right side shows them.
    """

    side: str
    start: int
    count: int
    worked: int
    waiting: int
    gaps: tuple[int, ...]
    fences: tuple[int, ...]
    done: tuple[Done, ...]

    @cached_property
    def landmarks(self) -> frozenset[str]:
        """Which of :data:`LANDMARKS` the row holds."""
        met = {
            "holes": any(d.hole for d in self.done),
            "crossings": any(d.crosses for d in self.done),
            "increases": any(d.increases for d in self.done),
            "decreases": any(d.net < 0 and d.made for d in self.done),
            "turns": self.waiting > 0,
        }
        return frozenset(name for name, there in met.items() if there)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Row:
    """A row or round. ``number`` counts the rows of the part, from 1. ``name`` is how it is called."""

    entry: Entry
    number: int
    name: str
    seen: Seen
    faces: str
    """How its stitches stand to those below: "same", "other", "mixed", or "" where none can be said."""
    first: str
    """What lies first on the left needle before it is begun, as she sees it: "V" or "bump", "" if neither."""

    @property
    def order(self) -> int:
        return self.entry.order

    @property
    def what(self) -> str:
        """A row or a round, as it is called."""
        return self.entry.kind.value


@dataclass(frozen=True, kw_only=True, eq=False)
class Part:
    """The rows of one piece under one heading, in the order worked. ``before`` is what came before the
    first: a cast-on, stitches picked up, the last row under another heading.

    ``unread`` says that some of its rows are not as the words have them, so that there is none here.
    """

    name: str
    piece: str
    place: tuple[int, int]
    """Which piece of the pattern, and which part of the piece, from 0."""
    rows: tuple[Row, ...]
    before: Entry | None
    knitted: Knitted
    unread: bool = False
    follows: str = ""
    """The heading under which the piece goes on, "" at its end."""

    @cached_property
    def flat(self) -> bool:
        """Whether all its rows are worked back and forth."""
        return all(r.entry.kind is Kind.ROW for r in self.rows)

    @cached_property
    def even(self) -> bool:
        """Whether a row of either side has come each time after one of the other."""
        sides = [r.seen.side for r in self.rows]
        return self.flat and all(a != b for a, b in pairwise(sides)) and "" not in sides

    @property
    def what(self) -> str:
        """What most of it is made of, rows or rounds."""
        return "row" if sum(r.entry.kind is Kind.ROW for r in self.rows) * 2 >= len(self.rows) else "round"

    @cached_property
    def labels(self) -> dict[str, list[Row]]:
        """The rows by what the pattern calls them, however often each is worked."""
        out: dict[str, list[Row]] = {}
        for row in self.rows:
            out.setdefault(label_of(row), []).append(row)
        return out


def label_of(row: Row) -> str:
    """What the pattern calls a row, in the midst of a sentence: "row 6", "the set-up row"; "" for no name."""
    return entry_label(row.entry)


def told(part: Part) -> list[tuple[int, str]]:
    """The landmarks that may be spoken of in a part, numbered: where holes are made, other increases are
    not told apart from them by a name.
    """
    holes = any("holes" in r.seen.landmarks for r in part.rows)
    return [(n, name) for n, name in enumerate(LANDMARKS) if not (holes and name == "increases")]


def parts_of(knitted: Knitted) -> tuple[Part, ...]:
    """The parts in the order worked; an empty pattern has none."""
    out = []
    faces = knitted.fabric.seen_of_stitch.tolist()
    for n, piece in enumerate(knitted.ledger.pieces):
        entries = [e for e in piece.rows if e.kind in _FOLLOWED]
        followed = {f.entry.order: f for f in follow(knitted, entries)} if entries else {}
        before: Entry | None = None
        groups = [(name, list(es)) for name, es in groupby(piece.rows, key=lambda e: e.section)]
        worked = [(name, es) for name, es in groups if any(e.kind in _ROWS and e.start for e in es)]
        k = 0
        for name, es in groups:
            begun = next((e for e in es if e.kind in _ROWS and e.start), None)
            rows = [e for e in es if e.kind in _ROWS and begun is not None and e.order >= begun.order]
            if rows:
                bad = any(e.unread or e.resumed for e in es) or any(
                    not _sure(followed[e.order]) for e in rows
                )
                first = next((e for e in reversed(es) if e.order < rows[0].order), before)
                names = _names(rows)
                out.append(
                    Part(
                        name=name or piece.name,
                        piece=piece.name,
                        place=(n, k),
                        before=first,
                        knitted=knitted,
                        unread=bad,
                        follows=worked[k + 1][0] if k + 1 < len(worked) else "",
                        rows=()
                        if bad
                        else tuple(
                            _row(followed[e.order], i, names[i - 1], faces) for i, e in enumerate(rows, 1)
                        ),
                    )
                )
                k += 1
            before = es[-1]
    return tuple(out)


def _sure(row: Followed) -> bool:
    """Whether the row was followed to the loop."""
    e = row.entry
    taken = sum(len(d.taken) for d in row.deeds)
    return len(row.line) == e.end and taken == e.worked


def _row(followed: Followed, number: int, name: str, faces: Sequence[int]) -> Row:
    e = followed.entry
    deeds = followed.deeds[::-1] if followed.from_right else followed.deeds
    repeated = {d.span for d in deeds if d.pass_ > 1}
    done = tuple(_done(d, repeated, from_right=followed.from_right) for d in deeds)
    seen = Seen(
        side=e.side.value if e.side is not None else "",
        start=e.start,
        count=e.end,
        worked=e.worked,
        waiting=e.unworked,
        gaps=tuple(sorted(g.from_right_rs for g in e.gaps)),
        fences=_fences(e),
        done=done,
    )
    rs = e.side is not Side.WS
    return Row(
        entry=e,
        number=number,
        name=name,
        seen=seen,
        faces=_faces(done, faces),
        first=_first(done, faces, rs=rs),
    )


def _done(deed: Deed, repeated: set[Span], *, from_right: bool) -> Done:
    taken = [loop.stitch for loop in deed.taken]
    made = [] if deed.closed else [loop.stitch for loop in deed.made]
    if from_right:
        taken, made = taken[::-1], made[::-1]
    return Done(
        name=deed.name,
        stitch=deed.stitch,
        like=stitch_of(deed),
        taken=tuple(taken),
        made=tuple(made),
        again=deed.span in repeated,
    )


def _fences(e: Entry) -> tuple[int, ...]:
    """The stitches between the markers, from the right edge as the right side shows them."""
    if not e.markers or e.kind is Kind.ROUND:
        inner = sorted({m.after for m in e.markers if 0 < m.after < e.end})
    else:
        inner = sorted(m.after for m in e.markers)
    if not inner:
        return ()
    between = [b - a for a, b in pairwise([0, *inner, e.end])]
    # They are counted in the order of the next row: from the right if that is a right-side row.
    from_left = e.kind is Kind.ROW and e.side is Side.RS
    return tuple(between[::-1] if from_left else between)


def _faces(done: Sequence[Done], faces: Sequence[int]) -> str:
    met = set()
    for d in done:
        if len(d.taken) == len(d.made) == 1 and d.taken != d.made and min(*d.taken, *d.made) >= 0:
            a, b = faces[d.taken[0]], faces[d.made[0]]
            if Face.NONE not in {a, b}:
                met.add("same" if a == b else "other")
    return "" if not met else met.pop() if len(met) == 1 else "mixed"


def _first(done: Sequence[Done], faces: Sequence[int], *, rs: bool) -> str:
    taken = next((d.taken for d in done if d.taken), ())
    if not taken or taken[0] < 0:
        return ""
    face = faces[taken[0]]
    if face == Face.NONE:
        return ""
    return "V" if (face == Face.KNIT) is rs else "bump"


# --- names -----------------------------------------------------------------------------------------


def entry_label(e: Entry) -> str:
    """What the pattern calls a row of the ledger, in the midst of a sentence; "" for no name."""
    if e.number is not None:
        return f"{e.kind.value} {e.number}"
    words = " ".join(e.label.split())
    return f'"{words}"' if words else ""


def _names(rows: Sequence[Entry]) -> list[str]:
    """A name for each row that no other row of the part has."""
    labels = Counter(entry_label(e) for e in rows)
    both = Counter((entry_label(e), e.pass_) for e in rows)
    out = []
    for n, e in enumerate(rows, 1):
        label = entry_label(e)
        if label and labels[label] == 1:
            out.append(label)
        elif label and both[label, e.pass_] == 1:
            out.append(f"{label} for the {ordinal_words(e.pass_)} time")
        else:
            out.append(f"the {ordinal_words(n)} {e.kind.value} of this part")
    return out
