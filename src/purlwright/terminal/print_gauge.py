"""Gauges converted, as a page.

In: the answer and the page to write on. Out: lines of text.
"""

from __future__ import annotations

from fractions import Fraction

from purlwright.terminal.look import Look, plain, wrap
from purlwright.units import half_up, length_words
from purlwright.wire.gauge import GaugeAnswerOut, GaugeFigureOut, GaugeFiguresOut, GaugeOut

__all__ = ["show_gauge"]


def show_gauge(done: GaugeOut, look: Look) -> list[str]:
    """The gauge, what washing did, each question with its answer, and what there is to know."""
    out = _gauge("Gauge", done.gauge, look)
    if done.yours is not None:
        out += _gauge("Your gauge", done.yours, look)
    if done.wash is not None:
        before = done.wash.before
        out += [f"  before washing {_counts(before)}", f"  washing made it {_changes(done)}"]
    if done.pick_up is not None and done.flat_disc is not None:
        sts, rows = done.pick_up
        many = f"{sts} {'st' if sts == 1 else 'sts'} for every {f'{rows} rows' if rows > 1 else 'row'}"
        out += ["", f"Along row ends, pick up {many}."]
        out.append(f"A circle lies flat if it grows by {done.flat_disc:.1f} sts a round.")
    for one in done.answers:
        out += ["", *_answer(one, look)]
    for sentence in done.said:
        out += ["", *wrap(plain(sentence), look.width)]
    return out


def _gauge(title: str, one: GaugeFiguresOut, look: Look) -> list[str]:
    out = [f"{look.strong(title)}  {plain(one.words)}"]
    return [*out, f"  {_counts(one)} to 10 cm (4 in)"]


def _counts(one: GaugeFiguresOut) -> str:
    parts = [
        f"{_half(n)} {what} ({n.least:.1f} to {n.most:.1f})"
        for n, what in ((one.stitches, "sts"), (one.rows, "rows")) if n is not None
    ]  # fmt: skip
    return " and ".join(parts)


def _half(n: GaugeFigureOut) -> str:
    """A count to the half, as gauges are printed."""
    halves = half_up(n.value, Fraction(1, 2))
    whole, half = divmod(halves, 1)
    return f"{whole or '' if half else whole}{'½' if half else ''}"


def _changes(done: GaugeOut) -> str:
    assert done.wash is not None  # noqa: S101 - asked only then
    parts = []
    for share, more, less in (
        (done.wash.wider, "wider", "narrower"),
        (done.wash.longer, "longer", "shorter"),
    ):
        if share is not None:
            percent = abs(share) * 100
            parts.append(
                f"{percent:.1f} % {more if share > 0 else less}" if percent >= 0.05 else f"no {more}"
            )
    return " and ".join(parts) or "no difference that was measured"


def _answer(one: GaugeAnswerOut, look: Look) -> list[str]:
    across = one.asked in {"width", "stitches"}
    unit = "sts" if across else "rows"
    if one.asked in {"stitches", "rows"}:
        out = [look.strong(f"{_many(one.count, unit)}"), f"  {_long(one.cm)}"]
    else:
        way = "wide" if across else "long"
        out = [look.strong(f"{plain(one.given)} {way}")]
        said = f"  {_many(one.count, unit)}: {_long(one.cm)}"
        if one.other is not None and one.other_cm is not None:
            said += f"; or {_many(one.other, unit)}: {_length(one.other_cm)}"
        out.append(said)
    if one.yours is not None:
        out.append(f"  at your gauge {_many(one.count, unit)} come to {_long(one.yours.cm)}")
        other = f", or {one.yours.other}" if one.yours.other is not None else ""
        way = "width" if across else "length"
        out.append(f"  for the same {way} work {_many(one.yours.count, unit)}{other}")
    return out


def _many(count: int, unit: str) -> str:
    return f"{count} {unit[:-1] if count == 1 else unit}"


def _length(cm: float) -> str:
    return f"{cm:.1f} cm / {length_words(cm * 10, 'in')} in"


def _long(cm: GaugeFigureOut) -> str:
    return f"{_length(cm.value)} ({cm.least:.1f} to {cm.most:.1f} cm)"
