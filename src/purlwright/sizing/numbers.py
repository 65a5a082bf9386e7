"""The numbers of a pattern's text that depend on the gauge: where they stand, and what each counts.

In: the text of a pattern and where its rows begin. Out: frozen :class:`Number` values, in the order of the
words, and the text with other numbers in their place. What the new numbers are is left to ``regauge``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

__all__ = ["Counts", "Number", "numbers_in", "with_numbers"]

Counts: TypeAlias = Literal["stitches", "rows", "times", "total"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number, or a list of one a size, and what it counts.

    start, end : where it stands in the text. line : counted from 1. values : one a size; None where a size
    has none. A "total" is what stands after a row; it follows from the others.
    """

    start: int
    end: int
    line: int
    counts: Counts
    values: tuple[int | None, ...]
    words: str
    until: bool = False
    """Rows are repeated until so many stitches are there: only some numbers can be reached."""


_LIST = r"(?P<n>\d{1,4}(?:\s*[(\[]\s*(?:\d{1,4}|-)(?:\s*,\s*(?:\d{1,4}|-))*\s*[)\]])?)"
_OF_STS = r"(?=\s*(?:held\s+)?(?:sts?|stitches)\b)"
_OF_ROWS = r"(?=\s*(?:more\s+)?(?:rows?|rnds?|rounds?)\b)"
_KINDS: tuple[tuple[Counts, re.Pattern[str]], ...] = (
    ("total", re.compile(rf"\({_LIST}\s+(?:sts?|stitches)(?:\s+in\s+all)?\)", re.IGNORECASE)),
    (
        "stitches",
        re.compile(
            rf"\b(?:cast(?:ing)?[ -]on|co|pick(?:ing)? up(?: and (?:knit|purl))?)\s+{_LIST}{_OF_STS}",
            re.IGNORECASE,
        ),
    ),
    (
        "stitches",
        re.compile(
            r"\b(?:next|first|last|remaining|held|over|on|these|those|all|there (?:are|is)|until|to)\s+"
            rf"{_LIST}{_OF_STS}",
            re.IGNORECASE,
        ),
    ),
    (
        "stitches",
        re.compile(
            r"\b(?:bind(?:ing)? off|bo|cast off|place|slip)\s+(?:the\s+(?:next|first|last)\s+)?"
            rf"{_LIST}{_OF_STS}",
            re.IGNORECASE,
        ),
    ),
    ("rows", re.compile(rf"\b(?:knit|purl|work|next)\s+{_LIST}{_OF_ROWS}", re.IGNORECASE)),
    (
        "rows",
        re.compile(
            rf"^(?:rows?|rnds?|rounds?)\s+\d{{1,3}}\s*[-\u2013]\s*{_LIST}(?=\s*:\s*as)", re.IGNORECASE
        ),
    ),
    ("times", re.compile(rf"{_LIST}(?=\s+(?:times?|repeats|wedges|pattern repeats)\b)", re.IGNORECASE)),
    (
        "stitches",
        re.compile(
            rf"(?<![A-Za-z\d])(?:k|p|knit |purl ){_LIST}(?![\d-])"
            r"(?!\s*(?:tog|rows?|rnds?|rounds?|times|below))",
            re.IGNORECASE,
        ),
    ),
    ("stitches", re.compile(rf"^[A-Za-z][\w ]{{0,30}}\s*=\s*{_LIST}\s*$", re.IGNORECASE)),
)
SMALL = 5
"""Fewer stitches in a row than this are an edge, a rib or a part of a stitch pattern, and stay; own."""


_REPEATED = re.compile(
    r"\*(?P<star>[^*]*?);?\s*(?:rep|repeat)\b[^*]*\*"
    r"|\[(?P<square>[^\[\]]*)\](?=\s*(?:[\d(]|once|twice|to |across))",
    re.IGNORECASE,
)
_MARKED = re.compile(r"(?<![\w&])(?:pm|sm|m|markers?)(?![\w&])", re.IGNORECASE)
_ONE_MORE = re.compile(r"(?<![\w&])(?:yo|m1\w?|kfb|pfb|inc)(?![\w&])", re.IGNORECASE)
_ONE_LESS = re.compile(r"(?<![\w&])(?:k2tog|p2tog|ssk|ssp|skp|dec)(?![\w&])", re.IGNORECASE)
_TWO_LESS = re.compile(r"(?<![\w&])(?:k3tog|p3tog|sk2p|s2kp|sssk|cdd)(?![\w&])", re.IGNORECASE)


