"""What would be seen of every mistake at every later row: the table that answers are looked up in.

In: a piece with its mistakes knitted on. Out: a :class:`Table`: one line for each mistake and each row she
may have come to since, with all that could be seen then. Lines that show the very same are one class: no
question can tell them apart. How well they fit what she says is left to ``rank``.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from purlwright.needles.columns import NO_MARK, UNTOLD
from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.looks import LANDMARKS, RowLook
from purlwright.needles.rehearse import Lie
from purlwright.pattern.tree import Side
from purlwright.rescue.knitted_on import PieceAt
from purlwright.rescue.mistakes import LOST_PLACE, PATTERN
from purlwright.rescue.mistakes.gained import CAST_ON
from purlwright.rescue.mistakes.made import Holes, Made, Odd, Outline
from purlwright.rescue.observe import COUNTS, YARN_WORDS
from purlwright.rescue.walks import Walks, walk

__all__ = ["COLUMNS", "ROWS_BACK", "Table", "in_column", "lay_out", "shown_by"]

COLUMNS = (
    "row",
    "sts",
    "side",
    "off",
    "waiting",
    "gaps",
    "between",
    "intervals",
    "part_rows",
    "since_hole",
    "since_decrease",
    "since_increase",
    "since_crossing",
    "since_stripe",
    "yarn",
    "ridges_right",
    "ridges_left",
    "chains_right",
    "chains_left",
    "holes",
    "up",
    "marks_above",
    "above_mark",
    "cast_on",
    "odd",
    "down",
    "lies_in",
    "stacks",
    "outline",
)
AT = {name: i for i, name in enumerate(COLUMNS)}
ROWS_BACK = 120
"""Mistakes are looked for so many rows below the needle at most."""
FEWEST_BACK = 24
MOST_LINES = 1_200_000
"""A table of more lines looks fewer rows back, but for so many at least."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Table:
    """What can be seen of (mistake, row) for a piece.

    made : the mistakes; the first is no mistake at all, the second the pattern's own fault. made_of : (n,)
    int32, the mistake of each line. seen : (n, len(COLUMNS)) int16. each : (n,) int16, where a row does not
    come out, the repeat its stitches are counted by, else 0. counts : for each of COUNTS, what the numbers in
    its column stand for.
    sorts : (n,) int32, which lines show the same; by_sort : lines in their order, and where each begins.
    prior : (n,) float32, the logarithm of how likely before anything is said. made_in : (n,) int32, the
    row of the mistake. lies : how the loops lie, by the number in lie_of.
    back : so many rows below the needle mistakes are looked for.
    """

    piece: PieceAt
    made: tuple[Made, ...]
    made_of: Any
    seen: Any
    each: Any
    counts: Mapping[str, tuple[tuple[int, ...], ...]]
    sorts: Any
    prior: Any
    made_in: Any
    by_sort: Any
    lies: tuple[Lie, ...]
    lie_of: Any
    back: int

    @property
    def n(self) -> int:
        return len(self.made_of)

    def alike(self, sort: int) -> Any:
        """The lines of one sort."""
        lines, first = self.by_sort
        return lines[first[sort] : first[sort + 1]]

    def column(self, name: str) -> Any:
        """One column of what is seen, (n,)."""
        return self.seen[:, AT[name]]


