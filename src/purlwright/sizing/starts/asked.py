"""What a pattern to begin from is made of, and what comes of it.

In: nothing; these are values. Out: :class:`Asked`, the sizes with their bodies, the gauge and the yarn; and
:class:`Start`, the text of a pattern with what its measures should be and are.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from purlwright.sizing.bodies import Body
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import half_up

__all__ = ["Asked", "Finish", "Knit", "Start"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Knit:
    """A gauge in numbers: stitches and rows to 10 cm."""

    stitches: Fraction
    rows: Fraction

    def __post_init__(self) -> None:
        if self.stitches <= 0 or self.rows <= 0:
            raise NoPlan("A gauge has more than 0 stitches and more than 0 rows to 10 cm.")

    @property
    def stitch_mm(self) -> Fraction:
        return Fraction(100) / self.stitches

    @property
    def row_mm(self) -> Fraction:
        return Fraction(100) / self.rows

    def sts(self, mm: Fraction, of: int = 1, plus: int = 0) -> int:
        """Stitches nearest to a width, a multiple of ``of`` and ``plus`` more; one multiple at least."""
        exact = (mm / self.stitch_mm - plus) / of
        return max(1, int(half_up(exact, Fraction(1)))) * of + plus

    def rws(self, mm: Fraction, of: int = 1, plus: int = 0) -> int:
        """Rows nearest to a length, as :meth:`sts`; none at least."""
        exact = (mm / self.row_mm - plus) / of
        return max(0, int(half_up(exact, Fraction(1)))) * of + plus


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One plan. ``bodies`` : one a size. ``ease_mm``, ``ease_share`` : on the body round; None is what is
    usual.

    lengths : further measures that were asked for, by name ("across", "length"), one a size, in mm.
    fabric : of the gauge, in words. needles_mm : for the main fabric; ``yarn`` : the words of the yarn line.
    """

    sizes: tuple[str, ...]
    bodies: tuple[Body, ...]
    knit: Knit
    title: str = ""
    ease_mm: Fraction | None = None
    ease_share: Fraction | None = None
    lengths: Mapping[str, tuple[Fraction, ...]] = field(default_factory=dict)
    fabric: str = ""
    needles_mm: Fraction = Fraction(4)
    yarn: str = "wool"
    inches: bool = False
    """Whether lengths are written in inches; else in cm."""
    pockets: bool = False
    way: int = 0
    """Which of several ways that are as good is taken, where the first gives lists that look like slips."""
    metres: tuple[int, ...] = ()
    """The yarn that each size takes, once it is known."""

    def body_mm(self, measure: str) -> tuple[Fraction, ...]:
        """A measure of every body, the middle of what is printed. Raises NoPlan where one is not known."""
        return tuple(b.size(measure).mm for b in self.bodies)

    def body_or(self, measure: str, other: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
        """A measure of every body, or what is usual for those of whom it is not known."""
        return tuple(
            b.measures[measure].mm if measure in b.measures else usual
            for b, usual in zip(self.bodies, other, strict=True)
        )

    def eased(
        self, body: tuple[Fraction, ...], share: Fraction, mm: Fraction = Fraction(0)
    ) -> tuple[Fraction, ...]:
        """Finished measures round a body: with the ease that was asked for, else with what is usual."""
        if self.ease_mm is not None:
            return tuple(b + self.ease_mm for b in body)
        if self.ease_share is not None:
            return tuple(b * (1 + self.ease_share) for b in body)
        return tuple(b * (1 + share) + mm for b in body)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """A finished measure: wanted and coming out, one a size, in mm; ``step_mm`` is one stitch of it."""

    name: str
    wanted_mm: tuple[Fraction, ...]
    mm: tuple[Fraction, ...]
    step_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """A pattern to begin from: its text, its measures, its counts by name, and what there is to say of it."""

    text: str
    finished: tuple[Finish, ...]
    counts: Mapping[str, tuple[int, ...]]
    said: tuple[str, ...]
