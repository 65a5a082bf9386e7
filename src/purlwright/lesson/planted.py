"""Exercises in finding a mistake: the practice piece with one slip planted in it, knitted as it then is.

In: the practice piece and a way to knit other words. Out: each :class:`Planted`, with the counts row by row
and the answer. The slips are those that a learner makes at that very move: it is left out, worked as its
mirror image, or worked as plain knitting. (Which: common practice, no source.)
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.needles.ledger import ROWS
from purlwright.proof.said import count
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.lesson.practice import Practice
    from purlwright.needles.knitted import Knitted

__all__ = ["Planted", "planted"]

_ROW = re.compile(
    r"^(?P<label>Row \d+)(?: \(\w+\))?: (?P<edge>[KP])3, (?P<move>.+), (?:knit|purl) to end\."
    r"(?: \(\d+ sts\))?$"
)
_SHORT_ROW = re.compile(
    r"^(?P<label>Row \d+)(?: \(\w+\))?: Knit to last 4 sts, (?P<move>turn|w&t)\.(?: \(\d+ sts\))?$"
)
_TOTAL = re.compile(r" \(\d+ sts\)")
_OTHER_WAY = {
    "ssk": "k2tog", "k2tog": "ssk", "m1l": "m1r", "m1r": "m1l", "sssk": "k3tog", "k3tog": "sssk",
}  # fmt: skip
_LEANS = {
    "k2tog": "leans to the right", "ssk": "leans to the left", "k3tog": "leans to the right",
    "sssk": "leans to the left",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Planted:
    """One exercise: the rows it was really knitted by, with their counts; the row with the slip, and what
    it was.
    """

    knitted: Knitted
    rows: tuple[tuple[str, int], ...]
    right: tuple[tuple[str, int], ...]
    row: str
    answer: str


def planted(practice: Practice, knit: Callable[[str], Knitted], most: int = 3) -> tuple[Planted, ...]:
    """Up to so many exercises, the first one that the count shows, if there is one; then no two of the same
    row, nor of the same sort of slip, while there are others.
    """
    right = counts_of(knit(practice.text))
    lines = practice.text.split("\n")
    found_all: list[tuple[str, Planted]] = []
    for n, line in enumerate(lines):
        found = _ROW.match(line) or _SHORT_ROW.match(line)
        if found is None:
            continue
        short = found.re is _SHORT_ROW
        for sort, words, answer in _slips(
            found["move"], short=short, purled=not short and found["edge"] == "P"
        ):
            changed = [*lines[:n], f"{found['label']}: {words}", *lines[n + 1 :]]
            knitted = knit("\n".join(_TOTAL.sub("", x) for x in changed))
            rows = counts_of(knitted)
            if len(rows) == len(right):
                answer_said = f"{found['label']}: {answer}{_counted(rows, right, found['label'])}"
                one = Planted(knitted=knitted, rows=rows, right=right, row=found["label"], answer=answer_said)
                found_all.append((sort, one))
    out: list[tuple[str, Planted]] = []
    while found_all and len(out) < most:
        best = min(found_all, key=lambda x: _stale(x, out))
        found_all.remove(best)
        out.append(best)
    return tuple(one for _, one in out)


def _stale(one: tuple[str, Planted], out: Sequence[tuple[str, Planted]]) -> tuple[bool, bool, bool]:
    """Whether it is less wanted: it shows in no count and none does yet; its row, its sort, are there."""
    sort, mine = one
    none_counts = not any(p.rows != p.right for _, p in out)
    return (
        none_counts and mine.rows == mine.right,
        any(p.row == mine.row for _, p in out),
        any(s == sort for s, _ in out),
    )


def counts_of(knitted: Knitted) -> tuple[tuple[str, int], ...]:
    """What is on the needle after each row."""
    return tuple((e.label, e.end) for e in knitted.ledger.entries if e.kind in ROWS)


def _slips(move: str, *, short: bool = False, purled: bool = False) -> list[tuple[str, str, str]]:
    """For a move: which sort of slip, the row as it is then worked, and what is to be said."""
    if short:
        return [
            ("too soon", f"Knit to last 6 sts, {move}.", "the row turned two stitches too soon."),
            ("too late", f"Knit to last 2 sts, {move}.", "the row turned two stitches too late."),
        ]
    out = []
    other = None if purled else _OTHER_WAY.get(move.casefold())
    if other is not None:
        there = dictionary().find(other)
        shown = there.us if there is not None and there.us else other
        lean = f", which {_LEANS[other]}" if other in _LEANS else ""
        out.append(
            ("other way", f"K3, {shown}, knit to end.", f"{shown} was worked instead of {move}{lean}.")
        )
    if move.casefold().endswith((" rc", " lc")):
        flipped = move[:-2] + {"rc": "LC", "lc": "RC", "RC": "LC", "LC": "RC"}[move[-2:]]
        out.append(
            (
                "crossed",
                f"K3, {flipped}, knit to end.",
                f"the crossing goes the other way ({flipped}, not {move}).",
            )
        )
    else:
        plain, done = ("Purl.", "purled") if purled else ("Knit.", "knitted")
        out.append(("left out", plain, f"{move} was left out, and the row was {done} plain."))
    return out


def _counted(rows: Sequence[tuple[str, int]], right: Sequence[tuple[str, int]], label: str) -> str:
    """How the count tells of it, or that it does not."""
    for (name, n), (_, m) in zip(rows, right, strict=True):
        if n != m:
            more = count(abs(n - m), "stitch", "stitches") + (" too many" if n > m else " too few")
            since = name.lower() if name != label else "that row"
            return f" From {since} on there {'are' if abs(n - m) > 1 else 'is'} {more}."
    return " The count does not show it; only the look of the knitting does."
