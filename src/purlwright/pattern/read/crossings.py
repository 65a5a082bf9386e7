"""Crossings said in words.

In: a cursor after "slip 3 sts", at "to cn and hold in front ...". Out: a ``Cross``.
Crossings with a name ("C4F") are read as named stitches.
"""

from __future__ import annotations

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import ONE, number_of, parse_number
from purlwright.pattern.read.places import take_stitch_word
from purlwright.pattern.read.working import SEPARATORS, Handler, Steps, work
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Cross, Number, Step, Work

__all__ = ["WORDS", "cross_after_slip", "parse_cable", "parse_hold_cross"]

_ASIDE = (
    "the? cn|c.n|dpn|cable",
    "a|the? cable|spare|third|3rd|separate|double|extra|dp|another|second needle|pin|- pointed needle",
    "a|an|the? cable|spare|third|separate|extra|other needle|pin",
    "a|the? cable|stitch? holder|needle or spare|extra|dp? needle|pin|dpn",
    "another|a|the? dpn",
    "a|the? double -? pointed needle|pin",
    "another|holder|a? holder|pin|needle",
    "a|the? separate|safety pin",
    "a|the? third|spare|cable",
    "a|the? st|stitch holder",
)
_FROM = (
    "from|off|on the? cn|cable|dpn|spare|third|3rd|separate|double|other|extra|second -? pointed? needle|pin",
    "from|off|on the? cn|cable|dpn|spare|third|separate|extra|holder|back|front|pin|it",
    "from|off the? spare|third needle|pin",
    "held in back|front|at",
    "on|from the? hanging dpn|needle|pin",
    "from|off|on a? cable|third|separate|spare needle|pin",
)
_MAIN = (
    "from the? left|lh|ln|main|first hand? needle|pin?",
    "from ln|lh|left",
    "on|off the? left hand? needle",
    "from the? left - hand needle",
)


_WAITS_END = frozenset({",", ".", ";", "", ")", "and", "then", "*"})
_DEEPEST = 48


def _hold(cur: Cursor) -> bool | None:
    """Hold := ("and" | ",")? ("hold" | "leave" | "bring" | "keep" | "drop") "it"? ("in" | "at" | "to")
    "the"? ("front" | "back")

    Gives True for the front, False for the back, None if it does not stand here.
    """
    here = cur.at
    for _ in range(3):
        if cur.take(",", "and", ".", ";", "then", "&", "-") is None:
            break
    cur.any_phrase("hold|leave|keep|bring|place|drop|let|holding|leaving|bringing|keeping|put|move|held|hang")
    cur.take("it", "them", "this", "these", "sts", "stitches", "st", "stitch", "needle", "hang", "cn", "that")
    cur.take("hang")
    if cur.take("in", "at", "to", "on", "behind", "before") is None and cur.peek().low not in {
        "front",
        "back",
    }:
        cur.at = here
        return None
    before = cur.tokens[cur.at - 1].low
    cur.take("the")
    cur.take("right")
    t = cur.take("front", "back", "rear", "side")
    if t is None:
        if before in {"behind", "before"} and (cur.take("work") or cur.peek().low in {",", ".", ";"}):
            return before == "before"
        cur.at = here
        return None
    cur.any_phrase("of the? work|knitting|your? needle", "of|the work", "of your knitting|work")
    return t.low in {"front", "side"}


def cross_after_slip(cur: Cursor, ctx: Context, here: int, count: Number, depth: int) -> Steps | None:
    """Cross := slip ("to" | "onto") aside hold sep steps sep steps "from cn"

    "slip 3 sts to cn and hold in front, k3, k3 from cn"; "take the next 2 stitches on a third pin, keep
    them at the back, ..."
    """
    at = cur.at
    cur.take("off")
    if cur.take("to", "on", "onto", "upon", "in", "over") is None:
        cur.at = at
        return None
    if cur.take("to"):
        pass
    front: bool | None = None
    if cur.any_phrase(*_ASIDE) is None:
        cur.at = at
        return None
    cur.any_phrase("needle|pin|holder")
    front = _hold(cur)
    if front is None:
        cur.at = at
        return None
    return _cross(cur, ctx, here, at, count, front=front, depth=depth)


