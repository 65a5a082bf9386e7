"""What a judge answers, and the answers that several checks give in the same way."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from functools import wraps
from typing import NamedTuple, TypeAlias

from purlwright.findings import Finding, Problem, Related
from purlwright.proof.subject import Besides, Subject, Way, where_met
from purlwright.text import Span

__all__ = ["Answer", "Seen", "not_read", "of_the_work", "over_sizes", "while_knitting"]


class Answer(NamedTuple):
    """At how many places a judge looked, what it found, and what is missing if it cannot say.

    ``fails`` is true when the check does not hold but another check's finding says so already.
    """

    places: int = 0
    findings: tuple[Finding, ...] = ()
    fails: bool = False
    missing: str | None = None


Judge: TypeAlias = Callable[[Subject], Answer]


def not_read(subject: Subject) -> str | None:
    """What is missing when words were not read ("line 12 could not be worked as written"); else None."""
    lines = subject.unread
    if not lines:
        return None
    some = ", ".join(str(n) for n in lines[:4])
    if len(lines) == 1:
        return f"line {some} could not be worked as written"
    more = f" and {len(lines) - 4} more" if len(lines) > 4 else ""
    return f"lines {some}{more} could not be worked as written"


def while_knitting(check: str) -> Callable[[Subject], Answer]:
    """A check that reading or knitting makes in passing: what it found stands in its findings already."""

    def judge(subject: Subject) -> Answer:
        places = subject.places(check)
        return Answer(places=places, missing=not_read(subject))

    judge.__name__ = f"judge_{check.lower()}"
    return judge


def of_the_work(*besides: Besides) -> Callable[[Judge], Judge]:
    """A check that looks at what was knitted, under which labels and headings, and at no other words but
    these: kinds of nodes, ``Header``, kinds of words heard, or what is told of each line. Where it found
    nothing amiss it is not asked again as long as all that stays.
    """

    def keeping(judge: Judge) -> Judge:
        @wraps(judge)
        def kept(subject: Subject) -> Answer:
            if not subject.calm:
                return judge(subject)
            known: Answer | None = subject.of_work(judge, *besides)
            if known is not None:
                return known
            answer = judge(subject)
            if not (answer.findings or answer.fails or answer.missing):
                subject.keep_of_work(judge, answer, *besides)
            return answer

        return kept

    return keeping


class Seen(NamedTuple):
    """Something found in one way, told once for all sizes: ``say`` gets each number of all sizes together.

    What has the same ``key`` and span is the same thing.
    """

    key: Hashable
    span: Span
    numbers: tuple[int, ...]
    say: Callable[[tuple[str, ...]], Problem]
    related: tuple[Related, ...] = ()


def over_sizes(subject: Subject, seen: Iterable[tuple[Way, Seen]]) -> list[Finding]:
    """One finding for what was seen in several sizes, its numbers as ``57 (63, 69)``."""
    together: dict[tuple[Hashable, Span], list[tuple[Way, Seen]]] = {}
    for way, one in seen:
        together.setdefault((one.key, one.span), []).append((way, one))
    out = []
    for met in together.values():
        first = met[0][1]
        columns = range(len(first.numbers))
        numbers = tuple(subject.by_size((way, one.numbers[n]) for way, one in met) for n in columns)
        finding = Finding(problem=first.say(numbers), span=first.span, related=first.related)
        out.append(where_met(finding, [way for way, _ in met], subject.ways))
    return out
