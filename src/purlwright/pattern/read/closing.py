"""Taking work off the needles and joining it: binding off, grafting, seaming, gathering, finishing.

In: a cursor at "bind off", "graft", "sew", "break yarn" and the like. Out: :class:`BindOff`, :class:`Close`,
:class:`Gather`, or a note for making-up that moves no live stitch ("weave in ends"). Binding off at an
edge over several rows is left to ``shaping``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from purlwright.pattern.read.amounts import rest_of_clause, skip, take_words, until_mark, words_from
from purlwright.pattern.read.edges import parse_where
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.prose import aside_end, sentence_end
from purlwright.pattern.tree import BindOff, Close, Edge, Gather, Note, Return, Stated, Yarn

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["parse_bind_off", "parse_break", "parse_close", "parse_finish", "parse_gather"]

_STITCHES = ("st", "sts", "stitch", "stitches", "loops")
_BIND = Phrases(
    "bind-off", "cast-off", "bind - off", "cast - off", "bind off", "cast off", "bo", "bindoff",
    "binding off", "casting off",
    "end off",
    "knit bo", "knit bind off", "purl bo",
)  # fmt: skip
_MANNERS = (
    "i - cord", "three - needle", "3 - needle", "picot", "tubular", "sewn", "stretchy", "suspended",
    "icelandic",
    "russian", "elastic", "kitchener", "crochet", "invisible", "decrease", "lace", "double",
)  # fmt: skip


_IN_PATTERN = Phrases(
    "knitting the? knit|k|knits sts|stitches? and purling the? purl|p|purls sts|stitches?",
    "knitting the knits and purling the purls",
    "in pattern", "in patt", "in rib", "in ribbing", "in the pattern", "in garter st|stitch?",
    "in moss st|stitch?",
    "in seed st|stitch?", "in ribbing pattern", "pattern - wise", "patternwise", "ribwise", "in rib pattern",
    "as set", "as they appear", "ribbed", "in established pattern|rib", "in k1 , p1 rib", "keeping pattern",
    "in k2 , p2 rib", "in pattern as set|established",
)  # fmt: skip
_KNITWISE = Phrases("knitwise", "kwise", "in knit", "as if to knit", "knit wise", "knit - wise")
_PURLWISE = Phrases("purlwise", "pwise", "in purl", "as if to purl", "purl wise", "purl - wise")


def parse_bind_off(cur: Cursor, ctx: Context) -> BindOff | tuple[Stated | Return, BindOff] | None:
    """BIND-OFF: "bind off" ("all" | NUMBER | ("all" | "remaining") NUMBER?) "sts" HOW*, on its own.

    "Bind off rem 9 sts" binds off whatever is left, and says that it is 9.
    """
    here = cur.at
    said = _BIND.take(cur)
    if said is None:
        return None
    if cur.peek().low == "all" and cur.peek(1).low == "but":
        cur.at = here
        return None
    if said in {"finish off", "fasten off"} and cur.peek().low not in {"", ".", "all", "sts", "stitches"}:
        cur.at = here
        return None
    how: Literal["", "pattern", "knitwise", "purlwise"] = "purlwise" if said == "purl bo" else ""
    manner = ""
    count = None
    got, manner = _how_off(cur, how, manner)
    how = got or how
    cur.phrase("all|the|both|these") and cur.take("of", "the")
    skip(
        cur,
        "remaining",
        "rem",
        "the",
        "last",
        "these",
        "next",
        "centre",
        "center",
        "middle",
        "front",
        "neck",
        "first",
    )
    if cur.peek(-1).low == "rem" and cur.peek().low == "." and cur.peek(1).kind == "n":
        cur.at += 1  # "cast off rem. 34 sts."
    n = parse_number(cur, ctx)
    if cur.take("held", "waiting", "resting") is not None and cur.take(*_STITCHES) is not None:
        # "bind off the held sts": they are taken up first
        back = Return(count=n, span=cur.span_from(here))
        got, manner = _how_off(cur, how, manner)
        return back, BindOff(manner=manner, how=got or how, span=cur.span_from(here))
    if n is not None:
        if cur.take(*_STITCHES) is None and cur.peek().low not in {
            "",
            ".",
            ",",
            "loosely",
            "in",
            "at",
            "remaining",
        }:
            cur.at = here
            return None
        if cur.peek(-2).low == "all" or any(
            cur.peek(i - cur.at).low in {"all", "remaining", "rem"} for i in range(here, cur.at)
        ):
            count = None
        else:
            count = n
    else:
        cur.take(*_STITCHES, "edge", "work")
    skip(cur, "remaining", "rem", "left")
    if n is None and cur.phrase("at the? top"):
        pass
    got, manner = _how_off(cur, how, manner)
    how = got or how
    if count is None:
        manner = _explained_off(cur, manner)
    elif cur.any_phrase("at|on each|both|either end|ends|side|sides"):
        cur.any_phrase("of the|your? pins|pin|needles|needle|work|knitting|piece")
        return BindOff(count=count, manner=manner, how=how, at="each end", span=cur.span_from(here))
    at = _at_edge(cur) if count is not None else "here"
    off = BindOff(count=count, manner=manner, how=how, at=at, span=cur.span_from(here))
    return (Stated(total=n, span=n.span), off) if n is not None and count is None else off


def _at_edge(cur: Cursor) -> Literal["here", "beginning", "neck edge", "armhole edge"]:
    """AT-EDGE: "bind off 3 sts at neck edge", "at beg of row", which is where the row has come to."""
    here = cur.at
    where = parse_where(cur)
    if where in {"beginning", "neck edge", "armhole edge"}:
        cur.phrase("of the? this|next? rs|ws? row|rnd|round")
        if cur.peek().low in {"", ".", ",", ";"}:
            return where
    cur.at = here
    return "here"


_AS_FOLLOWS = Phrases(
    ",? as follows :|,|.?", ",? thus :|,|.?", ",? like this :|,?", ",? in this way|manner :|,?",
    ",? in the following way|manner :|,?", ",? using this method :|,?", ",? as below :|,?", ":",
)  # fmt: skip
_BACK_AGAIN = frozenset("slip sl return pass replace lift back over transfer".split())
_MAKING = frozenset("knitting purling working closing dropping treating".split())
_DECREASES = frozenset("k2tog p2tog ssk together tog".split())


def _explained_off(cur: Cursor, manner: str) -> str:
    """EXPLAINED: "as follows" ":" words to the end of the line | "," "knitting" ...: how it is done, no
    steps of its own.

    "Bind off as follows: k2, *slip both sts back, k2tog tbl, k1; rep from * to end."
    """
    here = cur.at
    told = _AS_FOLLOWS.take(cur)
    rest = [t.low for t in cur.tokens[cur.at :]]
    if told is not None and rest and (told != ":" or _BACK_AGAIN.intersection(rest)):
        cur.at = len(cur.tokens)
        return manner or ("decrease" if _DECREASES.intersection(rest) else "")
    cur.at = here
    if cur.take(",") is not None and cur.peek().low in _MAKING:
        n = until_mark(cur, 20)
        words = [cur.peek(i).low for i in range(n)]
        if not {"row", "rows", "end", "turn", "round"}.intersection(words):
            cur.at += n
            return manner
    cur.at = here
    return manner


_HOW_TIGHT = (
    "loosely firmly evenly very fairly rather easily easy quite tightly neatly both now carefully".split()
)


def _how_off(
    cur: Cursor, how: Literal["", "pattern", "knitwise", "purlwise"], manner: str
) -> tuple[Literal["", "pattern", "knitwise", "purlwise"], str]:
    """("loosely" | "in pattern" | "knitwise" | "in rib" | "using" MANNER ...)*."""
    while True:
        here = cur.at
        skip(cur, ",")
        if cur.take(*_HOW_TIGHT) is not None:
            continue
        if _IN_PATTERN.take(cur):
            how = "pattern"
            continue
        if _KNITWISE.take(cur):
            how = "knitwise"
            continue
        if _PURLWISE.take(cur):
            how = "purlwise"
            continue
        if (
            cur.peek().low in {"in", "with"}
            and (n := until_mark(cur, 9))
            and cur.peek(n - 1).low in {"rib", "ribbing"}
        ):
            cur.at += n  # "in 1x1 rib", "with A in rib"
            how = "pattern"
            continue
        if cur.take("using", "with", "in", "by", "(") is not None:
            closing = cur.peek(-1).low == "("
            skip(cur, "a", "an", "the", "your", "larger", "favorite", "favourite", "preferred")
            n = until_mark(cur, 9)
            words = " ".join(cur.peek(i).low for i in range(n))
            known = [m for m in _MANNERS if m in words]
            if n and ("pattern" in words or words.startswith("patt")):
                cur.at += n
                how = "pattern"
                continue
            if n and "method" in words and cur.peek(n).low == ":":
                # "using the stretchy method: k1, *k1, slip both sts back, ..."
                cur.at = len(cur.tokens)
                return how, known[0].replace(" - ", "-").replace("3-", "three-") if known else manner
            if n and (
                known or "bind" in words or "method" in words or "needle" in words or words in {"mc", "cc"}
            ):
                cur.at += n
                if closing and cur.take(")") is None:
                    cur.at = here
                    return how, manner
                if known:
                    manner = known[0].replace(" - ", "-").replace("3-", "three-")
                continue
        cur.at = here
        if (
            cur.phrase("on the? next row|round|rnd")
            or cur.phrase("on the? right|wrong side")
            or cur.phrase("on rs|ws side?|row?")
            or cur.phrase("at the same tension")
        ):
            continue
        return how, manner


# --- joining edges ----------------------------------------------------------------------------------


_SEAM = Phrases(
    "sew up|together|on|in?",
    "seam",
    "stitch up|together",
    "sew",
    "mattress stitch",
    "close seam",
    "overcast",
    "backstitch",
)
_SET_HOW = frozenset("matching easing placing gathering aligning centring centering with so".split())
_SET_IN = Phrases(
    "set in the? both? sleeves|sleeve", "set the? both? sleeves|sleeve in|into",
    "sew in the? both? sleeves|sleeve", "set|sew sleeve caps into",
)  # fmt: skip
_THREE = Phrases(
    "using|with|use|work|by? a|the? three|3 - needle bind-off|cast-off method? ,? to|and? join|close?",
    "3|three - needle bind-off|cast-off",
    "using|with|use|work|by? a|the? three|3 - needle bind|cast - off method? to|and? join|close?",
    "using|with|use|work|by? a|the? three|3 - needle bind|cast off method? ,? to|and? join|close?",
    "3|three - needle bind - off",
    "three|3 needle bind off",
    "3|three - needle bo",
    "work a? three|3 - needle bind - off",
)
_GRAFT = Phrases(
    "using|with kitchener st|stitch|method? , graft|weave|join",
    "graft",
    "kitchener st|stitch?",
    "kitchener stitch",
    "weave sts|stitches together",
    "grafting",
    "weave the toe",
    "weave toe",
    "work kitchener st|stitch to",
    "use|using kitchener st|stitch? to",
)


def parse_close(cur: Cursor, ctx: Context) -> Close | None:
    """CLOSE: "graft" EDGE ("to" EDGE)? | "sew" EDGE | "join" EDGE "with" "three-needle bind-off"."""
    here = cur.at
    del ctx
    how: Literal["graft", "seam", "three-needle"]
    if cur.peek().low in {"using", "with"}:
        # "Using a flat seam, sew up sides"
        n = until_mark(cur, 8)
        lead = {cur.peek(i).low for i in range(n)}
        if (
            lead & {"seam", "stitch", "seams"}
            and cur.peek(n + 1).low in {"sew", "join", "seam", "close"}
            and (not lead & {"needle", "kitchener"})
        ):
            cur.at += n + 1
    if _SET_IN.take(cur):
        rest_of_clause(cur)
        while cur.peek().low == "," and cur.peek(1).low in _SET_HOW:
            cur.at += 1
            rest_of_clause(cur)
        edge = Edge(words="sleeves into the armholes", span=cur.span_from(here))
        return Close(how="seam", a=edge, span=cur.span_from(here))
    if _GRAFT.take(cur):  # fmt: skip
        how = "graft"
    elif _SEAM.take(cur):  # fmt: skip
        how = "seam"
    elif cur.take("join", "close", "finish") is not None:
        n = until_mark(cur, 16)
        words = " ".join(cur.peek(i).low for i in range(n))
        words = words.replace("-", " ").replace("  ", " ").replace("  ", " ")
        if "needle bind" in words or "needle cast" in words or "needle bo" in words:
            how = "three-needle"
        elif any(w in words for w in ("seam", "shoulders", "sides", "edges", "sew")):
            how = "seam"
        elif "kitchener" in words or "graft" in words:
            how = "graft"
        else:
            cur.at = here
            return None
    elif _THREE.take(cur):
        how = "three-needle"
    else:
        return None
    a, b, manner = _edges_of(cur, how)
    if a is not None and how == "seam" and _NOT_EDGES.intersection(a.words.lower().split()):
        cur.at = here
        return None
    if how == "seam":
        _where_sewn(cur)
    return Close(how=how, a=a, b=b, manner=manner, span=cur.span_from(here))


_UNITS = frozenset("cm mm in ins inch inches".split())
_AS_SEWN = frozenset("matching easing placing setting starting beginning".split())


def _where_sewn(cur: Cursor) -> None:
    """Where along the edge a seam runs, to the end of the sentence: ", 17 cm down from the shoulder", ",
    easing in any fullness".
    """
    measured = cur.peek(1).kind == "n" and cur.peek(2).low in _UNITS
    if cur.peek().low == "," and (measured or cur.peek(1).low in _AS_SEWN):
        cur.at = sentence_end(cur)


_NEXT_JOB = frozenset(
    "weave block fasten sew bind cast work turn press join set pick stuff attach darn".split()
)
_NOT_EDGES = frozenset(
    "button buttons zipper zip ribbon pompom pompon tassel lining eyes beads elastic label hook snaps".split()
)
_LINKS = frozenset({"to", "and", "with", "using", "in", "leaving", "from"})


def _edges_of(cur: Cursor, how: str) -> tuple[Edge | None, Edge | None, str]:
    """EDGE (("to" | "and") EDGE)? (("in" | "with" | "using") MANNER)?."""
    a = b = None
    manner = ""
    cur.phrase(", join|close|graft")
    skip(cur, "the", "up", "together", "graft", "both")
    n = until_mark(cur, 12, frozenset({"to", "and", "with", "using", "in", "leaving", "by"}))
    if n:
        a = _edge(cur, n)
    if how == "seam" and a is not None:
        # "sew left shoulder and neckband seam" are two seams, not one edge to another
        a = _and_another(cur, a)
    if cur.peek().low in {"to", "and", "with"} and a is not None:
        at = cur.at
        lead = cur.next().low
        skip(cur, "the")
        n = until_mark(cur, 12, frozenset({"using", "in", "leaving", "with", "and"}))
        words = " ".join(cur.peek(i).low for i in range(n))
        if n == 0 or (
            lead == "with" and ("needle" in words or "bind" in words or "yarn" in words or "stitch" in words)
        ):
            cur.at = at
        elif lead == "and" and cur.peek().low in _NEXT_JOB:
            cur.at = at
            return a, b, manner
        else:
            b = _edge(cur, n)
            b = _and_another(cur, b) if how == "seam" else b  # "to the sides of back and front"
    if cur.peek().low in {"in", "with", "using", "leaving", "by"}:
        cur.at += 1
        manner = rest_of_clause(cur)
    return a, b, manner


def _and_another(cur: Cursor, one: Edge) -> Edge:
    """The edge with the one that "and" adds to it, unless another job follows."""
    if cur.peek().low != "and" or cur.peek(1).low in _NEXT_JOB:
        return one
    at = cur.at
    cur.at += 1
    more = take_words(cur, until_mark(cur, 10, frozenset({"and", "using", "with", "in", "leaving"})))
    return Edge(words=f"{one.words} and {more}", kind=one.kind, span=one.span.cover(cur.span_from(at)))


_KINDS = (
    ("live", "live"), ("cast-on", "cast-on"), ("cast on", "cast-on"), ("bound", "bound-off"),
    ("bind-off", "bound-off"), ("cast-off", "bound-off"), ("held", "held"), ("holder", "held"),
    ("waste", "held"), ("row ends", "row ends"), ("side", "row ends"), ("remaining", "live"),
    ("rem ", "live"), ("left", "left"), ("right", "right"),
)  # fmt: skip
"""What part of an edge's name tells its kind, in this order."""


