"""Knitting on: the last (or first) stitch of a row worked together with a loop of an edge.

In: a cursor at such words. Out: :class:`EdgeJoin`. Which loop of the edge comes next is left to ``needles``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from purlwright.pattern.tree import Edge, EdgeJoin, Fill, Place, PlaceKind
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["parse_edge_join", "parse_hem"]

_FIRST = frozenset(
    "join joining with knit k purl p ssk k2tog p2tog skp ssp work knitting purling working last the and"
    " slip sl".split()
)
_COUNTED = frozenset("knit k purl p slip sl knitting purling work".split())
_ST = r"(?:sts?|stitch(?:es)?|loops?)"
_EDGE = (
    r"(?:edge|edging|border|body|shawl|scarf|side|cast - on|cast-on|cast on|centre|center|foundation|selvedge"
    r"|band|piece|main"
    r"|lace|front|back|needle|work|cloth|sole|picked - up|picked up)"
)
_OLD = re.compile(
    r"(?:with (?:a )?)?join(?:ing)?(?: it| this)?(?: (?:on )?to the (?P<edge>[^,;.()]{1,40}?))?"
    r" at (?:the|each) (?:other |same )?(?P<at>end|beginning)(?: of (?:the|each|every) (?:row|needle))?$"
)
_AS_BEFORE = re.compile(r"(?:with (?:a )?)?join(?:ing)? (?:as before|in the same (?:way|manner)|as usual)$")
_TO_EDGE = re.compile(
    rf"join(?:ing)?(?: it| this)?(?: {_ST})? (?:on )?to (?:the|a|one) (?:next |nearest |adjoining "
    rf"|following )?"
    rf"(?:{_ST} of )?(?P<edge>(?:the |this )?(?:\w+ )?{_EDGE}\b[^,;.()]{{0,30}})$"
)
_TAKE_UP = re.compile(
    rf"(?:and )?with the (?P<which>last|first) {_ST}(?: of (?:each|every|the) row)? ?,? (?:take|pick"
    rf"|knit|catch) (?:up |in )?"
    rf"(?:one|a|1|the next)(?: {_ST})?(?: (?:of|from|in|on) (?:the )?(?P<edge>[^,;.()]{{1,50}}?))?$"
)
_TOGETHER = re.compile(
    r"(?:and )?(?:(?P<verb>knit|k|purl|p|ssk|k2tog tbl|k2tog|p2tog|skp|ssp|work|knitting|purling"
    r"|working|slip|sl) )?"
    rf"\(? ?(?:the |this )?(?P<which>last|first|1|one|next|each|every) (?:remaining |live |hem )?"
    rf"(?:{_EDGE} )?{_ST}(?: (?:of|from)"
    rf" (?:the |this )?{_EDGE})?"
    r"(?: of (?:the|each|every) (?:row|needle))? (?:tog(?:ether)? )?(?:with|and|together with|along with)"
    r"(?: the| a| its| their)?(?: (?P<next>next|1|one|first|adjacent|following|nearest|corresponding))?"
    rf"(?P<words>(?: (?:live|held|waiting|open|on hold|{_EDGE}|of the edge|adjoining))*) ?{_ST}"
    rf"(?P<far> (?:on|of|from|in|off) (?:the |a )?(?P<edge>[^,;.()]{{1,50}}?))?(?: (?:tog|together))?"
    r"(?P<all> (?:across|around|to(?: the)? end))? ?\)?$"
)
_LIVE = re.compile(r"\b(?:live|held|waiting|open|hold|holder|spare|needle)\b")
_STITCHES = {
    "k2tog tbl": "k2tog tbl", "k2tog": "k2tog", "ssk": "ssk", "p2tog": "p2tog", "skp": "skp", "ssp": "ssp",
    "purl": "p2tog", "p": "p2tog", "purling": "p2tog", "knit": "k2tog", "k": "k2tog", "knitting": "k2tog",
}  # fmt: skip


def parse_edge_join(cur: Cursor) -> EdgeJoin | Fill | None:
    """EDGE-JOIN: "join at the end", "join as before", "with the last stitch take up one of the loops",
    "ssk last st with 1 live st of the shawl", "knit last st together with next st of edge", "knit each st
    together with its cast-on loop".
    """
    t = cur.peek()
    if t.low in _COUNTED and cur.peek(1).value is not None:
        return None
    if t.low not in _FIRST or not (t.low in {"join", "joining"} or _near(cur)):
        return None
    here = cur.at
    for n in sorted({_words(cur, commas=False), _words(cur, commas=True)}):
        words = " ".join(x.low for x in cur.tokens[here : here + n])
        found = _read(words)
        if found is None:
            continue
        edge_words, at, stitch, live = found
        cur.at = here + n
        span = cur.span_from(here)
        kind: Literal["live", "cast-on", "unknown"] = "unknown"
        if live:
            kind = "live"
        elif "cast" in edge_words.split() or "cast-on" in edge_words:
            kind = "cast-on"
        edge = Edge(words=edge_words.replace(" - ", "-"), kind=kind, span=span) if edge_words else None
        if at == "all":
            one = EdgeJoin(edge=edge, at="here", stitch=stitch, live=live, span=span)
            return Fill(body=(one,), to=Place(kind=PlaceKind.END, span=span), span=span)
        return EdgeJoin(edge=edge, at=at, stitch=stitch, live=live, span=Span(span.start, span.end))
    return None


_Found = tuple[str, Literal["here", "beginning", "end", "all"], str, bool]


def _read(words: str) -> _Found | None:
    m = _OLD.match(words)
    if m is not None:
        return m["edge"] or "", "beginning" if m["at"] == "beginning" else "end", "", False
    if _AS_BEFORE.match(words):
        return "", "end", "", False
    m = _TO_EDGE.match(words)
    if m is not None:
        return m["edge"].removeprefix("the "), "end", "", False
    m = _TAKE_UP.match(words)
    if m is not None:
        return m["edge"] or "", "end" if m["which"] == "last" else "beginning", "", False
    m = _TOGETHER.match(words)
    if m is None or not (m["next"] or m["far"] or m["words"]):
        return None
    edge = (m["edge"] or m["words"] or "").strip()
    if not (m["far"] or m["words"].strip() or m["next"]):
        return None
    live = _LIVE.search(f"{m['words']} {edge}") is not None
    every = m["which"] in {"each", "every"} or m["all"]
    if (every or m["which"] == "next") and "cast" not in f"{m['words']} {edge}":
        return None
    return edge, "all" if every else "here", _STITCHES.get(m["verb"] or "", ""), live


def _near(cur: Cursor) -> bool:
    """Whether "last", "first" or "1 st" stands among the next few words."""
    return any(
        cur.peek(i).low in {"last", "first", "join", "next", "each", "every"}
        or (i and cur.peek(i).low in {"1", "one"} and cur.peek(i + 1).kind == "w")
        for i in range(4)
    )


def _words(cur: Cursor, *, commas: bool) -> int:
    n = 0
    deep = False
    while n < 30 and (t := cur.peek(n)).kind and t.low not in {".", ";", "[", "]", "*", "**"}:
        if t.low == "," and n and not commas:
            break
        if t.low == "(":
            deep = True
        if t.low == ")":
            return n + 1 if deep else n
        if t.low == "," and n and commas and cur.peek(n + 1).low in {"turn", "knit", "purl", "k", "p"}:
            break
        if n and t.low in {"and", "turn"} and cur.peek(n + 1).low in {"turn", "", "."}:
            break
        if n and t.low == "turn":
            break
        n += 1
    return n


def parse_hem(cur: Cursor, ctx: Context, depth: int = 0) -> tuple[EdgeJoin | Fill] | None:
    """HEM: "k next st together with the corresponding cast-on st" within a row or a repeat."""
    del ctx, depth
    if "cast" not in cur.kept:
        return None
    here = cur.at
    found = parse_edge_join(cur)
    if found is None:
        cur.at = here
    return None if found is None else (found,)
