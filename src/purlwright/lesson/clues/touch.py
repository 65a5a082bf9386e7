"""K29: which clues can be tested by touch alone: a ridge, a hole, a step, an edge chain, a marker, a gap.

Knitters who do not see their work keep count by what can be felt (pins, beads, ridges); common practice, no
source. Counting loops on a needle can be done by touch as well; telling a right side from a wrong one in
smooth fabric, or a lean, cannot be relied on.
"""

from __future__ import annotations

__all__ = ["BY_TOUCH"]

BY_TOUCH = frozenset("K01 K02 K03 K04 K05 K06 K07 K09 K11 K15 K16 K17 K18 K19 K20 K23 K26 K31".split(" "))
