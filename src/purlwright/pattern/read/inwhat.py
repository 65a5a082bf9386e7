"""What rows are worked in: "in k2, p2 rib", "even", "in MC", "as set", and the words in brackets that say
it again.

In: a cursor after the number of rows, or after "work". Out: the steps of one row. How many rows is left to
``rows``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from purlwright.pattern.read.amounts import skip, until_here
from purlwright.pattern.read.fills import parse_ground
from purlwright.pattern.read.gloss import explained
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.tree import (
    Fill,
    InGround,
    InPattern,
    Number,
    Place,
    PlaceKind,
    Repeat,
    Said,
    Turn,
    Work,
    Yarn,
)

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Step

__all__ = ["across", "in_what", "whole_row"]


def whole_row(key: str) -> Fill:
    """A whole row of one stitch."""
    return Fill(body=(Work(stitch=key, count=Number(values=(1,))),), to=Place(kind=PlaceKind.END))


def _cord(cur: Cursor, here: int) -> tuple[Step, ...]:
    """CORD: each row knitted, and the stitches slid back to where it began."""
    span = cur.span_from(here)
    return (replace(whole_row("k"), span=span), Turn(slide=True, span=span))


_HOW = Phrases(
    "plain", "even", "straight", "evenly", "without shaping", "without shapings",
    "without further|any|more shaping|shapings|increasing|decreasing",
    "in the round|rnd|rounds|rnds", "in rounds",
    "back and forth", "each way", "backwards and forwards", "backward and forward", "in rows",
    "even in pattern|patt|pat stitch|st?",
    "in the? pattern|patt|pat stitch|st", "in pat",
    "in pattern", "in patt", "in pattern as set", "in patt as set", "in pattern as established", "as set",
    "as established", "as before", "forward and back", "forwards and backwards", "all round", "around",
    "across",
    "every stitch", "every st", "every|each row|round|rnd", "all rows|rounds|rnds", "quite plain",
    "all knit", "plain knitting",
    "in the same way", "like this", "in this|the|that same? way|manner|fashion", "as usual", "as follows",
    "as above|before|directed|described|usual|given|instructed|follows", "as they are",
)  # fmt: skip


_MANNER = frozenset("firmly loosely tightly neatly evenly straight".split())


_PATTERNS = frozenset(
    "brioche lace cable cables rib colourwork pattern patt texture mosaic stripe stripes".split()
)


def _established(cur: Cursor) -> bool:
    """ESTABLISHED: "in" ("est" | "established") WORDS, the last of them a kind of pattern; taken."""
    if cur.peek().low != "in" or cur.peek(1 + (cur.peek(1).low == "the")).low not in {"est", "established"}:
        return False
    for n in range(2, 9):
        t = cur.peek(n)
        if t.low in _PATTERNS and cur.peek(n + 1).low in {"", ".", ",", ";", "until", "for", "(", "and"}:
            cur.at += n + 1
            return True
        if t.kind not in {"w", "s"} and t.low != "-":
            return False
    return False


_KINDS = frozenset(
    "cable cabled lace stitch st rib ribbed colour color colourwork slip slipped texture textured eyelet"
    " chevron stripe striped aran basket moss seed diamond check mosaic brioche twist twisted above main"
    " overall".split()
)


def _in_its_pattern(cur: Cursor) -> bool:
    """KIND: "in" "the"? WORDS ("patt" | "pattern"), by what the pattern on the needle is called; taken."""
    if cur.peek().low != "in":
        return False
    first = n = 1 + (cur.peek(1).low == "the")
    while cur.peek(n).low in _KINDS:
        n += 1
    if n == first or cur.peek(n).low not in {"patt", "pat", "pattern"}:
        return False
    here = cur.at
    cur.at += n + 1
    cur.any_phrase("as set|established|before")
    if cur.peek().low in {"", ".", ",", ";", "until", "till", "for", "to"}:
        return True
    cur.at = here  # "in lace patt as follows": the rows stand under it
    return False


def said_even(cur: Cursor, here: int) -> Literal["set", "even"]:
    """Whether the words from ``here`` say that nothing is shaped: "even", "straight", "without shaping"."""
    lows = {t.low for t in cur.tokens[here : cur.at]}
    return "even" if lows & {"even", "straight"} or {"without", "shaping"} <= lows else "set"


def in_what(cur: Cursor, ctx: Context) -> tuple[Step, ...] | None:
    """("in" | "of")? (GROUND | STEPS | "MC" | "pattern") | "even" | "as" STEPS: what those rows are worked
    in.
    """
    body: tuple[Step, ...] = ()
    yarn: tuple[Step, ...] = ()
    found = False
    if cur.peek().low in _MANNER and cur.peek(1).low == "in":
        cur.at += 1
    while True:
        here = cur.at
        how = _HOW.take(cur)
        if how is not None:
            found = True
            continue
        if cur.phrase("in|of? a|an? i - cord") or cur.phrase("in? a|an? idiot|knitted cord"):
            body += _cord(cur, here)
            found = True
            continue
        if _established(cur):
            body += (InPattern(span=cur.span_from(here)),)
            found = True
            continue
        closing = None
        if cur.peek().low == "(" and cur.peek(1).low in {
            "garter",
            "stockinette",
            "st",
            "stocking",
            "rib",
            "k",
            "knit",
        }:
            cur.at += 1
            closing = ")"
        ribs = _plain_and_purl(cur)
        if ribs is not None:
            body = (*(a for a in body if not isinstance(a, InPattern)), ribs)
            found = True
            continue
        lead = cur.peek().low
        if lead in ctx.yarns and not found:
            yarn += (Yarn(act="use", colour=cur.next().text, span=cur.span_from(here)),)
            found = True
            continue
        if lead in {"rib", "ribbing"} and until_here(cur, 1):
            cur.at += 1
            cur.any_phrase("as at|in the? beginning|start", "as before")
            body += (InPattern(how="rib", span=cur.span_from(here)),)
            found = True
            continue
        if lead in {"in", "of", "with", "as", "using"}:
            at = cur.at
            colour = _colour(cur, ctx)
            if colour is not None:
                yarn += (Yarn(act="use", colour=colour, span=cur.span_from(at)),)
                found = True
                continue
            if lead in {"with", "using"}:
                cur.at = here
                return (yarn + body) if found else None
            cur.at += 1
            if cur.phrase("k|knit|p|purl sts|stitches"):
                body += (whole_row("k" if cur.peek(-2).low in {"k", "knit"} else "p"),)
                found = True
                continue
            skip(cur, "the", "a", ":", "follows")
        got = _ground_or_steps(cur, ctx, wide=lead in {"in", "of", "as"})
        if got is None or (closing is not None and cur.take(closing) is None):
            cur.at = here
            if _in_its_pattern(cur):
                body += (InPattern(span=cur.span_from(here)),)
                found = True
                continue
            return (yarn + body) if found else None
        if body and isinstance(body[-1], InPattern) and (lead == "of" or isinstance(got[0], InGround)):
            # "in rib of k1, p1"
            body = body[:-1]
        body += got
        found = True
        explained(cur)


def across(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """A row of "k2, p2 for 3 cm" is k2, p2 over and over: knits and purls alone, repeated across."""
    first = next((i for i, s in enumerate(steps) if not isinstance(s, Yarn)), len(steps))
    body = steps[first:]
    if len(body) < 2 or not all(isinstance(s, Work) and s.stitch in {"k", "p"} for s in body):
        return steps
    span = body[0].span.cover(body[-1].span)
    return (*steps[:first], Repeat(body=body, said=Said.OPEN, mark="", span=span))


_PLAIN_WORDS = frozenset("plain knit purl pearl purled".split())


def _plain_and_purl(cur: Cursor) -> InGround | None:
    """PLAIN-AND-PURL: "in ribs of 2 plain and 2 purl", "2 plain, 2 purl": a rib as old books word it."""
    from purlwright.stitches.load import grounds

    here = cur.at
    cur.take(",")
    if cur.phrase("of|in alternate? knitting|plain and purling|pearling|pearl knitting?"):
        return InGround(ground="stockinette", span=cur.span_from(here))
    if cur.phrase("in? rows|rounds of plain and|& purl|pearl alternately?") or cur.phrase(
        "in? plain and|& purl|pearl rows alternately?"
    ):
        return InGround(ground="stockinette", span=cur.span_from(here))
    if cur.phrase("in? a? ribs|rib|ribbing of") and isinstance(cur.peek().value, int):
        knits, purls = cur.peek().value, cur.peek(2).value
        if (
            cur.peek(1).low in {"and", "by", "x"}
            and isinstance(purls, int)
            and cur.peek(3).low not in _PLAIN_WORDS
        ):
            both = grounds().find(f"k{knits}, p{purls} rib")
            if both is not None:
                cur.at += 3
                return InGround(ground=both.key, span=cur.span_from(here))
    cur.at = here
    cur.take(",")
    if cur.phrase("in ribs|rib|ribbing of?") and cur.peek(-1).low in {"of", "ribs"}:
        width = cur.peek().value
        if isinstance(width, int) and cur.peek(1).low not in {"plain", "knit", "and", "purl", "pearl"}:
            known = grounds().find(f"k{width}, p{width} rib") if 0 < width < 20 else None
            if known is not None:
                cur.at += 1
                cur.any_phrase("stitches|sts", "and|by three|two|four|3|2|4")
                return InGround(ground=known.key, span=cur.span_from(here))
    one, kind = cur.next(), cur.peek()
    if isinstance(one.value, int) and cur.take("plain", "knit") is not None and skip(cur, "and", ",", "&"):
        two = cur.next()
        if isinstance(two.value, int) and cur.take("purl", "pearl", "purled") is not None:
            found = grounds().find(f"k{one.value}, p{two.value} rib")
            if found is not None:
                return InGround(ground=found.key, span=cur.span_from(here))
    del kind
    cur.at = here
    return None


def _colour(cur: Cursor, ctx: Context) -> str | None:
    """("in" | "with" | "using") YARN: "in MC", "with A"; the next token must be one of the pattern's
    yarns.
    """
    skip_ = 2 if cur.peek(1).low in {"the", "yarn", "colour", "color"} and cur.peek(2).low in ctx.yarns else 1
    t = cur.peek(skip_)
    if (
        (t.low in ctx.yarns and (len(t.text) > 1 or t.text.isupper()))
        or t.low in {"mc", "cc", "cc1", "cc2"}
        or (len(t.text) == 1 and t.text in "ABCD")
    ):
        cur.at += skip_ + 1
        return t.text
    return None


def _ground_or_steps(cur: Cursor, ctx: Context, *, wide: bool) -> tuple[Step, ...] | None:
    """GROUND, or (after "in" or "as") STEPS: "k2, p2 rib", "*(p1, k8) around"."""
    ground = parse_ground(cur, ctx)
    if ground is not None:
        cur.take("rib", "ribbing")
        return ground
    if not wide:
        return None
    # loaded here: steps reads whole rows and may come to need this file
    from purlwright.pattern.read.steps import parse_step

    body: tuple[Step, ...] = ()
    while True:
        here = cur.at
        skip(cur, ",")
        step = parse_step(cur, ctx)
        if step is None:
            cur.at = here
            break
        body += step
        last = step[-1]
        if isinstance(last, InPattern | InGround) and last.count is None and last.to is None:
            # "in rib as set, dec 1 st ...": a whole row, and what follows is no part of it
            cur.any_phrase("as set|established|before")
            break
    if body:
        cur.take("rib", "ribbing", "pattern")
    return across(body) or None
