"""Family I, spelling and leftovers: slips of the key in trade words, blanks never filled, another garment's
name.

In: the text line by line. Out: C102. Only slips that make no other word are taken for slips, so that no
right word is called wrong; general spelling is left to the designer's own tools.
"""

# ruff: noqa: E501 - a table of words has one kind a line
from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import NamedTuple

from purlwright.findings import Edit, Finding, Fix, Severity
from purlwright.proof.answer import Answer
from purlwright.proof.parts import speaks_of
from purlwright.proof.same_again import same_again
from purlwright.proof.subject import Subject, at
from purlwright.proof.twice import said_twice
from purlwright.proof.watchwords import TextLine
from purlwright.text import Span

__all__ = ["JUDGES", "BlankNotFilled", "GarmentDiffers", "WordMisspelt"]


@dataclass(frozen=True, slots=True)
class WordMisspelt:
    """A trade word with a slip of the key in it.

    Knitters read through it, and think less of the numbers beside it.

    Example: `Cast on 40 stiches.`

    Cure: correct the spelling.
    """

    word: str
    right: str

    code = "word-misspelt"
    check = "C102"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.word}" looks like a slip for "{self.right}".'

    def label(self) -> str:
        return f"{self.right}?"

    def help(self) -> str | None:
        return f'Write "{self.right}".'


@dataclass(frozen=True, slots=True)
class BlankNotFilled:
    """A blank of a form that was never filled in.

    The number or name that belongs there is missing, and the sheet cannot be knitted without it.

    Example: `Work XX rows in garter stitch.`

    Cure: write what belongs there.
    """

    words: str

    code = "blank-not-filled"
    check = "C102"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.words}" is a blank that was never filled in.'

    def label(self) -> str:
        return "never filled in"

    def help(self) -> str | None:
        return "Write what belongs here."


@dataclass(frozen=True, slots=True)
class GarmentDiffers:
    """An instruction names another thing than the pattern makes.

    It is a leftover from the pattern that this one was copied from; the numbers beside it may be leftovers
    too.

    Example: `Work until the mitten measures 12 cm` in a pattern for a sock.

    Cure: name what is being made, and look at the numbers beside it.
    """

    word: str
    title: str

    code = "garment-differs"
    check = "C102"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.word}" stands here, and the pattern makes a {self.title}.'

    def label(self) -> str:
        return f"not a {self.title}"

    def help(self) -> str | None:
        return f'Write "{self.title}", and look at the numbers beside it.'


_TRADE = """ stitch stitches stitching knitting knitwise purlwise purling purled needle needles marker
markers repeat repeats repeating increase increases increasing decrease decreases decreasing remaining
beginning together garter stockinette ribbing pattern patterns between tapestry provisional reverse
shoulder shoulders armhole sleeve sleeves neckband finishing weaving blocking measure measures measurement
measurements measuring gauge tension slipped slipping through continue continuing continued working worked
alternate alternately following previous instructions abbreviations materials finished circular crochet
cable cables length height width weight separate separately stretched unstretched loosely evenly twice
times rounds gusset selvedge underarm raglan directed required """.split()
_REAL = frozenset(
    """maker makers paced lipped rouds patten rafted grated sleeve cable gable length lengths unstretched
    garter twice slipping sipping lipping blocking bloking purled puled pulled measure armhole need needles
    needed cabes time times ties works word words sheeves eves rings ribing rounds round rouns tines
    stitched worked wored creases crease repast repeal tension tensions reverse revers lopped loosely
    closely evenly eveny even thought though height eight weigh weight wight width with slipped sliped
    finish finishes inches markers markets market shoulder boulder needle needled neckband continue
    continues continued""".split()
)
_OWN_SLIPS = {
    "guage": "gauge", "gague": "gauge", "guages": "gauges", "seperate": "separate", "seperately": "separately", "begining": "beginning",
    "lenght": "length", "lenghts": "lengths", "widht": "width", "heigth": "height", "hieght": "height",
    "stockingette": "stockinette", "stockinnette": "stockinette", "stich": "stitch", "stiches": "stitches",
    "stitchs": "stitches", "alternatly": "alternately", "selvege": "selvedge", "untill": "until", "knitt": "knit",
    "pruchase": "purchase", "throught": "through", "accross": "across", "acros": "across", "wiht": "with",
    "teh": "the", "adn": "and", "rigth": "right", "ritgh": "right", "purlwsie": "purlwise", "kintwise": "knitwise",
    "tewlve": "twelve", "fourty": "forty", "nieghbour": "neighbour", "circluar": "circular", "colum": "column",
}  # fmt: skip
_LEAST = 6
"""Shorter words have too many right neighbours."""


@cache
def _slips() -> Mapping[str, str]:
    """Each slip, with the word meant: two letters changed round, one left out or struck twice."""
    known = {*_TRADE, *_REAL}
    out: dict[str, str] = {}
    for word in _TRADE:
        if len(word) < _LEAST:
            continue
        made = {word[:n] + word[n + 1] + word[n] + word[n + 2 :] for n in range(len(word) - 1)}
        made |= {word[:n] + word[n + 1 :] for n in range(1, len(word) - 1)}
        made |= {word[:n] + word[n] + word[n:] for n in range(len(word))}
        for slip in made - known:
            out.setdefault(slip, word)
    return {**out, **_OWN_SLIPS}