def _edge(cur: Cursor, n: int) -> Edge:
    at = cur.at
    words = "".join(
        t.text if t.glued or i == 0 else " " + t.text for i, t in enumerate(cur.tokens[at : at + n])
    )
    low = words.lower()
    cur.at += n
    words = words.removesuffix(" together")
    kind: Literal["cast-on", "bound-off", "row ends", "left", "right", "live", "held", "unknown"] = "unknown"
    for part, name in _KINDS:
        if part in low:
            kind = name  # type: ignore[assignment]
            break
    return Edge(words=words, kind=kind, span=cur.span_from(at))


# --- drawing up and finishing -------------------------------------------------------------------------


_BREAK = "break cut".split()
_DRAW = frozenset("take draw pull thread run pass draws fasten gather sew slip weave".split())


def parse_break(cur: Cursor, ctx: Context) -> Yarn | None:
    """("break" | "cut") "off"? "yarn" ("leaving" ...)?: "Break off wool"."""
    here = cur.at
    if cur.take("break", "cut", "fasten") is None:
        return None
    cur.take("off")
    skip(cur, "the", "both", "working", "sewing")
    t = cur.take("yarn", "wool", "thread", "cotton", "silk", "yarns", *ctx.yarns)
    if t is None:
        cur.at = here
        return None
    colour = t.text if t.low in ctx.yarns else None
    at = cur.at
    skip(cur, ",", "and", "but")
    if cur.peek().low in {"leaving", "leave"} or (
        cur.peek().low == "with" and cur.peek(1).low in {"a", "an", "long", "short", "enough"}
    ):
        _tail(cur)
    else:
        cur.at = at
    return Yarn(act="break", colour=colour, span=cur.span_from(here))


