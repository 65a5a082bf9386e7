"""Two knittings of one size set side by side: which worked rows are the same, and which are not.

In: an older and a newer knitting. Out: pairs of rows in the order of work. Two rows are the same if the same
stitches are drawn through the same places of the row below, on the same side and with the same yarn, and
the same stitches wait; how they are worded does not count.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.query import row_slice
from purlwright.fabric.query import rows as made_rows

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["Pair", "side_by_side"]

MOST_SOUGHT = 4_000
"""Differing stretches longer than this are paired row by row as they come, not searched for likeness."""


@dataclass(frozen=True, slots=True)
class Pair:
    """An older row and the newer one in its place; None where one of them has no such row."""

    old: Entry | None
    new: Entry | None
    same: bool


def side_by_side(old: Knitted, new: Knitted) -> list[Pair]:
    """Every row of both, paired. Rows that are the same at the beginning and the end are never searched."""
    a, b = old.ledger.entries, new.ledger.entries
    sig_a, sig_b = _signatures(old, a), _signatures(new, b)
    most = min(len(a), len(b))
    head = next((i for i in range(most) if sig_a[i] != sig_b[i]), most)
    most -= head
    tail = next((i for i in range(most) if sig_a[-1 - i] != sig_b[-1 - i]), most)
    pairs = [Pair(a[i], b[i], same=True) for i in range(head)]
    end_a, end_b = len(a) - tail, len(b) - tail
    pairs += _between(a[head:end_a], b[head:end_b], sig_a[head:end_a], sig_b[head:end_b])
    pairs += [Pair(a[end_a + i], b[end_b + i], same=True) for i in range(tail)]
    return pairs


def _between(
    a: Sequence[Entry], b: Sequence[Entry], sig_a: Sequence[Hashable], sig_b: Sequence[Hashable]
) -> list[Pair]:
    """Rows between the first and the last that differ, paired by their names and places in the work."""
    if max(len(a), len(b)) > MOST_SOUGHT:
        most = max(len(a), len(b))
        return [
            Pair(
                a[i] if i < len(a) else None,
                b[i] if i < len(b) else None,
                same=i < min(len(a), len(b)) and sig_a[i] == sig_b[i],
            )
            for i in range(most)
        ]
    names = SequenceMatcher(None, [_name(e) for e in a], [_name(e) for e in b], autojunk=False)
    out: list[Pair] = []
    for what, i, i_end, j, j_end in names.get_opcodes():
        if what == "equal":
            out += [Pair(a[i + n], b[j + n], same=sig_a[i + n] == sig_b[j + n]) for n in range(i_end - i)]
            continue
        both = min(i_end - i, j_end - j) if what == "replace" else 0
        out += [Pair(a[i + n], b[j + n], same=sig_a[i + n] == sig_b[j + n]) for n in range(both)]
        out += [Pair(e, None, same=False) for e in a[i + both : i_end]]
        out += [Pair(None, e, same=False) for e in b[j + both : j_end]]
    return out


def _name(entry: Entry) -> Hashable:
    return entry.section, entry.kind, entry.label, entry.number, entry.pass_


def _signatures(knitted: Knitted, entries: Sequence[Entry]) -> list[Hashable]:
    """What each row is, as a value that is equal for rows that are the same."""
    fabric = knitted.fabric
    ops = np.array(fabric.ops, dtype=object)
    yarns = np.array(fabric.yarns, dtype=object)
    rows = fabric.row_of_stitch
    first_of_row = {int(row): row_slice(fabric, int(row)).start for row in made_rows(fabric)}
    out: list[Hashable] = []
    for entry in entries:
        mine = row_slice(fabric, entry.order)
        parents: list[tuple[int, int, int]] = []
        for stitch in range(mine.start, mine.stop):
            a, b = fabric.first_parent_of_stitch[stitch], fabric.first_parent_of_stitch[stitch + 1]
            for parent, link in zip(fabric.parent[a:b].tolist(), fabric.link[a:b].tolist(), strict=True):
                row = int(rows[parent])
                parents.append((entry.order - row, parent - first_of_row[row], link))
        out.append(
            (
                entry.kind, entry.side, entry.start, entry.worked, entry.unworked, entry.made, entry.lost,
                entry.held, entry.returned, entry.end,
                tuple(ops[fabric.op_of_stitch[mine]]), tuple(yarns[fabric.yarn_of_stitch[mine]]),
                fabric.seen_of_stitch[mine].tobytes(), fabric.mount_of_stitch[mine].tobytes(), tuple(parents),
            )
        )  # fmt: skip
    return out
