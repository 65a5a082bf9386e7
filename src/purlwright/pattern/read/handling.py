"""Words of needles, yarn and the piece in the hand that work no stitch: "start a new needle", "turn the sock
inside out", "if it will not stretch to 50 cm, use a larger needle", "cotton settles".

In: a cursor at the start of a clause. Out: where such words end. They are notes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.prose import aside_end, is_talk, sentence_end

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor

__all__ = ["handling_end"]

_NEEDLE = Phrases(
    "start|starting|begin|take|use|with a|the? new|fresh|free|empty|spare needle|dpn|pin",
    "start|begin|starting|beginning the? next needle|dpn|pin",
)  # fmt: skip
_ONLY_DRAWN = Phrases(
    "only|just the? rs|ws|odd|even|odd-numbered|even-numbered rows|rnds|rounds are shown|drawn|charted|given",
    "only|just the? right|wrong - side rows are shown|drawn|charted|given",
    "only|just the? right|wrong side rows are shown|drawn|charted|given",
    "only|just the? odd|even - numbered rows|rnds|rounds are shown|drawn|charted|given",
)  # fmt: skip
_OUT = Phrases("inside|wrong|right / inside|right|wrong side? out", "inside|wrong|right side? out")
_STUFF = frozenset("cotton wool yarn silk linen alpaca mohair merino bamboo fabric lace knitting".split())
_DOES = frozenset(
    "settles settle stretches stretch relaxes relax blooms bloom drops grows grow shrinks shrink felts felt"
    " splits sheds softens soften gives opens evens tends likes".split()
)
_TOLD = frozenset("worked knit knitted used made did repeated chose had found like liked prefer".split())
"""What the designer tells of her own piece: "I worked the four rows 12 times"."""
_LONGEST = 6


def handling_end(cur: Cursor) -> int:
    """Where words of handling that begin here end; -1 if these are none. Nothing is taken."""
    here = cur.at
    low = cur.peek().low
    end = -1
    if low in {"at", "and", "place", "placing", "hang", "put"} and (end := _edge_markers(cur)) > here:
        pass
    elif low in {"start", "starting", "begin", "beginning", "take", "use", "with"}:
        if _NEEDLE.take(cur) is not None and _stops(cur):
            end = cur.at
    elif low in {"only", "just"}:
        if _ONLY_DRAWN.take(cur) is not None and _stops(cur):
            end = cur.at
    elif low in {"turn", "turning"}:
        end = _turned_out(cur)
    elif low == "fold":
        end = _folded(cur)
    elif low == "if":
        end = _condition(cur)
    elif low in _STUFF or (low in {"the", "your", "this"} and cur.peek(1).low in _STUFF):
        end = _of_stuff(cur)
    elif low in {"i", "we"} and cur.peek(1).low in _TOLD:
        end = sentence_end(cur)
    elif low == "(":
        end = _of_the_chart(cur)
    cur.at = here
    return end


_EDGE_MARKERS = Phrases(
    "place|placing|hang|hanging|put|putting a|coloured? marker|thread at each|both|either end|ends",
)  # fmt: skip


def _folded(cur: Cursor) -> int:
    """FOLDED: "fold the hem up" before "and knit ...": what is worked stands after it."""
    for i in range(1, 16):
        low = cur.peek(i).low
        if low in {"", ".", ";", "("}:
            return -1
        if low in {"and", ",", "then"} and cur.peek(i + 1).low in {"knit", "k", "purl", "p", "k2tog", "ssk"}:
            return cur.at + i
    return -1


def _edge_markers(cur: Cursor) -> int:
    """("at the same time")? "place a marker at each end" ("of" ROWS)?: hung in the edge, to measure from."""
    cur.any_phrase("and? at the same time")
    cur.take(",")
    if _EDGE_MARKERS.take(cur) is None:
        return -1
    if cur.any_phrase(
        "of the? first|last of these|those rows", "of this|the|these|that last|next|first? row|rows"
    ):
        return cur.at
    return cur.at if _stops(cur) else -1


def _stops(cur: Cursor) -> bool:
    return cur.peek().low in {"", ",", ".", ";", ":", ")", "and"}


def _turned_out(cur: Cursor) -> int:
    """("turn" "the"? PIECE "inside out"): "turn sock right side out"."""
    for n in range(1, _LONGEST):
        if cur.peek(n).low in {"inside", "wrong", "right"}:
            cur.at += n
            return cur.at if _OUT.take(cur) is not None and _stops(cur) else -1
        if cur.peek(n).kind not in {"w", "s"}:
            return -1
    return -1


def _condition(cur: Cursor) -> int:
    """IF: a sentence of a case that may come, in which nothing is knitted: a needle or a length at most."""
    end = sentence_end(cur)
    words = [t for t in cur.tokens[cur.at : end] if t.low not in {"needle", "needles", "yarn", "in", "cm"}]
    return end if is_talk(words) else -1


def _of_stuff(cur: Cursor) -> int:
    """STUFF: "cotton settles", "the yarn blooms in the wash": what it does of itself."""
    start = cur.at + (cur.peek().low not in _STUFF)
    if cur.tokens[start + 1 : start + 2] and cur.tokens[start + 1].low not in _DOES:
        return -1
    end = start + 1
    while end < len(cur.tokens) and cur.tokens[end].low not in {",", ".", ";", ":", ")", "so", "and"}:
        end += 1
    rest = cur.tokens[start + 1 : end]
    return end if rest and is_talk(rest) else -1


def _of_the_chart(cur: Cursor) -> int:
    """CHART: "(columns numbered 1-6 are the pattern repeat)": how a chart is to be looked at."""
    end = aside_end(cur)
    if end < 0:
        return -1
    lows = [t.low for t in cur.tokens[cur.at + 1 : end - 1]]
    about = {"columns", "column", "squares", "symbols", "lines"}.intersection(lows[:4])
    return end if about and {"is", "are", "show", "shows", "mark", "marks"}.intersection(lows) else -1