def _tail(cur: Cursor) -> None:
    """TAIL: "leaving a 20 cm (8 in) tail", up to what is done next ("... and graft the toe")."""
    for _ in range(30):
        cur.at += until_mark(cur, 30, frozenset({"and", "then"}))
        if cur.peek().low == "(" and cur.peek(1).kind == "n" and (end := aside_end(cur)) > 0:
            cur.at = end
            continue
        if cur.peek().low == '"':
            cur.at += 1
            continue
        if cur.peek().low != "and" or cur.peek(1).low in _DOES:
            return
        cur.at += 1


_DOES = frozenset(
    "graft draw thread pull run pass sew fasten weave bind cast gather close use using join take knit purl"
    " with work seam stitch place leave turn slip".split()
)
_THREADED = frozenset(
    "thread the these those rem remaining live st sts stitches loops on a wool yarn".split()
)
_THROUGH_AND = re.compile(r"\b(?:wool|yarn|thread|end) through and (?:sew|fasten|pull|draw|tie|secure)\b")
_DRAWN_THROUGH = frozenset("st sts stitch stitches loop loops them".split())
_CLOSED = frozenset(
    "inside tight tightly off firmly securely up end ends close snug snugly top hole in together down"
    " it".split()
)


def parse_gather(cur: Cursor, ctx: Context) -> Gather | None:
    """GATHER: ("break" | "cut") "yarn" ("leaving" ...)? ("," "and")? ("draw" | "thread") ... "through" ...
    "sts" ....
    """
    here = cur.at
    if cur.phrase("fasten off"):
        if cur.peek().low in {
            "",
            ".",
            ",",
            ";",
            "and",
            "securely",
            "firmly",
            "neatly",
            "leaving",
        } or cur.any_phrase("the? last|final|remaining|rem st|stitch|loop", "the yarn|thread|wool"):
            skip(cur, "securely", "firmly", "neatly")
            if cur.peek().low == "leaving":
                rest_of_clause(cur)
            return Gather(span=cur.span_from(here))
        cur.at = here
        return None
    if cur.take(*_BREAK) is not None:
        cur.take("off")
        skip(cur, "the", "working")
        if cur.take("yarn", "wool", "thread", "cotton", "silk", "yarns") is None:
            cur.at = here
            return None
        if cur.phrase("and?  leaving|leave a?") or cur.phrase(", leaving a?") or cur.phrase("with a?"):
            _tail(cur)
        skip(cur, ",", "and", ".", ";", "then")
        if cur.peek().low == "thread" and cur.peek(1).low in {"it", "the", "wool", "end"}:
            n = until_mark(cur, 10)
            if {"needle"}.intersection(cur.peek(i).low for i in range(n)):
                # "thread it in a needle, and pass it through ..."
                cur.at += n
                skip(cur, ",", "and", "then")
    elif cur.peek().low == "take" and cur.peek(2).low in {"wool", "yarn", "thread", "end"}:
        pass
    elif cur.peek().low not in {"draw", "thread", "pull", "run", "gather"}:
        return None
    verb = cur.peek().low
    if verb not in _DRAW:
        cur.at = here
        return None
    n = until_mark(cur, 20)
    words = [cur.peek(i).low for i in range(n)]
    if cur.phrase("draw|pull|thread|run through and fasten|pull|draw|tighten|secure"):
        rest_of_clause(cur)
        return Gather(span=cur.span_from(here))
    through = "through" in words or verb == "gather" or "onto" in words
    tied_off = words[-1:] == ["through"] and bool({"wool", "yarn", "thread", "end"} & set(words))
    if (verb == "thread" and set(words) <= _THREADED) or tied_off or _THROUGH_AND.search(" ".join(words)):
        through, words = True, [*words, "sts"]
    if not through or not _DRAWN_THROUGH.intersection(words):
        cur.at = here
        return None
    stated = None
    stop = cur.at + n
    while cur.at < stop:
        t = cur.peek()
        if t.kind == "n" and cur.peek(1).low in {"st", "sts", "stitches", "remaining", "rem", "live"}:
            stated = parse_number(cur, ctx)
            break
        if (
            t.value is not None
            and cur.peek(1).low in {"st", "sts", "stitches", "remaining", "rem"}
            and t.low not in {"once", "twice"}
        ):
            stated = parse_number(cur, ctx)
            break
        if t.kind == "n":
            number = parse_number(cur, ctx)
            if cur.peek().low in {"st", "sts", "stitches", "rem", "remaining"}:
                stated = number
                break
            if number is None:
                cur.at += 1
            continue
        cur.at += 1
    cur.at = max(cur.at, stop)
    while True:
        at = cur.at
        skip(cur, ",", "and", ";", ".", "then")
        if (
            cur.take("pull", "draw", "fasten", "secure", "tighten", "gather", "close", "tie", "sew")
            is not None
        ):
            n = until_mark(cur, 10, frozenset({"and"}))
            words = [cur.peek(i).low for i in range(n)]
            if _CLOSED.intersection(words) or n == 0:
                cur.at += n
                continue
        cur.at = at
        break
    return Gather(stated=stated, span=cur.span_from(here))


