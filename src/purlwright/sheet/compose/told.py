"""The pattern's text as this sheet tells it: one choice of options, and one size if a size is asked for.

In: a pattern and what is asked. Out: a :class:`Told`: a text that knits to the very same fabric, its pattern
and knittings, and the way back to her own words. What is not for this sheet falls out; named numbers are
printed as the numbers they are. Whether the knitting is the same is not believed but tried.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Edit
from purlwright.pattern.numbers import reckon
from purlwright.rewrite.compare import counts_differ, difference
from purlwright.rewrite.onesize import NotClear, chosen_lines
from purlwright.sheet.compose.asked import Asked, NoSheet
from purlwright.sheet.compose.left_handed import MIRRORED, mirrored_words
from purlwright.sheet.compose.measures import DECLARED, in_units, measures_in_inches
from purlwright.sheet.compose.places import Places, edited
from purlwright.sheet.compose.present import in_present_words
from purlwright.sheet.compose.spoken import spoken_edits
from purlwright.sheet.compose.terms import in_terms, terms_of
from purlwright.sheet.compose.wording import reworded
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.file import Pattern
    from purlwright.pattern.tree import Line
    from purlwright.pattern.words_names import Terms
    from purlwright.sheet.compose.asked import Again, Options, Work

__all__ = ["Told", "own_names", "tell"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """The text of a sheet, read and knitted. ``knitted`` has one entry a size, in the order of sizes."""

    work: Work
    knitted: tuple[Knitted, ...]
    places: Places
    terms: Terms = "US"
    left_handed: bool = False
    """Whether it is mirrored: charts and drawings follow."""
    spoken: bool = False
    """Whether it is to be heard: rows of charts are told so too."""
    in_inches: bool = False
    """Whether she gives the measures in inches."""
    kept: tuple[str, ...] = ()
    """Sentences on what was left as she wrote it though something else was asked."""

    @property
    def pattern(self) -> Pattern:
        return self.work.pattern

    @property
    def text(self) -> str:
        return self.work.source.text


_LENGTH = re.compile(r"\b(?:in|cm)$")
"""How an edit ends that gives a length in another unit."""


def tell(work: Work, asked: Asked, again: Again) -> Told:
    """The text for what is asked. Raises NoSheet with the reason."""
    now, places = work, Places()
    for change in (
        lambda w: _for_choice(w, asked.options),
        _numbers_printed,
        lambda w: _for_size(w, asked.size),
    ):
        edits = list(change(now))
        if edits:
            text, places = edited(now.source.text, edits, places)
            now = again(text)
    sizes = work.sizes if asked.size is None else (asked.size,)
    kept: list[str] = []
    if asked.left_handed:
        text, places = edited(now.source.text, mirrored_words(now.source.text), places)
        now = again(text)
        kept.append(MIRRORED)
    if asked.terms:
        old = now.pattern.header.terms == "old"
        words = in_present_words(now, asked.terms) if old else in_terms(now, asked.terms)
        put = reworded(now, words, again, places, errors=asked.unproved)
        now, places = put.work, put.places
        kept += _kept(put.kept, f"into {asked.terms} terms")
    if asked.units:
        edits_by_line = in_units(now, asked.units)
        both = in_units(now, "both") if asked.units != "both" else None
        if (
            both is not None
        ):  # the gauge keeps the length it was counted over: what is reckoned by it stays true
            gauges = {e.line for e in now.pattern.header.entries if e.known == "Gauge"}
            edits_by_line |= {n: both[n] for n in gauges & edits_by_line.keys()}
        put = reworded(now, edits_by_line, again, places, errors=asked.unproved, instead=both)
        now, places = put.work, put.places
        lengths = any(_LENGTH.search(e.words) for group in edits_by_line.values() for e in group)
        kept += [*([DECLARED[asked.units]] if lengths else []), *_kept(put.kept, "into other units")]
    if asked.spoken:
        text, places = edited(now.source.text, _for_the_ear(now, again), places)
        now = again(text)
    knitted = tuple(now.knitted(size) for size in now.sizes)
    terms = asked.terms or terms_of(work)
    told = Told(
        work=now, knitted=knitted, places=places, kept=tuple(kept), terms=terms,
        left_handed=asked.left_handed, spoken=asked.spoken, in_inches=measures_in_inches(work),
    )  # fmt: skip
    if not asked.unproved and now is not work:
        _same(work, asked, sizes, told)
    return told


def _for_the_ear(now: Work, again: Again) -> list[Edit]:
    """The words of work as they are heard. Raises NoSheet unless the text is of one size."""
    if len(now.sizes) > 1:
        raise NoSheet("A sheet to be heard is for one size: name the size.")
    return spoken_edits(now, [now.knitted(size) for size in now.sizes], again, own_names(now.pattern))


def own_names(pattern: Pattern) -> dict[str, str]:
    """Stitches and yarns of the pattern's own, which keep their names."""
    own = {d.name.casefold(): "" for d in pattern.definitions}
    return own | {yarn.name.casefold(): "" for yarn in pattern.yarns if yarn.name}


def _kept(lines: int, into: str) -> list[str]:
    """What is said of instructions that keep her words."""
    if not lines:
        return []
    many = f"{lines} instructions stand" if lines > 1 else "1 instruction stands"
    return [f"{many} as written: put {into}, the knitting would not be the same."]


