"""A chart said in words, row by row, so that nothing stands in squares alone.

In: a chart of the told pattern. Out: a heading where it has none, and a row for each row of squares, in the
words of its key, neighbours that are alike told together. Where the picture goes is left to ``figures``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.chart.typed import chart_is_round
from purlwright.pattern import tree
from purlwright.pattern.words import steps_words
from purlwright.sheet.compose.rows import said
from purlwright.sheet.compose.spoken import spoken_steps
from purlwright.sheet.compose.told import own_names
from purlwright.sheet.document import Row
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from purlwright.pattern.charts import Chart
    from purlwright.pattern.words_names import Terms
    from purlwright.sheet.compose.told import Told

__all__ = ["chart_rows"]


def chart_rows(chart: Chart, told: Told, terms: Terms) -> Iterator[Row]:
    """The rows from the bottom up."""
    rounds = chart_is_round(chart, told.knitted[0])
    letters = {y.name for y in told.pattern.yarns if y.name}
    for n, (drawn, line) in enumerate(zip(chart.rows, chart.rounds if rounds else chart.lines, strict=False)):
        steps = _together(_coloured(line.actions))
        if told.spoken:
            words = spoken_steps(steps, own_names(told.pattern)).removesuffix(".")
        else:
            words = _with_in(steps_words(steps, terms), letters)
        number = drawn.number if drawn.number is not None else n + 1
        yield Row(
            label=f"{'Rnd' if rounds else 'Row'} {number}",
            side="" if rounds else "WS" if drawn.side is tree.Side.WS else "RS",
            words=said(f"{_capital(words)}." if words else ""),
            anchor=f"row-{drawn.span.start}",
            span=told.places.hers(drawn.span),
        )


def _capital(words: str) -> str:
    """The words with a capital, behind the star of a repeat if they begin with one: "*K2, yo"."""
    at = len(words) - len(words.lstrip("*[("))
    return f"{words[:at]}{words[at : at + 1].upper()}{words[at + 1 :]}"


def _coloured(steps: Sequence[tree.Action]) -> Sequence[tree.Action]:
    """The colour with each stitch, as "k1 in MC", where the key names it before: "with MC, k1". Rows that
    have other steps stay as they are.
    """
    plain = all(isinstance(s, tree.Work | tree.Yarn) for s in steps)
    if not plain or any(s.act != "use" or s.colour is None for s in steps if isinstance(s, tree.Yarn)):
        return steps
    out: list[tree.Action] = []
    using: str | None = None
    for step in steps:
        if isinstance(step, tree.Yarn):
            using = step.colour
        elif isinstance(step, tree.Work) and step.colour is None and using is not None:
            out.append(replace(step, colour=using))
        else:
            out.append(step)
    return out


def _together(steps: Iterable[tree.Action]) -> list[tree.Action]:
    """K1, k1, k1 as k3; the same within repeats. A yarn that is in use already is not named again."""
    out: list[tree.Action] = []
    using: str | None = None
    for step in steps:
        now = step
        if isinstance(now, tree.Yarn):
            if now.act == "use" and now.colour is not None and now.colour == using:
                continue
            using = now.colour if now.act == "use" else None
        elif not isinstance(now, tree.Work) or now.colour is not None:
            using = None
        if isinstance(now, tree.Repeat):
            now = replace(now, body=tuple(_together(now.body)))
        last = out[-1] if out else None
        if isinstance(now, tree.Work) and isinstance(last, tree.Work) and _alike(last, now):
            both = tree.Number(values=(_count(last) + _count(now),))
            out[-1] = replace(last, count=both)
        else:
            out.append(now)
    return out


def _count(work: tree.Work) -> int:
    return work.count.values[0] or 0


def _alike(a: tree.Work, b: tree.Work) -> bool:
    """Whether two steps are one stitch worked several times, and can be counted together."""
    stitch = dictionary().stitches.get(a.stitch)
    one: Sequence[tree.Work] = (a, b)
    return (
        (a.stitch, a.colour, a.yarn, a.own) == (b.stitch, b.colour, b.yarn, b.own)
        and stitch is not None
        and stitch.counted
        and all(w.count.words is None and len(w.count.values) == 1 for w in one)
    )


def _with_in(words: str, letters: set[str]) -> str:
    """Says "k5 in MC" for "k5 MC"."""
    for letter in letters:
        words = re.sub(
            rf"(?<! in)(?<!with)(?<![*(\[;,]) {re.escape(letter)}(?=[,;.)\]]|$)", f" in {letter}", words
        )
    return words
