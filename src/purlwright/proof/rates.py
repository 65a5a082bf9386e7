"""What the knitting measures by the gauges: which gauge holds where, and centimetres from stitches and rows.

In: a subject, and entries of one knitting. Out: exact centimetres. What was stated is told by ``measures``;
whether the two agree is left to the checks. Widths are at rest, of the cloth as the gauge was taken.

How checks use it::

    run = ground_of(way.knitted, entries)     # "stockinette", "garter", "rib", "pattern"; "" if too little
    rate = rate_for(subject, run, in_round=entry.kind is Kind.ROUND)    # None: no gauge for this ground
    cm = rate.width_cm(entry.end); rows = rate.length_cm(worked_rows(entries))

``rate.sure`` is true when the gauge was given for that very ground, or is the only one and names no ground:
only then may a check say that a measure is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np

from purlwright.fabric.arrays import Link, Seen
from purlwright.fabric.query import row_slice
from purlwright.needles.ledger import ROWS, Entry
from purlwright.proof.measures import CM
from purlwright.stitches.load import grounds

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.pattern.header import Gauge, Header
    from purlwright.proof.subject import KnittedLike, Subject

__all__ = ["Ground", "Rate", "ground_named", "ground_of", "rate_for", "rates", "row_kind", "worked_rows"]

Ground: TypeAlias = Literal["stockinette", "garter", "rib", "pattern", ""]
"""The kinds of cloth that a gauge is told apart by; "pattern" is any other, "" is not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """Stitches and rows in a centimetre, exact, and the gauge that says so. Either may be lacking."""

    gauge: Gauge
    ground: Ground
    stitches: Fraction | None
    rows: Fraction | None
    sure: bool = True

    def width_cm(self, stitches: int) -> Fraction | None:
        """How wide so many stitches are; None if the gauge counts no stitches."""
        return Fraction(stitches) / self.stitches if self.stitches else None

    def length_cm(self, rows: int) -> Fraction | None:
        """How long so many rows are; None if the gauge counts no rows."""
        return Fraction(rows) / self.rows if self.rows else None


_WORKED = re.compile(
    r"strand|fair[ -]?isle|colou?r|cable|lace|mosaic|slip|brioche|texture|twist|double|chart|pattern|patt\b"
    r"|basket|moss|seed|eyelet|entrelac|linen|welt",
    re.IGNORECASE,
)


def ground_named(words: str) -> Ground:
    """The kind of cloth that the words of a gauge or a section name: "stocking stitch" is stockinette."""
    if not words.strip():
        return ""
    low = words.lower()
    if re.search(r"\brib", low) and "brioche" not in low:
        return "rib"
    if _WORKED.search(low) and not re.search(r"stock\w*[ -]*(?:st\b|stitch)?\s*patt", low):
        return "pattern"
    if re.search(r"\bgarter\b", low):
        return "garter"
    if re.search(r"\bstockin|\bstocking[ -]?st|\bst\.?[ -]st\b|\bplain knit|\bss\b", low):
        return "stockinette"
    found = grounds().find(words)
    if found is not None and found.key in {"garter", "stockinette", "reverse stockinette"}:
        return "garter" if found.key == "garter" else "stockinette"
    return "pattern"


def rates(subject: Subject) -> tuple[Rate, ...]:
    """The rate of every gauge in the header, in the order of the words; ask through ``subject.kept``."""
    return subject.of_header(rates_in)


def rates_in(header: Header, _sizes: int) -> tuple[Rate, ...]:
    """The rate of every gauge in a header."""
    out: list[Rate] = []
    for gauge in header.gauges:
        over, rows_over = _cm(gauge.over), _cm(gauge.rows_over or gauge.over)
        out.append(
            Rate(
                gauge=gauge,
                ground=ground_named(gauge.ground or _after_of(gauge.words)),
                stitches=gauge.stitches / over if gauge.stitches and over else None,
                rows=gauge.rows / rows_over if gauge.rows and rows_over else None,
            )
        )
    return tuple(out)


def _cm(length: object) -> Fraction | None:
    values = getattr(length, "values", ())
    if not values or values[0] is None:
        return None
    cm: Fraction = values[0] * CM.get(getattr(length, "unit", "cm"), Fraction(1))
    return cm if cm > 0 else None