def lay_out(piece: PieceAt) -> Table:
    """Lay out all that would be seen; a piece whose rows could not be tried gives an empty table."""
    made: list[Made] = [Made(kind=LOST_PLACE, row=-1, on=0), Made(kind=PATTERN, row=-1, on=0)]
    of: list[int] = []
    starts: list[tuple[int, Lie]] = []
    skips: list[int] = []
    for i, lie in enumerate(piece.lies):  # the right loops, after each row
        if i and lie is not None and piece.lies[i - 1] is not None:
            of.append(0)
            starts.append((i, lie))
            skips.append(0)
    right = len(starts)
    for m in piece.made:
        lie = m.lie if m.lie is not None else piece.lies[m.on]
        if lie is None:
            continue
        begins = m.on - 1 if m.on > m.row else m.row
        came = piece.after(m.on, lie)
        if m.on == m.row and came is not None and not came.fits:
            begins = m.row - 1  # the row itself does not come out
        of.append(len(made))
        made.append(m)
        starts.append((m.on, lie))
        skips.append(begins - (m.on - 1))
    back = max(FEWEST_BACK, min(ROWS_BACK, MOST_LINES // max(len(starts), 1)))
    walks = walk(piece, starts, skips, [1] * right + [back] * (len(starts) - right))
    return _table(piece, walks, made, np.array(of, np.int32)[walks.start_of], back)


def _table(piece: PieceAt, walks: Walks, made: list[Made], made_of: Any, back: int) -> Table:
    n_rows, n = len(piece.looks), len(made_of)
    if not n:
        empty = np.zeros(0, np.int32)
        return Table(
            piece=piece,
            made=tuple(made),
            made_of=empty,
            seen=np.zeros((0, len(COLUMNS)), np.int16),
            each=empty,
            counts=dict.fromkeys(COUNTS, ()),
            sorts=empty,
            prior=np.zeros(0, np.float32),
            made_in=empty,
            by_sort=(empty, np.zeros(1, np.int32)),
            lies=(),
            lie_of=empty,
            back=back,
        )
    row, lie_of, off = walks.row, walks.lie_of, walks.off
    failing = off != 0
    made_of = np.where(failing & (made_of == 0), 1, made_of)  # the right loops, and yet it does not come out
    m_row = np.array([m.row for m in made])[made_of]
    per = _per_lie(walks.lies)
    looks = piece.looks
    seen = np.zeros((len(row), len(COLUMNS)), np.int16, order="F")  # looked through by columns

    def put(name: str, values: Any) -> None:
        seen[:, AT[name]] = values

    def of(values: list[int]) -> Any:
        return np.array(values, np.int32)[made_of]

    put("row", row)
    put("sts", per["sts"][lie_of])
    put("off", off)
    edge = np.array(
        [m.by if m.on == m.row == 0 and m.kind.code == CAST_ON.code else 0 for m in made], np.int32
    )
    put("cast_on", looks[0].entry.start + edge[made_of])
    put("waiting", _waiting(piece, walks, per["waiting"], lie_of, row))
    put("gaps", per["gaps"][lie_of])
    for name in COUNTS:
        put(name, per[name][lie_of])
    clipped = np.clip(row, 0, max(n_rows - 1, 0))
    sides = np.array([_side(x.side) for x in looks], np.int32)[clipped]
    first = _side(looks[0].entry.side)
    sides = np.where(row < 0, first, sides)
    flip = of([int(m.flip) for m in made])
    put("yarn", _yarn(piece, walks, clipped, flip))
    put("side", np.where((flip == 1) & (sides < 2), 1 - sides, sides))
    _put_landmarks(seen, looks, row, made, made_of)
    _put_edges(seen, looks, clipped, row, made, made_of)
    holes = of([int(m.holes) for m in made])
    put("holes", np.where((holes == Holes.RIGHT) & walks.moved, int(Holes.OFF), holes))
    odd = of([int(m.odd) for m in made])
    put("odd", odd)
    odd_row = np.where(of([m.odd_row for m in made]) >= 0, of([m.odd_row for m in made]), m_row)
    put("down", np.where(odd == Odd.NONE, -1, np.maximum(row - odd_row, 0)))
    nowhere = np.array([not _has_a_place(m) for m in made])[made_of]
    at = np.clip(odd_row, -1, n_rows)
    kinds = np.array([_kind_of_row(x) for x in looks] + [-1], np.int32)
    put("lies_in", np.where(nowhere, -1, kinds[at]))
    part = np.array([x.in_part for x in looks] + [0], np.int32)
    put("up", np.where(nowhere, -1, part[at]))
    marked = np.cumsum([0, *(_is_marked(looks, i) for i in range(n_rows))])
    above = marked[np.clip(row + 1, 0, n_rows)] - marked[np.clip(odd_row + 1, 0, n_rows)]
    put("marks_above", np.where(nowhere, -1, np.maximum(above, 0)))
    put("above_mark", np.where(nowhere, -1, _above_mark(looks, made)[made_of]))
    put("part_rows", _rows_of_part(part, row, made, made_of))
    put("stacks", walks.shifted | of([int(m.shifts) for m in made]))
    put("outline", of([int(m.outline) for m in made]))
    sorts = _sorts(seen)
    return Table(
        piece=piece,
        made=tuple(made),
        made_of=made_of,
        seen=seen,
        each=walks.each.astype(np.int16),
        counts={name: tuple(per["of"][name]) for name in COUNTS},
        sorts=sorts,
        prior=np.log(_prior(made, made_of, row, failing, failing & _right(piece, walks))).astype(np.float32),
        made_in=m_row.astype(np.int32),
        by_sort=_by_sort(sorts),
        lies=walks.lies,
        lie_of=lie_of,
        back=back,
    )


def _kind_of_row(look: RowLook) -> int:
    """What there is to be seen in a row: the first landmark it has, from 1; 0 if none."""
    return next((k + 1 for k, since in enumerate(look.since) if since == 0), 0)


def _has_a_place(made: Made) -> bool:
    """Whether she can point at it: something odd, a missing hole, a line of shaping that steps back."""
    return made.odd is not Odd.NONE or made.holes is Holes.MISSING or made.outline is Outline.STEPS_BACK


def _rows_of_part(part: Any, row: Any, made: list[Made], made_of: Any) -> Any:
    """Rows of the part up to the needle, with those left out or worked twice in it reckoned in."""
    n = np.array([m.again - m.skipped for m in made], np.int32)[made_of]
    a = np.array([m.row for m in made], np.int32)[made_of]
    here = part[np.clip(row, -1, len(part) - 2)]
    in_it = (a >= 0) & (a <= row) & (a > row - here)
    return np.maximum(here + np.where(in_it, n, 0), 0)


def _above_mark(looks: tuple[RowLook, ...], made: list[Made]) -> Any:
    """For each mistake the rows from the nearest landmark below it up to it; -1 if there is none."""
    out = []
    for m in made:
        i = m.row - 1 if m.skipped else m.row if m.odd_row < 0 else m.odd_row
        since = [s for s in looks[i].since if s >= 0] if 0 <= i < len(looks) else []
        rows = min(since, default=-1)
        out.append(rows + m.again if rows >= m.again > 0 else rows)
    return np.array(out, np.int32)


def _is_marked(looks: tuple[RowLook, ...], i: int) -> bool:
    """Whether a row has a landmark, turns before its end, or begins a colour."""
    e = looks[i].entry
    colour = i > 0 and looks[i - 1].entry.yarns != e.yarns
    return colour or 0 in looks[i].since or any(g.turned_on == e.order for g in e.gaps)


def _side(side: Side | None) -> int:
    return 2 if side is None else int(side is Side.WS)


def _per_lie(lies: Sequence[Lie]) -> dict[str, Any]:
    """What each way of lying shows."""
    of: dict[str, dict[tuple[int, ...], int]] = {name: {} for name in COUNTS}
    number: dict[str, list[int]] = {name: [] for name in COUNTS}
    waiting, gaps = [], []
    for lie in lies:
        shown = shown_by(lie)
        gaps.append(shown["gaps"])
        waiting.append(shown["waiting"])
        for name in COUNTS:
            number[name].append(of[name].setdefault(shown[name], len(of[name])))
    return {
        "sts": np.array([x.live for x in lies], np.int32),
        "waiting": np.array(waiting, np.int32),
        "gaps": np.array(gaps, np.int32),
        **{name: np.array(number[name], np.int32) for name in COUNTS},
        "of": of,
    }


def shown_by(lie: Lie) -> dict[str, Any]:
    """What one way of lying shows: counts, turning places, and the stitches between marks."""
    turned = [m for m in (*lie.left_marks, *lie.right_marks) if m.kind == "gap"]
    at = sorted(
        [lie.left - m.at for m in lie.left_marks if m.kind == "marker"]
        + [lie.left + m.at for m in lie.right_marks if m.kind == "marker"]
    )
    from_right = sorted(
        [m.at for m in lie.right_marks if m.kind == "gap"]
        + [lie.live - m.at for m in lie.left_marks if m.kind == "gap"]
    )
    return {
        "sts": lie.live,
        "gaps": len(turned),
        "waiting": max(turned, key=lambda m: m.turned_on).at if turned else 0,
        "between": _apart(at, lie.live),
        "intervals": _apart(from_right, lie.live),
    }


def _apart(places: list[int], end: int) -> tuple[int, ...]:
    """Stitches from one place to the next, from the beginning to the end; none if no place divides them."""
    inner = [place for place in places if 0 < place < end]
    return tuple([b - a for a, b in itertools.pairwise([0, *inner, end])]) if inner else ()


def _waiting(piece: PieceAt, walks: Walks, of_lie: Any, lie_of: Any, row: Any) -> Any:
    """Stitches beyond the gap turned last; the ledger knows it where the loops lie as they should."""
    n = len(piece.looks)
    known = np.array([x.waiting for x in piece.looks] + [0], np.int32)
    at = np.where((row < 0) | (row >= n), n, row)
    return np.where(_right(piece, walks), known[at], of_lie[lie_of])


def _yarn(piece: PieceAt, walks: Walks, clipped: Any, flip: Any) -> Any:
    """Where the yarn hangs; the ledger knows it where the loops lie as they should."""
    true = np.array([YARN_WORDS.get(x.yarn or "", -1) for x in piece.looks], np.int32)[clipped]
    turned = np.array([x.left > 0 and x.right > 0 for x in walks.lies], np.bool_)[walks.lie_of]
    edge = np.array([_edge_of(x.entry) for x in piece.looks], np.int32)[clipped]
    first = piece.looks[0].entry
    start = -1 if first.side is None else int(first.side is Side.WS)
    edge = np.where(walks.row < 0, 3 if first.kind is Kind.ROUND else start, edge)
    edge = np.where((flip == 1) & (edge >= 0) & (edge < 2), 1 - edge, edge)
    edge = np.where(turned & (edge < 3), YARN_WORDS["middle"], edge)
    return np.where(_right(piece, walks) & (flip == 0) & (walks.row >= 0), true, edge)


def _edge_of(entry: Entry) -> int:
    """The edge at which a row that is worked to its end leaves the yarn, as YARN_WORDS has it."""
    if entry.kind is Kind.ROUND:
        return YARN_WORDS["no edge"]
    return -1 if entry.side is None else YARN_WORDS["left edge" if entry.side is Side.RS else "right edge"]


def _right(piece: PieceAt, walks: Walks) -> Any:
    """Which lines have their loops as they should lie, (n,) bool."""
    n = len(piece.looks)
    right = np.array([-1 if x is None else walks.number.get(x, -1) for x in piece.lies[1:]] + [-1], np.int32)
    at = np.where((walks.row < 0) | (walks.row >= n), n, walks.row)
    return walks.lie_of == right[at]


def _put_landmarks(seen: Any, looks: Any, row: Any, made: list[Made], made_of: Any) -> None:
    """Rows since each landmark, with rows left out or worked twice reckoned in."""
    rows_since = {name: [x.since[k] for x in looks] for k, name in enumerate(LANDMARKS)}
    rows_since["stripe"] = [x.since_stripe for x in looks]
    for name, since in rows_since.items():
        seen[:, AT[f"since_{name}"]] = _rows_since(since, row, made, made_of)


def _rows_since(since: list[int], row: Any, made: Sequence[Made], made_of: Any) -> Any:
    """Rows since something, with rows left out or worked twice reckoned in; ``since`` is of right work."""
    out = np.array([m.skipped for m in made], np.int32)[made_of]
    again = np.array([m.again for m in made], np.int32)[made_of]
    a = np.array([m.row for m in made], np.int32)[made_of]
    last = np.array([i - n if n >= 0 else -1 for i, n in enumerate(since)] + [-1], np.int32)
    at = last[np.clip(row, -1, len(since) - 1)]
    before = last[np.clip(a - 1, -1, len(since) - 1)]
    gone = (out > 0) & (at < a + out)
    late = (again > 0) & (at < a)
    at = np.where(gone, before, at)
    now = row - at - np.where(gone, out, 0) + np.where(late, again, 0)
    return np.where(at < 0, -1, np.maximum(now, 0))


def in_column(table: Table, stitch: int) -> Any:
    """Stitches above the last landmark in the column of a stitch, from 1, (n,) int: -1 none, -2 untold."""
    looks = table.piece.looks
    counts = [
        UNTOLD if x.above is None else x.above[stitch - 1] if 0 < stitch <= len(x.above) else NO_MARK
        for x in looks
    ]
    untold = np.array([n == UNTOLD for n in counts] + [True], np.bool_)
    row = table.column("row").astype(np.int32)
    values = _rows_since(counts, row, table.made, table.made_of)
    return np.where(untold[np.clip(row, -1, len(looks) - 1)], UNTOLD, values)


def _put_edges(seen: Any, looks: Any, clipped: Any, row: Any, made: list[Made], made_of: Any) -> None:
    """Ridges and chains at both edges."""
    out = np.array([m.skipped for m in made], np.int32)[made_of]
    again = np.array([m.again for m in made], np.int32)[made_of]
    a = np.array([m.row for m in made], np.int32)[made_of]
    more = {"ridges_right": 0, "ridges_left": 1}
    for name in ("ridges_right", "ridges_left", "chains_right", "chains_left"):
        values = np.array([getattr(x.entry, name) for x in looks] + [0], np.int32)
        n = len(looks)
        end = np.clip(a + out + again - 1, -1, n - 1)
        part = values[end] - values[np.clip(a - 1, -1, n - 1)]
        part = np.where(a < 0, 0, part)
        bumps = values[np.where(row < 0, n, clipped)]
        if name in more:
            bumps = bumps + np.array([m.ridge[more[name]] for m in made], np.int32)[made_of]
        seen[:, AT[name]] = bumps - np.where(out > 0, part, 0) + np.where(again > 0, part, 0)


def _sorts(seen: Any) -> Any:
    """A number for each line, the same for lines that show the same."""
    rng = np.random.default_rng(7)
    key = np.zeros(len(seen), np.int64)
    with np.errstate(over="ignore"):
        for i in range(seen.shape[1]):  # by columns: all at once would take four times the memory
            key += seen[:, i] * (rng.integers(1, 2**61, dtype=np.int64) | 1)
    _, sorts = np.unique(key, return_inverse=True)
    return sorts.astype(np.int32)


def _by_sort(sorts: Any) -> tuple[Any, Any]:
    """Lines in the order of their sorts, and where each sort begins."""
    order = np.argsort(sorts, kind="stable").astype(np.int32)
    return order, np.searchsorted(sorts[order], np.arange(int(sorts.max()) + 2))


_BESIDES = 0.02
"""Where the right loops do not come out the pattern is at fault; a slip besides is so much rarer (by eye)."""


def _prior(made: list[Made], made_of: Any, row: Any, failing: Any, at_fault: Any) -> Any:
    """How likely each line is: the kind's weight, shared by all places where it can happen.

    at_fault : (n,) bool, lines in which the right loops do not come out.
    """
    many: dict[str, float] = {}
    for m in made:
        many[m.kind.code] = many.get(m.kind.code, 0.0) + m.places**0.5
    each = np.array([m.kind.weight * m.places**0.5 / many[m.kind.code] for m in made])
    # the rows she may have come to are all alike, but a mistake is met sooner rather than later
    since = np.maximum(row - np.array([m.row for m in made])[made_of], 0)
    fresh = np.where(made_of < 2, 1.0, 0.985 ** np.minimum(since, 200))
    rows = max(int(row.max()) + 1, 1) if len(row) else 1
    alone = np.where(made_of < 2, 1.0 / rows, 1.0 / np.minimum(rows, 60))
    besides = np.where(at_fault & (made_of > 1), _BESIDES, 1.0)
    return each[made_of] * fresh * alone * np.where(failing, 3.0, 1.0) * besides