def _same(work: Work, asked: Asked, sizes: tuple[str, ...], told: Told) -> None:
    """Raises NoSheet unless the told text knits to her fabric, stitch for stitch.

    Mirrored words are knitted here by a right-handed knitter, who takes up the other edge: of them every row
    must have the same counts.
    """
    for size, mine in zip(sizes, told.knitted, strict=True):
        hers = work.knitted(size, dict(asked.options))
        differs = counts_differ(hers, mine) if asked.left_handed else difference(hers, mine)
        if differs:
            raise NoSheet(f"It cannot be written for {_whom(asked, size)} alone: knitted alone, {differs}.")


def _whom(asked: Asked, size: str) -> str:
    chosen = " and ".join(f"{name} {value}" for name, value in asked.options)
    return f"size {size}" if asked.size is not None or not chosen else chosen


# --- one choice of options -----------------------------------------------------------------------

_ONLY = re.compile(r"\s*\bonly\s*:?\s*$", re.IGNORECASE)


def for_choice(limits: Options, chosen: dict[str, str]) -> bool:
    """Whether something with these limits is for the chosen values."""
    wanted: dict[str, list[str]] = {}
    for name, value in limits:
        wanted.setdefault(name, []).append(value)
    return all(chosen.get(name) in values for name, values in wanted.items())


def _for_choice(work: Work, options: Options) -> Iterator[Edit]:
    """Lines of other choices fall out, and the marks of this one; the options themselves are settled."""
    if not work.options:
        return
    source, chosen = work.source, dict(options)
    for entry in work.pattern.header.entries:
        if entry.known == "Options":
            yield Edit(_whole_lines(work, entry.key_span.start, entry.value_span.end), "")
    for section in work.pattern.sections:
        mine = for_choice(section.options, chosen)
        if section.span.end >= 0 and section.options:
            at = _ONLY.search(section.heading)
            if not mine:
                yield Edit(_whole_lines(work, *section.span), "")
            elif at is not None:
                yield Edit(Span(section.span.start + at.start(), section.span.end), "")
        for first, last in _blocks(section.lines):
            start = source.starts[first.line - 1]
            if not for_choice(first.options, chosen):
                yield Edit(_whole_lines(work, start, last.offset + len(last.text)), "")
            elif first.options and first.options != section.options:
                yield Edit(Span(start, first.offset), _sizes_only(first, section.sizes))


def _blocks(lines: tuple[Line, ...]) -> Iterator[tuple[Line, Line]]:
    """The first and the last of the rows that stand in one line of the text."""
    n = 0
    while n < len(lines):
        last = n
        while last + 1 < len(lines) and lines[last + 1].line == lines[n].line:
            last += 1
        yield lines[n], lines[last]
        n = last + 1


def _sizes_only(line: Line, outer: tuple[str, ...]) -> str:
    if not line.sizes or line.sizes == outer:
        return ""
    return f"{'Sizes' if len(line.sizes) > 1 else 'Size'} {', '.join(line.sizes)} only: "


def _whole_lines(work: Work, start: int, end: int) -> Span:
    """All of the lines of the text in which a stretch lies, with the line end."""
    source = work.source
    first, last = source.place(start)[0], source.place(max(start, end - 1))[0]
    stop = source.line_span(last).end
    return Span(source.starts[first - 1], min(stop + 1, len(source.text)))


# --- named numbers -------------------------------------------------------------------------------

_BRACES = re.compile(r"\{([^{}\n]{1,80})\}")


def _numbers_printed(work: Work) -> Iterator[Edit]:
    """Says "56 (64, 72)" for "{all}"; the list of named numbers falls out if none is left to look up."""
    pattern = work.pattern
    if not pattern.numbers:
        return
    named = {n.name.casefold(): n.values for n in pattern.numbers}
    sections = [s for s in pattern.sections if s.topic == "numbers" and s.lines]
    inside = [Span(s.lines[0].offset, s.lines[-1].offset + len(s.lines[-1].text)) for s in sections]
    settled = True
    for m in _BRACES.finditer(work.source.text):
        if any(span.start <= m.start() < span.end for span in inside):
            continue
        reckoned = reckon(m[1], named, len(pattern.sizes))
        if reckoned.problem is not None or any(v.denominator != 1 for v in reckoned.values):
            settled = False
            continue
        whole = [str(v) for v in reckoned.values]
        yield Edit(Span(*m.span()), whole[0] if len(whole) == 1 else f"{whole[0]} ({', '.join(whole[1:])})")
    if settled:
        for section in sections:
            last = section.lines[-1]
            yield Edit(_whole_lines(work, section.span.start, last.offset + len(last.text)), "")


# --- one size ------------------------------------------------------------------------------------


def _for_size(work: Work, size: str | None) -> Iterator[Edit]:
    """Each list of numbers as the number of this size; raises NoSheet where a line cannot be told so."""
    if size is None or len(work.sizes) < 2:
        return
    source = work.source
    try:
        kept = dict(chosen_lines(work.pattern, source.text.split("\n"), size))
    except NotClear as why:
        raise NoSheet(f"It cannot be written for size {size} alone: {why}.") from None
    for number in range(1, source.line_count + 1):
        span = source.line_span(number)
        if number not in kept:
            yield Edit(Span(span.start, min(span.end + 1, len(source.text))), "")
        elif kept[number] != source.line(number):
            yield Edit(span, kept[number])
