"""The tables by which the follow-along page helps one who is lost, as data that stands in the page.

In: a :class:`Help`. Out: text in JSON, short: every stretch of words, every sentence, every cure and every
look stands once in a list and is named by its number there, and no letter in it can end the element that it
stands in. What is made of it is left to the scripts.
"""

from __future__ import annotations

import json
import re
from itertools import groupby, pairwise
from typing import Any

from purlwright.sheet.document import Help, HelpPiece, Trouble

__all__ = ["as_data"]

_APART = re.compile(r"((?:[Rr]ow|[Rr]ound) \d+ of [^.,]+(?:, the \d+\w\w time)?|(?<=[.:;,)]) |\d+)")
"""Where a sentence is cut, so that what many have in common stands once: at names of rows, and at numbers."""


class _Kept:
    """Lists in which each thing stands once."""

    def __init__(self) -> None:
        self.words: dict[str, int] = {}
        self.said: dict[tuple[int, ...], int] = {}
        self.cures: dict[tuple[int, ...], int] = {}
        self.looks: dict[tuple[int, ...], int] = {}

    def sentence(self, words: str) -> int:
        """The number of a sentence; -1 for none."""
        if not words:
            return -1
        parts = tuple(self.words.setdefault(part, len(self.words)) for part in _APART.split(words) if part)
        return self.said.setdefault(parts, len(self.said))

    def trouble(self, t: Trouble) -> list[int]:
        """Its words, its row, how likely in a hundred, what looks odd, how far down, its cure, its looks."""
        cure = -1
        if t.remedy is not None:
            r = t.remedy
            parts = (self.sentence(r.what), self.sentence(r.shows), r.stitches, r.row)
            cure = self.cures.setdefault(parts, len(self.cures))
        look = self.looks.setdefault(t.seen, len(self.looks))
        return [self.sentence(t.did), t.row, t.percent, self.sentence(t.sign), t.down, cure, look]


def as_data(help_: Help) -> str:
    """The tables of one size."""
    kept = _Kept()
    data: dict[str, Any] = {
        "letter": help_.letter,
        "names": help_.names,
        "questions": [
            {
                "name": q.name, "asks": q.asks, "how": q.how, "kind": q.kind, "effort": q.effort,
                "facts": [fact for fact, _ in q.facts], "parts": [part for _, part in q.facts],
                **({"words": q.words} if q.words else {}),
                **({"stitch": q.stitch} if q.stitch else {}),
            }
            for q in help_.questions
        ],
        "several": help_.several,
        "also": [{"fact": a.fact, "asks": a.asks, "how": a.how, "words": a.words} for a in help_.also],
        "pieces": [_piece(piece, kept) for piece in help_.pieces],
        "midways": [_steps(states) for states in help_.midways],
    }  # fmt: skip
    data |= {
        "words": list(kept.words),
        "said": list(kept.said),
        "cures": list(kept.cures),
        "looks": list(kept.looks),
    }
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _piece(piece: HelpPiece, kept: _Kept) -> dict[str, Any]:
    return {
        "name": piece.name,
        "steps": piece.steps,
        "nexts": piece.nexts,
        "columns": piece.columns,
        "counts": _meant(piece.counts, kept),
        "off": _meant(piece.off, kept),
        "side": piece.worked_on,
        "midway": piece.midway,
    }


def _steps(states: tuple[tuple[int, int], ...]) -> list[int]:
    """Both needles after the first stitch, then by how much each changes, and how often: [1, 9, 1, -1, 8]."""
    if not states:
        return []
    moves = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(states)]
    runs = [(*move, len(list(same))) for move, same in groupby(moves)]
    return [*states[0], *(n for run in runs for n in run)]


def _meant(rows: dict[int, tuple[tuple[int, tuple[Trouble, ...]], ...]], kept: _Kept) -> dict[str, Any]:
    return {
        str(row): {str(value): [kept.trouble(t) for t in troubles] for value, troubles in told}
        for row, told in rows.items()
    }
