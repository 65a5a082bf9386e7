"""Labels, statements and whole lines put into words.

In: nodes of the tree and the terms wanted. Out: "Row 5 (WS): P3, k to end. (24 sts)", "Rep rows 1-4 twice
more." Steps are left to ``words_steps``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern import tree
from purlwright.pattern.tree import Said, Side, Unit
from purlwright.pattern.words_moves import edge_words
from purlwright.pattern.words_names import Terms
from purlwright.pattern.words_numbers import (
    count_of,
    length_words,
    number_words,
    ordinal_words,
    sts,
    times_words,
)
from purlwright.pattern.words_steps import step_words, steps_words

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["action_words", "label_words", "line_words", "statement_words"]


# --- labels --------------------------------------------------------------------------------------


def _numbers(numbers: Sequence[int]) -> str:
    """Says "5", "1-4", "1, 3 and 5"."""
    if len(numbers) == 1:
        return str(numbers[0])
    if len(numbers) > 2 and list(numbers) == list(range(numbers[0], numbers[-1] + 1)):
        return f"{numbers[0]}-{numbers[-1]}"
    return f"{', '.join(str(n) for n in numbers[:-1])} and {numbers[-1]}"


def _unit(unit: Unit | None, *, more: bool) -> str:
    word = "Rnd" if unit is Unit.ROUND else "Row"
    return f"{word}s" if more else word


def label_words(label: tree.Label) -> str:
    """The label without its colon: "Rows 1-4", "Next row (RS)", "Dec rnd 2", "All WS rows"."""
    side = f" ({label.side})" if label.side is not None and label.side != label.rule else ""
    if label.colour:
        side = f" ({label.side}, {label.colour})" if label.side is not None else f" ({label.colour})"
    if label.next is not None:
        if label.next.values == (1,):
            return f"Next {_unit(label.unit, more=False).lower()}{side}"
        return f"Next {number_words(label.next)} {_unit(label.unit, more=True).lower()}{side}"
    if label.rule is not None:
        return _rule(label) + side
    if label.numbers:
        return f"{_unit(label.unit, more=len(label.numbers) > 1)} {_numbers(label.numbers)}{side}"
    if label.name:
        return label.name[0].upper() + label.name[1:] + side
    return f"{label.side}" if label.side is not None else label.words


def _rule(label: tree.Label) -> str:
    rows = _unit(label.unit, more=True).lower()
    row = _unit(label.unit, more=False).lower()
    kind = {
        "WS": f"all WS {rows}", "RS": f"all RS {rows}", "even": f"all even {rows}", "odd": f"all odd {rows}",
        "alternate": f"every alternate {row}",
    }[label.rule or "WS"]  # fmt: skip
    to = f" to {label.rule_to}" if label.rule_to is not None else ""
    if label.numbers:
        return f"{_unit(label.unit, more=len(label.numbers) > 1)} {_numbers(label.numbers)} and {kind}{to}"
    return kind[0].upper() + kind[1:] + to


# --- statements ----------------------------------------------------------------------------------


def _rows(n: tree.Number, unit: Unit | None) -> str:
    return count_of(n, "rnd", "rnds") if unit is Unit.ROUND else count_of(n, "row", "rows")


def _until(u: tree.Until) -> str:
    """Says "until it measures 10 cm", "until there are 12 sts", "ending with a WS row"."""
    out = ""
    if u.length is not None:
        length = length_words(u.length)
        if u.since.startswith("start of "):
            out = f"until {u.since.removeprefix('start of ')} measures {length}"
        elif u.length.values and (u.since or u.length.less):
            out = f"until it measures {length}" + (f" from {u.since}" if u.since else "")
        elif u.length.values:
            out = f"for {length}"
        else:
            out = f"until {length}" + (f" from {u.since}" if u.since else "")
    elif u.stitches is not None:
        out = f"until {sts(u.stitches)} {u.things}" if u.things else f"until there are {sts(u.stitches)}"
    elif u.rows is not None:
        out = f"until {number_words(u.rows)} rows have been worked"
    elif u.times is not None:
        out = f"until {number_words(u.times)} {u.things or 'repeats'} are done"
    ending = ""
    if u.side is not None:
        ending = f"ending with a {u.side} row"
    elif u.ending_row is not None and not out:
        ending = f"until row {u.ending_row} is worked"
    elif u.ending_row is not None:
        ending = f"ending with row {u.ending_row}"
    elif u.edge:
        ending = f"ending at {u.edge}"
    return ", ".join(x for x in (out, ending) if x)


def _often(times: tree.Number | None, said: Said) -> str:
    if times is None:
        return ""
    words = times_words(times)
    if said is Said.MORE:
        return f"{words} more"
    return f"{words} in all" if said is Said.IN_ALL else words


def _whole_row(body: Sequence[tree.Action], terms: Terms) -> str | None:
    """Says "knit", "purl", for a row that is one stitch from end to end."""
    if len(body) != 1 or not isinstance(body[0], tree.Fill):
        return None
    fill = body[0]
    if fill.to.kind is not tree.PlaceKind.END or fill.to.before is not None or len(fill.body) != 1:
        return None
    w = fill.body[0]
    if not isinstance(w, tree.Work) or w.own or w.colour or w.count.values != (1,):
        return None
    del terms
    return {"k": "knit", "p": "purl"}.get(w.stitch)


_SLIDE = tree.Turn(slide=True)


def _in_what(body: tuple[tree.Step, ...], terms: Terms) -> str:
    """What rows are worked in: "in garter st", "even", or the row's own steps."""
    if len(body) == 1:
        step = body[0]
        if isinstance(step, tree.InGround) and step.count is None and step.to is None:
            return step_words(step, terms).removeprefix("work ")
        if isinstance(step, tree.InPattern) and step.count is None and step.to is None:
            return {"even": "even", "rib": "in rib"}.get(step.how, "in patt")
        if isinstance(step, tree.Call) and step.row is None and step.over is None and step.to is None:
            return f"in {step.name}"
    if len(body) == 2 and _whole_row(body[:1], terms) == "knit" and tree.bare(body[1]) == _SLIDE:
        return "in i-cord"
    return f"as follows: {steps_words(body, terms)}"


