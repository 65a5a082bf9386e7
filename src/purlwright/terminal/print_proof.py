"""The proof as an editor hands it back: what does not hold, what cannot be decided, what holds.

In: what was proved. Out: lines of text. The last line says in one sentence whether every size can be
knitted as written.
"""

from __future__ import annotations

from collections.abc import Sequence

from purlwright.findings import Finding, Result, Severity, Verdict
from purlwright.needles.ledger import Kind
from purlwright.proof.catalogue import CATALOGUE, FAMILIES
from purlwright.proof.registry import NOT_BUILT
from purlwright.proof.sizes import CANNOT_WORK
from purlwright.terminal.excerpt import show_findings
from purlwright.terminal.look import Look, and_list, count, plain, width_of, wrap
from purlwright.text import Source
from purlwright.workup import ONE_SIZE, Proved

__all__ = ["last_word", "show_proof"]


def show_proof(
    proved: Proved, title: str, source: Source, look: Look, *, everything: bool = False
) -> list[str]:
    """Title and what was knitted; findings, gravest first; verdicts; the last word."""
    out = [look.strong(plain(title) or "A pattern without a title"), *_knitted(proved, look), ""]
    for severity, head in (
        (Severity.ERROR, "Does not hold"),
        (Severity.WARNING, "May trip a knitter"),
        (Severity.NOTE, "Worth a look"),
    ):
        found = [f for f in proved.findings if f.severity is severity]
        if found:
            out += [look.strong(head), "", *show_findings(found, source, look)]
    shown = [v for v in proved.verdicts if everything or v.missing != NOT_BUILT]
    out += _group(shown, Result.FAILS, "Checks that fail", look)
    out += _group(shown, Result.UNDECIDED, "Cannot be decided", look)
    out += _group(shown, Result.HOLDS, "Holds", look)
    out += _not_applicable(shown, look, everything=everything)
    return [*out, *(look.strong(line) for line in wrap(last_word(proved, source), look.width))]


# --- what was knitted -------------------------------------------------------------------------------------


def _knitted(proved: Proved, look: Look) -> list[str]:
    """``Knitted in sizes child, adult and large, turns wrapped or double stitch: 6 ways, 1,014 rows.``"""
    entries = [e for k in proved.knitted for p in k.ledger.pieces for e in p.rows]
    rows = sum(e.kind in {Kind.ROW, Kind.ROUND} for e in entries)
    sizes = (
        "one size"
        if proved.sizes == (ONE_SIZE,)
        else (f"{'size' if len(proved.sizes) == 1 else 'sizes'} {and_list(proved.sizes)}")
    )
    options = [f"{name} {' or '.join(values)}" for name, values in proved.options]
    ways = f"{count(len(proved.knitted), 'way')}, " if len(proved.knitted) > 1 else ""
    said = (
        f"Knitted in {', '.join([sizes, *options])}: {ways}{count(rows, 'row or round', 'rows and rounds')}."
    )
    if not proved.every:
        said += (
            f" There are too many combinations of options to knit them all: every two values were "
            f"knitted together at least once, in {count(len(proved.choices), 'combination')}."
        )
    return wrap(plain(said), look.width)


# --- verdicts -----------------------------------------------------------------------------------------------


def _group(verdicts: Sequence[Verdict], result: Result, head: str, look: Look) -> list[str]:
    """The checks with one result, under their families, each with how many places were looked at."""
    chosen = [v for v in verdicts if v.result is result]
    if not chosen:
        return []
    out = [look.strong(head)]
    family = ""
    for verdict in chosen:
        entry = CATALOGUE[verdict.check]
        if entry.family != family:
            family = entry.family
            out.append(f"  {FAMILIES[family]}")
        out += _verdict(verdict, look)
    return [*out, ""]


