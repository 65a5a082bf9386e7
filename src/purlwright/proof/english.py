"""Family I, words: one English, and no word or number with two trade meanings left open.

In: the words heard, and the readings that the reader kept. Out: C096, C100.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from purlwright.findings import Finding, Related, Severity
from purlwright.pattern.header import Header
from purlwright.proof.answer import Answer
from purlwright.proof.notions import header_entries
from purlwright.proof.subject import Besides, Subject
from purlwright.proof.watchwords import Heard, TextLine
from purlwright.text import Span

__all__ = ["JUDGES", "NeedleNumberBare", "NumberByNumber", "NumberLeftOver", "TwoEnglishes", "WordTwoWays"]


@dataclass(frozen=True, slots=True)
class TwoEnglishes:
    """US and UK trade words stand in one pattern.

    A reader of either can no longer trust the words that mean different things in the two: a tension, a
    moss stitch, a size of needle.

    Example: `Bind off 4 sts` in row 12, and `Cast off` at the end.

    Cure: keep to one of them, and say which under Terms.
    """

    here: str
    there: str
    terms: str
    """What the words here are: US or UK."""

    code = "two-englishes"
    check = "C096"
    severity = Severity.NOTE

    def message(self) -> str:
        other = "UK" if self.terms == "US" else "US"
        return f'"{self.here}" is a {self.terms} word, and "{self.there}", elsewhere, a {other} one.'

    def label(self) -> str:
        return f"{self.terms} word"

    def help(self) -> str | None:
        return "Keep to the words of one country, and say which under Terms."


@dataclass(frozen=True, slots=True)
class WordTwoWays:
    """A trade word that means one thing in the US and another in the UK, where nothing says which is meant.

    Moss stitch in the UK is the seed stitch of the US, changed every row; in the US it is changed every
    other row. The count is the same, so no total can tell.

    Example: `Work 6 rows in moss stitch.`

    Cure: write `Terms: UK` or `Terms: US` in the header, or explain the word.

    Source: common practice; both meanings stand in the dictionaries of both countries.
    """

    word: str

    code = "word-two-ways"
    check = "C096"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f'"{self.word}" is one stitch in US words and another in UK words; nothing says which is meant.'
        )

    def label(self) -> str:
        return "US or UK?"

    def help(self) -> str | None:
        return f'Say "Terms: US" or "Terms: UK" in the header, or explain "{self.word}".'


@dataclass(frozen=True, slots=True)
class NeedleNumberBare:
    """A needle is given by a number of no system.

    A number 8 needle is 5 mm in the US and 4 mm in the old UK sizes: a third fewer stitches, or more.

    Example: `With No. 8 needles cast on 42 sts.`

    Cure: give the size in mm.

    Source: common practice of the trade; the sizes stand in every table of needles.
    """

    words: str

    code = "needle-number-bare"
    check = "C096"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.words}" is a different needle in the US and the old UK sizes.'

    def label(self) -> str:
        return "no system"

    def help(self) -> str | None:
        return "Give the size in mm."


@dataclass(frozen=True, slots=True)
class NumberByNumber:
    """Two numbers stand side by side with nothing between them.

    `k2 2 times` is read as `k22` by a tired eye.

    Example: `K2 2 times, p4.`

    Cure: use brackets, or write the second number as a word: `[k2] twice`.
    """

    words: str

    code = "number-by-number"
    check = "C100"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'In "{self.words}" two numbers run into each other.'

    def label(self) -> str:
        return "two numbers"

    def help(self) -> str | None:
        return "Put brackets round what is repeated, or write one of the numbers as a word."


@dataclass(frozen=True, slots=True)
class NumberLeftOver:
    """Two numbers stand where there can be only one.

    Such a pair is what is left when a number was changed and the old one stayed.

    Example: `Bind off 27 or 19 sts.`

    Cure: strike out the number that is not meant, or say who works which.
    """

    words: str

    code = "number-left-over"
    check = "C100"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.words}": nothing says which of the two numbers is meant.'

    def label(self) -> str:
        return "which of the two?"

    def help(self) -> str | None:
        return "Strike out the number that is not meant."


_WORDS_OF = {
    "bind off": "US", "cast off": "UK", "stockinette": "US", "stocking stitch": "UK", "seed stitch": "US",
    "wrn": "UK",
}  # fmt: skip
_BARE = re.compile(
    r"(?<![A-Za-z.])(?:(?P<a>no\.?|number|size) ?\d{1,2}(?:\.5)?(?= ?(?:\w+ ){0,2}needles?\b)"
    r"|needles? (?:no\.?|number|size) ?\d{1,2}(?![\d.]| ?[-–/] ?\d))",
    re.IGNORECASE,
)
_SYSTEM = re.compile(r"\bmm\b|\d mm|\bU\.?[SK]\.?\b", re.IGNORECASE)


_LEANS: tuple[Besides, ...] = (Header, "needle", "moss stitch", *_WORDS_OF)


def judge_english(subject: Subject) -> Answer:
    """C096."""
    known: Answer | None = subject.of_work(judge_english, *_LEANS) if subject.calm else None
    if known is not None:
        return known
    header = getattr(subject.pattern, "header", None)
    terms = header.terms if header is not None else ""
    watched = subject.watched
    places = sum(1 for kind in _WORDS_OF for _ in watched.of(kind, sorts=("words", "header")))
    findings = [*_two_englishes(subject)]
    moss = list(watched.of("moss stitch"))
    places += len(moss)
    if moss and not terms and not _explained(subject, "moss"):
        uk = watched.any("cast off", "stocking stitch", sorts=("words", "header"))
        us = watched.any("bind off", "stockinette", sorts=("words", "header"))
        if uk == us:
            line, heard = moss[0]
            findings.append(Finding(problem=WordTwoWays(line.words(heard)), span=line.span(heard)))
    findings += _bare_needles(subject)
    answer = Answer(places=places + bool(findings), findings=tuple(findings))
    if not (findings or moss):  # what moss stitch is may be explained in any line
        subject.keep_of_work(judge_english, answer, *_LEANS)
    return answer


def _explained(subject: Subject, word: str) -> bool:
    """Whether a heading or a list says what the word means: "Moss stitch: Row 1 ..."."""
    for line in subject.watched.lines:
        low = line.text.lower().lstrip("#*>- ")
        if low.startswith(word) and (line.sort == "heading" or ":" in low[:30] or "=" in low[:30]):
            return True
    return False


def _two_englishes(subject: Subject) -> Iterator[Finding]:
    """The first word of the rarer English, if both are there."""
    found: dict[str, list[tuple[TextLine, Heard]]] = {"US": [], "UK": []}
    for kind, terms in _WORDS_OF.items():
        found[terms] += subject.watched.of(kind, sorts=("words", "header"))
    if not found["US"] or not found["UK"]:
        return
    header = getattr(subject.pattern, "header", None)
    said = header.terms if header is not None else ""
    fewer = min(found, key=lambda terms: (terms == said, len(found[terms])))
    more = "UK" if fewer == "US" else "US"
    by_place = sorted(found[fewer], key=lambda f: (f[0].number, f[1].start))
    line, heard = by_place[0]
    there, other = min(found[more], key=lambda f: (f[0].number, f[1].start))
    problem = TwoEnglishes(line.words(heard), there.words(other), fewer)
    yield Finding(
        problem=problem, span=line.span(heard), related=(Related(there.span(other), f"{more} word"),)
    )


def _bare_needles(subject: Subject) -> Iterator[Finding]:
    """The first needle given by a number of no system, if no size in mm stands anywhere near."""
    header = getattr(subject.pattern, "header", None)
    if header is not None and header.terms:
        return
    for e in header_entries(subject, frozenset({"Needles"})):
        m = re.search(r"(?:(?:no\.?|number|size|#) ?)\d{1,2}(?![\d.]* ?(?:mm|cm|in))", e.value, re.IGNORECASE)
        m = m or re.match(r"\d{1,2}$", e.value.strip())
        if _SYSTEM.search(e.value) is None and m is not None:
            span = Span(e.value_span.start + m.start(), e.value_span.start + m.end())
            yield Finding(problem=NeedleNumberBare(m[0]), span=span)
        return
    for line, _ in subject.watched.of("needle"):
        m = _BARE.search(line.text)
        if m is not None and _SYSTEM.search(line.text) is None:
            span = Span(line.offset + m.start(), line.offset + m.end())
            yield Finding(problem=NeedleNumberBare(m[0].strip()), span=span)
            return


_ROUGHLY = re.compile(
    r"(?:\b(?:about|either|every|say|only|first|last|for|another|leave)\s*)$", re.IGNORECASE
)


def judge_numbers(subject: Subject) -> Answer:
    """C100."""
    watched = subject.watched
    findings: list[Finding] = []
    by = list(watched.of("two numbers"))
    taken = {f.span for f in subject.findings if f.span.end >= 0} if by else set()
    by = [(ln, h) for ln, h in by if not any(ln.offset <= t.start <= ln.offset + len(ln.text) for t in taken)]
    if by:
        line, heard = by[0]
        findings.append(Finding(problem=NumberByNumber(line.words(heard)), span=line.span(heard)))
    pairs = list(watched.of("one or other", sorts=("words", "note")))
    unread = [f.span for f in subject.findings if f.code == "not-read"] if pairs else []
    fails = False
    for line, heard in pairs:
        one, other = (int(n) for n in re.findall(r"\d+", line.words(heard)))
        if abs(one - other) <= 1 or _ROUGHLY.search(line.text[: heard.start]) is not None:
            continue
        span = line.span(heard)
        if any(u.start < span.end and span.start < u.end for u in unread):
            fails = True  # the reader stumbled over it already
        else:
            findings.append(Finding(problem=NumberLeftOver(line.words(heard)), span=span))
    return Answer(places=len(by) + len(pairs), findings=tuple(findings), fails=fails)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C096": judge_english, "C100": judge_numbers}
