"""How many loops some steps take and make, told from the steps alone.

In: steps and which size is knitted. Out: loops taken and made, or None where that depends on the needle
("to marker", "to end"). Working the steps is left to ``worker``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.pattern import tree
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["Measure"]

_STILL = (
    tree.Marker, tree.YarnTo, tree.Yarn, tree.Resolve, tree.Note, tree.Stated, tree.Wrap, tree.Turn,
    tree.Unread, tree.RowRule,
)  # fmt: skip
Count = tuple[int, int]


@dataclass(slots=True)
class Measure:
    """Measures steps for one size. ``own`` maps the pattern's own stitches to (takes, makes)."""

    size: int
    own: Mapping[str, Count]
    memo: dict[int, tuple[object, Count | None]]

    def all(self, steps: Sequence[tree.Action]) -> Count | None:
        """Loops taken and made by several steps; None if any depends on the needle."""
        takes = makes = 0
        for s in steps:
            c = self.one(s)
            if c is None:
                return None
            takes += c[0]
            makes += c[1]
        return takes, makes

    def by_numbers(self, steps: Sequence[tree.Action]) -> int | None:
        """Loops that steps take if the stitch left by each bind-off is the first of those that follow it.

        "Rib 3, [bind off 2 sts, rib 16] 5 times" takes 3 + 5 * 18 then, and 3 + 5 * 19 if it is not. None if
        that depends on the needle.
        """
        takes = 0
        for step in steps:
            if isinstance(step, tree.BindOff) and step.count is not None and step.at == "here":
                takes += self.number(step.count)
            elif isinstance(step, tree.Repeat) and step.times is not None and step.to is None:
                body = self.by_numbers(step.body)
                if body is None:
                    return None
                takes += body * (self.number(step.times) + (step.star and step.said is tree.Said.MORE))
            else:
                count = self.one(step)
                if count is None:
                    return None
                takes += count[0]
        return takes

    def number(self, n: tree.Number | None, default: int = 1) -> int:
        """The value of a number for this size; a clause left out counts 0."""
        if n is None:
            return default
        v = n.at(self.size)
        return 0 if v is None else v

    def one(self, step: tree.Action) -> Count | None:
        """Loops taken and made by one step; None if that depends on the needle."""
        if isinstance(step, tree.Work):
            n = self.number(step.count)
            t, m = self.stitch(step)
            return t * n, m * n
        if isinstance(step, _STILL):
            return 0, 0
        got = self.memo.get(id(step))
        if got is not None and got[0] is step:
            return got[1]
        c = self._other(step)
        self.memo[id(step)] = (step, c)
        return c

    def stitch(self, step: tree.Work) -> Count:
        """Loops taken and made by one working of a stitch."""
        if step.own:
            return self.own.get(step.stitch, (1, 1))
        s = dictionary().find(step.stitch)
        return (1, 1) if s is None else (s.takes, s.makes)

    def _other(self, step: tree.Action) -> Count | None:
        match step:
            case tree.Repeat():
                if step.times is None or step.to is not None:
                    return None
                body = self.all(step.body)
                if body is None:
                    return None
                n = self.number(step.times) + (1 if step.star and step.said is tree.Said.MORE else 0)
                return body[0] * n, body[1] * n
            case tree.Into():
                made = sum(self._made(s) for s in step.steps)
                n = self.number(step.count)
                return step.over * n, made * n
            case tree.Cross():
                a, b = self.all(step.first), self.all(step.second)
                return None if a is None or b is None else (a[0] + b[0], a[1] + b[1])
            case tree.InGround() | tree.InPattern():
                if step.count is None or step.to is not None:
                    return None
                n = self.number(step.count)
                return n, n
            case tree.Call():
                if step.over is None:
                    return None
                n = self.number(step.over)
                return n, n
            case tree.Return() if step.if_held:
                return 0, 0
            case tree.EdgeJoin():
                return (1, 1) if step.at == "here" else (0, 0)
            case tree.PassOver():
                return 0, -self.number(step.count)
            case tree.SlipBack():
                n = self.number(step.count)
                return -n, -n
            case tree.Drop():
                n = self.number(step.count)
                return (0, 0) if step.what == "wrap" else (n, 0)
            case tree.BindOff():
                if step.count is None:
                    return None
                n = self.number(step.count)
                return n + 1, 1
            case tree.CastOn() | tree.PickUp():
                if step.count is None:
                    return None
                return 0, self.number(step.count)
            case tree.Hold():
                if step.count is None or step.of == "worked":
                    return None
                return self.number(step.count), 0
            case tree.Choice():
                return self.all(step.readings[0]) if step.readings else (0, 0)
            case _:
                return None

    def _made(self, step: tree.Step) -> int:
        c = self.one(step)
        return 1 if c is None else max(c[1], 0)
