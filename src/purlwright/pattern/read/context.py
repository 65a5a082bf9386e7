"""What a reader of one line needs to know besides the line.

In: facts gathered from the whole file (sizes, named numbers, the pattern's own stitches, yarns, terms).
Out: one value handed to every ``parse_x`` function, with the collector that findings go to.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, field
from typing import Literal

from purlwright.findings import Collector

__all__ = ["Context"]


@dataclass(slots=True, kw_only=True)
class Context:
    """What is known while one line is read.

    ``sizes`` are the size names in header order (empty: one size).
    ``numbers`` maps a named number to one value a size.
    ``own`` maps the lower-case name of each of the pattern's own stitches to the name as she writes it.
    ``called`` maps lower-case names of sections, charts and stitch patterns that can be called to the names.
    ``yarns`` are the designer's yarn letters or names, lower case ("mc", "a", "cc1").
    ``row_names`` are lower-case names of named rows.
    ``compact`` is the tokenizer's table: the dictionary's abbreviations, and the pattern's own as "=NAME".
    """

    sizes: tuple[str, ...] = ()
    numbers: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    own: Mapping[str, str] = field(default_factory=dict)
    called: Mapping[str, str] = field(default_factory=dict)
    yarns: frozenset[str] = frozenset()
    row_names: frozenset[str] = frozenset()
    markers: frozenset[str] = frozenset()
    compact: Mapping[str, str] = field(default_factory=dict)
    terms: Literal["US", "UK", "old", ""] = ""
    round: bool = False
    findings: Collector = field(default_factory=Collector)

    def afresh(self) -> Context:
        """The same knowledge, nothing found yet."""
        mine = copy(self)
        mine.findings = Collector()
        return mine
