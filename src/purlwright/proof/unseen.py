"""What a check leaves to the reader: the part of its sentence that no program here looks at.

In: nothing. Out: by check, a clause that goes on from "It leaves to the reader:". Checks that judge their
whole sentence are not in it.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["UNSEEN"]

UNSEEN: Mapping[str, str] = MappingProxyType(
    {
        "C024": "whether flat work is given both ways, to and fro",
        "C042": "a yarn over that stands beside a marker",
        "C062": "drawings that are pictures, and their numbers",
        "C063": "drawings that are pictures, and their numbers",
        "C091": "the first and last column of each size in a chart; it looks at panels between markers",
        "C118": "a single fact that is lacking where the yarn or its shade has a name, which may tell it",
        "C126": "contrast; the pictures Purlwright draws keep to it by themselves",
    }
)
