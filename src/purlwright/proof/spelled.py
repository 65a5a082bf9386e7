"""A row spelled out stitch by stitch from its words or squares alone, without needles.

In: a line of the tree. Out: a :class:`Spelled`: the stitches before the repeat, those of one repeat, and
those after it. A row whose words leave something to the needles ("in pattern", "to marker") is not spelled.
What two spellings have to do with each other is left to the family modules.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from msgspec import structs

from purlwright.pattern import tree
from purlwright.proof.texture import Look, look_of_stitch
from purlwright.stitches.load import dictionary
from purlwright.text import Span

__all__ = ["Spelled", "Unit", "differ", "loosely", "spell", "takes"]

MOST = 2000
"""No row is spelled beyond so many stitches."""


class Unit(NamedTuple):
    """One stitch of a row: its key, how it looks, the yarn if it is said, and where its words stand in the
    line.
    """

    key: str
    look: Look
    colour: str
    span: Span

    def same(self, other: Unit) -> bool:
        """Whether two stitches are one to the eye, and of one colour as far as both say."""
        if self.colour and other.colour and self.colour.lower() != other.colour.lower():
            return False
        return self.look == other.look


@dataclass(frozen=True, slots=True)
class Spelled:
    """The stitches before the repeat, in it and after it; ``body`` is empty for a row without a repeat."""

    before: tuple[Unit, ...]
    body: tuple[Unit, ...] = ()
    after: tuple[Unit, ...] = ()

    def times(self, many: int) -> tuple[Unit, ...]:
        """The row with so many repeats."""
        return self.before + self.body * many + self.after

    def over(self, stitches: int) -> tuple[Unit, ...] | None:
        """The row over so many stitches; None if it does not come out."""
        rest = stitches - takes(self.before) - takes(self.after)
        each = takes(self.body)
        if not each:
            return self.before + self.after if rest == 0 else None
        return self.times(rest // each) if rest >= 0 and rest % each == 0 else None


def takes(units: Sequence[Unit]) -> int:
    """How many stitches of the row below are used."""
    return sum(u.look.takes for u in units)


def differ(one: Sequence[Unit], two: Sequence[Unit]) -> int | None:
    """The first place at which two spellings differ; None if they do not."""
    for n, (a, b) in enumerate(zip(one, two, strict=False)):
        if not a.same(b):
            return n
    return None if len(one) == len(two) else min(len(one), len(two))


class _NotSpelled(Exception):  # noqa: N818 - how the spelling of a row ends
    """The words leave something to the needles."""


class _Speller:
    def __init__(self, size: int, own: Mapping[str, tuple[int, int]], colour: str) -> None:
        self.size, self.own, self.colour = size, own, colour
        self.parts: list[list[Unit]] = [[]]

    def row(self, actions: Sequence[tree.Action]) -> None:
        for a in actions:
            self.action(a)

    def action(self, a: tree.Action) -> None:
        if isinstance(a, tree.Repeat) and (a.star or a.times is None):
            if len(self.parts) > 1 or a.cut:
                raise _NotSpelled
            if a.to is not None and a.to.kind is not tree.PlaceKind.END:
                raise _NotSpelled
            self.parts += [self.flat(a.body), []]
        elif isinstance(a, tree.Fill):
            if len(self.parts) > 1 or a.to.kind is not tree.PlaceKind.END or len(a.body) != 1:
                raise _NotSpelled
            self.parts += [self.flat(a.body), []]
        else:
            self.parts[-1] += self.flat((a,))
        if len(self.parts[-1]) > MOST:
            raise _NotSpelled

    def flat(self, actions: Sequence[tree.Action]) -> list[Unit]:
        """Stitches of steps that need no needles."""
        out: list[Unit] = []
        for a in actions:
            if isinstance(a, tree.Work):
                many = a.count.at(self.size)
                if many is None or many > MOST or len(a.readings) > 1:
                    raise _NotSpelled
                out += [Unit(a.stitch, self.look(a), a.colour or self.colour, a.span)] * many
            elif isinstance(a, tree.Repeat) and a.times is not None and not a.star:
                many = a.times.at(self.size)
                if many is None or many > MOST:
                    raise _NotSpelled
                out += self.flat(a.body) * many
            elif isinstance(a, tree.Yarn) and a.act in {"use", "join"}:
                self.colour = a.colour or ""
            elif not isinstance(a, _IDLE):
                raise _NotSpelled
            if len(out) > MOST:
                raise _NotSpelled
        return out

    def look(self, a: tree.Work) -> Look:
        stitch = None if a.own else dictionary().stitches.get(a.stitch)
        if stitch is not None:
            return look_of_stitch(stitch)
        if a.stitch in self.own:
            took, made = self.own[a.stitch]
            return Look(took, made, "", a.stitch, False, False)
        raise _NotSpelled


def loosely(
    line: tree.Line, size: int = 0, own: Mapping[str, tuple[int, int]] | None = None
) -> Spelled | None:
    """As :func:`spell`, but a lone bracketed group with its number of times is taken for the repeat."""
    groups = [n for n, a in enumerate(line.actions) if isinstance(a, tree.Repeat)]
    if len(groups) != 1:
        return None
    group = line.actions[groups[0]]
    if not isinstance(group, tree.Repeat) or group.star or group.times is None:
        return None
    parts = (line.actions[: groups[0]], group.body, line.actions[groups[0] + 1 :])
    spelled = [
        spell(structs.replace(line, actions=part), size, own) if part else Spelled(()) for part in parts
    ]
    if any(s is None or s.body for s in spelled):
        return None
    before, body, after = (s.before for s in spelled if s is not None)
    return Spelled(before, body, after)


_IDLE = (tree.Note, tree.Stated, tree.Marker, tree.RowRule, tree.YarnTo)


def spell(line: tree.Line, size: int = 0, own: Mapping[str, tuple[int, int]] | None = None) -> Spelled | None:
    """The row that a line's words work, spelled out for one size; None if needles are needed to tell."""
    colour = (line.label.colour or "") if line.label is not None else ""
    speller = _Speller(size, own or {}, colour)
    try:
        speller.row(line.actions)
    except _NotSpelled:
        return None
    parts = [tuple(p) for p in speller.parts]
    if not any(parts):
        return None
    return Spelled(*parts) if len(parts) == 3 else Spelled(parts[0])
