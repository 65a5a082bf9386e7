"""What was written of a pattern, as it leaves.

In: nothing; the room that writes makes them. Out: msgspec structs; field names and order are the contract.
"""

from __future__ import annotations

from msgspec import Struct

__all__ = ["SheetFileOut", "SheetsOut"]


class SheetFileOut(Struct, frozen=True, kw_only=True):
    """One file of a sheet."""

    kind: str
    """Which form it is: the word that ``--as`` takes."""
    file: str
    what: str
    bytes: int


class SheetsOut(Struct, frozen=True, kw_only=True):
    """Answer of ``sheet --json``, and of ``proof --report --as KINDS --json``."""

    title: str
    size: str | None
    """The size of a one-size sheet; null for a sheet of all sizes."""
    options: dict[str, str]
    files: list[SheetFileOut]
    errors: int
    """How many errors the pattern has; of a sheet, above 0 only with ``--unproved``."""
    said: list[str]
    """What there is to know of the files: letters that the print lacks, words left as they were."""
