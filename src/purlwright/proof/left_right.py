"""Left and right charts, which should mirror each other row by row (C086).

In: the drawn rows of charts whose names differ in "left" and "right" alone. Out: a finding on the row whose
crossing or decrease leans the same way in both, where the other rows mirror each other, or where everything
else in the rows does. Pieces made by words are compared in ``pairs``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.texture import Look, Worked, label_of, looks, mirrored, names

__all__ = ["PairNotMirrored", "pair_faults"]


@dataclass(frozen=True, slots=True)
class PairNotMirrored:
    """A row of the left chart and the same row of the right one lean the same way, and all else is mirrored.

    A crossing or decrease was copied from one side to the other and not turned round. Every count is right;
    the two fronts, or two hands, do not match.

    Example: a chart for the right front and one for the left, and on row 5 of both the crossing leans right.

    Cure: turn the lean round in one of them. (Common practice; no source.)
    """

    row: str
    other: str
    leans: str
    many: int = 1

    code = "pair-not-mirrored"
    check = "C086"
    severity = Severity.WARNING

    def message(self) -> str:
        rest = f", and so it is in {self.many - 1} more rows" if self.many > 2 else ""
        rest = ", and so it is in one more row" if self.many == 2 else rest
        return (
            f'In {self.row} this leans to the {self.leans}, as it does in "{self.other}"; everything '
            f"else in the two rows is mirrored{rest}."
        )

    def label(self) -> str:
        return f"to the {self.leans} on both sides"

    def help(self) -> str | None:
        return "Turn the lean round in one of the two."


_SIDE = re.compile(r"\b(?:left|right)\b", re.IGNORECASE)


def pair_faults(blocks: Sequence[Sequence[Worked]]) -> list[Finding]:
    """Rows of a left and a right block that should mirror each other."""
    named: dict[str, dict[str, Sequence[Worked]]] = {}
    for rows in blocks:
        name = rows[0].entry.section if rows and rows[0].drawn else ""
        sides = _SIDE.findall(name)
        if len(sides) == 1:
            named.setdefault(_SIDE.sub("", name).lower(), {})[sides[0].lower()] = rows
    out = []
    for pair in named.values():
        if len(pair) == 2:
            out += _compare(pair["right"], pair["left"])
    return out


def _compare(one: Sequence[Worked], two: Sequence[Worked]) -> list[Finding]:
    by_number = {r.entry.number: r for r in one if r.entry.number is not None}
    good, bad = 0, []
    for row in two:
        other = by_number.get(row.entry.number or 0)
        if other is None or other.back != row.back:
            continue
        a, b = [op.look for op in looks(other.key)], [op.look for op in looks(row.key)]
        turned = [mirrored(x) for x in reversed(a)]
        if not any(x.lean for x in b) or a == a[::-1]:
            continue
        if b == turned:
            good += 1
        elif (place := _lean_kept(b, turned)) is not None:
            bad.append((row, other, place))
    telling = good >= 3 * len(bad) or (good == 0 and len(bad) >= 2)
    if not bad or not telling:
        return []
    row, other, place = bad[0]
    lean = looks(row.key)[place].look.lean
    problem = PairNotMirrored(row.name, other.entry.section, lean, len(bad))
    related = (Related(label_of(other), names([other])),)
    return [Finding(problem=problem, span=row.words(place), related=related)]


def _lean_kept(row: Sequence[Look], wanted: Sequence[Look]) -> int | None:
    """The first operation that differs from what is wanted in its lean alone; None if others differ too.

    A row that would be the same with all leans left out, and is the same from both sides, tells nothing.
    """
    if len(row) != len(wanted):
        return None
    found = None
    for n, (x, y) in enumerate(zip(row, wanted, strict=True)):
        if x == y:
            continue
        if not (x.lean and y.lean and x.lean != y.lean) or (x.takes, x.makes) != (y.takes, y.makes):
            return None
        found = n if found is None else found
    plain = [(x.takes, x.makes, x.crosses) for x in row]
    return found if plain != plain[::-1] else None
