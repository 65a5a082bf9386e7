"""Words that lead to an order and work nothing themselves: "you must then", "at the end of the row,".

In: a cursor. Out: whether such words were taken; the order itself stands next.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.phrases import Phrases

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor

__all__ = ["take_lead"]

_YOU = frozenset("must should will now then also again only next".split())
_WORK_VERBS = frozenset(
    "knit pearl purl seam take pick cast bind decrease increase narrow widen make divide repeat turn rib"
    " slip join begin"
    " reduce".split()
)
_PLAIN_VERBS = frozenset("knit purl pearl work rib cast take pick bring".split())
_OF_ROWS = frozenset("every on in at once twice".split())
"""What tells the rows of a shaping: "begin to decrease every 8 rows"."""
_LEADS = Phrases(
    "at the? end of this|the|each|every|last? row|round|rnd|needle ,", "after this|that ,?",
    "from here|now on ,?", "after which ,?", "at this point ,?", "from this time forward|on? you? must? ,?",
    "at the? beginning|beg|start of the? next|this|each|every? row|round|rnd ,", "at the? marker|m ,",
    "from|with the? first|second|third|1st|2nd|3rd|other|next needle|pin ,?",
)  # fmt: skip


def take_lead(cur: Cursor) -> bool:
    """LEAD: "you" "must"? | ("begin" | "proceed" | "continue") "to" | "at the end of the row" ",": before an
    order.
    """
    low, after, order = cur.peek().low, cur.peek(1).low, cur.peek(2).low
    n = 0
    if low == "you":
        n = _you_must(cur)
    elif after == "to" and (
        (low in {"begin", "commence", "continue"} and order in _PLAIN_VERBS)
        or (low == "begin" and cur.peek(3).low in _OF_ROWS)
        or (low == "proceed" and order in _WORK_VERBS)
    ):
        n = 2
    elif low in {"at", "after", "from", "with"}:
        return _LEADS.take(cur) is not None
    cur.at += n
    return n > 0


def _you_must(cur: Cursor) -> int:
    """How many words of "you must now", "you then" stand before an order; 0 if none does."""
    n = 1
    while n < 5 and cur.peek(n).low in _YOU:
        n += 1
    return n if cur.peek(n).low in _WORK_VERBS else 0
