"""More clauses of old books: the end of a row told in words, stitches kept back, the heel set apart, a part
made so long.

In: the words of one clause, small letters and one space between them. Out: the steps or statements meant;
None where the numbers do not fit. Which clause stands where is found by ``oldrows``.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from purlwright.pattern.read.amounts import twice_as_many
from purlwright.pattern.read.numbers import ONE, TWO
from purlwright.pattern.read.ordinals import ORDINAL, spelled
from purlwright.pattern.tokens import number_word
from purlwright.pattern.tree import (
    AtEdges,
    Choice,
    Close,
    Edge,
    Evenly,
    Fill,
    Gather,
    Hold,
    InGround,
    InPattern,
    Length,
    Number,
    PickUp,
    Place,
    PlaceKind,
    Repeat,
    RepeatRows,
    Resume,
    RowRef,
    RowSet,
    Said,
    Shaping,
    Turn,
    Unit,
    Until,
    Work,
    WorkRows,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from purlwright.pattern.tree import Action
    from purlwright.text import Span

__all__ = ["CLAUSES", "FIRST", "GOING_ON"]

FIRST = frozenset(
    "the plain continue go on knit pearl purl seam let slip take cast put for make reduce reducing decrease"
    " decreasing do work pick divide place every remainder rest knitting narrow narrowing"
    " increasing widening in on rib finish complete draw by these repeat as same like".split()
)
"""Words that may begin one of these."""
_N = r"(?!(?:stitch(?:es)?|sts?|loops?)\b)(?P<n>\d{1,4}|[a-z]+(?: ?- ?[a-z]+)?)"
_STS = r"(?: (?:stitches|stitch|sts|st|loops))"
_HOW = r"(?P<how>plain|knit(?:ted)?(?: plain)?|pearl(?:ed)?|purl(?:ed)?|seam(?:ed)?)"
_ROWS = r"(?P<unit>rows?|rounds?|rnds?|turns)"
_SEAM = r"seam(?: ?- ?stitch| stitch)?"
_NEEDLE = r"(?:a|an|the|another) (?:(?:third|3rd|3d|spare|extra|separate|other|different) )?(?:needle|pin)s?"


def _number(word: str | None, span: Span) -> Number | None:
    if word is None:
        return None
    word = word.replace(" - ", "-")
    value = int(word) if word.isdigit() else number_word(word)
    return None if value is None or not 0 < value <= 10_000 else Number(values=(value,), span=span)


def _stitch(how: str) -> str:
    return "p" if how.startswith(("purl", "pearl", "seam")) else "k"


def _fill(how: str, before: Number | None, span: Span) -> Fill:
    place = Place(kind=PlaceKind.END, before=before, span=span)
    return Fill(body=(Work(stitch=_stitch(how), count=ONE, span=span),), to=place, span=span)


def _last(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "the last stitch plain", "the last 2 stitches pearled"."""
    n = ONE if m["n"] is None else _number(m["n"], span)
    return None if n is None else (Work(stitch=_stitch(m["how"]), count=n, span=span),)


