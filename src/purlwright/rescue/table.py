"""What would be seen of every mistake at every later row: the table that answers are looked up in.

In: a piece with its mistakes knitted on. Out: a :class:`Table`: one line for each mistake and each row she
may have come to since, with all that could be seen then. Lines that show the very same are one class: no
question can tell them apart. How well they fit what she says is left to ``rank``.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Any

import numpy as np

from purlwright.needles.looks import LANDMARKS, RowLook
from purlwright.needles.rehearse import Came, Lie
from purlwright.pattern.tree import Side
from purlwright.rescue.knitted_on import PieceAt
from purlwright.rescue.mistakes import LOST_PLACE, PATTERN
from purlwright.rescue.mistakes.made import Holes, Made, Odd

__all__ = ["COLUMNS", "MARKER", "ROWS_BACK", "Table", "lay_out"]

COLUMNS = (
    "row",
    "sts",
    "side",
    "off",
    "waiting",
    "gaps",
    "between",
    "since_hole",
    "since_decrease",
    "since_increase",
    "since_crossing",
    "ridges_right",
    "ridges_left",
    "chains_right",
    "chains_left",
    "holes",
    "up",
    "marks_above",
    "odd",
    "down",
    "lies_in",
    "stacks",
    "outline",
)
AT = {name: i for i, name in enumerate(COLUMNS)}
ROWS_BACK = 120
"""Mistakes are looked for so many rows below the needle."""
MARKER = 99
"""Stands for the stitches over or short where a row stops at a marker."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Table:
    """What can be seen of (mistake, row) for a piece.

    made : the mistakes; the first is no mistake at all, the second the pattern's own fault. made_of : (n,)
    int32, the mistake of each line. seen : (n, len(COLUMNS)) int16. each : (n,) int16, where a row does not
    come out, the repeat its stitches are counted by, else 0. betweens : what the column of that name numbers.
    sorts : (n,) int32, which lines show the same; by_sort : lines in their order, and where each begins.
    prior : (n,) float32, the logarithm of how likely before anything is said. made_in : (n,) int32, the
    row of the mistake. lies : how the loops lie, by the number in lie_of.
    """

    piece: PieceAt
    made: tuple[Made, ...]
    made_of: Any
    seen: Any
    each: Any
    betweens: tuple[tuple[int, ...], ...]
    sorts: Any
    prior: Any
    made_in: Any
    by_sort: Any
    lies: tuple[Lie, ...]
    lie_of: Any

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


@dataclass(slots=True)
class _Walk:
    """How loops go on from a row: for each row after which they are looked at, how they lie."""

    first: int
    lies: list[int]
    off: list[int]
    each: list[int]
    shifted: list[bool]
    moved: list[bool]


class _Walker:
    """Goes on from altered loops, row by row."""

    def __init__(self, piece: PieceAt) -> None:
        self.piece = piece
        self.lies: list[Lie] = []
        self.number: dict[Lie, int] = {}
        self.structured = [_structured(piece, i) for i in range(len(piece.looks))]
        self.holes = [x.since[0] == 0 for x in piece.looks]
        self.known: dict[tuple[int, Lie], _Walk] = {}

    def lie(self, lie: Lie) -> int:
        n = self.number.get(lie)
        if n is None:
            n = self.number[lie] = len(self.lies)
            self.lies.append(lie)
        return n

    def walk(self, on: int, lie: Lie) -> _Walk:
        """From loops that lie so before row ``on``: the states after rows on - 1, on, on + 1 and so on."""
        got = self.known.get((on, lie))
        if got is not None:
            return got
        p = self.piece
        w = self.known[on, lie] = _Walk(on - 1, [], [], [], [], [])
        shifted = moved = False
        i, here = on, lie
        while True:
            came = p.after(i, here) if i < len(p.looks) else None
            stops = came is not None and not came.fits
            w.lies.append(self.lie(here))
            w.off.append(_off(came) if stops and came is not None else 0)
            w.each.append(came.each if stops and came is not None else 0)
            w.shifted.append(shifted)
            w.moved.append(moved)
            if came is None or stops or len(w.lies) > ROWS_BACK:
                return w
            if here != p.lies[i]:
                shifted = shifted or self.structured[i]
                moved = moved or self.holes[i]
            i, here = i + 1, came.ready


