"""The proof as an editor hands it back: what does not hold, what cannot be decided, what holds.

In: what was proved. Out: lines of text. The last line says in one sentence whether every size can be
knitted as written.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from purlwright.findings import Result, Severity, Verdict
from purlwright.mend.search import Repair
from purlwright.needles.ledger import ROWS, Kind
from purlwright.proof.catalogue import CATALOGUE, FAMILIES
from purlwright.proof.last_word import last_word
from purlwright.proof.registry import NOT_BUILT, PERSON
from purlwright.proof.said import and_list, count, places_said, sizes_said
from purlwright.terminal.excerpt import show_findings
from purlwright.terminal.look import Look, heading, plain, width_of, wrap
from purlwright.text import Source
from purlwright.workup import Proved

__all__ = ["show_proof"]


def show_proof(
    proved: Proved,
    title: str,
    source: Source,
    look: Look,
    *,
    everything: bool = False,
    repairs: Sequence[Repair] = (),
) -> list[str]:
    """Title and what was knitted; findings, gravest first; verdicts; the last word."""
    out = [look.strong(plain(title) or "A pattern without a title"), *_knitted(proved, look), ""]
    for severity, head in (
        (Severity.ERROR, "Does not hold"),
        (Severity.WARNING, "May trip a knitter"),
        (Severity.NOTE, "Worth a look"),
    ):
        found = [f for f in proved.findings if f.severity is severity and not f.settled]
        if found:
            out += [heading(head, look), "", *show_findings(found, source, look, repairs)]
    out += _readings(proved, source, look)
    shown = [v for v in proved.verdicts if everything or v.missing != NOT_BUILT]
    out += _failing(shown, proved, source, look)
    out += _undecided(shown, look, everything=everything)
    out += _group(shown, Result.HOLDS, "Holds", look)
    out += _not_applicable(shown, look, everything=everything)
    return [*out, *(look.strong(line) for line in wrap(plain(_last(proved, source)), look.width))]


def _last(proved: Proved, source: Source) -> str:
    knitted = any(k.ledger.pieces for k in proved.knitted)
    return last_word(proved.sizes, proved.findings, proved.verdicts, source, knitted=knitted)


# --- what was knitted -------------------------------------------------------------------------------------


def _knitted(proved: Proved, look: Look) -> list[str]:
    """``Knitted in sizes child, adult and large, turns wrapped or double stitch: 6 ways, 1,014 rows.``"""
    entries = [e for k in proved.knitted for p in k.ledger.pieces for e in p.rows]
    sizes = sizes_said(proved.sizes)
    options = [f"{name} {' or '.join(values)}" for name, values in proved.options]
    ways = f"{count(len(proved.knitted), 'way')}, " if len(proved.knitted) > 1 else ""
    flat = [e.kind is Kind.ROW for e in entries if e.kind in ROWS]
    what = [count(sum(flat), "row")] if any(flat) or not flat else []
    what += [count(len(flat) - sum(flat), "round")] if not all(flat) else []
    said = f"Knitted in {', '.join([sizes, *options])}: {ways}{' and '.join(what)}."
    if not proved.every:
        said += (
            f" There are too many combinations of options to knit them all: every two values were "
            f"knitted together at least once, in {count(len(proved.choices), 'combination')}."
        )
    return wrap(plain(said), look.width)


def _readings(proved: Proved, source: Source, look: Look) -> list[str]:
    """Words with two readings, of which the printed counts chose one: a line each."""
    settled = [f for f in proved.findings if f.settled]
    if not settled:
        return []
    out = [heading("Read one way of two, by the printed counts", look), ""]
    for f in settled:
        lines = wrap(plain(f"Line {source.place(f.span.start)[0]}: {f.message}"), look.width - 2)
        out += [look.faint(f"  {line}") for line in lines]
    return [*out, ""]


# --- verdicts -----------------------------------------------------------------------------------------------


def _group(verdicts: Sequence[Verdict], result: Result, head: str, look: Look) -> list[str]:
    """The checks with one result, under their families, each with how many places were looked at."""
    chosen = [v for v in verdicts if v.result is result]
    if not chosen:
        return []
    out = [heading(head, look)]
    for family, of_family in groupby(chosen, key=lambda v: CATALOGUE[v.check].family):
        out.append(f"  {FAMILIES[family]}")
        for verdict in of_family:
            out += _verdict(verdict, places_said(verdict) if verdict.places else "", look)
    return [*out, ""]


def _failing(verdicts: Sequence[Verdict], proved: Proved, source: Source, look: Look) -> list[str]:
    """The checks that fail, each with the lines where."""
    chosen = [v for v in verdicts if v.result is Result.FAILS]
    if not chosen:
        return []
    out = [heading("Checks that fail", look)]
    for verdict in chosen:
        mine = [f for f in proved.findings if f.check == verdict.check and not f.settled]
        mine = mine or [f for f in proved.findings if f.code in verdict.told_by and not f.settled]
        spans = [f.span for f in mine if f.span.end >= 0]
        lines = sorted({source.place(span.start)[0] for span in spans})
        some = [f"{n}" for n in lines[:4]] + ([f"{len(lines) - 4} more"] if len(lines) > 4 else [])
        where = f"{'line' if len(lines) == 1 else 'lines'} {and_list(some)}" if lines else "as above"
        where = f"told by {verdict.told_by[0]}, {where}" if verdict.told_by else where
        out += _verdict(verdict, where, look)
    return [*out, ""]


def _undecided(verdicts: Sequence[Verdict], look: Look, *, everything: bool) -> list[str]:
    """The checks that cannot be decided, by what is missing.

    Those that had nothing else to look at are only counted, unless everything is asked for.
    """
    by_missing: dict[str, list[Verdict]] = {}
    for verdict in verdicts:
        if verdict.result is Result.UNDECIDED:
            by_missing.setdefault(verdict.missing or "", []).append(verdict)
    if not by_missing:
        return []
    out = [heading("Cannot be decided", look)]
    for missing, chosen in by_missing.items():
        full = [v for v in chosen if v.places or everything or missing == PERSON or len(chosen) == 1]
        rest = len(chosen) - len(full)
        if full:
            out += [f"  {line}" for line in wrap(f"{plain(missing)}:", look.width - 2)]
            for verdict in full:
                holds = "holds" if verdict.places == 1 else "hold"
                others = f"else {places_said(verdict)} {holds}" if verdict.places else ""
                out += _verdict(verdict, others, look)
        if rest:
            more = count(rest, "more check" if full else "check")
            said = f"    and {more}" if full else f"  {plain(missing)}: {more}"
            said += f" with nothing else to look at; --all lists {'it' if rest == 1 else 'them'}"
            lead = " " * (len(said) - len(said.lstrip()))
            out += [look.faint(lead + line) for line in wrap(said, look.width - len(lead))]
    return [*out, ""]


_PAINT = {
    Result.HOLDS: Look.good,
    Result.FAILS: Look.bad,
    Result.UNDECIDED: Look.careful,
    Result.NOT_APPLICABLE: Look.faint,
}


def _verdict(verdict: Verdict, tail: str, look: Look) -> list[str]:
    """Number and title, and at the right a few words more."""
    wide = min(look.width, 88) - 10
    lines = wrap(CATALOGUE[verdict.check].title, wide)
    if tail and width_of(lines[-1]) + width_of(tail) + 2 <= wide:
        lines[-1] += " " * (wide - width_of(lines[-1]) - width_of(tail)) + look.faint(tail)
    elif tail:
        lines.append(" " * max(0, wide - width_of(tail)) + look.faint(tail))
    number = _PAINT[verdict.result](look, verdict.check)
    return [f"    {number}  {lines[0]}", *(f"          {line}" for line in lines[1:])]


def _not_applicable(verdicts: Sequence[Verdict], look: Look, *, everything: bool) -> list[str]:
    chosen = [v for v in verdicts if v.result is Result.NOT_APPLICABLE]
    if not chosen:
        return []
    if everything:
        return _group(verdicts, Result.NOT_APPLICABLE, "Does not apply", look)
    do = count(len(chosen), "check does", "checks do")
    said = f"{do} not apply: the pattern has nothing of the kind. --all lists every check."
    return [*(look.faint(line) for line in wrap(said, look.width)), ""]
