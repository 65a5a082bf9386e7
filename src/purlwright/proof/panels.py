"""The panels between markers in a row, and the half that is not like its other half.

In: the worked rows of all sections. Out: a finding on a row in which two panels at the same distance from its
ends are not alike, nor mirrored, while they are in all other rows of so many panels. The count is right.
``mirror`` asks for this.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Kind
from purlwright.proof.texture import Op, Worked, label_of, looks, mirrored, names, special

__all__ = ["Panel", "PanelUnlikeTwin", "panel_faults", "panels_of"]


@dataclass(frozen=True, slots=True)
class PanelUnlikeTwin:
    """One half of a row, between its markers, is not worked as the other half, and in every other row it is.

    A shawl from the neck has two halves beside its spine, a raglan two fronts and two sleeves. Their words
    are written twice, and one of them has a mistake. The count is right.

    Example: `yo, k2, *k1, yo, sk2p, yo, k2` on one side of the spine, `k2, yo, *k1, yo, sk2p, yo, k2` on the
    other.

    Cure: make the two halves alike, or mirror them. (Common practice; no source.)
    """

    row: str
    like: str
    mirror: bool

    code = "panel-unlike-its-twin"
    check = "C086"
    severity = Severity.WARNING

    def message(self) -> str:
        how = "mirrored" if self.mirror else "alike"
        return (
            f"{self.row}: the two parts between the markers are not {how}, from here on; in {self.like} they "
            f"are."
        )

    def label(self) -> str:
        return "not as in the other part"

    def help(self) -> str | None:
        return "Compare the two parts word by word: one of them has the slip."


_ROWS = 3
"""So many other rows with something in them make a rule; common practice, no source."""


class Panel(NamedTuple):
    """What is worked between two markers."""

    ops: tuple[Op, ...]

    @property
    def figure(self) -> bool:
        """Whether it is more than one plain stitch over and over."""
        return any(special(op.look) for op in self.ops) or len({op.look for op in self.ops}) > 1


def panels_of(row: Worked) -> tuple[Panel, ...]:
    """A row cut at the markers that hang on the needle at its end."""
    end = row.entry.end
    places = (mark.after if row.entry.kind is Kind.ROUND else end - mark.after for mark in row.entry.markers)
    return _cut(row.key, tuple(sorted({place for place in places if 0 < place < end})))


@lru_cache(maxsize=2048)
def _cut(key: bytes, places: tuple[int, ...]) -> tuple[Panel, ...]:
    """Operations cut where so many stitches were made before."""
    out: list[list[Op]] = [[] for _ in range(len(places) + 1)]
    made = 0
    for op in looks(key):
        if op.look.faces != "act":
            out[sum(place <= made for place in places)].append(op)
            made += op.look.makes
    return tuple(Panel(tuple(ops)) for ops in out)


def _alike(a: Panel, b: Panel, *, mirror: bool) -> bool:
    one = [op.look for op in a.ops]
    two = [mirrored(op.look) for op in reversed(b.ops)] if mirror else [op.look for op in b.ops]
    return one == two


def panel_faults(rows: Sequence[Worked]) -> Iterator[Finding]:
    """The one row whose two halves are not alike, of all rows with so many panels."""
    by_many: dict[int, list[Worked]] = {}
    for row in rows:
        if row.entry.markers and not row.drawn:
            by_many.setdefault(len(panels_of(row)), []).append(row)
    for many, group in by_many.items():
        if many < 3 or len(group) <= _ROWS:
            continue
        for n in range(many // 2):
            yield from _twins(group, n, many - 1 - n)


def _twins(group: Sequence[Worked], n: int, m: int) -> Iterator[Finding]:
    for mirror in (False, True):
        odd = [r for r in group if not _alike(panels_of(r)[n], panels_of(r)[m], mirror=mirror)]
        if len(odd) != 1:
            continue
        row = odd[0]
        good = [r for r in group if r is not row and panels_of(r)[n].figure]
        if len({r.key for r in good}) < _ROWS or _sum(row, n) != _sum(row, m):
            continue
        if _alike(panels_of(row)[n], panels_of(row)[m], mirror=not mirror):
            continue
        place = _first_odd(panels_of(row)[n], panels_of(row)[m], mirror=mirror)
        related = tuple(Related(label_of(r), "here they are") for r in good[:2])
        problem = PanelUnlikeTwin(row.name, names(good), mirror)
        yield Finding(problem=problem, span=row.words(place), related=related)
        return


def _sum(row: Worked, n: int) -> tuple[int, int]:
    ops = panels_of(row)[n].ops
    return sum(op.look.takes for op in ops), sum(op.look.makes for op in ops)


def _first_odd(a: Panel, b: Panel, *, mirror: bool) -> int:
    """The first operation of the second panel that is not as in the first."""
    one = [op.look for op in a.ops]
    two = list(reversed(b.ops)) if mirror else list(b.ops)
    for look, op in zip(one, two, strict=False):
        if look != (mirrored(op.look) if mirror else op.look):
            return op.place
    return two[-1].place if two else a.ops[-1].place
