"""Steps of a row put into words.

In: step nodes and the terms wanted. Out: the abbreviated words a designer would print: "k2, *yo, k2tog; rep
from * to last 3 sts, k3". Reading them gives the same steps again. Statements and labels are left to
``words_rows``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from purlwright.pattern import tree
from purlwright.pattern.tree import Said, TurnHow
from purlwright.pattern.words_numbers import many, number_words, place_words, sts, times_words
from purlwright.stitches.kinds import Loose, Stitch
from purlwright.stitches.load import dictionary, grounds

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Terms", "bind_off", "edge_words", "ground_words", "step_words", "steps_words", "stitch_words"]

Terms = Literal["US", "UK"]

_CLOSES = {"(": ")", "[": "]", "{": "}"}
_ONE = (1,)


def steps_words(steps: Iterable[tree.Action], terms: Terms = "US") -> str:
    """STEP ("," STEP)*: counts in brackets follow without a comma."""
    out = ""
    listed = tuple(steps)
    for step, after in zip(listed, (*listed[1:], None), strict=True):
        words = step_words(step, _over_before(step, after, terms))
        if not words:
            continue
        if not out:
            out = words
        elif isinstance(step, tree.Stated):
            out = f"{out} {words}"
        else:
            out = f"{out}, {words}"
    return out


def _over_before(step: tree.Action, after: tree.Action | None, terms: Terms) -> Terms:
    """UK "yfwd" before a slip or a turn only brings the yarn forward, so a yarn over there is "yo"."""
    over = isinstance(step, tree.Work) and step.stitch == "yo"
    slips = isinstance(after, tree.Turn) or (isinstance(after, tree.Work) and after.stitch.startswith("sl"))
    return "US" if over and slips else terms


def ground_words(key: str, terms: Terms) -> str:
    """The printed name of a ground: "garter st", "k2, p2 rib"."""
    ground = grounds().find(key)
    if ground is None:
        return key
    return ground.us if terms == "US" else ground.uk


def stitch_words(key: str, terms: Terms) -> str:
    """The abbreviation of one stitch of the dictionary; a key it does not have stands as it is."""
    stitch = dictionary().stitches.get(key)
    return key if stitch is None else _printed(stitch, terms)


def _printed(stitch: Stitch, terms: Terms) -> str:
    """The US or UK form; where the UK form has several meanings ("inc 1"), the US one, which has not.

    UK "yfwd" stays: what stands on either side tells which of its meanings it has.
    """
    if terms == "US" or stitch.uk == stitch.us:
        return stitch.us
    named = dictionary().find(stitch.uk)
    unclear = named is not None and named.key != stitch.key and bool(named.readings)
    return stitch.us if unclear and stitch.loose is not Loose.OVER else stitch.uk


def _work(w: tree.Work, terms: Terms) -> str:
    """Says "k4", "k2tog", "k2tog twice", "sl2 wyif", "k5 A"."""
    count = number_words(w.count)
    one = w.count.words is None and w.count.values == _ONE
    stitch = None if w.own else dictionary().stitches.get(w.stitch)
    name = w.stitch if stitch is None else _printed(stitch, terms)
    if stitch is not None and stitch.counted:
        first, _, rest = name.partition(" ")
        first = re.sub(r"\d+$", "", first)
        space = "" if first in {"k", "p", "sl"} else " "
        words = f"{first}{space}{count}" + (f" {rest}" if rest else "")
    elif one:
        words = name
    elif "," in name:
        words = f"({name}) {times_words(w.count)}"
    else:
        words = f"{name} {times_words(w.count)}"
    if w.yarn is not None:
        words += " wyif" if w.yarn == "front" else " wyib"
    return f"{words} {w.colour}" if w.colour else words


def _repeat(r: tree.Repeat, terms: Terms) -> str:
    body = steps_words(r.body, terms)
    if not r.star:
        mark = r.mark if r.mark in _CLOSES else "["
        group = f"{mark}{body}{_CLOSES[mark]}"
        if r.to is not None:
            return f"{group} {place_words(r.to)}"
        return f"{group} {_often(r.times, r.said)}" if r.times is not None else group
    mark = r.mark if set(r.mark) == {"*"} else "*"
    if r.said is Said.PAIR and r.times is None and r.to is None:
        return f"{mark}{body}{mark}"
    again = f"{mark}{body}; rep from {mark}"
    if r.to is not None:
        again = f"{again} {place_words(r.to)}"
    elif r.times is not None:
        again = f"{again} {_often(r.times, r.said)}"
    return f"{again}, ending" if r.cut else again


def _often(times: tree.Number, said: Said) -> str:
    """Says "3 times", "3 times more", "3 times in all"."""
    words = times_words(times)
    if said is Said.MORE:
        return f"{words} more"
    return f"{words} in all" if said is Said.IN_ALL else words


def _into(i: tree.Into, terms: Terms) -> str:
    """Says "(k1, yo, k1) in next st", "(k3tog, yo, k3tog) in same 3 sts"."""
    body = steps_words(i.steps, terms)
    if i.over > 1:
        return f"({body}) in same {i.over} sts"
    one = i.count.words is None and i.count.values == _ONE
    return f"({body}) in next st" if one else f"({body}) in each of next {sts(i.count)}"


def _turn(t: tree.Turn) -> str:
    if t.never:
        return "do not turn"
    if t.slide:
        return "slide sts to other end of needle"
    words = {
        TurnHow.PLAIN: "turn",
        TurnHow.WRAP: "w&t",
        TurnHow.DOUBLE: "turn and make a double stitch",
        TurnHow.OVER: "turn, yo",
        TurnHow.PIN: "pin and turn",
        TurnHow.TWIN: "turn and make a twin st",
    }[t.how]
    return words if t.leave is None else f"{words}, leaving {sts(t.leave)} unworked"


def _marker(m: tree.Marker) -> str:
    act = {"place": "pm", "slip": "sm", "remove": "rm"}[m.act]
    words = f"{act} {m.name}" if m.name else act
    if m.name:
        verb = {"place": "place", "slip": "slip", "remove": "remove"}[m.act]
        words = f"{verb} marker {m.name}" if len(m.name) == 1 else f"{verb} {m.name} marker"
    if m.after is not None:
        return f"place marker after {sts(m.after)}"
    if m.before_end is not None:
        return f"place marker before last {sts(m.before_end)}"
    return words


def _hold(h: tree.Hold) -> str:
    """Says "place next 14 sts on holder", "place rem sts on waste yarn"."""
    where = h.place or "holder"
    if h.count is None:
        which = {"rest": "rem sts", "all": "all sts"}.get(h.of, "sts")
        return f"place {which} on {where}"
    which = {"next": "next ", "first": "first ", "last": "last ", "worked": "the "}.get(h.of, "")
    just = " just worked" if h.of == "worked" else ""
    return f"place {which}{sts(h.count)}{just} on {where}"


def bind_off(b: tree.BindOff, terms: Terms) -> str:
    """Says "BO 5 sts", "cast off all sts in patt", "BO 6 sts at each end"."""
    verb = "bind off" if terms == "US" else "cast off"
    if b.keep is not None:
        words = f"{verb} all but {sts(b.keep)}"
    elif b.count is None:
        words = f"{verb} all sts"
    else:
        words = f"{verb} {sts(b.count)}"
    if b.how:
        words += " in patt" if b.how == "pattern" else f" {b.how}"
    at = {
        "here": "", "beginning": " at beg of row", "end": " at end of row", "each end": " at each end",
        "neck edge": " at neck edge", "armhole edge": " at armhole edge",
    }[b.at]  # fmt: skip
    if b.manner:
        words += f" using the {stitch_words(b.manner, terms).lower()} method"
    return words + at


def cast_on(c: tree.CastOn, terms: Terms) -> str:
    """Says "cast on 36 sts", "cast on 36 sts provisionally", "cast on a multiple of 8 sts plus 2"."""
    del terms
    if c.count is not None:
        words = f"cast on {sts(c.count)}"
        if c.each > 1:
            words += f" on each of {c.each} needles"
    elif c.multiple is not None:
        words = f"cast on a multiple of {sts(c.multiple)}"
        if c.plus is not None:
            words += f" plus {number_words(c.plus)}"
    else:
        words = "cast on"
    if c.provisional:
        words += " provisionally"
    if c.method and not (c.provisional and c.method == "provisional"):
        words += f" using the {c.method}"
    at = {
        "start": "",
        "here": "",
        "end": " at end of row",
        "beginning": " at beg of row",
        "gap": " over bound-off sts",
    }
    words += at[c.at]
    return f"{words}; this counts as a row" if c.counts_row else words


def edge_words(edge: tree.Edge | None) -> str:
    """The designer's words for an edge."""
    return "" if edge is None else edge.words