def _rest(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "the rest of the row being plain knitting"."""
    return (_fill(m["how"], None, span),)


def _to_within(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "the rest plain knitting until you come to within 3 of the end"."""
    n = _number(m["n"], span)
    return None if n is None else (_fill(m["how"] or "plain", n, span),)


def _to_these(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "plain knitting till the 3rd and 2nd from the end, which you must knit together".

    The stitches after these two are worked plain where no more is said.
    """
    a, b = spelled(m["a"]), spelled(m["b"])
    far, near = max(a, b), min(a, b)
    if near < 1 or far != near + 1 or far > 100:
        return None
    how = m["how"] or "plain"
    tog = "p2tog" if m["tog"].startswith(("purl", "pearl", "seam")) else "k2tog"
    out: tuple[Action, ...] = (
        _fill(how, Number(values=(far,), span=span), span),
        Work(stitch=tog, count=ONE, span=span),
    )
    if near == 1:
        return out
    return (*out, Work(stitch=_stitch(how), count=Number(values=(near - 1,), span=span), span=span))


def _pair(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "knit the 5th and 4th together": the next two."""
    a, b = spelled(m["a"]), spelled(m["b"])
    if abs(a - b) != 1:
        return None
    return (Work(stitch="p2tog" if _stitch(m["how"]) == "p" else "k2tog", count=ONE, span=span),)


def _kept(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "let off 32 on to a third needle", "cast off thirty stitches on another needle": they wait.

    "When it is requisite to cast off, and continue the row on a separate needle, it is sometimes better to
    run a coarse silk through the cast off stitches; they are easily taken up" (Lambert, My Knitting Book,
    1843, hints).
    """
    n = _number(m["n"], span)
    return None if n is None else (Hold(count=n, place="spare needle", of="next", span=span),)


def _all_kept(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "cast them off on another needle"."""
    del m
    return (Hold(of="all", place="spare needle", span=span),)


def _heel(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "take 14 on each side of the seam-stitch for the heel": the seam-stitch begins the round."""
    n = _number(m["n"], span)
    if n is None or n.values[0] is None:
        return None
    half = n.values[0]
    beyond = Number(values=(half + 1,), span=span)
    both = Number(values=(2 * half + 1,), span=span)
    return (
        Work(stitch="k", count=beyond, span=span),
        Turn(span=span),
        Resume(over=both, part="these", flat=True, span=span),
    )


def _made_long(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "make the foot 9 inches long": plain, from where that part begins."""
    n = _number(m["n"], span)
    if n is None or n.values[0] is None:
        return None
    part = Fraction(1, 2) if m["half"] else Fraction(0)
    length = Length(values=(n.values[0] + part,), unit="in", span=span)
    until = Until(length=length, since=f"start of {m['part']}", span=span)
    return (WorkRows(body=(_fill("plain", None, span),), until=until, span=span),)


def _reduced(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "reduce over the instep to 80", "decrease for the instep until you have 38 stitches"."""
    n = _number(m["n"], span)
    return None if n is None else (Evenly(total=n, span=span),)


def _taken_up(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "take up the side-stitches", "pick up 16 side-stitches"."""
    n = _number(m["n"], span) if m["n"] else None
    if m["n"] and n is None:
        return None
    return (PickUp(count=n, how="lift", edge=Edge(words="side stitches", span=span), span=span),)


def _by_turns(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "pearl and knit until 3 inches are done": a row of each."""
    one, two = _stitch(m["one"]), _stitch(m["two"])
    if one == two:
        return None
    rows = tuple((_fill("purl" if s == "p" else "knit", None, span),) for s in (one, two))
    return (WorkRows(alternate=rows, span=span),)


def _seam_stitch(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "purl the seam-stitch", "knit or pearl the seam-stitch": that one, as it has been worked."""
    if m["or"] or m["how"] in {"work", "do"}:
        return (InPattern(count=ONE, span=span),)
    return (Work(stitch=_stitch(m["how"]), count=ONE, span=span),)


def _every_nth(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "narrow every 5th stitch": with the one before it, or with the one after."""
    nth = 1 if m["nth"] is None else spelled(m["nth"])
    if not 0 < nth < 100:
        return None
    tog = Work(stitch="k2tog", count=ONE, span=span)

    def across(plain: int) -> tuple[Action, ...]:
        before = (Work(stitch="k", count=Number(values=(plain,), span=span), span=span),) if plain else ()
        return (Repeat(body=(*before, tog), said=Said.OPEN, mark="", span=span),)

    if nth <= 1:
        return across(0)
    ways = ("with the stitch before it", "with the stitch after it")
    return (Choice(readings=(across(nth - 2), across(nth - 1)), ways=ways, span=span),)  # type: ignore[arg-type]


def _times_around(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "knit 5 times around", "knit twice around"."""
    n = _number({"once": "1", "twice": "2", "thrice": "3"}.get(m["n"], m["n"]), span)
    if n is None:
        return None
    return (WorkRows(body=(_fill("plain", None, span),), rows=n, unit=Unit.ROUND, span=span),)


def _throughout(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "these 4 rows are repeated throughout"."""
    n = _number(m["n"], span)
    if n is None or n.values[0] is None:
        return None
    return (RepeatRows(rows=RowSet(back=n.values[0], span=span), define=True, span=span),)


def _row_in_pattern(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "finish row in pattern"."""
    del m
    return (InPattern(to=Place(kind=PlaceKind.END, span=span), span=span),)


def _sewn(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "the two halves are then to be sewn together"."""
    return (Close(how="seam", a=Edge(words=m["edge"], span=span), span=span),)


def _gathered(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "draw up the stitches for the toe"."""
    del m
    return (Gather(span=span),)


def _last_again(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "fifty-third row: repeat the last"."""
    del m
    return (RowRef(name="last row", span=span),)


def _narrowed_at(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "in the next 4 rows, knit two together at the commencement of each row"."""
    rows = ONE if m["n"] is None else _number(m["n"], span)
    if rows is None:
        return None
    where: Literal["beginning", "end"] = "end" if m["where"] == "end" else "beginning"
    step = AtEdges(change=-1, where=where, count=ONE, stitch="k2tog", span=span)
    return (Shaping(steps=(step,), every=ONE, times=rows, said=Said.IN_ALL, start="next", span=span),)


def _rib_of(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "rib for an inch by doing 1 plain and 1 pearl"."""
    a, b = _number(m["a"], span), _number(m["b"], span)
    if a is None or b is None:
        return None
    return (InGround(ground=f"k{a.values[0]}, p{b.values[0]} rib", span=span),)


def _on_these(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "knit remaining 43 stitches, and on these continue with the front"."""
    del m
    return (Resume(part="these", span=span),)


def _plain_on(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "do plain knitting": the rows that follow are plain."""
    return (WorkRows(body=(_fill(m["how"], None, span),), span=span),)


def _ribbed(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "knit 2 pearl, 2 plain, for 8 rounds", "knit and purl three stitches alternately"."""
    groups = m.groupdict()
    a = _number(m["a"], span)
    b = _number(groups.get("b"), span) if groups.get("b") else a
    one, two = _stitch(groups.get("one") or "knit"), _stitch(m["two"])
    rows = _number(m["n"], span) if m["n"] else None
    if a is None or b is None or one == two or (m["n"] and rows is None):
        return None
    body = (Work(stitch=one, count=a, span=span), Work(stitch=two, count=b, span=span))
    across = Repeat(body=body, said=Said.OPEN, mark="", span=span)
    if rows is None:
        return (across,)
    rows = twice_as_many(rows) if m["unit"] == "turns" else rows
    unit = Unit.ROUND if m["unit"].startswith(("round", "rnd")) else Unit.ROW
    return (WorkRows(body=(across,), rows=rows, unit=unit, span=span),)


def _one_end(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "increasing a stitch at one end only": on every other row, where that end comes first."""
    change: Literal[1, -1] = 1 if m[0].startswith(("inc", "wid")) else -1
    step = AtEdges(change=change, where="beginning", count=ONE, span=span)
    return (Shaping(steps=(step,), every=TWO, start="next", span=span),)


def _holes(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "in the next row, bring the wool forward, knit two together": a whole row of holes."""
    rows = ONE if m["n"] is None else _number(m["n"], span)
    if rows is None:
        return None
    unit = Unit.ROUND if m["unit"] and m["unit"].startswith(("round", "rnd")) else Unit.ROW
    body = (Work(stitch="yo", count=ONE, span=span), Work(stitch="k2tog", count=ONE, span=span))
    across = Repeat(body=body, said=Said.OPEN, mark="", span=span)
    return (WorkRows(body=(across,), rows=rows, unit=unit, span=span),)


def _alike(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "every row alike": the row told is the pattern."""
    del m
    return (RepeatRows(rows=RowSet(back=1, span=span), define=True, span=span),)


_TO = r"(?:until|till|to)(?: you (?:come|get) to| to)?"
_WHICH = r"(?: ?,)? (?:which|these)(?: two)?(?: you)?(?: (?:must|are to|should))?(?: be)? "
_Make: TypeAlias = "Callable[[re.Match[str], Span], tuple[Action, ...] | None]"
_WORDS: tuple[tuple[str, _Make], ...] = (
    (rf"the last(?: {_N})?{_STS}? (?:to be |being |is |are )?{_HOW}(?: knitting)?$", _last),
    (
        (
            rf"(?:the )?(?:rest|remainder)(?: of the (?:row|round|needle))?(?: being| is| in)? {_HOW}"
            r" knitting$"
        ),
        _rest,
    ),
    (
        (
            r"(?:(?:continue|go on|the rest|the remainder)(?: to| in| with)? )?(?:knit"
            r" )?(?P<how>plain"
            r"|pearl|purl|seam)"
            rf"(?: knitting)? {_TO} within {_N}(?:{_STS})? of the (?:end|heel|toe|other end|centre"
            r"|middle)$"
        ),
        _to_within,
    ),
    (
        (
            r"(?:(?:continue|go on|the rest|the remainder)(?: to| in| with)? )?(?:knit"
            r" )?(?P<how>plain"
            r"|pearl|purl|seam)"
            rf"(?: knitting)? {_TO} the (?P<a>{ORDINAL}) and (?P<b>{ORDINAL})(?:{_STS})? from the"
            rf" end{_WHICH}"
            rf"(?P<tog>knit|knitted|purl|purled|pearl|pearled|seamed|taken) together$"
        ),
        _to_these,
    ),
    (
        (
            rf"(?P<how>knit|purl|pearl|seam) the (?P<a>{ORDINAL}) and (?P<b>{ORDINAL})(?:{_STS})?"
            r" together$"
        ),
        _pair,
    ),
    (
        (
            rf"(?:let|slip|take|cast|put)(?: off)? {_N}(?:{_STS})?(?: off)? (?:on|upon)(?: ?to)?"
            rf" {_NEEDLE}$"
        ),
        _kept,
    ),
    (
        (
            r"(?:cast|let|take|slip)(?: off)? (?:them|these|all|all the stitches)(?: off)? (?:on"
            rf"|upon)(?: ?to)? {_NEEDLE}$"
        ),
        _all_kept,
    ),
    (
        (
            r"(?:for the heel (?:, )?)?(?:take|place|put|divide for the heel (?:, )?(?:by )?taking)"
            rf" {_N}(?:{_STS})?"
            rf" (?:on )?each side of (?:the |your )?(?:middle or |centre or |back )?{_SEAM}(?: for"
            r" the"
            r" heel)?$"
        ),
        _heel,
    ),
    (
        (
            r"(?:make|knit|work|do) (?:the )?(?P<part>foot|leg|heel|ankle|flap|rib|top|cuff|welt|hand"
            r"|wrist) "
            rf"{_N}(?P<half>½| ½| and a half)? ?(?:inches|inch|ins|in)(?: long| deep)?(?: altogether|"
            r" in all)?$"
        ),
        _made_long,
    ),
    (
        (
            r"(?:reduce|reducing|decrease|decreasing|narrow|narrowing)(?: (?:gradually|now|again))?"
            r" (?:(?:over|at|for|on|in) the (?:instep|foot|gusset|toe|ankle|leg) )?"
            r"(?:to|(?:until|till) (?:you (?:have|are reduced to)|there are|there remain))(?: only|"
            r" but)? "
            rf"{_N}(?:{_STS})?(?: (?:for the (?:foot|leg|ankle|toe)|on the (?:needle|needles|pin"
            r"|pins)"
            r"|left|remain"
            r"|on your pins|in all|altogether))*$"
        ),
        _reduced,
    ),
    (
        (
            r"on these(?: stitches)?(?: only)?(?: (?:continue|go on|work|knit)(?: with)?"
            r"(?: (?:the|one|a) (?:\w+ )?(?:front|side|shoulder|half))?)?$"
        ),
        _on_these,
    ),
    (rf"(?:take|pick) up (?:the )?(?:{_N} )?side(?: ?- ?| )stitches$", _taken_up),
    (rf"(?:do|continue|go on|knit|work)(?: in| with| the rest in)? {_HOW} knitting$", _plain_on),
    (
        (
            rf"(?:knit|do|rib|work) (?P<a>\d+|[a-z]+)(?:{_STS})? (?P<one>pearl|purl|plain|knit) ?(?:,"
            r"|and)? ?(?:and )?"
            rf"(?P<b>\d+|[a-z]+)(?:{_STS})? (?P<two>pearl|purl|plain|knit)(?: ?,? alternately)?(?:"
            r" ?,?"
            rf" for {_N} {_ROWS})?$"
        ),
        _ribbed,
    ),
    (
        (
            rf"knit and (?P<two>purl|pearl|seam) (?:each )?(?P<a>\d+|[a-z]+)(?:{_STS})? ?,?"
            rf" alternately(?: ?,? for {_N} {_ROWS})?$"
        ),
        _ribbed,
    ),
    (
        (
            r"(?:increasing|decreasing|narrowing|widening)(?: (?:a|one|1)(?: stitch)?)? at (?:the"
            r" )?(?:one|same|that) (?:end|side|edge)"
            r"(?: only)?(?: for the [a-z]+)?$"
        ),
        _one_end,
    ),
    (
        (
            r"(?:in|on) the next(?:(?: (?P<n>\d+|[a-z]+))? (?P<unit>rows?|rounds?|rnds?))?(?: ?,)?(?:"
            r" ?-)*(?: bring| put| throw) the (?:wool"
            r"|thread|cotton|silk)"
            r" (?:forward|over) ?,? (?:and )?(?:k2tog|(?:knit|take) (?:two|2)(?: stitches)?"
            r" (?:together"
            r"|as one))"
            r"(?: ?,?(?: -)*(?: the whole length of the row| all round| to the end(?: of the row)?|"
            r" all"
            r" along))?$"
        ),
        _holes,
    ),
    (r"every row (?:exactly )?(?:alike|the same)$", _alike),
    (
        (
            r"by (?:doing|working|knitting) (?P<a>\d+|[a-z]+) (?:plain|knit) ?(?:and |, )?(?P<b>\d+"
            r"|[a-z]+)"
            r" (?:pearl|purl)(?: alternately)?$"
        ),
        _rib_of,
    ),
    (
        (
            r"(?P<how>knit|purl|pearl|seam|work|do)(?P<or> or (?:knit|pearl|purl|seam))? (?:the"
            r"|this|your) "
            r"(?:seam|seamed)(?: ?- ?| )stitch(?: plain)?$"
        ),
        _seam_stitch,
    ),
    (
        rf"(?:narrow|decrease) every(?: (?P<nth>{ORDINAL}))? stitch(?: all round| around)?$",
        _every_nth,
    ),
    (
        (
            r"knit (?:plain )?(?:(?P<n>twice|thrice|once|\d+|[a-z]+)(?: times)?) (?:around|round)(?:"
            r" plain)?$"
        ),
        _times_around,
    ),
    (r"knit around (?P<n>twice|thrice|\d+|[a-z]+)(?: times)?$", _times_around),
    (
        (
            rf"(?:these|the|the last) {_N} rows are (?:to be )?repeated(?: throughout| all"
            r" through)?$"
        ),
        _throughout,
    ),
    (
        (
            r"(?:finish|complete|work|knit|continue)(?: the| this| rest of| rest of the| remainder"
            r" of)? "
            r"(?:row|round) in (?:the )?pattern$"
        ),
        _row_in_pattern,
    ),
    (
        (
            r"(?P<edge>the [a-z -]{3,40}?) (?:is|are|must be|should be)(?: then| now|"
            r" afterwards)?(?: to"
            r" be)? "
            r"(?:sewn|sewed|seamed)(?: up| together)?(?: (?:to|on) the [a-z ]+)?$"
        ),
        _sewn,
    ),
    (
        r"draw (?:up|together) the (?:remaining |last )?stitches(?: (?:for|at|of) the [a-z]+)?$",
        _gathered,
    ),
    (r"(?:repeat|as|same as|like) the last(?: row| round)?$", _last_again),
    (
        (
            r"(?:in|on) the next(?: (?P<n>\d+|[a-z]+))? rows?(?: ?,)?(?: ?-)* (?:k2tog|knit two"
            r" together)(?: ?,)? at the "
            r"(?P<where>commencement|beginning|start|end)(?: of (?:each|every)(?: row)?)?$"
        ),
        _narrowed_at,
    ),
)
CLAUSES = tuple((re.compile(words), make) for words, make in _WORDS)
"""What a clause may say, and what comes of it."""
GOING_ON: tuple[tuple[re.Pattern[str], _Make], ...] = (
    (re.compile(r"knit around (?P<n>twice|thrice|\d+|[a-z]+)(?: times)?$"), _times_around),
    (
        re.compile(rf"(?:do|continue|go on|knit|work)(?: in| with| the rest in| the rest)? {_HOW} knitting$"),
        _plain_on,
    ),
    (
        re.compile(
            r"(?P<one>knit|purl|pearl|seam) and (?P<two>knit|purl|pearl|seam)"
            r"(?: (?:alternately|alternate rows|rows alternately|every other row))?$"
        ),
        _by_turns,
    ),
)
"""What goes on until something is reached: the words that say when follow the clause."""
