"""Casting on, joining into a round, and sharing stitches out over needles.

In: a cursor at "cast on", "CO", "join" or "divide". Out: :class:`CastOn`, :class:`JoinRound` and
:class:`Arrange`. Casting on at the edge over several rows is left to ``shaping``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from purlwright.pattern.read.amounts import rest_of_clause, skip, until_mark
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.parts import take_for_part
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.tree import CastOn, Number

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["parse_cast_on", "parse_cast_on_for", "take_method_told"]


_STITCHES = ("st", "sts", "stitch", "stitches", "loops", "loop", "sts.")


_METHODS = (
    "long tail", "longtail", "cable", "knitted", "knit on", "backward loop", "backwards loop",
    "half hitch", "thumb",
    "provisional", "crochet", "tubular", "italian", "german", "twisted", "old norwegian",
    "judy",
    "closed toe", "closed",
    "magic", "turkish", "figure eight", "figure 8", "winding", "invisible", "picot", "chained",
    "channel island", "alternating",
    "circular", "disappearing loop", "pinhole", "lace", "two needle", "two strand", "finger", "stretchy",
    "e loop", "braided",
    "emily ocker", "estonian", "i cord", "loop", "tail", "waste yarn", "simple", "single", "double",
)  # fmt: skip


_WHERE = Phrases(
    "at the? end of the? this|next|each|that|same|following|foll? row|rows|rnd|round|needle?",
    "at the? end of row|rnd|needle",
    "at the? beginning|beg|start of the? this|next|each|that|same|following|foll? row|rows|rnd|round",
    "at the? beginning|beg|start of row|rnd|needle",
    "over the? gap", "over those|the bound|cast - off sts|stitches?",
    "over those|the cast-off|bind-off|bound-off sts|stitches?",
    "over those|the bound|cast off sts|stitches?",
    "over bound -? off sts|stitches|edge", "over the? bo sts|stitches?",
    "in place of those|the cast|bound off",
)  # fmt: skip


def parse_cast_on_for(cur: Cursor, ctx: Context) -> CastOn | None:
    """FOR-CAST-ON: "for" PIECE ","? ("I" | "you")? CAST-ON: "For my square I cast on 23 sts"."""
    here = cur.at
    if here and cur.tokens[here - 1].low not in {".", ";", ":"}:
        return None  # "cast on 34 sts for the front, pm, cast on 24 sts"
    cur.at += 1
    for _ in range(7):
        t = cur.peek()
        if t.kind not in {"w", "s"} and t.low not in {",", "i"}:
            break
        if t.low in {"cast", "cast-on", "co"}:
            found = parse_cast_on(cur, ctx)
            if found is not None:
                return replace(found, span=cur.span_from(here))
            break
        cur.at += 1
    cur.at = here
    return None


def parse_cast_on(cur: Cursor, ctx: Context) -> CastOn | None:
    """CAST-ON: ("cast on" | "CO") NUMBER "sts" (ON-WHAT | HOW | WHERE)*, or "a multiple of 6 sts plus 2"."""
    here = cur.at
    method = _method_first(cur) or cur.kept.get("cast-on method", "")
    if not _verb(cur):
        cur.at = here
        return None
    if cur.take(":", "-") is not None:
        _verb(cur)  # "Cast-On: Cast on 34 sts"
    provisional = False
    at: Literal["start", "here", "end", "beginning", "gap"] = "start"
    if cur.take("provisionally") is not None:
        provisional = True
    skip(cur, "loosely", "another", "further", "with", "only") if cur.peek().low != "with" else None
    if cur.take("another", "additional") is not None:
        at = "here"
    count: Number | None = None
    multiple = plus = None
    before = 1
    if cur.phrase("on? each of? the?"):
        # "cast on each of three needles 24 stitches"
        of = parse_number(cur, ctx)
        if of is None or cur.take("needle", "needles", "pin", "pins") is None:
            cur.at = here
            return None
        before = min(of.at(0) or 2, 20)
    on_needles = _on_needles_first(cur, ctx)
    many = _multiple(cur, ctx)
    if many is not None:
        multiple, plus = many
    else:
        count = parse_number(cur, ctx)
        wished = None
        if count is None and (
            cur.phrase("as many stitches|sts? as") or cur.phrase("twice the number of stitches|sts")
        ):
            wished = Number(
                values=(2 if cur.peek(-1).low in {"stitches", "sts"} and cur.peek(-4).low == "twice" else 1,)
            )
            rest_of_clause(cur)
        if wished is not None:
            multiple = wished
        elif count is None and cur.any_phrase("any number of", "an even number of", "an odd number of",
                                            "an uneven number of", "any even number of",
                                            "any odd number of"):  # fmt: skip
            even = cur.peek(-3).low == "even"
            odd = cur.peek(-3).low in {"odd", "uneven"}
            multiple = Number(values=(2 if even or odd else 1,))
            plus = Number(values=(1,)) if odd else None
        elif count is None:
            cur.at = here
            return None
        skip(cur, "more", "extra", "new", "additional", "provisional")
    cur.any_phrase(
        "underarm|thumb|neck|gusset|steek|edging|bridge|border st|sts|stitch|stitches"
    ) or cur.take(*_STITCHES)
    each = before
    needles: tuple[Number, ...] = ()
    over = on_needles
    counts_row = False
    while True:
        step = cur.at
        if cur.peek().low == "," and cur.phrase(",") and _on_each(cur, ctx, count) is not None:
            cur.at = step
            skip(cur, ",")
            one_each = _on_each(cur, ctx, count)
            needles = one_each or needles
            continue
        cur.at = step
        on_pins = _on_pins(cur, ctx, count)
        if on_pins:
            needles = on_pins
            continue
        if cur.peek().low in {"(", "[", "-"}:  # "20 sts (10 on each needle)"
            bracket = cur.next().low
            lies = _on_each(cur, ctx, count)
            if lies is not None and (bracket == "-" or cur.take(")", "]") is not None):
                needles = lies
                continue
            cur.at = step
        if cur.peek().low == "," and not _belongs(cur):
            break
        skip(cur, ",")
        if cur.phrase("on|to|onto|over each of? the?"):
            n = parse_number(cur, ctx)
            if _of_the_needles(cur) or cur.take("needle", "needles", "pin", "pins") is not None:
                each = min((n.at(0) if n is not None else None) or 2, 20)
                shared = _and_on_the_last(cur, ctx, count, each)
                if shared is not None:
                    needles, count, each = shared[0], shared[1], 1
                continue
            cur.at = step
        more = _first_needle(cur, ctx, count)
        if more is not None:
            needles, count = more
            continue
        shared_over = _how_many(cur)
        got = _needles(cur, ctx)
        if got is not None:
            over = shared_over or over
            needles = got or needles
            if count is not None and cur.phrase(",? two|three|four on each"):
                said = cur.peek(-3).value
                needles = (Number(values=(int(said or 0),), span=cur.peek(-3).span),) * 4
            continue
        if cur.peek().low == "for" and take_for_part(cur) is not None:
            continue
        where = _WHERE.take(cur)
        if where is not None:
            at = "gap" if where.startswith(("over", "in")) else "end" if "end of" in where else "beginning"
            continue
        how = _how(cur)
        if how is not None:
            name, held = how
            method = name or method
            provisional = provisional or held
            continue
        if cur.peek().low == "(" and cur.peek(1).low in _ASIDES:
            end = aside_end(cur)
            counts = _row_counts(cur)
            if counts:
                counts_row = True
            elif end > 0:
                cur.at = end
            if cur.at > step:
                continue
        if cur.peek().low == ":" and _comes_to(cur, ctx):
            continue  # "CO 10 sts onto each of 2 needles: 20 sts"
        if cur.peek().low in {"(", "["} and _row_counts(cur):
            counts_row = True
            continue
        if cur.any_phrase("this|which counts as the? first|1st row", "counts as row 1", "this is row 1"):
            counts_row = True
            continue
        cur.at = step
        break
    return CastOn(
        count=count,
        multiple=multiple,
        plus=plus,
        needles=needles,
        each=each,
        over=over,
        method=method,
        provisional=provisional or "provisional" in method,
        counts_row=counts_row,
        at=at,
        span=cur.span_from(here),
    )


def _comes_to(cur: Cursor, ctx: Context) -> bool:
    """COMES-TO: ":" NUMBER "sts" that end the sentence; taken."""
    here = cur.at
    cur.take(":", "=")
    if parse_number(cur, ctx) is not None and cur.take(*_STITCHES) and cur.peek().low in {"", ".", ";"}:
        return True
    cur.at = here
    return False


_ASIDES = frozenset("including this that includes or = must should any multiple use using if you".split())
"""What begins a bracket after a cast-on that only says more of it: "(must be an odd number)"."""


def take_method_told(cur: Cursor) -> bool:
    """METHOD-TOLD: ("using" | "use") "the"? METHOD "cast on" "method"? ",", some words before "CO 83 sts".

    The method is kept for the cast-on that follows.
    """
    here = cur.at
    if cur.take("using", "use", "with") is None:
        return False
    start = cur.at
    for _ in range(8):
        if cur.any_phrase(
            "cast - on method|technique?", "cast on method|technique?", "cast-on method|technique?"
        ):
            break
        if cur.peek().kind not in {"w", "s"} and cur.peek().low not in {"-", "'", '"'}:
            cur.at = here
            return False
        cur.at += 1
    said = " ".join(t.low for t in cur.tokens[start : cur.at]).replace(" - ", " ").replace("-", " ")
    if cur.peek().low not in {",", "."} or not any(m in said for m in _METHODS):
        cur.at = here
        return False
    words = said.split(" cast on")[0].removeprefix("the ").removeprefix("a ").strip()
    cur.kept["cast-on method"] = words
    return True


def _on_pins(cur: Cursor, ctx: Context, count: Number | None) -> tuple[Number, ...]:
    """ON-PINS: "," NUMBER "on" NUMBER "pins" ("and" | ",") NUMBER "on the third" "pin"?: all there are."""
    here = cur.at
    out: list[Number] = []
    while len(out) < 12:
        skip(cur, ",", "and")
        n = parse_number(cur, ctx)
        if n is None or not cur.phrase("stitches|sts? on each? of? the?"):
            break
        many = 1
        if cur.peek().kind == "o" or cur.peek().low in {
            "first",
            "second",
            "third",
            "other",
            "last",
            "fourth",
        }:
            cur.at += 1
        else:
            how_many = parse_number(cur, ctx)
            many = min((how_many.at(0) if how_many is not None else None) or 1, 8)
        out += [n] * many
        if cur.take("pins", "pin", "needle", "needles") is None and many > 1:
            break
    each = [n.at(0) for n in out]
    whole = count.at(0) if count is not None else None
    if len(out) < 2 or whole is None or sum(v or 0 for v in each) != whole:
        cur.at = here
        return ()
    return tuple(out)


def _method_first(cur: Cursor) -> str:
    """("using" "the"?)? METHOD "method"? ","?, before the verb: "Long-tail cast on 40 sts"."""
    here = cur.at
    skip(cur, "using", "use", "with", "the", "a", "an", "by", "your", "preferred")
    for n in range(9):
        t = cur.peek(n)
        if not t.kind or t.low in {".", ";"}:
            break
        verb = t.low in {"co", "caston", "cast-on"} or (
            t.low == "cast" and cur.peek(n + 1).low in {"on", "-"}
        )
        if verb:
            words = (
                " ".join(cur.peek(i).low for i in range(n))
                .replace(" - ", " ")
                .replace("-", " ")
                .replace("'s", "")
            )
            after = n + 1 + (t.low == "cast") + (cur.peek(n + 1).low == "-")
            words = words.removesuffix(" to").removesuffix(" to ")
            if cur.peek(after).low in {",", "method", "technique"}:
                continue
            if {"needle", "needles", "yarn", "held", "strand", "strands", "wool"}.intersection(words.split()):
                break
            if n and any(m in words for m in _METHODS):
                cur.at += n
                return words.split(" cast on")[0].removesuffix(" ,").removesuffix(" method").strip()
            break
    cur.at = here
    return ""


def _verb(cur: Cursor) -> bool:
    """VERB: "cast on" | "cast-on" | "CO" | "cast" NUMBER "sts on"; a caller's "I cast-on" too."""
    skip(cur, "i", "we", "then", "you")
    cur.phrase("commence|begin|start|beginning|commencing by")
    if cur.peek().low == "set" and cur.peek(1).low in {"up", "on"} and cur.peek(2).value is not None:
        cur.at += 2
        return True
    return cur.any_phrase("cast-on", "cast - on", "cast on", "casting on", "co", "caston") is not None or (
        cur.peek().low == "cast" and isinstance(cur.peek(1).value, int) and cur.take("cast") is not None
    )


