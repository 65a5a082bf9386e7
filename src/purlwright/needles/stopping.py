"""When to stop: at a length, a count, a number of rows, a side.

In: what the words say of the end, and how to go on. Out: rows worked until then, or a finding that it never
comes. What a row is worked in is left to whoever asks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.needles import problems
from purlwright.needles.charted import find_source
from purlwright.needles.ledger import ROWS
from purlwright.needles.likeother import rows_like
from purlwright.needles.onerow import MOST_TIMES, replay
from purlwright.needles.passes import work_passes
from purlwright.needles.state import Row
from purlwright.needles.whichedge import edge_begins
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.text import Span
from purlwright.units import BY_GAUGE

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter
    from purlwright.pattern.gauge import Gauge


def rows_for(k: Knitter, length: tree.Length, *, since: str | None, span: Span) -> int | None:
    """How many rows (more) make a length, by the gauge; None if nobody can tell."""
    values = length.values
    if not values and length.words and (more := rows_like(k, length.words)) is not None:
        return more
    value = values[0] if len(values) == 1 else (values[k.size] if k.size < len(values) else None)
    if not values or value is None or length.less:
        k.report(problems.LengthLeftToKnitter(), span)
        return None
    rate = row_rate(k)
    if rate is None:
        words = length.words or f"{float(value):g} {length.unit}"
        k.report(problems.LengthNeedsGauge(words), span)
        return None
    rows = value * BY_GAUGE.get(length.unit, Fraction(10)) * rate
    total = int(rows + Fraction(1, 2))
    if since is not None:
        first = landmark(k, since)
        if first is None:
            k.report(problems.MeasuredFromNowhere(since.removeprefix("start of "), k.heading), span)
            first = part_began(k)
        done = sum(1 for e in k.entries[first:] if e.kind in ROWS)
        k.worker.look("C057")
        if done > total * _PAST + 4 and not k.unproved and _measured_from_there(k, first):
            cm = Fraction(round(done / rate / 5), 2)
            words = length.words if len(values) == 1 else f"{float(value):g} {length.unit}"
            k.report(problems.LengthPassed(done, f"{float(cm):g}", words), span)
        total -= done
    return max(total, 0)


_PAST = Fraction(6, 5)
"""So much more than the rows of a length is let pass: edgings draw in, and a knitter's rows differ."""


def _measured_from_there(k: Knitter, first: int) -> bool:
    """Whether a length is surely measured from that entry: a landmark that was met, or the cast-on of a
    piece in which nothing was parted from the rest or picked up.
    """
    start = k.pieces[-1][1] if k.pieces else 0
    if first > start:
        return True
    apart = {"divide", "join", "pick up"}
    return not any(apart & k.marks[i] for i in range(start + 2, len(k.entries)))


def row_rate(k: Knitter) -> Fraction | None:
    """Rows per millimetre, from the first gauge that gives rows."""
    for g in k.pattern.gauges:
        over = g.rows_over or g.over
        if g.rows is None or not over.values or over.values[0] is None:
            continue
        mm = over.values[0] * BY_GAUGE.get(over.unit, Fraction(10))
        if mm > 0:
            return g.rows / mm
    return None


def stitches_a_row(gauges: Iterable[Gauge]) -> Fraction | None:
    """How many stitches are as wide as a row is high, by the first gauge that tells both."""
    for g in gauges:
        over, rows_over = g.over, g.rows_over or g.over
        if not g.stitches or not g.rows or not over.values or not rows_over.values:
            continue
        if over.values[0] and rows_over.values[0]:
            wide = over.values[0] * BY_GAUGE.get(over.unit, Fraction(10)) / g.stitches
            return rows_over.values[0] * BY_GAUGE.get(rows_over.unit, Fraction(10)) / g.rows / wide
    return None


def since_of(until: tree.Until) -> str | None:
    """From where a length is measured; None from here."""
    return None if until.since in {"", "here", "for"} else until.since


