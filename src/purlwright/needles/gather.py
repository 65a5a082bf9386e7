"""Operations gathered while the words are followed, to be knitted all at once.

In: one operation at a time, and the order to copy the last few. Out: arrays with one entry a single working,
in working order. Knitting them is left to ``worker``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

__all__ = ["Gathered", "Run"]

_TILE_FROM = 48
"""Copies of fewer operations than this are written out; more are kept as a tile."""


@dataclass(frozen=True, slots=True)
class Run:
    """Single workings in order.

    ``ops`` (k,) int16, ``spans`` and ``passes`` (k,) int32, ``yarns`` (k,) int8 or one for all.

    ``perms`` are crossings of the loops before they are worked: where they begin and the new order.
    ``crossed`` are loops made after a crossing: where they begin, how many, and the kind of link.
    """

    ops: Any
    spans: Any
    passes: Any
    yarns: Any
    taken: int
    perms: tuple[tuple[int, tuple[int, ...]], ...] = ()
    crossed: tuple[tuple[int, int, int], ...] = ()
    owned: tuple[tuple[str, int, int, int], ...] = ()
    """Workings that are one stitch of the pattern's own: its name, the words that call it, first, end."""


@dataclass(slots=True)
class Gathered:
    """What is gathered and not yet knitted.

    ``taken`` and ``made`` count loops. A pass below 0 stands for the copy's number.
    """

    ops: list[int] = field(default_factory=list)
    ns: list[int] = field(default_factory=list)
    spans: list[int] = field(default_factory=list)
    passes: list[int] = field(default_factory=list)
    yarns: list[int] = field(default_factory=list)
    perms: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    crossed: list[tuple[int, int, int]] = field(default_factory=list)
    tiles: list[tuple[int, int, int]] = field(default_factory=list)
    owned: list[tuple[str, int, int, int]] = field(default_factory=list)
    taken: int = 0
    made: int = 0
    workings: int = 0

    def clear(self) -> None:
        """Forget everything."""
        self.ops, self.ns, self.spans, self.passes, self.yarns = [], [], [], [], []
        self.perms, self.crossed, self.tiles, self.owned = [], [], [], []
        self.taken = self.made = self.workings = 0

    def mark(self) -> tuple[int, int, int, int, int, int, int, int]:
        """Where the gathering stands, for :meth:`copy`."""
        return (
            len(self.ops),
            len(self.perms),
            len(self.crossed),
            len(self.tiles),
            self.taken,
            self.made,
            self.workings,
            len(self.owned),
        )

    def copy(self, mark: tuple[int, int, int, int, int, int, int, int], more: int) -> None:
        """Work all that was gathered since ``mark`` ``more`` times again."""
        before, perms, crossed, tiles, taken, made, workings, owned = mark
        k = len(self.ops) - before
        step, out = self.taken - taken, self.made - made
        new_perms, new_crossed = self.perms[perms:], self.crossed[crossed:]
        for j in range(1, more + 1):
            if not (new_perms or new_crossed):
                break
            self.perms += [(at + j * step, p) for at, p in new_perms]
            self.crossed += [(at + j * out, c, kind) for at, c, kind in new_crossed]
        ways, new_owned = self.workings - workings, self.owned[owned:]
        for j in range(1, more + 1 if new_owned else 1):
            self.owned += [(name, span, a + j * ways, b + j * ways) for name, span, a, b in new_owned]
        self.workings += (self.workings - workings) * more
        self.taken += step * more
        self.made += out * more
        if k * more >= _TILE_FROM and len(self.tiles) == tiles:
            self.tiles.append((before, k, more))
            return
        if len(self.tiles) != tiles:
            self._write_out(tiles)
            k = len(self.ops) - before
        passes = self.passes[before:]
        self.passes[before:] = [1 if p < 0 else p for p in passes]
        for a in (self.ops, self.ns, self.spans, self.yarns):
            a += a[before : before + k] * more
        self.passes += [j if p < 0 else p for j in range(2, more + 2) for p in passes]

    def _write_out(self, tiles: int) -> None:
        """Tiles since ``tiles`` are written out, because they are to be copied in their turn."""
        for before, k, more in reversed(self.tiles[tiles:]):
            passes = self.passes[before : before + k]
            at = before + k
            for a in (self.ops, self.ns, self.spans, self.yarns):
                a[at:at] = a[before:at] * more
            self.passes[before:at] = [j if p < 0 else p for j in range(1, more + 2) for p in passes]
        del self.tiles[tiles:]

    def run(self) -> Run:
        """Everything as arrays; then nothing is gathered any more."""
        ops = np.array(self.ops, np.int16)
        ns = np.array(self.ns, np.int64)
        spans: Any = np.array(self.spans, np.int32)
        passes: Any = np.array(self.passes, np.int32)
        yarns: Any = self.yarns[0] if len(set(self.yarns)) == 1 else np.array(self.yarns, np.int8)
        if self.tiles:
            pieces: list[Any] = []
            copies: list[Any] = []
            at = 0
            for before, k, more in self.tiles:
                if before > at:
                    pieces.append(np.arange(at, before))
                    copies.append(np.ones(before - at, np.int32))
                pieces.append(np.tile(np.arange(before, before + k), more + 1))
                copies.append(np.repeat(np.arange(1, more + 2, dtype=np.int32), k))
                at = before + k
            if at < len(ops):
                pieces.append(np.arange(at, len(ops)))
                copies.append(np.ones(len(ops) - at, np.int32))
            where, copy = np.concatenate(pieces), np.concatenate(copies)
            ops, ns, spans, passes = ops[where], ns[where], spans[where], passes[where]
            passes = np.where(passes < 0, copy, passes)
            if not isinstance(yarns, int):
                yarns = yarns[where]
        if self.workings != len(ops):
            ops, spans, passes = np.repeat(ops, ns), np.repeat(spans, ns), np.repeat(passes, ns)
            if not isinstance(yarns, int):
                yarns = np.repeat(yarns, ns)
        out = Run(
            ops, spans, passes, yarns, self.taken, tuple(self.perms), tuple(self.crossed), tuple(self.owned)
        )
        self.clear()
        return out