def _verdict(verdict: Verdict, look: Look) -> list[str]:
    entry = CATALOGUE[verdict.check]
    number = {
        Result.HOLDS: look.good,
        Result.FAILS: look.bad,
        Result.UNDECIDED: look.careful,
        Result.NOT_APPLICABLE: look.faint,
    }[verdict.result](verdict.check)
    tail = verdict.missing or ""
    if not tail and verdict.places and verdict.result is Result.HOLDS:
        tail = _places(verdict)
    wide = look.width - 10
    lines = wrap(entry.title, wide)
    if tail and width_of(lines[-1]) + width_of(tail) + 2 <= wide:
        dots = " " * (wide - width_of(lines[-1]) - width_of(tail))
        lines[-1] += dots + look.faint(tail)
    elif tail:
        lines += [look.faint(line) for line in wrap(f"  {tail}", wide - 2)]
    return [f"    {number}  {lines[0]}", *(f"          {line}" for line in lines[1:])]


def _places(verdict: Verdict) -> str:
    """``168 rows``, ``1 row``."""
    noun = CATALOGUE[verdict.check].noun
    return f"{verdict.places:,} {noun}" if verdict.places != 1 else f"1 {_singular(noun)}"


def _singular(noun: str) -> str:
    head, space, tail = noun.partition(" to ")
    one = {"passes": "pass", "stitches": "stitch"}.get(head, head.removesuffix("s"))
    return one + space + tail


def _not_applicable(verdicts: Sequence[Verdict], look: Look, *, everything: bool) -> list[str]:
    chosen = [v for v in verdicts if v.result is Result.NOT_APPLICABLE]
    if not chosen:
        return []
    if everything:
        return _group(verdicts, Result.NOT_APPLICABLE, "Does not apply", look)
    do = count(len(chosen), "check does", "checks do")
    said = f"{do} not apply: the pattern has nothing of the kind. --all lists every check."
    return [*(look.faint(line) for line in wrap(said, look.width)), ""]


# --- the last word ----------------------------------------------------------------------------------------


def last_word(proved: Proved, source: Source) -> str:
    """Whether every size can be knitted as written, in one sentence."""
    errors = [f for f in proved.findings if f.severity is Severity.ERROR]
    if not any(k.ledger.pieces for k in proved.knitted):
        return "Nothing can be said of the knitting: no piece is begun in these words."
    stuck = [f for f in errors if f.check in CANNOT_WORK or f.check is None]
    if stuck:
        return _stuck(stuck, proved, source)
    sizes = _all_sizes(proved)
    if errors:
        many = len({(f.code, f.span) for f in errors})
        wrong = count(many, "thing printed is wrong", "things printed are wrong")
        return f"{sizes} can be knitted to the end, but {wrong}; see above."
    if any(v.check == "C049" and v.result is Result.UNDECIDED for v in proved.verdicts):
        return f"{sizes} may be knitted, but part of the words could not be proved; see above."
    return f"{sizes} can be knitted as written."


def _all_sizes(proved: Proved) -> str:
    if proved.sizes == (ONE_SIZE,):
        return "The pattern"
    return f"Size {proved.sizes[0]}" if len(proved.sizes) == 1 else "Every size"


def _stuck(stuck: Sequence[Finding], proved: Proved, source: Source) -> str:
    """Which sizes stop, and at which line first."""
    places = [source.place(f.span.start)[0] for f in stuck if f.span.end >= 0]
    at = f": see line {min(places)}" if places else ""
    everywhere = any(not f.sizes for f in stuck)
    stopped = {size for f in stuck for size in f.sizes}
    rest = [s for s in proved.sizes if s not in stopped]
    if proved.sizes == (ONE_SIZE,):
        return f"The pattern cannot be knitted as written{at}."
    if everywhere or not rest:
        none = "No size" if len(proved.sizes) > 1 else f"Size {proved.sizes[0]} cannot"
        verb = "can" if len(proved.sizes) > 1 else ""
        return f"{none} {verb + ' ' if verb else ''}be knitted as written{at}."
    names = [s for s in proved.sizes if s in stopped]
    return plain(
        f"{'Size' if len(names) == 1 else 'Sizes'} {and_list(names)} cannot be knitted as written{at}; "
        f"{'size' if len(rest) == 1 else 'sizes'} {and_list(rest)} can."
    )