_FINISH = Phrases(
    "weave in", "weave all ends?", "darn in", "sew in", "run in", "work in the? ends",
    "work in all? ends", "block", "steam",
    "press", "fasten off", "fasten the? end|ends|yarn|thread|wool", "wash", "hide ends", "tuck in ends",
    "secure end|ends",
    "finish off neatly", "tie off", "trim", "felt", "soak", "lay flat", "pin out", "attach",
    "make pompom|pompon", "make a? pompom|pompon|tassel",
    "embroider", "add pompom|tassel|button|buttons", "run ribbon", "draw ribbon", "line with",
    "leave a? long|short tail",
    "fold", "turn sock|work|hat|mitten|mitt|it|piece|bag|purse? inside|right|right - side",
    "turn inside out", "sew", "turn right side out", "turn inside out", "pull tight",
    "pull tightly", "draw up tightly", "fringe", "pat to|into|it|out|dry|gently", "dry flat|it|away?",
    "secure inside|well", "secure on|to the? inside|wrong|ws",
    "squeeze out?", "press out", "lay out", "pin to|into",
    "block|press|steam lightly",
    "rotate the? work|piece? 90|180|clockwise", "turn the? work|piece 90|180 degrees",
)  # fmt: skip


_CUTTING = (
    "cut|snip|slash open|along|between|through|down|up|the steek|stitches|sts?",
    "cut|snip open|along|between|through|down|up|the",
    "machine -? stitch|sew|zigzag",
    "reinforce|secure the? steek|edges|columns|column",
    "crochet|sew a? two? lines? reinforcement|reinforcements|chain|chains",
)
_UNDOING = (
    (
        "unpick|undo|unzip|remove|unravel|release|unzipping|undoing|unpicking"
        " the? waste|scrap|contrast|provisional|crochet yarn|thread|wool|cast-on|cast|chain|edge?"
    ),
    "unpick|undo|unzip|unravel|release the? cast-on|cast|chain|crochet",
    "unpick|undo|unzip|unravel|release your? provisional",
)
_ENDS_OF_YARN = frozenset("tail tails end ends".split())
_EDGES_DRAWN = frozenset("edge edges ridges ridge rows selvedge brim crown gap gaps hole holes".split())
_LIVE = frozenset("st sts stitch stitches loops live them".split())