_DIVISIBLE = Phrases(
    "multiple|multiples|number of", "number of? stitches|sts? divisible by",
    "number of? stitches|sts? that|which? can|may|will be? divided|divide|divisible by",
    "number of stitches|sts that|which can be divided by",
)  # fmt: skip


def _multiple(cur: Cursor, ctx: Context) -> tuple[Number, Number | None] | None:
    """MULTIPLE: "a"? "multiple" "of" NUMBER "sts"? (("," )? ("plus" | "+") NUMBER "sts"?)?."""
    here = cur.at
    cur.take("a", "any")
    if _DIVISIBLE.take(cur) is None:
        cur.at = here
        n = parse_number(cur, ctx)
        # "cast on six stitches for each pattern, and two over for the edge"
        if n is not None and cur.phrase("stitches|sts? for each|every pattern|repeat|rep"):
            plus = None
            at = cur.at
            if cur.phrase(", and?") or cur.phrase("and"):
                plus = parse_number(cur, ctx)
                if plus is None or not (
                    cur.any_phrase(
                        "over|more|extra for|at the|each? edge|edges|end|ends?", "for the? edge|edges|border"
                    )
                ):
                    plus = None
                    cur.at = at
                elif cur.any_phrase("on|at each|either side|end"):
                    plus = Number(
                        values=tuple(None if v is None else 2 * v for v in plus.values), span=plus.span
                    )
            return n, plus
        cur.at = here
        return None
    n = parse_number(cur, ctx)
    if n is None:
        cur.at = here
        return None
    cur.take(*_STITCHES)
    at = cur.at
    plus = None
    skip(cur, ",")
    if cur.take("plus", "+", "and") is not None:
        plus = parse_number(cur, ctx)
    if plus is None:
        cur.at = at
    elif cur.phrase("stitches|sts? for|at each edge|end|side"):
        plus = Number(values=tuple(None if v is None else 2 * v for v in plus.values), span=plus.span)
    return n, plus


