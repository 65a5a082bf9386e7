"""K15: ridges and V's tell how many rows: two rows of garter stitch make one ridge.

Garter stitch shows one ridge for two rows, and stockinette one V for each row; M. Thomas, Mary Thomas's
Knitting Book, 1938, has it so (from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import few
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part
from purlwright.proof.said import count

KIND = "K15"


def find(part: Part) -> Iterator[Clue]:
    """Ridges at the edges of garter stitch; at two edges with unlike rows, the ridges of each."""
    if not part.flat or part.before is None or len(part.rows) < 4:
        return
    first, last = part.before, part.rows[-1].entry
    right, left = last.ridges_right - first.ridges_right, last.ridges_left - first.ridges_left
    rows = part.rows
    garter = all(r.faces in {"other", ""} for r in rows[1:]) and _one_op(part)
    if garter and right == left and abs(2 * right - len(rows)) <= 1 and not any(r.seen.waiting for r in rows):
        words = (
            f"Every two rows make one ridge: {count(right, 'ridge')} in all in this part, {len(rows)} rows."
        )
    elif right != left and min(right, left) > 0 and _one_op(part) and _turns_on_ws(part):
        few_, many = sorted((right, left))
        which = "right" if right < left else "left"
        other = "left" if which == "right" else "right"
        if many % few_:
            return
        times = many // few_
        grown = [
            (r.entry.ridges_right - first.ridges_right, r.entry.ridges_left - first.ridges_left) for r in rows
        ]
        rows = tuple(r for r, ab in zip(rows, grown, strict=True) if min(ab) and max(ab) == times * min(ab))
        whole = [rs for rs in part.labels.values() if set(rs) <= set(rows)]
        rows = tuple(whole[-1]) if whole else rows
        words = (
            f"For each ridge at the {which} edge there are {times} at the {other} one, as the right side "
            f"shows them: {few_} and {many} at the end of this part."
        )
    else:
        return
    claims = (claim(Fact("ridges right"), rows), claim(Fact("ridges left"), rows))
    said, stops = rows_said(part, rows)
    yield Clue(
        kind=KIND, words=words, claims=claims, rows=said, stops=stops, seconds=few(right), tells_row=True
    )


def _turns_on_ws(part: Part) -> bool:
    """Whether only wrong-side rows turn, so that a row begun at a turn shows no bump on the right side."""
    return {r.seen.side for r in part.rows if r.seen.waiting} == {"WS"}


def _one_op(part: Part) -> bool:
    return all({d.name for d in r.seen.done} <= {"k"} for r in part.rows)
