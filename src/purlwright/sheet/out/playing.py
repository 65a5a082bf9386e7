"""The rows of a size stitch by stitch, as data that stands in the follow-along page.

In: a :class:`FollowAlong`. Out: text in JSON, short: each sentence, each stitch and each different row stands
once. What is made of it is left to ``follow_player.js``, which tells how it is to be read.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from itertools import groupby
from typing import Any

from purlwright.sheet.document import FollowAlong, PlayedRow
from purlwright.sheet.out.player import after_said, rows_said

__all__ = ["as_played"]

_LOOKS = {"V": "V", "bump": "b", "over": "o", "": "n"}
_YARN = {"back": 0, "front": 1, "over": 2}


def as_played(follow: FollowAlong, *, left_handed: bool) -> str:
    """The rows of one size; "" where none can be shown."""
    if not follow.played:
        return ""
    words: dict[str, int] = {}
    stitches: dict[tuple[int, int, str, int], int] = {}
    rows = [_row(row, words, stitches) for row in follow.played]
    near, far = ("right", "left") if left_handed else ("left", "right")
    data = {
        "hands": {"near": near, "far": far},
        "words": list(words),
        "stitches": list(stitches),
        "rows": rows,
        "of": follow.played_of,
    }
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _row(row: PlayedRow, words: dict[str, int], stitches: dict[tuple[int, int, str, int], int]) -> list[Any]:
    def at(said: str) -> int:
        return words.setdefault(said, len(words))

    line: list[int] = []
    for b, many in rows_said(row):
        stitch = (at(b.words), b.takes, _loops(b.makes), _YARN[b.yarn])
        line += [stitches.setdefault(stitch, len(stitches)), many]
    return [_loops(row.left), row.behind, at(after_said(row)), line]


def _loops(looks: Iterable[str]) -> str:
    """Loops by a letter and how many: "12V3b"."""
    counted = [(look, len(list(same))) for look, same in groupby(looks)]
    return "".join(f"{many if many > 1 else ''}{_LOOKS[look]}" for look, many in counted)
