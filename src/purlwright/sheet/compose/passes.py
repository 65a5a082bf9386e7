"""Repeats of rows to tick off, pass by pass, with the count after each.

In: a line that repeats rows, and what it worked again. Out: a :class:`Passes`, or None where there are too
few or too many to tick, or no telling which rows are its own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.needles.ledger import Kind
from purlwright.proof.said import and_list
from purlwright.sheet.compose.rows import said
from purlwright.sheet.compose.worked import by_size, repeat_in
from purlwright.sheet.document import Passes
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern import tree
    from purlwright.sheet.compose.worked import Again, Worked

__all__ = ["MOST_PASSES", "passes"]

FEWEST_PASSES = 3
"""What is worked once more needs no list."""
MOST_PASSES = 60
"""A repeat that is worked more often is no list to tick off."""


def passes(line: tree.Line, worked: Worked) -> Passes | None:
    """The passes of a repeat, the one written out included."""
    repeat = repeat_in(line)
    if repeat is None:
        return None
    ends = [_ends(again, worked) for again in worked.again(line)]
    most = max((len(e) for e in ends if e is not None), default=0)
    if not FEWEST_PASSES <= most <= MOST_PASSES or any(e is None for e in ends):
        return None
    told = [e for e in ends if e is not None]
    changes = any(len(set(e)) > 1 for e in told)
    counts = (f"{by_size([e[n] if n < len(e) else None for e in told])} sts" for n in range(most))
    return Passes(
        words=said(_what(repeat, told, rounds=_rounds(line, worked))),
        first=1,
        last=most,
        counts=tuple(counts) if changes else (),
        span=worked.told.places.hers(Span(line.offset, line.offset + len(line.text))),
    )


def _ends(again: Again | None, worked: Worked) -> list[int] | None:
    """The count after each pass; the first is the one written out, if the repeat follows on it."""
    if again is None:
        return None
    entries = again.entries[: len(again.entries) - again.then]
    last = entries[-1]
    before = again.before
    follows = worked.line_of(before) == worked.line_of(last) and before.label == last.label
    out = [before.end] if follows and before.pass_ == 1 else []
    met: dict[tuple[int, str], int] = {}
    for entry in entries:
        words = (entry.line, entry.label)
        if not met or met.get(words, entry.pass_) != entry.pass_:
            out.append(entry.end)
            met = {}
        else:
            out[-1] = entry.end
        met[words] = entry.pass_
    return out


def _rounds(line: tree.Line, worked: Worked) -> bool:
    """Whether what is repeated are rounds."""
    again = next((a for a in worked.again(line) if a is not None), None)
    return again is not None and all(e.kind is Kind.ROUND for e in again.entries)


def _what(repeat: tree.RepeatRows, ends: list[list[int]], *, rounds: bool) -> str:
    """Says "Wedges", "Rows 1-12"; how many there are in each size, if the sizes differ."""
    rows, until = repeat.rows, repeat.until
    name = "Round" if rounds else "Row"
    numbers = [str(n) for n in rows.numbers]
    if rows.first is not None and rows.last is not None:
        numbers = [str(n) for n in range(rows.first, rows.last + 1)]
    if until is not None and until.times is not None and until.things not in {None, "repeats"}:
        what = (until.things or "").strip()
    elif len(numbers) > 2 and rows.first is not None:
        what = f"{name}s {numbers[0]}-{numbers[-1]}"
    elif numbers:
        what = f"{name}{'s' if len(numbers) > 1 else ''} {and_list(numbers)}"
    elif rows.names:
        what = and_list(rows.names)
    elif rows.back is not None:
        what = f"the last {rows.back} {name.lower()}s" if rows.back > 1 else f"the last {name.lower()}"
    else:
        what = "repeats"
    often = by_size([len(e) for e in ends])
    what = what[0].upper() + what[1:]
    return f"{what}, {often} times in all" if "(" in often else what