def _belongs(cur: Cursor) -> bool:
    """Whether what stands after a comma still tells how the stitches are cast on."""
    return cur.peek(1).low in {
        "using",
        "provisionally",
        "loosely",
        "on",
        "onto",
        "to",
        "divided",
        "two",
        "with",
    } and (cur.peek(1).low != "with" or cur.peek(2).low in {"the", "a"})


def _of_the_needles(cur: Cursor) -> bool:
    """OF-THE-NEEDLES: "of the finest knitting-needles", after "on each of three"."""
    here = cur.at
    if cur.phrase("of the"):
        for _ in range(4):
            word = cur.next().low
            if word.endswith(("needles", "pins")):
                return True
            if not (word.isalpha() or word == "-"):
                break
    cur.at = here
    return False


def _on_each(cur: Cursor, ctx: Context, count: Number | None) -> tuple[Number, ...] | None:
    """ON-EACH: "twenty on each of four needles", "two on each": how the total lies."""
    here = cur.at
    n = parse_number(cur, ctx)
    if n is None or not cur.any_phrase("sts|stitches? on|per each", "sts|stitches? per|each needle"):
        cur.at = here
        return None
    often = 4
    if cur.take("of") is not None:
        skip(cur, "the")
        said = parse_number(cur, ctx)
        often = (said.at(0) if said is not None else None) or 4
    elif count is not None and (each := n.at(0)) and (all_of := count.at(0)) and all_of % each == 0:
        often = all_of // each  # "24 sts, 12 sts on each needle"
    skip(cur, "needle", "needles", "pin", "pins")
    return (n,) * min(often, 20)