def _off(came: Came) -> int:
    if came.off == 0 or came.crossed:
        return MARKER
    return max(-MARKER + 1, min(MARKER - 1, came.off))


def _structured(piece: PieceAt, i: int) -> bool:
    return i < len(piece.structured) and piece.structured[i]


def lay_out(piece: PieceAt) -> Table:
    """Lay out all that would be seen; a piece whose rows could not be tried gives an empty table."""
    walker = _Walker(piece)
    n_rows = len(piece.looks)
    none = Made(kind=LOST_PLACE, row=-1, on=0)
    fault = Made(kind=PATTERN, row=-1, on=0)
    made: list[Made] = [none, fault]
    walks: list[tuple[int, _Walk, int, int]] = []  # mistake, walk, first row looked at, how many
    for run_from, run_to in _runs(piece):
        lie = piece.lies[run_from]
        if lie is None:
            continue
        at = run_from
        while at <= run_to:  # the right loops, as far as they are followed
            lie = piece.lies[at]
            if lie is None:
                break
            w = walker.walk(at, lie)
            many = min(len(w.lies), run_to - at + 1)
            start = 1 if at == run_from else 0
            if many - start > 0:
                walks.append((0, w, start, many - start))
            at += max(many, 1)
    for m in piece.made:
        lie = m.lie if m.lie is not None else piece.lies[m.on]
        if lie is None:
            continue
        w = walker.walk(m.on, lie)
        begins = m.on - 1 if m.on > m.row else m.row
        if m.on == m.row and len(w.lies) == 1 and w.off[0]:
            begins = m.row - 1  # the row itself does not come out
        skip = begins - w.first
        if begins >= -1 and len(w.lies) > skip:
            made.append(m)
            walks.append((len(made) - 1, w, skip, len(w.lies) - skip))
    return _table(piece, walker, made, walks, n_rows)


def _runs(piece: PieceAt) -> list[tuple[int, int]]:
    """Stretches of rows that follow one another: first and last index of how loops lie before a row."""
    runs, begun = [], None
    for i, lie in enumerate(piece.lies):
        if lie is not None and begun is None:
            begun = i
        if begun is not None and (lie is None or i == len(piece.lies) - 1):
            runs.append((begun, i if lie is not None else i - 1))
            begun = None
    return runs


