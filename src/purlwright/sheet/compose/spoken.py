"""The words of a pattern as they are heard: stitches in full, repeats and groups told in words, no marks.

In: a told pattern for one size, and a way to knit other words. Out: edits that put every line of work into
spoken words. Each is tried on the needles: a line that would knit otherwise keeps her own words, written out.
"""

from __future__ import annotations

import re
from itertools import product
from typing import TYPE_CHECKING, TypeAlias

from purlwright.findings import Edit
from purlwright.pattern import tree
from purlwright.pattern.definitions import find_drafts
from purlwright.pattern.words import (
    action_words,
    label_words,
    number_words,
    place_words,
    statement_words,
    steps_words,
    times_words,
)
from purlwright.rewrite.compare import difference
from purlwright.sheet.compose.full import in_full
from purlwright.sheet.compose.places import edited
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.file import Pattern
    from purlwright.sheet.compose.asked import Again, Work

__all__ = ["spoken_edits", "spoken_steps"]

_Offer: TypeAlias = tuple[Span, tuple[str, ...]]
"""The place of a line, and its words as they may be said, the likeliest first."""
_COUNT = re.compile(r"\.?\s*\((?P<count>\d+ (?:stitch(?:es)?|sts?)\b[^()]*)\)\.?\s*$")
_RUN_ON = re.compile(r"(\brows? \d+(?: (?:to|and) \d+)?) (\d+ times)\b")
_RANGE = re.compile(r"\b(\d+)\s*[-–]\s*(\d+)\b")
_SIDES = {tree.Side.RS: "right side", tree.Side.WS: "wrong side"}


def spoken_edits(work: Work, knitted: Sequence[Knitted], again: Again, own: Mapping[str, str]) -> list[Edit]:
    """The edits, those kept that knit to the same fabric.

    work : a pattern of one size and one choice of options, and ``knitted`` what it gave.
    own : the pattern's own stitches by name, with their names in full.
    """
    offers: list[_Offer] = [
        (Span(line.offset, line.offset + len(line.text)), tuple(dict.fromkeys(_ways(line, own))))
        for section in work.pattern.sections
        for line in section.lines
        if not _is_talk(line) and (section.kind != "define" or line.label is not None)
    ]
    offers += _explained(work.pattern, own)
    return _settled(lambda edits: _same(work, knitted, again, edits), [o for o in offers if o[1]], [])


def _explained(pattern: Pattern, own: Mapping[str, str]) -> Iterator[_Offer]:
    """How each stitch of her own is worked, the words after its name."""
    lines = [(line, s.topic) for s in pattern.sections if s.kind == "define" for line in s.lines]
    for definition in pattern.definitions:
        end = definition.span.end
        for line, topic in lines:
            if line.offset <= end <= line.offset + len(line.text):
                drafts = find_drafts(line.text, line.offset, topic)
                start = next((d.offset for d in drafts if d.offset + len(d.words) == end), line.offset)
                yield Span(start, end), (_Speaker(own, ()).sentences(definition.steps),)
                break


def spoken_steps(steps: Sequence[tree.Action], own: Mapping[str, str]) -> str:
    """Steps of a row as they are heard, in one sentence."""
    return _Speaker(own, ()).sentences(steps)


def _settled(
    same: Callable[[Sequence[Edit]], bool], offers: Sequence[_Offer], kept: Sequence[Edit]
) -> list[Edit]:
    """``kept`` and, of the offers, all that leave the knitting the same: halved where not all do."""
    tried = [*kept, *(Edit(span, ways[0]) for span, ways in offers)]
    if not offers or same(tried):
        return tried
    if len(offers) == 1:
        span, ways = offers[0]
        others = ([*kept, Edit(span, words)] for words in ways[1:])
        return next((edits for edits in others if same(edits)), list(kept))
    half = len(offers) // 2
    return _settled(same, offers[half:], _settled(same, offers[:half], kept))


def _same(work: Work, knitted: Sequence[Knitted], again: Again, edits: Sequence[Edit]) -> bool:
    text, _ = edited(work.source.text, edits)
    now = again(text)
    if len(now.sizes) != len(knitted):
        return False
    return all(not difference(a, now.knitted(size)) for size, a in zip(now.sizes, knitted, strict=True))


def _is_talk(line: tree.Line) -> bool:
    return line.label is None and all(isinstance(a, tree.Note) for a in line.actions)


