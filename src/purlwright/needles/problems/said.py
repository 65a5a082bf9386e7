"""What the problems of the needles share.

In: nothing. Out: the frame of a problem, and stitches counted in words.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from purlwright.findings import Severity

__all__ = ["Said", "sts"]


def sts(n: int) -> str:
    """ "1 stitch", "4 stitches"."""
    return f"{n} stitch" if n == 1 else f"{n} stitches"


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