def _work_rows(w: tree.WorkRows, terms: Terms) -> str:
    """Says "knit 6 rows", "work 10 rnds in k2, p2 rib", "work in garter st until it measures 10 cm"."""
    until = _until(w.until) if w.until is not None else ""
    whole = _whole_row(w.body, terms)
    if w.alternate:
        pairs = " and ".join(
            f"{_whole_row(b, terms) or steps_words(b, terms)} 1 {'rnd' if w.unit is Unit.ROUND else 'row'}"
            for b in w.alternate
        )
        words = f"{pairs} alternately"
        if w.rows is not None:
            words = f"{words} for {_rows(w.rows, w.unit)}"
    elif w.rows is not None:
        rows = _rows(w.rows, w.unit)
        in_what = _in_what(w.body, terms)
        if len(w.body) == 1 and isinstance(w.body[0], tree.Call) and in_what.startswith("in "):
            words = f"work {rows} of {in_what[3:]}" if w.unit is not None else f"work {in_what} for {rows}"
        else:
            words = f"{whole} {rows}" if whole else f"work {rows} {in_what}"
    elif whole:
        words = f"{whole} every {'rnd' if w.unit is Unit.ROUND else 'row'}" if until else whole
    else:
        words = f"work {_in_what(w.body, terms)}" if w.body else "work"
    words += _between(w.between)
    return f"{words} {until}" if until else words.rstrip(",")


def _row_set(r: tree.RowSet) -> str:
    row = "rnd" if r.unit is Unit.ROUND else "row"
    if r.back is not None:
        return f"last {row}" if r.back == 1 else f"last {r.back} {row}s"
    if r.names:
        return " and ".join(r.names)
    if r.numbers:
        of = f" of {r.section}" if r.section else ""
        return f"{row}s {_numbers(r.numbers)}{of}" if len(r.numbers) > 1 else f"{row} {r.numbers[0]}{of}"
    if r.first is not None:
        of = f" of {r.section}" if r.section else ""
        if r.last is None or r.last == r.first:
            return f"{row} {r.first}{of}"
        return f"{row}s {r.first}-{r.last}{of}"
    if r.section:
        return r.section
    return f"these {row}s"