def _first_needle(
    cur: Cursor, ctx: Context, count: Number | None
) -> tuple[tuple[Number, ...], Number] | None:
    """FIRST-NEEDLE: "on the first needle" ("and" NUMBER "on each of the other 2")+: the total is the sum."""
    here = cur.at
    if count is None or not cur.phrase("on|to the? first|1st|one needle|pin?"):
        cur.at = here
        return None
    needles = [count]
    while True:
        at = cur.at
        skip(cur, ",", "and")
        n = parse_number(cur, ctx)
        if n is None:
            cur.at = at
            break
        cur.take(*_STITCHES)
        if not cur.phrase("on|to"):
            cur.at = at
            break
        often = 1
        if cur.phrase("each of? the? other|others"):
            two = parse_number(cur, ctx)
            often = (two.at(0) if two is not None else None) or 2
        elif cur.phrase("each of"):
            two = parse_number(cur, ctx)
            often = (two.at(0) if two is not None else None) or 2
            skip(cur, "other", "others")
        else:
            cur.phrase("the? second|2nd|2d|third|3rd|3d|fourth|4th|other|last|next")
        skip(cur, "needle", "needles", "others", "pins")
        needles += [n] * min(often, 20)
    if len(needles) == 1:
        cur.at = here
        return None
    width = max(len(n.values) for n in needles)
    sums: tuple[int | None, ...] = tuple(sum(n.at(i) or 0 for n in needles) for i in range(width))
    return tuple(needles), Number(values=sums, span=needles[0].span)


