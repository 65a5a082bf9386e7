"""The wording of the editor's report, the same on a terminal, on paper and on a web page.

In: a :class:`~purlwright.proof.report.Report`. Out: its sections as names, sentences and short lists, in the
order in which they are read. How wide a line is, and what stands in bold, is left to who shows it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from purlwright.proof.report import Remark, Report, Scope

__all__ = ["COVERS", "READ_SO", "Group", "Part", "Reach", "parts", "reach", "readings", "title"]

COVERS = (
    "Every row was worked with the stitches that were really on the needle, and everything below is read off "
    "that knitting or off the words themselves. No check is claimed that was not made."
)
READ_SO = "Read one way of two"
_READABLE = "every line can be read, and knitted as it is written"
_MOST_QUOTED = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing that a remark says, with its name ("" for what was found), and what is listed under it."""

    name: str = ""
    words: str
    listed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Checks that belong together, each in a line; ``head`` "" when they need none."""

    head: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """One answer that a proof gives, and the checks that have it."""

    words: str
    groups: tuple[Group, ...]


def title(report: Report) -> str:
    """What the letter is headed with."""
    return f"Editor's report on {_one_line(report.title) or 'A pattern without a title'}"


# --- remarks --------------------------------------------------------------------------------------


def parts(remark: Remark) -> Iterator[Part]:
    """The words; what was found; where; the smallest repair; what was asked."""
    if remark.quoted.strip():
        line = f', in the line "{_short(_one_line(remark.in_line))}"' if remark.in_line else ""
        yield Part(name="The words", words=f'"{_short(_one_line(remark.quoted))}"{line}')
    yield Part(words=_one_line(remark.found))
    for other in remark.compared:
        place = f"Compare line {other.line}" if other.line is not None else "Compare"
        quoted = f'"{_short(_one_line(other.quoted))}"' if other.quoted.strip() else ""
        said = f"({_one_line(other.said)})" if other.said else ""
        yield Part(name=place, words=" ".join(filter(None, [quoted, said])))
    if remark.where:
        yield Part(name="Where", words=f"{_one_line(remark.where)}.")
    for also in remark.also:
        cure = f" {_one_line(also.repair)}" if also.repair else ""
        yield Part(name=f"Likewise, {_one_line(also.where)}", words=f"{_one_line(also.found)}{cure}")
    if remark.repair:
        yield Part(name="Smallest repair", words=_one_line(remark.repair))
    if remark.mends:
        said = "This change" if len(remark.mends) == 1 else "Each of these changes, alone,"
        yield Part(
            words=f"{said} was knitted; it mends this and upsets nothing else:",
            listed=tuple(map(_one_line, remark.mends)),
        )
    asked = (
        f"{remark.asked} ({remark.check}, {remark.code})" if remark.asked else f"{_READABLE} ({remark.code})"
    )
    yield Part(name="What was asked", words=asked)


def readings(report: Report) -> Part | None:
    """Words with two readings, each with the one that the printed counts chose; None if there are none."""
    listed = tuple(
        f'Line {one.line}, "{_short(_one_line(one.quoted))}": {_one_line(one.said)}'
        for one in report.readings
    )
    said = "These words can be read in two ways. Both were tried, and the printed counts fit only one:"
    return Part(words=said, listed=listed) if listed else None


def _one_line(words: str) -> str:
    return " ".join(words.split())


def _short(words: str) -> str:
    """A long quotation with its middle left out."""
    half = _MOST_QUOTED // 2
    return words if len(words) <= _MOST_QUOTED else f"{words[:half].rstrip()} [...] {words[-half:].lstrip()}"


# --- how far the proof reaches --------------------------------------------------------------------


def reach(report: Report) -> Iterator[Reach]:
    """What fails, what was proved, what does not apply, what is open and why, what a person must judge."""
    for scopes, words, say in (
        (report.fails, "These do not hold; the remarks above say where:", _told),
        (report.proved, "These were proved, each at every place counted here:", _with_places),
        (report.absent, "These do not apply; the pattern has nothing of the kind:", _asked),
    ):
        yield from _by_family(scopes, words, say)
    by_missing: dict[str, list[Scope]] = {}
    for scope in report.undecided:
        by_missing.setdefault(scope.said, []).append(scope)
    if by_missing:
        groups = (
            Group(head=f"Because {_one_line(missing)}:", lines=tuple(map(_and_else, waiting)))
            for missing, waiting in by_missing.items()
        )
        yield Reach(words="These could not be decided in full:", groups=tuple(groups))
    yield from _by_family(report.not_made, "These were not looked at; Purlwright cannot do so yet:", _asked)
    if report.person:
        lines = tuple(map(_asked, report.person))
        yield Reach(words="These only a person can judge:", groups=(Group(head="", lines=lines),))


def _by_family(scopes: Sequence[Scope], words: str, say: Callable[[Scope], str]) -> Iterator[Reach]:
    if scopes:
        families = groupby(scopes, key=lambda s: s.family)
        groups = (Group(head=family, lines=tuple(map(say, of_family))) for family, of_family in families)
        yield Reach(words=words, groups=tuple(groups))


def _asked(scope: Scope) -> str:
    return f"{scope.asked} ({scope.check})"


def _told(scope: Scope) -> str:
    """A check that fails, and whose remark tells it if it has none of its own."""
    return (
        f"{scope.asked}, {scope.said} ({scope.check})" if scope.said.startswith("told by") else _asked(scope)
    )


def _with_places(scope: Scope) -> str:
    return f"{scope.asked}: {scope.said} ({scope.check})" if scope.said else _asked(scope)


def _and_else(scope: Scope) -> str:
    """A check that is open in part: how much of it was seen to hold."""
    return (
        f"{_asked(scope)}; elsewhere it holds, at {scope.places:,} places"
        if scope.places > 1
        else _asked(scope)
    )