def _table(
    piece: PieceAt, walker: _Walker, made: list[Made], walks: list[tuple[int, _Walk, int, int]], n_rows: int
) -> Table:
    if not walks:
        empty = np.zeros(0, np.int32)
        return Table(
            piece=piece,
            made=tuple(made),
            made_of=empty,
            seen=np.zeros((0, len(COLUMNS)), np.int16),
            each=empty,
            betweens=(),
            sorts=empty,
            prior=np.zeros(0, np.float32),
            made_in=empty,
            by_sort=(empty, np.zeros(1, np.int32)),
            lies=(),
            lie_of=empty,
        )
    lens = np.array([many for _, _, _, many in walks], np.int32)
    made_of = np.repeat(np.array([m for m, _, _, _ in walks], np.int32), lens)

    def gathered(name: str) -> Any:
        return np.concatenate([np.array(getattr(w, name)[a : a + n], np.int32) for _, w, a, n in walks])

    row = np.concatenate([np.arange(w.first + a, w.first + a + n, dtype=np.int32) for _, w, a, n in walks])
    lie_of, off, each = gathered("lies"), gathered("off"), gathered("each")
    moved = gathered("moved")
    failing = off != 0
    made_of = np.where(failing & (made_of == 0), 1, made_of)  # the right loops, and yet it does not come out
    m_row = np.array([m.row for m in made])[made_of]
    per = _per_lie(walker.lies)
    seen = np.zeros((len(row), len(COLUMNS)), np.int16, order="F")  # looked through by columns

    def put(name: str, values: Any) -> None:
        seen[:, AT[name]] = values

    def of(values: list[int]) -> Any:
        return np.array(values, np.int32)[made_of]

    put("row", row)
    put("sts", per["sts"][lie_of])
    put("off", off)
    put("waiting", _waiting(piece, walker, per["waiting"], lie_of, row))
    put("gaps", per["gaps"][lie_of])
    put("between", per["between"][lie_of])
    looks = piece.looks
    clipped = np.clip(row, 0, max(n_rows - 1, 0))
    sides = np.array([_side(x.side) for x in looks], np.int32)[clipped]
    first = _side(looks[0].entry.side)
    sides = np.where(row < 0, first, sides)
    flip = of([int(m.flip) for m in made])
    put("side", np.where((flip == 1) & (sides < 2), 1 - sides, sides))
    _put_landmarks(seen, looks, row, made, made_of)
    _put_edges(seen, looks, clipped, row, made, made_of)
    holes = of([int(m.holes) for m in made])
    put("holes", np.where((holes == Holes.RIGHT) & (moved == 1), int(Holes.OFF), holes))
    odd = of([int(m.odd) for m in made])
    put("odd", odd)
    odd_row = np.where(of([m.odd_row for m in made]) >= 0, of([m.odd_row for m in made]), m_row)
    put("down", np.where(odd == Odd.NONE, -1, np.maximum(row - odd_row, 0)))
    kinds = np.array([_kind_of_row(x) for x in looks] + [-1], np.int32)
    put("lies_in", np.where(odd == Odd.NONE, -1, kinds[np.clip(odd_row, -1, n_rows)]))
    part = np.array([*_within_part(looks), 0], np.int32)
    put("up", np.where(odd == Odd.NONE, -1, part[np.clip(odd_row, -1, n_rows)]))
    marked = np.cumsum([0, *(_is_marked(looks, i) for i in range(n_rows))])
    above = marked[np.clip(row + 1, 0, n_rows)] - marked[np.clip(odd_row + 1, 0, n_rows)]
    put("marks_above", np.where(odd == Odd.NONE, -1, np.maximum(above, 0)))
    put("stacks", gathered("shifted") | of([int(m.shifts) for m in made]))
    put("outline", of([int(m.outline) for m in made]))
    sorts = _sorts(seen)
    return Table(
        piece=piece,
        made=tuple(made),
        made_of=made_of,
        seen=seen,
        each=each.astype(np.int16),
        betweens=tuple(per["betweens"]),
        sorts=sorts,
        prior=np.log(_prior(made, made_of, row, failing)).astype(np.float32),
        made_in=m_row.astype(np.int32),
        by_sort=_by_sort(sorts),
        lies=tuple(walker.lies),
        lie_of=lie_of,
    )


def _kind_of_row(look: RowLook) -> int:
    """What there is to be seen in a row: the first landmark it has, from 1; 0 if none."""
    return next((k + 1 for k, since in enumerate(look.since) if since == 0), 0)


def _within_part(looks: tuple[RowLook, ...]) -> list[int]:
    """Which row of its part each row is, from 1."""
    out: list[int] = []
    for i, look in enumerate(looks):
        goes_on = i > 0 and looks[i - 1].entry.section == look.entry.section
        out.append(out[-1] + 1 if goes_on else 1)
    return out


def _is_marked(looks: tuple[RowLook, ...], i: int) -> bool:
    """Whether a row has a landmark, or begins a colour."""
    colour = i > 0 and looks[i - 1].entry.yarns != looks[i].entry.yarns
    return colour or 0 in looks[i].since


def _side(side: Side | None) -> int:
    return 2 if side is None else int(side is Side.WS)


