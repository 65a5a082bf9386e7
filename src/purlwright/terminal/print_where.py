"""Where she is, as a page.

In: the answer. Out: lines of text: the row, or the rows it could be, and what to look at next.
"""

from __future__ import annotations

from collections.abc import Sequence

from purlwright.terminal.look import Look, plain, wrap
from purlwright.wire.rescue import FoundOut, WhereOut

__all__ = ["show_where"]

MOST_LISTED = 12


def show_where(found: WhereOut, look: Look) -> list[str]:
    """The page."""
    out = [
        look.strong(plain(found.title)),
        *wrap(plain(", ".join([found.size, *found.options.values()])), look.width),
        "",
    ]
    if not found.rows:
        out += wrap(plain(found.clash or "No row fits what you see."), look.width)
        if found.near:
            out += ["", *wrap("If your count is out by one or two, it could be:", look.width), ""]
            out += _list(found.near, look)
        out += [
            "",
            *wrap(
                "If something went wrong, rescue says what: purlwright rescue FILE with the same facts.",
                look.width,
            ),
        ]
        return out
    if found.facts.get("yarn_on") == "left":
        out += wrap(
            "Turn the work round first: the stitch that the yarn comes from was worked last, "
            "and belongs on the right needle.",
            look.width,
        )
        out.append("")
    if len(found.rows) == 1:
        return [*out, *_the_row(found.rows[0], look)]
    many = len(found.rows)
    out += [*wrap(f"It is one of these {many} rows:", look.width), ""]
    out += _list(found.rows, look)
    if found.next is None:
        return [
            *out,
            "",
            *wrap(
                "Nothing that can be seen tells these rows apart. "
                "What is the last row you are sure of? Say it with --sure.",
                look.width,
            ),
        ]
    out += ["", *wrap(f"Look at this next: {found.next.asks} {found.next.how}", look.width), ""]
    for leaves in found.leaves[:MOST_LISTED]:
        answer = "none" if leaves.answer == "none" else leaves.answer
        rows = ", ".join(map(str, leaves.rows[:8])) + (" and more" if len(leaves.rows) > 8 else "")
        word = "row" if len(leaves.rows) == 1 else "rows"
        out += [f"  {line}" for line in wrap(f"{answer}: {word} {rows}", look.width - 2, "     ")]
    if len(found.leaves) > MOST_LISTED:
        out.append(f"  and {len(found.leaves) - MOST_LISTED} answers more")
    return out


def _the_row(row: FoundOut, look: Look) -> list[str]:
    number = f" ({row.number})"
    if row.worked is not None:
        out = wrap(
            plain(f"You are in {row.name}{number}, with {row.worked} stitches of it on the right needle."),
            look.width,
        )
    else:
        facing = f" {row.side} faces you." if row.side else ""
        out = wrap(plain(f"You have just finished {row.name}{number}."), look.width)
        out += wrap(plain(f"There should be {row.stitches} stitches.{facing}"), look.width)
    if row.next:
        head = "It goes on" if row.worked is not None else f"Next: {row.next}"
        out += [
            "",
            f"{plain(head)}, line {row.line}",
            *(look.faint(f"  {line}") for line in wrap(plain(row.next_words), look.width - 2)),
        ]
    return out


def _list(rows: Sequence[FoundOut], look: Look) -> list[str]:
    out: list[str] = []
    for row in rows[:MOST_LISTED]:
        out += [f"  {line}" for line in wrap(plain(f"{row.name}: {row.number}"), look.width - 2, "  ")]
    if len(rows) > MOST_LISTED:
        out.append(f"  and {len(rows) - MOST_LISTED} more")
    return out
