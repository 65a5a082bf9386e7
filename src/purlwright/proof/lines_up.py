"""Columns that stand over one another, and the row in which they step aside.

In: the rows of one section. Out: findings on one row whose ribs, panel or cables stand a stitch or two beside
those of all the rows round it, and on rows of a gusset that do so by turns. Every count is right in all of
these. ``period`` asks for them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Kind
from purlwright.proof.texture import Worked, label_of, looks, names, special, tile_of

__all__ = ["ColumnsStepAside", "aside_faults"]


@dataclass(frozen=True, slots=True)
class ColumnsStepAside:
    """The columns of one row do not stand over those of the rows round it.

    The same ribs, cables or panel in the same order, but two numbers of the row are out against each other:
    what stands before the panel has too many stitches and what stands after it too few. The row comes out,
    and every line of the fabric has a kink there.

    Example: `Rnd 4: K4, p2, k2, p2, k8.` among rounds that say `K3, p2, k2, p2, k9.`

    Cure: give the row the numbers of the others, or say that it steps aside on purpose. (Common practice; no
    source.)
    """

    row: str
    like: str
    found: int
    wanted: int
    face: str
    more: int = 0

    code = "columns-step-aside"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        also = "" if not self.more else f" So do{'es one' if self.more == 1 else f' {self.more}'} more."
        return (
            f"{self.row} has {self.found} {self.face} stitch{'' if self.found == 1 else 'es'} here, where "
            f"{self.like} have {self.wanted}: its columns do not stand over theirs, though the count is "
            f"right.{also}"
        )

    def label(self) -> str:
        return f"{self.found} here, {self.wanted} in the others"

    def help(self) -> str | None:
        return f"Work {self.wanted} here, and look which number of the row makes up for it."


class _Run(NamedTuple):
    """Neighbours with one face, as the right side shows them: face, how many, and the first operation."""

    face: str
    many: int
    place: int


@lru_cache(maxsize=2048)
def _runs(key: bytes, back: bool) -> tuple[_Run, ...]:
    """A row in runs of one face, from the right edge of the right side; a yarn over belongs to its
    neighbours.

    Empty for a row in which the columns themselves move: a crossing of knit over purl.
    """
    shown: list[tuple[str, int]] = []
    hanging = 0  # yarn overs that wait for the face after them
    for op in looks(key):
        look = op.look
        if look.faces == "act":
            continue
        if (look.crosses and {"k", "p"} <= set(look.faces)) or (look.faces == "s" and look.takes != 1):
            return ()
        if look.faces == "n":
            hanging += look.makes
            continue
        face = look.faces[:1] or "k"
        face = {"k": "p", "p": "k"}.get(face, face) if back else face
        if hanging and shown and shown[-1][0] != face:
            return ()  # no telling on which side of the line it stands
        shown += [(face, op.place)] * (look.makes + hanging)
        hanging = 0
    if hanging:
        shown += shown[-1:] * hanging
    runs = [_Run(face, len(these := list(run)), these[0][1]) for face, run in groupby(shown, lambda s: s[0])]
    return tuple(reversed(runs)) if back else tuple(runs)


def aside_faults(rows: Sequence[Worked]) -> list[Finding]:
    """The row that steps aside; at most one fault in a section."""
    groups: dict[tuple[object, ...], list[tuple[Worked, tuple[_Run, ...]]]] = {}
    for row in rows:
        runs = _runs(row.key, row.back)
        if len(runs) >= 3 and tile_of(row) is None:
            groups.setdefault(tuple(r.face for r in runs), []).append((row, runs))
    for group in groups.values():
        if len(group) >= 3:
            found = _one_aside(group) or _by_turns(group)
            if found:
                return [found]
    return []


def _one_aside(group: Sequence[tuple[Worked, tuple[_Run, ...]]]) -> Finding | None:
    """One row with the stitches of the others otherwise divided; they are alike, three or more, or two that
    are the same from both sides.
    """
    of_count: dict[int, list[tuple[Worked, tuple[_Run, ...]]]] = {}
    for row, runs in group:
        of_count.setdefault(sum(r.many for r in runs), []).append((row, runs))
    group = max(of_count.values(), key=len)
    many = Counter(tuple(r.many for r in runs) for _, runs in group)
    if len(many) != 2:
        return None
    (rule, times), (odd, once) = many.most_common()
    if once != 1 or times < (2 if rule == rule[::-1] != odd[::-1] else 3):
        return None
    if sum(abs(a - b) for a, b in zip(rule, odd, strict=True)) > 4:
        return None
    row, runs = next((row, runs) for row, runs in group if tuple(r.many for r in runs) == odd)
    differ = [i for i, (a, b) in enumerate(zip(rule, odd, strict=True)) if a != b]
    if len({runs[i].face for i in differ}) > 1:
        return None  # a column that grows wider is a figure, and an edge is told by the mirror
    n = differ[0]
    like = [r for r, _ in group if r is not row]
    return _finding(row, runs[n], rule[n], like)


def _by_turns(group: Sequence[tuple[Worked, tuple[_Run, ...]]]) -> Finding | None:
    """Rounds of a gusset that stand between the same two numbers, and plain rounds that have them
    exchanged.
    """
    if any(row.entry.kind is not Kind.ROUND for row, _ in group):
        return None
    shaped = [(row, runs) for row, runs in group if _shaping(row.key)]
    ends = {(runs[0].many, runs[-1].many) for _, runs in shaped}
    if len(shaped) < 3 or len(ends) != 1 or any(row.entry.made == row.entry.lost for row, _ in shaped):
        return None
    (rule,) = ends
    odd = [
        (row, runs) for row, runs in group
        if not _shaping(row.key) and (runs[0].many, runs[-1].many) == rule[::-1] != rule
    ]  # fmt: skip
    if not odd:
        return None
    row, runs = odd[0]
    return _finding(row, runs[0], rule[0], [r for r, _ in shaped], len(odd) - 1)


@lru_cache(maxsize=2048)
def _shaping(key: bytes) -> bool:
    return any(special(op.look) and not op.look.crosses for op in looks(key) if op.look.faces != "act")


def _finding(row: Worked, run: _Run, wanted: int, like: Sequence[Worked], more: int = 0) -> Finding:
    face = {"k": "knit", "p": "purl"}.get(run.face, "slipped")
    if row.back:
        face = {"knit": "purl", "purl": "knit"}.get(face, face)
    problem = ColumnsStepAside(row.name, names(like), run.many, wanted, face, more)
    related = tuple(Related(label_of(r), "keeps the line") for r in like[:2])
    return Finding(problem=problem, span=row.words(run.place), related=related)
