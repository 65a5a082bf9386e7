"""Numbers of the trade that checks compare with: needle sizes, yarn classes, the shape of a stitch.

In: nothing; the tables in ``data`` are read when first asked for. Out: frozen rows. Each table names its
source and says of each row whether it is confirmed. What follows from them is left to the checks.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from importlib.resources import files
from typing import Literal

__all__ = [
    "RowRatio",
    "YarnClass",
    "class_by_metres",
    "class_by_needle",
    "class_by_stitches",
    "needle_mm",
    "needle_numbers",
    "row_ratio",
    "yarn_class",
]


def _rows(name: str) -> Iterator[dict[str, str]]:
    text = files("purlwright.proof").joinpath("data", name).read_text(encoding="utf-8")
    return csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))


@cache
def _needles() -> Mapping[tuple[str, str], tuple[Fraction, ...]]:
    found = {}
    for row in _rows("needles.csv"):
        sizes = [row["mm"], *row["also"].split(";")]
        found[row["system"], row["size"]] = tuple(Fraction(mm) for mm in sizes if mm)
    return found


def needle_mm(system: str, size: str) -> tuple[Fraction, ...]:
    """The diameters in mm that a needle number is sold as, the usual one first; () for a number not known.

    system : "us" or "uk" (the old British and Canadian numbers).
    """
    return _needles().get((system, size), ())


@cache
def needle_numbers(system: str) -> Mapping[Fraction, str]:
    """The number by which a system calls each diameter in mm, where it is the usual one."""
    found: dict[Fraction, str] = {}
    for (of, number), sizes in _needles().items():
        if of == system:
            found.setdefault(sizes[0], number)
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class YarnClass:
    """A class of yarn: plain stitches in 10 cm, needle in mm, metres in 100 g, each from least to most."""

    number: int
    name: str
    stitches: tuple[Fraction, Fraction]
    needle: tuple[Fraction, Fraction]
    metres: tuple[Fraction, Fraction]


@cache
def _classes() -> tuple[tuple[str, YarnClass], ...]:
    """Names (lower case) and their classes, the longest name first."""
    found = []
    for row in _rows("yarn_classes.csv"):
        names = row["names"].split(";")
        made = YarnClass(
            number=int(row["number"]),
            name=f"{row['number']} {names[0].capitalize()}",
            stitches=(Fraction(row["stitches_min"]), Fraction(row["stitches_max"])),
            needle=(Fraction(row["needle_min"]), Fraction(row["needle_max"])),
            metres=(Fraction(row["metres_min"]), Fraction(row["metres_max"])),
        )
        found += [(name, made) for name in names]
    return tuple(sorted(found, key=lambda pair: -len(pair[0])))


@cache
def _class_words() -> re.Pattern[str]:
    names = "|".join(re.escape(name) for name, _ in _classes())
    return re.compile(rf"(?<![\w-])(?:(?P<number>[0-7])[ :]+)?(?P<name>{names})(?![\w-])", re.IGNORECASE)


@lru_cache(maxsize=1024)
def yarn_class(words: str) -> YarnClass | None:
    """The class that a yarn's words name: "4 Medium", "DK", "worsted weight"; None for none, or for two."""
    named = dict(_classes())
    found: dict[int, YarnClass] = {}
    for m in _class_words().finditer(words):
        low = m["name"].lower()
        if low in {"light", "medium", "fine", "sock"} and m["number"] is None:
            continue  # "fine wool", "light grey" are no classes
        found[named[low].number] = named[low]
    return next(iter(found.values())) if len(found) == 1 else None


def class_by_metres(metres: Fraction) -> YarnClass | None:
    """The class in whose range so many metres in 100 g lie nearest to the middle; None outside them all."""
    return _nearest(metres, "metres")


def class_by_needle(mm: Fraction) -> YarnClass | None:
    """The class in whose range a needle lies nearest to the middle; None outside them all."""
    return _nearest(mm, "needle")


def class_by_stitches(in_10_cm: Fraction) -> YarnClass | None:
    """The class in whose range so many plain stitches to 10 cm lie nearest to the middle; None outside them
    all.
    """
    return _nearest(in_10_cm, "stitches")


def _nearest(value: Fraction, of: Literal["metres", "needle", "stitches"]) -> YarnClass | None:
    found = []
    for _, made in _classes():
        least, most = {"metres": made.metres, "needle": made.needle, "stitches": made.stitches}[of]
        if least <= value <= most and most > 0:
            found.append((abs(2 * value - least - most) / (most - least or 1), made.number, made))
    return min(found, key=lambda one: one[:2])[2] if found else None


@dataclass(frozen=True, slots=True, kw_only=True)
class RowRatio:
    """Rows for each stitch in one length: what is usual, and what is too far for that kind of cloth."""

    usual: tuple[Fraction, Fraction]
    far: tuple[Fraction, Fraction]


@cache
def _ratios() -> Mapping[str, RowRatio]:
    return {
        row["ground"]: RowRatio(
            usual=(Fraction(row["usual_min"]), Fraction(row["usual_max"])),
            far=(Fraction(row["far_min"]), Fraction(row["far_max"])),
        )
        for row in _rows("grounds.csv")
    }


def row_ratio(ground: str) -> RowRatio | None:
    """The rows for each stitch of a kind of cloth; None for one whose shape is not known."""
    return _ratios().get(ground)
