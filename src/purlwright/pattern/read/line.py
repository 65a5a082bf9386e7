"""One line of instruction: its label, and what it says to do, in order.

In: the text of one line and what is known of the file. Out: a :class:`ReadLine`: label, actions (steps and
statements), findings with spans in the line's own text. How the file was cut into lines is left to ``file``; what
the actions do to loops, to ``needles``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

from msgspec.structs import replace as changed

from purlwright.findings import Collector, Finding
from purlwright.pattern.read.again import parse_repeat_rows
from purlwright.pattern.read.amounts import amount, is_unit, parse_times, skip, until_mark
from purlwright.pattern.read.between import hold_the_rest, parse_between, parse_not
from purlwright.pattern.read.byneedle import parse_by_needle
from purlwright.pattern.read.caston import parse_cast_on, parse_divide, parse_join
from purlwright.pattern.read.closing import (
    parse_bind_off,
    parse_break,
    parse_close,
    parse_finish,
    parse_gather,
)
from purlwright.pattern.read.counts import parse_stated
from purlwright.pattern.read.label import read_label, split_label
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.problems import NotRead
from purlwright.pattern.read.prose import aside_end, is_talk, talk_ahead
from purlwright.pattern.read.rows import parse_go_on, parse_ground_rows, parse_work_rows
from purlwright.pattern.read.shaping import beside, parse_shaping, same_time
from purlwright.pattern.read.steps import is_knitting_word, parse_step
from purlwright.pattern.read.until import parse_ending, parse_until
from purlwright.pattern.tokens import Cursor, tokenize
from purlwright.pattern.tree import (
    Action,
    Arrange,
    AtEdges,
    AtSameTime,
    BindOff,
    CastOn,
    Close,
    Evenly,
    Gather,
    Hold,
    InGround,
    InPattern,
    JoinRound,
    Label,
    Note,
    Number,
    Rejoin,
    Repeat,
    RepeatRows,
    Resume,
    RowSet,
    Said,
    Shaping,
    Stated,
    Turn,
    Unread,
    Until,
    WorkRows,
    Yarn,
)  # fmt: skip
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Callable

    from purlwright.pattern.read.context import Context

__all__ = ["ReadLine", "read_line"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadLine:
    """What one line says. ``note`` is true when the whole line is talk. Spans count from the start of the
    line.
    """

    label: Label | None = None
    actions: tuple[Action, ...] = ()
    findings: tuple[Finding, ...] = ()
    note: bool = False


_STATEMENTS = (WorkRows, RepeatRows, Shaping, AtSameTime, JoinRound, Arrange, Rejoin, Resume, Close, Gather)
_NO_ROW = (Unread, Stated, Turn, BindOff, CastOn, Hold, Note)
_REPEATING = (WorkRows, RepeatRows, Shaping, AtSameTime)
_MOST = 5000
"""No line holds more actions than this."""


def read_line(text: str, ctx: Context, *, label: str | None = None) -> ReadLine:
    """LINE: LABEL? (STATEMENT | STEP | COUNT | NOTE)*: "Row 2 (WS): P to last 3 sts, k3. (24 sts)".

    label : the label's words when they stand apart from ``text``; its span is then ``NOWHERE``.
    Returns label, actions and findings; an empty text gives none of them. Never raises, reads nothing but its arguments.
    """
    mine = replace(ctx, findings=Collector())
    if label is None:
        head, at = split_label(text, ctx)
    else:
        head, at = (read_label(label, ctx) if label.strip() else None), 0
        if head is not None:
            head, at = _more_of_label(head, text, ctx)
    cur = Cursor(tokenize(text[at:], at, ctx.compact))
    if head is None and _opens_section(cur):
        note = Note(words=text.strip(), span=cur.span_from(0) if cur.done else Span(cur.tokens[0].start, cur.tokens[-1].end))
        return ReadLine(actions=(note,), note=True)
    actions = _actions(cur, mine, text)
    note = (
        head is None
        and bool(actions)
        and all(isinstance(a, Note) for a in actions)
        and not len(mine.findings)
    )
    if note and not is_talk(cur.tokens):
        note = False
    return ReadLine(label=head, actions=tuple(actions), findings=tuple(mine.findings), note=note)


def _opens_section(cur: Cursor) -> bool:
    """OPENS: a line of a few words, none of them a number, that ends in a colon: "Decrease for crown:"."""
    tokens = cur.tokens
    return (
        1 < len(tokens) <= 8
        and tokens[-1].low == ":"
        and all(t.kind in {"w", "s"} or t.low in {"-", "'", '"', "*", "_", "/", "&"} for t in tokens[:-1])
    )


def _of_needle(head: Label, ctx: Context) -> bool:
    """Whether the label names a needle of a round, so that "to end" is the end of that needle."""
    low = head.words.lower()
    return (head.name or "").startswith("needle ") or (ctx.round and low.endswith(("needle", "needles")))


def _more_of_label(head: Label, text: str, ctx: Context) -> tuple[Label, int]:
    """A side that stands in front of the row's words: label "Row 2", text "(WS) K3, p32"."""
    if head.side is None and text.lstrip()[:1] in {"(", "["}:
        joined, at = split_label("Row 1: " + text, ctx)
        if joined is not None and joined.side is not None and at > 7:
            return changed(head, side=joined.side, colour=head.colour or joined.colour), at - 7
    return head, 0


