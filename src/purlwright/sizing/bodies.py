"""Bodies: the tables that the trade prints, each measure with its status, and a table of one's own.

In: the name of a group, or a CSV of one's own. Out: frozen :class:`Body` values, measures in mm. Which
measure a piece needs is left to it.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from importlib.resources import files
from itertools import pairwise

from purlwright.sizing.unknowns import NoPlan

__all__ = ["GROUPS", "Body", "Size", "bodies", "heads_hands_feet", "own_bodies", "rule"]

GROUPS = ("baby", "child", "youth", "woman", "man")
"""The groups of the standard's table of bodies."""
PARTS = ("head", "hand", "foot")
STANDARD = "Craft Yarn Council, Standard Body Measurements (2015, 2018)"
OWN = "your table"


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One measure: its least and its most in mm, as printed, how sure it is and where it is from."""

    least_mm: Fraction
    most_mm: Fraction
    status: str
    source: str

    @property
    def mm(self) -> Fraction:
        """The middle."""
        return (self.least_mm + self.most_mm) / 2

    @property
    def from_memory(self) -> bool:
        """Whether it must not be printed without saying so."""
        return "memory" in self.status


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Someone to knit for: ``group`` "woman", ``name`` "M", and measures by name."""

    group: str
    name: str
    measures: Mapping[str, Size] = field(default_factory=dict)

    def size(self, measure: str) -> Size:
        """One measure. Raises NoPlan if the table does not have it."""
        found = self.measures.get(measure)
        if found is None:
            known = ", ".join(self.measures)
            raise NoPlan(
                f"For {self.name} no {measure} is known, only {known}; give it in a table of your own."
            )
        return found


def _rows(name: str) -> Iterator[dict[str, str]]:
    text = files("purlwright.sizing").joinpath("data", name).read_text(encoding="utf-8")
    yield from csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))


def _size(row: Mapping[str, str], source: str) -> Size:
    return Size(
        least_mm=Fraction(row["cm_least"]) * 10,
        most_mm=Fraction(row["cm_most"]) * 10,
        status=row["status"],
        source=row.get("source") or source,
    )


@cache
def bodies(group: str) -> tuple[Body, ...]:
    """The bodies of a group of the standard, from small to large. Raises NoPlan for another word."""
    if group not in GROUPS:
        raise NoPlan(f'There is no table for "{group}"; there are {", ".join(GROUPS)}.')
    found: dict[str, dict[str, Size]] = {}
    for row in _rows("bodies.csv"):
        if row["group"] == group:
            found.setdefault(row["size"], {})[row["measure"]] = _size(row, STANDARD)
    return tuple(Body(group=group, name=name, measures=all_of) for name, all_of in found.items())


@cache
def heads_hands_feet(part: str) -> tuple[Body, ...]:
    """Heads, hands or feet, from small to large within each group; sure rows take the place of remembered
    ones.
    """
    if part not in PARTS:
        raise NoPlan(f'There is no table of "{part}"; there are {", ".join(PARTS)}.')
    found: dict[tuple[str, str], dict[str, Size]] = {}
    for row in _rows("heads_hands_feet.csv"):
        if row["part"] == part:
            measures = found.setdefault((row["group"], row["size"]), {})
            new = _size(row, "")
            old = measures.get(row["measure"])
            if old is None or old.from_memory or not new.from_memory:
                measures[row["measure"]] = new
    return tuple(
        Body(group=group, name=f"{group} {size}".strip(), measures=all_of)
        for (group, size), all_of in found.items()
    )


_UNIT = re.compile(r"(?P<name>.*?)\s*(?:\((?P<unit>cm|in|mm)\)|,?\s(?P<bare>cm|in|mm))?\s*$", re.IGNORECASE)
_MM = {"cm": Fraction(10), "in": Fraction(254, 10), "mm": Fraction(1)}


def own_bodies(text: str, name: str = OWN) -> tuple[Body, ...]:
    """A table of one's own: "size, chest, upper arm (in)", then a line a size; in cm unless a heading says
    otherwise.

    Raises NoPlan with the line at fault.
    """
    lines = [line for line in text.lstrip("\ufeff").splitlines() if line.strip() and not line.startswith("#")]
    table = list(csv.reader(lines))
    if len(table) < 2 or len(table[0]) < 2:
        raise NoPlan(
            f'{name} needs a line of headings, like "size, chest, upper arm", '
            "and a line for each size under it."
        )
    heads = []
    for cell in table[0][1:]:
        m = _UNIT.fullmatch(cell.strip())
        assert m is not None  # noqa: S101 - it matches anything
        unit = (m["unit"] or m["bare"] or "cm").lower()
        heads.append((m["name"].strip().lower(), _MM[unit]))
    out = []
    for n, row in enumerate(table[1:], 2):
        if len(row) != len(table[0]):
            raise NoPlan(f"{name}, line {n}: {len(row)} entries stand under {len(table[0])} headings.")
        measures = {}
        for (measure, mm), cell in zip(heads, row[1:], strict=True):
            if not cell.strip():
                continue
            number = re.fullmatch(r"\s*(\d{1,4}(?:\.\d{1,3})?)(?:\s*-\s*(\d{1,4}(?:\.\d{1,3})?))?\s*", cell)
            if number is None or Fraction(number[1]) <= 0:
                raise NoPlan(f'{name}, line {n}: "{cell.strip()}" is no length above 0.')
            least = Fraction(number[1]) * mm
            most = Fraction(number[2]) * mm if number[2] else least
            measures[measure] = Size(least_mm=least, most_mm=max(least, most), status="yours", source=name)
        out.append(Body(group="", name=row[0].strip() or f"size {n - 1}", measures=measures))
    return tuple(out)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A habit of the trade: what is usual, the range, and where it is from."""

    usual: Fraction
    least: Fraction
    most: Fraction
    unit: str
    source: str

    @property
    def share(self) -> Fraction:
        """A percentage as a share."""
        return self.usual / 100

    @property
    def mm(self) -> Fraction:
        """Centimetres in mm."""
        return self.usual * 10


@cache
def _rules() -> Mapping[str, Rule]:
    return {
        row["name"]: Rule(
            usual=Fraction(row["usual"]), least=Fraction(row["least"]), most=Fraction(row["most"]),
            unit=row["unit"], source=row["source"],
        )
        for row in _rows("rules.csv")
    }  # fmt: skip


def rule(name: str) -> Rule:
    """A habit by its name. Raises KeyError for one that is not in the table: our own fault."""
    return _rules()[name]


def in_order(values: Sequence[Fraction]) -> bool:
    """Whether sizes run from small to large."""
    return all(a <= b for a, b in pairwise(values))
