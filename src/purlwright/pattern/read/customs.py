"""What old books add to an instruction: results, reminders, asides, joins to an edge.

In: a cursor after something was read, and what was read. Out: whether it was taken; the list is changed. A
remark about what was just worked belongs to the words of that instruction; a rule or a join is a node of its
own. What a remark says is not checked.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace as changed

from purlwright.pattern.read.byneedle import on_the_needle
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.tree import (
    Action,
    Fill,
    Hold,
    InGround,
    InPattern,
    Note,
    Number,
    PickUp,
    Place,
    PlaceKind,
    Repeat,
    RowRule,
    Said,
    Shaping,
    SlipBack,
    Stated,
    Unread,
    Work,
    WorkRows,
)

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor

__all__ = ["take_aside", "take_hanging", "take_heading", "take_remark", "take_row_rule"]

_ONE = Number(values=(1,))
_MOST = 60
"""No remark is looked at for more words than this."""
_STOPS = frozenset({".", ";", "(", ")", "[", "]", "!", "*", "**", ":"})
_ORDERS = frozenset(
    "knit purl pearl seam k p cast bind slip turn work repeat rep continue take pick put join make"
    " narrow widen"
    " decrease increase begin bring throw pass sl draw change divide sew".split()
)


def _clause(cur: Cursor, *, commas: bool = True) -> int:
    """How many words the clause here has: to a stop, or to a comma before an order or before "and" and an
    order.
    """
    n = 0
    pad = cur.pad
    while n < _MOST and (t := cur.peek(n)).kind and t.low not in _STOPS and t.low != "=":
        if t.low == "-" and pad[cur.at + n + 1].low == "-":
            break
        if t.low == "," and n:
            after = cur.peek(n + 1).low
            if after in {"and", "then"} and cur.peek(n + 2).low in _ORDERS:
                break
            if (commas and after in _ORDERS) or cur.peek(n + 1).kind == "s":
                break
        if t.low == "and" and n and cur.peek(n + 1).low in _ORDERS:
            break
        n += 1
    return n


def _lows(cur: Cursor, n: int) -> str:
    """The next ``n`` words in small letters, one space between them."""
    return " ".join(t.low for t in cur.tokens[cur.at : cur.at + n])


# --- remarks ---------------------------------------------------------------------------------------------

_IT = (
    r"(?:(?:this|these|that|those|which|it|they|all|both|the)(?: (?:last|first|next|whole|other|two"
    r"|three|\d+))?"
    r"(?: (?!of\b|to\b|in\b|at\b)[a-z]+){0,3}?)"
)
_NOW = r"(?: (?:now|then|thus|also|again|just|all|always|of course))?"
_WILL = r"(?: (?:will|should|shall|would|must|ought to|may|can))?"
_RESULT = re.compile(
    rf"(?:and |so |for |as )?{_IT}{_NOW}{_WILL}{_NOW} (?:"
    r"brings?|ends?|finish(?:es)?|concludes?|completes?|forms?|makes?|leaves?|gives?|reduces?|begins?"
    r"|commences?"
    r"|increases?|constitutes?|produces?|causes?|keeps?|prevents?|allows?|serves?|comprises?|looks?"
    r"|shows?|lies?"
    r"|resembles?|matche?s?|measures?|corresponds?|appears?|brought|formed|made|comes?|stands?|has|have"
    r"|(?:is|are|be)(?: (?:now|then|thus|also|to be|quite|all|both))*"
    r" (?:(?:done|made|worked|formed|produced|knitted) (?:by|thus|as)|the|a|an|finished|complete"
    r"|completed|done|ready|on|in|at|for|called|\d+|alike|reversed|all|right|wrong"
    r"|plain|open|left|formed|long|made|seen|found|nearly|half|worked off)"
    r")(?: |$)"
)
"""THIS-ENDS: "this brings you to the end of the needle", "which completes the pattern", "the row is now
finished".
"""
_HAVE = re.compile(
    r"(?:and |so |now |then |here |in this way |thus |when )*"
    r"(?:you (?:will |should |must |ought (?:now )?to )?(?:now |then |thus |only "
    r"|still )?"
    r"(?:have|be|find|see|are)\b|there (?:will |should |must |ought to )?(?:now |then |thus |still )?"
    r"(?:be|are|is|remains?)\b|leaving\b|having\b|making\b|completing\b|finishing\b|bringing you\b"
    r"|ending the\b)"
)
"""YOU-HAVE: "you have now 3 stripes on the front needle", "there will be a hole", "completing the leg"."""
_CARE = re.compile(
    r"(?:and |but |only |always |be )*(?:remembering|taking (?:great )?care|being (?:very )?careful|be"
    r" (?:very )?"
    r"careful|take care|observing|bearing in mind|recollecting|recollect|remember|careful|care must be"
    r" taken|mind"
    r"|minding)\b(?! to (?:k|p|knit|purl|pearl|seam|narrow|widen|slip|cast|repeat|make|decrease|increase)\b)"
)
"""CARE: "remembering that this is the pattern row", "taking care not to drop the loops"."""
_BUT_FOR = re.compile(
    r"(?:all plain |all )?(?:except|excepting|save|saving|but) (?:for )?(?:that )?(?:the|at the|those)"
    r" (?:\w+ )?"
    r"(?:seam|edge|border|end|centre|middle|side|ribbed)\b"
)
"""BUT-FOR: "except the seam-stitch", what goes on as it was."""
_BY_DOING = re.compile(
    r"(?:putting (?:the|your) (?:thread|wool|cotton|silk) (?:down|back|in)|by (?:knitting|taking"
    r"|picking|working|putting|throwing|passing|making|lifting|slipping"
    r"|bringing|seaming|purling)"
    r"|(?:or |and )?without (?:narrowing|decreasing|increasing|widening|shaping|knitting)|beyond (?:it|the"
    r" seam)"
    r"|past (?:it|the seam)"
    r"|(?:and )?(?:are|is) repeated throughout|to be (?:called|known)|which is (?:called|known)|(?:and"
    r" )?(?:distributed|placed|spaced) (?:evenly|along|at)"
    r"|on ?to (?:one|a|the same|another|the first|this) (?:needle|pin)|with the others?|(?:of )?the"
    r" other needles? (?:the same)?)\b"
)
"""BY-DOING: "by taking up the loop below", "without narrowing": how it is done, after it is said."""
_LAST_TOO = re.compile(
    r"(?:and )?the last(?: stitch)?(?: of each row)? (?:is|must be|should be|to be|being)(?: always)?(?: to"
    r" be)? "
    r"(?:plain )?(?:knit|knitted|worked)(?: plain)?$"
)
"""LAST-TOO: "the last stitch is to be plain knitted", after the rule that the first is slipped."""
_UNSAID = re.compile(
    r"(?:these|which|this|we|they|such|the) (?:.{0,40} )?(?:not|no more|no longer|never|neither|nor) (?:be )?"
    r"(?:again )?(?:mention(?:ed)?|given|counted|named|described|repeated in|noticed|referred)"
)
"""UNSAID: "these plain rows will not be mentioned again"."""
_SO_THAT = re.compile(
    r"(?:(?:so )?as (?:not )?to|so that|in order (?:to|that)|to (?:give|form|keep|make it|make them|match"
    r"|correspond"
    r"|increase|prevent|offset|reverse|allow|look)|for (?:this|that|it) is|as (?:this|that|it|these"
    r"|directed|described"
    r"|explained|shown|usual|above|in other|already)|just as|because|otherwise|that is to say)\b"
)
"""SO-THAT: "so that the ribs run on", "to keep the edge even", "as directed for the first side"."""


def take_remark(cur: Cursor, out: list[Action]) -> bool:
    """REMARK: words about what was just worked, joined to it: THIS-ENDS | YOU-HAVE | CARE | UNSAID | SO-THAT.

    A count in it is kept as :class:`Stated`.
    """
    here = cur.at
    first = cur.peek().low
    if first in {"(", "["}:
        return take_aside(cur, out)
    if cur.peek().kind not in {"w", "s"}:
        return False
    last = _last(out)
    if last < 0:
        return False
    n = _clause(cur)
    if n < 2:
        return False
    words = _lows(cur, n)
    kind = next(
        (k for k in (_UNSAID, _CARE, _HAVE, _RESULT, _BUT_FOR, _BY_DOING, _SO_THAT) if k.match(words)), None
    )
    if kind is None and isinstance(out[last], RowRule) and _LAST_TOO.match(words):
        kind = _LAST_TOO
    if kind is None:
        return False
    if kind in {_CARE, _SO_THAT, _UNSAID, _BUT_FOR}:
        n = max(n, _clause(cur, commas=False))
    cur.at += n
    span = cur.span_from(here)
    if kind is _HAVE:
        stated = _count_in(cur, here)
        if stated is not None:
            out.append(stated)
            return True
    out[last] = changed(out[last], span=out[last].span.cover(span)) if last == len(out) - 1 else out[last]
    if last != len(out) - 1:
        out[-1] = changed(out[-1], span=out[-1].span.cover(span))
    return True


def _last(out: list[Action]) -> int:
    """The last thing read that works or rules anything; -1 if there is none, or words were not read since."""
    for i in range(len(out) - 1, -1, -1):
        if isinstance(out[i], Unread):
            return -1
        if not isinstance(out[i], Note):
            return i
    return -1


_COUNTED = frozenset({"st", "sts", "stitch", "stitches", "loops"})
_PARTS = frozenset("each needle needles side pattern patterns stripe between more additional for".split())


def _count_in(cur: Cursor, here: int) -> Stated | None:
    """COUNT: the one number of stitches in the words from ``here``: "there will now be 41 stitches all
    round".
    """
    words = cur.tokens[here : cur.at]
    if {"taken", "decreased", "increased", "narrowed", "off"}.intersection(t.low for t in words):
        return None  # "when you will have taken 8 stitches from each side"
    numbers = [t for t in words if isinstance(t.value, int) and t.kind != "o"]
    if len(numbers) != 1 or not _COUNTED.intersection(t.low for t in words):
        return None
    n = numbers[0]
    if not isinstance(n.value, int) or not 0 < n.value <= 100_000:
        return None
    number = Number(values=(n.value,), span=n.span)
    if _PARTS.intersection(t.low for t in words):
        return Stated(total=number, kind="part", parts=(number,), span=cur.span_from(here))
    return Stated(total=number, span=cur.span_from(here))


# --- asides in brackets ------------------------------------------------------------------------------------

_EXPLAINS = re.compile(
    r"(?:that is|i \. e|viz|this|these|those|they|it|which|called|being|making|leaving|having|knitting"
    r"|purling"
    r"|pearling|taking|working|counting|including|not including|not counting|the (?:stitch|loop|one|two"
    r"|long|made"
    r"|same|wool|thread|first|last)|so |as |in order|for the|always|see|st|stitch|stitches|about|or |i"
    r" e|there"
    r"|you|if |by |from the|forming|inclusive|remember|try|to )"
)
_SAYS_SO = re.compile(
    r"(?:that is|i \. e|viz|called|this is|these are|these stitches are|including|your (?:decreases"
    r"|increases)|which|all sizes$|as (?:in )?rows?\b"
    r"|(?:you|there) (?:will |should )(?:now )?(?:have|be) (?:increas|decreas)|if|or if"
    r"|or \d+ (?:stitches|sts) if"
    r"|the (?:edge|seam|end|made|long|short|first|last|second|centre|middle|extra)\b[ a-z-]*(?:stitch"
    r"|loop|st|over)s?\b)"
    r"(?!.*\brepeat)"
)
_STANDS = re.compile(
    r"(?:the )?(?:centre|center|middle|seam|edge|selvedge|selvage|corner|spine|marked|border|raglan)"
    r" (?:(?P<one>st|stitch)|sts|stitches)"
)
"""STANDS: "(centre st)", "(the edge sts)": which stitch of the fabric was just worked."""
_PART_WORKED = re.compile(
    r"(?:(?:the|left|right|first|second|1st|2nd|front|back|centre|center|upper|lower|side|half|top|bottom"
    r"|outer"
    r"|inner|ribbed|garter|button|buttonhole|this is the) ){0,2}"
    r"(?:front|back|sleeve|heel|sole|instep|thumb|palm|neck|gusset|edge|border|band|panel|body|shoulder"
    r"|yoke|hood"
    r"|cuff|toe|foot|hand|wing|seam|steek|raglan|cable|edging|buttonband|flap)s?(?: (?:sts?"
    r"|stitch(?:es)?|edge"
    r"|section|panel))?"
)
"""PART-WORKED: "p14 (sleeve)": of which part the stitches just worked are."""
_ASIDE_SAID = re.compile(
    r"(?:closing|bridging|spanning|crossing|working across) (?:up )?(?:the|that|this) (?:gap|hole|turn)"
    r"|(?:please )?see (?:the )?(?:note|notes|chart|key|below|above|abbreviations|photo|diagram"
    r"|page|special)\b.*"
    r"|(?:all|both|each) (?:the )?(?:same )?(?:colou?rs?|yarns?)"
    r"|(?:\d+ )?(?:in|at|on|from|for) each (?:garter )?(?:bump|ridge|gap|corner|loop|slipped"
    r" stitch|chain|row)\b.*"
)
_FORMED = re.compile(
    r"\b(?:formed|made|thrown|increased|of the (?:last|previous|preceding|former|row|round)|previous"
    r"|just worked|comes? (?:in|over|on|above|between)|stands?|falls?)\b"
)


_COUNTS = re.compile(r"[\d ()\[\],-]+(?:sts?|stitch(?:es)?)? ?(?:increased|made)\b")


_AND_EVERY = re.compile(
    r"(?:and|also) (?:so )?(?:on )?(?:in )?(?:every|all|each|for every|for all) (?:foll(?:owing)?"
    r" |subsequent |other )?"
    r"(?:alt(?:ernate)?|other|second|ws|rs|wrong side|right side|even|odd|even - numbered|odd - numbered)?"
    r"(?: numbered)? ?(?:rows?|rnds?|rounds?)(?: (?:unless|except|throughout|hereafter|from here|to row).*)?"
)


def take_row_rule(cur: Cursor, out: list[Action]) -> bool:
    """AND-EVERY: "Row 1: Purl (and every alt row unless otherwise stated)": what this row does, those do
    too.
    """
    here = cur.at
    end = aside_end(cur)
    if len(out) != 1 or not isinstance(out[0], Fill | InGround | InPattern) or not here + 3 < end:
        return False
    if _AND_EVERY.fullmatch(" ".join(t.low for t in cur.tokens[here + 1 : end - 1])) is None:
        return False
    cur.at = end
    out.append(RowRule(rule="alternate", steps=(out[0],), span=cur.span_from(here)))
    return True


def take_aside(cur: Cursor, out: list[Action], *, strict: bool = False) -> bool:
    """ASIDE: "(the loop made in the last row)", "(that is, on every 3rd row)": it explains what
    stands before it.
    """
    here = cur.at
    end = aside_end(cur)
    last = _last(out)
    if last < 0 or not here + 2 < end <= here + _MOST or out[last].span.end > cur.peek().start:
        return False
    words = " ".join(t.low for t in cur.tokens[here + 1 : end - 1])
    if _COUNTS.match(words):
        return False  # "(4 sts increased)" states a change
    stands = _STANDS.fullmatch(words)
    said = _ASIDE_SAID.fullmatch(words) or (
        isinstance(out[last], Work | Fill | WorkRows) and _PART_WORKED.fullmatch(words)
    )
    named = stands is not None and cur.tokens[here - 1].low not in {",", ";", "."}
    before = out[last]
    if named and stands is not None and isinstance(before, Work):
        named = (before.count.values == (1,)) == (stands["one"] is not None)
    if not (named or said or _FORMED.search(words) or (_SAYS_SO if strict else _EXPLAINS).match(words)):
        return False
    if cur.pad[end].low in {"times", "twice", "once"} or cur.pad[end].kind == "n":
        return False
    cur.at = end
    out[-1] = changed(out[-1], span=out[-1].span.cover(cur.span_from(here)))
    return True


# --- what hangs on the step before ----------------------------------------------------------------------

_HANGS = frozenset(
    "putting of which distributed spaced without by beyond past on onto knit purl pearl work to all"
    " throughout and"
    " 16 with the".split()
)
_ENDS_CLAUSE = frozenset({"", ",", ".", ";", ")", "]", "*"})
_TOGETHER = {2: ("k2tog", "p2tog"), 3: ("k3tog", "p3tog")}
_LEFT = Phrases(
    "do not knit|purl|work the? last|remaining st|stitch",
    "don't knit|purl|work the? last|remaining st|stitch",
    "leaving the? last|remaining st|stitch unworked|unknitted",
    "leave the? last|remaining st|stitch unworked|unknitted",
)  # fmt: skip


_DECREASED = re.compile(r"tog|^ss[kp]|^skp")
_WITH = Phrases(
    "the? last? edging|lace|border? st|stitch? with|and the? next|1|one|a? live?"
    " shawl|body|main|scarf|blanket st|stitch",
    "with the? next|1|one|a? live? shawl|body|main|scarf|blanket|edge st|stitch",
)  # fmt: skip


def _with_next(cur: Cursor) -> bool:
    """WITH-NEXT: "(last edging st with next shawl st)", "with shawl st", after a decrease that works both."""
    here = cur.at
    opened = cur.take("(") is not None
    if _WITH.take(cur) is not None and (not opened or cur.take(")") is not None):
        return True
    cur.at = here
    return False


def take_hanging(cur: Cursor, out: list[Action], since: int) -> bool:
    """HANGING: BY-DOING | "knit these" "together"? | "to the end", of the steps of this sentence; a count of
    what was picked up.
    """
    low = cur.peek().low
    last = out[-1] if out else None
    if last is None or isinstance(last, Unread):
        return False
    if isinstance(last, PickUp) and (_picked(cur, out, last) or _knitted(cur, out, last)):
        return True
    here = cur.at
    if isinstance(last, PickUp) and _told_which(cur):
        out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
        return True
    if isinstance(last, Hold) and cur.any_phrase(
        "until|till wanted|required|needed",
        "for the? present|time|future being?",
        "for a time|while",
        "for later? use",
    ):
        out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
        return True
    if low in {"with", "("} and isinstance(last, Work) and _DECREASED.search(last.stitch) and _with_next(cur):
        # "k2tog with next shawl st": the needle shows which two they are
        out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
        return True
    if isinstance(last, Fill) and last.to.before is not None and _LEFT.take(cur) is not None:
        # "knit to the last stitch, do not knit the last stitch"
        out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
        return True
    if low not in _HANGS:
        return False
    if low == "which" and _WHICH.take(cur) is not None:
        cur.at -= 1
        if _these(cur, out, last, said=True):
            out[-1] = changed(out[-1], span=cur.span_from(here))
            return True
        cur.at = here
    if low == "of" and cur.phrase('of|on the? " heel|front|instep|third|first|second|back|sole " needle|pin'):
        out[-1] = changed(on_the_needle(last), span=last.span.cover(cur.span_from(here)))
        return True
    if low in {"knit", "purl", "pearl", "work"}:
        return _these(cur, out, last)
    if low == "to" and cur.any_phrase("to increase|decrease|inc|dec") and cur.peek().low in _ENDS_CLAUSE:
        out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
        return True
    cur.at = here
    if low in {"to", "all", "throughout", "the"}:
        return _all_of_it(cur, out, since)
    n = _clause(cur)
    if n < 2 or _BY_DOING.match(_lows(cur, n)) is None:
        return False
    cur.at += n
    out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
    return True


_WHICH = Phrases(
    "which you? must|should|are|is|to|shall? be? to? be? knit|knitted|purl|purled|pearl|pearled|seamed"
    "|worked",
)


def _these(cur: Cursor, out: list[Action], last: Action, *, said: bool = False) -> bool:
    """THESE: "knit these", "purl them together", "which must be knitted", after "to the last 2 sts".

    said : which they are is said already.
    """
    here = cur.at
    place = last.to if isinstance(last, Fill | Repeat | InPattern | InGround) else None
    left = place.before if place is not None else None
    if left is None and isinstance(last, Shaping | WorkRows) and last.until is not None:
        left = last.until.stitches
    if left is None and isinstance(last, SlipBack):
        left = last.count  # "slip these 30 sts back and knit them again"
    if left is None:
        return False
    purl = cur.next().low.startswith(("purl", "pearl", "seam"))
    if not said and not cur.phrase("these|them|those two|2|three|3|last|sts|stitches? stitches|sts?"):
        cur.at = here
        return False
    tog = cur.any_phrase("together|tog") is not None
    n = left
    if tog:
        pair = _TOGETHER.get(n.at(0) or 0)
        if pair is None or len(n.values) > 1:
            cur.at = here
            return False
        out.append(Work(stitch=pair[purl], count=_ONE, span=cur.span_from(here)))
        return True
    cur.any_phrase("plain", "again with|using the? working|main|old? yarn|wool", "again")
    out.append(Work(stitch="p" if purl else "k", count=n, span=cur.span_from(here)))
    return True


def _all_of_it(cur: Cursor, out: list[Action], since: int) -> bool:
    """ALL-OF-IT: ", to the end" after some counted stitches: all of them over and over."""
    here = cur.at
    body = out[since:]
    last = out[-1]
    if isinstance(last, Fill | InPattern) and last.to is not None and last.to.kind is PlaceKind.END:
        if last.to.before is None and cur.any_phrase("to the? end of? the? row|round|needle?"):
            out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
            return True  # "knit rest plain, to end of needle"
        cur.at = here
    if cur.peek(-1).low != "," or not body or not all(isinstance(s, Work) for s in body):
        return False
    if len(body) == 1 and not (isinstance(body[0], Work) and _DECREASED.search(body[0].stitch)):
        return False
    if not cur.any_phrase(
        "to the? end of? the? row|round|needle?", "all? round", "all? along the? row|needle?",
        "throughout the? row|round?", "the whole length of the row",
    ):  # fmt: skip
        return False
    if cur.peek().low not in {"", ".", ";", "("}:
        cur.at = here
        return False
    span = body[0].span.cover(cur.span_from(here))
    place = Place(kind=PlaceKind.END, span=cur.span_from(here))
    out[since:] = [Repeat(body=tuple(body), to=place, said=Said.TO, mark="", span=span)]  # type: ignore[arg-type]
    return True


def _told_which(cur: Cursor) -> bool:
    """WHICH: "cast on at the base of the thumb", "that were left for the finger", after loops taken up."""
    here = cur.at
    cur.any_phrase("which|that you? were|was?")
    if not cur.any_phrase("cast on at|for|over|between", "left at|for|on|over|between"):
        cur.at = here
        return False
    while cur.peek().kind in {"w", "s", "o"} and cur.peek().low not in {"and", "then", "knit", "until"}:
        cur.at += 1
    return True


def _picked(cur: Cursor, out: list[Action], last: PickUp) -> bool:
    """PICKED: ", 16 in all", after picking up an unsaid number."""
    t = cur.peek()
    if (last.count is not None and last.count.values != (1,)) or not isinstance(t.value, int):
        return False
    here = cur.at
    cur.at += 1
    cur.any_phrase("stitches|sts|loops")
    if not cur.any_phrase("in all", "altogether", "in total"):
        cur.at = here
        return False
    cur.take(")")
    number = Number(values=(min(t.value, 1_000_000),), span=t.span)
    out[-1] = changed(last, count=number, span=last.span.cover(cur.span_from(here)))
    return True


def _knitted(cur: Cursor, out: list[Action], last: PickUp) -> bool:
    """KNITTED: "and knit them", after taking up loops."""
    here = cur.at
    cur.take("and")
    cur.take(",") if cur.peek(1).low in {"knitting", "purling"} else None
    if not cur.any_phrase(
        "knit|knitting each|them|these as you pick|take it|them up",
        "knit|knitting them|these plain?",
        "purl|purling them|these",
    ):
        cur.at = here
        return False
    how: Literal["knit", "purl"] = "purl" if cur.tokens[here].low.startswith("purl") else "knit"
    cur.any_phrase("with the others", "on to|onto the same needle", "as you take them up", "as you go")
    out[-1] = changed(last, how=how, span=last.span.cover(cur.span_from(here)))
    return True


# --- headings -------------------------------------------------------------------------------------------

_WORKS = _ORDERS - {"work", "make"} | {"bo", "co", "graft", "decrease", "inc", "dec", "rib"}
_HEADING = re.compile(
    r"(?:(?:on|in|for) the (?:next|following|same|first|\w+(?:th|st|nd|rd|d)) (?:row|round) ,? ?)?"
    r"(?:(?:now |then )?(?:make|form|work|begin) (?!\d|one\b|two\b)(?:a |the )[a-z '-]+"
    r"|(?:the |these |this )[a-z '-]+ (?:is|are|must be|to be|should be) (?:then |now )?(?:made|worked"
    r"|formed|done|knitted|knit)"
    r"[a-z '-]*|[a-z ,'-]*(?:thus|as follows|as under|in this (?:way|manner)|in the following (?:way"
    r"|manner)))$"
)


_FOR_THE = re.compile(
    r"(?:dec|inc|decrease|increase|narrow|widen|shape|work|patt|continue|cont|proceed|begin|start|commence)"
    r"(?: (?!until\b|to\b)[a-z0-9]+){0,8},? (?:thus|as follows|as foll|as under|in this (?:way|manner)"
    r"|in the following (?:way|manner))$|"
    r"(?:narrow|decrease|shape|knit|work|turn|divide) (?:for )?the [a-z]+ (?:thus|as follows|in this way)$"
)
_WHEN = re.compile(
    r"(?:to (?:turn|shape|make|form|close|finish) the [a-z]+|when (?:you have )?[a-z0-9 '-]*\b(?:done"
    r"|worked|knitted|knit|made|finished|completed?|formed"
    r"|reached|long enough|remain|remaining|left)"
    r"(?: (?:this|these|up|off|rows|rounds))?|for the [a-z]+(?: (?:or|and) (?:the )?[a-z]+)?)$"
)


_BEGUN = frozenset(
    "begin begins beg beginning start starts starting commence commencing worked work working".split()
)
_BEGUN_AT = re.compile(
    r"(?:(?:work|worked|working|is|and) ){0,2}(?:begin|begins|beg|beginning|start|starts|starting|commence"
    r"|commencing|from|up from|down from)(?: \.)? ?(?:at|from|with)? ?(?:the |side |center |centre |front "
    r"|back )*"
    r"(?:lower|bottom|top|neck|waist|upper|outer|underarm|cuff|wrist|toe|centre|center|side|hem|base)"
    r"(?: (?:edge|end|front|back|band|line))?(?: of (?:the |each )?(?:left |right )?[a-z]+)?$"
)
"""BEGUN-AT: "begin at lower edge of back": where the piece begins, before it is cast on."""


def _to_comma(cur: Cursor) -> int:
    n = 0
    while n < 16 and (t := cur.peek(n)).kind and t.low not in _STOPS and t.low != ",":
        n += 1
    return n


def take_heading(cur: Cursor) -> bool:
    """HEADING: words before a colon that only lead to what follows ("in the next row make the holes thus:"),
    or "on the 3rd row" before a stitch.
    """
    if cur.peek().kind not in {"w", "s"}:
        return False
    here = cur.at
    if cur.any_phrase(
        "at the end of the|this|each|every row|round|needle|time", "by this time", "at this point",
        "in this|the same way|manner ,?", "by this|these means ,?", "thus ,?",
    ):  # fmt: skip
        if cur.peek().low in {"you", "there"}:
            return True
        cur.at = here
    if cur.peek().low in _BEGUN and (n := _to_comma(cur)) and _BEGUN_AT.match(_lows(cur, n)):
        if cur.peek(n).low in {".", ",", ":", ";"} and cur.peek(n + 1).kind:
            cur.at += n + 1
            return True
    if cur.peek().low == "when" and cur.any_phrase(
        "when you have turned|finished|made|completed|reached|done the heel|flap|leg|toe|instep|ribbing|cuff",
        "when the heel|flap|leg|toe|instep|ribbing|cuff is turned|finished|made|completed|done",
    ):
        cur.take(",")
        return True
    if cur.peek().low in {"when", "for", "to"}:
        n = _clause(cur)
        if cur.peek(n).low == "," and cur.peek(n + 1).kind and _WHEN.match(_lows(cur, n)):
            cur.at += n + 1
            return True
    if cur.peek().low in {"on", "in"} and cur.peek(1).low == "the" and cur.peek(2).kind == "o":
        if cur.peek(3).low in {"row", "round"} and cur.peek(4).low in _ORDERS | {","}:
            cur.at += 4
            return True
    n = 0
    while n < 24 and (t := cur.peek(n)).kind and t.low not in {".", ";", ":", "(", "[", "*", "**", "!"}:
        if t.kind == "n":
            return False
        n += 1
    led = _FOR_THE.match(_lows(cur, n)) is not None
    if (
        (not led and cur.peek().low in _WORKS and cur.peek(2).low != "heel")
        or n < 3
        or cur.peek(n).low != ":"
        or (not led and _HEADING.match(_lows(cur, n)) is None)
    ):
        return False
    if not cur.peek(n + 1).kind:
        return False
    cur.at += n + 1
    while cur.peek().low == "-":
        cur.at += 1
    return True
