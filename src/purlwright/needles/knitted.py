"""One size of a pattern, knitted: everything the rooms above read.

In: nothing; ``knit`` makes it. Out: the frozen :class:`Knitted`. What it proves is left to ``proof``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from purlwright.fabric.arrays import Fabric
from purlwright.findings import Finding
from purlwright.needles.ledger import Ledger
from purlwright.needles.movelog import moves_of

if TYPE_CHECKING:
    from purlwright.fabric.moves import Moves

__all__ = ["Knitted"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Knitted:
    """One size knitted with one choice of options.

    ``places`` says at how many places each check looked. ``unproved`` is true when some words were not read
    or did not come out, so that what follows stands on printed counts. Findings' spans are places in the
    source. ``own`` says how many loops each of the pattern's own stitches takes and makes.
    """

    size: str
    options: tuple[tuple[str, str], ...]
    ledger: Ledger
    fabric: Fabric
    findings: tuple[Finding, ...]
    places: Mapping[str, int]
    unproved: bool
    own: Mapping[str, tuple[int, int]]
    _log: list[tuple[Any, ...]] = field(repr=False, compare=False)

    @property
    def log(self) -> Sequence[tuple[Any, ...]]:
        """What the worker did, in order: ``("run", ops, spans, passes, first stitch, row)``, one operation a
        place, and ``("act", op, span, taken, made, row)`` for a needle action that is no stitch. After
        them may stand ``("own", name, span, first, end, row)``: those operations of the run before it are one
        stitch of the pattern's own; ``first`` below 0 says how many entries before it are, all of them.
        Operations are numbers of :func:`~purlwright.needles.optable.op_table`, spans places in the fabric's.
        """
        return self._log

    @property
    def moves(self) -> Moves:
        """Every single needle action, laid out from the log when first asked for."""
        return moves_of(self._log)
