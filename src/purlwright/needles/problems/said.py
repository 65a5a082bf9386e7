"""What the problems of the needles share.

In: nothing. Out: the frame of a problem, and stitches counted in words.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from purlwright.findings import Severity

__all__ = ["Said", "number_are", "sts", "sts_are"]


def sts(n: int) -> str:
    """So many stitches: "1 stitch", "4 stitches"."""
    return f"{n} stitch" if n == 1 else f"{n} stitches"


def number_are(n: int) -> str:
    """A number and its verb: "1 is", "4 are"."""
    return f"{n} is" if n == 1 else f"{n} are"


def sts_are(n: int) -> str:
    """So many stitches and their verb: "1 stitch is", "4 stitches are"."""
    return f"{sts(n)} is" if n == 1 else f"{sts(n)} are"


@dataclass(frozen=True, slots=True)
class Said:
    """What most problems share."""

    code: ClassVar[str]
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.ERROR

    def message(self) -> str:
        raise NotImplementedError

    def label(self) -> str:
        return ""

    def help(self) -> str | None:
        return None
