"""Findings of check C116: the yarn that the stitches take, beside what the words tell to have.

In: nothing; ``cloth.check`` fills the facts. Out: the problems, and the amount that a yarn's words tell to
have in each size. How much the stitches take is known in a room above.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from purlwright.findings import Severity
from purlwright.proof.balls import amounts_told
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.header import YarnEntry

__all__ = ["Told", "YarnTooLittle", "told_metres"]


@dataclass(frozen=True, slots=True)
class YarnTooLittle:
    """The stitches take more yarn than the words tell the knitter to have.

    Every stitch was counted with the length of its loop at the gauge, and even the least that this can be is
    more than she is told to buy. She runs out before the end, and the dye lot is sold.

    Example: `Yarn: wool, 5 balls of 120 m` for a jumper whose stitches take 690 to 790 m.

    Cure: weigh the sample again, or give the amount that the message names and a tenth to be safe.

    Source: loop length by D. L. Munden, J. Text. Inst. 50 (1959) T448, from dry to fully relaxed, with the
    gauge half a stitch off either way; other cloths by rules of thumb with a wider range. Yarn for seams is
    left out. Up to 15 in 100 less than the least is let pass, for samples are knitted tighter too.
    """

    told: str
    least: str
    most: str
    yarn: str

    code = "yarn-too-little"
    check = "C116"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The stitches take {self.least} to {self.most} m{self.yarn}, and the words tell to have "
            f"{self.told} m."
        )

    def label(self) -> str:
        return f"{self.least} to {self.most} m by the stitches"

    def help(self) -> str | None:
        return f"Give {self.most} m or more, or correct the gauge if it is mistyped."


class Told(NamedTuple):
    """What the words of one yarn tell to have, in metres a size; the most of what they tell."""

    span: Span
    metres: tuple[Fraction | None, ...]


def told_metres(yarn: YarnEntry, sizes: int) -> Told | None:
    """How much of a yarn its words tell to have; None if they do not say, or could mean two things.

    Where both an amount in all and balls are told, the most is what she has if she buys as told.
    """
    found = list(amounts_told(yarn.words, sizes, yarn.metres_per_100_g))
    if not found:
        return None
    first, at = found[0][0], yarn.span.start
    by_size = zip(*(metres for _, metres in found), strict=True)
    return Told(
        Span(at + first.start, at + first.end),
        tuple(max(filter(None, column), default=None) for column in by_size),
    )
