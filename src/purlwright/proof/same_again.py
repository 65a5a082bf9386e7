"""The same plain stitch twice over, where one number would do: "*k4; rep from *", "k1, k1".

In: the steps of each line as a tree. Out: findings on a repeat that is one plain stitch over and over, and on
a step that is the one before it once more. The count is right. ``leftovers`` asks for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from purlwright.findings import Severity
from purlwright.pattern import tree
from purlwright.proof.subject import Subject
from purlwright.stitches.kinds import Loose
from purlwright.stitches.load import dictionary
from purlwright.text import Span

__all__ = ["RepeatOfOneStitch", "SameStitchAgain", "same_again"]


@dataclass(frozen=True, slots=True)
class RepeatOfOneStitch:
    """A repeat works one plain stitch over and over.

    "*K4; rep from * to end" is "knit", and nobody writes it so. The other part of the repeat was lost, or a
    knit stands for a purl: the rib has no other column.

    Example: `*P2; rep from * to end` for `*K4, p2; rep from * to end`.

    Cure: give the repeat its other stitches back, or write "knit". (Common practice; no source.)
    """

    stitch: str

    code = "repeat-of-one-stitch"
    check = "C102"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"This repeat is nothing but {self.stitch}: then there is nothing to repeat."

    def label(self) -> str:
        return f"only {self.stitch}"

    def help(self) -> str | None:
        return f'Look what was left out of the repeat, or write "{self.stitch[:4]}".'


@dataclass(frozen=True, slots=True)
class SameStitchAgain:
    """A step is the same plain stitch as the step before it.

    "K1, k1" is "k2", and is written so. A step between the two was lost, two steps changed places, or one was
    set twice; the count may be right all the same. Two increases from the same strand cannot be made at all.

    Example: `K1, k1, m1, k2` for `K1, m1, k1, k2`.

    Cure: look what belongs between the two, or write them as one. (Common practice; no source.)
    """

    one: str
    two: str
    strand: bool = False

    code = "same-stitch-again"
    check = "C102"
    severity = Severity.WARNING

    def message(self) -> str:
        if self.strand:
            return (
                f'"{self.one}, {self.two}" lifts the same strand twice: there is no stitch between the two.'
            )
        return f'"{self.one}, {self.two}" is one stitch written twice: nothing stands between the two.'

    def label(self) -> str:
        return "the same again"

    def help(self) -> str | None:
        return "Look what belongs between the two, or write them as one."


_PLAIN = {"k": "knit stitches", "p": "purl stitches"}


def same_again(subject: Subject) -> Iterator[tuple[tree.Line, RepeatOfOneStitch | SameStitchAgain, Span]]:
    """The first such step of each line, once."""
    told = subject.told_each(subject.lines, _in_line)
    if not any(told):
        return
    found = {id(line): met for line, met in zip(subject.lines, told, strict=True)}
    for line in subject.in_order:
        met = found[id(line)]
        if met is None:
            continue
        problem, first, second = met
        if problem is not None:
            yield line, problem, first
        else:
            one, two = (line.text[s.start : s.end].strip() for s in (first, second))
            strand = one[:1].lower() not in _PLAIN
            if (two == one.lower() or strand) and not line.text[first.end : second.start].strip(" ,"):
                yield line, SameStitchAgain(one, two, strand), Span(first.start, second.end)


def _in_line(actions: tuple[tree.Action, ...]) -> tuple[RepeatOfOneStitch | None, Span, Span] | None:
    for node in tree.walk(actions):
        if isinstance(node, tree.Repeat) and node.span.end >= 0:
            only = _only(node)
            if only is not None:
                return RepeatOfOneStitch(_PLAIN[only]), node.span, node.span
    again = [(a, b) for steps in _runs(actions) for a, b in pairwise(steps) if _once_more(a, b)]
    if len(again) != 1:
        return None  # several are a way of writing: "K2, k2, p2, p2"
    return None, again[0][0].span, again[0][1].span


def _only(repeat: tree.Repeat) -> str | None:
    """The plain stitch that a repeat works and nothing else."""
    works = [step for step in repeat.body if isinstance(step, tree.Work)]
    if len(works) != len(repeat.body) or not works or (not repeat.star and len(works) < 2):
        return None
    stitch = works[0].stitch
    if stitch not in _PLAIN or any(not _bare(w) or w.stitch != stitch for w in works):
        return None
    return stitch


def _runs(actions: Sequence[tree.Action]) -> Iterator[Sequence[tree.Action]]:
    yield actions
    for node in tree.walk(tuple(actions)):
        if isinstance(node, (tree.Repeat, tree.WorkRows)):
            yield node.body


def _once_more(a: tree.Action, b: tree.Action) -> bool:
    if not isinstance(a, tree.Work) or not isinstance(b, tree.Work) or min(a.span.end, b.span.end) < 0:
        return False
    if _from_strand(a.stitch) and _from_strand(b.stitch):
        return a.count.values == b.count.values == (1,)
    same = a.stitch == b.stitch and a.stitch in _PLAIN and a.count.values == b.count.values
    return same and _bare(a) and _bare(b)


def _bare(work: tree.Work) -> bool:
    """A stitch in no colour of its own, held in no way of its own, whose number is the same in all sizes."""
    n = work.count
    return (
        not work.own and work.colour is None and work.yarn is None and not work.readings
        and len(n.values) == 1 and n.words is None and n.values[0] != 0
    )  # fmt: skip


@lru_cache(maxsize=512)
def _from_strand(stitch: str) -> bool:
    found = dictionary().find(stitch)
    return found is not None and found.loose is Loose.STRAND
