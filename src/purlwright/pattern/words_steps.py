"""Steps of a row put into words.

In: step nodes and the terms wanted. Out: the abbreviated words a designer would print: "k2, *yo, k2tog; rep
from * to last 3 sts, k3". Reading them gives the same steps again. Statements and labels are left to
``words_rows``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.pattern import tree
from purlwright.pattern.tree import Said
from purlwright.pattern.words_moves import (
    at_edges,
    bind_off,
    cast_on,
    drop,
    edge_join,
    evenly,
    give_back,
    hold,
    marker,
    pass_over,
    pick_up,
    resolve,
    row_rule,
    turn,
)
from purlwright.pattern.words_names import Terms, ground_words, printed, stitch_words
from purlwright.pattern.words_numbers import many, number_words, ordinal_words, place_words, sts, times_words
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["stated_words", "step_words", "steps_words"]

_CLOSES = {"(": ")", "[": "]", "{": "}"}
_ONE = (1,)


def steps_words(steps: Iterable[tree.Action], terms: Terms = "US") -> str:
    """STEP ("," STEP)*: counts in brackets follow without a comma."""
    out = ""
    listed = tuple(steps)
    for n, step in enumerate(listed):
        after = listed[n + 1] if n + 1 < len(listed) else None
        before = listed[n - 1] if n else None
        if isinstance(before, tree.Return) and before.if_held and isinstance(step, tree.Work):
            words = f"{step.stitch} across the {number_words(step.count)} {before.place} sts"
        elif isinstance(step, tree.Return) and step.if_held:
            continue
        else:
            words = step_words(step, _over_before(step, after, terms))
        if not words:
            continue
        if not out:
            out = words
        elif isinstance(step, tree.Stated) or out.endswith(" ending"):
            out = f"{out} {words}"
        else:
            out = f"{out}, {words}"
    return out


def _over_before(step: tree.Action, after: tree.Action | None, terms: Terms) -> Terms:
    """UK "yfwd" before a slip, wrap or turn only brings the yarn forward: a yarn over there is "yo"."""
    over = isinstance(step, tree.Work) and step.stitch == "yo"
    slips = isinstance(after, tree.Turn | tree.Wrap | tree.Cross | tree.SlipBack) or (
        isinstance(after, tree.Work) and after.stitch.startswith("sl")
    )
    return "US" if over and slips else terms


def _work(w: tree.Work, terms: Terms) -> str:
    """Says "k4", "k2tog", "k2tog twice", "sl2 wyif", "k5 A"."""
    count = number_words(w.count)
    one = w.count.words is None and w.count.values == _ONE
    stitch = None if w.own else dictionary().stitches.get(w.stitch)
    name = w.stitch if stitch is None else printed(stitch, terms)
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
    words += _yarn(w)
    return f"{words} {w.colour}" if w.colour else words


def _yarn(w: tree.Work) -> str:
    return "" if w.yarn is None else " wyif" if w.yarn == "front" else " wyib"


def _by_slip(b: tree.BySlip, terms: Terms) -> str:
    """Says "knit the knits, purl the purls, sl the slipped sts wyif", "k the others, p the slipped sts"."""
    others = "knit the knits, purl the purls"
    if b.others is not None:
        others = f"{stitch_words(b.others.stitch, terms)} the others"
    name, _, kind = stitch_words(b.slipped.stitch, terms).partition(" ")
    words = f"{others}, {name} the slipped sts{kind and ' '}{kind}{_yarn(b.slipped)}"
    return words if b.to is None else f"{words} {place_words(b.to)}"


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
    if p.how in {"even", "rib"} and p.to is None:
        return f"work {'in ' if p.how == 'rib' else ''}{p.how}"
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
    unit = "rnd" if r.unit is tree.Unit.ROUND else "row"
    return f"as {r.name or f'{unit} {r.number}'}" + (f" {place_words(r.to)}" if r.to is not None else "")


def stated_words(s: tree.Stated) -> str:
    """Says "(24 sts)", "(2 sts dec)", "(4 sts unworked)"."""
    about = "about " if s.approximate else ""
    if s.change is not None:
        down = any(v is not None and v < 0 for v in s.change.values)
        size = tree.Number(values=tuple(None if v is None else abs(v) for v in s.change.values))
        return f"({about}{sts(size)} {'dec' if down else 'inc'})"
    if s.parts and s.total is not None:
        return f"[{' + '.join(number_words(p) for p in s.parts)} = {number_words(s.total)}]"
    if s.kind == "lines":
        each = [f"{number_words(n)} times" for n in s.parts]
        nth = [ordinal_words(i + 1) for i in range(len(each))]
        told = each[:1] if len(each) == 1 else [f"{n} the {o}" for n, o in zip(each, nth, strict=True)]
        return f"the sts between the lines are worked {', '.join(told)}"
    if s.kind == "repeat" and s.parts:
        return f"({sts(s.parts[0])} to a pattern)"
    if s.between is not None:
        between = f"{sts(s.between)} between markers"
        return f"({about}{between})" if s.total is None else f"({sts(s.total)}, {between})"
    if s.total is None:
        return ""
    tail = {
        "total": "", "change": "", "unworked": " unworked", "part": " each side",
        "bound off": " bound off", "held": " on hold", "repeat": "", "lines": "", "rows": " rows worked",
    }[s.kind]  # fmt: skip
    return f"({about}{sts(s.total)}{tail})"


def _fill(f: tree.Fill, terms: Terms) -> str:
    """Says "k to end", "p to last 3 sts", "k2, p2 to m"."""
    body = f.body
    if len(body) == 1 and isinstance(body[0], tree.Work) and body[0].count.values == _ONE:
        w = body[0]
        name = w.stitch if w.own else stitch_words(w.stitch, terms)
        colour = f" {w.colour}" if w.colour else ""
        if f.to.kind is tree.PlaceKind.SLIPPED:
            return f"{name} the slipped sts{_yarn(w)}"
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
        case tree.BySlip():
            return _by_slip(step, terms)
        case tree.Repeat():
            return _repeat(step, terms)
        case tree.Into():
            return _into(step, terms)
        case tree.Cross():
            return _cross(step, terms)
        case tree.PassOver():
            return pass_over(step)
        case tree.SlipBack():
            return f"sl {sts(step.count)} back to left needle"
        case tree.Drop():
            return drop(step)
        case tree.Wrap():
            return "wrap next st" if not many(step.count) else f"wrap next {sts(step.count)}"
        case tree.Turn():
            return turn(step)
        case tree.Resolve():
            return resolve(step)
        case tree.EdgeJoin():
            return edge_join(step, terms)
        case tree.RowRule():
            return row_rule(step)
        case tree.Marker():
            return marker(step)
        case tree.YarnTo():
            return f"yarn to {'front' if step.front else 'back'} between needles"
        case tree.Yarn():
            verb = {"use": "with", "join": "join", "break": "break"}[step.act]
            return f"{verb} {step.colour or ('the working yarn' if step.act == 'use' else 'yarn')}"
        case tree.Hold():
            return hold(step)
        case tree.Return():
            return give_back(step)
        case tree.BindOff():
            return bind_off(step, terms)
        case tree.CastOn():
            return cast_on(step, terms)
        case tree.PickUp():
            return pick_up(step)
        case tree.Evenly():
            return evenly(step, terms)
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