def _kept_whole(words: str) -> list[tuple[int, int]]:
    """Where the repeats of a stitch pattern stand: as many stitches come out of them as go in.

    Their stitches stay as they are, or the stitch pattern would be another one. What goes from marker to
    marker, or widens and narrows, belongs to the shape of the piece.
    """
    out = []
    for m in _REPEATED.finditer(words):
        body = m["star"] if m["star"] is not None else m["square"]
        more = len(_ONE_MORE.findall(body))
        fewer = len(_ONE_LESS.findall(body)) + 2 * len(_TWO_LESS.findall(body))
        if "," in body and more == fewer and not _MARKED.search(body):
            out.append(m.span("star" if m["star"] is not None else "square"))
    return out


def _between_markers(words: str, at: int) -> bool:
    """Whether a number of times belongs to brackets that go from marker to marker, one for each."""
    opened, closed = words.rfind("[", 0, at), words.rfind("]", 0, at)
    if opened < 0 or closed < opened or words[closed + 1 : at].strip():
        return False
    return _MARKED.search(words[opened:closed]) is not None


def numbers_in(text: str, lines: Mapping[int, int], sizes: int) -> list[Number]:
    """Every number that depends on the gauge, in the lines that are knitted.

    lines : line, counted from 1, and where it begins in the text. sizes : how many sizes the pattern has.
    """
    out: list[Number] = []
    for line, at in sorted(lines.items()):
        end = text.find("\n", at)
        words = text[at : len(text) if end < 0 else end]
        out += _in_line(words, at, line, sizes)
    return out


def _in_line(words: str, at: int, line: int, sizes: int) -> Iterator[Number]:
    taken: list[tuple[int, int]] = []
    found: list[Number] = []
    whole = _kept_whole(words)
    for counts, pattern in _KINDS:
        for m in pattern.finditer(words):
            start, end = m.span("n")
            values = _values(m["n"], sizes)
            if values is None or any(a < end and start < b for a, b in taken):
                continue
            taken.append((start, end))
            known = {v for v in values if v is not None}
            if counts == "stitches" and max(known, default=0) < SMALL and not (0 in known and len(known) > 1):
                continue  # an edge stitch, or k2 of a rib; not k0 (1), which only makes the sum come out
            if counts == "stitches" and any(a <= start and end <= b for a, b in whole):
                continue
            if counts == "times" and _between_markers(words, start):
                continue
            found.append(
                Number(
                    start=at + start,
                    end=at + end,
                    line=line,
                    counts=counts,
                    values=values,
                    words=words.strip(),
                    until=re.search(r"\buntil(?:\s+there\s+are)?\s+$", words[:start], re.IGNORECASE)
                    is not None,
                )
            )
    yield from sorted(found, key=lambda n: n.start)


def _values(words: str, sizes: int) -> tuple[int | None, ...] | None:
    """One value a size; None if the list has another number of entries."""
    found = tuple(None if w == "-" else int(w) for w in re.findall(r"\d+|-", words))
    if len(found) == 1:
        return found * sizes
    return found if len(found) == sizes else None


def with_numbers(text: str, values: Sequence[tuple[Number, Sequence[int | None] | None]]) -> str:
    """The text with other values; None takes a total out, with the brackets round it."""
    for number, new in sorted(values, key=lambda pair: -pair[0].start):
        if new is None:
            opened = text.rfind("(", 0, number.start)
            closed = text.find(")", number.end)
            text = text[:opened].rstrip(" ") + text[closed + 1 :]
            continue
        said = ["-" if v is None else str(v) for v in new]
        alike = len(set(said)) == 1
        text = (
            text[: number.start]
            + (said[0] if alike else f"{said[0]} ({', '.join(said[1:])})")
            + text[number.end :]
        )
    return text
