"""What is wrong with a pattern, and how it is said.

In: facts met while reading, knitting or proving. Out: findings with the exact words they
concern, one sentence, one cure. How they are shown on a screen or page is left to the rooms above.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Protocol, runtime_checkable

from purlwright.text import NOWHERE, Span

__all__ = [
    "Collector",
    "Edit",
    "Finding",
    "Fix",
    "Problem",
    "Related",
    "Result",
    "Severity",
    "Verdict",
]


class Severity(StrEnum):
    """How much a finding matters at the needles."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Result(StrEnum):
    """What a check can answer."""

    HOLDS = "holds"
    FAILS = "fails"
    UNDECIDED = "cannot be decided"
    NOT_APPLICABLE = "not applicable"


@runtime_checkable
class Problem(Protocol):
    """Facts about one kind of mistake in the words.

    Implementations are frozen dataclasses. ``code`` is kebab-case trade words that read after
    "allow"; it is never renamed or used again for something else. The class docstring is the page
    that ``purlwright explain CODE`` prints: what it finds, why it matters at the needles, an
    example, the cure.
    """

    @property
    def code(self) -> str: ...
    @property
    def check(self) -> str | None: ...
    @property
    def severity(self) -> Severity: ...

    def message(self) -> str:
        """One plain sentence in the reader's words, both numbers when two disagree."""
        ...

    def label(self) -> str:
        """A few words to stand under the marked stretch of text."""
        ...

    def help(self) -> str | None:
        """One action, in the imperative: the smallest repair."""
        ...


@dataclass(frozen=True, slots=True)
class Related:
    """Another place that matters to a finding, with a few words about it."""

    span: Span
    words: str


@dataclass(frozen=True, slots=True)
class Edit:
    """Replace the words in ``span`` by ``words``."""

    span: Span
    words: str


@dataclass(frozen=True, slots=True)
class Fix:
    """A repair offered, never applied by itself."""

    title: str
    edits: tuple[Edit, ...]
    safe: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing to say, tied to its words.

    ``sizes`` and ``options`` name the sizes and option values in which it was met; empty means all.
    """

    problem: Problem
    span: Span
    related: tuple[Related, ...] = ()
    fix: Fix | None = None
    sizes: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()

    @property
    def code(self) -> str:
        return self.problem.code

    @property
    def check(self) -> str | None:
        return self.problem.check

    @property
    def severity(self) -> Severity:
        return self.problem.severity

    @property
    def settled(self) -> bool:
        """Whether it only tells which of two readings the printed counts chose: nothing is wrong."""
        return bool(getattr(self.problem, "settled", False))

    @property
    def message(self) -> str:
        return self.problem.message()

    @property
    def help(self) -> str | None:
        return self.problem.help()


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What one check answered, and at how many places it looked.

    ``missing`` says what would be needed to decide, when it cannot be decided. ``told_by`` are the codes of
    other checks' findings that tell why it fails, when no finding of its own does.
    """

    check: str
    result: Result
    places: int = 0
    missing: str | None = None
    told_by: tuple[str, ...] = ()


@dataclass(slots=True)
class Collector:
    """Gathers findings in the order they are met; says the same thing about the same words once."""

    findings: list[Finding] = field(default_factory=list)
    _seen: set[tuple[str, Span, str]] = field(default_factory=set)

    def report(
        self,
        problem: Problem,
        span: Span,
        *,
        related: Iterable[Related] = (),
        fix: Fix | None = None,
    ) -> None:
        """Add a finding unless the same one stands on the same words already."""
        key = (problem.code, span, problem.message())
        if key in self._seen:
            return
        self._seen.add(key)
        self.findings.append(Finding(problem=problem, span=span, related=tuple(related), fix=fix))

    def extend(self, findings: Iterable[Finding]) -> None:
        """Add findings made elsewhere."""
        for f in findings:
            self.report(f.problem, f.span, related=f.related, fix=f.fix)

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.findings)

    def __len__(self) -> int:
        return len(self.findings)

    def sorted(self) -> list[Finding]:
        """Findings in the order of the words, then by code; those that stand nowhere come last."""
        return sorted(self.findings, key=lambda f: (f.span == NOWHERE, f.span.start, f.span.end, f.code))
