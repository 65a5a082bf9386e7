"""Words that stand twice running: "Knit to last 4 sts, knit to last 4 sts, turn."

In: the working lines. Out: one finding a line for C102. Single stitches are left to
``same_again``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from purlwright.findings import Edit, Finding, Fix, Related, Severity
from purlwright.pattern import tree
from purlwright.proof.subject import Subject
from purlwright.text import Span

__all__ = ["SaidTwice", "said_twice"]


@dataclass(frozen=True, slots=True)
class SaidTwice:
    """The same words stand twice, one after the other.

    Once the needle has been worked to a place nothing is left to work to it again: the second time is a slip
    of the hand, or stands where something else should.

    Example: `Row 4: Knit to 4 sts before gap, knit to 4 sts before gap, w&t.`

    Cure: take one of them out, or write what belongs there. Source: common practice, no source.
    """

    words: str

    code = "said-twice"
    check = "C102"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.words}" stands twice, one after the other.'

    def label(self) -> str:
        return "again"

    def help(self) -> str | None:
        return "Take one of them out, or write what belongs here."


_CLAUSE = re.compile(r"[^,;.:()\[\]*]+")
_PAUSE = re.compile(r"\s*[,;.]\s*(?:and\s+|then\s+)?")
_REACHES = re.compile(r"\b(?:to|rows?|rnds?|rounds?|times|all|before|until)\b", re.IGNORECASE)
_ONE_STITCH = re.compile(r"(?:\d+\s+)?[\w&/]+(?:\s+\d+)?|(?:sl(?:ip)?|place|remove)\s.*", re.IGNORECASE)
_FILLS = frozenset({"knit", "purl", "rib"})


@lru_cache(maxsize=16384)
def _twice(text: str) -> tuple[tuple[int, int, int], ...]:
    """Where words stand again: where the pause before them begins, where they begin, and where they end."""
    out = []
    before = None
    for m in _CLAUSE.finditer(text):
        words = " ".join(m[0].lower().split())
        lead = re.match(r"(?:and|then) ", words)
        words = words[lead.end() :] if lead else words
        if words and before is not None and words == before[0] and _says_much(words):
            pause = text[before[1] : m.start()]
            if _PAUSE.fullmatch(pause):
                start = m.start() + len(m[0]) - len(m[0].lstrip())
                out.append((before[1], start, m.start() + len(m[0].rstrip())))
        before = (words, m.start() + len(m[0].rstrip()))
    return tuple(out)


def _says_much(words: str) -> bool:
    """Whether words are more than one stitch that may well be worked twice."""
    if words in _FILLS:
        return True
    if not any(c.isalpha() for c in words):
        return False  # the dashes of a list of sizes
    if _ONE_STITCH.fullmatch(words):
        return False
    return _REACHES.search(words) is not None or not any(c.isdigit() for c in words)


def _first_twice(text: str) -> tuple[tuple[int, int, int], ...]:
    return _twice(text)[:1] if "," in text or ";" in text or ". " in text else ()


def _rows_again(subject: Subject) -> Iterator[Finding]:
    """A row under its own number that stands on two lines running, word for word."""
    for one, again in pairwise(subject.lines):
        if one.text != again.text or again.label is None or not _NUMBERED.match(again.text):
            continue
        if (one.sizes, one.options) != (again.sizes, again.options):
            continue  # each for knitters of its own
        whole = Span(again.offset, again.offset + len(again.text))
        fix = Fix("Take the line out once", (Edit(Span(whole.start - 1, whole.end), ""),))
        related = (Related(Span(one.offset, one.offset + len(one.text)), "here already"),)
        yield Finding(problem=SaidTwice(again.label.words), span=whole, related=related, fix=fix)


_NUMBERED = re.compile(r"\s*(?:rows?|rnds?|rounds?)\s*\d|\s*\d+(?:st|nd|rd|th)\b", re.IGNORECASE)


def said_twice(subject: Subject) -> Iterator[Finding]:
    """One finding for each working line with words that stand again, and for each that stands twice."""
    yield from _rows_again(subject)
    told = subject.told_texts(_first_twice)
    for line, met in zip(subject.lines, told, strict=True) if any(told) else ():
        if not met or all(isinstance(a, tree.Note) for a in line.actions):
            continue
        for pause, start, end in met:
            words = line.text[start:end]
            fix = Fix(f'Take "{words}" out once', (Edit(Span(line.offset + pause, line.offset + end), ""),))
            span = Span(line.offset + start, line.offset + end)
            yield Finding(problem=SaidTwice(words), span=span, fix=fix)