def _ways(line: tree.Line, own: Mapping[str, str]) -> Iterator[str]:
    """The line in spoken words; several where a number of repeats may be meant in two ways."""
    head = ""
    at = 0
    if line.label is not None:
        at = max(line.label.span.end, 0)
        side = _SIDES.get(line.label.side) if line.label.side is not None else None
        bare = label_words(line.label).replace(f" ({line.label.side})", "")
        head = f"{in_full(bare, own)}{f', {side}' if side else ''}: "
    if not any(isinstance(a, tree.Unread | tree.Choice) for a in line.actions):
        stars = _count_of_stars(line.actions)
        for more in product((True, False), repeat=min(stars, 3)):
            yield head + _Speaker(own, more).sentences(line.actions)
    rest = line.text[at:].lstrip(" :.–—-") if at else line.text
    yield head + _aloud(_COUNT.sub(r". \g<count>.", in_full(" ".join(rest.split()), own)))


def _count_of_stars(actions: Sequence[tree.Action]) -> int:
    """Repeats from a star with a number that may be in all or more."""
    return sum(
        (a.star and a.times is not None and a.said is tree.Said.TIMES) + _count_of_stars(a.body)
        for a in actions
        if isinstance(a, tree.Repeat)
    )


class _Speaker:
    """Steps put into spoken words. ``more`` says of each doubtful star whether its number comes on top."""

    def __init__(self, own: Mapping[str, str], more: Sequence[bool]) -> None:
        self.own = own
        self.more = list(more)

    def sentences(self, actions: Sequence[tree.Action]) -> str:
        """Steps in one sentence, each statement and each count in its own."""
        out: list[str] = []
        run: list[tree.Action] = []
        for action in (*actions, None):
            statement = action is not None and _is_statement(action)
            if action is not None and not statement and not isinstance(action, tree.Stated | tree.Note):
                run.append(action)
                continue
            if run:
                out.append(self.steps(run))
                run = []
            if isinstance(action, tree.Stated):
                out.append(in_full(action_words(action).strip("()[]"), self.own))
            elif action is not None:
                out.append(in_full(action_words(action), self.own))
        return " ".join(_sentence(words) for words in out if words)

    def steps(self, steps: Sequence[tree.Action]) -> str:
        """Steps with commas between them, groups told in words."""
        out: list[str] = []
        run: list[tree.Action] = []
        for step in (*steps, None):
            if step is not None and not isinstance(step, tree.Repeat | tree.Into):
                run.append(step)
                continue
            if run:
                out.append(in_full(steps_words(run), self.own))
                run = []
            if isinstance(step, tree.Repeat):
                out.append(self.repeat(step))
            elif isinstance(step, tree.Into):
                out.append(self.into(step))
        return ", ".join(words for words in out if words)

    def repeat(self, r: tree.Repeat) -> str:
        """``repeat the following 4 times: knit 2, purl 2, end of repeat``."""
        often = " across" if r.star else ""
        if r.to is not None:
            often = f" {in_full(place_words(r.to), self.own)}"
        elif r.times is not None:
            often = f" {times_words(self.times(r))}"
        return f"repeat the following{often}: {self.steps(r.body)}, end of repeat"

    def times(self, r: tree.Repeat) -> tree.Number:
        """How often in all."""
        if r.times is None:
            raise ValueError("a repeat without a number is told without one")
        on_top = r.star and (
            r.said is tree.Said.MORE
            or (r.said is tree.Said.TIMES and (self.more.pop(0) if self.more else True))
        )
        if not on_top or r.times.words is not None:
            return r.times
        return tree.Number(values=tuple(None if v is None else v + 1 for v in r.times.values))

    def into(self, i: tree.Into) -> str:
        """``work all of this into the next stitch: knit 1, yarn over, knit 1, end of group``."""
        count = number_words(i.count)
        if i.over > 1:
            where = f"the same {i.over} stitches"
        elif count == "1":
            where = "the next stitch"
        else:
            where = f"each of the next {count} stitches"
        return f"work all of this into {where}: {self.steps(i.steps)}, end of group"


def _is_statement(action: tree.Action) -> bool:
    """Whether it is said of whole rows."""
    return not steps_words((action,)) and bool(statement_words(action))  # type: ignore[arg-type]


def _aloud(words: str) -> str:
    """What reads well and sounds badly said otherwise: "rows 1-4"."""
    words = _RUN_ON.sub(r"\1, \2", _RANGE.sub(r"\1 to \2", words))
    return re.sub(r"\b(stitch(?:es)?) (increase|decrease)\b(?!d)", r"\1 \2d", words)


def _sentence(words: str) -> str:
    words = _aloud(words)
    head = words[0].upper() + words[1:]
    return head if head[-1] in ".!?" else f"{head}."
