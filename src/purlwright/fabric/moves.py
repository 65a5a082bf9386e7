"""Every single action of the needles, in working order.

In: the runs that ``grow`` was given. Out: one frozen value with an array a property, indexed by move:
slips, yarn and marker moves, drops and turns are here although they leave no stitch.
"""

from __future__ import annotations

from dataclasses import dataclass

from purlwright.fabric.arrays import Int8, Int16, Int32

__all__ = ["Moves"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Moves:
    """``k`` single actions.

    op_of_move : (k,) int16, place in ``ops``: dictionary keys, and "turn", "place marker", "slip marker",
    "remove marker", "yarn front", "yarn back", "hold", "return", "drop", "slip back", "pass over".
    taken_of_move, made_of_move : (k,) int16, loops off the left needle, loops onto the right one.
    stitch_of_move : (k,) int32, the first stitch it made, or -1.
    row_of_move : (k,) int32, ledger order.
    front_of_move : (k,) int8, 1 when the yarn is at the front of the side being worked.
    span_of_move, pass_of_move : (k,) int32, as in :class:`~purlwright.fabric.arrays.Fabric`.
    """

    ops: tuple[str, ...]
    op_of_move: Int16
    taken_of_move: Int16
    made_of_move: Int16
    stitch_of_move: Int32
    row_of_move: Int32
    front_of_move: Int8
    span_of_move: Int32
    pass_of_move: Int32
