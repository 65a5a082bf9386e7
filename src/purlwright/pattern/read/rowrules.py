"""Rules that hold of many rows: "every other round is plain", "always slip the first stitch", "the double
overs to be worked as one stitch", "only RS rows are drawn; purl all WS rows".

In: a cursor. Out: a rule for the rows, or nothing.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.pattern.tree import Fill, InPattern, Number, Place, PlaceKind, RowRule, Work

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Step

__all__ = ["parse_rule"]

_MOST = 60
"""No rule is looked at for more words than this."""
_STOPS = frozenset({".", ";", "(", ")", "[", "]", "!", "*", "**", ":"})
_ONE = Number(values=(1,))
_ROW = r"(?:rows?|rounds?|rnds?)"
_KNIT = r"(?P<how>plain|knit(?:ted)?(?: plain)?|purl(?:ed)?|pearl(?:ed)?|seam(?:ed)?)"
_ALTERNATE = (
    re.compile(
        rf"(?:the )?(?:every|each|all the|all|the)? ?(?:other|second|2nd|2d|alternate|intermediate"
        rf"|intervening"
        rf"|even|back|return) {_ROW}(?: (?:from|after) (?:this|here)(?: one| row| round)?)?(?: (?:is"
        rf"|are|being|to be|must be|should be))?(?: (?:all|to be|always))*"
        rf"(?: (?:knit(?:ted)?|worked))?(?: in)? {_KNIT}(?: knitting)?$"
    ),
    re.compile(
        rf"(?:a|one|1) {_KNIT} {_ROW} (?:is |to be )?(?:always )?(?:knit(?:ted)?|worked|done|comes"
        rf"|follows|occurs)?"
        rf" ?(?:between|after|in between) (?:every|each|all)\b.*"
    ),
    re.compile(rf"(?:knit|work|purl|do) (?:a|one|1) {_KNIT} {_ROW} (?:between|after) (?:every|each)\b.*"),
    re.compile(
        rf"(?:always )?(?:with|knitting|working) (?:a|one|1) {_KNIT} {_ROW} (?:between|after) (?:every"
        rf"|each|them)\b.*"
    ),
    re.compile(rf"(?:and )?{_KNIT} (?:every|each|all the|the) (?:other|second|alternate|even) {_ROW}$"),
    re.compile(
        rf"(?:every|each) (?:other|alternate|second) {_ROW} (?:is |being )?the same(?: as this)?(?P<how>)$"
    ),
    re.compile(rf"every {_ROW} (?:that is )?(?:not (?:mentioned|given|described)) (?:is|are) {_KNIT}$"),
)
_SLIP_FIRST = re.compile(
    r"(?:(?:and|but) )?(?:(?:always |invariably |be sure to |remember to |remembering to )slip(?:ping)?"
    r"|slipping|slip(?=.*\b(?:every|each) (?:row|round|needle)))(?: off)?"
    r" (?:the )?(?:first|1st|edge|end)(?: (?:knitted|edge))? (?:st|stitch)(?: (?:of|on|at|in)(?: the)?"
    r"(?: (?:beginning|commencement|start) of)?(?: (?:every|each|all the|the|a))?"
    rf" (?:{_ROW}|needle|time))?(?: without knitting(?: it)?)?(?: throughout| as usual)?\b"
    r"(?! (?:and|over|on to|to the)\b)"
)
_AND_LAST = re.compile(
    r"slipping the first (?:stitch )?and (?:knitting|pearling|purling|seaming) the last(?: stitch)?"
    r"(?: (?:of|in|on) (?:every|each|the) (?:row|needle|time))?(?! [a-z])"
)
_SLIPPED_FIRST = re.compile(
    rf"(?:in (?:every|each) row the (?:first|1st) stitch|the (?:first|1st) stitch (?:of|in|on)"
    rf" (?:each|every|all the) (?:{_ROW}|needle)) "
    r"(?:is|must be|should be|to be|being)(?: always| to be)? (?:slipped|taken off)"
)
_SLIP_AT = re.compile(
    r"(?:observe )?(?:at|in) the (?:commencement|beginning) of (?:every|each) row (?:to )?"
    r"(?:make a slip ?-? ?stitch|slip (?:the first stitch|a stitch|one|1))"
)
_DOUBLE = re.compile(
    r"(?:(?:and|but) )?(?:always )?(?:knit(?:ting)?|work(?:ing)?|purl(?:ing)?|seam(?:ing)?"
    r"|pearl(?:ing)?)?(?: only)?"
    r" ?(?:the|each|every|all) (?:\w+ ){0,3}?(?:double(?! st)|two|2|twice|made|long|over|overs|stitches"
    r" that were|loops)\b"
    r".*\b(?:as|only as|into) (?:only )?(?:one|1|a single)(?: (?:stitch|st|loop))?(?: only| each)?$"
)
_DROPPED = re.compile(
    r"(?:and )?(?:dropping|letting (?:go|fall|drop)|slipping off|drop) (?:off )?(?:the (?:second|2nd"
    r"|other|extra)"
    r"|one|1|two|2|half)(?: (?:half|part|loops?|turns?|wraps?))? of (?:the|each|every)(?: double)? ?\"?"
    r" ?(?:overs?|loops?"
    r"|made stitch(?:es)?|puts? ?overs?|stitch(?:es)?)(?: \.)?(?: \")?"
)


def _lows(cur: Cursor, n: int) -> str:
    """The next ``n`` words in small letters, one space between them."""
    return " ".join(t.low for t in cur.tokens[cur.at : cur.at + n])


def _knit_or_purl(words: str) -> Step:
    stitch = "p" if words.startswith(("purl", "pearl", "seam")) else "k"
    return Fill(body=(Work(stitch=stitch, count=_ONE),), to=Place(kind=PlaceKind.END))


def parse_rule(cur: Cursor) -> RowRule | None:
    """RULE: "every other round is plain", "always slipping the first stitch", "the double overs to be worked
    as one stitch".
    """
    here = cur.at
    if cur.peek().low not in _RULES:
        return None
    undrawn = _undrawn(cur)
    if undrawn is not None:
        return undrawn
    if cur.any_phrase("alternate|alt|other|even|ws|back rows|rounds|rnds :|-"):
        how = cur.take("purl", "knit", "p", "k", "plain", "purled", "pearl")
        if how is not None and cur.peek().low in {"", ".", ";", ","}:
            way = "purl" if how.low.startswith("p") and how.low != "plain" else "knit"
            return RowRule(rule="alternate", steps=(_knit_or_purl(way),), span=cur.span_from(here))
        cur.at = here
    n = _clause_of_rule(cur)
    words = _lows(cur, n)
    for kind in _ALTERNATE:
        m = kind.match(words)
        if m is not None:
            cur.at += n
            told = (_knit_or_purl(m["how"]),) if m["how"] else ()
            return RowRule(rule="alternate", steps=told, span=cur.span_from(here))
    for kind, rule in _WHOLE:
        m = kind.match(words)
        if m is not None:
            cur.at += len(words[: m.end()].split())
            return RowRule(rule=rule, span=cur.span_from(here))  # type: ignore[arg-type]
    return None


_OTHERS = (
    r"(?:ws|rs|(?:wrong|right)(?: -)? side|(?:even|odd)(?: - numbered)?|alternate|other|remaining"
    r"|rest of the)"
)
_DRAWN = r"(?:shown|drawn|charted|given|on the chart|in the chart)"
_WORKED = (
    r"(?:(?P<how>knit(?:ted)?|purl(?:ed)?|plain)|(?:work(?:ed)? )?"
    r"(?P<appear>as (?:they|it|sts|the sts|stitches|the stitches) (?:appear|appears|present|face)))"
)
_UNDRAWN = (
    re.compile(
        rf"(?:only (?:the )?{_OTHERS} {_ROW} (?:is|are) {_DRAWN} ?[;:,.-]*(?: and)? ?)?"
        rf"(?P<how>purl|knit) (?:all|every|each|the|all the)(?: following)? {_OTHERS} {_ROW}(?: plain)?$"
    ),
    re.compile(
        rf"(?:only (?:the )?{_OTHERS} {_ROW} (?:is|are) {_DRAWN} ?[;:,.-]*(?: and)? ?)?"
        rf"(?:work )?(?:all|every|each|the|all the)? ?{_OTHERS} {_ROW}(?: (?:is|are))?(?: all)? {_WORKED}$"
    ),
    re.compile(
        rf"(?:only (?:the )?{_OTHERS} {_ROW} (?:is|are) {_DRAWN} ?[;:,.-]*(?: and)? ?)?"
        rf"(?:on|in) (?:all |the |all the |every )?{_OTHERS} {_ROW} ?,? (?P<how>knit|purl)"
        r"(?: (?:all|every|across|them|to end|the|sts|stitches|st|stitch))*$"
    ),
    re.compile(
        rf"(?:all |the |all the )?{_OTHERS} {_ROW} (?:is|are) not {_DRAWN} ?[;:,.-]*"
        rf"(?: (?:and|they|are|these))* {_WORKED}(?: (?:them|these|all|all sts|all of them))?$"
    ),
)


def _undrawn(cur: Cursor) -> RowRule | None:
    """UNDRAWN: "only RS rows are drawn; purl all WS rows", "even rounds are not shown: knit them"."""
    here = cur.at
    n = 0
    while n < _MOST and (t := cur.peek(n)).kind and t.low not in {".", "(", "["}:
        n += 1
    words = _lows(cur, n)
    for kind in _UNDRAWN:
        m = kind.match(words)
        if m is not None:
            cur.at += n
            how = m["how"]
            told = _knit_or_purl(how) if how else InPattern(how="as they appear")
            return RowRule(rule="alternate", steps=(told,), span=cur.span_from(here))
    return None


_WHOLE = (
    (_AND_LAST, "slip first"),
    (_SLIP_FIRST, "slip first"),
    (_SLIPPED_FIRST, "slip first"),
    (_SLIP_AT, "slip first"),
    (_DOUBLE, "double over"),
    (_DROPPED, "double over"),
)
_RULES = frozenset(
    "the every each all a one 1 knit work purl pearl seam do always with knitting working slip slipping"
    " take taking"
    " invariably in dropping letting drop but and alternate intermediate even other purling pearling"
    " seaming only ws rs remaining rest on alt back observe at".split()
)


def _clause_of_rule(cur: Cursor) -> int:
    """Up to the next mark, quotes passed over."""
    n = 0
    while n < _MOST and (t := cur.peek(n)).kind and t.low not in _STOPS and t.low != ",":
        n += 1
    return n
