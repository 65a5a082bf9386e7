"""Looking things up: rows worked before, charts and stitch patterns, the pattern's own stitches.

In: how the words refer to something. Out: the rows or steps meant, or a finding that they are not there.
Working them is left to whoever asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import takewhile
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Seen
from purlwright.needles import problems
from purlwright.needles.hands import Stop
from purlwright.needles.loops import Needles
from purlwright.needles.state import Row, body_span, covers, steps_of
from purlwright.needles.stitching import alone
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def find_row(k: Knitter, number: int | None, name: str | None) -> Row | None:
    """The latest row with this number (or name), in this section first, then in earlier ones."""
    want = (name or "").lower()
    for same in (True, False):
        for r in reversed(k.history):
            if same and r.section != k.section:
                continue
            if number is not None and r.number == number and not (want and want not in r.label.lower()):
                return r
            if number is None and want and (r.name == want or r.label.lower() == want):
                return r
    return defined_row(k, number, want) or _by_effect(k, want)


def _by_effect(k: Knitter, want: str) -> Row | None:
    """The latest row that does what its name says: "the increase row", "dec rnd"."""
    words = set(want.replace(".", " ").split())
    up, down = words & {"inc", "increase", "increasing"}, words & {"dec", "decrease", "decreasing"}
    if not (up or down):
        return None
    for r in reversed(k.history):
        if ((r.end > r.start) if up else (r.end < r.start)) and not any(
            isinstance(a, tree.RowRef) for a in r.actions
        ):
            return r
    return None


def defined_row(k: Knitter, number: int | None, want: str) -> Row | None:
    """A row written in a section that only defines."""
    for i, section in enumerate(k.pattern.sections):
        if section.kind != "define":
            continue
        for line in section.lines:
            label = line.label
            if label is None or not k.applies(line.sizes, line.options):
                continue
            if (number is not None and number in label.numbers) or (
                want and (label.name or "").lower() == want
            ):
                return Row(
                    number, want, label.words, line.actions, line.line, line.offset, body_span(line), i,
                    label.unit, 0, -1, 0, 0, 0,
                )  # fmt: skip
    return None


def rows_of(k: Knitter, rows: tree.RowSet, span: Span) -> list[Row]:
    """The rows a set of rows names, in order."""
    if rows.numbers or rows.first is not None:
        numbers = rows.numbers or tuple(range(rows.first or 1, (rows.last or rows.first or 1) + 1))
        return _all_found(k, ((f"row {n}", find_row(k, n, None)) for n in numbers[:5000]), span)
    if rows.names:
        return _all_found(k, ((f'"{name}"', find_row(k, None, name)) for name in rows.names), span)
    if rows.back is not None:
        recent = [r for r in k.history if r.section == k.section] or k.history
        return recent[-rows.back :]
    block = [r for r in k.history if r.section == k.section and r.block == k.block] or [
        r for r in k.history if r.section == k.section
    ]
    seen: dict[Any, Row] = {}
    for r in block:
        seen[r.number if r.number is not None else ("line", r.line, r.label)] = r
    return list(seen.values())


def _all_found(k: Knitter, found: Iterable[tuple[str, Row | None]], span: Span) -> list[Row]:
    """The rows found; none, and a finding, if one of them is not there."""
    out: list[Row] = []
    for words, row in found:
        if row is None:
            if k.ever_unproved and _is_written(k, words):
                k.unproved = True  # it stands there and could not be worked, which is said already
            else:
                k.report(problems.NoSuchRow(words), span)
            return []
        out.append(row)
    return out


def _is_written(k: Knitter, words: str) -> bool:
    """Whether a row with this number stands before the line in work."""
    return any(
        f"row {number}" == words
        for section in k.pattern.sections
        for line in section.lines
        if line.label is not None and line.line < k.info.line
        for number in line.label.numbers
    )


def called(k: Knitter, call: tree.Call) -> tuple[Sequence[tree.Step], int] | None:
    """The steps of a chart's or stitch pattern's row, and where its line begins in the source."""
    name = call.name.lower()
    lines: Sequence[tree.Line] | None = None
    for chart in k.pattern.charts:
        if chart.name.lower() == name or name in chart.name.lower() or chart.name.lower() in name:
            lines, name = chart.lines, chart.name.lower()
            break
    if lines is None:
        for section in k.pattern.sections:
            head = section.heading.lower()
            if section.kind == "define" and head and (head == name or name in head or head in name):
                lines = [
                    ln for ln in section.lines if ln.label is not None and k.applies(ln.sizes, ln.options)
                ]
                name = head
                break
    if not lines:
        k.report(problems.PatternNotGiven(call.name), call.span)
        return None
    if call.row is not None:
        number = k.measure.number(call.row)
        k.chart_row[name] = (number, k.order)
    else:
        last = k.chart_row.get(name, (0, -1))
        number = last[0] if last[1] == k.order else last[0] + 1
        k.chart_row[name] = (number, k.order)
    top = max((n for ln in lines if ln.label for n in ln.label.numbers), default=len(lines))
    number = (number - 1) % max(top, 1) + 1
    for ln in lines:
        if ln.label is not None and (number in ln.label.numbers or covers(ln.label, number, True)):
            return steps_of(ln.actions), ln.offset
    return None


def derive(k: Knitter, d: tree.Definition) -> None:
    """Find by knitting how many loops the pattern's own stitch takes and makes."""
    w = k.worker
    c = k.measure.all(d.steps)
    simple = not any(
        isinstance(x, (tree.Turn, tree.PassOver, tree.SlipBack, tree.BindOff, tree.CastOn))
        for x in tree.walk(d.steps)
    )
    w.look("C018")
    if c is not None and simple:
        takes, makes = c
    else:
        got = derive_by_knitting(k, d)
        if got is None:
            w.offset = 0
            k.report(problems.UnknownStitch(d.name), d.span)
            k.own[d.name] = (1, 1)
            w.definitions.pop(d.name, None)  # it is worked as one stitch from now on
            return
        takes, makes = got
    k.own[d.name] = (takes, makes)
    if (d.takes is not None and d.takes != takes) or (d.makes is not None and d.makes != makes):
        said = f"{d.takes if d.takes is not None else takes} to {d.makes if d.makes is not None else makes}"
        w.offset = 0
        k.report(problems.DefinitionDiffers(d.name, takes, makes, said), d.span)


def derive_by_knitting(k: Knitter, d: tree.Definition) -> tuple[int, int] | None:
    """Knit a definition on loops of its own; loops taken and made, or None if it cannot be knitted."""
    mark = k.grower.mark()
    w = k.worker
    logged = len(w.log)
    w.offset = 0  # the words of definitions stand at their place in the source
    n = 40
    loops = k.grower.append(
        op=0, row=0, column=None, seen=Seen.NONE, side=0, mount=0, yarn=0, span=k.grower.span(0, 0), pass_=0,
        count=n, parents=np.zeros(0, np.int32), links=0,
    )  # fmt: skip
    nd = Needles(left=loops[::-1].copy())
    w.quiet += 1
    try:
        with alone(w, nd):
            w.steps(d.steps)
            w.flush()
    except Stop:
        return None
    finally:
        del w.log[logged:]
        w.quiet -= 1
        w.gathered.clear()
        k.grower.back_to(mark)
    left = set(nd.left.tolist())
    kept = sum(1 for _ in takewhile(left.__contains__, reversed(loops.tolist())))
    return n - kept, nd.live - kept
