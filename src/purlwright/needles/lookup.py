"""Looking things up: rows worked before, charts and stitch patterns, the pattern's own stitches.

In: how the words refer to something. Out: the rows or steps meant, or a finding that they are not there.
Working them is left to whoever asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import takewhile
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Seen
from purlwright.needles import problems
from purlwright.needles.charted import find_source, is_chart_name, rows_in
from purlwright.needles.hands import Stop
from purlwright.needles.loops import Needles
from purlwright.needles.state import STATEMENTS, Row, body_span, row_word, steps_of
from purlwright.needles.stitching import alone
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


MANY = 20
"""So many rows are looked up together rather than one by one."""


def find_row(k: Knitter, number: int | None, name: str | None) -> Row | None:
    """The latest row with this number (or name), in this section first, then in earlier ones."""
    want = (name or "").lower()
    if want == "previous":
        return _row_before(k)
    found = _matching(_of_section(k), number, want)
    if found is None and number is not None and not want:
        found = _named_and_numbered(_of_section(k), number)
    found = found or _matching(reversed(k.history), number, want)
    return found or defined_row(k, number, want) or k.beforehand.get(want) or _by_effect(k, want)


def _of_section(k: Knitter) -> Iterator[Row]:
    """The rows worked in this section, the latest first."""
    return (r for r in reversed(k.history) if r.section == k.section)


def _matching(rows: Iterable[Row], number: int | None, want: str) -> Row | None:
    """The first of the rows with this number (or name)."""
    for r in rows:
        if number is not None and r.number == number and want in r.label.lower():
            return r
        if number is None and want and (r.name == want or r.label.lower() == want):
            return r
    return None


def _named_and_numbered(rows: Iterable[Row], number: int) -> Row | None:
    """Row 1 of those called "Heel Row 1", "Heel Row 2", where there are no bare numbers."""
    ends = tuple(f"{word} {number}" for word in ("row", "rnd", "round"))
    return next((r for r in rows if r.number is None and r.name.endswith(ends)), None)


def told_beforehand(k: Knitter, line: tree.Line) -> bool:
    """In words: ``Buttonhole row: Rib 4, yo, k2tog, rib to end.`` before the cast-on: it is kept for the
    words that send back to it by its name, and not worked here.
    """
    label = line.label
    if label is None or not label.name or label.numbers or label.unit is None or k.worker.needles.live:
        return False
    if any(isinstance(a, (*STATEMENTS, tree.CastOn, tree.PickUp, tree.Return)) for a in line.actions):
        return False
    k.track.closed = True  # later lines are looked at
    name = label.name.lower()
    later = (a for _, other in k.queue[k.at :] for a in tree.walk(other.actions))
    if not any(
        (isinstance(a, tree.RowRef) and (a.name or "").lower() == name)
        or (isinstance(a, tree.RowSet) and name in a.names)
        for a in later
    ):
        return False
    k.beforehand[name] = Row(
        None, name, label.words, line.actions, line.line, line.offset, body_span(line), k.section, label.unit,
        0, -1, 0, 0, 0,
    )  # fmt: skip
    return True


def _row_before(k: Knitter) -> Row | None:
    """The row worked just before, whose own words are meant: "the same", "as previous row"."""
    for r in reversed(k.history):
        if r.section != k.section:
            return None
        if not any(isinstance(a, tree.RowRef) and a.name == "previous" for a in r.actions):
            return r
    return None


def _by_effect(k: Knitter, want: str) -> Row | None:
    """The latest row that does what its name says: "the increase row", "dec rnd"."""
    words = set(want.replace(".", " ").split())
    up = words & {"inc", "incs", "increase", "increases", "increasing"}
    down = words & {"dec", "decs", "decrease", "decreases", "decreasing"}
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
        if number is not None and (source := find_source(k, section.heading)) is not None:
            if number in source.numbers and (row := source.row(number)) is not None:
                return row  # one that only "row 2 and every following WS row" speaks of
    return None


def rows_of(k: Knitter, rows: tree.RowSet, span: Span) -> list[Row]:
    """The rows a set of rows names, in order."""
    if rows.section is not None:
        told = _rows_of_source(k, rows, rows.section, span)
        if told is not None:
            return told
    if rows.back is not None and rows.first is not None:  # "the first of these 2 rows"
        recent = [r for r in k.history if r.section == k.section] or k.history
        return recent[-rows.back :][rows.first - 1 : rows.last]
    if rows.numbers or rows.first is not None:
        numbers = rows.numbers or tuple(
            range(rows.first or 1, (rows.last or _last_worked(k, rows.first)) + 1)
        )
        latest = _latest(k) if len(numbers) > MANY else {}
        return _all_found(
            k, ((f"row {n}", latest.get(n) or find_row(k, n, None)) for n in numbers[:5000]), span
        )
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


def _last_worked(k: Knitter, first: int | None) -> int:
    """In words: ``repeat from the 1st row``: up to the last numbered row that was worked in this section."""
    last = next((r.number for r in reversed(k.history) if r.section == k.section and r.number), None)
    return max(last or 1, first or 1)


def _rows_of_source(k: Knitter, rows: tree.RowSet, name: str, span: Span) -> list[Row] | None:
    """The rows of a chart or stitch pattern; None where ``name`` is none of these."""
    numbers: Sequence[int] | None = rows.numbers or None
    if rows.first is not None:
        numbers = range(rows.first, (rows.last or rows.first) + 1)
    if rows.names or rows.back is not None:
        return None
    told = rows_in(k, name, numbers, span)
    if told is None and is_chart_name(name):
        k.report(problems.PatternNotGiven(name), span)
        plain = tree.InPattern(how="as they appear", span=span)
        return [
            Row(n, "", f"{row_word(n, None)} of {name}", (plain,), k.info.line, k.info.offset, k.info.span,
                k.section, None, -1, 0, 0, 0, 0)
            for n in (numbers or (1,))
        ]  # fmt: skip
    return told


def _latest(k: Knitter) -> dict[int, Row]:
    """The latest row of each number in this section, to look up many at once."""
    return {r.number: r for r in k.history if r.section == k.section and r.number is not None}


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
    source = find_source(k, call.name)
    numbers = source.numbers if source is not None else ()
    if source is None or not numbers:
        k.report(problems.PatternNotGiven(call.name), call.span)
        return None
    name = source.name.lower()
    if call.row is not None:
        number = k.measure.number(call.row)
    else:
        last = k.chart_row.get(name, (numbers[0] - 1, -1))
        number = last[0] if last[1] == k.order else last[0] + 1
        number = (number - numbers[0]) % len(numbers) + numbers[0]
    k.chart_row[name] = (number, k.order)
    found = source.actions(number)
    if found is None:
        k.report(problems.NoSuchRow(f"row {number} of {source.name}"), call.span)
        return None
    return steps_of(found[0]), found[1].offset


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
    w.trying += 1
    try:
        with alone(w, nd):
            w.steps(d.steps)
            w.flush()
    except Stop:
        return None
    finally:
        del w.log[logged:]
        w.trying -= 1
        w.gathered.clear()
        k.grower.back_to(mark)
    left = set(nd.left.tolist())
    kept = sum(1 for _ in takewhile(left.__contains__, reversed(loops.tolist())))
    return n - kept, nd.live - kept
