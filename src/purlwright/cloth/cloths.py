"""The table of cloths: how wide and how high their stitches are beside plain stockinette.

In: nothing; ``data/cloths.csv`` is read when first asked for. Out: a frozen :class:`ClothFactor` a kind, each
figure with its least and its most, and the kind that the words of a gauge name. Which gauge is taken is left
to ``gauge``.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from purlwright.cloth.kinds import ClothKind

__all__ = ["ClothFactor", "Figure", "cloth_factor", "cloth_named"]


HALF = 0.5
"""The share of sunk columns in a rib of as many knit as purl stitches, which the table is of."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of the trade with its least and its most."""

    usual: float
    least: float
    most: float

    @property
    def tolerance(self) -> float:
        """How far it may be off, as a share of itself."""
        return (self.most - self.least) / (2 * self.usual)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothFactor:
    """One kind of cloth. ``width`` is times a stockinette stitch; ``rows`` stand in the width of one.

    ``gives`` : how many times as far as stockinette it stretches along its rows.
    """

    kind: ClothKind
    name: str
    width: Figure
    rows: Figure
    gives: float
    status: str

    @property
    def rows_per_stitch(self) -> float:
        """Rows in the width of one of its own stitches, as a gauge shows them."""
        return self.rows.usual * self.width.usual

    def with_sunk(self, share: float) -> ClothFactor:
        """The same rib where so many of its columns sink, 0 to a half: the fewer, the less it draws in.

        Source: data/cloths.csv, "Rib by its kind".
        """
        part = min(max(share, 0.0), HALF) / HALF
        usual, least, most = (
            1 - (1 - f) * part for f in (self.width.usual, self.width.least, self.width.most)
        )
        return replace(self, width=Figure(usual, least, most))


@cache
def _factors() -> Mapping[ClothKind, ClothFactor]:
    text = files("purlwright.cloth").joinpath("data", "cloths.csv").read_text(encoding="utf-8")
    found = {}
    for row in csv.DictReader(line for line in text.splitlines() if not line.startswith("#")):
        kind = ClothKind[row["kind"].upper()]
        width, rows = (
            Figure(float(row[f]), float(row[f"{f}_min"]), float(row[f"{f}_max"])) for f in ("width", "rows")
        )
        found[kind] = ClothFactor(
            kind=kind,
            name=row["name"],
            width=width,
            rows=rows,
            gives=float(row["gives"]),
            status=row["status"],
        )
    return MappingProxyType(found)


def cloth_factor(kind: ClothKind) -> ClothFactor:
    """What the trade says of a kind of cloth."""
    return _factors()[kind]


_NAMES = (
    (r"brioche|fisher\w*'?s? rib|english rib|shaker", ClothKind.BRIOCHE),
    (r"strand|fair[ -]?isle|colou?r[ -]?(?:work|pattern|chart)|two colou?rs|jacquard", ClothKind.STRANDED),
    (r"\bslip|\bmosaic|\blinen|\btuck", ClothKind.SLIPPED),
    (r"\blace|\beyelet|openwork|\bmesh", ClothKind.LACE),
    (r"\bcable|\baran (?:pat|st)|\bbraid|\btwist", ClothKind.CABLE),
    (r"\brib", ClothKind.RIB),
    (r"\bgarter\b", ClothKind.GARTER),
    (r"\bmoss|\bseed|\brice\b", ClothKind.SEED),
    (r"\bstockin|\bstocking|\bst\.?[ -]st\b|\bjersey\b|\bplain knit|\bss\b", ClothKind.STOCKINETTE),
    (r"\bbasket|\bwelt|\btextur|\bdamask", ClothKind.TEXTURE),
)  # fmt: skip
_READ = tuple((re.compile(words, re.IGNORECASE), kind) for words, kind in _NAMES)


def cloth_named(words: str) -> ClothKind | None:
    """The kind of cloth that words name: "St st", "cable pattern"; None for none, or for a name of her own.

    Where two stand together the later working counts: "stranded stockinette" is stranded.
    """
    return next((kind for read, kind in _READ if read.search(words)), None)