def _drawn_edge(cur: Cursor) -> bool:
    """DRAWN: ("run" | "gather" | "close" | "thread") ... EDGE ... "tail": an edge drawn up with a yarn end.

    "Run the tail through the ridges of the crown edge", "close the small gaps with the yarn ends"
    """
    if cur.any_phrase(*_CUTTING) and not {"yarn", "wool", "thread", "tail"}.intersection(
        cur.peek(i).low for i in range(until_mark(cur, 8))
    ):
        rest_of_clause(cur)
        return True
    if cur.any_phrase(*_UNDOING):
        end = sentence_end(cur)
        words = {t.low for t in cur.tokens[cur.at : end]}
        if not words & {"knit", "purl", "work", "graft", "join", "k", "p"}:
            cur.at = end
            return True
        rest_of_clause(cur)
        return True
    if cur.peek().low not in {"run", "gather", "close", "thread", "draw", "sew", "use"}:
        return False
    n = until_mark(cur, 20)
    words = {cur.peek(i).low for i in range(n)}
    if not words & _ENDS_OF_YARN or not words & _EDGES_DRAWN or words & _LIVE:
        return False
    cur.at += n
    return True


_LIVE_AGAIN = frozenset({"graft", "bind", "cast", "pick"})
"""What works live stitches, after words of making up."""


def parse_finish(cur: Cursor, ctx: Context) -> Note | None:
    """Making-up that moves no live stitch: "weave in ends", "block to size", "attach pompom to top"."""
    here = cur.at
    del ctx
    if not _drawn_edge(cur) and _FINISH.take(cur) is None:
        return None
    while True:
        n = until_mark(cur, 30)
        does = next(
            (
                i
                for i in range(n - 1)
                if cur.peek(i).low in {"and", "then"} and cur.peek(i + 1).low in _LIVE_AGAIN
            ),
            None,
        )
        if does is not None:  # "fold to the inside and graft live sts to cast-on sts"
            cur.at += does
            break
        rest_of_clause(cur)
        if cur.peek().low == "/":
            cur.at += 1
            continue
        if cur.peek().low in {"(", "["}:
            close = {"(": ")", "[": "]"}[cur.peek().low]
            n = next((i for i in range(1, 40) if cur.peek(i).low == close), 0)
            if n:
                cur.at += n + 1
                continue
        break
    return Note(words=words_from(cur, here), span=cur.span_from(here))
