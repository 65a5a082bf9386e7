"""Work to a place that goes on past it: "knit to last 3 sts, k1".

In: the steps of each line as a tree. Out: a finding where the stitch after "to last 3 sts" is the one that
led there, so that the place says nothing. The count is right. ``counts`` asks for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.proof.subject import Subject, at
from purlwright.text import Span

__all__ = ["GoesOnPastPlace", "past_place"]


@dataclass(frozen=True, slots=True)
class GoesOnPastPlace:
    """The row works to a place, and then goes on with the same stitch.

    "Knit to last 3 sts, k1" is "knit to last 2 sts": nobody writes it so. What comes next has changed places
    with this stitch, or the number is another.

    Example: `K1, k2tog, knit to last 3 sts, k1, ssk` for `knit to last 3 sts, ssk, k1`.

    Cure: put the two steps in their order. (Common practice; no source.)
    """

    place: int

    code = "goes-on-past-place"
    check = "C006"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The row is worked to {self.place} before a place, and goes on with the same stitch: then the "
            f"place says nothing."
        )

    def label(self) -> str:
        return "goes on past the place"

    def help(self) -> str | None:
        return "Look whether this step and the next have changed places."


_PLAIN = frozenset({"k", "p"})


def past_place(subject: Subject) -> Iterator[Finding]:
    """Each fill to so many stitches before a place that the same stitch follows, and then another."""
    told = subject.told_each(subject.lines, _past)
    for line, met in zip(subject.lines, told, strict=True) if any(told) else ():
        for problem, span in met:
            yield at(line, problem, span)


def _past(actions: tuple[tree.Action, ...]) -> tuple[tuple[GoesOnPastPlace, Span], ...]:
    """What goes on past a place in one line, with the words that do."""
    out = []
    for steps in _runs(actions):
        for (fill, next_), last in zip(pairwise(steps), (*steps[2:], None), strict=False):
            if not isinstance(fill, tree.Fill) or not isinstance(next_, tree.Work):
                continue
            before = fill.to.before
            inner = fill.body[0] if len(fill.body) == 1 else None
            if before is None or before.values[0] is None:
                continue
            same = isinstance(inner, tree.Work) and inner.stitch == next_.stitch
            if same and next_.stitch in _PLAIN and (_turns_special(last) or _fills_up(before, next_, last)):
                out.append((GoesOnPastPlace(before.values[0]), next_.span))
    return tuple(out)


def _turns_special(last: tree.Node | None) -> bool:
    return isinstance(last, tree.Work) and last.stitch not in _PLAIN


def _fills_up(before: tree.Number, work: tree.Work, last: tree.Node | None) -> bool:
    """Whether the stitch comes just to the marker that the place is told from: "to 1 st before m, k1, sm"."""
    return isinstance(last, tree.Marker) and last.act == "slip" and work.count.values == before.values


def _runs(actions: tuple[tree.Action, ...]) -> Iterator[tuple[tree.Node, ...]]:
    """The steps of a line, and those inside its brackets."""
    yield actions
    for node in tree.walk(actions):
        if isinstance(node, tree.Repeat):
            yield node.body
