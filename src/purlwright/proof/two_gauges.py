"""Check C055, gauges beside each other: two of one cloth that do not agree.

In: the rates of the header. Out: a finding on the second of two gauges that say the same and count otherwise.
Whether one gauge by itself is possible is left to ``gauges``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity

if TYPE_CHECKING:
    from purlwright.proof.rates import Rate

__all__ = ["GaugesDisagree", "gauges_apart"]


@dataclass(frozen=True, slots=True)
class GaugesDisagree:
    """Two gauges are given for one cloth, and they differ by more than a swatch is measured wrong.

    A knitter who swatches to the one makes another size than one who swatches to the other, and neither can
    tell which of them the pattern was reckoned by.

    Example: `Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch` and, below it, `Gauge: 22 sts and 30
    rows = 4 in in stockinette stitch`.

    Cure: keep one of them; or say in what they differ: needle, flat or round, washed or not.

    Source: common practice, no source. A swatch of 10 cm is counted to half a stitch; so a stitch, or a
    twentieth, is let pass.
    """

    one: str
    other: str
    what: str
    ground: str

    code = "gauges-disagree"
    check = "C055"
    severity = Severity.WARNING

    def message(self) -> str:
        of = f" in {self.ground}" if self.ground else ""
        return f"Two gauges{of} disagree: {self.one} and {self.other} {self.what} in 10 cm."

    def label(self) -> str:
        return f"{self.other} {self.what} in 10 cm, elsewhere {self.one}"

    def help(self) -> str | None:
        return "Keep one, or say in what they differ: needle, flat or round, washed or not."


_DIFFERENCE = re.compile(
    r"\d+(?:\.\d+)?\s*mm\b|\bUS\s*\d+|\bno\.?\s*\d+|\b(?:flat|rounds?|rnds?|circular\w*|unwashed|unblocked|washed"
    r"|washing|blocked|blocking|before|after|double[d]?|single|strands?|held|larger?|smaller|stretch\w*|relaxed"
    r"|body|sleeves?|yoke|hat|edging|border|cuffs?)\b",
    re.IGNORECASE,
)
_STITCH = Fraction(1, 10)
"""A stitch or a row in 10 cm, for one cm."""
_SHARE = Fraction(1, 20)


def gauges_apart(known: Sequence[Rate], colours: frozenset[str]) -> Iterator[Finding]:
    """Pairs of gauges that name the same cloth, needle and finish and count otherwise.

    colours : the names of the yarns, in lower case; gauges of two yarns may differ.
    """
    for one, other in combinations(known, 2):
        if _about(one, colours) != _about(other, colours):
            continue
        for a, b, what in ((one.stitches, other.stitches, "sts"), (one.rows, other.rows, "rows")):
            if a and b and abs(a - b) > max(_STITCH, _SHARE * max(a, b)):
                numbers = f"{float(a * 10):.3g}", f"{float(b * 10):.3g}"
                problem = GaugesDisagree(*numbers, what, one.ground if one.ground != "pattern" else "")
                related = (Related(one.gauge.span, f"{numbers[0]} {what} in 10 cm"),)
                yield Finding(problem=problem, span=other.gauge.span, related=related)
                break


def _about(rate: Rate, colours: frozenset[str]) -> tuple[object, ...]:
    """All that tells one gauge from another but its numbers."""
    low = rate.gauge.words.lower()
    ground = (rate.gauge.ground or "").lower().strip() if rate.ground == "pattern" else rate.ground
    said = frozenset(w.lower() for w in _DIFFERENCE.findall(low))
    yarns = frozenset(c for c in colours if re.search(rf"\b{re.escape(c)}\b", low))
    return ground, rate.gauge.round, rate.gauge.washed, said, yarns
