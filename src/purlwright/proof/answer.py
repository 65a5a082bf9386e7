"""What a judge answers, and the answers that several checks give in the same way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from purlwright.findings import Finding
from purlwright.proof.subject import Subject

__all__ = ["Answer", "not_read", "while_knitting"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """At how many places a judge looked, what it found, and what is missing if it cannot say.

    ``fails`` is true when the check does not hold but another check's finding says so already.
    """

    places: int = 0
    findings: tuple[Finding, ...] = ()
    fails: bool = False
    missing: str | None = None


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