def _per_lie(lies: list[Lie]) -> dict[str, Any]:
    """What each way of lying shows."""
    betweens: dict[tuple[int, ...], int] = {}
    number, waiting, gaps = [], [], []
    for lie in lies:
        marks = [*lie.left_marks, *lie.right_marks]
        turned = [m for m in marks if m.kind == "gap"]
        gaps.append(len(turned))
        waiting.append(max(turned, key=lambda m: m.turned_on).at if turned else 0)
        at = sorted(
            [lie.left - m.at for m in lie.left_marks if m.kind == "marker"]
            + [lie.left + m.at for m in lie.right_marks if m.kind == "marker"]
        )
        cuts = [0, *at, lie.live]
        between = tuple([b - a for a, b in itertools.pairwise(cuts)]) if at else ()
        number.append(betweens.setdefault(between, len(betweens)))
    return {
        "sts": np.array([x.live for x in lies], np.int32),
        "waiting": np.array(waiting, np.int32),
        "gaps": np.array(gaps, np.int32),
        "between": np.array(number, np.int32),
        "betweens": list(betweens),
    }


def _waiting(piece: PieceAt, walker: _Walker, of_lie: Any, lie_of: Any, row: Any) -> Any:
    """Stitches beyond the gap turned last; the ledger knows it where the loops lie as they should."""
    n = len(piece.looks)
    right = np.array([-1 if x is None else walker.number.get(x, -1) for x in piece.lies[1:]] + [-1], np.int32)
    known = np.array([x.waiting for x in piece.looks] + [0], np.int32)
    at = np.where((row < 0) | (row >= n), n, row)
    return np.where(lie_of == right[at], known[at], of_lie[lie_of])


def _put_landmarks(seen: Any, looks: Any, row: Any, made: list[Made], made_of: Any) -> None:
    """Rows since each landmark, with rows left out or worked twice reckoned in."""
    out = np.array([m.skipped for m in made], np.int32)[made_of]
    again = np.array([m.again for m in made], np.int32)[made_of]
    a = np.array([m.row for m in made], np.int32)[made_of]
    for k, name in enumerate(LANDMARKS):
        last = np.array([x.index - x.since[k] if x.since[k] >= 0 else -1 for x in looks] + [-1], np.int32)
        at = last[np.clip(row, -1, len(looks) - 1)]
        before = last[np.clip(a - 1, -1, len(looks) - 1)]
        gone = (out > 0) & (at < a + out)
        late = (again > 0) & (at < a)
        at = np.where(gone, before, at)
        since = row - at - np.where(gone, out, 0) + np.where(late, again, 0)
        seen[:, AT[f"since_{name}"]] = np.where(at < 0, -1, np.maximum(since, 0))


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
    weights = rng.integers(1, 2**61, size=seen.shape[1], dtype=np.int64) | 1
    with np.errstate(over="ignore"):
        key = (seen.astype(np.int64) * weights).sum(axis=1)
    _, sorts = np.unique(key, return_inverse=True)
    return sorts.astype(np.int32)


def _by_sort(sorts: Any) -> tuple[Any, Any]:
    """Lines in the order of their sorts, and where each sort begins."""
    order = np.argsort(sorts, kind="stable").astype(np.int32)
    return order, np.searchsorted(sorts[order], np.arange(int(sorts.max()) + 2))


def _prior(made: list[Made], made_of: Any, row: Any, failing: Any) -> Any:
    """How likely each line is: the kind's weight, shared by all places where it can happen."""
    many: dict[str, float] = {}
    for m in made:
        many[m.kind.code] = many.get(m.kind.code, 0.0) + m.places**0.5
    each = np.array([m.kind.weight * m.places**0.5 / many[m.kind.code] for m in made])
    # the rows she may have come to are all alike, but a mistake is met sooner rather than later
    since = np.maximum(row - np.array([m.row for m in made])[made_of], 0)
    fresh = np.where(made_of < 2, 1.0, 0.985 ** np.minimum(since, 200))
    rows = max(int(row.max()) + 1, 1) if len(row) else 1
    alone = np.where(made_of < 2, 1.0 / rows, 1.0 / np.minimum(rows, 60))
    return each[made_of] * fresh * alone * np.where(failing, 3.0, 1.0)
