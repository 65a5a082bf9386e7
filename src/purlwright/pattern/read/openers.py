"""What may begin a statement: which readers are tried at which first word.

In: a cursor at any place of a line. Out: the statement, count or step read there. What may only follow
something else is left to ``follow`` and ``tails``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from msgspec.structs import replace as changed

from purlwright.pattern.read.afterthought import parse_opening
from purlwright.pattern.read.again import parse_as_rows, parse_called_rows, parse_repeat_rows
from purlwright.pattern.read.amounts import is_unit, until_mark
from purlwright.pattern.read.between import hold_the_rest, parse_begins_here, parse_between, parse_not
from purlwright.pattern.read.betweenlines import parse_between_lines
from purlwright.pattern.read.byneedle import parse_by_needle
from purlwright.pattern.read.caston import parse_cast_on, parse_cast_on_for
from purlwright.pattern.read.closing import (
    parse_bind_off,
    parse_break,
    parse_close,
    parse_finish,
    parse_gather,
)
from purlwright.pattern.read.counts import parse_stated
from purlwright.pattern.read.edgejoin import parse_edge_join
from purlwright.pattern.read.goon import parse_go_on, parse_ground_rows
from purlwright.pattern.read.oldrows import parse_old
from purlwright.pattern.read.references import parse_chart_row
from purlwright.pattern.read.ring import parse_divide, parse_join
from purlwright.pattern.read.rows import parse_work_rows
from purlwright.pattern.read.rowsagain import parse_rows_again
from purlwright.pattern.read.shaping import parse_shaping, stitch_at_edges
from purlwright.pattern.read.steps import parse_step
from purlwright.pattern.read.whenas import parse_when
from purlwright.pattern.read.wound import parse_wound
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Action, InGround, InPattern, Shaping, Turn, Work, WorkRows

if TYPE_CHECKING:
    from collections.abc import Callable

    from purlwright.pattern.read.context import Context

__all__ = ["opens", "parse_one", "statement"]


_Reader: TypeAlias = "Callable[[Cursor, Context], tuple[Action, ...] | Action | None]"


_WORDS: tuple[tuple[str, tuple[_Reader, ...]], ...] = (
    (
        "work working cont continue continuing follow foll following knit begin start row rnd round",
        (parse_chart_row,),
    ),
    ("the this rnd round rnds rounds beginning", (parse_begins_here,)),
    ("carefully remove unpick undo unravel snip cut release pick take pull slip", (parse_opening,)),
    ("resume", (parse_between,)),
    ("the", (parse_between_lines,)),
    ("* ** [ ( rep repeat work", (parse_rows_again,)),
    ("work knit complete", (parse_called_rows,)),
    ("as like same the", (parse_as_rows,)),
    ("knit", (parse_repeat_rows,)),
    ("knit k purl p pearl seam do make rib ss gs", (parse_work_rows,)),
    (
        "work working",
        (
            parse_work_rows,
            parse_shaping,
            parse_repeat_rows,
            parse_close,
        ),
    ),
    (
        "rep repeat repeating repeated",
        (
            parse_shaping,
            parse_repeat_rows,
        ),
    ),
    ("[ (", (parse_repeat_rows,)),
    (
        ("these this those the last rows row rounds rnds both complete begin commence recommence start go"),
        (parse_repeat_rows,),
    ),
    ("place slip put", (parse_divide,)),
    ("us uk no # smaller larger size straight circular double finer coarser bigger", (parse_between,)),
    ("do don't never without not", (parse_not,)),
    (
        "needle needles ndl ndls n on the for each both 1st 2nd 3rd 4th first second third fourth",
        (parse_by_needle,),
    ),
    ("end ending finish finishing", (parse_work_rows,)),
    ("all", (parse_repeat_rows,)),
    ("using with", (parse_close,)),
    (
        "cont continue continuing keep keeping carry",
        (
            parse_shaping,
            parse_repeat_rows,
        ),
    ),
    ("every each in make making", (parse_shaping,)),
    ("when once", (parse_when,)),
    ("follow foll", (parse_repeat_rows,)),
    (
        "dec decrease decreasing inc increase increasing narrow narrowing widen shape shaping",
        (parse_shaping,),
    ),
    (
        "bind bo cast casting binding end finish fasten bindoff knit purl",
        (
            parse_shaping,
            parse_bind_off,
        ),
    ),
    (
        (
            "commence begin start beginning commencing cast co casting caston set i then you"
            " using use with the "
            "long longtail provisional provisionally "
            "judy judy's german crochet tubular knitted cable loosely old italian backward thumb "
            "turkish"
        ),
        (parse_cast_on,),
    ),
    (
        "bind-off cast-off",
        (
            parse_shaping,
            parse_bind_off,
        ),
    ),
    (
        "cast-on",
        (
            parse_shaping,
            parse_cast_on,
        ),
    ),
    (
        (
            "close cut snip slash machine reinforce unpick undo unzip remove unravel release unzipping"
            " pat dry crochet rotate turn"
        ),
        (parse_finish,),
    ),
    (
        "join close form joining being taking making without",
        (
            parse_join,
            parse_close,
        ),
    ),
    ("divide divided arrange distribute dividing arranging distributing spread", (parse_divide,)),
    (
        (
            "graft grafting kitchener weave sew set seam stitch mattress overcast backstitch 3 three use "
            "using finish"
        ),
        (parse_close,),
    ),
    ("for", (parse_cast_on_for,)),
    ("wrap wind", (parse_wound,)),
    ("fasten", (parse_gather,)),
    ("break cut draw thread pull run gather", (parse_gather,)),
    ("break cut", (parse_break,)),
    ("at on starting beginning commencing", (parse_shaping,)),
    ("take", (parse_gather,)),
    (
        (
            "weave darn sew run squeeze pin gather thread use work block steam press fasten "
            "wash hide tuck secure tie trim felt "
            "soak lay pin attach make embroider add draw line leave fold turn pull fringe finish"
        ),
        (parse_finish,),
    ),
    (
        (
            "with using use on change changing switch switching take go return rejoin reattach re "
            "join attach place put slip transfer move pick replace beginning starting beg begin start "
            "commencing commence work working now from continue cont and knit in the heel flap thumb strap "
            "tongue complete finish over proceed"
        ),
        (parse_between,),
    ),
)
"""First words, and the readers tried at them, in this order."""


def _gather() -> dict[str, tuple[_Reader, ...]]:
    """All that may begin with a word, in the order in which it is tried."""
    table: dict[str, tuple[_Reader, ...]] = {}
    for words, readers in _WORDS:
        for w in words.split():
            table[w] = (*table.get(w, ()), *readers)
    return table


_OPENERS = _gather()


def opens(low: str) -> bool:
    """Whether a statement may begin with this word."""
    return low in _OPENERS


def statement(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """The first reader of statements that takes what stands here."""
    t = cur.peek()
    if t.low in _STITCH_VERBS and not _many_rows_ahead(cur):
        return None
    if t.low == "seam" and (
        (ctx.terms == "old" and cur.peek(1).low in {"", ".", ","} and not _SEWN.intersection(_lows(cur)))
        or cur.peek(1).low in {"to", "till", "until", "plain", "all", "every", "across"}
        or (
            (cur.peek(1).kind == "n" or cur.peek(1).value is not None or cur.peek(1).low == "a")
            and cur.peek(2).low in _AFTER_SEAM
        )
    ):
        return None
    if t.low in {"repeat", "rep"} and _from_row_start(cur):
        return None
    readers = _OPENERS.get(t.low)
    if t.kind == "o":  # "1st to 8th row sets pattern"
        readers = (*(readers or ()), parse_repeat_rows)
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


def _from_row_start(cur: Cursor) -> bool:
    """Whether "repeat from the beginning of the row" stands here: the steps of this row, not rows before."""
    here = cur.at
    cur.at += 1
    found = cur.phrase("from the? beginning|commencement|start of the|this row|round|needle")
    cur.at = here
    return found


_SEWN = frozenset("sew sewn up together edges sides shoulders back front".split())
"""Where the line holds one of these, a lone "seam" is sewing, and no old word for purl."""


def _lows(cur: Cursor) -> set[str]:
    return {t.low for t in cur.tokens}


_AFTER_SEAM = frozenset(
    {"", ",", ".", ";", "st", "sts", "stitch", "stitches", "tog", "together", "and", "*", ")"}
)
"""What stands after "seam 2" where it is an old word for purl."""


_GERUNDS = frozenset("narrowing decreasing increasing widening narrow decrease increase widen".split())


_STITCH_VERBS = frozenset({"k", "p", "knit", "purl"})


_COUNT_GOES_ON = frozenset(
    "more further plain open straight purl pearl knit st garter k p purled knitted even rib single"
    " complete additional quite"
    " or ( [ inches inch in ins cm mm rs ws -".split()
)


_VERB_GOES_ON = frozenset(
    "a an another the these next all back in for until till each every even straight plain without"
    " bo bind bind-off one"
    " last forward forwards across any about rows rnds rounds row rnd round".split()
)


_LONGEST_SUM = 24
"""Words of a sum of named numbers, at most, before what it counts; own."""
_MORE_ROWS = frozenset({"more", "further", "plain"})


def _many_rows_ahead(cur: Cursor) -> bool:
    """Whether "knit" and its like may speak of rows here, so that "k2, p2" costs no more than a look."""
    t = cur.peek(1)
    if t.low == "." and t.glued and is_unit(cur.peek(3).low):
        return True  # "K. 1 row."
    if t.low == "{":  # "Knit {plain} rows"
        close = next((i for i in range(2, _LONGEST_SUM) if cur.peek(i).low == "}"), 0)
        return bool(close) and (is_unit(cur.peek(close + 1).low) or cur.peek(close + 1).low in _MORE_ROWS)
    if t.kind == "n" or t.value is not None:
        after = cur.peek(2)
        if after.low == "and" and cur.peek(3).low in {"a", "one", "half", "three", "one-half"}:
            return any(cur.peek(i).low in {"inch", "inches", "in", "ins"} for i in range(4, 8))
        return (
            after.low in _COUNT_GOES_ON
            or (t.value == 1 and after.low == "turn" and t.kind == "w")
            or is_unit(after.low)
            or after.value is not None
            or after.low == '"'
        )
    return t.low in _VERB_GOES_ON


def parse_one(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """STATEMENT | COUNT | "go on" UNTIL | STEP."""
    here = cur.at
    if (
        cur.peek().low in {"go", "continue", "keep", "carry"}
        and cur.peek(1 + (cur.peek(1).low in {"on", "to"})).low in _GERUNDS
    ):
        # "go on narrowing every other row until ..."
        cur.at += 1 + (cur.peek(1).low in {"on", "to"})
        shaped = parse_shaping(cur, ctx)
        if shaped is not None:
            span = cur.span_from(here)
            return (changed(shaped[0], span=span), *shaped[1:])
        cur.at = here
    joined = parse_edge_join(cur)
    if joined is not None:
        return (joined,)
    old = parse_old(cur)
    if old is not None:
        return old
    got = statement(cur, ctx)
    if got is not None:
        return got
    cur.at = here
    stated = parse_stated(cur, ctx)
    if stated is not None and cur.at > here:
        return (stated,)
    cur.at = here
    on = parse_go_on(cur, ctx)
    as_set = cur.tokens[here].low in {"cont", "continue", "continuing"} and cur.tokens[here + 1 :][:1]
    if on is not None and (
        isinstance(on[0], WorkRows) or (as_set and as_set[0].low == "as" and isinstance(on[0], Shaping))
    ):
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
        first = steps[0]
        if on is not None and far > cur.at and _one_ground(on) and _one_ground(steps):
            cur.at = far  # "Continuing in rib as set": one whole row, said at more length
            return on
        if (
            len(steps) == 1
            and isinstance(first, Work)
            and cur.peek().low in {"at", "each", "both", ".", "on"}
        ):
            at = cur.at
            cur.take(".") if cur.peek().glued else None
            shaping = stitch_at_edges(cur, ctx, first, here)
            if shaping is not None:
                return shaping
            cur.at = at
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


def _one_ground(said: tuple[Action, ...]) -> bool:
    """Whether all that is said is what a whole row is worked in."""
    return len(said) == 1 and isinstance(said[0], InGround | InPattern) and said[0].count is None


def _always(cur: Cursor) -> bool:
    """ALWAYS: "slip the first st of every row": a rule for all rows, not a stitch of this one; nothing is
    taken.
    """
    if cur.peek().low not in {"slip", "sl", "slipping", "always", "knit", "keep", "keeping"}:
        return False
    n = until_mark(cur, 16)
    lows = [cur.peek(i).low for i in range(n)]
    return any(
        lows[i] in {"every", "each"}
        and lows[i + 1] in {"row", "round", "rnd"}
        and i
        and lows[i - 1] in {"of", "on", "in"}
        for i in range(n - 1)
    ) and bool({"st", "stitch", "sts", "stitches"}.intersection(lows))


_GROUNDS = frozenset(
    "gs garter stockinette stocking stockingette st stst seed moss rib ribbing double single reverse"
    " rev broken basketweave"
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
