"""K24: how wide and how long the part is at its end, at the gauge."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from purlwright.lesson.clues.clue import Claim, Clue
from purlwright.lesson.clues.cost import MEASURE
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part
from purlwright.units import half_up

KIND = "K24"


def find(
    part: Part, stitches_per_10_cm: Fraction | None = None, rows_per_10_cm: Fraction | None = None
) -> Iterator[Clue]:
    """Its width after the last row, in whole centimetres; its length where every row is worked to the end."""
    if not part.rows or not stitches_per_10_cm:
        return
    last = part.rows[-1]
    if last.seen.waiting or not last.seen.count:
        return
    wide = int(half_up(Fraction(last.seen.count) * 10 / stitches_per_10_cm, Fraction(1)))
    claims = [Claim(fact=Fact("wide cm"), orders=(last.order,), values=(wide,))]
    long_ = ""
    if rows_per_10_cm and not any(r.seen.waiting for r in part.rows):
        high = int(half_up(Fraction(len(part.rows)) * 10 / rows_per_10_cm, Fraction(1)))
        claims.append(Claim(fact=Fact("long cm"), orders=(last.order,), values=(high,)))
        long_ = f", and the {part.what}s of this part about {high} cm up a column" if high else ""
    round_about = last.entry.kind.value == "round"
    how = " round about" if round_about else ""
    yield Clue(
        kind=KIND,
        words=f"After the last {part.what} the stitches, laid flat, measure about {wide} cm{how} "
        f"at the gauge{long_}.",
        claims=tuple(claims),
        rows=f"after {last.name}",
        stops=f"told of the last {part.what} alone",
        seconds=MEASURE,
    )
