"""Which yarn of the header each stitch and row is worked with, how many strands are held together, how thick.

In: a header and one knitting. Out: :class:`Yarns`, asked by ``yarn``; what is taken for granted is said. How
long they are is left to ``yarn``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from purlwright.cloth.said import Basis, Said
from purlwright.fabric.query import row_slice
from purlwright.proof.trade import yarn_class

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry
    from purlwright.pattern.header import Header, YarnEntry

__all__ = ["Yarns"]


class Yarns:
    """The yarns by name, in the order met; ``entry_of`` is the place of each in the header, or None."""

    def __init__(self, header: Header, knitted: Knitted, entries: Sequence[Entry]) -> None:
        self.header, self.fabric, self.entries = header, knitted.fabric, entries
        self.place = {e.order: n for n, e in enumerate(entries)}
        self.said: list[Said] = []
        self.names, self.entry_of = self._yarns()
        self.of_stitches: NDArray[np.int64] = self._yarn_numbers()[self.fabric.yarn_of_stitch]
        """The yarn of each stitch, (n,) int64, place in ``names``."""

    def _yarns(self) -> tuple[list[str], list[int | None]]:
        """The yarns of the fabric by name, each with its place in the header; work in no named yarn is in
        the first.
        """
        listed = [y.name for y in self.header.yarns]
        names: list[str] = []
        entries: list[int | None] = []
        for name in self.fabric.yarns:
            known = name or (listed[0] if listed else "")
            if known in names:
                continue
            names.append(known)
            at = listed.index(known) if known in listed else (0 if len(listed) == 1 else None)
            entries.append(at)
        if not names:
            return [""], [0 if len(listed) == 1 else None]
        if "" in self.fabric.yarns and len(listed) > 1 and len(names) > 1 and self._unnamed():
            words = f"Where no yarn is named the first, {listed[0]}, is taken."
            self.said.append(Said(basis=Basis.ASSUMED, words=words))
        return names, entries

    def _unnamed(self) -> bool:
        return bool((self.fabric.yarn_of_stitch == self.fabric.yarns.index("")).any())

    def _yarn_numbers(self) -> NDArray[np.int64]:
        listed = [y.name for y in self.header.yarns]
        return np.array(
            [self.names.index(n or (listed[0] if listed else "")) for n in self.fabric.yarns] or [0]
        )

    def of_entry(self, entry: Entry) -> int:
        """The yarn of an entry's first stitch; of the one before it if it makes none."""
        listed = [y.name for y in self.header.yarns]
        for e in reversed(self.entries[: self.place[entry.order] + 1]):
            if e.yarns:
                name = e.yarns[0] or (listed[0] if listed else "")
                return self.names.index(name) if name in self.names else 0
        return 0

    def strands_of_each(self) -> list[int]:
        """How many strands are held together of each yarn."""
        said = " ".join(g.words for g in self.header.gauges)
        out = []
        for at in self.entry_of:
            words = self.header.yarns[at].words if at is not None else ""
            many = _strands(words) or (_strands(said) if len(self.names) == 1 else 0) or 1
            if many > 1:
                told = f"{_NUMBERS[many]} strands are held together."
                self.said.append(Said(basis=Basis.STATED, words=told))
            out.append(many)
        return out

    def thickness(self, at: int | None) -> float | None:
        if at is None:
            return None
        yarn = self.header.yarns[at]
        if yarn.metres_per_100_g is not None:
            return float(yarn.metres_per_100_g)
        return self._by_class(yarn)

    def _by_class(self, yarn: YarnEntry) -> float | None:
        found = yarn_class(yarn.words)
        if found is None:
            return None
        least, most = found.metres
        middle = float(least + most) / 2
        self.said.append(
            Said(
                basis=Basis.RULE_OF_THUMB,
                words=f"No length and weight are given for the yarn; {middle:g} m in 100 g are taken for "
                f"class {found.name} ({int(least)} to {int(most)}).",
                source="tables of shops, guilds and spinners, common practice",
                span=yarn.span,
            )
        )
        return middle

    def of_row(self, entry: Entry) -> Sequence[int]:
        """The yarns that a row is worked with, told from its stitches; if it makes none, from words."""
        part = row_slice(self.fabric, entry.order)
        if part.start < part.stop:
            return [int(n) for n in np.unique(self.of_stitches[part])]
        listed = [y.name for y in self.header.yarns]
        found = [n or (listed[0] if listed else "") for n in entry.yarns]
        return [self.names.index(n) for n in dict.fromkeys(found) if n in self.names]


_STRANDS = re.compile(
    r"\b(?:(?P<n>two|2|double|three|3|triple|four|4)[ -]?(?:strands?|ends)|held (?P<h>double|triple)"
    r"|(?P<d>double|triple)d?[ -]strand|yarn (?P<u>doubled|double))\b",
    re.IGNORECASE,
)  # fmt: skip
_MANY = {"two": 2, "2": 2, "double": 2, "doubled": 2, "three": 3, "3": 3, "triple": 3, "four": 4, "4": 4}
_NUMBERS = {2: "Two", 3: "Three", 4: "Four"}


def _strands(words: str) -> int:
    """How many strands are held together by some words; 0 if they do not say."""
    m = _STRANDS.search(words)
    return _MANY[(m["n"] or m["h"] or m["d"] or m["u"]).lower()] if m is not None else 0
