"""The smallest practice piece: each new move once, as a pattern of its own that proves clean.

In: the new moves of a pattern, its own stitches, and a way to read and knit other words. Out: the text of
the piece, what it holds, and what cannot be practised in it. Every row is tried by knitting it; a move that
does not come out by itself (a stitch of brioche without its yarn over) is left out and named.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Severity
from purlwright.pattern.words import definition_words

if TYPE_CHECKING:
    from purlwright.lesson.new_moves import Move
    from purlwright.pattern.tree import Definition

__all__ = ["Practice", "practice_piece"]

_EDGE = 3
"""Plain stitches at either side of a move."""
_ROOM = 8
"""Plain stitches besides, so that decreases do not use it up."""
_PLAIN = frozenset({"cast on", "k", "p", "bind off"})
"""Moves that every piece holds."""
_TURNS = {"turn": "turn", "w&t": "w&t"}
_WRAP = (
    "w&t: wrap and turn. Bring the yarn to the other side, slip the next stitch, take the yarn back, "
    "return the stitch, turn."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """A practice piece: its text, the rows that hold a move with the move's name, and the moves left out."""

    text: str
    stitches: int
    rows: tuple[tuple[str, str], ...]
    left_out: tuple[str, ...]


def practice_piece(
    title: str,
    moves: Sequence[Move],
    own: Sequence[Definition],
    prove: Callable[[str], Sequence[Finding]],
) -> Practice:
    """The piece for these moves. ``prove`` gives the findings of a text, of every size."""
    garter = not any(m.key == "p" for m in moves)
    width = 2 * _EDGE + max([m.takes for m in moves] or [1]) + _ROOM
    kept: list[Move] = []
    left_out: list[str] = []
    for move in moves:
        if move.key in _PLAIN:
            continue
        if _words(move, own) is None:
            left_out.append(move.name)
            continue
        tried = _text(title, [*kept, move], own, width, garter=garter)[0]
        if any(f.severity is not Severity.NOTE for f in prove(tried)):
            left_out.append(move.name)
        else:
            kept.append(move)
    text, rows = _text(title, kept, own, width, garter=garter)
    return Practice(text=text, stitches=width, rows=rows, left_out=tuple(dict.fromkeys(left_out)))


def _words(move: Move, own: Sequence[Definition]) -> str | None:
    """How a row names the move; None for one that is no stitch and no turn."""
    if move.key in _TURNS:
        return _TURNS[move.key]
    mine = next((d for d in own if d.name.casefold() == move.key.casefold()), None)
    if mine is not None:
        return mine.name
    if move.stitch is None or not move.stitch.us:
        return None
    if move.key == "M1":  # which way it is twisted must be said
        return "M1L"
    words = move.stitch.us
    return f"{words}1" if move.stitch.counted and " " not in words else words


def _text(
    title: str, moves: Sequence[Move], own: Sequence[Definition], width: int, *, garter: bool
) -> tuple[str, tuple[tuple[str, str], ...]]:
    back = "Knit" if garter else "Purl"
    stitches, rows = width, []
    lines = ["Row 1 (RS): Knit.", f"Row 2 (WS): {back}."]
    explained = {"k": "k: knit.", "p": "p: purl."}
    number = 3
    for move in moves:
        words = _words(move, own) or move.key
        rest = f"{back}."
        if move.key in _TURNS:
            row, rest = f"Knit to last 4 sts, {words}. ({stitches} sts)", f"{back}. ({stitches} sts)"
            explained |= (
                {"w&t": _WRAP, "sts": "sts: stitches."} if move.key == "w&t" else {"sts": "sts: stitches."}
            )
        else:
            stitches += move.makes - move.takes
            total = f" ({stitches} sts)" if move.makes != move.takes else ""
            row = f"K{_EDGE}, {words}, knit to end.{total}"
            if move.side == "WS" and not garter:  # as in the pattern, on the wrong side
                row, rest = "Knit.", f"P{_EDGE}, {words}, purl to end.{total}"
            explained |= {words: _explained(move, words, own)} | ({"sts": "sts: stitches."} if total else {})
        lines += [f"Row {number} (RS): {row}", f"Row {number + 1} (WS): {rest}"]
        rows.append((f"Row {number + (row == 'Knit.')}", move.name))
        number += 2
        if move.key == "w&t":
            lines += [
                f"Row {number} (RS): Knit to end, leaving the wraps as they are.",
                f"Row {number + 1} (WS): {back}.",
            ]
            number += 2
    for letter in ("k", "p"):
        if not any(f" {letter.upper()}{_EDGE}," in line for line in lines):
            explained.pop(letter)
    head = ["## Abbreviations", *explained.values(), ""] if explained else []
    whole = [f"# {title}", *head, "## Practice", f"Cast on {width} sts.", *lines, "Bind off.", ""]
    return "\n".join(whole), tuple(rows)


def _explained(move: Move, words: str, own: Sequence[Definition]) -> str:
    mine = next((d for d in own if d.name.casefold() == move.key.casefold()), None)
    if mine is not None:
        return definition_words(mine)
    return f"{words}: {'make one left' if words == 'M1L' else move.name}."
