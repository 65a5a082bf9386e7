"""The clues of a pattern as a page: for each part the few that are worth telling, with the rows they hold
for.

In: parts with their clues. Out: lines of text.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.proof.said import count
from purlwright.terminal.look import Look, heading, plain, wrap

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from purlwright.lesson.choose import Told
    from purlwright.lesson.reading import PartClues

__all__ = ["show_clues"]


def show_clues(
    parts: Sequence[PartClues], title: str, size: str, options: Mapping[str, str], look: Look, *, every: bool
) -> list[str]:
    """The chosen clues of each part; with ``every`` the others after them."""
    chosen = [f"{value} {name}" for name, value in options.items()]
    whom = ", ".join([f"size {size}", *chosen])
    out = [f"{look.strong(plain(title))} ({plain(whom)})"]
    for p in parts:
        rows = count(len(p.part.rows), p.part.what) if p.part.rows else ""
        out += ["", heading(f"{p.name}{f', {rows}' if rows else ''}", look)]
        if p.missing:
            out += wrap(f"No clue is told: {p.missing}.", look.width)
            continue
        told = [t for t in p.told if t.chosen or every]
        if not told:
            out.append("Nothing here tells one row from another.")
        for t in told:
            out += _clue(t, look, every=every)
    if not parts:
        out += ["", "No rows were knitted."]
    return out


def _clue(told: Told, look: Look, *, every: bool) -> list[str]:
    clue = told.clue
    marks = [
        word
        for word, there in (
            ("tells the row", clue.tells_row),
            ("by touch", clue.touch),
            ("all sizes", told.every_size),
        )
        if there
    ]
    sign = "* " if told.chosen or not every else "  "
    out = [
        (sign if n == 0 else "  ") + line for n, line in enumerate(wrap(plain(clue.words), look.width - 2))
    ]
    stops = f"; {clue.stops}" if clue.stops else ""
    holds = "Holds" if clue.rows.startswith(("from ", "after ")) else "Holds for"
    more = f"{holds} {plain(clue.rows)}{plain(stops)}. {_sentence(', '.join(marks))}"
    out += [f"    {look.faint(line)}" for line in wrap(more.rstrip(), look.width - 4)]
    for slip in told.faked:
        out += [
            f"    {look.faint(line)}" for line in wrap(f"It still seems to hold if {slip}.", look.width - 4)
        ]
    if every:
        seconds = f"{clue.kind}: about {clue.seconds:.0f} seconds, rules out {told.strength:.0%}."
        out.append(f"    {look.faint(seconds)}")
    return out


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}." if words else ""