def _repeat_rows(r: tree.RepeatRows) -> str:
    """Says "rep rows 1-4 five times more", "rows 1-4 form patt"."""
    rows = _row_set(r.rows)
    if r.rows.section and r.rows.all and r.rows.mirrored:
        to = f" to {r.until.things}" if r.until is not None and r.until.things else ""
        return f"work as for {r.rows.section}{to}, reversing shaping"
    if r.define:
        return f"{rows} form patt"
    if r.rows.first is not None and r.rows.last is None and r.rows.section is None:
        rows = f"from {rows}"
    often = "for patt" if r.said is Said.OPEN and r.until is None else _often(r.times, r.said)
    parts = [f"rep {rows}", often, _between(r.between), _until(r.until) if r.until is not None else ""]
    return " ".join(p for p in parts if p).replace(" ,", ",").rstrip(",")


def _between(by: int) -> str:
    """Says ", with 1 st fewer between decreases each time,"; "" where nothing changes."""
    if not by:
        return ""
    what = "fewer between decreases" if by < 0 else "more between increases"
    return f", with {abs(by)} st{'s' if abs(by) > 1 else ''} {what} each time,"


def _shaping(s: tree.Shaping, terms: Terms) -> str:
    """Says "dec 1 st each end of next and every foll 4th row 5 times"."""
    row = "rnd" if s.unit is Unit.ROUND else "row"
    side = f"{s.side} " if s.side is not None else ""
    if len(s.steps) == 1 and isinstance(s.steps[0], (tree.BindOff, tree.CastOn)) and s.every.values == (1,):
        rows = f"next {_rows(s.times, s.unit)}" if s.times is not None else f"every {row}"
        return f"{steps_words(s.steps, terms).removesuffix(' of row')} of {rows}"
    what = f"work {s.row.name or f'row {s.row.number}'}" if s.row is not None else steps_words(s.steps, terms)
    joint = " on" if s.row is not None or not s.steps or not isinstance(s.steps[-1], tree.AtEdges) else " of"
    every = s.every.values[0] if len(s.every.values) == 1 else None
    if s.length is not None:
        when = f"every {length_words(s.length)}"
        joint = ""
    elif every == 1 or (s.side is not None and every == 2):  # every right-side row is every second row
        when = f"every {side}{row}"
    elif every is not None:
        when = f"every {'alt' if every == 2 else ordinal_words(every)} {side}{row}"
    else:
        when = f"every {number_words(s.every)}th {row}"
    if s.start == "next" and s.length is None:
        when = f"next and {when.replace('every ', 'every foll ', 1)}"
    often = _often(s.times, s.said)
    until = _until(s.until) if s.until is not None else ""
    parts = (f"{what}{joint}", when, often, _between(s.between), until)
    return " ".join(p for p in parts if p).replace(" ,", ",").rstrip(",")


def statement_words(s: tree.Statement, terms: Terms = "US") -> str:
    """One statement in words."""
    match s:
        case tree.WorkRows():
            return _work_rows(s, terms)
        case tree.RepeatRows():
            return _repeat_rows(s)
        case tree.Shaping():
            return _shaping(s, terms)
        case tree.AtSameTime():
            return ", AT THE SAME TIME ".join(statement_words(p, terms) for p in s.parts)
        case tree.JoinRound():
            return "join in the round"
        case tree.Arrange():
            return _arrange(s)
        case tree.Again():
            return _again(s, terms)
        case tree.Rejoin():
            return _rejoin(s)
        case tree.Resume():
            return _resume(s)
        case tree.Close():
            return _close(s, terms)
        case tree.Gather():
            rest = f"rem {sts(s.stated)}" if s.stated is not None else "rem sts"
            return f"break yarn, draw through {rest} and fasten off"


def _arrange(a: tree.Arrange) -> str:
    """Says "divide sts on 3 needles, 16-18-16", "divide sts on 4 needles"."""
    on = f" on {number_words(a.count)} needles" if a.count is not None else " on needles"
    each = "-".join(number_words(n) for n in a.needles)
    return f"divide sts{on}, {each}" if each else f"divide sts{on}"


def _again(a: tree.Again, terms: Terms) -> str:
    """Says "[knit 5 rnds, work dec rnd] 4 times", "*knit 5 rows, purl 1 row; rep from * twice more"."""
    body = ", ".join(action_words(b, terms) for b in a.body)
    often = _often(a.times, a.said)
    until = _until(a.until) if a.until is not None else ""
    group = f"*{body}; rep from *" if a.star else f"[{body}]"
    return " ".join(p for p in (group, often, until) if p)