def _sep(cur: Cursor) -> None:
    while cur.peek().low in SEPARATORS or cur.peek().low in {"now", "next"}:
        cur.at += 1


def _cross(
    cur: Cursor, ctx: Context, here: int, back_to: int, count: Number, *, front: bool, depth: int
) -> Steps | None:
    """The steps worked first, and those worked from the held stitches."""
    if "crossing" in cur.kept or depth >= _DEEPEST:  # no crossing within a crossing
        cur.at = back_to
        return None
    cur.kept["crossing"] = True
    found = _crossed(cur, ctx, here, count, front=front, depth=depth)
    del cur.kept["crossing"]
    if found is None:
        cur.at = back_to
    return found


def _crossed(cur: Cursor, ctx: Context, here: int, count: Number, *, front: bool, depth: int) -> Steps | None:
    from purlwright.pattern.read import steps

    first: list[Step] = []
    pending: list[Step] = []
    for _ in range(8):
        _sep(cur)
        at = cur.at
        held = _off_held(cur, ctx, count)
        got = held or steps.parse_step(cur, ctx, depth + 1)
        if got is None:
            cur.at = at
            break
        tail = _tail(cur) or ("held" if held else "")
        pending += got
        if tail == "held":
            if not first:  # the last steps alone are worked from the held ones, as many as were held
                own = _last_of(pending, len(got), count)
                first, pending = pending[:-own], pending[-own:]
            return (
                Cross(
                    held=count,
                    front=front,
                    first=tuple(first),
                    second=tuple(pending),
                    span=cur.span_from(here),
                ),
            )
        if tail == "main":
            first += pending
            pending = []
    return None


def _last_of(steps: list[Step], least: int, held: Number) -> int:
    """How many of the last steps are worked from the ``held`` loops: "k2, p2, then k2, p2 from cn"."""
    many = held.values[0]
    own, taken = least, sum(_plain(s) for s in steps[-least:])
    while len(held.values) == 1 and many is not None and own < len(steps) - 1 and 0 < taken < many:
        more = _plain(steps[-own - 1])
        if not more or taken + more > many:
            break
        own, taken = own + 1, taken + more
    return own if taken == many else least


def _plain(step: Step) -> int:
    """How many loops a step of knit or purl stitches takes; 0 for any other."""
    if not isinstance(step, Work) or step.stitch not in {"k", "p"} or len(step.count.values) != 1:
        return 0
    return step.count.values[0] or 0


def _off_held(cur: Cursor, ctx: Context, count: Number) -> Steps | None:
    """As in "knit the 3 on the separate needle", "k st from cn", "then the 2 from cn", "K2sts from
    holder", "knit the slipped sts".
    """
    here = cur.at
    t = cur.peek()
    if t.low not in {"knit", "k", "purl", "p", "work", "the", "those", "these"}:
        return None
    cur.next()
    cur.take("off")
    cur.take("the", "those", "these")
    number = parse_number(cur, ctx)
    waiting = cur.take("held", "slipped", "waiting") is not None
    cur.take("other")
    sts = take_stitch_word(cur)
    if number is None and not sts:
        cur.at = here
        return None
    at = cur.at
    if _tail(cur) != "held" and not (waiting and cur.peek().low in _WAITS_END):
        cur.at = here
        return None
    cur.at = at
    base = "p" if t.low in {"purl", "p"} else "k"
    n = number or (number_of(1, t.span) if cur.tokens[at - 1].low in {"st", "stitch"} else count)
    return (Work(stitch=base, count=n, span=cur.span_from(here)),)


def _tail(cur: Cursor) -> str:
    """Where the step before this was taken from: "held", "main" or nothing said."""
    if cur.peek().low not in {"from", "off", "on", "held"}:
        return ""
    if cur.any_phrase(*_MAIN):
        return "main"
    if cur.any_phrase(*_FROM):
        cur.take("needle", "pin")
        return "held"
    return ""


