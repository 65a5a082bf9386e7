"""Check C119: needle sizes given in two systems are one needle.

In: a subject. Out: the needle sizes that the words name, and a finding where the numbers of two systems are
not the same needle. Whether the needles listed are the needles used is left to others.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from purlwright.findings import Finding, Severity
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject
from purlwright.proof.trade import needle_mm
from purlwright.text import Span

__all__ = ["JUDGES", "NeedleNamed", "NeedleSizesDiffer", "needles_named"]


@dataclass(frozen=True, slots=True)
class NeedleSizesDiffer:
    """A needle is given in millimetres and by number, and the two are different needles.

    Half the knitters go by the one and half by the other, and their gauges differ by a size of cloth.

    Example: `Needles: US 6 (4.5 mm)`. US 6 is 4 mm; 4.5 mm is US 7.

    Cure: measure the needle that the sample was knitted on, and correct the other number.

    Source: Craft Yarn Council needle chart, cross-read in five conversion tables; six tables of the old
    British numbers. Where makers differ, each of their sizes is taken as right.
    """

    number: str
    true: str
    printed: str

    code = "needle-sizes-differ"
    check = "C119"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.number} is {self.true} mm, and {self.printed} mm stands beside it."

    def label(self) -> str:
        return f"{self.number} is {self.true} mm"

    def help(self) -> str | None:
        return f"Write {self.true} mm, or give the number of the {self.printed} mm needle."


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedleNamed:
    """One needle size as the words give it. ``numbers``: (system, number); "us", "uk", "" if none is said."""

    mm: Fraction | None
    numbers: tuple[tuple[str, str], ...]
    span: Span


_SIZE = r"0{1,4}|\d{1,2}(?:\.5|\s?½|\s1/2)?"
_NAMED = re.compile(
    rf"(?<![\w.])(?:(?P<mm>\d{{1,2}}(?:[.,]\d{{1,2}}|\s?[½¼¾])?)\s?mm\b"
    rf"|(?P<us>US|U\.S\.|USA|American)\s?(?:size|no\.?|\#)?\s?\#?(?P<us_n>{_SIZE})(?![\d-]|\s?(?:mm|cm|in\b|sts?\b))"
    rf"|(?P<uk>(?:old\s)?(?:UK|U\.K\.|English|British)(?:/Canadian)?)\s?(?:size|no\.?|\#)?\s?(?P<uk_n>{_SIZE})(?![\d-]|\s?(?:mm|cm|in\b|sts?\b))"
    rf"|(?:size|no\.?|\#)\s?(?P<n>{_SIZE})(?![\d.-]|/\d|\s?(?:mm|cm|in\b|sts?\b|balls?\b)))",
    re.IGNORECASE,
)
_BESIDE = re.compile(r"(?:\s|[()\[\]/=,;]|\bor\b|\bold\b|\bneedles?\b|\bsize\b|\bmetric\b)*", re.IGNORECASE)
_MAY = re.compile(r"\d\s?mm\b")


_QUARTERS = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}


def _diameter(words: str) -> Fraction:
    quarter = _QUARTERS.get(words[-1], Fraction(0))
    return Fraction(words.rstrip("½¼¾ ").replace(",", ".")) + quarter


def _number(words: str) -> str:
    return re.sub(r"\s?½|\s1/2", ".5", words).strip()


def _in(words: str, at: int) -> Iterator[NeedleNamed]:
    """(MM | "US" NUMBER | "UK" NUMBER | "No." NUMBER) and what stands beside it of the other systems."""
    open_: dict[str, str] = {}
    start = end = -1
    for m in _NAMED.finditer(words):
        kind = "mm" if m["mm"] else "us" if m["us_n"] else "uk" if m["uk_n"] else ""
        value = m["mm"] or m["us_n"] or m["uk_n"] or m["n"]
        if open_ and (kind in open_ or not _BESIDE.fullmatch(words[end : m.start()])):
            yield _made(open_, words, start, end, at)
            open_ = {}
        if not open_:
            start = m.start()
        open_[kind] = value
        end = m.end()
    if open_:
        yield _made(open_, words, start, end, at)


def _made(said: Mapping[str, str], words: str, start: int, end: int, at: int) -> NeedleNamed:
    """One needle, with the bracket that closes after it."""
    end += words[start:end].count("(") > words[start:end].count(")") and words[end : end + 1] == ")"
    span = Span(at + start, at + end)
    mm = _diameter(said["mm"]) if "mm" in said else None
    numbers = tuple((system, _number(n)) for system, n in said.items() if system != "mm")
    return NeedleNamed(mm=mm, numbers=numbers, span=span)


def needles_named(subject: Subject) -> tuple[NeedleNamed, ...]:
    """Every needle size in the text, in the order of the words; ask through ``subject.kept``."""
    source = subject.source
    if not _MAY.search(source.text):
        return ()
    out: list[NeedleNamed] = []
    at = source.text.find("mm")
    while at >= 0:
        line = source.line_span(source.place(at)[0])
        out += _in_line(source.words(line), line.start)
        at = source.text.find("mm", max(line.end, at + 2))
    return tuple(out)


@lru_cache(maxsize=4096)
def _in_line(words: str, at: int) -> tuple[NeedleNamed, ...]:
    return tuple(_in(words, at))


_SYSTEMS = {"us": "US ", "uk": "UK ", "": "No. "}


def _any_system(number: str) -> tuple[Fraction, ...]:
    """The needles that a number without its system may be: US, old British, or the millimetres themselves."""
    found = needle_mm("us", number) + needle_mm("uk", number)
    return (*found, Fraction(number)) if found else ()


def _differs(needle: NeedleNamed) -> Finding | None:
    """The finding, if a number is not the needle of the millimetres beside it."""
    if needle.mm is None:
        return None
    for system, number in needle.numbers:
        known = needle_mm(system, number) if system else _any_system(number)
        if known and needle.mm not in known:
            problem = NeedleSizesDiffer(
                f"{_SYSTEMS[system]}{number}", f"{float(known[0]):g}", f"{float(needle.mm):g}"
            )
            return Finding(problem=problem, span=needle.span)
    return None


def judge_needle_sizes(subject: Subject) -> Answer:
    """C119."""
    both = [n for n in subject.kept(needles_named) if n.mm is not None and n.numbers]
    if not both:
        return Answer()
    findings = [f for n in both if (f := _differs(n)) is not None]
    return Answer(places=len(both), findings=tuple(findings))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C119": judge_needle_sizes}
