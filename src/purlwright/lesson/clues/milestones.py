"""K26: the last of a kind: with so many waiting there is no turn more; with so many stitches the part is
done.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim
from purlwright.lesson.clues.cost import counting, few
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, label_of
from purlwright.proof.said import count

KIND = "K26"


def find(part: Part) -> Iterator[Clue]:
    """The most that ever wait beyond a turn, if only the last short row of each pass leaves so many; the
    last count.
    """
    rows, what = part.rows, part.what
    if len(rows) < 4:
        return
    short = [r for r in rows if r.seen.waiting]
    if short:
        most = max(r.seen.waiting for r in short)
        at = [r for r in short if r.seen.waiting == most]
        labels = {label_of(r) for r in at}
        last = all(_last_turn(part, r.number) for r in at)
        if len(short) >= 3 and len(labels) == 1 and last:
            label = labels.pop()
            named = f" ({label})" if label else ""
            yield Clue(
                kind=KIND,
                words=f"When {count(most, 'stitch waits', 'stitches wait')} beyond the last turn{named}, "
                f"there is no turn more before the {what}s go to the end again.",
                claims=(claim(Fact("waiting is", most), rows),),
                rows=f"every {what} of this part",
                seconds=few(most),
                tells_row=True,
            )
            return
    end = rows[-1].seen.count
    first = next(r for r in rows if r.seen.count == end)
    same = all(r.seen.count == end for r in rows[first.number - 1 :])
    if len({r.seen.count for r in rows}) >= 3 and same:
        plain = len(rows) - first.number
        rest = f", after {count(plain, what)} more without shaping" if plain else ""
        yield Clue(
            kind=KIND,
            words=f"With {count(end, 'stitch', 'stitches')} this part is done{rest}.",
            claims=(claim(Fact("is", end), rows),),
            rows=f"every {what} of this part",
            seconds=counting((rows[-1],)),
            tells_row=True,
        )


def _last_turn(part: Part, number: int) -> bool:
    """Whether neither of the two rows after it turns."""
    after = part.rows[number : number + 2]
    return not any(r.seen.waiting for r in after)