_OVER_WHAT = re.compile(
    r"\b(?:garter|stockinette|stocking|st\.? ?st|rib\w*|brioche|lace|cable|moss|seed|pattern|patt)\b.*",
    re.IGNORECASE,
)


def _after_of(words: str) -> str:
    """The ground in a gauge that does not say "in": "20 sts and 28 rows to 10 cm, st st, 4 mm needles"."""
    found = _OVER_WHAT.search(words)
    return re.split(r"[,;.(]", found[0])[0] if found is not None else ""


def rate_for(subject: Subject, ground: Ground, *, in_round: bool | None = None) -> Rate | None:
    """The gauge for a kind of cloth: the one that names it, else the only one if it names none (or, not sure,
    if it names another kind). Of two that name it, the one taken as the work goes, flat or round.
    """
    known = subject.kept(rates)
    same = [r for r in known if r.ground == ground and ground]
    if len(same) > 1 and in_round is not None:
        same = [r for r in same if r.gauge.round is in_round] or same
    if same:
        sure = len(same) == 1 or len({(r.stitches, r.rows) for r in same}) == 1
        return same[0] if sure else _unsure(same[0])
    if len(known) == 1:
        return known[0] if not known[0].ground else _unsure(known[0])
    return None


def _unsure(rate: Rate) -> Rate:
    return Rate(gauge=rate.gauge, ground=rate.ground, stitches=rate.stitches, rows=rate.rows, sure=False)


# --- what cloth it is ---------------------------------------------------------------------------


def worked_rows(entries: Iterable[Entry]) -> int:
    """How many rows and rounds stand one above another; rows over which a turn stands open are left out."""
    return sum(1 for e in entries if e.kind in ROWS and not e.gaps)


def ground_of(knitted: KnittedLike, entries: Sequence[Entry]) -> Ground:
    """What kind of cloth some rows make, told from the stitches themselves; "" for fewer than two rows."""
    fabric = knitted.fabric
    rows = [e for e in entries if e.kind in ROWS and e.end]
    if len(rows) < 2:
        return ""
    kinds = [row_kind(fabric, e) for e in rows]
    n = len(kinds)
    if kinds.count("other") * 8 > n:
        return "pattern"
    knit, purl = kinds.count("knit"), kinds.count("purl")
    if max(knit, purl) * 10 >= n * 9:
        return "stockinette"
    if (knit + purl) * 10 >= n * 9:
        turns = sum(a != b for a, b in pairwise(kinds))
        return "garter" if turns * 10 >= (n - 1) * 8 else "pattern"
    return "rib" if kinds.count("mixed") * 10 >= n * 9 and _columns_stand(fabric, rows) else "pattern"


def row_kind(fabric: Fabric, entry: Entry) -> Literal["knit", "purl", "mixed", "other"]:
    """How the right side shows one row. Edge stitches (one in ten at most) do not count."""
    part = row_slice(fabric, entry.order)
    made = part.stop - part.start
    if made == 0 or len(entry.yarns) > 1 or made * 4 < entry.worked * 3:
        return "other"  # two colours in a row, or slipped stitches
    first = fabric.first_parent_of_stitch[part.start : part.stop + 1]
    links = fabric.link[first[0] : first[-1]]
    if ((links >= Link.BELOW) & (links <= Link.CROSSED_BACK)).any():
        return "other"
    held = np.diff(first)
    if entry.made * 12 > made and (held == 0).any() and (held > 1).any():
        return "other"  # lace: yarn overs paid for with decreases
    seen = np.bincount(fabric.seen_of_stitch[part], minlength=3)
    if seen[Seen.KNIT] * 10 >= made * 9:
        return "knit"
    return "purl" if seen[Seen.PURL] * 10 >= made * 9 else "mixed"


def _columns_stand(fabric: Fabric, rows: Sequence[Entry]) -> bool:
    """Whether knits stand over knits and purls over purls, as in ribs."""
    below = None
    for e in rows:
        part = row_slice(fabric, e.order)
        seen = fabric.seen_of_stitch[part]
        if part.stop > part.start and fabric.side_of_stitch[part.start] == 1:
            seen = seen[::-1]
        if below is not None and (len(seen) != len(below) or (seen != below).sum() * 10 > len(seen)):
            return False
        below = seen
    return True
