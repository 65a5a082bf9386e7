"""What ``purlwright gauge`` is asked, from the words of the call to its answer.

In: a call. Out: the answer as it leaves. Nothing is printed, and no pattern is read. The arithmetic is in
``cloth.swatch``, the words in ``cloth.swatch_words``.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Protocol

from purlwright.cloth.swatch import (
    Multiple,
    Ranged,
    count_in,
    flat_disc,
    length_of,
    pick_up_rate,
)
from purlwright.cloth.swatch_words import NotRead, figures, length_mm, multiple, swatch_figures
from purlwright.wire.gauge import (
    GaugeAnswerOut,
    GaugeFigureOut,
    GaugeFiguresOut,
    GaugeOut,
    GaugeWashOut,
    GaugeYoursOut,
)

if TYPE_CHECKING:
    from purlwright.cloth.swatch_words import Figures

__all__ = ["NotRead", "gauges"]

USUAL_OFF = "2 mm"
"""How far a swatch measured with a tape may be off. Common practice, no source."""


class Asked(Protocol):
    """The call, as far as it is about gauges."""

    names: list[str]
    mine: str
    swatch: list[str]
    washed: list[str]
    within: str
    width: str
    length: str
    stitches: int | None
    rows: tuple[int, int] | None
    multiple: str
    seam: int


def gauges(call: Asked) -> GaugeOut:
    """The answer to a call. Raises NotRead where its words are not understood, or not enough."""
    off = length_mm(call.within or USUAL_OFF, "--within")
    unwashed = swatch_figures(call.swatch, off) if call.swatch else None
    washed = swatch_figures(call.washed, off) if call.washed else None
    swatch = washed or unwashed
    mine = figures(call.mine) if call.mine else swatch
    if call.names:
        pattern = figures(call.names[0])
    elif mine is not None:
        pattern, mine = mine, None
    else:
        raise NotRead(
            'Give a gauge, for example purlwright gauge "22 sts and 30 rows to 10 cm", or a --swatch.'
        )
    repeat = multiple(call.multiple) if call.multiple else None
    both = pattern.stitches is not None and pattern.rows is not None
    return GaugeOut(
        gauge=_figures(pattern),
        yours=_figures(mine) if mine is not None else None,
        wash=_wash(unwashed, washed) if unwashed is not None and washed is not None else None,
        pick_up=list(pick_up_rate(pattern.stitches.value, pattern.rows.value))
        if pattern.stitches is not None and pattern.rows is not None else None,
        flat_disc=round(flat_disc(pattern.stitches.value, pattern.rows.value), 2)
        if pattern.stitches is not None and pattern.rows is not None and both else None,
        answers=_answers(call, pattern, mine, repeat),
        said=_said(call, pattern, mine, unwashed, washed),
    )  # fmt: skip


def _answers(
    call: Asked, pattern: Figures, mine: Figures | None, repeat: Multiple | None
) -> list[GaugeAnswerOut]:
    out = []
    for asked, words, count in (
        ("width", call.width, None),
        ("stitches", "", call.stitches),
        ("length", call.length, None),
        ("rows", "", call.rows[0] if call.rows is not None else None),
    ):
        if not words and count is None:
            continue
        across = asked in {"width", "stitches"}
        gauge = _of(pattern, across=across)
        yours = _of(mine, across=across) if mine is not None and _has(mine, across=across) else None
        edge = call.seam if across else 0
        if count is not None and count <= edge:
            raise NotRead(f"--{asked} {count} leaves nothing but the {edge} stitches of the seams.")
        mm = length_mm(words, f"--{asked}") if words else length_of(count or 0, gauge, edge).value
        out.append(
            _answer(asked, words or str(count), mm, count, gauge, yours, repeat if across else None, edge)
        )
    return out


def _answer(
    asked: str,
    given: str,
    mm: Fraction,
    count: int | None,
    gauge: Ranged,
    yours: Ranged | None,
    repeat: Multiple | None,
    edge: int,
) -> GaugeAnswerOut:
    found = count_in(mm, gauge, repeat, edge)
    many = found.nearest if count is None else count
    other = found.other if count is None else None
    same = count_in(mm, yours, repeat, edge) if yours is not None else None
    return GaugeAnswerOut(
        asked=asked,
        given=given,
        count=many,
        other=other,
        cm=_cm(length_of(many, gauge, edge)),
        other_cm=_cm(length_of(other, gauge, edge)).value if other is not None else None,
        yours=None if yours is None or same is None else GaugeYoursOut(
            cm=_cm(length_of(many, yours, edge)), count=same.nearest, other=same.other
        ),
    )  # fmt: skip


def _has(one: Figures, *, across: bool) -> bool:
    return (one.stitches if across else one.rows) is not None


def _of(one: Figures, *, across: bool) -> Ranged:
    found = one.stitches if across else one.rows
    if found is None:
        what = "stitches" if across else "rows"
        raise NotRead(f'"{one.words}" counts no {what}; give them too, as in "22 sts and 30 rows to 10 cm".')
    return found


def _cm(mm: Ranged) -> GaugeFigureOut:
    return GaugeFigureOut(
        value=round(float(mm.value / 10), 2), least=round(float(mm.least / 10), 2),
        most=round(float(mm.most / 10), 2),
    )  # fmt: skip


def _figure(one: Ranged | None) -> GaugeFigureOut | None:
    if one is None:
        return None
    return GaugeFigureOut(
        value=round(float(one.value), 2), least=round(float(one.least), 2), most=round(float(one.most), 2)
    )


def _figures(one: Figures) -> GaugeFiguresOut:
    return GaugeFiguresOut(words=one.words, stitches=_figure(one.stitches), rows=_figure(one.rows))


def _wash(before: Figures, after: Figures) -> GaugeWashOut:
    def change(was: Ranged | None, now: Ranged | None) -> float | None:
        return round(float(was.value / now.value) - 1, 4) if was is not None and now is not None else None

    return GaugeWashOut(
        before=_figures(before),
        wider=change(before.stitches, after.stitches),
        longer=change(before.rows, after.rows),
    )


def _said(
    call: Asked, pattern: Figures, mine: Figures | None, unwashed: Figures | None, washed: Figures | None
) -> list[str]:
    out = []
    if unwashed is not None and washed is None:
        out.append("Measure it again after washing, and give that as --washed.")
    if unwashed is not None or washed is not None:
        off = call.within or USUAL_OFF
        out.append(f"The ranges are what a tape that may be off by {off} either way leaves open.")
    if mine is not None and mine.stitches is not None and pattern.stitches is not None:
        more = mine.stitches.value - pattern.stitches.value
        if abs(more) >= Fraction(1, 2):
            said, needle = ("fewer", "thinner") if more < 0 else ("more", "thicker")
            out.append(
                f"You have {float(abs(more)):.2g} sts {said} in 10 cm: try {needle} needles. One size "
                "changes about half a stitch to a stitch (common practice, no source)."
            )
    if call.seam and not (call.width or call.stitches):
        out.append("--seam counts only with --width or --stitches.")
    if call.multiple and not call.width:
        out.append("--multiple counts only with --width.")
    return out
