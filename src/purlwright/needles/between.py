"""Shaping rows that go on with fewer (or more) plain stitches between the shapings each time.

In: a row worked before, and by how many stitches its stretches change. Out: the next row of the series,
worked. How often and when is left to ``again`` and ``shapings``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec import structs

from purlwright.needles import problems
from purlwright.needles.onerow import one_row, replay
from purlwright.needles.state import Row, steps_of
from purlwright.needles.stopping import end_on, ends_on_other_side, repeat_until
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter
    from purlwright.text import Span

_SILENT = (tree.Marker, tree.Stated, tree.Note, tree.YarnTo, tree.Yarn)


class _UnclearError(Exception):
    """Which stitches of the row lie between its shapings cannot be told from its words."""


class _NoneLeftError(Exception):
    """There are too few stitches between the shapings to take any away."""


def told(k: Knitter, rows: Sequence[Row], by: int, span: Span) -> bool:
    """Whether the shaping rows among these can go on so; if not, it is said, and nothing is proved of what
    follows.
    """
    shaping = [r for r in rows if r.start != r.end]
    try:
        for r in shaping:
            _changed(k, r.actions, by, around=False)
    except _NoneLeftError:
        return True
    except _UnclearError:
        shaping = []
    if shaping:
        return True
    k.report(problems.NoSuchRow("a shaping row with one plain stretch between its shapings"), span)
    k.unproved = k.ever_unproved = True
    return False


def work_next(k: Knitter, r: Row, by: int, *, new_pass: bool = True) -> bool:
    """Work a row again, its plain stretches changed by so many stitches if it shapes.

    It goes under the words that say so. False when no stitches are left for it.
    """
    if r.start == r.end or not by:
        return replay(k, r, new_pass=new_pass)
    try:
        steps = _changed(k, r.actions, by, around=False)
    except (_UnclearError, _NoneLeftError):
        return False
    return one_row(k, tree.moved(steps_of(steps), r.offset - k.info.offset), passive=True)


def changes_by(k: Knitter) -> int:
    """By how many stitches the plain stretches of the last two shaping rows differ; 0 if not just in that.

    After "(K7, k2tog) 8 times" and "(K6, k2tog) 8 times", "continue in this way" goes on with k5.
    """
    here = [r for r in k.history if r.section == k.section and r.start != r.end]
    if len(here) < 2:
        return 0
    unit = here[-1].unit  # rows that went on so have none
    if unit is not None and k.worker.needles.ring != (unit is tree.Unit.ROUND):
        return 0
    before, last = here[-2:]
    for by in (-1, 1, -2, 2):
        try:
            steps = _changed(k, steps_of(before.actions), by, around=False)
        except (_UnclearError, _NoneLeftError):
            continue
        if tree.bare(tuple(steps)) == tree.bare(steps_of(last.actions)):
            return by
    return 0


def rows_since(k: Knitter) -> int:
    """How many rows without shaping lie above the last one that shapes."""
    here = [r for r in k.history if r.section == k.section]
    return next((n for n, r in enumerate(reversed(here)) if r.start != r.end), len(here))


def row_between(k: Knitter) -> Sequence[tree.Action]:
    """The steps of a row between the shaping rows: as the one beside the last of them was, or plain."""
    here = [r for r in k.history if r.section == k.section]
    last = max((n for n, r in enumerate(here) if r.start != r.end), default=0)
    beside = [*here[last + 1 : last + 2], *here[max(last - 1, 0) : last]]
    for r in beside:
        steps = steps_of(r.actions)
        if r.start == r.end and not any(isinstance(s, (tree.InPattern, tree.CastOn)) for s in steps):
            moved: Sequence[tree.Action] = tree.moved(steps, r.offset - k.info.offset)
            return moved
    return (tree.InPattern(how="as they appear"),)


def go_on_so(k: Knitter, s: tree.WorkRows) -> None:
    """In words: ``Continue in this manner, with 1 st fewer between decreases each time, until 8 sts remain``:
    shaping rows and rows between come in turn as they last did.
    """
    here = [r for r in k.history if r.section == k.section]
    shaped = [n for n, r in enumerate(here) if r.start != r.end]
    first = shaped[-2] + 1 if len(shaped) > 1 else shaped[0] if shaped else 0
    rhythm = here[first : shaped[-1] + 1] if len(shaped) > 1 else here[first:]
    if not told(k, rhythm, s.between, s.span):
        return
    since = len(here) - 1 - shaped[-1] if len(shaped) > 1 else 0
    first_turn = since if since < len(rhythm) else 0
    before = len(k.history)

    def once() -> bool:
        turn = first_turn + len(k.history) - before
        return work_next(k, rhythm[turn % len(rhythm)], s.between * (turn // len(rhythm) + 1))

    if s.until is not None:
        repeat_until(k, structs.replace(s.until, side=None), once, s.span)
        beside = rhythm[(first_turn + len(k.history) - before) % len(rhythm)]
        if beside.start == beside.end and ends_on_other_side(k, s.until):
            once()
        end_on(k, s.until, once, s.span, 2)
    else:
        for _ in range(k.measure.number(s.rows)):
            if not once():
                break


def _changed(k: Knitter, steps: Sequence[tree.Action], by: int, *, around: bool) -> tuple[tree.Action, ...]:
    """The steps with every plain stretch between two shapings changed; ``around`` as in a repeat, whose end
    meets its beginning.
    """
    out = list(steps)
    shapings = [n for n, s in enumerate(out) if _shapes(k, s)]
    repeats = [n for n, s in enumerate(out) if isinstance(s, tree.Repeat) and _shapes_within(k, s.body)]
    if bool(shapings) == bool(repeats):
        raise _UnclearError
    if repeats:
        for n in repeats:
            one = out[n]
            assert isinstance(one, tree.Repeat)  # noqa: S101
            out[n] = structs.replace(one, body=_changed(k, one.body, by, around=True))
        return tuple(out)
    around = around or k.worker.needles.ring
    ends = [*shapings[1:], shapings[0] + len(out)] if around else shapings[1:]
    found = False
    for a, b in zip(shapings, ends, strict=False):
        between = [n % len(out) for n in range(a + 1, b) if not isinstance(out[n % len(out)], _SILENT)]
        if not between:
            continue
        found = True
        if any(isinstance(out[n], (tree.Fill, tree.InPattern)) for n in between):
            continue  # worked up to a place: it is as long as there are stitches
        plain = out[between[0]]
        if len(between) > 1 or not isinstance(plain, tree.Work):
            raise _UnclearError
        if (plain.count.at(k.size) or 0) + by < 0:
            raise _NoneLeftError
        values = tuple(None if v is None else max(0, v + by) for v in plain.count.values)
        out[between[0]] = structs.replace(plain, count=tree.Number(values=values))
    if not found:
        raise _UnclearError if by > 0 else _NoneLeftError
    return tuple(out)


def _shapes(k: Knitter, s: tree.Action) -> bool:
    """Whether a step is a stitch that leaves more or fewer stitches than it takes."""
    if not isinstance(s, tree.Work):
        return False
    takes, makes = k.measure.stitch(s)
    return takes != makes


def _shapes_within(k: Knitter, steps: Sequence[tree.Action]) -> bool:
    return any(_shapes(k, s) for s in steps)
