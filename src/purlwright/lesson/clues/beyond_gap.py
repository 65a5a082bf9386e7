"""K19: each short row works so many fewer, and so many more wait beyond the turn."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import few
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, Row
from purlwright.proof.said import count

KIND = "K19"


def find(part: Part) -> Iterator[Clue]:
    """Short rows that follow one another on one side with an even step; those of both sides if they agree."""
    told: list[tuple[int, int, list[Row]]] = []
    for side in ("RS", "WS"):
        rows = [r for r in part.rows if r.seen.waiting and r.seen.side == side]
        runs = _runs(rows)
        steps = {
            (b.seen.waiting - a.seen.waiting, b.seen.worked - a.seen.worked)
            for run in runs
            for a, b in pairwise(run)
        }
        if runs and max(map(len, runs)) >= 3 and len(steps) == 1:
            more, worked = steps.pop()
            told.append((more, worked, [r for run in runs for r in run]))
    if not told:
        return
    more, worked, rows = told[0]
    if len(told) == 2 and told[1][:2] == (more, worked):
        rows = sorted([*rows, *told[1][2]], key=lambda r: r.number)
        each = "short row at either end"
    else:
        each = "short right-side row" if rows[0].seen.side == "RS" else "short wrong-side row"
    if not more:
        return
    said, stops = rows_said(part, rows)
    works = (
        f"works {count(abs(worked), 'stitch', 'stitches')} {'fewer' if worked < 0 else 'more'} and "
        if worked
        else ""
    )
    leaves = f"leaves {abs(more)} {'more' if more > 0 else 'fewer'} waiting"
    yield Clue(
        kind=KIND,
        words=f"Each {each} {works}{leaves} beyond the turn than the one before.",
        claims=(claim(Fact("waiting"), rows), claim(Fact("worked"), rows)),
        rows=said,
        stops=stops,
        seconds=few(rows[len(rows) // 2].seen.waiting),
        tells_row=True,
    )


def _runs(rows: list[Row]) -> list[list[Row]]:
    """Stretches in which what waits goes one way; a new one begins where it starts afresh."""
    out: list[list[Row]] = []
    for r in rows:
        run = out[-1] if out else None
        if (
            run
            and (
                len(run) < 2
                or (r.seen.waiting > run[-1].seen.waiting) == (run[-1].seen.waiting > run[-2].seen.waiting)
            )
            and _near(run, r)
        ):
            run.append(r)
        else:
            out.append([r])
    return out


def _near(run: list[Row], r: Row) -> bool:
    gap = r.number - run[-1].number
    return gap <= 2 or (len(run) > 1 and gap == run[-1].number - run[-2].number)
