"""The editor's report: all that a proof found and all that it covers, in words a designer reads as a letter.

In: a pattern, what was knitted, findings, verdicts, and the repairs that were found. Out: one
:class:`Report` of plain values, in the order in which it is read. It knows no page: a terminal, a sheet or a
program writes it out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Fix, Result, Severity, Verdict
from purlwright.needles.ledger import Kind
from purlwright.proof.catalogue import CATALOGUE, FAMILIES
from purlwright.proof.last_word import last_word
from purlwright.proof.registry import NOT_BUILT, PERSON
from purlwright.proof.said import and_list, count, places_said, sizes_said, told_by

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.file import Pattern
    from purlwright.text import Source, Span

__all__ = ["GRAVITIES", "Also", "Compared", "Knitting", "Remark", "Report", "Scope", "compose"]

GRAVITIES: Mapping[Severity, str] = {
    Severity.ERROR: "To put right",
    Severity.WARNING: "May trip a knitter",
    Severity.NOTE: "Worth a look",
}
"""What the findings of each gravity are headed with, the gravest first."""

_DATE = re.compile(r"(?:date|dated|published|revised|updated|last updated|edition)", re.IGNORECASE)
_DATED = re.compile(r"(?:version|edition|revised|updated|published|dated)\b.*\d", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Knitting:
    """What was knitted: the sizes, each option with its values, how often, and how much."""

    sizes: tuple[str, ...]
    options: Mapping[str, tuple[str, ...]]
    ways: int
    every: bool
    """False when there are so many choices of options that only every two values met."""
    rows: int
    rounds: int
    stitches: int
    said: str
    """All of it in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """Another place that a remark speaks of: its line, its exact words, and what it has to do with it."""

    line: int | None
    quoted: str
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Also:
    """The same remark of the same words with other numbers, in other sizes or choices."""

    where: str
    found: str
    repair: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """One thing to tell the designer."""

    number: int
    """In the order of the report, from 1."""
    gravity: Severity
    place: str
    """``Line 9, Row 5, under "Brim"``."""
    line: int | None
    quoted: str
    """The exact words; "" when it is about no words."""
    in_line: str
    """The whole line that they stand in, or begin in; "" when they are all of it."""
    found: str
    """What was found, and what was expected."""
    compared: tuple[Compared, ...]
    where: str
    """``size adult only``, ``every size, with turns wrapped``; "" when there is nothing to tell apart."""
    also: tuple[Also, ...]
    repair: str | None
    """The smallest repair."""
    mends: tuple[str, ...]
    """Changes that were knitted: each, by itself, mends it and upsets nothing else. Likeliest first."""
    code: str
    check: str | None
    asked: str | None
    """What holds when the check holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """One check in words: its number, its family, what it asks, and a few words on the answer."""

    check: str
    family: str
    asked: str
    said: str
    """At how many places it holds; or what would be needed to decide it; or who tells why it fails; or ""."""
    places: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """The whole letter."""

    title: str
    version: tuple[str, ...]
    """What the pattern says of its version and date, in its own words."""
    knitting: Knitting
    summary: str
    remarks: tuple[Remark, ...]
    """The gravest first; those of one gravity in the order of the pattern."""
    readings: tuple[Compared, ...]
    """Words with two readings of which the printed counts chose one, and which."""
    fails: tuple[Scope, ...]
    proved: tuple[Scope, ...]
    undecided: tuple[Scope, ...]
    not_made: tuple[Scope, ...]
    """Checks that Purlwright does not make yet."""
    person: tuple[Scope, ...]
    """What only a person can judge."""
    absent: tuple[Scope, ...]
    """What does not apply: the pattern has nothing of the kind."""


def compose(
    pattern: Pattern,
    *,
    sizes: Sequence[str],
    options: Sequence[tuple[str, tuple[str, ...]]],
    every: bool,
    knitted: Sequence[Knitted],
    findings: Sequence[Finding],
    verdicts: Sequence[Verdict],
    repairs: Mapping[tuple[str, Span], Sequence[Fix]],
) -> Report:
    """Write the report. ``repairs`` are those found for a finding, by its code and span."""
    choices = len(knitted) // max(1, len(sizes))
    where = partial(_where, sizes=len(sizes), choices=choices)
    remarks = tuple(_remarks(pattern, findings, repairs, where))
    knitting = _knitting(sizes, options, every=every, knitted=knitted)
    begun = any(k.ledger.pieces for k in knitted)
    last = last_word(sizes, findings, verdicts, pattern.source, knitted=begun, where="")
    undecided = [v for v in verdicts if v.result is Result.UNDECIDED]
    open_ = [v for v in undecided if v.missing not in {NOT_BUILT, PERSON}]
    return Report(
        title=pattern.title,
        version=tuple(_version(pattern)),
        knitting=knitting,
        summary=_summary(last, remarks, verdicts, len(open_)),
        remarks=remarks,
        readings=tuple(_compared(pattern.source, f.span, f.message) for f in findings if f.settled),
        fails=_scope(verdicts, Result.FAILS),
        proved=_scope(verdicts, Result.HOLDS),
        undecided=_scope(open_, Result.UNDECIDED),
        not_made=_scope((v for v in undecided if v.missing == NOT_BUILT), Result.UNDECIDED),
        person=_scope((v for v in undecided if v.missing == PERSON), Result.UNDECIDED),
        absent=_scope(verdicts, Result.NOT_APPLICABLE),
    )


def _version(pattern: Pattern) -> Iterator[str]:
    """``Version: 1.2``, ``Date: March 2026``: the lines of the header that say which print this is."""
    for entry in pattern.header.entries:
        if entry.known == "Version" or _DATE.fullmatch(entry.key.strip()):
            yield f"{entry.key}: {entry.value}"
    yield from (words for words in pattern.description if _DATED.match(words.strip()))


def _knitting(
    sizes: Sequence[str],
    options: Sequence[tuple[str, tuple[str, ...]]],
    *,
    every: bool,
    knitted: Sequence[Knitted],
) -> Knitting:
    kinds = [e.kind for k in knitted for p in k.ledger.pieces for e in p.rows]
    rows, rounds = kinds.count(Kind.ROW), kinds.count(Kind.ROUND)
    stitches = sum(k.fabric.n for k in knitted)
    said = f"The pattern was knitted row by row as it is written, in {sizes_said(sizes)}"
    if options:
        chosen = [f"{name} {' or '.join(values)}" for name, values in options]
        said += f", with {and_list(chosen)}"
    many = [count(len(knitted), "knitting")] * (len(knitted) > 1)
    what = [count(rows, "row")] * bool(rows or not rounds) + [count(rounds, "round")] * bool(rounds)
    said += f": {and_list([*many, *what, count(stitches, 'stitch', 'stitches')])} in all."
    if not every:
        said += " There are too many choices to knit them all; every two of them were knitted together once."
    return Knitting(
        sizes=tuple(sizes),
        options=dict(options),
        ways=len(knitted),
        every=every,
        rows=rows,
        rounds=rounds,
        stitches=stitches,
        said=said,
    )


# --- remarks ------------------------------------------------------------------------------------------------


def _remarks(
    pattern: Pattern,
    findings: Sequence[Finding],
    repairs: Mapping[tuple[str, Span], Sequence[Fix]],
    where: Callable[[Finding], str],
) -> Iterator[Remark]:
    number = 0
    source = pattern.source
    for gravity in GRAVITIES:
        of_gravity = [f for f in findings if f.severity is gravity and not f.settled]
        for key, same in groupby(of_gravity, key=lambda f: (f.code, f.span)):
            first, *rest = same
            number += 1
            line = source.place(first.span.start)[0] if first.span.end >= 0 else None
            check = CATALOGUE.get(first.check or "")
            yield Remark(
                number=number,
                gravity=gravity,
                place=_place(pattern, first, line),
                line=line,
                quoted=_quoted(source, first.span),
                in_line=_line_round(source, first.span),
                found=_sentence(first.message),
                compared=tuple(_compared(source, r.span, r.words) for r in first.related),
                where=where(first),
                also=tuple(
                    Also(
                        where=where(f),
                        found=_sentence(f.message),
                        repair=f.help if f.help != first.help else None,
                    )
                    for f in rest
                ),
                repair=first.help,
                mends=tuple(fix.title for fix in repairs.get(key, ())),
                code=first.code,
                check=first.check,
                asked=check.title if check else None,
            )


def _compared(source: Source, span: Span, said: str) -> Compared:
    line = source.place(span.start)[0] if span.end >= 0 else None
    return Compared(line=line, quoted=_quoted(source, span), said=_sentence(said))


def _sentence(words: str) -> str:
    return " ".join(words.split())


def _quoted(source: Source, span: Span) -> str:
    return source.words(span) if span.end >= 0 else ""


def _line_round(source: Source, span: Span) -> str:
    if span.end < 0:
        return ""
    line = source.line(source.place(span.start)[0]).strip()
    return "" if line == source.words(span).strip() else line


def _place(pattern: Pattern, finding: Finding, line: int | None) -> str:
    """``Line 9, Row 5, under "Brim"``; ``The whole pattern`` for what is about no words."""
    if line is None:
        return "The whole pattern"
    said = [f"Line {line}"]
    for section in pattern.sections:
        words = next((at for at in section.lines if at.line == line), None)
        if words is not None and words.label is not None and words.label.words:
            said.append(words.label.words)
    heading = ""
    for section in pattern.sections:
        if section.span.end >= 0 and section.span.start < finding.span.start:
            heading = section.heading
    if heading and heading != pattern.title:
        said.append(f'under "{heading}"')
    return ", ".join(said)


def _where(finding: Finding, *, sizes: int, choices: int) -> str:
    """``size adult only``, ``every size, with turns wrapped``; "" when one size of one kind was knitted."""
    if sizes == 1 and choices == 1:
        return ""
    said = f"{sizes_said(finding.sizes)} only" if finding.sizes else ("every size" if sizes > 1 else "")
    chosen = and_list([f"{name} {value}" for name, value in finding.options])
    tail = f"with {chosen}" if chosen else "with every choice" if choices > 1 else ""
    return ", ".join(filter(None, [said, tail]))


# --- scope ----------------------------------------------------------------------------------------


def _scope(verdicts: Iterable[Verdict], result: Result) -> tuple[Scope, ...]:
    return tuple(
        Scope(
            check=v.check,
            family=FAMILIES[CATALOGUE[v.check].family],
            asked=CATALOGUE[v.check].title,
            said=v.missing or told_by(v) or (places_said(v) if v.places else ""),
            places=v.places,
        )
        for v in verdicts
        if v.result is result
    )


def _summary(last: str, remarks: Sequence[Remark], verdicts: Sequence[Verdict], open_: int) -> str:
    """Whether it can be knitted; how many remarks of each gravity; how far the proof reaches."""
    by = {g: sum(r.gravity is g for r in remarks) for g in GRAVITIES}
    said = [last]
    if remarks:
        parts = [
            count(by[Severity.ERROR], "thing must", "things must") + " be put right before it is printed",
            count(by[Severity.WARNING], "place", "places") + " may trip a knitter",
            count(by[Severity.NOTE], "thing is", "things are") + " worth a look",
        ]
        some = [part for part, g in zip(parts, GRAVITIES, strict=True) if by[g]]
        said.append(f"{and_list(some)[0].upper()}{and_list(some)[1:]}.")
    else:
        said.append("Nothing was found to put right.")
    holds = [v for v in verdicts if v.result is Result.HOLDS]
    fails = sum(v.result is Result.FAILS for v in verdicts)
    if holds:
        places = sum(v.places for v in holds)
        said.append(
            f"{count(len(holds), 'check holds', 'checks hold')}, at "
            f"{count(places, 'place', 'places')} taken together"
            + (f", and {count(fails, 'check does', 'checks do')} not." if fails else ".")
        )
    if open_:
        said.append(f"{count(open_, 'check', 'checks')} could not be decided; what is missing is told below.")
    return " ".join(said)
