"""K06: between two markers, or a marker and the edge, always the same number."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import few
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, Row
from purlwright.pattern.words_numbers import ordinal_words
from purlwright.proof.said import count

KIND = "K06"


def find(part: Part) -> Iterator[Clue]:
    """Parts between markers that stay as they are while the count changes, or that say where the repeats
    lie.
    """
    rows = [r for r in part.rows if r.seen.fences and not r.seen.waiting]
    widths = {len(r.seen.fences) for r in rows}
    if len(rows) < 4 or len(rows) * 2 < len(part.rows) or len(widths) != 1:
        return
    n = widths.pop()
    changes = len({r.seen.count for r in rows}) > 1
    kept = [i for i in range(n) if len({r.seen.fences[i] for r in rows}) == 1]
    if not changes or not kept or len(kept) == n:
        return
    said, stops = rows_said(part, rows)
    round_about = rows[0].entry.kind.value == "round"
    words = _words(rows[0], kept, n, round_about=round_about)
    yield Clue(
        kind=KIND,
        words=words,
        claims=tuple(claim(Fact("fence", i), rows) for i in kept),
        rows=said,
        stops=stops,
        seconds=few(sum(rows[0].seen.fences[i] for i in kept[:2])),
    )


def _words(row: Row, kept: list[int], n: int, *, round_about: bool) -> str:
    fences = row.seen.fences
    said = []
    if not round_about and {0, n - 1} <= set(kept) and fences[0] == fences[-1]:
        said.append(f"outside the markers at either edge always {count(fences[0], 'stitch', 'stitches')}")
        kept = kept[1:-1]
    said += [f"{_where(i, n, round_about=round_about)} always {fences[i]}" for i in kept]
    words = ", ".join(said)
    return f"{words[0].upper()}{words[1:]}."


def _where(i: int, n: int, *, round_about: bool) -> str:
    """Between which markers, counted from the right as the right side shows them."""
    start = "the beginning of the round" if round_about else "the right edge"
    end = "the end of the round" if round_about else "the left edge"
    if i == 0:
        return f"between {start} and the 1st marker"
    if i == n - 1:
        return f"between the last marker and {end}"
    if i == n - 2 and i > 1:
        return "between the last two markers"
    return f"between the {ordinal_words(i)} marker and the {ordinal_words(i + 1)}, counted from {start},"
