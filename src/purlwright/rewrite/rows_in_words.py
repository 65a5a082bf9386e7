"""Rows put into words as they were knitted, stitch by stitch.

In: a knitting and the ledger entries wanted. Out: for each row its stitches as runs, and from the runs of
all sizes one line: "Next row (RS): K1, m1l, k30 (34, 38), m1r, k1. (34 (38, 42) sts)". What cannot be
told so is said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from purlwright.needles.ledger import ROWS, Kind
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["NotInWords", "Row", "knitted_rows", "lines_of"]


class NotInWords(Exception):  # noqa: N818 - a reason, not a fault
    """Why rows cannot be told as a list."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row as it was worked: runs of (what, how often), and its entry."""

    runs: tuple[tuple[str, int], ...]
    entry: Entry

    @property
    def shape(self) -> tuple[object, ...]:
        """What must be the same for rows of several sizes to stand in one line."""
        changed = self.entry.made != self.entry.lost
        return tuple(word for word, _ in self.runs), self.entry.side, self.entry.kind, changed


_MARKS = {"place marker": "pm", "slip marker": "sm", "remove marker": "remove m"}
_SILENT = frozenset({"yarn front", "yarn back"})


def knitted_rows(knitted: Knitted, first: int, last: int) -> list[Row]:
    """The rows of the entries ``first`` to ``last`` (from 0, end exclusive). Raises NotInWords."""
    moves = knitted.moves
    out = []
    for entry in knitted.ledger.entries[first:last]:
        if entry.kind not in ROWS:
            raise NotInWords("it does more than work rows")
        if entry.unworked or entry.gaps or entry.held or entry.returned:
            raise NotInWords("its rows turn, or leave stitches waiting")
        runs: list[tuple[str, int]] = []
        for i in np.flatnonzero(moves.row_of_move == entry.order):
            op = moves.ops[moves.op_of_move[i]]
            if op in _SILENT or op == "turn":
                continue
            word = _MARKS.get(op) or _name(op)
            if runs and runs[-1][0] == word and op not in _MARKS:
                runs[-1] = (word, runs[-1][1] + 1)
            else:
                runs.append((word, 1))
        out.append(Row(tuple(runs), entry))
    return out


def _name(op: str) -> str:
    stitch = dictionary().find(op)
    if stitch is None or op in {"hold", "return", "drop", "slip back", "pass over"}:
        raise NotInWords(f'its rows hold "{op}", which a list cannot tell')
    return stitch.us


def lines_of(rows: Sequence[Sequence[Row]]) -> list[str]:
    """The lines for rows of several sizes: ``rows`` has a list for each, all of one shape."""
    out: list[tuple[str, str, int]] = []
    for same in zip(*rows, strict=True):
        body = _body(same)
        entry = same[0].entry
        unit = "rnd" if entry.kind is Kind.ROUND else "row"
        side = f" ({entry.side})" if entry.side is not None and unit == "row" else ""
        counted = entry.made != entry.lost
        if out and out[-1][0] == body and not counted and out[-1][1].startswith(f"Next {unit}"):
            out[-1] = (body, f"Next {unit}s", out[-1][2] + 1)
        else:
            total = f" ({_list([r.entry.end for r in same])} sts)" if counted else ""
            out.append((body + total, f"Next {unit}{side}", 1))
    return [f"{label if n == 1 else label.replace('Next', f'Next {n}')}: {body}" for body, label, n in out]


def _body(same: Sequence[Row]) -> str:
    runs = list(zip(*(r.runs for r in same), strict=True))
    if len(runs) == 1 and runs[0][0][0] in {"k", "p"}:
        return "Knit." if runs[0][0][0] == "k" else "Purl."
    words = ", ".join(_run(run) for run in runs)
    return f"{words[0].upper()}{words[1:]}."


def _run(run: tuple[tuple[str, int], ...]) -> str:
    word, numbers = run[0][0], [n for _, n in run]
    stitch = dictionary().find(word)
    if word in _MARKS.values():
        return word
    if stitch is not None and stitch.counted:
        return f"{word}{_list(numbers)}"
    return word if set(numbers) == {1} else f"[{word}] {_list(numbers)} times"


def _list(numbers: Sequence[int]) -> str:
    if len(set(numbers)) == 1:
        return str(numbers[0])
    return f"{numbers[0]} ({', '.join(str(n) for n in numbers[1:])})"
