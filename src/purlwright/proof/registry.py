"""The checks that are built, and the proof: every check asked of one pattern.

In: a :class:`~purlwright.proof.subject.Subject`. Out: findings and one verdict a check. A family module
offers ``JUDGES``, check number -> function; naming the module here registers it. A check that needs a
room above this one is handed to :func:`prove`. How the answers are shown is left to others.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import TypeAlias

from purlwright.findings import Finding, Result, Verdict
from purlwright.proof import (
    access,
    assembly,
    balls,
    centred,
    charts,
    counts,
    edge_rows,
    english,
    explained,
    fit,
    front,
    fullness,
    gauges,
    heights,
    leftovers,
    lengths,
    letters,
    long_shapings,
    mirror,
    needle_changes,
    needles_named,
    notions,
    order,
    period,
    references,
    repeats,
    rhythm,
    rows,
    rulers,
    side_labels,
    size_steps,
    sizes,
    style,
    timing,
    turn_series,
    turns,
    widths,
    words,
    yarn_ends,
)
from purlwright.proof.answer import Answer
from purlwright.proof.catalogue import CATALOGUE
from purlwright.proof.subject import Subject

__all__ = ["JUDGES", "NOT_BUILT", "Judge", "Proof", "prove"]

Judge: TypeAlias = Callable[[Subject], Answer]

NOT_BUILT = "Purlwright does not make this check yet"
PERSON = "only a person can say"
_PHOTOGRAPH = re.compile(r"\bphoto|\bpictured?\b|!\[", re.IGNORECASE)

JUDGES: Mapping[str, Judge] = MappingProxyType(
    {
        **counts.JUDGES,
        **explained.JUDGES,
        **charts.JUDGES,
        **access.JUDGES,
        **centred.JUDGES,
        **rhythm.JUDGES,
        **rows.JUDGES,
        **side_labels.JUDGES,
        **turns.JUDGES,
        **turn_series.JUDGES,
        **repeats.JUDGES,
        **sizes.JUDGES,
        **size_steps.JUDGES,
        **words.JUDGES,
        **order.JUDGES,
        **fullness.JUDGES,
        **english.JUDGES,
        **letters.JUDGES,
        **references.JUDGES,
        **style.JUDGES,
        **leftovers.JUDGES,
        **timing.JUDGES,
        **notions.JUDGES,
        **needle_changes.JUDGES,
        **yarn_ends.JUDGES,
        **assembly.JUDGES,
        **edge_rows.JUDGES,
        **fit.JUDGES,
        **period.JUDGES,
        **mirror.JUDGES,
        **widths.JUDGES,
        **lengths.JUDGES,
        **heights.JUDGES,
        **long_shapings.JUDGES,
        **rulers.JUDGES,
        **gauges.JUDGES,
        **balls.JUDGES,
        **needles_named.JUDGES,
        **front.JUDGES,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """Every finding in the order of the words, and every check's verdict in the order of the catalogue."""

    findings: tuple[Finding, ...]
    verdicts: tuple[Verdict, ...]


def prove(subject: Subject, more: Mapping[str, Judge] | None = None) -> Proof:
    """Ask every check of the catalogue.

    more : judges of checks that live in rooms above; they take the place of those here.
    """
    judges = {**JUDGES, **(more or {})}
    findings = list(subject.findings)
    verdicts = []
    for check, entry in CATALOGUE.items():
        judge = judges.get(check)
        if judge is None and not subject.found.get(check):
            missing = PERSON if entry.needs == "a person" else NOT_BUILT
            if missing == PERSON and not _there(entry.noun, subject):
                verdicts.append(_said(check, Result.NOT_APPLICABLE))
                continue
            verdicts.append(_said(check, Result.UNDECIDED, 0, missing))
            continue
        answer = judge(subject) if judge is not None else Answer()
        findings.extend(answer.findings)
        verdicts.append(_verdict(check, answer, subject))
    findings.sort(key=lambda f: (f.span.end < 0, f.span.start, f.span.end, f.code))
    return Proof(findings=tuple(findings), verdicts=tuple(verdicts))


def _there(noun: str, subject: Subject) -> bool:
    """Whether the pattern has what a person would look at: a chart, a photograph."""
    if noun == "charts":
        return bool(subject.pattern.charts)
    return noun != "photographs" or _PHOTOGRAPH.search(subject.source.text) is not None


@lru_cache(maxsize=4096)
def _said(check: str, result: Result, places: int = 0, missing: str | None = None) -> Verdict:
    """A verdict; the same one is made once, for a proof is asked for at every keystroke."""
    return Verdict(check=check, result=result, places=places, missing=missing)


def _verdict(check: str, answer: Answer, subject: Subject) -> Verdict:
    """Fails before undecided, undecided before holds: a fault found is a fault, however much was not read."""
    if answer.findings or answer.fails or subject.found.get(check):
        return _said(check, Result.FAILS, max(answer.places, 1))
    if answer.missing is not None:
        return _said(check, Result.UNDECIDED, answer.places, answer.missing)
    return _said(check, Result.HOLDS if answer.places else Result.NOT_APPLICABLE, answer.places)
