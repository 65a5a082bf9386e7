"""Family I, letters: colours and markers go by one letter each, and each letter is in the list.

In: the header's yarns, and the colours, markers and charts that rows name. Out: C097.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from purlwright.findings import Finding, Related, Severity
from purlwright.pattern import tree
from purlwright.pattern.header import Header, YarnEntry
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject, at, with_colour
from purlwright.text import Span

__all__ = ["JUDGES", "ColourListedTwice", "ColourNeverUsed", "ColourNotListed", "LetterTwoThings"]


@dataclass(frozen=True, slots=True)
class ColourNotListed:
    """A row names a yarn by a letter that the list of yarns does not have.

    A knitter does not know which ball to take; mostly the letter is left over from an earlier colouring.

    Example: `Yarn: A, wool` and `Yarn: B, wool`; row 9 says `With C, knit.`

    Cure: name one of the yarns of the list, or add this one to it.
    """

    colour: str
    listed: tuple[str, ...]

    code = "colour-not-listed"
    check = "C097"
    severity = Severity.WARNING

    def message(self) -> str:
        known = ", ".join(self.listed)
        return f'"{self.colour}" is used here, and the yarns listed are {known}.'

    def label(self) -> str:
        return "not among the yarns"

    def help(self) -> str | None:
        return f'Name one of the yarns listed, or add "{self.colour}" to them.'


@dataclass(frozen=True, slots=True)
class ColourNeverUsed:
    """A yarn is listed by a letter, and nothing in the pattern names it.

    A knitter buys a ball for nothing, or the rows that should use it name another.

    Example: `Yarn: CC2, wool, yellow`, and CC2 in no row and no chart.

    Cure: take it out of the list, or name it where it is used.
    """

    colour: str

    code = "colour-never-used"
    check = "C097"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'The yarn "{self.colour}" is listed, and nothing in the pattern names it.'

    def label(self) -> str:
        return "never used"

    def help(self) -> str | None:
        return "Take it out of the list, or name it where it is used."


@dataclass(frozen=True, slots=True)
class ColourListedTwice:
    """Two yarns are listed by one letter.

    `With A` then leaves open which of them.

    Example: `Yarn: A, wool, dark blue` and, two lines on, `Yarn: A, wool, pale sand`.

    Cure: give each yarn a letter of its own.
    """

    colour: str

    code = "colour-listed-twice"
    check = "C097"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'Two yarns are listed as "{self.colour}".'

    def label(self) -> str:
        return "this letter again"

    def help(self) -> str | None:
        return "Give each yarn a letter of its own."


@dataclass(frozen=True, slots=True)
class LetterTwoThings:
    """One letter or abbreviation stands for two things.

    A knitter who meets it in a row has to guess which is meant.

    Example: yarn `A` and marker `A`: `Knit to A`. Or `m1` the increase and `M1` the first marker.

    Cure: give one of the two another name.
    """

    letter: str
    one: str
    other: str

    code = "letter-two-things"
    check = "C097"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.letter}" is {self.one} and {self.other}.'

    def label(self) -> str:
        return f"also {self.other}"

    def help(self) -> str | None:
        return "Give one of the two another name."


def judge_letters(subject: Subject) -> Answer:
    """C097. Where no row names a yarn or a marker by a letter, the list in the header is all there is."""
    besides = (Header, tree.Yarn, tree.Rejoin, tree.Marker, with_colour)
    known: Answer | None = subject.of_work(judge_letters, *besides) if subject.calm else None
    if known is not None:
        return known
    header = getattr(subject.pattern, "header", None)
    yarns: tuple[YarnEntry, ...] = header.yarns if header is not None else ()
    named = {y.name.upper(): y for y in reversed(yarns) if y.name}
    colours = _colours(subject)
    markers = _markers(subject)
    places = len(named) + len(colours) + len(markers)
    if not places:
        return Answer()
    findings = list(_two_things(subject, named, colours, markers))
    if colours and not named:
        return Answer(
            places=places, findings=tuple(findings), missing="the pattern has no list of yarns by letter"
        )
    if not named:
        return Answer(places=places, findings=tuple(findings))
    findings += _twice(yarns)
    listed = tuple(y.name for y in yarns if y.name)
    for letter, (line, span, words) in colours.items():
        if letter not in named and _like(letter, named):
            findings.append(at(line, ColourNotListed(words, listed), span))
    findings += _never(subject, yarns, colours)
    answer = Answer(places=places, findings=tuple(findings))
    if not (findings or colours or markers):
        subject.keep_of_work(judge_letters, answer, *besides)
    return answer


def _like(letter: str, named: Mapping[str, YarnEntry]) -> bool:
    """A letter of the same sort as those listed: not "blue" where letters are listed, nor "CC" for "CC1"."""
    short = re.compile(r"[A-Z]\d?|MC|CC\d?|C\d")
    ends = all(short.fullmatch(name) for name in named)
    return bool(ends and short.fullmatch(letter)) and not any(
        name.startswith(letter) or letter.startswith(name) for name in named if len(name) > 1
    )


def _colours(subject: Subject) -> dict[str, tuple[tree.Line, Span, str]]:
    """Each yarn letter that rows name, in capitals, with its first place and its words."""
    out: dict[str, tuple[tree.Line, Span, str]] = {}
    yarns, labels = subject.nodes(tree.Yarn), subject.nodes(tree.Label)
    for named in (yarns, subject.coloured, labels, subject.nodes(tree.Rejoin)):
        for line, node in named:
            colour = node.colour
            if colour:
                out.setdefault(colour.upper().replace(" ", ""), (line, node.span, colour))
    return out


def _markers(subject: Subject) -> dict[str, tuple[tree.Line, Span]]:
    out: dict[str, tuple[tree.Line, Span]] = {}
    for line, node in subject.nodes(tree.Marker):
        if node.name:
            out.setdefault(node.name.upper(), (line, node.span))
    return out


def _two_things(
    subject: Subject,
    named: Mapping[str, YarnEntry],
    colours: Mapping[str, tuple[tree.Line, Span, str]],
    markers: Mapping[str, tuple[tree.Line, Span]],
) -> Iterator[Finding]:
    for letter, (line, span) in markers.items():
        if len(letter) > 3:
            continue
        if letter in named or letter in colours:
            related = (Related(named[letter].span, "the yarn"),) if letter in named else ()
            yield at(line, LetterTwoThings(letter, "a marker", "a yarn"), span, related)
        elif letter == "M1":
            found = next(((ln, n) for ln, n in subject.nodes(tree.Work) if n.stitch.upper() == "M1"), None)
            if found is not None:
                there = Span(found[1].span.start + found[0].offset, found[1].span.end + found[0].offset)
                yield at(
                    line,
                    LetterTwoThings(letter, "a marker", "an increase"),
                    span,
                    [Related(there, "the increase")],
                )


def _twice(yarns: tuple[YarnEntry, ...]) -> Iterator[Finding]:
    seen: dict[str, YarnEntry] = {}
    for yarn in yarns:
        first = seen.setdefault(yarn.name.upper(), yarn)
        if yarn.name and first is not yarn and first.words != yarn.words:
            related = (Related(first.span, f'"{first.name}" the first time'),)
            yield Finding(problem=ColourListedTwice(yarn.name), span=yarn.span, related=related)


def _never(
    subject: Subject, yarns: tuple[YarnEntry, ...], colours: Mapping[str, tuple[tree.Line, Span, str]]
) -> Iterator[Finding]:
    """Yarns after the first that no word outside the header names, where some other yarn is named."""
    if not colours:
        return
    words = "\n".join(line.text for line in subject.watched.lines if line.sort != "header")
    for yarn in yarns[1:]:
        name = yarn.name
        if (
            name
            and name.upper() not in colours
            and not re.search(rf"(?<![A-Za-z0-9]){re.escape(name)}(?![A-Za-z0-9])", words)
        ):
            yield Finding(problem=ColourNeverUsed(name), span=yarn.span)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C097": judge_letters}