def _pick_up(p: tree.PickUp) -> str:
    """Says "pick up and knit 20 sts along left edge", "pick up and purl 3 sts for every 4 rows"."""
    words = {"knit": "pick up and knit", "purl": "pick up and purl", "lift": "pick up"}[p.how]
    words += f" {sts(p.count)}" if p.count is not None else ""
    if p.rate is not None:
        words += f" {p.rate[0]} sts for every {p.rate[1]} rows"
    if p.edge is None:
        return words
    led = p.edge.words.split(" ", 1)[0] in _LEADS
    return f"{words} {p.edge.words}" if led else f"{words} along {p.edge.words}"


_LEADS = frozenset(
    "along around round from in on at across over down up for evenly between through to".split()
)


def _pass_over(p: tree.PassOver) -> str:
    """Says "pass st over", "pass 2 sts over"."""
    one = not many(p.count)
    words = "pass st over" if one else f"pass {sts(p.count)} over"
    return words if not many(p.over) else f"{words} last {sts(p.over)}"


def _return(r: tree.Return) -> str:
    """Says "return held sts to needle", "return 5 sts from holder to needle"."""
    count = sts(r.count) if r.count is not None else "sts"
    if r.place:
        return f"return {count} from {r.place} to needle"
    held = f"{number_words(r.count)} held {count.rsplit(' ', 1)[1]}" if r.count is not None else "held sts"
    return f"return {held} to needle"