def _rejoin(r: tree.Rejoin) -> str:
    side = f"with {r.side} facing, " if r.side is not None else ""
    yarn = r.colour or "yarn"
    return f"{side}rejoin {yarn} to {r.place}" if r.place else f"{side}rejoin {yarn}"


def _resume(r: tree.Resume) -> str:
    if r.here:
        return "the rnd now begins here"
    over = _over(r)
    if r.flat is not None or over:
        way = "back and forth" if over else "back and forth in rows"
        return f"work {way if r.flat else 'in the round' if r.flat is False else ''} {over}".replace(
            "  ", " "
        ).rstrip()
    if r.row is not None:
        return f"starting with row {r.row}"
    return f"beginning with a {r.side or Side.RS} row"


def _over(r: tree.Resume) -> str:
    """Over which stitches: "on these 24 sts only"."""
    if r.part == "":
        return ""
    if r.part == "half":
        return "over half the sts"
    count = f"{number_words(r.over)} " if r.over is not None else ""
    return f"on {'these' if r.part == 'these' else f'the {r.part}'} {count}sts only"


def _close(c: tree.Close, terms: Terms) -> str:
    verb = {"graft": "graft", "seam": "sew", "three-needle": "join"}[c.how]
    words = verb
    if c.a is not None:
        words += f" {edge_words(c.a)}"
    if c.b is not None:
        words += f" to {edge_words(c.b)}"
    if c.a is None and c.b is None and c.how == "seam":
        words += " seam"
    if c.how == "three-needle":
        words += f" with three-needle {'bind-off' if terms == 'US' else 'cast-off'}"
    elif c.manner:
        words += f" in {c.manner}" if c.how == "graft" else f" using {c.manner}"
    return words


# --- whole lines ---------------------------------------------------------------------------------

_STEPS = (
    tree.Work, tree.Fill, tree.InGround, tree.InPattern, tree.BySlip, tree.Repeat, tree.Into, tree.Cross,
    tree.PassOver, tree.SlipBack, tree.Drop, tree.Wrap, tree.Turn, tree.Resolve, tree.Marker,
    tree.YarnTo, tree.Yarn, tree.Hold, tree.Return, tree.BindOff, tree.CastOn, tree.PickUp, tree.Evenly,
    tree.AtEdges, tree.RowRef, tree.Call, tree.Choice,
)  # fmt: skip


def action_words(action: tree.Action, terms: Terms = "US") -> str:
    """A step or a statement in words."""
    return step_words(action, terms) or statement_words(action, terms)  # type: ignore[arg-type]


def actions_words(actions: Sequence[tree.Action], terms: Terms = "US", *, labelled: bool = True) -> str:
    """Sentences: steps joined by commas, each statement and note its own sentence, counts in brackets after a
    stop.

    A row that is one stitch from end to end is "Knit." or "Purl.".
    """
    whole = (
        _whole_row(tuple(a for a in actions if not isinstance(a, tree.Stated)), terms) if labelled else None
    )
    if whole is not None:
        counts = [step_words(a, terms) for a in actions if isinstance(a, tree.Stated)]
        return " ".join([f"{whole.capitalize()}.", *counts])
    sentences: list[str] = []
    run: list[tree.Action] = []

    def end_run() -> None:
        if run:
            sentences.append(_sentence(steps_words(run, terms)))
            run.clear()

    for a in actions:
        if isinstance(a, _STEPS):
            run.append(a)
            continue
        end_run()
        words = action_words(a, terms)
        sentences.append(words if isinstance(a, tree.Stated) else _sentence(words))
    end_run()
    return " ".join(s for s in sentences if s)


def _sentence(words: str) -> str:
    """A capital first and a stop at the end."""
    if not words:
        return words
    head = words[0].upper() + words[1:]
    return head if head[-1] in ".!?" else f"{head}."


def line_words(line: tree.Line, terms: Terms = "US") -> str:
    """A whole line: "Sizes M, L only: Row 5 (WS): P3, k to end. (24 sts)"."""
    limits = ""
    if line.sizes:
        limits += f"{'Sizes' if len(line.sizes) > 1 else 'Size'} {', '.join(line.sizes)} only: "
    for option, value in line.options:
        limits += f"{option} {value} only: "
    body = actions_words(line.actions, terms, labelled=line.label is not None)
    if line.label is None:
        return limits + body
    return f"{limits}{label_words(line.label)}: {body}".rstrip()
