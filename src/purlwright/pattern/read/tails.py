"""What hangs on the words before it: purposes, lengths in brackets, "leaving a tail", shaping in that row.

In: a cursor after something was read, and what was read. Out: whether more belongs to it; the list is
changed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace as changed

from purlwright.pattern.read.amounts import twice_as_many, until_mark
from purlwright.pattern.read.direction import take_over
from purlwright.pattern.read.fills import parse_ground
from purlwright.pattern.read.numbers import TWO, parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.read.shaping import beside
from purlwright.pattern.read.steps import parse_step
from purlwright.pattern.read.working import parse_colour
from purlwright.pattern.tokens import Cursor, Token
from purlwright.pattern.tree import (
    Action,
    AtEdges,
    Call,
    CastOn,
    Evenly,
    Fill,
    Hold,
    InGround,
    InPattern,
    Note,
    Number,
    PlaceKind,
    Repeat,
    RepeatRows,
    Resume,
    RowRef,
    Said,
    Shaping,
    Stated,
    Until,
    Work,
    WorkRows,
    Yarn,
)
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context

__all__ = ["along", "held_behind", "put", "shape_within", "take_tail"]


_PURPOSE = Phrases(
    "for a|the? turning|fold|picot|purl|hem? ridge|line|edge|round|row|rnd",
    "for a|the? single|double|triple rib|ridge|welt", "for the? left|right|second|other front|back|side|leg",
    "for the? front|back|sole of the? foot",
    "for a|the? button? band|border|hem|welt|edge at|of|round|along the? lower|bottom|upper|top|front|neck?"
    " edge?",
    "for the? left|right|front|back|first|second|other|each? front|back|side?"
    " neck|front|back|fronts|side|shoulder|shoulders|armhole|armholes|"
    "underarm|heel|toe|thumb|"
    "sleeve|sleeves|pocket|buttonhole|buttonholes|neckline|body|leg|foot|cuff|hem|brim|crown|border|edge"
    "|edging|"
    "hand|gusset|instep|flap|"
    "collar|hood|yoke|strap|raglan|finger line|shaping|flap|opening|band|edge?",
)  # fmt: skip


_AS_FOLLOWS = Phrases("knit|work|proceed|continue as follows|below|under", "knit|work|proceed|continue thus")
_IN_ROW = Phrases(
    "of|on|in|at|across? the? first|last|final|next|same row|round|rnd",
    "of|on|in|across this|each row|round|rnd",
)


def _somewhere(step: Work) -> Evenly | None:
    """The same increase or decrease, left to the knitter where: "dec 1 st"; None for any other stitch."""
    found = dictionary().find(step.stitch) if step.readings and not step.own else None
    if found is None or found.net == 0 or abs(found.net) != 1:
        return None
    many = tuple(None if v is None else v * found.net for v in step.count.values)
    return Evenly(change=changed(step.count, values=many), span=step.span)


def _in_row(cur: Cursor, out: list[Action]) -> bool:
    """IN-ROW: "inc 1 st at end of last row": the last of the rows before has this shaping; of "next row",
    a row more.
    """
    here = cur.at
    step = out[-1]
    if (
        isinstance(step, Work)
        and cur.peek().low in {"on", "in"}
        and {"first", "last", "final"} & {cur.peek(1).low, cur.peek(2).low}
    ):
        step = _somewhere(step) or step  # "dec 1 st on first rnd"
    if not isinstance(step, AtEdges | Evenly):
        return False
    said = _IN_ROW.take(cur)
    if said is None:
        return False
    cur.any_phrase("of the? rib|ribbing|welt|band|cuff")
    words = {t.low for t in cur.tokens[here : cur.at]}
    span = step.span.cover(cur.span_from(here))
    one = Number(values=(1,), span=span)
    if "last" in words or "final" in words:
        before = out[-2] if len(out) > 1 else None
        if isinstance(before, WorkRows) and before.rows is not None and not before.alternate:
            fewer = tuple(None if v is None else max(0, v - 1) for v in before.rows.values)
            out[-2] = changed(before, rows=changed(before.rows, values=fewer))
    elif "first" in words:
        before = out[-2] if len(out) > 1 else None
        if not isinstance(before, WorkRows) or before.rows is None or before.alternate:
            cur.at = here
            return False
        fewer = tuple(None if v is None else max(0, v - 1) for v in before.rows.values)
        rest = changed(before, rows=changed(before.rows, values=fewer))
        out[-2:] = [WorkRows(body=(*before.body, step), rows=one, unit=before.unit, span=span), rest]
        return True
    elif "next" not in words:
        cur.at = here
        return False
    out[-1] = WorkRows(body=(step,), rows=one, span=span)
    return True


def _evenly_in_last(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """IN-LAST: ("increasing" | "dec") "sts"? "evenly" "across the last row" "to" NUMBER "sts"."""
    here, before = cur.at, out[-1]
    if not isinstance(before, WorkRows) or before.rows is None or before.alternate:
        return False
    cur.at += 1
    cur.take("sts", "stitches")
    if not cur.phrase("evenly across|along|on|over|in the? last|final row|round|rnd to"):
        cur.at = here
        return False
    total = parse_number(cur, ctx)
    if total is None or cur.take("sts", "stitches") is None:
        cur.at = here
        return False
    span = cur.span_from(here)
    fewer = tuple(None if v is None else max(0, v - 1) for v in before.rows.values)
    one = Number(values=(1,), span=span)
    out[-1] = changed(before, rows=changed(before.rows, values=fewer))
    out.append(
        WorkRows(body=(*before.body, Evenly(total=total, span=span)), rows=one, unit=before.unit, span=span)
    )
    return True


def _tail(cur: Cursor) -> bool:
    """TAIL: "leaving a 20 cm tail for seaming", after a cast-on or a bind-off; taken."""
    n = until_mark(cur, 14, frozenset({"and"}))
    words = [cur.peek(i).low for i in range(n)]
    if not {"tail", "end", "ends", "thread"}.intersection(words) or {"sts", "stitches", "st"}.intersection(
        words
    ):
        return False
    if words[0] == "with" and not {"long", "left"}.intersection(words):
        return False
    cur.at += n
    # 'leaving a 20" tail': the mark of inches stops no words
    if cur.peek().low == '"':
        cur.at += 1 + until_mark(cur, 8)
    return True


def _length_aside(cur: Cursor, *, rows: bool) -> bool:
    """LENGTH-ASIDE: "(11 inches)", "(about 5 cm)", what the work measures by then; taken.

    rows : so are "(12 rows)", which elsewhere are a count to be held against the rows.
    """
    here = cur.at
    end = aside_end(cur)
    if 0 < end <= here + 7:
        inside = cur.tokens[here + 1 : end - 1]
        lows = {t.low for t in inside}
        units = {"inches", "inch", "cm", "ins", "in", "mm", '"', "ridges"}
        units |= {"rows", "rounds", "rnds"} if rows else set()
        if lows & units and any(t.kind == "n" for t in inside):
            cur.at = end
            return True
    cur.at = here
    return False


def _times_across(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """TIMES-ACROSS: NUMBER "times" ("in each round" | "around" | "across"), after the rows of a chart.

    It is how often the stitches take it in, and no number of times that its rows are worked.
    """
    last = out[-1]
    here = cur.at
    if not isinstance(last, Call) and not (isinstance(last, RepeatRows) and last.rows.section):
        return False
    if isinstance(last, RepeatRows) and last.times is not None and _ACROSS.take(cur) is not None:
        # "8 times in each round": the times were taken for those of the rows
        out[-1] = changed(last, times=None, said=Said.TIMES, span=last.span.cover(cur.span_from(here)))
        return True
    cur.any_phrase(",? repeating|working it|this|chart?")
    if parse_number(cur, ctx) is None or cur.take("times", "x") is None or _ACROSS.take(cur) is None:
        cur.at = here
        return False
    out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
    return True


_OF_CHART = frozenset("working repeating work repeat , in around across per to".split())
_ACROSS = Phrases(
    "in|on each|every|the round|rnd|row", "around|across the? round|rnd|row?", "per round|rnd|row",
    "to each round|rnd|row",
)  # fmt: skip


def _chart_repeat(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """CHART-REPEAT: ","? "working the 8-st repeat 12 (13, 14) times around": so many stitches are there.

    Only of a chart or stitch pattern; of a flat row, which may have edge stitches, the repeat alone is told.
    """
    last = out[-1]
    chart = isinstance(last, Call) or (isinstance(last, RepeatRows) and bool(last.rows.section))
    here = cur.at
    if _times_across(cur, ctx, out):
        return True
    cur.take(",")
    if not chart or cur.take("working", "repeating", "work", "repeat") is None:
        cur.at = here
        return False
    cur.take("the")
    wide = parse_number(cur, ctx)
    cur.take("-")
    st = cur.take("st", "sts", "stitch", "stitches")
    what = cur.take("repeat", "rep", "pattern", "patt", "motif")
    times = parse_number(cur, ctx) if wide is not None and st is not None and what is not None else None
    if wide is None or times is None or cur.take("times", "x") is None:
        cur.at = here
        return False
    around = cur.any_phrase("around", "in the round", "for the round|rnd") is not None
    cur.any_phrase("across the? row?")
    size = max(len(wide.values), len(times.values))
    each = [(wide.at(i), times.at(i)) for i in range(size)]
    values = tuple(None if w is None or t is None else w * t for w, t in each)
    span = cur.span_from(here)
    total = Number(values=values, span=span)
    told = Stated(total=total, span=span) if around else Stated(kind="repeat", parts=(wide,), span=span)
    out.insert(len(out) - 1, told)
    return True


def _ended_with(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """ENDED-WITH: "K2tog across, end k1", "p to end, ending with k2": what is worked last, of the stitches
    there.
    """
    last, here = out[-1], cur.at
    to = last.to if isinstance(last, Fill | Repeat) else None
    if (
        to is None
        or to.kind is not PlaceKind.END
        or to.before is not None
        or not isinstance(last, Fill | Repeat)
    ):
        return False
    cur.at += 1
    cur.take("with")
    start = cur.at
    step = parse_step(cur, ctx)
    one = step[0] if step is not None and len(step) == 1 else None
    if (
        not isinstance(one, Work)
        or one.stitch not in {"k", "p"}
        or cur.peek().low not in {"", ".", ";", "(", "["}
    ):
        cur.at = here
        return False
    place = changed(to, before=changed(one.count, span=cur.span_from(start)))
    out[-1] = changed(last, to=place)
    out.append(changed(one, span=cur.span_from(here)))
    return True


def _same_row(out: list[Action], step: AtEdges | Evenly) -> bool:
    """SAME-ROW: "Knit 1 row, dec 4 sts evenly": the shaping is in that one row."""
    last = out[-1] if out else None
    if (
        not isinstance(last, WorkRows)
        or last.rows is None
        or last.rows.values != (1,)
        or last.until is not None
    ):
        return False
    out[-1] = changed(last, body=(*last.body, step), span=last.span.cover(step.span))
    return True


def _evenly_tail(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """EVENLY-TAIL: "Knit 1 round, decreasing 2 sts": after one row, shaping somewhere in it."""
    here = cur.at
    t = cur.peek()
    if t.low not in _CHANGES or not out or not isinstance(out[-1], WorkRows):
        return False
    cur.at += 1
    cur.take(".") if t.low in {"inc", "dec"} and cur.peek().glued else None
    n = parse_number(cur, ctx)
    if (
        n is None
        or cur.take("st", "sts", "stitch", "stitches") is None
        or cur.peek().low not in {"", ",", ".", "(", ";", "["}
    ):
        cur.at = here
        return False
    sign = -1 if t.low.startswith("dec") else 1
    signed = changed(n, values=tuple(None if v is None else v * sign for v in n.values))
    if not _same_row(out, Evenly(change=signed, span=cur.span_from(here))):
        cur.at = here
        return False
    return True


_CHANGES = frozenset("inc dec increasing decreasing increase decrease".split())


_USUAL_YARNS = frozenset({"mc", "cc", "cc1", "cc2", "cc3"})
"""What most designers call their yarns, explained or not."""


def take_tail(cur: Cursor, ctx: Context, out: list[Action], *, fresh: bool) -> bool | None:
    """TAIL: words that hang on what was read last; taken.

    Returns None if none stands here, else whether rows ended with it.
    """
    if not out:
        return None
    here = cur.at
    low = cur.peek().low
    found = False
    if low in {"leaving", "leave", "with"}:
        found = _tail(cur)
    elif low == "(":
        found = _length_aside(cur, rows=not (isinstance(out[-1], RepeatRows) and out[-1].times))
    elif low in {"place", "stead"} and isinstance(out[-1], CastOn) and cur.peek(-1).low in {"their", "its"}:
        cur.at += 1
        found = True
    elif low == "for":
        found = _PURPOSE.take(cur) is not None
        if found:
            cur.any_phrase("and|or the? heel|toe|thumb|back|front|foot")
    elif low in _OF_CHART and _chart_repeat(cur, ctx, out):
        return False
    if found:
        out[-1] = changed(out[-1], span=out[-1].span.cover(cur.span_from(here)))
        return False
    if low == "in" and not fresh and isinstance(out[-1], WorkRows):
        cur.at += 1
        ground = parse_ground(cur, ctx)
        if ground is not None and _ground_after(out, ground, low):
            return True
        cur.at = here
    if low in {"knit", "work", "proceed", "continue"} and not fresh and _AS_FOLLOWS.take(cur) is not None:
        # "cast on 22 stitches and knit as follows:" only leads to the rows under it
        if cur.peek().low in {":", "", "-"}:
            out[-1] = changed(out[-1], span=out[-1].span.cover(cur.span_from(here)))
            return False
        cur.at = here
    if low in {"end", "ending", "finishing"} and not fresh and _ended_with(cur, ctx, out):
        return False
    if low in {"of", "on", "in", "at", "across", "last"} and _in_row(cur, out):
        return True
    if low in {"on", "over"} and (isinstance(out[-1], WorkRows) or _ground_alone(out[-1])):
        # "Knit 10 rows on these 12 sts only.", "Cont in st st on these 24 sts, dec 1 st at each end of ..."
        over, part = take_over(cur, ctx)
        if part and (isinstance(out[-1], WorkRows) or _pointed(cur, here)):
            out.insert(len(out) - 1, Resume(over=over, part=part, span=cur.span_from(here)))
            return isinstance(out[-1], WorkRows)  # what comes after a ground alone is worked in it
        cur.at = here
    if (
        low in ctx.yarns | _USUAL_YARNS
        and cur.peek(-1).low in {"and", "&"}
        and (cur.peek(1).low in {",", ".", "", "only"} or (_of_needles(out[-1]) and cur.peek(1).low in _DOES))
    ):
        # "Change to smaller needles and CC.", "With the smaller needles and MC cast on 48 sts."
        colour = cur.next().text
        cur.take("only")
        out.append(Yarn(act="use", colour=colour, span=cur.span_from(here)))
        return False
    if low in _CHANGES and not fresh and _evenly_in_last(cur, ctx, out):
        return True
    if not fresh and _evenly_tail(cur, ctx, out):
        return False
    return None


_DOES = frozenset("cast co cont continue k knit p pick purl work".split())


def _of_needles(a: Action) -> bool:
    """Whether only the needles were named: "with the smaller needles"."""
    return isinstance(a, Note) and "needle" in a.words.lower()


def _ground_alone(a: Action) -> bool:
    """Whether only what the rows are worked in was said: "cont in st st"."""
    return isinstance(a, InGround | InPattern) and a.count is None and a.to is None


def _pointed(cur: Cursor, here: int) -> bool:
    """Whether the words point to stitches, and no more is said of them in this row."""
    return cur.peek().low in {"", ",", ".", ";", "and"} and any(
        t.low in {"these", "those"} for t in cur.tokens[here : cur.at]
    )


def shape_within(out: list[Action], got: tuple[Action, ...]) -> bool:
    """Whether what was read belongs into or before the rows read last: shaping in that one row, or its
    side.
    """
    first = got[0]
    if len(got) == 1 and isinstance(first, AtEdges | Evenly) and _same_row(out, first):
        return True
    if isinstance(first, Resume) and out and isinstance(out[-1], WorkRows | InGround | InPattern):
        # "Work 4 rows st st, beg with a purl row": the side comes first
        out.insert(len(out) - 1, first)
        return True
    return False


def held_behind(before: list[Action], got: tuple[Action, ...]) -> tuple[Action, ...]:
    """THEM: "knit 34 stitches, slip them on to a spare needle": those just worked, and no others."""
    last, first = before[-1] if before else None, got[0]
    if isinstance(first, Hold) and first.of == "all" and first.count is None and isinstance(last, Work):
        return (changed(first, of="worked", count=last.count), *got[1:])
    return got


def in_yarn(out: list[Action], got: tuple[Action, ...]) -> bool:
    """IN-YARN: "knit two plain rows" "in white": the yarn of those rows, and not of what comes after."""
    last, yarn = out[-1] if out else None, got[0]
    if len(got) != 1 or not isinstance(last, WorkRows) or not isinstance(yarn, Yarn) or yarn.act != "use":
        return False
    if last.alternate or not last.body or any(isinstance(s, Yarn) for s in last.body):
        return False
    out[-1] = changed(last, body=(yarn, *last.body), span=last.span.cover(yarn.span))
    return True


def same_in_yarn(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """SAME-IN-YARN: ("," | ";" | "and") NUMBER ("in" | "of") YARN: "knit two rows in white; two in pink"."""
    last = out[-1] if out else None
    if (
        not isinstance(last, WorkRows)
        or last.rows is None
        or not last.body
        or not isinstance(last.body[0], Yarn)
    ):
        return False
    if cur.peek().value is None or cur.peek(1).low not in {"in", "of", "with"}:
        return False
    here = cur.at
    n = parse_number(cur, ctx)
    colour = parse_colour(cur, ctx) if n is not None else None
    if n is None or colour is None or cur.peek().low not in {"", ".", ",", ";", "and", "-"}:
        cur.at = here
        return False
    turns = any(t.low in {"turn", "turns"} for t in cur.tokens[:here] if t.start >= last.span.start - 1)
    turns = turns or (last.rows.words or "") == "turns"
    span = cur.span_from(here)
    rows = twice_as_many(n) if turns else n
    if turns:
        rows = changed(rows, words="turns")
    yarn = Yarn(act="use", colour=colour, span=span)
    out.append(WorkRows(body=(yarn, *last.body[1:]), rows=rows, unit=last.unit, span=span))
    return True


def along(out: list[Action], got: tuple[Action, ...], said: Token, *, turned: bool = False) -> bool:
    """ALONG: ROWS ","? "increasing" WHERE "of every other row": shaping in the course of those rows.

    "Knit 12 rows, increasing 1 at the beginning of every other row", "work until piece measures 20 cm, inc 1
    st each end every 6th row". ``said`` is the first word of the shaping; a verb in full ("then decrease")
    tells what comes after the rows.
    """
    last = out[-1] if out else None
    first = got[0]
    if turned and isinstance(first, AtEdges) and len(got) == 1 and said.low in _COURSE:
        # "knit six turns, increasing one stitch at each end": once a turn
        got = (Shaping(steps=(first,), every=TWO, start="next", span=first.span),)
        first = got[0]
    if isinstance(last, Fill) and isinstance(first, Shaping) and said.low in _COURSE and len(got) == 1:
        left = last.to.before if last.to.kind is PlaceKind.END else None
        if left is None or first.times is not None or first.until is not None or first.start == "every":
            return False
        rest = Until(stitches=left, span=last.to.span)  # "knit until 20 sts remain, decreasing in every row"
        out[-1] = changed(first, until=rest, span=last.span.cover(first.span))
        return True
    if not isinstance(last, WorkRows | RepeatRows) or not isinstance(first, Shaping):
        return False
    if not all(isinstance(a, Shaping) and a.until is None for a in got):
        return False
    if said.low in _SHORT:
        if first.times is not None or first.start == "next":
            return False
    elif said.low not in _COURSE:
        return False
    stop = last.until
    if isinstance(last, RepeatRows) and stop is None:
        return False
    if isinstance(last, WorkRows) and last.rows is None and stop is None:
        return False
    if stop is not None and stop.stitches is not None:
        final = changed(got[-1], until=stop, span=last.span.cover(got[-1].span))
        out[-1:] = [*got[:-1], final]
        return True
    out[-1] = beside(last, got)  # type: ignore[arg-type]
    return True


_COURSE = frozenset("increasing decreasing narrowing widening".split())
_SHORT = frozenset("inc dec".split())


def _to_there_as(before: Action, ref: RowRef) -> RowRef | None:
    """TO-THERE-AS: "work to end of round as rnd 2": the rest of that row, as far as the place."""
    if (
        not isinstance(before, InPattern)
        or (before.count, before.how, ref.to) != (None, "set", None)
        or before.to is None
        or ref.span.start - before.span.end > 1  # a mark stands between
    ):
        return None
    return changed(ref, to=before.to, span=before.span.cover(ref.span))


def _ground_after(out: list[Action], got: tuple[Action, ...], said: str) -> bool:
    """GROUND-AFTER: "knit in the round for 3 inches" "in stockinette stitch": how those are worked."""
    last, ground = out[-1] if out else None, got[0]
    if (
        said not in {"in", "by"}
        or len(got) != 1
        or not isinstance(last, WorkRows)
        or not isinstance(ground, InGround)
    ):
        return False
    plain = len(last.body) == 1 and isinstance(last.body[0], Fill | InPattern)
    if not plain or last.alternate or not _ground_alone(ground):
        return False
    out[-1] = changed(last, body=(ground,), span=last.span.cover(ground.span))
    return True


def put(out: list[Action], got: tuple[Action, ...], since: int, said: str = "") -> None:
    """Add what was read; "Cont in patt, dec 1 st each end of ..." is shaping, and the pattern only its
    ground.
    """
    first = got[0]
    if isinstance(first, RowRef) and len(out) > since and (ref := _to_there_as(out[-1], first)) is not None:
        out[-1] = ref
        return
    if isinstance(first, WorkRows) and len(out) > since and first.body and not first.alternate:
        # "Cont in st st and work 80 rows": the rows are worked in what is named just before
        ground, set_ = out[-1], first.body[0]
        if (
            isinstance(ground, InGround)
            and (ground.count, ground.to) == (None, None)
            and len(first.body) == 1
            and isinstance(set_, InPattern)
            and (set_.count, set_.to) == (None, None)
            and set_.how in {"set", "even"}
        ):
            out[-1] = changed(first, body=(ground,), span=ground.span.cover(first.span))
            out.extend(got[1:])
            return
    if _ground_after(out, got, said):
        return
    if isinstance(first, Shaping) and out and isinstance(out[-1], WorkRows):
        main = out[-1]
        if main.rows is None and main.until is None and not main.alternate:
            out[-1] = beside(main, got)  # type: ignore[arg-type]
            return
    if isinstance(first, Shaping) and len(out) > since:
        ground = out[-1]
        if isinstance(ground, InPattern) and ground.count is None and ground.to is None:
            out[-1] = changed(first, span=ground.span.cover(first.span))
            out.extend(got[1:])
            return
        if isinstance(ground, InGround) and ground.count is None and ground.to is None:
            out[-1] = beside(WorkRows(body=(ground,), span=ground.span), got)  # type: ignore[arg-type]
            return
        if isinstance(ground, InGround) and ground.count is not None and ground.to is None:
            # "Work in garter st on the rem 24 sts, inc 1 st at each end of every 4th row": all there are
            total = Stated(total=ground.count, span=ground.span)
            main = WorkRows(body=(changed(ground, count=None),), span=ground.span)
            out.insert(len(out) - 1, total)
            out[-1] = beside(main, got)  # type: ignore[arg-type]
            return
    out.extend(got)