_LANDMARKS = (
    (("underarm", "armhole", "divide", "dividing", "division", "split", "holder", "neck", "body"), "divide"),
    (("join", "joining"), "join"),
    (("rib", "ribbing", "cuff", "welt", "border", "hem", "edging", "band"), "rib"),
    (("marker", "markers"), "marker"),
    (("pick", "picked", "picking", "pickup"), "pick up"),
    (("increase", "increases", "inc", "shaping", "decrease", "decreasing", "dec", "decreases"), "shaping"),
)
_STARTS = ("start of ", "beginning of ", "beg of ", "bottom of ")
_CAST_ON = frozenset("cast co beginning beg start bottom lower base foundation commencement".split())
_THE_WORK = frozenset(
    "the this your whole entire edge row round rnd piece work knitting fabric of at".split()
)
_NO_PART = frozenset(
    "of the first last at end top edge row round rnd and a an from in st sts shaping".split()
)


_THINGS = frozenset(
    "hat cap beanie tam beret bonnet hood scarf shawl shawlette stole wrap cowl snood sock stocking slipper "
    "mitten mitt glove wristwarmer sweater pullover jumper cardigan vest waistcoat tunic dress blanket "
    "afghan throw cloth dishcloth washcloth bag cushion".split()
)
"""What a whole is called when the words do not name it: "until the hat measures 11 cm" is from its cast-on.
Common practice, no source."""


def landmark(k: Knitter, since: str) -> int | None:
    """The first entry to be measured from: after a landmark of the piece ("underarm", "ribbing"), at the
    start of a part ("start of sleeve"), or of the piece ("cast-on edge"). None if nothing is called so.
    """
    start = k.pieces[-1][1] if k.pieces else 0
    low = since.lower()
    for begins in _STARTS:
        if low.startswith(begins):
            return part_start(k, low.removeprefix(begins), start)
    words = set(low.replace("-", " ").split())
    for names, mark in _LANDMARKS:
        if not words & set(names):
            continue
        for i in range(len(k.entries) - 1, start - 1, -1):
            if mark in k.marks[i]:
                return i if mark in {"divide", "pick up"} else i + 1
    if words & _CAST_ON:
        return start
    part = low.rsplit(" of ", 1)[-1]  # "top of the cuff", "back of heel"
    there = [i for i in range(start, len(k.entries)) if headed(k.entries[i].section, part)]
    if there:
        ended = not headed(k.heading, part)
        return there[-1] + 1 if ended else there[0]
    named = headed(k.pattern.title, part) or (k.pieces and headed(k.pieces[-1][0], part))
    return start if named or words <= _THE_WORK else None


def part_start(k: Knitter, part: str, start: int) -> int | None:
    """Where a part begins: the piece itself, a section, a stretch of rib, the section in work."""
    words = {w for word in part.replace("-", " ").split() for w in (word, word.removesuffix("s"))}
    n = len(k.entries)
    if headed(k.pattern.title, part) or (k.pieces and headed(k.pieces[-1][0], part)):
        return start
    for i in range(start, n):
        if headed(k.entries[i].section, part):
            return i
    for names, mark in _LANDMARKS:
        if words & set(names) and mark == "rib":
            while n > start and "rib" in k.marks[n - 1]:
                n -= 1
            return n
        if words & (set(names) - {"body"}) and mark == "divide":
            for i in range(n - 1, start - 1, -1):
                if mark in k.marks[i]:
                    return i
    if headed(k.heading, part):
        return n
    if words <= _THE_WORK or (words & _THINGS and words <= _THINGS | _THE_WORK):
        return start
    began = part_began(k)
    return began if began == start else None  # a piece of one part may be called what one likes


def part_began(k: Knitter) -> int:
    """The first entry of the section in work, in the piece in work."""
    start, n = k.pieces[-1][1] if k.pieces else 0, len(k.entries)
    return next((i for i in range(start, n) if k.entries[i].section == k.heading), n)


