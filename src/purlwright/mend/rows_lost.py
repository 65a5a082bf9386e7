"""A row that fell out between two that are there: what it may have said, by the rows beside it.

In: the lines of a section, their words. Out: for each number that is jumped over, the lines that may have
stood there, likeliest first. Rows keep a rule: every other row is the same, or the second of each pair says
what the first says with a word or two exchanged.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

__all__ = ["Lost", "Numbered", "lost_rows", "numbered"]

_LABEL = re.compile(
    r"^(?P<unit>Rows?|Rnds?|Rounds?)\s+(?P<n>\d{1,3})(?P<rest>\s*\([^:()]*\))?:\s*(?P<body>\S.*)$"
)
_TOTAL = re.compile(r"\s*\(\s*\d[^()]*(?:\([^()]*\)[^()]*)?sts?\b[^()]*\)\s*\.?$")
_WORDS = re.compile(r"\w+|[^\w\s]|\s+")
_FEW = 2
"""The first so many rows say which side faces."""
_OTHER_SIDE = {" (RS)": " (WS)", " (WS)": " (RS)"}


class Numbered(NamedTuple):
    """A row with one number: its place among the lines, what stands between number and colon, its words."""

    place: int
    unit: str
    rest: str
    body: str


class Lost(NamedTuple):
    """A row that may have fallen out: beside which line, before or after it, its line, how unlikely it is."""

    beside: int
    before: bool
    words: str
    weight: float


def numbered(lines: Sequence[str]) -> list[dict[int, Numbered]]:
    """The rows with one number each, in runs whose numbers go up."""
    out: list[dict[int, Numbered]] = []
    last = 0
    for place, line in enumerate(lines):
        m = _LABEL.match(line)
        if m is None:
            continue
        n = int(m["n"])
        if not out or n <= last:
            out.append({})
        out[-1][n] = Numbered(place, m["unit"].removesuffix("s"), m["rest"] or "", _bare(m["body"]))
        last = n
    return out


def _bare(body: str) -> str:
    """A row's words without its total."""
    bare = _TOTAL.sub("", body)
    return bare if bare == body or bare.endswith(".") else f"{bare}."


def lost_rows(lines: Sequence[str]) -> Iterator[Lost]:
    """What may have stood where the numbers of a run jump, before its row 2, and after its last row."""
    for run in numbered(lines):
        for n in sorted(run):
            if n + 1 not in run:
                yield from _written(run[n], n + 1, _guesses(run, n + 1), before=False)
        if min(run) == _SECOND:
            yield from _written(run[_SECOND], 1, _guesses(run, 1), before=True)


_SECOND = 2


def _written(
    beside: Numbered, n: int, guesses: Iterator[tuple[str, str, float]], *, before: bool
) -> Iterator[Lost]:
    """The lines that a row with this number may have been."""
    for rest, body, weight in guesses:
        yield Lost(beside.place, before, f"{beside.unit} {n}{rest}: {body}", weight)


def _guesses(run: Mapping[int, Numbered], n: int) -> Iterator[tuple[str, str, float]]:
    beside = [run[k] for k in (n - 2, n + 2, n - 4, n + 4) if k in run]
    rest = next((run[k].rest for k in (n - 2, n + 2, n - 4, n + 4) if k in run and k > _FEW), "")
    if n <= _FEW and (other := run.get(n + 1) or run.get(n - 1)) is not None:
        rest = _OTHER_SIDE.get(other.rest, "")
    seen: dict[str, float] = {}
    for row in beside:
        again = sum(other.body == row.body for other in beside)
        seen.setdefault(row.body, 0.5 if again > 1 else 1.0)
    for body, weight in _by_pairs(run, n):
        seen[body] = min(weight, seen.get(body, weight))
    for body, weight in sorted(seen.items(), key=lambda item: item[1])[:4]:
        yield rest, body, weight


def _by_pairs(run: Mapping[int, Numbered], n: int) -> Iterator[tuple[str, float]]:
    """The row beside it with the words exchanged that other such pairs exchange."""
    for partner, other in ((n - 1, -1), (n + 1, 1)):
        if partner not in run:
            continue
        for k in sorted(run, key=lambda k: abs(k - n)):
            if k != n and (k - n) % 2 == 0 and k + other in run:
                told = _exchanged(run[k + other].body, run[k].body)
                body = _apply(told, run[partner].body) if told else None
                if body is not None and body != run[partner].body:
                    yield body, 0.6
                    break


def _exchanged(here: str, there: str) -> dict[str, str] | None:
    """Which words of one row stand where the other has others; None if the rows are not built alike."""
    one, two = _WORDS.findall(here), _WORDS.findall(there)
    if len(one) != len(two):
        return None
    out: dict[str, str] = {}
    for a, b in zip(one, two, strict=True):
        if out.setdefault(a, b) != b:
            return None
    return {a: b for a, b in out.items() if a != b} or None


def _apply(told: Mapping[str, str], body: str) -> str:
    return "".join(told.get(word, word) for word in _WORDS.findall(body))
