"""What the answers of test knitters say, as it leaves.

In: the lines of a comparison. Out: msgspec structs; field names and order are the contract.
"""

from __future__ import annotations

from msgspec import Struct

__all__ = ["TestKnitLineOut", "TestKnitOut"]


class TestKnitLineOut(Struct, frozen=True, kw_only=True):
    """One thing that was asked and answered."""

    __test__ = False

    about: str
    """Gauge, stitches, size, yarn, time or words."""
    name: str
    knitter: str
    """As she calls herself on the form; "" for the only form."""
    expected: str
    told: str
    whose: str
    """"agrees", "her gauge", "her knitting", "the pattern", "her pace" or "open"."""
    words: str


class TestKnitOut(Struct, frozen=True, kw_only=True):
    """Answer of ``test-knit --answers --json``."""

    __test__ = False

    title: str
    size: str
    options: dict[str, str]
    forms: int
    agrees: int
    """How many answers are as expected."""
    lines: list[TestKnitLineOut]
