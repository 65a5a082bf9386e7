"""Rounds told in a line for each needle are one round: "Needle 1: ..." and under it "Needle 2: ...".

In: the lines of a section so far, and one more. Out: nothing; the line is added, those of the later needles
joined to that of the first. Steps of one needle are read by ``read/byneedle``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern import tree

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["join_needles", "names_needle"]

_FAR = 120
"""So many characters at most lie between two needles of one round: an empty line, or a mark."""


def join_needles(lines: list[tree.Line], line: tree.Line, text: str, *, around: bool) -> None:
    """Add one more line; a needle that goes on the round of the line before is put into that line.

    text : the source. around : the work goes round, so that "2nd needle" is no row.
    """
    numbers = _needles(line, around=around)
    if not numbers:
        lines.append(line)
        return
    line = _alone(line, numbers)
    before = lines[-1] if lines else None
    if before is None or not _goes_on(before, line, numbers[0], text):
        lines.append(line)
        return
    shift = line.offset - before.offset
    moved = tree.moved(line.actions, shift)
    if line.label is not None and line.label.span.end > 0 and moved:
        here = tree.moved(line.label, shift).span
        moved = (replace(moved[0], span=here.cover(moved[0].span)), *moved[1:])
    label = before.label
    if label is not None and (label.name or "").startswith("needles ") and line.label is not None:
        label = replace(
            label, words=f"{label.words}, {line.label.words}"[:_FAR], name=_names(label, line.label)
        )
    end = line.offset + len(line.text)
    lines[-1] = replace(
        before, label=label, actions=(*_less_count(before.actions), *moved), text=text[before.offset : end]
    )


def names_needle(line: tree.Line) -> bool:
    """Whether a line may be a needle's, in a round or not."""
    return bool(_needles(line, around=True))


def _names(one: tree.Label, other: tree.Label) -> str:
    return f"{one.name} {(other.name or '').removeprefix('needles ')}"


def _needles(line: tree.Line, *, around: bool) -> tuple[int, ...]:
    """The needles that a line's label names; none if it is no such line."""
    label = line.label
    if label is None or not label.numbers or label.rule is not None:
        return ()
    named = (label.name or "").startswith("needle ")
    said = label.words.lower().rstrip(" .:").endswith(("needle", "needles"))
    return label.numbers if named or (around and said) else ()


def _alone(line: tree.Line, numbers: tuple[int, ...]) -> tree.Line:
    """A needle's line as a line without a row number, its steps worked on each needle that it names."""
    name = "needles " + " ".join(map(str, numbers))
    label = None if line.label is None else replace(line.label, numbers=(), name=name)
    if len(numbers) == 1:
        return replace(line, label=label)
    steps = tuple(a for a in line.actions if not isinstance(a, tree.Stated))
    rest = tuple(a for a in line.actions if isinstance(a, tree.Stated))
    if not steps:
        return replace(line, label=label)
    span = steps[0].span.cover(steps[-1].span)
    times = tree.Number(values=(len(numbers),), span=span)
    each = tree.Repeat(body=steps, times=times, said=tree.Said.IN_ALL, mark="", span=span)  # type: ignore[arg-type]
    return replace(line, label=label, actions=(each, *rest))


def _goes_on(before: tree.Line, line: tree.Line, first: int, text: str) -> bool:
    """Whether the needle goes on the round that the line before began."""
    between = text[before.offset + len(before.text) : line.offset]
    if before.label is None or before.sizes != line.sizes or before.options != line.options:
        return False
    if len(between) > _FAR or between.strip(" \t\n*_-–—>.;,") or _ends(before.actions):
        return False
    last = _last(before)
    if last is None:
        return first == 1 and not any(not isinstance(a, tree.Note) for a in before.actions)
    return first == last + 1


def _last(before: tree.Line) -> int | None:
    """The last needle that the line tells; None if it tells none."""
    name = (before.label.name if before.label is not None else None) or ""
    said = [int(n) for n in name.removeprefix("needles ").split()] if name.startswith("needles ") else []
    for m in _LATER.finditer(before.text):
        said += [int(n) for n in re.findall(r"\d+", m["d"] or "")] or [_ORDINALS[m["o"].lower()]]
    return max(said) if said else None


_ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5}
_LATER = re.compile(
    r"\b(?:(?:needles?|ndls?|n)\s*(?P<d>\d(?:\s*(?:,|&|and|-|–|to)+\s*\d)*)"
    r"|(?P<o>first|second|third|fourth|fifth)\s+needle)",
    re.IGNORECASE,
)


def _ends(actions: Sequence[tree.Action]) -> bool:
    """Whether the round of these actions is told to its end: something over whole rows follows it."""
    return any(isinstance(a, tree.RepeatRows | tree.WorkRows | tree.Shaping | tree.Again) for a in actions)


def _less_count(actions: tuple[tree.Action, ...]) -> tuple[tree.Action, ...]:
    """A count after one needle ("(8 sts)") is that needle's, and no total of the round."""
    return tuple(a for a in actions if not (isinstance(a, tree.Stated) and a.kind == "total"))
