"""What mends it: let it be, a small change, a ladder, or ripping back; with its cost and what she has then.

In: a diagnosis. Out: up to three :class:`Cure` s, the quick, the tidy and the perfect. Each was proved: the
loops as the cure leaves them are worked on by the words, row by row, and every later count is as it should
be. Nothing is offered that moves a hole, a decrease or a turning place by more than one stitch or one
row. That no cure is safe is an answer too.

Costs are in stitches: those to be undone and worked again; for a ladder its rows times how hard a row is
(plain 1, rib or garter 2, lace or cables 4, brioche 5: rule of thumb, no source).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from purlwright.needles.looks import RowLook
from purlwright.needles.rehearse import Lie
from purlwright.rescue.knitted_on import PieceAt
from purlwright.rescue.mistakes.made import Made, Odd, more_before
from purlwright.rescue.naming import name_of, stitches, word_of
from purlwright.rescue.rank import Ranked
from purlwright.rescue.traces import left_to_see

CAST_ON = "E12"

__all__ = ["Cure", "Grade", "before", "cures_for", "knits_on"]


class Grade(StrEnum):
    """How good a cure is."""

    QUICK = "quick"
    TIDY = "tidy"
    PERFECT = "perfect"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """One cure. ``what`` is what to do, in the imperative; ``shows`` what will be seen of it.

    cost : stitches to undo and work again. then : stitches on the needle afterwards. row : the row then done,
    by its index (-1: the cast-on). lie : how the loops lie before the row after that one.
    """

    grade: Grade
    what: str
    shows: str
    cost: int
    then: int
    row: int
    lie: Lie


def knits_on(piece: PieceAt, row: int, lie: Lie) -> bool:
    """Whether loops that lie so before ``row`` can be worked to the end, with every count as it should be.

    No turning place or marker may lie more than one stitch from where it should.
    """
    for i in range(row, len(piece.looks) + 1):
        true = piece.lies[i]
        if true is None or lie == true:
            return lie == true or (true is None and i > row)
        if lie.live != true.live or not _near(lie, true):
            return False
        came = piece.after(i, lie)
        if came is None:
            return i == len(piece.looks)
        if not came.fits:
            return False
        lie = came.ready
    return True


def _near(lie: Lie, true: Lie) -> bool:
    """Whether marks and gaps are the same, each at most one stitch from its place."""
    for a, b in ((lie.left_marks, true.left_marks), (lie.right_marks, true.right_marks)):
        if [m.kind for m in a] != [m.kind for m in b]:
            return False
        if any(abs(x.at - y.at) > 1 for x, y in zip(a, b, strict=True)):
            return False
    return lie.holders == true.holders and abs(lie.left - true.left) <= 1


def cures_for(found: Ranked, *, tried: bool = False) -> tuple[Cure, ...]:
    """The cures of a diagnosis, at most one a grade, quickest first; none if no cure is safe.

    tried : whether she has begun the next row, which does not come out.
    """
    table = found.table
    piece, made, row = table.piece, found.made, found.row
    if made.row < 0:
        return ()
    lie = table.lies[int(table.lie_of[found.line])]
    best: dict[Grade, Cure] = {}
    tried = tried and made.row <= row < len(piece.looks) - 1
    for cure in (*_quick(piece, made, row, lie), *_tidy(piece, made, row, lie), *_perfect(piece, made, row)):
        if not knits_on(piece, cure.row + 1, cure.lie):
            continue
        if cure.grade not in best or cure.cost < best[cure.grade].cost:
            best[cure.grade] = cure
    out: list[Cure] = []
    for grade in Grade:
        if grade in best and all(best[grade].what != c.what for c in out):
            out.append(best[grade])
    return tuple(_after_undoing(c, piece.looks[row + 1]) for c in out) if tried else tuple(out)


def _after_undoing(cure: Cure, tried: RowLook) -> Cure:
    """The row that did not come out is undone first."""
    what = f"Undo the {word_of(tried)} that does not come out. {cure.what}"
    return replace(cure, what=what, cost=cure.cost + tried.entry.worked)


def before(piece: PieceAt, made: Made, row: int) -> tuple[Cure, ...]:
    """Only the way back to before a mistake."""
    return tuple(c for c in _perfect(piece, made, row) if knits_on(piece, c.row + 1, c.lie))


# --- quick -----------------------------------------------------------------------------------------


def _quick(piece: PieceAt, made: Made, row: int, lie: Lie) -> Iterator[Cure]:
    true = piece.lies[row + 1] if row + 1 < len(piece.lies) else None
    if true is None or row < made.row:
        return
    yield from _go_on_from(piece, made, row)
    if made.skipped or made.again:
        yield from _plain_rows(piece, made, row, lie, true)
        return
    if lie == true and not made.flip:
        yield Cure(
            grade=Grade.QUICK,
            what="Let it be, and go on.",
            shows=left_to_see(made),
            cost=0,
            then=lie.live,
            row=row,
            lie=lie,
        )
        return
    if lie == true and made.flip and _all_plain(piece, made.row, row):
        yield Cure(
            grade=Grade.QUICK,
            what=f"Work one plain {word_of(piece.looks[row])} more: then the sides are right again. Go on.",
            shows="One side is a row taller than the other for a stretch; in plain knitting it hardly shows.",
            cost=lie.live,
            then=lie.live,
            row=row,
            lie=lie,
        )
        return
    yield from _fudge(piece, made, row, lie, true)
    if lie.live == true.live and not made.flip:
        what = (
            "Let it be, and go on."
            if lie.left_marks == true.left_marks
            else "Let it be, and mind where the turning places lie."
        )
        yield Cure(
            grade=Grade.QUICK, what=what, shows=left_to_see(made), cost=0, then=lie.live, row=row, lie=lie
        )


def _go_on_from(piece: PieceAt, made: Made, row: int) -> Iterator[Cure]:
    """Rows left out, and met at once: nothing is wrong yet."""
    if not made.skipped or row != made.on - 1:
        return
    at = piece.lies[made.row]
    if at is None:
        return
    looks = piece.looks
    yield Cure(
        grade=Grade.QUICK,
        what=f"Nothing is wrong yet: work {name_of(looks[made.row], piece.name)[0]} now, and go on.",
        shows="Nothing.",
        cost=0,
        then=at.live,
        row=made.row - 1,
        lie=at,
    )


def _plain_rows(piece: PieceAt, made: Made, row: int, lie: Lie, true: Lie) -> Iterator[Cure]:
    """In plain knitting rows can be put in or left out where she is."""
    looks = piece.looks
    n = made.skipped or made.again
    word = word_of(looks[row])
    if lie != true:
        return
    if made.skipped and _all_plain(piece, made.row, row):
        many = f"the {n} {word}s" if n > 1 else f"the {word}"
        yield Cure(
            grade=Grade.QUICK,
            what=f"Work {many} that were left out now, and go on."
            if n > 1
            else f"Work {many} that was left out now, and go on.",
            shows="Nothing: the knitting is plain all the way.",
            cost=n * lie.live,
            then=lie.live,
            row=row,
            lie=lie,
        )
    elif made.again and row + n < len(looks) and _all_plain(piece, made.row, row + n):
        yield Cure(
            grade=Grade.QUICK,
            what=f"Leave out the next {n} {word}s, and go on after them."
            if n > 1
            else f"Leave out the next {word}, and go on after it.",
            shows="Nothing: the knitting is plain all the way.",
            cost=0,
            then=lie.live,
            row=row + n,
            lie=lie,
        )
    elif n == 1 and not made.flip:
        yield Cure(
            grade=Grade.QUICK,
            what="Let it be, and go on.",
            shows=f"The pattern is out by one {word} from there.",
            cost=0,
            then=lie.live,
            row=row,
            lie=lie,
        )


def _fudge(piece: PieceAt, made: Made, row: int, lie: Lie, true: Lie) -> Iterator[Cure]:
    """One decrease or increase in the next row, in the stretch where the loop is too many or lacking."""
    by = lie.live - true.live
    patterned = any(piece.structured[i] for i in range(made.row, row + 1))
    if by == 0 or abs(by) > 2 or (abs(by) > 1 and patterned) or row + 1 >= len(piece.looks):
        return
    for loop in _middles(lie):
        mended = more_before(lie, loop, -by)
        if mended != true:
            continue
        many = {1: "once", 2: "twice"}[abs(by)]
        change = f"knit 2 together {many}" if by > 0 else f"make 1 {many}"
        following = word_of(piece.looks[row + 1])
        what = f"In the next {following} {change} near the place, where the knitting is plain, and go on."
        if made.odd is Odd.LADDER:
            what = f"Catch the dropped loop and sew it down behind, or it will run. {what}"
        yield Cure(
            grade=Grade.QUICK,
            what=what,
            shows=f"{left_to_see(made)} The {'decrease' if by > 0 else 'increase'} shows a little.",
            cost=abs(by),
            then=true.live,
            row=row,
            lie=true,
        )
        return


def _middles(lie: Lie) -> list[int]:
    """A loop in the middle of each stretch between marks, from the needle's tip."""
    cuts = sorted({0, lie.left, *(lie.left - m.at for m in lie.left_marks)})
    return [(a + b) // 2 for a, b in itertools.pairwise(cuts) if b - a > 1]


# --- tidy ------------------------------------------------------------------------------------------

_LADDER_UP = {
    "E16": "Catch the loop at the foot of the ladder and work it up again, one bar a row.",
    "E13": "Lift the strand where the yarn over should be, row by row, on to the needle.",
    "E08": "Let the extra column down to the yarn over, let that go, and ease the slack into its neighbours.",
}


def _tidy(piece: PieceAt, made: Made, row: int, lie: Lie) -> Iterator[Cure]:
    true = piece.lies[row + 1] if row + 1 < len(piece.lies) else None
    if true is None or row < made.row:
        return
    if made.kind.code in {"E37", "E38", "E39"} and lie.live == true.live and row == made.row:
        what = "Put the marker back" if made.kind.code == "E37" else "Move the marker back"
        places = [m.at for m in true.left_marks if m.kind == "marker"]
        at = true.left - places[-1 - min(made.stretch, len(places) - 1)] if places else 0
        yield Cure(
            grade=Grade.TIDY,
            what=f"{what}, after {stitches(at)} of the next row, and go on.",
            shows="Nothing.",
            cost=1,
            then=true.live,
            row=row,
            lie=true,
        )
        return
    if not made.kind.column or not _ladder_reaches(piece, made, row, lie, true):
        return
    rows = row - made.row + 1
    hard = sum(_hard(piece, i) for i in range(made.row, row + 1))
    columns = 1 if made.kind.code != "E36" else 4
    what = _LADDER_UP.get(
        made.kind.code,
        "Let that one column down to the place, put it right, and work it up again, one bar a row.",
    )
    yield Cure(
        grade=Grade.TIDY,
        what=f"{what} ({rows} row{'s' if rows > 1 else ''} down)",
        shows="A column that is a little loose or tight until the work is washed.",
        cost=hard * columns,
        then=true.live,
        row=row,
        lie=true,
    )


def _ladder_reaches(piece: PieceAt, made: Made, row: int, lie: Lie, true: Lie) -> bool:
    """Whether one column can be let down to the place, and all beside it is right."""
    if made.flip or made.skipped or made.again or made.shifts:
        return False
    above = range(made.row + 1, row + 1)
    shaped = any(x.entry.made or x.entry.lost or 0 in x.since for x in piece.looks[made.row + 1 : row + 1])
    if shaped:
        return False
    if lie != true and any(piece.structured[i] for i in above):
        return False  # the rows above were worked out of place
    return abs(lie.live - true.live) <= 1 and len(above) <= 20


def _hard(piece: PieceAt, i: int) -> int:
    look = piece.looks[i]
    if look.entry.first == "brk1" or look.entry.last == "brk1":
        return 5
    if 0 in look.since:
        return 4
    return 2 if piece.structured[i] else 1


# --- perfect ---------------------------------------------------------------------------------------


def _perfect(piece: PieceAt, made: Made, row: int) -> Iterator[Cure]:
    """Back to before the mistake; of rows worked twice, to the end of their first working."""
    looks = piece.looks
    back_to = made.row + made.again - 1  # the row that is then done
    at = piece.lies[back_to + 1] if back_to + 1 < len(piece.lies) else None
    if at is None:
        return
    last = max(row, made.row)
    # rows left out were never worked, and rows worked twice are undone once
    rows = range(made.row + made.skipped, last + 1)
    undone = sum(looks[i].entry.worked for i in rows)
    if made.row == 0 and made.kind.code == CAST_ON:
        yield Cure(
            grade=Grade.PERFECT,
            what=f"Begin again with {stitches(at.live)} cast on.",
            shows="Nothing.",
            cost=undone + at.live,
            then=at.live,
            row=-1,
            lie=at,
        )
        return
    if not rows or back_to + 1 >= len(looks):
        return
    following = name_of(looks[back_to + 1], piece.name)[0]
    if len(rows) == 1:
        name = name_of(looks[rows[0]], piece.name)[0]
        again = "it" if name == following else following
        what = f"Undo {name} stitch by stitch (tink), and work {again} again."
    else:
        what = f"Rip back {len(rows)} {word_of(looks[last])}s and go on with {following}."
        safe = _safe_row(looks, back_to)
        if safe is not None and safe != back_to:
            what += f" The nearest that is safe to pick up is {name_of(looks[safe], piece.name)[0]}."
        elif safe is not None:
            word = word_of(looks[safe])
            what += f" Run a thin needle through the {word} below them first: every stitch there is plain."
    yield Cure(
        grade=Grade.PERFECT, what=what, shows="Nothing.", cost=undone, then=at.live, row=back_to, lie=at
    )


def _safe_row(looks: tuple[RowLook, ...], i: int) -> int | None:
    """The nearest row at or below ``i`` in which every stitch is plain and no turn is open."""
    while i >= 0:
        look = looks[i]
        if not (look.entry.made or look.entry.lost or look.gaps or 0 in look.since):
            return i
        i -= 1
    return None


def _all_plain(piece: PieceAt, first: int, last: int) -> bool:
    """Whether rows first to last work every stitch alike, so that one more or fewer is not seen."""
    rows = range(max(first - 1, 0), min(last, len(piece.looks) - 1) + 1)
    return not any(
        piece.structured[i]
        or piece.looks[i].entry.made
        or piece.looks[i].entry.lost
        or 0 in piece.looks[i].since
        for i in rows
    )
