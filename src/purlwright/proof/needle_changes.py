"""Family J, needles: two sizes of needle are both called for, and a change is a change.

In: the header's Needles and the words "larger" and "smaller" as the rows say them. Out: C107.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from purlwright.findings import Finding, Related, Severity
from purlwright.pattern import tree
from purlwright.pattern.header import Entry, Header
from purlwright.proof.answer import Answer
from purlwright.proof.needle_lengths import judge_lengths
from purlwright.proof.notions import header_entries
from purlwright.proof.subject import Subject
from purlwright.proof.watchwords import Heard, TextLine
from purlwright.text import Span

__all__ = ["JUDGES", "ChangeToSame", "NeedleNeverCalled", "NeedleNotListed"]


@dataclass(frozen=True, slots=True)
class NeedleNeverCalled:
    """Two sizes of needle are listed, and the words never go over to one of them.

    The change that fell out is mostly the one after a ribbing: the whole piece is then knitted on the wrong
    needle, and comes out too small or too large.

    Example: `Needles: 4 mm and 3.5 mm`, `With the smaller needles cast on 96 sts`, and no `Change to the
    larger needles` after the ribbing.

    Cure: say at which row the other needles are taken, or list one size.
    """

    which: str
    sizes: str

    code = "needle-never-called"
    check = "C107"
    severity = Severity.WARNING

    def message(self) -> str:
        if self.which:
            return f"Needles of {self.sizes} are listed, and no row goes over to the {self.which} ones."
        return f"Needles of {self.sizes} are listed, and no row says which of them to use."

    def label(self) -> str:
        return f"{self.which or 'two sizes'}: never called for"

    def help(self) -> str | None:
        if self.which:
            return f"Say at which row to change to the {self.which} needles."
        return "Say which needles to cast on with, and where to change, or list one size."


@dataclass(frozen=True, slots=True)
class NeedleNotListed:
    """The rows speak of larger or smaller needles, and the list has one size.

    A knitter cannot know how much larger; the gauge of that part is left to chance.

    Example: `Needles: 4 mm` and `Change to the larger needles.`

    Cure: list both sizes, and say which is for what.
    """

    words: str
    size: str

    code = "needle-not-listed"
    check = "C107"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.words}" needles are called for, and the list has one size, {self.size}.'

    def label(self) -> str:
        return "which size?"

    def help(self) -> str | None:
        return "List both sizes of needle."


@dataclass(frozen=True, slots=True)
class ChangeToSame:
    """A change to the needles that are in use already.

    One of the two places names the wrong needles, or the change between them fell out.

    Example: `With the larger needles cast on 96 sts`, and after the ribbing `Change to the larger needles.`

    Cure: correct the place that names the wrong needles.
    """

    which: str

    code = "change-to-same"
    check = "C107"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"This changes to the {self.which} needles, and the {self.which} ones are in use already."

    def label(self) -> str:
        return "in use already"

    def help(self) -> str | None:
        return "Correct this needle, or the one named before it."


_MM = re.compile(r"(?<![\d.,])(?P<n>\d{1,2}(?:\.\d{1,2})?) ?mm\b", re.IGNORECASE)
_LONG = 12
"""Needles thicker than this many mm are lengths or yarn, not needles of a set."""
_PURPOSE = re.compile(r"\b(?:for|to|spare|or|graft|cast|bind|optional)\b", re.IGNORECASE)
_RANGE = re.compile(r"\d ?(?:-|–|to) ?\d[\d.]* ?mm", re.IGNORECASE)


def _sizes(entries: list[Entry]) -> list[Fraction]:
    """The sizes listed, in mm, from large to small; none if the words give a range or a purpose."""
    if any(_RANGE.search(e.value) for e in entries):
        return []
    found = {Fraction(m["n"]) for e in entries for m in _MM.finditer(e.value)}
    return sorted((n for n in found if n < _LONG), reverse=True)


def _of_needles(line: TextLine, heard: Heard) -> bool:
    """Whether "larger" is said of needles, by a needle word close behind it."""
    return any(h.kind == "needle" and 0 <= h.start - heard.end <= 24 for h in line.heard)


def judge_needles(subject: Subject) -> Answer:
    """C107: changes of needle, and whether the stitches fit the length of those that are listed."""
    besides = (Header, "larger", "smaller", "mm", *_OTHERWISE, tree.CastOn)
    known: Answer | None = subject.of_work(judge_needles, *besides) if subject.calm else None
    if known is not None:
        return known
    changes = judge_needle_changes(subject)
    places, findings = judge_lengths(subject)
    answer = Answer(
        places=changes.places + places, findings=(*changes.findings, *findings), missing=changes.missing
    )
    if not (places or answer.findings or answer.missing):  # how small rounds are worked may stand in any line
        subject.keep_of_work(judge_needles, answer, *besides)
    return answer


def judge_needle_changes(subject: Subject) -> Answer:
    """C107, as to changes."""
    entries = header_entries(subject, frozenset({"Needles"}))
    watched = subject.watched
    called = [
        (line, h)
        for line, h in watched.of("larger", "smaller", sorts=("words", "note"))
        if _of_needles(line, h)
    ]
    called.sort(key=lambda c: (c[0].number, c[1].start))
    if not entries:
        return Answer(missing="the pattern has no list of needles" if called else None)
    sizes = _sizes(entries)
    if len(sizes) < 2:
        return _one_size(called, sizes, entries)
    by_size = {
        Fraction(line.words(h).split("mm")[0].strip())
        for line, h in watched.of("mm", sorts=("words", "note"))
    }
    cast_on = [line.line for line, node in subject.nodes(tree.CastOn) if node.at == "start"]
    findings = [
        *_never_called(called, sizes, by_size, entries),
        *_never_gone_over(subject, called, sizes, by_size, entries),
        *_changes(called, cast_on),
    ]
    return Answer(places=len(called) + len(by_size) or 1, findings=tuple(findings))


def _one_size(called: list[tuple[TextLine, Heard]], sizes: list[Fraction], entries: list[Entry]) -> Answer:
    """One size listed: nothing may be larger or smaller than it."""
    spoken = [(line, h) for line, h in called if line.sort == "words"]
    words = " ".join(e.value for e in entries).lower()
    if not spoken or len(sizes) != 1 or "size" in words or "and" in words.split() or "larger" in words:
        return Answer(places=len(spoken))
    line, heard = spoken[0]
    problem = NeedleNotListed(line.words(heard).split()[0].split("-")[0], f"{_said(sizes[0])} mm")
    return Answer(places=len(spoken), findings=(Finding(problem=problem, span=line.span(heard)),))


def _said(size: Fraction) -> str:
    return f"{float(size):g}"


def _kind(heard: Heard) -> str:
    return "larger" if heard.kind == "larger" else "smaller"


def _never_called(
    called: list[tuple[TextLine, Heard]], sizes: list[Fraction], by_size: set[Fraction], entries: list[Entry]
) -> Iterator[Finding]:
    """Two sizes are listed, and only one of them is spoken of, from the cast-on."""
    if by_size or len(sizes) != 2 or any(_PURPOSE.search(e.value) for e in entries):
        return
    both = f"{_said(sizes[0])} and {_said(sizes[1])} mm"
    span = entries[0].value_span
    if not called:
        yield Finding(problem=NeedleNeverCalled("", both), span=span)
        return
    kinds = {_kind(h) for _, h in called}
    line, heard = called[0]
    began = any(w in line.text.lower() for w in ("cast on", "cast-on", "pick up"))
    changes = any(h.kind == "change" and h.end <= heard.start for h in line.heard)
    if len(kinds) == 1 and began and not changes:
        other = "smaller" if "larger" in kinds else "larger"
        size = sizes[1] if other == "smaller" else sizes[0]
        m = next(
            (Span(e.value_span.start + m.start(), e.value_span.start + m.end())
             for e in entries for m in _MM.finditer(e.value) if Fraction(m["n"]) == size), span,
        )  # fmt: skip
        yield Finding(
            problem=NeedleNeverCalled(other, both),
            span=m,
            related=(Related(line.span(heard), "begun with these"),),
        )


_BEGINS = re.compile(r"\b(?:cast(?:ing)? on|CO|pick(?:ing)? up)\b", re.IGNORECASE)
_OTHERWISE = ("larger", "smaller", "dpn", "change")


def _never_gone_over(
    subject: Subject,
    called: list[tuple[TextLine, Heard]],
    sizes: list[Fraction],
    by_size: set[Fraction],
    entries: list[Entry],
) -> Iterator[Finding]:
    """Needles are called by their size from the cast-on, and one of the two sizes listed never is."""
    never = [n for n in sizes if n not in by_size]
    if len(sizes) != 2 or len(never) != 1 or called or any(_PURPOSE.search(e.value) for e in entries):
        return
    watched = subject.watched
    if watched.any(*_OTHERWISE, sorts=("words", "note", "heading")) or not _begun_with(subject):
        return
    place = next(
        Span(e.value_span.start + m.start(), e.value_span.start + m.end())
        for e in entries for m in _MM.finditer(e.value) if Fraction(m["n"]) == never[0]
    )  # fmt: skip
    line, heard = next(watched.of("mm", sorts=("words", "note")))
    problem = NeedleNeverCalled(f"{_said(never[0])} mm", f"{_said(sizes[0])} and {_said(sizes[1])} mm")
    yield Finding(
        problem=problem, span=place, related=(Related(line.span(heard), "the only ones called for"),)
    )


def _begun_with(subject: Subject) -> bool:
    """Whether every needle that the rows name by its size is named where the work begins."""
    return all(_BEGINS.search(line.text) for line, _ in subject.watched.of("mm", sorts=("words", "note")))


def _changes(called: list[tuple[TextLine, Heard]], cast_on: list[int]) -> Iterator[Finding]:
    """Changes to what is in use already. A cast-on begins afresh; lines for some choices are left out."""
    in_use: tuple[str, Span] | None = None
    before = 0
    for line, heard in called:
        if any(before < n <= line.number for n in cast_on):
            in_use = None
        before = line.number
        if line.sort != "words" or " only:" in line.text:
            in_use = None
            continue
        kind, span = _kind(heard), line.span(heard)
        change = any(h.kind == "change" and 0 <= heard.start - h.end <= 16 for h in line.heard)
        if change and in_use is not None and in_use[0] == kind:
            yield Finding(
                problem=ChangeToSame(kind),
                span=span,
                related=(Related(in_use[1], f"the {kind} ones from here"),),
            )
        in_use = (kind, span)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C107": judge_needles}
