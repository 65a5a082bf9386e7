"""How much yarn each stitch takes: the length of its loop, and how much more or less its working draws.

In: one knitting and the size of its stitches. Out: lengths in mm a stitch, with the share by which they may
be off. Floats, edges and ends are left to ``yarn``.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.cloth.kinds import ClothKind
from purlwright.needles.optable import op_table
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.cloth.gauge import FabricGauge
    from purlwright.fabric.arrays import Fabric

__all__ = ["LoopConstant", "draw_of_stitches", "loop_constant", "loop_mm", "loop_tolerance", "plain_loop_mm"]

Floats: TypeAlias = NDArray[np.float64]

STRETCHED = 0.65
"""Cloth measured stretched is up to a half larger than its loops make it at rest.

Common practice, no source.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoopConstant:
    """Loop length squared over the area of the stitch, in one kind of cloth: no unit."""

    kind: ClothKind
    usual: float
    least: float
    most: float
    status: str


@cache
def _constants() -> Mapping[ClothKind, LoopConstant]:
    text = files("purlwright.cloth").joinpath("data", "loop_constants.csv").read_text(encoding="utf-8")
    found = {}
    for row in csv.DictReader(line for line in text.splitlines() if not line.startswith("#")):
        kind = ClothKind[row["kind"].upper()]
        usual, least, most = (float(row[key]) for key in ("constant", "least", "most"))
        found[kind] = LoopConstant(kind=kind, usual=usual, least=least, most=most, status=row["status"])
    return MappingProxyType(found)


def loop_constant(kind: ClothKind) -> LoopConstant:
    """What relates the loop of a kind of cloth to its area."""
    return _constants()[kind]


def plain_loop_mm(width_mm: float, row_mm: float, kind: ClothKind = ClothKind.STOCKINETTE) -> float:
    """The yarn in one plain stitch, in mm: l = sqrt(Ks / (c w)).

    Source: D. L. Munden, J. Text. Inst. 50 (1959) T448, wet relaxed; other cloths by data/loop_constants.csv.
    """
    return float(np.sqrt(loop_constant(kind).usual * width_mm * row_mm))


def _constants_of(gauge: FabricGauge) -> tuple[Floats, Floats, Floats]:
    """The constant of each gauge of a fabric, its least and its most."""
    found = []
    for g in gauge.gauges:
        c = loop_constant(g.kind)
        usual, least, most = c.usual, c.least, c.most
        if g.stretched:  # drawn out by nobody knows how much: the loop may be shorter than its area tells
            plain = loop_constant(ClothKind.STOCKINETTE)
            usual = min(usual, plain.usual)
            least = min(least, plain.usual * STRETCHED)
        found.append((usual, least, most))
    columns = np.array(found or [(0.0, 0.0, 0.0)]).T
    return columns[0], columns[1], columns[2]


def loop_mm(gauge: FabricGauge) -> Floats:
    """The loop of a plain stitch in the cloth where each stitch lies, (n,) mm; nothing gives nothing.

    Notes: one constant for every fibre; a stitch over slipped rows has the loop of a single row.
    """
    usual, _, _ = _constants_of(gauge)
    loops: Floats = np.sqrt(usual[gauge.gauge_of_stitch] * gauge.width_mm * gauge.row_mm)
    return loops


def loop_tolerance(gauge: FabricGauge) -> tuple[Floats, Floats, Floats]:
    """By what shares each loop may be shorter and longer by the constant, and either way by the gauge.

    (n,) each. The length goes with the root of both; width and height are taken to be off together.
    """
    usual, least, most = _constants_of(gauge)
    by_gauge = np.array([(g.width_tolerance + g.height_tolerance) / 2 for g in gauge.gauges] or [0.0])
    at = gauge.gauge_of_stitch
    with np.errstate(divide="ignore", invalid="ignore"):
        shorter, longer = 1 - np.sqrt(least / usual), np.sqrt(most / usual) - 1
    return shorter[at], longer[at], by_gauge[at]


def draw_of_stitches(fabric: Fabric) -> Floats:
    """How much yarn each stitch draws as times a plain stitch, by the operation that made it, (n,).

    What an operation draws is shared among the stitches it makes anew. Source: the stitch dictionary, rules
    of thumb without a source.
    """
    table, known = op_table(), dictionary().stitches
    each = []
    for key in fabric.ops:
        stitch = known.get(key)
        number = table.number.get(key)
        if stitch is None or number is None:
            each.append(1.0)
            continue
        first, makes = int(table.first_child[number]), int(table.makes[number])
        new = int(np.sum(table.child_new[first : first + makes]))
        each.append(stitch.yarn / max(new, 1))
    out: Floats = np.array(each or [1.0])[fabric.op_of_stitch]
    return out
