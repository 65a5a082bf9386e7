"""Words that go along with what is worked and work nothing themselves: how needles are changed, the yarn
held, the chart read, the cast-on made.

In: a cursor after something was read, and what was read. Out: whether such words were taken; they belong to
the words of the last instruction. What they say is not checked. Remarks on what comes of a row are in
``customs``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from msgspec.structs import replace as changed

from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.tree import Action, CastOn, Fill, Note, Unread

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor

__all__ = ["EARLY", "take_reminder"]

EARLY = frozenset(
    "changing switching instead drawing stranding carrying pull omitting leaving with working"
    " treating measured use"
    " preferably alternating across".split()
)
"""Words that begin a reminder where other readers might take them for something else."""

_MOST = 40
"""No reminder is looked at for more words than this."""
_STOPS = frozenset({".", ";", ":", "(", "[", "*", "**"})
_NEXT = frozenset(
    "knit purl k p cast bind slip sl turn work repeat rep cont continue pick join make decrease"
    " increase inc dec"
    " place sew graft end ending".split()
)
"""What these words begin is worked, and no part of a reminder."""
_TOOLS = r"(?:needles?|ndls?|dpns?|pins?|circulars?|loop|cable)\b"
_YARN = r"(?:yarns?|wools?|threads?|cottons?|colou?rs?|floats?|strands?|ends?|loop|tails?)\b"
_REMINDERS = tuple(
    re.compile(p)
    for p in (
        # "with the small needle", "with the No. 18 needles", after what is worked with it
        (
            r"(?:with|using) (?:the |a |your |two |2 |same |pair of )*(?:[a-z]+ )?(?:no \. \d+ )?(?:[a-z]+"
            rf" )?{_TOOLS}"
            r"(?! (?:to|from|knit|purl|cast|pick|work))"
        ),
        # "changing to dpns when the sts no longer fit", "switching to the shorter needle as needed"
        rf"(?:chang|switch|mov|go|swapp)ing (?:back |over |up |down )?(?:to|on ?to) .{{0,30}}?{_TOOLS}",
        r"(?:omitting|leaving out|skipping) (?:the )?(?:last|first|final|end) (?:marker|m|pm|mk)\b",
        # "reading all rows from right to left", "following the chart from right to left"
        (
            r"(?:reading|following) (?:all |every |each |odd |even |both |rs |ws |the )*(?:numbered |- )*"
            r"(?:chart|charted)? ?(?:rows?|rnds?|rounds?|lines?|chart)?\b.*\b(?:left|right|top|bottom)\b"
        ),
        # "or holder for 3 needle bind off", after stitches that are left on a needle
        r"or (?:on )?(?:a |an )?(?:st(?:itch)? )?(?:holder|spare needle|waste yarn)\b",
        # "ready to work a wrong side row"
        (
            r"(?:ready|so as|in order) (?:to|for) (?:work|start|begin)(?:ing)? (?:a|the|with a) (?:next )?"
            r"(?:ws|rs|wrong(?: - | )side|right(?: - | )side|knit|purl) row"
        ),
        # "working new sts into pattern"
        (
            r"(?:working|taking|bringing|incorporating|knitting) (?:the |all )?(?:new|increased|extra|added)"
            r" (?:sts|stitches|ones) (?:in|into|in to) (?:the )?(?:patt|pattern|rib|ribbing|lace)\b"
        ),
        # "working 8 repeats per rnd", "with 6 pattern repeats in each round"
        (
            r"(?:working|repeating|with|making|there are|knitting) (?:the )?(?:chart |pattern |motif )?"
            r"(?:\d+|two|three|four|five|six|seven|eight|nine|ten|twelve)"
            r" (?:- )?(?:chart |pattern |patt |full |complete )?(?:repeats?|reps?|times|patterns|motifs)"
            r" (?:per|in (?:each|every|the)|each|every|around|across|round|altogether|in all)\b"
        ),
        # "drawing the wool tightly across the back", "pull yarn tight across the back", "stranding loosely"
        (
            r"(?:drawing|pulling|stranding|carrying|weaving|catching|holding|twisting|crossing|pull|draw"
            r"|bringing"
            rf"|keeping|taking|twist|strand|weave|catch)"
            rf" (?!through\b)(?:up |in )?(?:the |your |both |all |it )?(?:[a-z-]+"
            rf" ){{0,4}}?{_YARN}(?!.*\bthrough\b)"
            r".*\b(?:across|behind|backs?|tight(?:ly)?|loose(?:ly)?|together|wrong side|ws|side|along|inside"
            r"|each other|every|snug(?:ly)?|firm(?:ly)?)\b"
        ),
        r"(?:alternating|changing) (?:the )?(?:two |2 |both )?(?:colou?rs?|yarns?)\b",
        (
            r"(?:preferably|ideally|if possible|if (?:necessary|needed|required|desired|preferred|you"
            r" (?:wish|like"
            r"|prefer)))\b"
        ),
        (
            r"(?:while |whilst )?(?:maintaining|preserving) (?:the )?(?:continuity|patt|pattern|lace"
            r"|cable|rib|stripe)"
        ),
        # "as there are now fewer stitches", "when they will no longer fit"
        (
            r"(?:as soon as|when|once|as) (?:there are|there is|the|they|sts|stitches|it|necessary"
            r"|needed|required)\b"
            r"(?!.*\b(?:until|measures?|remain|rem|\d)\b)"
        ),
        # "as the stitch count decreases"
        r"as (?:the )?(?:st|stitch|number of (?:sts|stitches)) (?:count )?(?:decreases?|gets?|grows?)\b",
        # "leaving an opening for the elastic", "leaving a gap for the thumb"
        r"leaving (?:an?|the|small|one|some|\d) .{0,40}?(?:open(?:ing)?|gap|space|slit|hole)\b",
        (
            r"with (?:one|a|1) (?:seam|centre|center|middle) (?:stitch|st) (?:at|in|up|down) the"
            r" (?:back|middle|centre)"
        ),
        # "measured along the edge", "measuring from the fold"
        r"(?:measured|measuring) (?:from|along|at|across|over|up|down|on|when|while|flat|slightly)\b",
        (
            r"(?:holding|keeping) (?:the )?(?:two|2|both|pieces?|needles?|strands?|layers?)\b.*"
            r"\b(?:together|parallel|alike)\b"
        ),
        r"(?:across|over|to close|so closing|thus closing) (?:the |that |this |up the )?(?:gap|hole)\b",
        r"instead of (?:the )?(?:[kp]\d|[kp] \d|\d|knit|purl|last)",
        r"treating (?:each|the|every|both)\b",
        r"making sure\b",
        # "use a marker of another colour to indicate the beginning of the round"
        r"use (?:the |a |an |one )?.*\bmarkers?\b.* (?:indicate|mark|denote|show|tell)\b",
        (
            r"(?:matching|lining up|aligning) (?:the )?(?:edges?|ends?|corners?|seams?|rows?|stitches"
            r"|sts|markers?"
            r"|ridges?|sides?|points?|stripes?)"
        ),
    )
)
_OF_CAST_ON = re.compile(
    r"(?:using|with|by|in) (?:an? |the |your )?(?:[a-z'-]+ (?:- )?){0,5}?"
    r"(?:method|technique|cast - on|cast-on|cast on|loops?|tab|crochet chain)\b"
    r"|(?:at|on) (?:to )?the (?:left|right|other|free|same)(?: - hand| hand)? (?:end|side|tip) of\b"
    r"|(?:for|to form|as) (?:the |a |an )?(?:steek|bridge|underarm|gap|opening|tab|edging|border)\b"
    r"|say \d+|for instance \d+"
)
"""How and where it is cast on: "using the garter tab method", "at the left-hand end of the needle"."""


_INTO_DOUBLE = (
    (
        "working|knitting k 1 ,? and? p|purl|pearl 1 in|into each|every|the? double|twice? overs"
        "|over|yos|yo|loops"
    ),
    "working|knitting k1 ,? and? p1 in|into each|every|the? double|twice? overs|over|yos|yo|loops",
    "working p 1 ,? and? k 1 in|into each|every|the? double overs|over|yos|yo",
)
"""Each loop of a double over is worked as a stitch, as they are anyway."""


def take_reminder(cur: Cursor, out: list[Action]) -> bool:
    """REMINDER: ","? ("and")? one of ``_REMINDERS``, up to the next mark or order; joined to what stands
    before.
    """
    here = cur.at
    if out and not isinstance(out[-1], Unread) and _sized(cur):
        out[-1] = changed(out[-1], span=out[-1].span.cover(cur.span_from(here)))
        return True
    if out and isinstance(out[-1], Fill) and cur.any_phrase(*_INTO_DOUBLE):
        out[-1] = changed(out[-1], span=out[-1].span.cover(cur.span_from(here)))
        return True
    if not out or isinstance(out[-1], Unread | Note) or cur.peek().kind not in {"w", "s"}:
        return False
    n = _clause(cur)
    words = " ".join(t.low for t in cur.tokens[here : here + n])
    words = words.removeprefix("and ")
    if not words or not (
        any(r.match(words) for r in _REMINDERS)
        or (isinstance(out[-1], CastOn) and _OF_CAST_ON.match(words) is not None)
    ):
        return False
    cur.at += n
    if cur.peek().low == "(" and (end := aside_end(cur)) > 0 and words.startswith(("chang", "switch")):
        cur.at = end
    out[-1] = changed(out[-1], span=out[-1].span.cover(cur.span_from(here)))
    return True


_NUMBERED = frozenset({"no", "nos", "number", "numbers", "size"})
_SIZED = frozenset({"needles", "needle", "pins", "pin"})


def _sized(cur: Cursor) -> bool:
    """SIZED: "No. 18 needles", "pins No. 12", as a clause of its own: with what it is worked; taken."""
    here = cur.at
    sort = cur.take(*_SIZED)
    cur.take(",")
    if cur.take(*_NUMBERED) is None:
        cur.at = here
        return False
    cur.take(".")
    if cur.peek().kind != "n":
        cur.at = here
        return False
    cur.at += 1
    while sort is None and cur.peek().low in {"steel", "bone", "wooden", "bent", "long", "short"}:
        cur.at += 1
    if (sort is None and cur.take(*_SIZED) is None) or cur.peek().low not in {"", ".", ",", ";", "-"}:
        cur.at = here
        return False
    return True


def _clause(cur: Cursor) -> int:
    """How many words the clause here has: up to a mark, or to a comma or "and" before an order."""
    n = 0
    while n < _MOST and (t := cur.peek(n)).kind and t.low not in _STOPS:
        after = cur.peek(n + 1)
        if n and t.low in {",", "and", "then"} and (after.low in _NEXT or after.kind in {"s", "n"}):
            break
        if n and t.low == "," and after.low in {"and", "then"} and cur.peek(n + 2).low in _NEXT:
            break
        n += 1
    return n