def _evenly(e: tree.Evenly, terms: Terms) -> str:
    """Says "dec 8 sts evenly across", "inc evenly to 40 sts"."""
    del terms
    if e.total is not None:
        return f"inc evenly to {sts(e.total)}"
    if e.change is None:
        return "inc evenly"
    down = any(v is not None and v < 0 for v in e.change.values)
    size = tree.Number(values=tuple(None if v is None else abs(v) for v in e.change.values))
    over = f"over next {sts(e.over)}" if e.over is not None else "across"
    return f"{'dec' if down else 'inc'} {sts(size)} evenly {over}"


def at_edges(a: tree.AtEdges, terms: Terms) -> str:
    """Says "dec 1 st each end", "inc 1 st at beg of row"."""
    verb = "inc" if a.change > 0 else "dec"
    where = {
        "each end": "each end", "beginning": "at beg", "end": "at end", "neck edge": "at neck edge",
        "armhole edge": "at armhole edge", "each side of marker": "each side of marker",
        "centre": "at centre",
    }[a.where]  # fmt: skip
    words = f"{verb} {sts(a.count)} {where}"
    if a.inside is not None:
        words += f", {number_words(a.inside)} sts in from edge"
    if a.stitch:
        words += f" using {stitch_words(a.stitch, terms)}"
    return words


def _in_ground(g: tree.InGround, terms: Terms) -> str:
    name = ground_words(g.ground, terms)
    if g.count is not None:
        return f"work {sts(g.count)} in {name}"
    return f"work in {name} {place_words(g.to)}" if g.to is not None else f"work in {name}"


def _in_pattern(p: tree.InPattern) -> str:
    if p.how == "as they appear":
        return "work sts as they appear"
    if p.count is not None:
        return f"work {sts(p.count)} in patt"
    return f"work in patt {place_words(p.to)}" if p.to is not None else "work in patt"


def _cross(c: tree.Cross, terms: Terms) -> str:
    """Says "sl 3 sts to cn, hold in front, k3, k3 from cn"."""
    where = "in front" if c.front else "in back"
    first, second = steps_words(c.first, terms), steps_words(c.second, terms)
    return f"sl {sts(c.held)} to cn, hold {where}, {first}, {second} from cn"


def _call(c: tree.Call) -> str:
    """Says "work row 3 of Chart A over next 12 sts"."""
    words = f"work row {number_words(c.row)} of {c.name}" if c.row is not None else f"work {c.name}"
    if c.over is not None:
        words += f" over next {sts(c.over)}"
    return words + (f" {place_words(c.to)}" if c.to is not None else "")