# --- what may stand where --------------------------------------------------------------------------------


_Reader: TypeAlias = "Callable[[Cursor, Context], tuple[Action, ...] | Action | None]"

_WORK = (parse_work_rows, parse_shaping, parse_repeat_rows)
_OPENERS: dict[str, tuple[_Reader, ...]] = {}


def _opens(words: str, *readers: _Reader) -> None:
    for w in words.split():
        _OPENERS[w] = (*_OPENERS.get(w, ()), *readers)


_opens("knit", parse_repeat_rows)
_opens("knit k purl p pearl seam do make rib", parse_work_rows)
_opens("work working", parse_work_rows, parse_shaping, parse_repeat_rows, parse_close)
_opens("rep repeat repeating repeated", parse_shaping, parse_repeat_rows)
_opens("[ (", parse_repeat_rows)
_opens(
    "these this those the last rows row rounds rnds both complete begin commence recommence start go",
    parse_repeat_rows,
)
_opens("place slip put", parse_divide)
_opens("us uk no # smaller larger size straight circular double finer coarser bigger", parse_between)
_opens("do don't never without not", parse_not)
_opens("needle needles ndl ndls n on the for 1st 2nd 3rd 4th first second third fourth", parse_by_needle)
_opens("end ending finish finishing", parse_work_rows)
_opens("all", parse_repeat_rows)
_opens("using with", parse_close)
_opens("cont continue continuing keep keeping", parse_shaping, parse_repeat_rows)
_opens("every each in", parse_shaping)
_opens("follow foll", parse_repeat_rows)
_opens("dec decrease decreasing inc increase increasing narrow narrowing widen shape shaping", parse_shaping)
_opens("bind bo cast casting binding end finish fasten bindoff knit purl", parse_shaping, parse_bind_off)
_opens(
    "cast co casting caston i then you using with the long longtail provisional provisionally judy judy's german crochet tubular knitted"
    " cable loosely old italian backward thumb turkish",
    parse_cast_on,
)
_opens("bind-off cast-off", parse_shaping, parse_bind_off)
_opens("cast-on", parse_shaping, parse_cast_on)
_opens("join close form joining", parse_join, parse_close)
_opens("divide divided arrange distribute dividing arranging distributing spread", parse_divide)
_opens(
    "graft grafting kitchener weave sew seam stitch mattress overcast backstitch 3 three use using finish",
    parse_close,
)
_opens("break cut draw thread pull run gather", parse_gather)
_opens("break cut", parse_break)
_opens("at on", parse_shaping)
_opens(
    "weave darn sew run work block steam press fasten wash hide tuck secure tie trim felt soak lay pin attach make embroider"
    " add draw line leave fold turn pull fringe finish",
    parse_finish,
)
_opens(
    "with using use on change changing switch switching take go return rejoin reattach re join attach place put slip transfer"
    " move pick replace beginning starting beg begin start commencing commence work working now from continue cont and knit in",
    parse_between,
)


