"""What is asked of ``gauge`` in words: gauges, lengths, multiples, a swatch.

In: the words as typed. Out: exact values, or :class:`NotRead` with a sentence that shows how to write it. The
arithmetic is in ``swatch``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from purlwright.cloth.swatch import Measured, Multiple, Ranged, of_printed, of_swatch
from purlwright.pattern.gauge import Gauge, read_gauge, read_length
from purlwright.units import BY_GAUGE

__all__ = ["Figures", "NotRead", "figures", "length_mm", "multiple", "swatch_figures"]

_MOST_MM = Fraction(100_000)
_MOST = 100_000


class NotRead(ValueError):  # noqa: N818 - words that are not understood, not a fault
    """Words that are not what was asked for; the message says how to write it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """A gauge to 10 cm: its words, stitches and rows, each None where it is not counted."""

    words: str
    stitches: Ranged | None
    rows: Ranged | None


def figures(words: str) -> Figures:
    """A gauge: "22 sts and 30 rows to 10 cm", "5.5 sts to 1 inch". Raises NotRead."""
    gauge = _gauge(words, 'A gauge is written like "22 sts and 30 rows to 10 cm"')
    over, rows_over = _over(gauge)
    return Figures(
        words=" ".join(words.split()),
        stitches=of_printed(gauge.stitches, over) if gauge.stitches else None,
        rows=of_printed(gauge.rows, rows_over) if gauge.rows else None,
    )


def swatch_figures(words: Sequence[str], off_mm: Fraction) -> Figures:
    """A swatch: "28 sts = 12.4 cm, 40 rows = 13.2 cm", measured once or at several places. Raises NotRead."""
    stitches, rows = [], []
    for one in words:
        gauge = _gauge(one, 'A swatch is written like "28 sts = 12.4 cm, 40 rows = 13.2 cm"')
        over, rows_over = _over(gauge)
        if min(over, rows_over) <= 2 * off_mm:
            raise NotRead(
                f'"{one}" is measured over too little: it should be many times the '
                f"{_cm(off_mm)} cm that it may be off."
            )
        if gauge.stitches:
            stitches.append(Measured(gauge.stitches, over))
        if gauge.rows:
            rows.append(Measured(gauge.rows, rows_over))
    return Figures(
        words="; ".join(" ".join(one.split()) for one in words),
        stitches=of_swatch(stitches, off_mm) if stitches else None,
        rows=of_swatch(rows, off_mm) if rows else None,
    )


def _cm(mm: Fraction) -> str:
    return f"{float(mm / 10):g}"


_BY = re.compile(r"\d\s*(?:cm|in|mm)?\s*(?:x|×|by)\s*\d", re.IGNORECASE)


def _gauge(words: str, like: str) -> Gauge:
    gauge = None if _BY.search(words) else read_gauge(words, 0)
    shown = words.strip()
    if gauge is None:
        raise NotRead(f'{like}; "{shown}" is not that.')
    for count, what in ((gauge.stitches, "stitches"), (gauge.rows, "rows")):
        if count is not None and not 0 < count <= _MOST:
            raise NotRead(f'"{shown}" counts {float(count):g} {what}; {like[0].lower()}{like[1:]}.')
    if not all(0 < mm <= _MOST_MM for mm in _over(gauge)):
        raise NotRead(f'"{shown}" is over no length that can be measured; {like[0].lower()}{like[1:]}.')
    return gauge


def _over(gauge: Gauge) -> tuple[Fraction, Fraction]:
    over = gauge.over
    rows_over = gauge.rows_over or over
    return tuple((one.values[0] or Fraction(0)) * BY_GAUGE[one.unit] for one in (over, rows_over))  # type: ignore[return-value]


def length_mm(words: str, option: str) -> Fraction:
    """A length in mm: "45 cm", "17¾ in". Raises NotRead."""
    length = read_length(words)
    value = length.values[0] if length is not None and length.values else None
    if length is None or value is None:
        raise NotRead(
            f'{option} takes a length with its unit, for example {option} "45 cm"; "{words}" is not that.'
        )
    mm = value * BY_GAUGE[length.unit]
    if not 0 < mm <= _MOST_MM:
        raise NotRead(f'{option} takes a length above 0 and up to 100 metres; "{words}" is not that.')
    return mm


_MULTIPLE = re.compile(
    r"(?:a\s+)?(?:multiple\s+of\s+)?(?P<of>\d{1,4})\s*(?:n|sts?)?\s*(?:(?P<sign>\+|-|plus|minus)\s*(?P<plus>\d{1,4}))?",
    re.IGNORECASE,
)


def multiple(words: str) -> Multiple:
    """A multiple: "4n+2", "4 plus 2", "multiple of 4 plus 2". Raises NotRead."""
    m = _MULTIPLE.fullmatch(words.strip())
    if m is None or int(m["of"]) == 0:
        raise NotRead(f'--multiple is written like "4n+2" or "4 plus 2"; "{words}" is not that.')
    of, plus = int(m["of"]), int(m["plus"] or 0)
    if m["sign"] in {"-", "minus"}:
        plus = -plus % of
    return Multiple(of, plus)
