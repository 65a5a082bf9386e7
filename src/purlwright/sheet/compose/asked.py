"""What is asked of a sheet, and what it is made of.

In: nothing. Out: the values that ``compose`` is called with: a pattern that can be read and knitted again in
other words, and for whom the sheet is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, Protocol, TypeAlias

if TYPE_CHECKING:
    from purlwright.findings import Finding
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.file import Pattern
    from purlwright.text import Source

__all__ = ["Again", "Asked", "HasErrors", "NoSheet", "Options", "Units", "Work"]

Options: TypeAlias = tuple[tuple[str, str], ...]
Units: TypeAlias = Literal["", "metric", "imperial", "both"]


class NoSheet(ValueError):  # noqa: N818 - a reason, not a fault
    """No such sheet can be made of this pattern. The message is one sentence for the designer."""


class HasErrors(NoSheet):
    """The pattern has errors, and a sheet of it was not asked for all the same."""


class Work(Protocol):
    """A pattern that was read, and can be knitted in any size and choice of options."""

    @property
    def source(self) -> Source: ...
    @property
    def pattern(self) -> Pattern: ...
    @property
    def sizes(self) -> tuple[str, ...]: ...
    @property
    def options(self) -> tuple[tuple[str, tuple[str, ...]], ...]: ...
    def knitted(self, size: str | None = None, options: Mapping[str, str] | None = None) -> Knitted: ...
    def findings(
        self, size: str | None = None, options: Mapping[str, str] | None = None
    ) -> list[Finding]: ...


Again: TypeAlias = Callable[[str], Work]
"""Reads another text, to be knitted when it is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """For whom a sheet is, and how it speaks.

    ``size`` None is a sheet of all sizes. ``options`` has one value for each option of the pattern.
    ``terms`` and ``units`` "" leave them as she writes them. ``pictures`` are the bytes of her own pictures
    by the name they have in the pattern. ``unproved`` says that the pattern has errors and she wants the
    sheet all the same. ``follow`` is for the rows one by one, ``cloth`` for a picture of the finished piece,
    which takes a second or so; ``drawn`` false leaves out every drawing, and the yarn that is reckoned.
    """

    size: str | None = None
    options: Options = ()
    terms: Literal["", "US", "UK"] = ""
    units: Units = ""
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    left_handed: bool = False
    """Whether it is for one who works mirrored."""
    spoken: bool = False
    """Whether its words are to be heard: in full, without marks, for one size."""
    unproved: bool = False
    follow: bool = False
    cloth: bool = False
    drawn: bool = True