def parse_hold_cross(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """hold-cross := ("hold" | "move" | "place" | "take" | "leave") "next"? number stitches ("to" aside)?
    hold steps steps

    "hold 2 sts in back, k2, k2 from holder", "move 3 sts to cable needle, hold in back, k3, k3 from cn"
    """
    here = cur.at
    verb = cur.next().low
    cur.take("the")
    cur.take("next", "first", "following")
    count = parse_number(cur, ctx)
    if count is None:
        cur.at = here
        return None
    cur.any_phrase("of the 6|4|8|10|12|6")
    take_stitch_word(cur)
    cur.take("off")
    at = cur.at
    found = cross_after_slip(cur, ctx, here, count, depth)
    if found is not None:
        return found
    cur.at = at
    front = _hold(cur)
    if front is not None and verb in {"hold", "leave", "keep"}:
        found = _cross(cur, ctx, here, here, count, front=front, depth=depth)
        if found is not None:
            return found
    cur.at = here
    return None


_SECOND = "2nd|second|next"
_OFF = (
    "slip|slide|drop|sl both|the two? sts|stitches? off|from the? left? needle? together|tog?",
    "and slip|slide|drop|sl both|the two? sts|stitches? .? off|from the? left? hand? needle? together|tog?",
    "slip|slide|drop|sl both|the two? sts|stitches? off together|tog?",
    "then? drop|slip|slide both|the? sts|stitches? from|off the? left? needle?",
    "and? drop|dropping|slipping both|two|2? sts|stitches",
    "and? move|transfer both|the? new? sts|stitches to|onto the? right? hand? needle",
)


def parse_twist(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Twist := "k2tog" leaving... "k first st again" off | "k second st" back? "then k first st" off

    "k2tog, leaving sts on left needle, k first st again, slip both sts off", "k into back of second st,
    then k first st"
    """
    del ctx, depth
    here = cur.at
    low = cur.pad[here].low
    if low in {"skip", "miss"} and not cur.any_phrase("skip|miss the? 1|one|first|next st|stitch"):
        return None
    _sep(cur)
    purled = low == "p2tog" or (low in {"p", "purl"} and cur.phrase("p|purl 2|two tog|together") is not None)
    if low == "k2tog" or purled or cur.phrase("k|knit 2|two tog|together"):
        if low in {"k2tog", "p2tog"}:
            cur.next()
        cur.take(".") if cur.peek().glued and cur.peek(1).low in {",", "but", "and"} else None
        cur.any_phrase(",? but|and?", ",")
        if not cur.any_phrase(
            "do|does not drop|slip|slide|take|remove them|sts|stitches|st|it? off|from the? left? needle?",
            "don't drop|slip|slide|take|remove them|sts|stitches|st|it? off|from the? left? hand? needle?",
            "without dropping|slipping|removing them|sts|stitches|it? off|from the? left? needle?",
            "but|and do not drop|slip|let|take them|sts|stitches|the? st? off|from|go the? left? needle?",
            "leaving|leave them|sts|stitches|the|both? sts|stitches? on the? left? hand? -? needle",
            "and leave them|sts|stitches|it? on the? left? hand? -? needle",
            "do not drop|slip sts|stitches? from needle",
            "do not move|transfer the? new? st|stitch|sts? to|onto the? right? hand? needle",
        ):
            cur.at = here
            return None
        cur.any_phrase("hand -? needle", "- hand needle", "needle")
        _sep(cur)
        cur.any_phrase("needle")
        _sep(cur)
        cur.any_phrase(
            "insert|inserting the? right|rh? hand? needle|point|tip between the? 2|two sts|stitches"
            " just? knit|knitted|worked|purled? tog|together? and|,?",
            "insert the? right hand? -? needle between the? two|2? sts|stitches|them and|,?",
        )
        _sep(cur)
        again = "p|purl" if purled else "k|knit"
        if not cur.any_phrase(
            f"{again} in|into? the? front? of? the? first|1st st|stitch again?",
            f"{again} in|into? the? first|1st of these|the|those 2|two? sts|stitches .? once? again?",
            f"{again} in|into? the? first|1st st|stitch once again",
        ):
            cur.at = here
            return None
        return _twisted(cur, here, "rt purl" if purled else "rt")
    if cur.take("k", "knit", "k1") is None:
        cur.at = here
        return None
    back = cur.any_phrase("in|into the? back loop? of?", "through|thro the? back loop? of?") is not None
    cur.any_phrase("in|into the? front loop? of?", "in|into")
    if not cur.any_phrase(f"the? {_SECOND} st|stitch on? left? needle?", f"the? {_SECOND} st|stitch"):
        cur.at = here
        return None
    back = cur.any_phrase("tbl", "through|in the? back loop?") is not None or back
    cur.any_phrase("on|of the? left? hand? -? needle", "first")
    if (
        cur.pad[here].low in {"k", "knit"}
        and low not in {"skip", "miss"}
        and cur.tokens[here + 1].low == "next"
    ):
        cur.at = here
        return None
    _sep(cur)
    cur.any_phrase("leaving|leave it|st|stitch on the? left? needle")
    _sep(cur)
    if not cur.any_phrase(
        "k|knit in|into? the? front? loop? of? the? first|1st|skipped|missed st|stitch",
        "k|knit the? first|skipped|missed one",
        "the first|1st|skipped|missed st|stitch|one?",
    ):
        cur.at = here
        return None
    return _twisted(cur, here, "lt" if back else "rt")


def _twisted(cur: Cursor, here: int, name: str) -> Steps:
    at = cur.at
    _sep(cur)
    if not cur.any_phrase(*_OFF):
        cur.at = at
    elif cur.tokens[cur.at - 1].low in {"sts", "stitches"}:
        cur.any_phrase("off|from the? left? hand? -? needle? together|tog?")
    cur.any_phrase("the? needle", "left needle")
    return (work(name, ONE, cur.span_from(here)),)


def parse_cable(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Cable := ("c" | "cable" | "twist") number ("f" | "b" | "front" | "back" | "left" | "right")?

    "cable 6 front", "c6", "cable 4"
    """
    del ctx, depth
    from purlwright.stitches.load import dictionary

    here = cur.at
    head = cur.next()
    t = cur.peek()
    if t.value is None or not isinstance(t.value, int) or t.value > 24:
        cur.at = here
        return None
    cur.next()
    cur.any_phrase("sts|st|stitches") if cur.peek(1).low in {
        "front",
        "back",
        "left",
        "right",
        "f",
        "b",
        ",",
        ".",
    } else None
    side = cur.any_phrase("to? the? front|left|f", "to? the? back|right|b")
    letter = "" if side is None else "f" if "front" in side else "b"
    found = dictionary().find(f"{'t' if head.low.startswith('t') else 'c'}{t.value}{letter}")
    if found is None:
        cur.at = here
        return None
    span = cur.span_from(here)
    return (Work(stitch=found.key, count=ONE, readings=tuple(found.readings), span=span),)


def parse_sized_cross(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Sized := number "/" number ("/" number)? ("RC" | "LC" | "RPC" | "LPC" | "RT" | "LT")

    "2/2 RC", "2/1/2 LPC"
    """
    del ctx, depth
    from purlwright.stitches.load import dictionary

    here = cur.at
    words = ""
    for _ in range(6):
        t = cur.peek()
        if t.kind == "n" or t.low == "/":
            words += t.low
            cur.next()
            continue
        if t.kind in {"w", "s"}:
            words += t.low
            cur.next()
            if cur.peek().low == "p" and cur.peek().glued:
                words += cur.next().low
        break
    found = dictionary().find(words)
    if found is None or "/" not in words:
        cur.at = here
        return None
    return (Work(stitch=found.key, count=ONE, readings=tuple(found.readings), span=cur.span_from(here)),)


_HOLD = (parse_hold_cross,)
WORDS: dict[str, tuple[Handler, ...]] = {
    **dict.fromkeys(("hold", "move", "place", "take", "leave", "put", "transfer"), _HOLD),
    "c": (parse_cable,),
    "cable": (parse_cable,),
    **dict.fromkeys(("skip", "miss"), (parse_twist,)),
    "twist": (parse_cable,),
}
