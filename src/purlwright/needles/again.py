"""Rows alike and rows again: "knit 6 rows", "rep rows 1-4 five times more".

In: a statement and the knitter at work. Out: rows worked; where words have two meanings, both are tried.
When rows worked "until" something come to an end is left to ``stopping``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from msgspec import structs

from purlwright.needles import problems
from purlwright.needles.between import changes_by, go_on_so, work_next
from purlwright.needles.between import told as told_so
from purlwright.needles.charted import check_repeats, find_source, repeats_said
from purlwright.needles.counts import stated
from purlwright.needles.lookup import rows_of
from purlwright.needles.onerow import EVEN, MOST_TIMES, PLAIN, one_row, replay
from purlwright.needles.passes import work_passes
from purlwright.needles.repeats import ribbing
from purlwright.needles.ringagain import ring_again
from purlwright.needles.rowends import ring_of_needles
from purlwright.needles.sameas import is_part_named
from purlwright.needles.state import Evidence, Row, TooMuch
from purlwright.needles.stopping import chart_in_work, end_on, repeat_until
from purlwright.needles.trial import restore, save
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def work_rows(k: Knitter, s: tree.WorkRows) -> None:
    """In words: ``Knit 6 rows``, ``work 10 rounds in rib``, ``knit until the piece measures 20 cm``."""
    if s.until is not None and s.until.stitches is not None and tree.bare(s.body) in {(), PLAIN, EVEN}:
        s = structs.replace(s, between=s.between or changes_by(k))
    if s.between:
        go_on_so(k, s)
        return
    if s.unit is tree.Unit.ROUND and not ring_of_needles(k):
        ring_again(k)
    bodies: Sequence[Sequence[tree.Step]] = s.alternate or (s.body or PLAIN,)
    as_set = not s.alternate and tree.bare(s.body) in {(), PLAIN, EVEN}
    turn = 0
    uneven = len(bodies) == 1 and breaks_off(k, s.body)
    as_they_appear = (tree.InPattern(how="as they appear", span=s.span),)
    if s.side is not None and k.info.side is None:
        k.info.side = s.side

    def once() -> bool:
        nonlocal turn
        body = bodies[turn % len(bodies)]
        if turn and uneven:
            body = as_they_appear
        turn += 1
        if not as_set and (ground := _unshaped(body)):
            k.base = (ground, k.worker.offset) if len(bodies) == 1 else None
        done = one_row(k, body, passive=True)
        k.info.side = None
        return done

    if s.rows is not None:
        n = s.rows.at(k.size) or 0
        if n > MOST_TIMES:
            k.report(problems.TooMuchKnitting(f"{n:,} rows"), s.span)
            return
        work_passes(k, once, n, rows=1, cycle=len(bodies))
        if s.until is not None:
            end_on(k, s.until, once, s.span, 2)
    elif s.until is not None:
        turning = (
            turned_rows(k) if as_set and (s.until.things or "").startswith(("all ", "every ", "no ")) else []
        )
        if turning:
            until = s.until

            def both() -> bool:
                return replay(k, turning[0]) and replay(k, turning[1])

            repeat_until(k, until, both, s.span, rows_each=len(turning), first_done=True)
        else:
            repeat_until(k, s.until, once, s.span, cycle=len(bodies))
    else:
        once()
    if not as_set and len(bodies) == 1:
        if ground := _unshaped(bodies[0]):
            k.base = (tuple(b for b in ground if not isinstance(b, tree.Yarn)), k.worker.offset)
    elif not as_set:
        k.base = None


def _unshaped(body: Sequence[tree.Step]) -> tuple[tree.Step, ...]:
    """What a row is worked in, without its shaping: after "inc 6 sts evenly", "work even" shapes no more."""
    return tuple(b for b in body if not isinstance(b, tree.Evenly))


def breaks_off(k: Knitter, body: Sequence[tree.Step]) -> bool:
    """In words: ``work in k2, p2 rib`` over 106 stitches: it ends with k2, and goes on as it appears."""
    rib = body[0] if len(body) == 1 and isinstance(body[0], tree.Repeat) else None
    if rib is None or not ribbing(rib):
        return False
    size = k.worker.measure.all(rib.body)
    return size is not None and size[0] > 0 and k.worker.needles.live % size[0] != 0


def turned_rows(k: Knitter) -> list[Row]:
    """The last two rows, if both end in a turn: those that "continue in this manner" speaks of."""
    last = [r for r in k.history if r.section == k.section][-2:]
    turned = [any(isinstance(a, tree.Turn) for a in r.actions) for r in last]
    return last if len(last) == 2 and all(turned) else []


def repeat_rows(k: Knitter, s: tree.RepeatRows, rest: Sequence[tree.Action]) -> None:
    """In words: ``Rep rows 1-4 five times more``, ``repeat the last 2 rows until 12 sts remain``."""
    if s.define:
        return
    k.before_action(s)
    if is_part_named(s) and find_source(k, s.rows.section or "") is None:
        name = s.rows.section or ""
        k.report(problems.HalfNotMirrored(name) if s.rows.mirrored else problems.PartNotWorked(name), s.span)
        k.unproved = k.ever_unproved = True
        return
    on = chart_in_work(k) if s.rows.all and s.until is not None else None
    rows = rows_of(k, s.rows, s.span)
    if not rows:
        return
    told = rows[-1].entry < 0  # rows of a chart or stitch pattern that is told apart from the work
    if told and on is not None and (at := [r.number for r in rows].index(on[1]) + 1) < len(rows):
        rows = [*rows[at:], *rows[:at]]  # it goes on where it stands
    times = s.times.at(k.size) if s.times is not None else None
    if s.times is not None and times is None:
        return
    if times is not None and times * len(rows) > MOST_TIMES:
        k.report(problems.TooMuchKnitting(f"{times * len(rows):,} rows"), s.span)
        return

    if s.between and not told_so(k, rows, s.between, s.span):
        return
    before = len(k.history)
    said = repeats_said(k) if told else ()
    worked = 0
    stripes = _stripes(k, rows)

    def once() -> bool:
        nonlocal worked
        done = False
        turn = (len(k.history) - before) // max(len(rows), 1) + 1
        last: tuple[int, str] | None = None
        for r in rows:
            if worked < len(said):
                check_repeats(k, r, said[worked], s.span)
            if stripes:
                k.worker.yarn = stripes[r.entry]
            words = (r.line, r.label)  # the seven rounds of "Knit 7 rounds" are worked again together
            done = work_next(k, r, s.between * turn, new_pass=words != last) or done
            last = words
        worked += len(said) > 1
        return done

    cycle = 0 if told or s.between else 1
    if s.until is not None and times is None:
        if told and s.until.ending_row is not None and s.until.length is None and s.until.stitches is None:
            for r in rows:
                if not replay(k, r) or r.number == s.until.ending_row:
                    break
        elif s.until.rows is not None and not s.until.since:
            until_rows(k, s.until, rows)
        else:
            first_done, many = not told, len(rows)
            repeat_until(k, s.until, once, s.span, rows_each=many, first_done=first_done, cycle=cycle)
        return
    if times is None:
        once()
    else:
        often = how_often(k, s, times, rows, rest, once, cycle)
        work_passes(k, once, often, rows=len(rows), cycle=cycle)
    if s.until is not None:
        end_on(k, s.until, once, s.span, len(rows))


def _stripes(k: Knitter, rows: Sequence[Row]) -> dict[int, int]:
    """The yarn of each row, where rows of several yarns are worked again: "With A, knit 24 rows. With B, knit
    6 rows. Rep the last 30 rows." Nothing for rows of one yarn, which go on in that in use, nor where the
    words that repeat them name one.
    """
    if any(isinstance(a, tree.Yarn) and a.act != "break" for a in k.info.actions):
        return {}
    wanted = {r.entry for r in rows}
    of_row = {e.order: e.yarns[0] for e in k.entries if e.order in wanted and e.yarns}
    if len(of_row) < len(wanted) or len(set(of_row.values())) < 2:
        return {}
    return {order: k.grower.yarn(name) for order, name in of_row.items()}


def until_rows(k: Knitter, until: tree.Until, rows: Sequence[Row]) -> None:
    """In words: ``Repeat rows 1 and 2 until 45 rows are done``: the last pass may stop short."""
    want = until.rows.at(k.size) if until.rows is not None else None
    have = sum(1 for r in k.history if r.section == k.section and r.block == k.block)
    more = max(min(want, MOST_TIMES) - have, 0) if want is not None else 0

    def whole() -> bool:
        return all(replay(k, r) for r in rows)

    if work_passes(k, whole, more // len(rows), rows=len(rows)):
        all(replay(k, r) for r in rows[: more % len(rows)])


def how_often(
    k: Knitter,
    s: tree.RepeatRows,
    times: int,
    rows: Sequence[Row],
    rest: Sequence[tree.Action],
    once: Callable[[], bool],
    cycle: int,
) -> int:
    """How many more workings "n times" means here."""
    just_done = bool(k.history) and k.history[-1].entry == rows[-1].entry
    k.worker.look("C026")
    if not just_done or s.said is tree.Said.MORE:
        return times
    if s.said is tree.Said.IN_ALL:
        return max(times - 1, 0)
    if times <= 1:
        return times
    if k.trial:
        return times
    changes = any(r.start != r.end for r in rows) or any(
        e.start != e.end for e in k.entries if e.line in {r.line for r in rows}
    )
    tried = partial(attempt, k, once=once, rest=rest, rows=len(rows), cycle=cycle)
    more, total = tried(times), tried(times - 1)
    if chosen(more, total):
        k.report(problems.TimesChosen(times, more=True), s.span)
        return times
    if chosen(total, more):
        k.report(problems.TimesChosen(times, more=False), s.span)
        return times - 1
    if more is not False or not changes:
        k.report(problems.AmbiguousTimes(times, len(rows)), s.span)
    return times


def chosen(this: bool | None, other: bool | None) -> bool:
    """Whether what came of trying two readings speaks for this one."""
    return (this is True and other is not True) or (this is None and other is False)


def attempt(
    k: Knitter,
    times: int,
    once: Callable[[], bool],
    rest: Sequence[tree.Action],
    *,
    rows: int = 1,
    cycle: int = 0,
) -> bool | None:
    """Work ``times`` repeats and go on until a printed count (or a row that does not come out) tells.

    Then put all back.
    """
    k.track.closed = True  # the answer depends on the lines to come
    state = save(k)
    kept, k.findings = k.findings, type(k.findings)()
    k.trial += 1
    info = k.info
    answer: bool | None = None
    try:
        work_passes(k, once, times, rows=rows, cycle=cycle)
        for a in rest:
            if isinstance(a, tree.Stated):
                stated(k, a)
        k.run_queue()
    except Evidence as e:
        answer = e.good
    except TooMuch:
        answer = None
    finally:
        k.trial -= 1
        restore(k, state)
        k.findings = kept
        k.info = info
        k.worker.offset = info.offset
        k.worker.quiet = 0
    return answer


def work_again(k: Knitter, s: tree.Again, line: tree.Line) -> None:
    """Work whole rows over again."""
    times = s.times.at(k.size) if s.times is not None else None
    if s.times is not None and times is None:
        return
    info = k.info

    def once() -> bool:
        before = len(k.entries)
        k.info = structs.replace(info, copied=None)
        k.actions(s.body, line, k.info)
        k.info = info
        return len(k.entries) > before

    if s.until is not None:
        repeat_until(k, s.until, once, s.span)
        return
    n = times if times is not None else 1
    if s.star and s.said is not tree.Said.IN_ALL:
        n += 1
    if n > MOST_TIMES:
        k.report(problems.TooMuchKnitting(f"{n:,} repeats"), s.span)
        return
    for _ in range(n):
        if not once():
            break
