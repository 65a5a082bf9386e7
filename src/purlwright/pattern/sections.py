"""Sections of a pattern, and the limits that lines and headings carry.

In: headings, and the words that stand before a line ("Sizes M, L only:", "double stitch only:"). Out: the
frozen :class:`Section`, and which sizes and choices a line is for. Reading the rest of the line is left to
``read``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, Literal

from purlwright.pattern import tree
from purlwright.pattern.problems import ChoiceUnknown, OptionUnclear, OptionUnused, SizeUnknown
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from purlwright.findings import Collector
    from purlwright.pattern.header import Option

__all__ = [
    "Limit", "Section", "copied_together", "may_limit", "read_limit", "read_limit_heading",
    "report_unused",
]  # fmt: skip

Kind = Literal["work", "define", "finishing"]
Topic = Literal["", "numbers", "abbreviations", "stitches", "notes", "called", "header"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """What stands under one heading, up to the next one.

    ``heading`` is "" for lines that stand under no heading. ``span`` is the heading's own words. ``kind``:
    "work" is knitted where it stands; "define" only when called (``topic`` says what it defines); "finishing"
    has the sewing up. ``sizes`` and ``options`` limit the whole section; its lines carry them too. ``copies``
    is how often "make 2" or "make both alike" under the heading asks for it, or None. ``unsure`` is true when
    the words fit both a definition and work: the printed counts choose.
    """

    heading: str = ""
    level: int = 0
    span: Span = NOWHERE
    line: int = 1
    kind: Kind = "work"
    topic: Topic = ""
    lines: tuple[tree.Line, ...] = ()
    sizes: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    copies: int | None = None
    unsure: bool = False


@dataclass(frozen=True, slots=True)
class Limit:
    """Which sizes (empty: all) and which choices something is for."""

    sizes: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()

    def within(self, outer: Limit) -> Limit:
        """Both limits at once."""
        sizes = self.sizes or outer.sizes
        if self.sizes and outer.sizes:
            sizes = tuple(s for s in self.sizes if s in outer.sizes) or self.sizes
        return Limit(sizes, tuple(dict.fromkeys((*outer.options, *self.options))))


_ONLY = re.compile(r"\s*(?P<who>[^:.;*(\[\n]{1,80}?)[ ]{1,8}only[ ]{0,8}:[ ]*", re.IGNORECASE)
_ALL = re.compile(r"\s*(?:(?:for|on)\s+)?all\s+sizes\s*:\s*", re.IGNORECASE)
_ONLY_HEADING = re.compile(r"\s*(?P<who>.{1,80}?)\s{1,8}only\s{0,8}:?$", re.IGNORECASE)
_MAY_LIMIT = re.compile(r"\b(?:only|sizes)\s{0,8}:", re.IGNORECASE)
_AND = re.compile(r"\s*(?:,\s*and\s+|,|&|\band\b|\bor\b|/)\s*")
_SIZES = re.compile(r"(?:for\s+)?(?:the\s+)?sizes?\s+", re.IGNORECASE)


def _who(
    words: str, at: int, sizes: tuple[str, ...], options: tuple[Option, ...], findings: Collector
) -> Limit | None:
    """("Sizes" NAME ("," NAME)*) | OPTION? VALUE ("," VALUE)*. None if the words name neither."""
    span = Span(at, at + len(words))
    m = _SIZES.match(words)
    by_name = {s.lower(): s for s in sizes}
    names = [n for n in _AND.split(words[m.end() :] if m else words) if n.strip()]
    if m is not None:
        known = []
        for name in names:
            size = by_name.get(name.strip().lower())
            if size is None:
                findings.report(SizeUnknown(name.strip(), sizes), span)
            else:
                known.append(size)
        return Limit(sizes=tuple(known))
    low = " ".join(words.lower().split())
    low = low.removeprefix("for ").removeprefix("the ")
    for option in options:
        for value in option.values:
            if low == f"{option.name} {value}".lower():
                return Limit(options=((option.name, value),))
    holders = [(o, v) for o in options for v in o.values if low in {v.lower(), f"{v.lower()} version"}]
    if holders:
        if len(holders) > 1:
            findings.report(OptionUnclear(holders[0][1], tuple(o.name for o, _ in holders)), span)
        option, value = holders[0]
        return Limit(options=((option.name, value),))
    if names and all(n.strip().lower() in by_name for n in names):
        return Limit(sizes=tuple(by_name[n.strip().lower()] for n in names))
    for option in options:
        by_value = {v.lower(): v for v in option.values}
        if len(names) > 1 and all(n.strip().lower() in by_value for n in names):
            return Limit(options=tuple((option.name, by_value[n.strip().lower()]) for n in names))
    return None


_OTHER_WORDS = re.compile(
    r"\b(?:rows?|rnds?|rounds?|rs|ws|sides?|sts?|stitch(?:es)?|needles?|edges?|ends?|version|colou?rs?)\b|\d",
    re.IGNORECASE,
)


def _unknown(
    words: str, at: int, sizes: tuple[str, ...], options: tuple[Option, ...], findings: Collector
) -> bool:
    """Whether "picto only:" is meant as a limit and names no choice; the finding is made."""
    if not options or len(words.split()) > 3 or _OTHER_WORDS.search(words):
        return False
    known = (*(v for o in options for v in o.values), *sizes)
    close = get_close_matches(words.lower(), [k.lower() for k in known], n=2, cutoff=0.75)
    nearest = next((k for k in known if k.lower() == close[0]), "") if len(close) == 1 else ""
    findings.report(ChoiceUnknown(words.strip(), known, nearest), Span(at, at + len(words)))
    return True


def may_limit(text: str) -> bool:
    """Whether a line can begin with a limit at all."""
    return _MAY_LIMIT.search(text) is not None


def read_limit(
    text: str, offset: int, sizes: tuple[str, ...], options: tuple[Option, ...], findings: Collector
) -> tuple[Limit, int]:
    """(WHO "only:")*: "Sizes M, L only: Row 5: ..." gives the limit and where the line's own words begin.

    ``offset`` is where ``text`` stands in the source. Words that name no size and no choice are no limit.
    """
    limit = Limit()
    at = 0
    for _ in range(4):
        m = _ALL.match(text, at)
        if m is not None:
            at = m.end()
            continue
        m = _ONLY.match(text, at)
        if m is None:
            break
        found = _who(m["who"], offset + m.start("who"), sizes, options, findings)
        if found is None and _unknown(m["who"], offset + m.start("who"), sizes, options, findings):
            found = Limit()
        if found is None:
            break
        limit = found.within(limit)
        at = m.end()
    return limit, at


def read_limit_heading(
    heading: str, offset: int, sizes: tuple[str, ...], options: tuple[Option, ...], findings: Collector
) -> Limit | None:
    """WHO "only": a heading such as "double stitch only". Other headings give None."""
    m = _ONLY_HEADING.match(heading.rstrip())
    return None if m is None else _who(m["who"], offset + m.start("who"), sizes, options, findings)


def report_unused(options: tuple[Option, ...], limits: Iterable[Limit], findings: Collector) -> None:
    """A finding for every choice that no line is for; only a note for the usual one if another has lines."""
    used = {pair for limit in limits for pair in limit.options}
    for option in options:
        any_used = any((option.name, v) in used for v in option.values)
        for n, value in enumerate(option.values):
            if (option.name, value) in used:
                continue
            span = option.spans[n] if n < len(option.spans) else option.span
            findings.report(OptionUnused(option.name, value, value == option.usual and any_used), span)


_ONE_EACH = re.compile(r"\b(?:left|right|first|second|1st|2nd|one|other|both)\b", re.IGNORECASE)

_TOP = re.compile(
    r"\b(?:caps?|(?:sleeve|top|cap) shaping|sleeve (?:top|head)|top of sleeves?)\b", re.IGNORECASE
)


def _leaves_loops(section: Section) -> bool:
    """Whether what it works is still on the needle at its end."""
    return not any(
        isinstance(a, tree.Gather | tree.Close)
        or (isinstance(a, tree.BindOff) and a.count is None and a.keep is None)
        or (isinstance(a, tree.Hold) and a.count is None)
        for line in section.lines
        for a in line.actions
    )


def copied_together(sections: Sequence[Section]) -> Iterator[list[Section]]:
    """Sections that are worked, in order; one that is made several times stands with those below its heading.

    The cap under "Sleeves (make 2)" belongs to each sleeve; so does one beside it, if the sleeve is left on
    the needle. Headings that name one of the copies ("Left front" under "Fronts") are worked once each as
    they stand.
    """
    at = 0
    while at < len(sections):
        first = sections[at]
        at += 1
        if first.kind == "define":
            continue
        end = at
        if (first.copies or 1) > 1 and first.level:
            goes_on = _leaves_loops(first)
            while end < len(sections) and sections[end].kind == "work":
                s = sections[end]
                if s.level < first.level or (
                    s.level == first.level and not (goes_on and _TOP.search(s.heading))
                ):
                    break
                end += 1
            below = sections[at:end]
            if any(s.copies is not None or _ONE_EACH.search(s.heading) for s in below):
                end = at
        yield [first, *sections[at:end]]
        at = end