def _and_on_the_last(
    cur: Cursor, ctx: Context, count: Number | None, each: int
) -> tuple[tuple[Number, ...], Number] | None:
    """AND-ON-THE-LAST: "and" NUMBER "on the" ("third" | "other") "needle"?: "32 on each of two and 30 on the
    third".
    """
    here = cur.at
    skip(cur, ",", "and")
    n = parse_number(cur, ctx) if cur.at > here and count is not None else None
    if n is not None:
        cur.take(*_STITCHES)
    if (
        n is None
        or count is None
        or not cur.phrase("on|to the? third|3rd|3d|fourth|4th|other|last needle|pin?")
    ):
        cur.at = here
        return None
    needles = (count,) * each + (n,)
    total = sum(x.at(0) or 0 for x in needles)
    return needles, Number(values=(total,), span=count.span)


def _on_needles_first(cur: Cursor, ctx: Context) -> int:
    """ON-NEEDLES: ("on" | "upon")? NUMBER "needles" before the number of stitches: "cast on three needles
    60 stitches"; how many needles, 0 if that is not what is said.
    """
    here = cur.at
    cur.take("on", "upon", "onto")
    n = parse_number(cur, ctx)
    skip(cur, "double", "-", "pointed", "steel")
    if n is not None and cur.take("needles", "pins", "dpns") is not None and cur.peek().value is not None:
        return min(n.at(0) or 2, 20)
    cur.at = here
    return 0