def _row_ref(r: tree.RowRef) -> str:
    if r.name:
        return f"as {r.name}"
    unit = "rnd" if r.unit is tree.Unit.ROUND else "row"
    return f"as {unit} {r.number}"


def stated_words(s: tree.Stated) -> str:
    """Says "(24 sts)", "(2 sts dec)", "(4 sts unworked)"."""
    about = "about " if s.approximate else ""
    if s.change is not None:
        down = any(v is not None and v < 0 for v in s.change.values)
        size = tree.Number(values=tuple(None if v is None else abs(v) for v in s.change.values))
        return f"({about}{sts(size)} {'dec' if down else 'inc'})"
    if s.parts and s.total is not None:
        return f"[{' + '.join(number_words(p) for p in s.parts)} = {number_words(s.total)}]"
    if s.total is None:
        return ""
    tail = {
        "total": "", "change": "", "unworked": " unworked", "part": " each side", "bound off": " bound off",
        "held": " on hold",
    }[s.kind]  # fmt: skip
    return f"({about}{sts(s.total)}{tail})"


def _drop(d: tree.Drop) -> str:
    one = d.count.words is None and d.count.values == _ONE
    what = {"wrap": "extra wrap", "yo": "yo", "stitch": "st"}[d.what]
    return f"drop {what}" if one else f"drop {number_words(d.count)} {what}s"


def _fill(f: tree.Fill, terms: Terms) -> str:
    """Says "k to end", "p to last 3 sts", "k2, p2 to m"."""
    body = f.body
    if len(body) == 1 and isinstance(body[0], tree.Work) and body[0].count.values == _ONE:
        w = body[0]
        name = w.stitch if w.own else stitch_words(w.stitch, terms)
        colour = f" {w.colour}" if w.colour else ""
        return f"{name} {place_words(f.to)}{colour}"
    return f"{steps_words(body, terms)} {place_words(f.to)}"


def step_words(step: tree.Action, terms: Terms = "US") -> str:
    """One step in words. Nodes that are no steps are left to ``words_rows``, and give ""."""
    match step:
        case tree.Work():
            return _work(step, terms)
        case tree.Fill():
            return _fill(step, terms)
        case tree.InGround():
            return _in_ground(step, terms)
        case tree.InPattern():
            return _in_pattern(step)
        case tree.Repeat():
            return _repeat(step, terms)
        case tree.Into():
            return _into(step, terms)
        case tree.Cross():
            return _cross(step, terms)
        case tree.PassOver():
            return _pass_over(step)
        case tree.SlipBack():
            return f"sl {sts(step.count)} back to left needle"
        case tree.Drop():
            return _drop(step)
        case tree.Wrap():
            return "wrap next st" if not many(step.count) else f"wrap next {sts(step.count)}"
        case tree.Turn():
            return _turn(step)
        case tree.Resolve():
            return _resolve(step)
        case tree.Marker():
            return _marker(step)
        case tree.YarnTo():
            return f"yarn to {'front' if step.front else 'back'} between needles"
        case tree.Yarn():
            verb = {"use": "with", "join": "join", "break": "break"}[step.act]
            return f"{verb} {step.colour or 'yarn'}"
        case tree.Hold():
            return _hold(step)
        case tree.Return():
            return _return(step)
        case tree.BindOff():
            return bind_off(step, terms)
        case tree.CastOn():
            return cast_on(step, terms)
        case tree.PickUp():
            return _pick_up(step)
        case tree.Evenly():
            return _evenly(step, terms)
        case tree.AtEdges():
            return at_edges(step, terms)
        case tree.RowRef():
            return _row_ref(step)
        case tree.Call():
            return _call(step)
        case tree.Choice():
            return steps_words(step.readings[0], terms) if step.readings else ""
        case tree.Stated():
            return stated_words(step)
        case tree.Note() | tree.Unread():
            return step.words
        case _:
            return ""


def _resolve(r: tree.Resolve) -> str:
    if r.left:
        return "leaving wraps as they are"
    what = {
        None: "wraps", TurnHow.WRAP: "wraps", TurnHow.PLAIN: "wraps", TurnHow.DOUBLE: "double stitches",
        TurnHow.OVER: "yarn overs", TurnHow.PIN: "pinned loops", TurnHow.TWIN: "twin sts",
    }[r.how]  # fmt: skip
    return f"working {what} together with their sts"
