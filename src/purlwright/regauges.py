"""One pattern at another gauge: from its text and a call to the new text, knitted and proved, or an honest
refusal.

In: a pattern and a call. Out: the answer as it leaves. Numbers are found and tried in the room ``sizing``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Protocol

from purlwright.findings import Severity
from purlwright.plans.said import read_knit
from purlwright.proof.rates import rates_in
from purlwright.sizing.lists import of_sizes
from purlwright.sizing.numbers import Number, numbers_in, with_numbers
from purlwright.sizing.regauge import Ratio, Stuck, Tried, regauged
from purlwright.sizing.starts.asked import Knit
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import BY_GAUGE
from purlwright.wire.plan import PlanProofOut
from purlwright.wire.regauge import RegaugeMeasureOut, RegaugeMovedOut, RegaugeOut, RegaugeSizeOut
from purlwright.workup import Kept, WorkUp

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry

__all__ = ["regauge"]

FAR = (Fraction(1, 2), Fraction(2))
"""A gauge further off than this makes another piece; own."""


class Call(Protocol):
    """The call, as far as it is about another gauge."""

    plan: dict[str, list[str]]


def regauge(work: WorkUp, call: Call) -> RegaugeOut:
    """The pattern at another gauge. Raises NoPlan, NotRead, and for a pattern with errors NoPlan."""
    new = read_knit(call.plan["--gauge"][-1])
    old = _own_gauge(work)
    ratio = Ratio(new.stitches / old.stitches, new.rows / old.rows)
    for share, what in ((ratio.stitches, "stitches"), (ratio.rows, "rows")):
        if not FAR[0] <= share <= FAR[1]:
            raise NoPlan(
                f"That gauge has {float(share):.1f} times the {what} of the pattern's: that is another piece."
            )
    wrong = sum(f.severity is Severity.ERROR for f in work.proved().findings)
    if wrong:
        errors = "an error" if wrong == 1 else f"{wrong} errors"
        raise NoPlan(f"The pattern has {errors}; correct what proof finds before changing its gauge.")
    numbers = numbers_in(work.source.text, _knitted_lines(work), len(work.sizes))
    made, refused = _new_text(work, numbers, ratio, old, new)
    by_rows = sorted({n.line for n in numbers if n.counts == "rows"} | _by_rows(work))
    measures = list(_measures(work, ratio))
    found: list[str] = []
    proof = None
    again = None
    if made is not None:
        again = WorkUp(made[0], work.source.name)
        proved = again.proved()
        if any(f.severity is Severity.ERROR for f in proved.findings):
            first = next(f for f in proved.findings if f.severity is Severity.ERROR)
            line = again.source.place(max(first.span.start, 0))[0]
            refused, made, again = (
                f"Line {line} does not come out with new numbers: {first.problem.message()}",
                None,
                None,
            )
        else:
            counted = [f.severity.value for f in proved.findings]
            found = [
                f"Line {again.source.place(max(f.span.start, 0))[0]}: {f.problem.message()}"
                for f in proved.findings
            ]
            proof = PlanProofOut(
                clean=not counted,
                sizes=list(proved.sizes),
                ways=len(proved.knitted),
                errors=counted.count("error"),
                warnings=counted.count("warning"),
                notes=counted.count("note"),
            )
    return RegaugeOut(
        title=work.title,
        before=_words(old),
        after=_words(new),
        moved=_moved(made[1]) if made is not None else [],
        sizes=list(_sizes(work, again or _at_same_counts(work, old, new), ratio)),
        measures=measures,
        by_rows=by_rows,
        left=_left(work),
        refused=refused,
        said=[
            *_said(work, ratio, again),
            *_other_size(work, measures),
            *(_far_off(made[1], ratio, _shaping_lines(work)) if made else ()),
            *found,
        ],
        pattern=None if made is None else made[0],
        proof=proof,
    )


def _own_gauge(work: WorkUp) -> Knit:
    """The main gauge of the pattern. Raises NoPlan if it has none of stitches and rows."""
    found = [r for r in rates_in(work.pattern.header, len(work.sizes)) if r.stitches and r.rows]
    if not found:
        raise NoPlan(
            "The pattern states no gauge of stitches and rows, so there is nothing to change it from."
        )
    main = next((r for r in found if r.ground != "rib"), found[0])
    assert main.stitches is not None  # noqa: S101 - chosen so
    assert main.rows is not None  # noqa: S101
    return Knit(stitches=main.stitches * 10, rows=main.rows * 10)


def _words(knit: Knit) -> str:
    return f"{float(knit.stitches):g} sts and {float(knit.rows):g} rows to 10 cm"


def _knitted_lines(work: WorkUp) -> dict[int, int]:
    """Lines that are knitted, and the named numbers: their number and where they begin."""
    out: dict[int, int] = {}
    for section in work.pattern.sections:
        for line in section.lines:
            if section.kind != "define" or re.fullmatch(r"[A-Za-z][\w ]*\s*=.*", line.text.strip()):
                if not line.text.lstrip().startswith(">"):
                    out[line.line] = line.offset
    for number, words in enumerate(work.source.text.split("\n"), 1):
        if re.fullmatch(r"[A-Za-z][\w ]{0,30}\s*=\s*\d[\d ,()\[\]-]*", words.strip()):
            out[number] = work.source.line_span(number).start
    return out


# --- new numbers ------------------------------------------------------------------------------------


def _new_text(
    work: WorkUp, numbers: list[Number], ratio: Ratio, old: Knit, new: Knit
) -> tuple[tuple[str, list[tuple[Number, list[int | None]]]] | None, str | None]:
    """The new text with its numbers, or why there is none."""
    text = work.source.text
    shaping = _shaping_lines(work)
    kept = Kept()
    found: list[list[int | None]] = []
    for place, size in enumerate(work.sizes):

        def tried(trial: str, size: str = size) -> Tried:
            knitting = WorkUp(trial, work.source.name, kept)
            wrong = [
                (knitting.source.place(max(f.span.start, 0))[0], f.problem.message())
                for choice in _choices_of(knitting)
                for f in knitting.findings(size, choice)
                if f.severity is Severity.ERROR
            ]
            line, said = min(wrong, default=(None, ""))
            return Tried(line, said)

        try:
            found.append(regauged(text, numbers, place, ratio, lambda n: n.line in shaping, tried))
        except Stuck as stuck:
            words = text.split("\n")[stuck.line - 1].strip()
            return None, (
                f"Size {size}, line {stuck.line}: no numbers near those that the gauge asks for come out in "
                f'"{_short(words)}" At best: {stuck.words} The stitch pattern or the shaping there has to be '
                f"planned anew."
            )
    both = list(zip(numbers, [list(values) for values in zip(*found, strict=True)], strict=True))
    bare = with_numbers(text, [(n, None if n.counts == "total" else v) for n, v in both])
    totals = _totals(WorkUp(bare, work.source.name), numbers)
    both = [(n, totals.get(n.start, v) if n.counts == "total" else v) for n, v in both]
    return (_new_gauge(with_numbers(text, list(both)), work, old, new), both), None


def _short(words: str) -> str:
    """The beginning of a line, cut between words."""
    if len(words) <= SHORT:
        return words
    return f"{words[:SHORT].rsplit(' ', 1)[0]} ..."


SHORT = 90
"""Letters of a line that are repeated in a refusal; own."""


def _choices_of(work: WorkUp) -> list[dict[str, str]]:
    """The usual values of all options, and each other value once."""
    usual = {name: values[0] for name, values in work.options}
    return [usual, *({**usual, name: v} for name, values in work.options for v in values[1:])]


def _shaping_lines(work: WorkUp) -> set[int]:
    """Lines whose rows change the number of stitches."""
    return {e.line for e in _entries(work) if e.start != e.end}


def _entries(work: WorkUp, size: str | None = None) -> Iterator[Entry]:
    for piece in work.knitted(size).ledger.pieces:
        yield from piece.rows


def _by_rows(work: WorkUp) -> set[int]:
    """Lines that shape, turn or count by rows: what they come to depends on the row gauge."""
    return {e.line for e in _entries(work) if e.worked and (e.gaps or e.start != e.end)}


def _totals(work: WorkUp, numbers: list[Number]) -> dict[int, list[int | None]]:
    """What stands after the rows of each line that had a total, by where the total stood."""
    out: dict[int, list[int | None]] = {}
    for n in numbers:
        if n.counts != "total":
            continue
        values: list[int | None] = []
        for size, old in zip(work.sizes, n.values, strict=True):
            rows = sorted(_entries(work, size), key=lambda e: e.order)
            # what stands when the first row of a later line begins: a repeat bears the line of the rows it
            # repeats
            later = next((i for i, e in enumerate(rows) if e.line > n.line), len(rows))
            values.append(rows[later - 1].end if later and old is not None else old)
        out[n.start] = values
    return out


def _new_gauge(text: str, work: WorkUp, old: Knit, new: Knit) -> str:
    """The gauge in the header, in its own words: only the two numbers are exchanged."""
    for gauge in work.pattern.header.gauges:
        if not (gauge.stitches and gauge.rows):
            continue
        words = gauge.words
        sts, rows = f"{float(new.stitches):g}", f"{float(new.rows):g}"
        changed = re.sub(r"\d+(?:\.\d+)?(?=\s*(?:sts?|stitches)\b)", sts, words, count=1)
        changed = re.sub(r"\d+(?:\.\d+)?(?=\s*(?:rows?|rnds?|rounds?)\b)", rows, changed, count=1)
        over = re.search(r"=\s*(4\s*(?:in(?:ch(?:es)?)?\b|\")|10\s*cm)", changed)
        if over is None:
            continue
        _ = old
        return text.replace(words, changed, 1)
    return text


# --- what is told -----------------------------------------------------------------------------------


def _moved(both: list[tuple[Number, list[int | None]]]) -> list[RegaugeMovedOut]:
    return [
        RegaugeMovedOut(line=n.line, counts=n.counts, before=_list(n.values), after=_list(new))
        for n, new in both
        if list(n.values) != list(new)
    ]


def _list(values: tuple[int | None, ...] | list[int | None]) -> str:
    return of_sizes(["-" if v is None else str(v) for v in values])


def _sizes(work: WorkUp, again: WorkUp | None, ratio: Ratio) -> Iterator[RegaugeSizeOut]:
    for size in work.sizes:
        before = _metres(work, size)
        after = None if again is None else _metres(again, size)
        yield RegaugeSizeOut(
            size=size,
            wider=round(float(1 / ratio.stitches) - 1, 4),
            longer=round(float(1 / ratio.rows) - 1, 4),
            metres_before=before,
            metres=after,
        )


def _at_same_counts(work: WorkUp, old: Knit, new: Knit) -> WorkUp:
    """The pattern with nothing but the gauge exchanged."""
    return WorkUp(_new_gauge(work.source.text, work, old, new), work.source.name)


def _measures(work: WorkUp, ratio: Ratio) -> Iterator[RegaugeMeasureOut]:
    """Each stated measure: what it is, and what the same counts come to at the other gauge."""
    for one in work.beside():
        share = ratio.stitches if re.match(r"\d+.* sts\b", one.made_of) else ratio.rows
        if any(n.ours_cm is None for n in one.sizes):
            continue
        cm = [n.ours_cm or Fraction(0) for n in one.sizes]
        same = [v / share for v in cm]
        yield RegaugeMeasureOut(
            words=one.words,
            made_of=one.made_of,
            cm=[round(float(v), 1) for v in cm],
            same_counts_cm=[round(float(v), 1) for v in same],
            same_counts_in=[round(float(v / BY_GAUGE["in"] * 10), 2) for v in same],
        )


def _other_size(work: WorkUp, measures: list[RegaugeMeasureOut]) -> Iterator[str]:
    """Which size to knit at the same counts, for each size that is wanted; of the first measure round."""
    if len(work.sizes) < 2:
        return
    for one in measures:
        if not re.search(r"\b(?:round|around|chest|bust|circumference|wide)\b", one.words):
            continue
        if len(one.cm) != len(work.sizes):
            continue
        told = []
        for size, wanted in zip(work.sizes, one.cm, strict=True):
            place = min(range(len(one.cm)), key=lambda n: abs(one.same_counts_cm[n] - wanted))
            if work.sizes[place] != size:
                told.append(
                    f"for {size} ({wanted:g} cm) knit {work.sizes[place]} ({one.same_counts_cm[place]:g} cm)"
                )
        if told:
            yield f"At the same counts, by {one.words}: {'; '.join(told)}."
        return


def _metres(work: WorkUp, size: str) -> float | None:
    taken = work.yarn(size)
    return round(sum(use.metres for use in taken.uses), 1) if taken.known and taken.uses else None


def _left(work: WorkUp) -> list[int]:
    """Notes to the knitter that have numbers in them."""
    lines = work.source.text.split("\n")
    return [n for n, words in enumerate(lines, 1) if words.startswith(">") and re.search(r"\d", words)]


def _said(work: WorkUp, ratio: Ratio, again: WorkUp | None) -> list[str]:
    out = []
    if again is None:
        wide, long = 1 / ratio.stitches, 1 / ratio.rows
        out.append(
            f"At the same counts the piece comes out {_share(wide, 'wider', 'narrower')} and "
            f"{_share(long, 'longer', 'shorter')}: another of its sizes may be the one to knit."
        )
    if ratio.rows != ratio.stitches:
        out.append(
            "Stitches and rows change by different shares, so what is shaped by rows gets another slope."
        )
    if work.pattern.charts:
        out.append("Charts and stitch patterns stay as they are; only how often they are worked has moved.")
    return out


def _far_off(both: list[tuple[Number, list[int | None]]], ratio: Ratio, shaping: set[int]) -> Iterator[str]:
    """Numbers that came out only far from what the gauge asks: a designer has to look at them."""
    for n, new in both:
        by_rows = n.counts == "rows" or (n.counts == "times" and n.line not in shaping)
        share = ratio.rows if by_rows else ratio.stitches
        pairs = [(a * share, b) for a, b in zip(n.values, new, strict=True) if a and b]
        if n.counts != "total" and any(abs(b - want) > max(Fraction(2), want / 8) for want, b in pairs):
            yield (
                f"Line {n.line}: {_list(new)} is farther from what the gauge asks than a rounding; look "
                f"whether it still "
                "makes the shape that you want."
            )


def _share(value: Fraction, more: str, less: str) -> str:
    percent = abs(float(value) - 1) * 100
    return f"{percent:.0f} % {more if value > 1 else less}" if percent >= 0.5 else f"no {more}"
