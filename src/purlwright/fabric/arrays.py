"""The knitted fabric: which stitch was drawn through which, in flat arrays.

In: nothing; ``grow`` fills it. Out: one frozen value with an array a property, indexed by stitch, and
the links between stitches as one flat array with offsets. Questions about it are in ``query``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

__all__ = ["Fabric", "Int8", "Int16", "Int32", "Link", "Seen"]

Int8: TypeAlias = NDArray[np.int8]
Int16: TypeAlias = NDArray[np.int16]
Int32: TypeAlias = NDArray[np.int32]


class Link(IntEnum):
    """How a stitch hangs on another."""

    DRAWN = 0
    """Drawn through its loop."""
    STRAND = 1
    """Drawn through the strand that leaves it."""
    HEAD = 2
    """Drawn through its head from outside, while its own loop goes on."""
    BELOW = 3
    """Drawn through it while a later loop lies round both."""
    TUCKED = 4
    """Lies over it as a tuck, to be worked together with it."""
    CROSSED_FRONT = 5
    """Drawn through its loop after that loop was carried across in front of its neighbours."""
    CROSSED_BACK = 6
    """Drawn through its loop after that loop was carried across behind its neighbours."""
    EDGE = 7
    """Drawn through an edge stitch that was no longer live."""
    PASSED = 8
    """The first was lifted over the second and let go (bind-off, pass over)."""
    WRAPPED = 9
    """The yarn was laid round its foot at a turn."""
    GRAFTED = 10
    SEAMED = 11
    CUT = 12
    JOINED = 13
    """Both were live and one stitch was drawn through them from two needles."""


class Seen(IntEnum):
    """What the right side shows of a stitch."""

    KNIT = 0
    PURL = 1
    NONE = 2


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fabric:
    """All stitches of one knitted pattern, oldest first; ``n`` stitches, ``m`` links.

    op_of_stitch : (n,) int16, place in ``ops`` (dictionary keys).
    row_of_stitch : (n,) int32, ledger order of the row that made it.
    column_of_stitch : (n,) int32, the column it continues; a new loop opens a new column.
    seen_of_stitch : (n,) int8, a :class:`Seen`: the face on the right side.
    side_of_stitch : (n,) int8, side facing when worked: 0 right, 1 wrong, 2 not known.
    mount_of_stitch : (n,) int8, 0 as usual (leading leg in front), 1 turned (twisted stitch).
    yarn_of_stitch : (n,) int8, place in ``yarns``.
    span_of_stitch : (n,) int32, place in ``span_start`` and ``span_end``; the words that made it.
    pass_of_stitch : (n,) int32, which working of the innermost repeat made it, from 1.
    first_parent_of_stitch : (n + 1,) int32, where its parents begin in the next two arrays.
    parent, link : (m,) int32 and int8, the stitch hung on, and how (:class:`Link`).
    join_a, join_b, join_kind : links made after both stitches were there (passed over, wrapped, grafted).
    first_stitch_of_section : (sections + 1,) int32, so that a section's stitches are a slice.
    Arrays are read-only. An empty pattern gives empty arrays (and offsets ``[0]``).
    """

    ops: tuple[str, ...]
    yarns: tuple[str, ...]
    op_of_stitch: Int16
    row_of_stitch: Int32
    column_of_stitch: Int32
    seen_of_stitch: Int8
    side_of_stitch: Int8
    mount_of_stitch: Int8
    yarn_of_stitch: Int8
    span_of_stitch: Int32
    pass_of_stitch: Int32
    first_parent_of_stitch: Int32
    parent: Int32
    link: Int8
    join_a: Int32
    join_b: Int32
    join_kind: Int8
    span_start: Int32
    span_end: Int32
    first_stitch_of_section: Int32

    @property
    def n(self) -> int:
        """How many stitches there are."""
        return len(self.op_of_stitch)

    @property
    def nbytes(self) -> int:
        """Memory of all arrays, in bytes."""
        return sum(
            getattr(self, f).nbytes for f in self.__slots__ if isinstance(getattr(self, f), np.ndarray)
        )