def headed(heading: str, part: str) -> bool:
    """Whether a heading names a part: "Left Sleeve" the sleeve, "Heel flap" the heel flap."""
    there = {w.rstrip("s") for w in heading.lower().replace("-", " ").split()}
    words = {w.rstrip("s") for w in part.replace("-", " ").split() if w not in _NO_PART}
    return bool(words) and words <= there


def repeat_until(
    k: Knitter,
    until: tree.Until,
    once: Callable[[], bool],
    span: Span,
    *,
    rows_each: int = 1,
    first_done: bool = False,
    cycle: int = 0,
) -> None:
    """Work ``once`` until the words say stop: a count, a length, a number of rows, a side.

    cycle : after how many passes the very same words come again; 0 if that may never be.
    """
    work = partial(work_passes, k, once, rows=rows_each, cycle=cycle)
    k.worker.look("C022")
    if until.stitches is not None:
        until_stitches(k, until, once, span)
    elif until.length is not None:
        rows = rows_for(k, until.length, since=since_of(until), span=span)
        if rows is None:
            if not first_done:
                once()
        else:
            if rows > MOST_TIMES:
                k.report(problems.TooMuchKnitting(f"{rows:,} rows"), span)
                return
            work((2 * rows + rows_each) // (2 * rows_each))  # to the nearest whole pass
    elif until.rows is not None:
        want = until.rows.at(k.size) or 0
        have = 0 if not until.since else sum(1 for r in k.history if r.section == k.section)
        work(min(max(want - have, 0) // max(rows_each, 1), MOST_TIMES))
    elif until.ending_row is not None and until.side is None:
        until_chart_row(k, until.ending_row, once, first_done=first_done)
    elif until.times is not None and rows_each == 1 and not first_done and (chart := chart_in_work(k)):
        want = (until.times.at(k.size) or 0) * len(chart[0]) - chart[0].index(chart[1]) - 1
        for _ in range(min(max(want, 0), MOST_TIMES)):
            if not once():
                break
    elif until.times is not None and rows_each == 1 and not first_done and k.cycle and _of_rows(until):
        want = (until.times.at(k.size) or 0) * len(k.cycle) - len(k.cycle) - k.cycle_at
        work(min(max(want, 0), MOST_TIMES))
    elif until.times is not None:
        want = until.times.at(k.size) or 0
        done = 1 if first_done else 0
        work(min(max(want - done, 0), MOST_TIMES))
    elif (until.things or "").startswith(("all ", "every ", "no ")):
        until_all_worked(k, once, span, first_done=first_done)
    else:
        if until.things:  # a place that nothing here can find
            k.report(problems.LengthLeftToKnitter(), span)
        if not first_done:
            once()
    end_on(k, until, once, span, rows_each)


def _of_rows(until: tree.Until) -> bool:
    """Whether all rows of the pattern are counted as one: "until 5 repeats are done"."""
    return until.things in {"repeat", "repeats", "rep", "reps"}


def chart_in_work(k: Knitter) -> tuple[tuple[int, ...], int] | None:
    """The row numbers of the one chart that the last row was worked from, and which of them that was."""
    here = [(name, n) for name, (n, order) in k.chart_row.items() if order == k.order]
    source = find_source(k, here[0][0]) if len(here) == 1 else None
    return (source.numbers, here[0][1]) if source is not None and here[0][1] in source.numbers else None


def until_chart_row(k: Knitter, number: int, once: Callable[[], bool], *, first_done: bool) -> None:
    """In words: ``until row 24 of the chart has been worked``; rows of no chart are worked once."""
    if not first_done:
        once()
    chart = chart_in_work(k)
    for _ in range(len(chart[0]) if chart is not None else 0):
        chart = chart_in_work(k)
        if chart is None or chart[1] == number or number not in chart[0] or not once():
            return


MOST_IN_VAIN = 60
"""So many repeats that come no nearer to a count, and it is never reached."""


def until_stitches(k: Knitter, until: tree.Until, once: Callable[[], bool], span: Span) -> None:
    """Go on until so many stitches are there, or say that they never are."""
    want = wanted(k, until)
    if want is None:
        return
    where = "" if until.things == "each side" else until.things or ""
    first = between_markers(k) if where and where != "unwrapped" else []
    count = partial(counted_stitches, k, where, first, want)
    have = count()
    if have is None:
        k.report(problems.NoMarker(k.info.name_of_row(), between=True), span)
        k.unproved = k.ever_unproved = True
        return
    nearest = have
    no_nearer = 0
    for _ in range(MOST_TIMES):
        if have == want:
            if not where and not k.trial:
                k.unproved = False
            return
        was = have
        if not once():
            break
        have = count()
        if have is None:
            break
        if len(first) > 1 and not no_nearer:
            was = nearest = have  # only now it shows which pair is meant
        no_nearer += 1
        if abs(have - want) < abs(nearest - want):
            nearest, no_nearer = have, 0
        if (
            no_nearer > MOST_IN_VAIN
            or (was - want) * (have - want) < 0
            or abs(have - want) > abs(was - want) + 40
        ):
            break
    if have != want:
        k.report(problems.NeverReached(want, nearest, where), span)


def until_all_worked(k: Knitter, once: Callable[[], bool], span: Span, *, first_done: bool) -> None:
    """In words: ``until all heel sts have been worked``: until no turn has left any waiting."""
    if not first_done:
        once()
    last = k.history[-1].section if k.history else -1
    rows = sum(r.section == last for r in k.history)
    waiting, beyond = _waiting(k), _left_beyond(k, rows)
    # of a heel in a ring the rest of the round waits all the while, beyond the turns of the flap
    flap = k.worker.needles.ring and bool(k.entries) and len(k.entries[-1].gaps) > 2
    for _ in range(MOST_TIMES):
        before = len(k.history)
        if not waiting or not beyond or (flap and _turned_at_both_ends(k)) or not once():
            return
        was, far = waiting, beyond
        waiting, beyond = _waiting(k), _left_beyond(k, len(k.history) - before)
        if waiting >= was and beyond >= far:
            k.report(problems.NeverReached(0, min(waiting, beyond), "unworked"), span)
            return


def _turned_at_both_ends(k: Knitter) -> bool:
    """Whether the last two rows went from end to end of a flap, so that no turn but theirs is left."""
    return {g.turned_on for g in k.entries[-1].gaps} == {e.order for e in k.entries[-2:]}


def _left_beyond(k: Knitter, rows: int) -> int:
    """The most that the last ``rows`` rows left beyond their turns: of an edging, the shawl's stitches."""
    return max((e.unworked for e in k.entries[-rows:]), default=0) if rows else 0


def _waiting(k: Knitter) -> int:
    """Stitches beyond the gaps that turns have left."""
    if not k.entries:
        return 0
    gaps = [g.from_right_rs for g in k.entries[-1].gaps]
    live = k.worker.needles.live
    return min(live, sum(min(g, live - g) for g in gaps))


def counted_stitches(k: Knitter, where: str, first: list[int], want: int) -> int | None:
    """The stitches that a count speaks of: all in play, those no turn has left, or those between two
    neighbouring markers.

    Of several such pairs it is the one that has changed from what it was at ``first``, and comes nearest to
    ``want``. None if there are no two markers to count between.
    """
    if not where:
        return k.worker.needles.live
    if where == "unwrapped":
        return between_gaps(k)
    now = between_markers(k)
    if not now:
        return None
    grown = [n for n, was in zip(now, first, strict=True) if n != was] if len(now) == len(first) else now
    # before anything has changed a pair that has so many by chance is not the one meant
    still = [n for n in now if n != want] or now
    return min(grown or still, key=lambda n: abs(n - want))


def between_markers(k: Knitter) -> list[int]:
    """How many stitches lie between each marker and the next, from the right as the right side faces.

    The start of a round counts as a marker if fewer than two others are there; in a round of three or more
    the last is followed by the first.
    """
    nd = k.worker.needles
    n_right, live = len(nd.right), nd.live
    there = {b.at for b in nd.right_marks if b.kind == "marker"}
    there |= {live - b.at for b in nd.left_marks if b.kind == "marker"}
    if nd.ring:
        there = {at % max(live, 1) for at in there}
        if len(there) < 2 and there:
            there.add(0)
    met = sorted(there)
    around = (
        [met[0] + live - met[-1]] if nd.ring and (len(met) > 2 or met[:1] == [0]) and len(met) > 1 else []
    )
    lengths = [b - a for a, b in pairwise(met)] + around
    from_left = bool(k.worker.facing) == bool(n_right)
    return lengths[::-1] if from_left and not nd.ring else lengths


def wanted(k: Knitter, until: tree.Until) -> int | None:
    """How many stitches on the needle the words stop at.

    "26 sts remain on each side" are twice as many on the needle, unless the other side waits on a holder.
    """
    n = until.stitches.at(k.size) if until.stitches is not None else None
    if n is None or until.things != "each side":
        return n
    w = k.worker
    return n if any(h.rest and h.piece == w.piece for h in w.needles.holders) else 2 * n


def between_gaps(k: Knitter) -> int:
    """The stitches in work between the turns of short rows, those just cast on among them: "(12 sts)"."""
    nd = k.worker.needles
    left = max((b.at for b in nd.left_marks if b.kind == "gap"), default=0)
    right = max((b.at for b in nd.right_marks if b.kind == "gap"), default=0)
    return len(nd.left) - left + len(nd.right) - right


def ends_on_other_side(k: Knitter, until: tree.Until) -> bool:
    """Whether the last row is on the side that the words do not end on ("..., ending with a p row")."""
    last = k.entries[-1].side if k.entries else None
    if until.side is None or last is None or k.worker.needles.ring:
        return False
    return (last is until.side) != until.worked


def end_on(k: Knitter, until: tree.Until, once: Callable[[], bool], span: Span, rows_each: int) -> None:
    """Meet "ending with a WS row" and "ending with row 4", or say that they are not met."""
    if until.edge and until.side is None and (next_ := edge_begins(k, until.edge)) is not None:
        # the yarn is at that edge: the row after begins there
        last = k.entries[-1].side if k.entries else None
        if last is next_ and rows_each == 1 and until.rows is None and until.times is None:
            once()
    if until.side is not None and k.entries and not k.worker.needles.ring:
        last = k.entries[-1].side
        want = until.side if until.worked else (Side.WS if until.side is Side.RS else Side.RS)
        if last is not None and last is not want:
            if (
                (until.length is not None or until.stitches is None)
                and rows_each == 1
                and until.rows is None
                and until.times is None
            ):
                once()
            else:
                k.report(
                    problems.EndingSideDiffers(k.info.name_of_row(), f"a {want} row", f"a {last} row"), span
                )
    if until.ending_row is not None and k.history:
        row = k.history[-1].number
        if row != until.ending_row:
            for r in rows_up_to(k, until.ending_row, rows_each):
                replay(k, r)


def rows_up_to(k: Knitter, number: int, rows_each: int = 1) -> list[Row]:
    """The rows that come after the last one worked, up to row ``number``.

    They are those of the repeat in work, ``rows_each`` rows long ("rep rnds 2 and 3 until ..., ending with
    rnd 2"), if it has that row; else those of the whole block.
    """
    last = k.history[-1].number
    repeat = k.history[-rows_each:]
    at = next((i for i, r in enumerate(repeat) if r.number == number), None)
    if rows_each > 1 and at is not None and len({r.number for r in repeat}) == rows_each:
        return list(repeat[: at + 1])
    out: list[Row] = []
    top = {
        r.number: r
        for r in k.history
        if r.section == k.section and r.block == k.block and r.number is not None
    }
    if number not in top or last is None:
        return []
    order = sorted(top)
    start = order.index(last) + 1 if last in order else 0
    for i in range(len(order)):
        n = order[(start + i) % len(order)]
        out.append(top[n])
        if n == number:
            return out
    return []