_SHARING = frozenset(
    "and divide divided distribute distributed arrange arranged them sts stitches evenly equally these the"
    .split()
)  # fmt: skip


def _how_many(cur: Cursor) -> int:
    """("and"? "divide" "them"?)? ("on" | "over" | "between") NUMBER "needles": how many needles share the
    stitches; 0 if that is not said.
    """
    at = next((i for i in range(6) if cur.peek(i).low not in _SHARING), 6)
    if cur.peek(at).low not in {"on", "onto", "over", "between", "among"}:
        return 0
    return int(cur.peek(at + 1).value or 0) if cur.peek(at + 2).low in {"needles", "pins", "dpns"} else 0


def _needles(cur: Cursor, ctx: Context) -> tuple[Number, ...] | None:
    """NEEDLES: "on" NUMBER? "needles" ":"? (NUMBER "-")*: which needles hold them: "on 3 needles
    16-18-16", "onto larger needles".
    """
    here = cur.at
    if cur.take("on", "onto", "to", "over", "with", "using", "divided", "and") is None:
        return None
    skip(cur, "divide", "on", "over", "onto", "evenly", "to", "among", "between")
    n = until_mark(cur, 9)
    for i in range(n):
        if cur.peek(i).low in {"needle", "needles", "pin", "pins", "dpn", "dpns", "circular", "hook"}:
            break
    else:
        cur.at = here
        return None
    cur.at += i + 1
    skip(cur, "needle", "needles")
    out: list[Number] = []
    at = cur.at
    skip(cur, ":", ",", "-")
    while True:
        if cur.peek().kind != "n":
            break
        number = parse_number(cur, ctx)
        if number is None:
            break
        out.append(number)
        at = cur.at
        if not skip(cur, "-", ",", "+", "/", "and"):
            break
    cur.at = at
    if out:
        cur.phrase("stitches|sts? on each")
    return tuple(out)


def _how(cur: Cursor) -> tuple[str, bool] | None:
    """("using" | "with" | "by")? METHOD "cast on"? "method"? | "loosely" | "provisionally"."""
    here = cur.at
    if cur.take("loosely", "firmly", "very", "tightly", "evenly") is not None:
        return "", False
    if cur.take("provisionally") is not None:
        return "provisional", True
    if cur.any_phrase("in|with|using|onto|on waste|scrap|contrast yarn|wool") is not None:
        return "provisional", True
    if cur.take("using", "with", "by", "in", "(") is None:
        return None
    closing = cur.peek(-1).low == "("
    skip(cur, "the", "a", "an", "your", "any", "favorite", "favourite", "preferred")
    n = until_mark(cur, 8, frozenset({"and"}))
    words = (
        " ".join(cur.peek(i).low for i in range(n)).replace(" - ", " ").replace("-", " ").replace("'s", "")
    )
    if not any(m in words for m in _METHODS) and "cast on" not in words and "method" not in words:
        cur.at = here
        return None
    cur.at += n
    if closing and cur.take(")") is None:
        cur.at = here
        return None
    name = words
    for tail in (" method", " cast on", " co", " cast on method", " technique"):
        name = name.removesuffix(tail)
    return name.strip(), "provisional" in name


def _row_counts(cur: Cursor) -> bool:
    """ROW-COUNTS: "(" "counts as" "first row" ")": the cast-on is a row of the pattern."""
    here = cur.at
    cur.at += 1
    skip(cur, "this", "which", "cast", "on", "-")
    if cur.any_phrase(
        "counts as the? first|1st row", "counts as row 1", "is row 1", "is the first|1st row", "= row 1"
    ) and (cur.take(")", "]") is not None):
        return True
    cur.at = here
    return False
