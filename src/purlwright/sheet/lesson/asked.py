"""What is asked of a lesson, and what it is made from.

In: nothing. Out: the values that the blocks of a lesson are made with.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from purlwright.cloth.yarn import YarnTaken
    from purlwright.lesson.clues.first_trouble import FirstSign
    from purlwright.lesson.new_moves import Move
    from purlwright.lesson.practice import Practice
    from purlwright.lesson.reading import PartClues
    from purlwright.lesson.rows import Part
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.file import Pattern
    from purlwright.sheet.document import FollowAlong

__all__ = ["Asked", "Material"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """For whom a lesson is. ``pace`` is plain stitches a minute; ``minutes`` how long one lesson lasts."""

    pace: float = 15.0
    minutes: float = 60.0
    learners: int = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One size of a pattern, knitted and read. ``size_mm`` is None where no gauge tells it. ``yarn`` is what
    the size takes, and ``practice_metres`` what the practice piece does; None where that is not known.
    """

    pattern: Pattern
    knitted: Knitted
    parts: Sequence[Part]
    clues: Sequence[PartClues]
    moves: Sequence[Move]
    practice: Practice
    follow: FollowAlong
    knit: Callable[[str], Knitted]
    signs: Sequence[FirstSign]
    size_mm: tuple[float, float] | None
    yarn: YarnTaken | None = None
    practice_metres: float | None = None

    @property
    def drawn_mm(self) -> tuple[float, float]:
        """How large a stitch is drawn: as the gauge has it, or in the usual shape of a stitch."""
        return self.size_mm or (5.0, 3.6)