def _statement(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """The first reader of statements that takes what stands here."""
    t = cur.peek()
    if t.low in _STITCH_VERBS and not _many_rows_ahead(cur):
        return None
    readers = _OPENERS.get(t.low)
    if readers is None and t.value is not None and t.low not in {"once", "twice"}:
        readers = (parse_work_rows, parse_close) if t.low in {"3", "three"} else (parse_work_rows,)
    if readers is None:
        return None
    here = cur.at
    for reader in readers:
        got = reader(cur, ctx)
        if got is not None:
            return got if isinstance(got, tuple) else (got,)
        cur.at = here
    return None


_STITCH_VERBS = frozenset({"k", "p", "knit", "purl"})
_COUNT_GOES_ON = frozenset(
    "more further plain open straight purl pearl knit st garter k p purled knitted even rib single complete additional quite"
    " or ( [ inches inch in ins cm mm rs ws -".split()
)
_VERB_GOES_ON = frozenset(
    "a an another the these next all back in for until till each every even straight plain without bo bind bind-off one"
    " last forward forwards across any about".split()
)


def _many_rows_ahead(cur: Cursor) -> bool:
    """Whether "knit" and its like may speak of rows here, so that "k2, p2" costs no more than a look."""
    t = cur.peek(1)
    if t.kind == "n" or t.value is not None:
        after = cur.peek(2)
        return after.low in _COUNT_GOES_ON or is_unit(after.low) or after.value is not None or after.low == '"'
    return t.low in _VERB_GOES_ON


# --- the line, from left to right ------------------------------------------------------------------------


_PAUSES = frozenset({",", ":", "-", "--", "!", "?", "…", "_", "~", "&", '"', "'", "/"})
_LEADS = Phrases(
    "at the end of this|the|each|every? row|round|rnd|needle ,", "after this|that ,?", "from here|now on ,?", "after which ,?", "at this point ,?",
)  # fmt: skip
_JOINERS = frozenset({"and", "then", "now", "also", "but", "so", "again", "lastly", "finally", "afterwards", "next"})
_STOPS = frozenset({",", ";", ".", "(", ")", "[", "]", ":", "--"})


def _actions(cur: Cursor, ctx: Context, text: str) -> list[Action]:
    out: list[Action] = []
    since = 0
    fresh = True
    lead = -1
    while not cur.done and len(out) < _MOST:
        t = cur.peek()
        if t.low in {".", ";"}:
            cur.at += 1
            since = len(out)
            fresh = True
            continue
        if t.low in _PAUSES:
            cur.at += 1
            continue
        here = cur.at
        if same_time(cur):
            at = cur.at
            _beside(cur, ctx, out, here)
            if cur.at > at:
                since = len(out)
                fresh = False
                continue
        cur.at = here
        if fresh and t.low not in _OPENERS and not is_knitting_word(t):
            end = talk_ahead(cur)
            if end > cur.at:
                cur.at = end
                out.append(_note(cur, here, text))
                continue
        if t.low == "next" and cur.peek(1).low in {"row", "rnd", "round"} and cur.peek(2).low in {":", "-", "--", ","}:
            # "Knit 3 rounds. Next round: ..." within a line: what follows is a row of its own
            lead = here if lead < 0 else lead
            cur.at += 3
            since = len(out)
            fresh = True
            continue
        if t.low in {"at", "after", "from"} and _LEADS.take(cur) is not None:
            lead = here if lead < 0 else lead
            continue
        if out and t.low in {"leaving", "leave", "with"} and _tail(cur):
            last = out[-1]
            out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
            continue
        if out and t.low in {"of", "on", "in", "at", "across", "last"} and _in_row(cur, out):
            since = len(out)
            continue
        if out and t.low == "for" and _PURPOSE.take(cur) is not None:
            last = out[-1]
            out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
            continue
        if out and t.low == "(" and _length_aside(cur):
            last = out[-1]
            out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
            continue
        if t.low in ctx.yarns and cur.peek(-1).low in {"and", "&"} and cur.peek(1).low in {",", ".", "", "only"}:
            cur.at += 1
            cur.take("only")
            out.append(Yarn(act="use", colour=t.text, span=cur.span_from(here)))
            continue
        if t.low in _JOINERS and lead < 0:
            lead = cur.at
        if t.low in _JOINERS and not (t.low == "now" and cur.peek(1).low == "work"):
            cur.at += 1
            continue
        if not fresh and _evenly_tail(cur, ctx, out):
            continue
        got = _one(cur, ctx)
        if got is not None and cur.at > here:
            if lead >= 0:
                got = (changed(got[0], span=cur.tokens[lead].span.cover(got[0].span)), *got[1:])
                lead = -1
            if isinstance(got[0], Resume) and not fresh and out and isinstance(out[-1], WorkRows | InGround | InPattern):
                # "Work 4 rows st st, beg with a purl row": the side comes first
                out.insert(len(out) - 1, got[0])
                since = len(out) - 1
                continue
            if len(got) == 1 and isinstance(got[0], AtEdges | Evenly) and not fresh and _same_row(out, got[0]):
                continue
            _put(out, got, since)
            if any(isinstance(a, _STATEMENTS) for a in got):
                since = len(out)
            fresh = False
            continue
        lead = -1
        cur.at = here
        if _bare_repeat(cur, ctx, out) or _again(cur, ctx, out, since):
            since = len(out)
            fresh = False
            continue
        cur.at = here
        if fresh and (end := talk_ahead(cur)) > cur.at:
            cur.at = end
            out.append(_note(cur, here, text))
            continue
        _left_over(cur, ctx, out, text)
        fresh = False
    return out


def _one(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """STATEMENT | COUNT | "go on" UNTIL | STEP."""
    here = cur.at
    got = _statement(cur, ctx)
    if got is not None:
        return got
    cur.at = here
    stated = parse_stated(cur, ctx)
    if stated is not None and cur.at > here:
        return (stated,)
    cur.at = here
    on = parse_go_on(cur, ctx)
    if on is not None and isinstance(on[0], WorkRows):
        return on
    far = cur.at
    cur.at = here
    if _names_ground(cur):
        ground = parse_ground_rows(cur, ctx)
        if ground is not None:
            return ground
        cur.at = here
    if _always(cur):
        return None
    steps = parse_step(cur, ctx)
    if steps is not None and cur.at > here:
        if isinstance(steps[-1], InGround):
            cur.take("rib", "ribbing")
        if isinstance(steps[-1], Turn) and (rest := hold_the_rest(cur)) is not None:
            return (*steps, rest)
        return steps
    if on is not None:
        cur.at = far
        return on
    cur.at = here
    return None


_PURPOSE = Phrases(
    "for a|the? turning|fold|picot|purl|hem? ridge|line|edge|round|row|rnd", "for the? left|right|front|back|first|second|other|each? front|back|side? neck|shoulder|shoulders|armhole|armholes|underarm|heel|toe|thumb|"
    "sleeve|sleeves|pocket|buttonhole|buttonholes|neckline|body|leg|foot|cuff|hem|brim|crown|border|edge|edging|hand|gusset|instep|flap|"
    "collar|hood|yoke|strap|raglan|finger line|shaping|flap|opening|band|edge?",
)  # fmt: skip
_IN_ROW = Phrases("of|on|in|at|across? the? last|final|next|same row|round|rnd", "of|on|in|across this|each row|round|rnd")


def _in_row(cur: Cursor, out: list[Action]) -> bool:
    """IN-ROW: "inc 1 st at end of last row": the last of the rows before has this shaping; of "next row", a row more."""
    here = cur.at
    step = out[-1]
    if not isinstance(step, AtEdges | Evenly):
        return False
    said = _IN_ROW.take(cur)
    if said is None:
        return False
    words = {t.low for t in cur.tokens[here : cur.at]}
    span = step.span.cover(cur.span_from(here))
    one = Number(values=(1,), span=span)
    if "last" in words or "final" in words:
        before = out[-2] if len(out) > 1 else None
        if isinstance(before, WorkRows) and before.rows is not None and not before.alternate:
            fewer = tuple(None if v is None else max(0, v - 1) for v in before.rows.values)
            out[-2] = changed(before, rows=changed(before.rows, values=fewer))
    elif "next" not in words:
        cur.at = here
        return False
    out[-1] = WorkRows(body=(step,), rows=one, span=span)
    return True


def _tail(cur: Cursor) -> bool:
    """TAIL: "leaving a 20 cm tail for seaming", after a cast-on or a bind-off; taken."""
    n = until_mark(cur, 14, frozenset({"and"}))
    words = [cur.peek(i).low for i in range(n)]
    if not {"tail", "end", "ends", "thread"}.intersection(words) or {"sts", "stitches", "st"}.intersection(words):
        return False
    if words[0] == "with" and not {"long", "left"}.intersection(words):
        return False
    cur.at += n
    # 'leaving a 20" tail': the mark of inches stops no words
    if cur.peek().low == '"':
        cur.at += 1 + until_mark(cur, 8)
    return True


def _length_aside(cur: Cursor) -> bool:
    """LENGTH-ASIDE: "(11 inches)", "(about 5 cm)", what the work measures by then; taken."""
    here = cur.at
    end = aside_end(cur)
    if 0 < end <= here + 7:
        inside = cur.tokens[here + 1 : end - 1]
        lows = {t.low for t in inside}
        if lows & {"inches", "inch", "cm", "ins", "mm", '"'} and any(t.kind == "n" for t in inside):
            cur.at = end
            return True
    cur.at = here
    return False


def _always(cur: Cursor) -> bool:
    """ALWAYS: "slip the first st of every row": a rule for all rows, not a stitch of this one; nothing is taken."""
    if cur.peek().low not in {"slip", "sl", "slipping", "always", "knit", "keep", "keeping"}:
        return False
    n = until_mark(cur, 16)
    lows = [cur.peek(i).low for i in range(n)]
    return any(
        lows[i] in {"every", "each"} and lows[i + 1] in {"row", "round", "rnd"} and i and lows[i - 1] in {"of", "on", "in"}
        for i in range(n - 1)
    ) and bool({"st", "stitch", "sts", "stitches"}.intersection(lows))


_GROUNDS = frozenset(
    "garter stockinette stocking stockingette st stst seed moss rib ribbing double single reverse rev broken basketweave"
    " basket plain irish box woven fisherman half brioche linen twisted".split()
)


def _names_ground(cur: Cursor) -> bool:
    """Whether a fabric may be named here: by its own word, or as "k2, p2" where the line says rib."""
    t = cur.peek()
    if t.low in _GROUNDS:
        return True
    if t.kind != "n" and t.low not in {"k", "p", "(", "knit", "purl", "k1", "p1", "k2", "p2"}:
        return False
    rib = cur.kept.get("rib")
    if rib is None:
        rib = cur.kept["rib"] = any(x.low in {"rib", "ribbing"} for x in cur.tokens)
    return bool(rib)


def _same_row(out: list[Action], step: AtEdges | Evenly) -> bool:
    """SAME-ROW: "Knit 1 row, dec 4 sts evenly": the shaping is in that one row."""
    last = out[-1] if out else None
    if not isinstance(last, WorkRows) or last.rows is None or last.rows.values != (1,) or last.until is not None:
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
    if n is None or cur.take("st", "sts", "stitch", "stitches") is None or cur.peek().low not in {"", ",", ".", "(", ";", "["}:
        cur.at = here
        return False
    sign = -1 if t.low.startswith("dec") else 1
    signed = changed(n, values=tuple(None if v is None else v * sign for v in n.values))
    if not _same_row(out, Evenly(change=signed, span=cur.span_from(here))):
        cur.at = here
        return False
    return True


_CHANGES = frozenset("inc dec increasing decreasing increase decrease".split())


def _put(out: list[Action], got: tuple[Action, ...], since: int) -> None:
    """Add what was read; "Cont in patt, dec 1 st each end of ..." is shaping, and the pattern only its ground."""
    first = got[0]
    if isinstance(first, Shaping) and len(out) > since:
        ground = out[-1]
        if isinstance(ground, InPattern) and ground.count is None and ground.to is None:
            out[-1] = changed(first, span=ground.span.cover(first.span))
            out.extend(got[1:])
            return
        if isinstance(ground, InGround) and ground.count is None and ground.to is None:
            main = WorkRows(body=(ground,), span=ground.span)
            out[-1] = beside(main, got)  # type: ignore[arg-type]
            return
    out.extend(got)


def _bare_repeat(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """("repeat" | "rep") (UNTIL | HOW-OFTEN)?, with nothing said to be repeated: the steps before it, or the rows."""
    here = cur.at
    t = cur.take("repeat", "rep", "repeating")
    if t is None:
        return False
    cur.take(".") if t.low == "rep" and cur.peek().glued else None
    u = parse_until(cur, ctx)
    times = parse_times(cur, ctx) if u is None else None
    if u is None and times is None:
        cur.phrase("as desired|required|needed|often") or cur.phrase("as often as desired|required|needed")
    if u is None and times is None and cur.peek().low not in {"", ".", ";", ","}:
        cur.at = here
        return False
    said = times[1] if times is not None else Said.TIMES if u is not None else Said.OPEN
    number = times[0] if times is not None else None
    first = len(out)
    while first > 0 and not isinstance(out[first - 1], _STATEMENTS):
        first -= 1
    body = out[first:]
    turns = sum(isinstance(a, Turn) for a in body)
    span = cur.span_from(here)
    if not body or turns:
        back = turns + (not isinstance(body[-1], Turn)) if body else 0
        rows = RowSet(back=back, span=t.span) if back else RowSet(all=True, span=t.span)
        out.append(RepeatRows(rows=rows, times=number, said=said, until=u, span=span))
        return True
    span = body[0].span.cover(span)
    if u is not None:
        whole: Action = Repeat(body=tuple(body), said=Said.OPEN, mark="", star=True, span=span)  # type: ignore[arg-type]
        out[first:] = [WorkRows(body=(whole,), until=u, span=span)]  # type: ignore[arg-type]
    else:
        out[first:] = [Repeat(body=tuple(body), times=number, said=said, mark="", star=True, span=span)]  # type: ignore[arg-type]
    return True


def _again(cur: Cursor, ctx: Context, out: list[Action], since: int) -> bool:
    """What may only follow something: UNTIL after steps makes rows of them; "ending with a WS row" after
    rows.
    """
    here = cur.at
    if not out and cur.peek().low in {"until", "till"}:
        u = parse_until(cur, ctx)
        if u is not None:
            rows = RowSet(all=True, span=u.span)
            out.append(RepeatRows(rows=rows, until=u, span=u.span))
            return True
    cur.any_phrase(
        "in the? round|rounds",
        "back and forth",
        "forward and back",
        "backwards and forwards",
        "in rows",
        "alternately",
        "only",
    )
    skip(cur, ",")
    u = parse_until(cur, ctx)
    if u is None and out and isinstance(out[-1], InGround | InPattern):
        u = _plain_rows(cur, ctx)
    if u is not None and out:
        last = out[-1]
        if isinstance(last, Resume):
            rows = None if not _only_rows(u) else u.rows
            body_ = (InPattern(span=u.span),)
            out.append(WorkRows(body=body_, rows=rows, until=None if rows else u, span=u.span))
            return True
        if isinstance(last, (WorkRows, RepeatRows, Shaping)) and last.until is None and since == len(out):
            out[-1] = changed(last, until=u, span=last.span.cover(u.span))
            return True
        first = len(out)
        while first > since and not isinstance(out[first - 1], (*_STATEMENTS, *_NO_ROW)):
            first -= 1
        body = out[first:]
        if body:
            span = body[0].span
            for a in body:
                span = span.cover(a.span)
            out[first:] = [
                WorkRows(
                    body=tuple(body), until=None if _only_rows(u) else u, rows=u.rows, span=span.cover(u.span)
                )
            ]  # type: ignore[arg-type]
            return True
    cur.at = here
    ending = parse_ending(cur, ctx)
    if ending is not None:
        for i in range(len(out) - 1, -1, -1):
            last = out[i]
            if isinstance(last, AtSameTime):
                return True
            if isinstance(last, (WorkRows, RepeatRows, Shaping)):
                old = last.until or Until()
                u = changed(old, side=ending.side, worked=ending.worked, ending_row=ending.ending_row)
                out[i] = changed(last, until=u, span=last.span.cover(ending.span))
                return True
            if not isinstance(last, Note | Stated):
                break
    cur.at = here
    return False


def _plain_rows(cur: Cursor, ctx: Context) -> Until | None:
    """ROWS: "6 rows", straight after the name of a ground."""
    here = cur.at
    n = amount(cur, ctx)
    if n is None or not is_unit(cur.peek().low):
        cur.at = here
        return None
    cur.at += 1
    return Until(rows=n, span=cur.span_from(here))


def _only_rows(u: object) -> bool:
    return (
        getattr(u, "rows", None) is not None
        and getattr(u, "side", None) is None
        and getattr(u, "ending_row", None) is None
    )


def _beside(cur: Cursor, ctx: Context, out: list[Action], here: int) -> None:
    """SAME-TIME STATEMENT: it runs beside the statement before it, or beside what the lines before say."""
    at = cur.at
    got = _statement(cur, ctx)
    if got is None or not all(isinstance(a, _REPEATING) for a in got):
        cur.at = at
        return
    i = len(out) - 1
    while i >= 0 and isinstance(out[i], Note | Stated):
        i -= 1
    if i >= 0 and isinstance(out[i], _REPEATING):
        out[i] = beside(out[i], got)  # type: ignore[arg-type]
    else:
        out.append(AtSameTime(parts=got, span=cur.span_from(here)))  # type: ignore[arg-type]



def _note(cur: Cursor, here: int, text: str) -> Note:
    span = cur.span_from(here)
    return Note(words=text[span.start : span.end], span=span)


_STRONG = frozenset(
    "cast bind knit purl pearl repeat rep work turn slip join co bo k p decrease increase dec inc graft".split()
)


def _left_over(cur: Cursor, ctx: Context, out: list[Action], text: str) -> None:
    """The shortest stretch that nobody reads, up to the next mark or instruction: a note, or unread words
    and a finding.
    """
    here = cur.at
    end = aside_end(cur)
    if end > 0 and is_talk(cur.tokens[here:end]):
        cur.at = end
        out.append(_note(cur, here, text))
        return
    cur.at += 1
    while not cur.done and cur.peek().low not in _STOPS:
        if cur.peek().low in {"not", "never", "without", "don't"}:
            at = cur.at
            cur.at += until_mark(cur, 30)
            if cur.at > at:
                continue
        if cur.peek().low in _STRONG:
            at = cur.at
            got = _one(cur, ctx)
            if got is not None and cur.at > at:
                far = cur.at
                cur.at = at
                _skipped(cur, ctx, out, text, here)
                cur.at = far
                out.extend(got)
                return
            cur.at = at
        cur.at += 1
    _skipped(cur, ctx, out, text, here)


def _skipped(cur: Cursor, ctx: Context, out: list[Action], text: str, here: int) -> None:
    """The words from ``here`` to the cursor: a note if they are talk, else unread."""
    span = cur.span_from(here)
    words = text[span.start : span.end]
    if is_talk(cur.tokens[here : cur.at]) and not any(t.kind == "n" for t in cur.tokens[here : cur.at]):
        if words.strip("*()[]{}.,;:!?- "):
            out.append(_note(cur, here, text))
        return
    found = ctx.findings.findings
    last = out[-1] if out else None
    if isinstance(last, Unread) and last.span.end >= span.start - 2 and found and found[-1].span == last.span:
        span = last.span.cover(span)
        words = text[span.start : span.end]
        found.pop()
        out.pop()
    ctx.findings.report(NotRead(words), span)
    out.append(Unread(words=words, span=span))
