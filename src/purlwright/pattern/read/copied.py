"""Words that make one part like another without saying its rows.

In: a cursor at "Knit the second half to correspond", "as row 3, but end with k2". Out: how far such words go,
so that the line can report them: nothing is guessed. Whole sections worked again ("work as for the first
mitten") are read by ``follow``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.copies import copies_said
from purlwright.pattern.read.phrases import Phrases

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["copies_ahead", "copy_ahead", "exception_ahead"]

_VERBS = Phrases("work|knit|make|do|finish|complete|shape|continue|purl", "bind|cast off")
_PARTS = frozenset(
    "half side piece sleeve sleeves mitten mitt sock stocking shoulder shoulders front back heel thumb glove"
    " hand finger fingers foot leg strap flap wing gore quarter corner wedge armhole neck edge one ones cuff"
    " slipper bootee toe panel square end point pocket lapel collar".split()
)
_NAMING = frozenset(
    "the a an another other second third fourth last next left right upper lower front back remaining rest of"
    " opposite first your two both all sleeve neck side heel".split()
)
_TIES = Phrases(
    "to match|correspond|agree|mate", "exactly|just|precisely? the? same",
    "in|after the|a? same|like|similar|corresponding way|manner|fashion",
    "exactly|just|precisely? like|as for? the|a? first|second|other|right|left|back|front|last|one",
    "correspondingly", "likewise",
)  # fmt: skip
_SAME = Phrases(
    "do|work|repeat|make the? same|likewise? on|at|for|with the? other|second|opposite|remaining"
    " side|edge|end|half|shoulder|front|sleeve|strap|corner",
)  # fmt: skip
_STOPS = frozenset({".", ";", ":", "(", ")", "[", "]", "*", ""})
_GOES_ON = frozenset("reversing reversed only but except excepting working reverse".split())
_BUT = frozenset("but except excepting only save".split())


def copies_ahead(cur: Cursor, text: str, *, alone: bool) -> int:
    """COPIES: "Make both alike.", "(make 2)", "Knit a second piece the same.": how often the section is made.

    text : the line. alone : nothing but closed work stands before: a bare "Make 2." makes no stitches.
    Returns where the words end, or 0. The cursor is not moved.
    """
    pad, at = cur.pad, cur.at
    bracket = pad[at].low in {"(", "["}
    end = at + bracket
    while pad[end].kind and pad[end].low not in {".", ";", "(", ")", "[", "]"}:
        end += 1
    end += bracket and pad[end].low in {")", "]"}
    sentence = text[pad[at].start : pad[end - 1].end] if end > at else ""
    return end if sentence and copies_said(sentence, alone=alone) is not None else 0


def copy_ahead(cur: Cursor) -> int:
    """Copy := verb? part-named tie rest: "Knit the second half to correspond, reversing the shapings"

    Returns where the words end, or 0 if no such words stand here. The cursor is not moved.
    """
    here = cur.at
    if _SAME.take(cur) is not None:
        end = _rest(cur)
        cur.at = here
        return end
    _VERBS.take(cur)
    told = cur.at > here
    part = False
    for _ in range(7):
        t = cur.peek()
        at = cur.at
        if part and _TIES.take(cur) is not None:
            end = _rest(cur)
            cur.at = here
            return end
        cur.at = at
        if t.low in _PARTS:
            part = True
        elif t.low not in _NAMING or (not told and at > here + 4):
            break
        cur.at += 1
    cur.at = here
    return 0


def exception_ahead(cur: Cursor, ctx: Context) -> int:
    """Exception := ("but" | "except") words: after "as row 3": what differs is not told as a row

    Another yarn ("but with B") is no such exception. Returns where the words end, or 0.
    """
    pad, at = cur.pad, cur.at
    if pad[at].low not in _BUT:
        return 0
    after = pad[at + 1].low
    if after in {"with", "in", "using"} and (
        pad[at + 2].low in ctx.yarns or pad[at + 2].low in {"mc", "cc", "a", "b", "c", "d", "colour", "color"}
    ):
        return 0
    while pad[at].kind and pad[at].low not in {".", ";"}:
        at += 1
    return at


def _rest(cur: Cursor) -> int:
    """The end of the clause: a comma ends it, if what follows does not say how the copy differs."""
    pad, at = cur.pad, cur.at
    while pad[at].kind and pad[at].low not in _STOPS:
        if pad[at].low == "," and pad[at + 1].low not in _GOES_ON:
            break
        at += 1
    return at
