"""The tables by which the follow-along page helps one who is lost, as data that stands in the page.

In: a :class:`Help`. Out: text in JSON, short: every sentence stands once in a list and is named by its number
there, and no letter in it can end the element that it stands in. What is made of it is left to the scripts.
"""

from __future__ import annotations

import json
from typing import Any

from purlwright.sheet.document import Help, HelpPiece, Trouble

__all__ = ["as_data"]


def as_data(help_: Help) -> str:
    """The tables of one size.

    A trouble is five or nine numbers: its words, its row, how likely in a hundred, the words of its sign,
    how far down; and if a cure is safe its words, what shows, the stitches and the row then done.
    """
    said: dict[str, int] = {}
    data = {
        "letter": help_.letter,
        "names": help_.names,
        "questions": [
            {
                "name": q.name, "asks": q.asks, "how": q.how, "kind": q.kind, "effort": q.effort,
                "facts": [fact for fact, _ in q.facts], "parts": [part for _, part in q.facts],
            }
            for q in help_.questions
        ],
        "several": help_.several,
        "pieces": [_piece(piece, said) for piece in help_.pieces],
        "words": [],
    }  # fmt: skip
    data["words"] = list(said)
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _piece(piece: HelpPiece, said: dict[str, int]) -> dict[str, Any]:
    return {
        "name": piece.name,
        "steps": piece.steps,
        "nexts": piece.nexts,
        "columns": piece.columns,
        "counts": _meant(piece.counts, said),
        "off": _meant(piece.off, said),
    }


def _meant(
    rows: dict[int, tuple[tuple[int, tuple[Trouble, ...]], ...]], said: dict[str, int]
) -> dict[str, Any]:
    return {
        str(row): {str(value): [_trouble(t, said) for t in troubles] for value, troubles in told}
        for row, told in rows.items()
    }


def _trouble(t: Trouble, said: dict[str, int]) -> list[int]:
    def at(words: str) -> int:
        return said.setdefault(words, len(said)) if words else -1

    out = [at(t.did), t.row, t.percent, at(t.sign), t.down]
    if t.remedy is not None:
        out += [at(t.remedy.what), at(t.remedy.shows), t.remedy.stitches, t.remedy.row]
    return out
