"""What the needles do besides stitches, put into words: turning, markers, holding, binding off, picking up.

In: step nodes. Out: "turn, leaving 4 sts unworked", "place next 14 sts on holder", "bind off 5 sts in patt".
Stitches and repeats are left to ``words_steps``.
"""

from __future__ import annotations

import re

from purlwright.pattern import tree
from purlwright.pattern.tree import TurnHow
from purlwright.pattern.words_names import Terms, stitch_words
from purlwright.pattern.words_numbers import many, number_words, sts

__all__ = [
    "at_edges",
    "bind_off",
    "cast_on",
    "drop",
    "edge_join",
    "edge_words",
    "evenly",
    "give_back",
    "hold",
    "marker",
    "pass_over",
    "pick_up",
    "resolve",
    "row_rule",
    "turn",
]

_ONE = (1,)
_LEADS = frozenset(
    "along around round from in on at across over down up for evenly between through to".split()
)


def turn(t: tree.Turn) -> str:
    """Says "turn", "w&t", "turn, leaving 4 sts unworked", "do not turn"."""
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


def marker(m: tree.Marker) -> str:
    """Says "pm", "slip marker A", "place red marker"."""
    act = {"place": "pm", "slip": "sm", "remove": "rm"}[m.act]
    words = f"{act} {m.name}" if m.name else act
    if m.name == "all" and m.act == "remove":
        return "remove all markers"
    if m.name:
        verb = {"place": "place", "slip": "slip", "remove": "remove"}[m.act]
        words = f"{verb} marker {m.name}" if len(m.name) == 1 else f"{verb} {m.name} marker"
    if m.after is not None:
        return f"place marker after {sts(m.after)}"
    if m.before_end is not None:
        return f"place marker before last {sts(m.before_end)}"
    return words


def hold(h: tree.Hold) -> str:
    """Says "place next 14 sts on holder", "place rem sts on waste yarn"."""
    where = h.place or "holder"
    if h.count is None:
        which = {
            "rest": "rem sts",
            "all": "all sts",
            "marker": "sts up to next marker",
            "sleeve": "sleeve sts",
        }.get(h.of, "sts")
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


def pick_up(p: tree.PickUp) -> str:
    """Says "pick up and knit 20 sts along left edge", "pick up and purl 3 sts for every 4 rows"."""
    words = {"knit": "pick up and knit", "purl": "pick up and purl", "lift": "pick up"}[p.how]
    words += f" {sts(p.count)}" if p.count is not None else ""
    if p.rate is not None:
        words += f" {p.rate[0]} sts for every {p.rate[1]} rows"
    if p.edge is None:
        return words
    led = p.edge.words.split(" ", 1)[0] in _LEADS
    return f"{words} {p.edge.words}" if led else f"{words} along {p.edge.words}"


def pass_over(p: tree.PassOver) -> str:
    """Says "pass st over", "pass 2 sts over"."""
    one = not many(p.count)
    words = "pass st over" if one else f"pass {sts(p.count)} over"
    return words if not many(p.over) else f"{words} last {sts(p.over)}"


_HOLDS = re.compile(r"\b(?:holders?|hold|yarn|needles?|pins?|thread|wool|cord)\b", re.IGNORECASE)


def give_back(r: tree.Return) -> str:
    """Says "return held sts to needle", "return 5 sts from holder to needle"."""
    count = sts(r.count) if r.count is not None else "sts"
    held = f"{number_words(r.count)} held {count.rsplit(' ', 1)[1]}" if r.count is not None else "held sts"
    if r.place and _HOLDS.search(r.place):
        return f"return {count} from {r.place} to needle"
    return f"return {held} of {r.place} to needle" if r.place else f"return {held} to needle"


def evenly(e: tree.Evenly, terms: Terms) -> str:
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


def resolve(r: tree.Resolve) -> str:
    """Says "working wraps together with their sts"."""
    if r.left:
        return "leaving wraps as they are"
    what = {
        None: "wraps", TurnHow.WRAP: "wraps", TurnHow.PLAIN: "wraps", TurnHow.DOUBLE: "double stitches",
        TurnHow.OVER: "yarn overs", TurnHow.PIN: "pinned loops", TurnHow.TWIN: "twin sts",
    }[r.how]  # fmt: skip
    return f"working {what} together with their sts"


def drop(d: tree.Drop) -> str:
    """Says "drop st", "drop 2 sts", "drop extra wrap"."""
    one = d.count.words is None and d.count.values == _ONE
    what = {"wrap": "extra wrap", "yo": "yo", "stitch": "st"}[d.what]
    return f"drop {what}" if one else f"drop {number_words(d.count)} {what}s"


def edge_join(j: tree.EdgeJoin, terms: Terms) -> str:
    """Says "k2tog last st with next st of edge", "join to the border at the end", "join as before"."""
    words = j.edge.words if j.edge is not None else ""
    if j.at == "here":
        verb = f"{stitch_words(j.stitch, terms)} " if j.stitch else ""
        tog = "" if j.stitch else "tog "
        live = "live " if j.live and words != "live" else ""
        if not words or words == "live":
            return f"{verb}last st {tog}with next {live or words + ' '}st"
        return f"{verb}last st {tog}with next {live}st of {words}"
    where = f"join to the {words}" if words else "join"
    return f"{where} at the {j.at}"


def row_rule(r: tree.RowRule) -> str:
    """Says "every other row is purled", "always slip the first st", "work the double overs as one st"."""
    if r.rule == "slip first":
        return "always slip the first st of each row"
    if r.rule == "double over":
        return "working the double overs as one st"
    fill = r.steps[0] if r.steps else None
    inner = fill.body[0] if isinstance(fill, tree.Fill) and fill.body else None
    if isinstance(fill, tree.InPattern):
        return "all even rows are worked as they appear"
    purl = isinstance(inner, tree.Work) and inner.stitch == "p"
    return f"every other row is {'purled' if purl else 'plain'}"
