"""The checks that are built, and the proof: every check asked of one pattern.

In: a :class:`~purlwright.proof.subject.Subject`. Out: findings and one verdict a check. A family module
offers ``JUDGES``, check number -> function; naming the module here registers it. A check that needs a
room above this one is handed to :func:`prove`. How the answers are shown is left to others.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType
from typing import TypeAlias

from purlwright.findings import Finding, Result, Severity, Verdict
from purlwright.proof import (
    access,
    assembly,
    balls,
    centred,
    chart_crossings,
    chart_heights,
    charts,
    counts,
    edge_rows,
    english,
    explained,
    fit,
    folds,
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
    past_turns,
    period,
    references,
    repeats,
    rhythm,
    round_start,
    rows,
    rulers,
    side_labels,
    size_steps,
    sizes,
    slants,
    style,
    timing,
    turn_series,
    turns,
    widths,
    words,
    yarn_ends,
)
from purlwright.proof.answer import Answer
from purlwright.proof.carried import carriers
from purlwright.proof.catalogue import CATALOGUE, Entry
from purlwright.proof.round_start import SHORT_ROUND
from purlwright.proof.subject import Subject

__all__ = ["ABOVE", "JUDGES", "NOT_BUILT", "Judge", "Proof", "prove"]

Judge: TypeAlias = Callable[[Subject], Answer]

ABOVE = frozenset({"C127", "C129"})
"""Checks that look at the finished sheet, which a room above makes."""
NOT_BUILT = "Purlwright does not make this check yet"
PERSON = "only a person can say"
_PHOTOGRAPH = re.compile(r"\bphoto|\bpictured?\b|!\[", re.IGNORECASE)

JUDGES: Mapping[str, Judge] = MappingProxyType(
    {
        **counts.JUDGES,
        **explained.JUDGES,
        **charts.JUDGES,
        **chart_crossings.JUDGES,
        **chart_heights.JUDGES,
        **access.JUDGES,
        **centred.JUDGES,
        **rhythm.JUDGES,
        **folds.JUDGES,
        **rows.JUDGES,
        **round_start.JUDGES,
        **side_labels.JUDGES,
        **turns.JUDGES,
        **turn_series.JUDGES,
        **past_turns.JUDGES,
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
        **slants.JUDGES,
        **long_shapings.JUDGES,
        **rulers.JUDGES,
        **gauges.JUDGES,
        **balls.JUDGES,
        **needles_named.JUDGES,
        **front.JUDGES,
    }
)

_ASKED = tuple((check, entry, JUDGES.get(check)) for check, entry in CATALOGUE.items())
"""Every check in the order of the catalogue, with its judge if it is built."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """Every finding in the order of the words, and every check's verdict in the order of the catalogue."""

    findings: tuple[Finding, ...]
    verdicts: tuple[Verdict, ...]


def prove(subject: Subject, more: Mapping[str, Judge] | None = None) -> Proof:
    """Ask every check of the catalogue.

    more : judges of checks that live in rooms above; they take the place of those here.
    """
    findings = list(subject.findings)
    found = subject.found
    verdicts = []
    for check, entry, built in _ASKED:
        judge = more.get(check, built) if more else built
        if judge is not None:
            places, told, fails, missing = judge(subject)
            if told:
                findings += told
            verdicts.append(_verdict(check, places, fails or bool(told) or check in found, missing))
        elif check in found:
            verdicts.append(_verdict(check, 0, True, None))
        else:
            verdicts.append(_not_judged(check, entry, subject))
    findings = _at_their_root(findings, subject)
    findings.sort(key=lambda f: (f.span.end < 0, f.span.start, f.span.end, f.code))
    return Proof(findings=tuple(findings), verdicts=tuple(_with_carriers(verdicts, findings)))


def _with_carriers(verdicts: list[Verdict], findings: list[Finding]) -> list[Verdict]:
    """The verdicts; one that fails without a finding of its own says which findings tell why."""
    own = {f.check for f in findings if not f.settled}
    return [
        replace(v, told_by=carriers(v.check, findings))
        if v.result is Result.FAILS and v.check not in own
        else v
        for v in verdicts
    ]


_ROOTS = frozenset({"round-begins-elsewhere", "crossing-squares-differ", "crossing-over-outline"})
_FOLLOWS = SHORT_ROUND | {"outline-does-not-tile", "chart-rows-do-not-meet"}
"""What is told as the reason why a row does not come out is not told again as a row that does not."""


_WIDTHS = frozenset({"width-differs", "gauge-gives-other-widths", "gauge-out-of-shape", "gauge-unlikely"})
_OF_WIDTHS = frozenset(
    {"needle-too-long", "needle-too-short", "opening-too-small", "sleeve-too-narrow", "place-off-body"}
)
"""What is told by the gauge is not told again where the gauge, or the width that it gives, is marked."""


def _at_their_root(findings: list[Finding], subject: Subject) -> list[Finding]:
    if any(f.code in _WIDTHS for f in findings):
        findings = [f for f in findings if f.code not in _OF_WIDTHS]
    findings = [f for f in findings if f.code != "knitted-on-from-count" or not _total_told(f, findings)]
    told = {subject.source.place(f.span.start)[0] for f in findings if f.code in _ROOTS}
    if not told:
        return findings
    return [
        f for f in findings if f.code not in _FOLLOWS or subject.source.place(f.span.start)[0] not in told
    ]


def _total_told(f: Finding, findings: list[Finding]) -> bool:
    """Whether the last fault before the words is a printed total that does not agree.

    Nothing was unread, and where the knitting went on from the next total it is that fault which shows.
    """
    faults = [g for g in findings if g.severity is Severity.ERROR and 0 <= g.span.start < f.span.start]
    last = max(faults, key=lambda g: g.span.start, default=None)
    return last is not None and last.code == "total-differs" and set(f.sizes) <= set(last.sizes or f.sizes)


def _there(noun: str, subject: Subject) -> bool:
    """Whether the pattern has what a person would look at: a chart, a photograph."""
    if noun == "charts":
        return bool(subject.pattern.charts)
    return noun != "photographs" or subject.kept(_speaks_of_photographs)


def _speaks_of_photographs(subject: Subject) -> bool:
    text = subject.source.text.lower()
    return ("photo" in text or "picture" in text or "![" in text) and _PHOTOGRAPH.search(text) is not None


def _not_judged(check: str, entry: Entry, subject: Subject) -> Verdict:
    """The verdict of a check that is not built, or that only a person can make."""
    if entry.needs != "a person":
        return _verdict(check, 0, False, NOT_BUILT)
    return _verdict(check, 0, False, PERSON if _there(entry.noun, subject) else None)


@lru_cache(maxsize=4096)
def _verdict(check: str, places: int, fails: bool, missing: str | None) -> Verdict:
    """Fails before undecided, undecided before holds: a fault found is a fault, however much was not read.

    The same verdict is made once, for a proof is asked for at every keystroke.
    """
    if fails:
        return Verdict(check=check, result=Result.FAILS, places=max(places, 1))
    if missing is not None:
        return Verdict(check=check, result=Result.UNDECIDED, places=places, missing=missing)
    result = Result.HOLDS if places else Result.NOT_APPLICABLE
    return Verdict(check=check, result=result, places=places)