_LONG_WORD = re.compile(r"(?<![\w'’/-])[A-Za-z][a-z]{2,}(?![\w'’/-])")


def _misspelt(text: str) -> tuple[tuple[int, str, str], ...]:
    slips = _slips()
    out = []
    for m in _LONG_WORD.finditer(text):
        right = slips.get(m[0].lower())
        if right is not None:
            out.append((m.start(), m[0], right.capitalize() if m[0][0].isupper() else right))
    return tuple(out)


# Names of one thing stand together: none of a line is a leftover for another of it.
_GARMENTS = """
hat cap beanie bonnet helmet tam toque beret
mitten mittens mitt mitts glove gloves wristers gauntlets
sock socks stocking stockings bootee bootees slipper slippers bedsock
scarf cowl snood shawl shawlette wrap stole kerchief
sweater pullover jumper cardigan jacket vest tunic top coat slipover garment
blanket throw afghan
bag purse pouch
pillow cushion
dishcloth washcloth facecloth cloth
""".strip().split("\n")
_KIN = {name: set(line.split()) for line in _GARMENTS for name in line.split()}
_SAID = re.compile(
    r"\b(?:the|this|your)\s+(?P<name>"
    + "|".join(sorted(_KIN, key=len, reverse=True))
    + r")\b(?![- ](?:pattern|cuff|top|edge|shap|stitch|st\b))",
    re.IGNORECASE,
)
_ANY = re.compile(r"\b(?:" + "|".join(sorted(_KIN, key=len, reverse=True)) + r")\b", re.IGNORECASE)


def judge_leftovers(subject: Subject) -> Answer:
    """C102."""
    lines = [line for line in subject.watched.lines if line.text and line.sort != "chart"]
    taken = [f.span for f in subject.findings if f.span.end >= 0]
    findings: list[Finding] = []
    looked = [(line, told) for line in lines if (told := _look(line.text)) is not None]
    for line, told in looked:
        for start, word, right in told.misspelt:
            span = Span(line.offset + start, line.offset + start + len(word))
            if not _said_already(span, taken):
                fix = Fix(f'Write "{right}"', (Edit(span, right),))
                findings.append(Finding(problem=WordMisspelt(word, right), span=span, fix=fix))
    for line, heard in subject.watched.of("tbc", sorts=("words", "note", "header", "heading", "title")):
        span = line.span(heard)
        if not _said_already(span, taken):
            findings.append(Finding(problem=BlankNotFilled(line.words(heard)), span=span))
    findings += _garments(subject, looked)
    findings += [at(line, problem, span) for line, problem, span in same_again(subject)]
    findings += said_twice(subject)
    return Answer(places=len(lines), findings=tuple(findings))


def _said_already(span: Span, taken: list[Span]) -> bool:
    """Whether a finding of the reading stands on these words, and not on a whole stretch of rows."""
    return any(t.start <= span.start and span.end <= t.end for t in taken)


class _Looked(NamedTuple):
    """What a line has of it all."""

    misspelt: tuple[tuple[int, str, str], ...]
    said: tuple[tuple[int, str], ...]
    """The things that it speaks of: "the sock"."""
    names: frozenset[str]


@lru_cache(maxsize=16384)
def _look(text: str) -> _Looked | None:
    """What one line has; None for nothing."""
    names = _names_in(text)
    said = tuple((m.start("name"), m["name"]) for m in _SAID.finditer(text)) if names else ()
    looked = _Looked(_misspelt(text), said, names)
    return looked if any(looked) else None


def _names_in(text: str) -> frozenset[str]:
    return frozenset(m[0].lower() for m in _ANY.finditer(text))


def _garments(subject: Subject, looked: Sequence[tuple[TextLine, _Looked]]) -> Iterator[Finding]:
    """Instructions that name a thing of another sort than title, headings and description do."""
    made: set[str] = set()
    first = ""
    for line, told in looked:
        if line.sort in {"title", "heading", "header"}:
            first = first or next(iter(sorted(told.names)), "")
            made |= told.names
    header = getattr(subject.pattern, "header", None)
    for words, _ in header.description if header is not None else ():
        names = _names_in(words)
        first = first or next(iter(sorted(names)), "")
        made |= names
    if not first:
        return
    kin = {k for name in made for k in _KIN[name]}
    if speaks_of(subject, "sleeve"):
        kin.add("cap")  # of the sleeve
    described = {span.start for _, span in header.description} if header is not None else set()
    for line, told in looked:
        if line.sort == "words" and line.offset not in described:
            for start, name in told.said:
                if name.lower() not in kin:
                    span = Span(line.offset + start, line.offset + start + len(name))
                    yield Finding(problem=GarmentDiffers(name, first), span=span)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C102": judge_leftovers}
