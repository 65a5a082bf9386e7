"""Family E, sizes: lists, words for some sizes only, and whether each size can be worked to the end."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read, of_the_work
from purlwright.proof.subject import Subject, at

__all__ = ["CANNOT_WORK", "JUDGES", "DashNotExplained", "SizeLeftOut"]

CANNOT_WORK = frozenset(
    {
        "C001",
        "C006",
        "C007",
        "C009",
        "C012",
        "C018",
        "C020",
        "C030",
        "C037",
        "C040",
        "C044",
        "C082",
        "C084",
        "C088",
    }
)
"""Checks whose errors mean that a knitter of that size is stuck; other errors are wrong numbers or sides."""


@dataclass(frozen=True, slots=True)
class SizeLeftOut:
    """A row is given for some sizes only, and the other sizes have no such row.

    A knitter of a size that is not named meets a number she has no words for. She cannot know whether to
    go straight on or whether her row fell out in print.

    Example: `Sizes child, adult only: Row 7: K2tog, knit to end.` and then, for all, `Row 8: Purl.`

    Cure: give the row for the other sizes too, or say "Size large: go on to row 8".
    """

    label_words: str
    left_out: tuple[str, ...]
    option: bool = False

    code = "size-left-out"
    check = "C048"
    severity = Severity.WARNING

    def message(self) -> str:
        names = " and ".join(self.left_out)
        one = len(self.left_out) == 1
        return f"{self.label_words} is not given for {'size' if one else 'sizes'} {names}."

    def label(self) -> str:
        return f"not for {', '.join(self.left_out)}"

    def help(self) -> str | None:
        return "Give this row for every size, or say which row the others go on to."


@dataclass(frozen=True, slots=True)
class DashNotExplained:
    """A list of sizes has a dash where a size has no number, and nothing says what the dash means.

    Some knitters pass the instruction over, as is meant; others take it for a fault of print and guess.

    Example: `Work 4 (-, 6) rows.` and nowhere a word of the dash.

    Cure: say once, among the notes: "A dash means that your size passes this instruction over."

    Source: common practice of technical editors, no single source.
    """

    words: str

    code = "dash-not-explained"
    check = "C048"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.words}" has a dash for a size, and nothing says what it means.'

    def label(self) -> str:
        return "no number for one size"

    def help(self) -> str | None:
        return 'Say once what it means: "a dash tells your size to pass this over".'


_DASH_TOLD = re.compile(
    r"\bdash(?:es)?\b|\bhyphens?\b|[\"“'(]\s*[-–—0]\s*[\"”')]\s*(?:means?|indicates?|shows?|stands)"
    r"|\b(?:if|where)\b[^.]{0,60}\b(?:no (?:number|figure)|0|zero|nothing)\b[^.]{0,40}\b(?:given|shown|size)",
    re.IGNORECASE,
)


def _dashes(subject: Subject) -> Iterator[Finding]:
    """One note, on the first list with a dash, where no line of the text speaks of it."""
    for line, number in subject.nodes(tree.Number):
        if len(number.values) > 1 and None in number.values and number.span.end >= 0:
            words = line.text[number.span.start : number.span.end]
            if not re.search(r"[-–—]", words):
                continue
            if not any(_DASH_TOLD.search(told.text) for told in subject.watched.lines):
                yield at(line, DashNotExplained(words), number.span)
            return


def _lists(actions: tuple[tree.Action, ...]) -> int:
    """How many lists of numbers some actions have."""
    return sum(isinstance(n, tree.Number) and len(n.values) > 1 for n in tree.walk(actions))


@of_the_work(_lists)
def judge_lists(subject: Subject) -> Answer:
    """C044: a list of the wrong length was found while reading."""
    lines = subject.lines
    told = [ln.label.next for ln in lines if ln.label is not None and ln.label.next is not None]
    in_labels = sum(len(number.values) > 1 for number in told)
    return Answer(places=in_labels + sum(subject.told_each(lines, _lists)))


def _left_out(lines: Sequence[tree.Line], sizes: Sequence[str]) -> list[Finding]:
    """Numbered rows of a section that some sizes lack although they have later numbers."""
    limited: dict[int, list[tree.Line]] = {}
    for line in lines:
        for number in line.label.numbers if line.label is not None else ():
            limited.setdefault(number, []).append(line)
    findings = []
    highest = max((n for n, given in limited.items() if any(not x.sizes for x in given)), default=0)
    for number, given in limited.items():
        if any(not line.sizes for line in given) or number > highest:
            continue
        served = {size for line in given for size in line.sizes}
        left = tuple(size for size in sizes if size not in served)
        label = given[0].label
        if left and label is not None:
            words = label.words.strip() or f"Row {number}"
            findings.append(at(given[0], SizeLeftOut(words, left), label.span))
    return findings


def judge_limits(subject: Subject) -> Answer:
    """C048."""
    places = sum(1 for line in subject.lines if line.sizes)
    findings: list[Finding] = []
    if places:
        for section in subject.pattern.sections:
            findings += _left_out(section.lines, subject.pattern.sizes)
    dashes = list(_dashes(subject))
    return Answer(places=places + len(dashes), findings=(*findings, *dashes))


def judge_every_size(subject: Subject) -> Answer:
    """C049: a size fails when a knitter of it is stuck; where she is stuck stands in a finding of its own."""
    if not any(way.knitted.ledger.pieces for way in subject.ways):
        return Answer(missing=not_read(subject) or "nothing is cast on")
    sizes = {way.size for way in subject.ways}
    stuck = {
        way.size
        for way in subject.ways
        for f in way.knitted.findings
        if f.severity is Severity.ERROR and f.check in CANNOT_WORK
    }
    return Answer(places=len(sizes), fails=bool(stuck), missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C044": judge_lists,
    "C048": judge_limits,
    "C049": judge_every_size,
}
