"""Whole rows that their last words tell: "... and repeat.", "k2, p2 across", a star that only closes.

In: a cursor at the first words of a row. Out: one repeat of all of it, or None.
"""

from __future__ import annotations

from purlwright.pattern.read import steps as reader
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.places import PLACE_WORDS, STITCH_WORDS, parse_place
from purlwright.pattern.read.working import REPEATS, SEPARATORS, Steps, parse_times
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Choice, Fill, PlaceKind, Repeat, Said, Work

__all__ = ["parse_whole_row"]

_INTO_WORDS = frozenset("next same one the each".split())
_RUN_WORDS = frozenset({",", "k", "p", "knit", "purl", "and", "tbl", ".", "together", "tog"})
_WRAPPED = frozenset({"wrap", "wraps", "double"})
_SLIPPED = frozenset({"slipped", "slipping", "same"})
_TWISTED = frozenset({"second", "2nd", "again", "leaving", "drop", "skipped"})


def _scan(cur: Cursor) -> int:
    """Look over the line once: where a bare "repeat" (or a lone closing star) ends the row, and whether
    words say "into".

    Gives the index of the bare repeat, or -1.
    """
    tokens = cur.tokens
    pad = cur.pad
    bare = -1
    stars = 0
    last_star = -1
    for i, t in enumerate(tokens):
        low = t.low
        if low in REPEATS:
            nxt = pad[i + 1]
            before = tokens[i - 1].low if i else ""
            if (
                bare < 0
                and i
                and stars == 0
                and before in SEPARATORS | {"so"}
                and (
                    not nxt.kind
                    or nxt.low
                    in {".", ";", "-", "twice", "once", "all", "across", "around", "to", "throughout"}
                    or (nxt.value is not None and pad[i + 2].low in {"times", "more"})
                )
            ):
                bare = i
        elif low in _TWISTED:
            cur.kept["twist"] = True
        elif low in {"for", "over"}:
            if any(pad[min(i + n, len(tokens))].low in STITCH_WORDS for n in (2, 3, 4)):
                cur.kept["run"] = True
        elif low in {"rib", "ribbing"}:
            cur.kept["rib"] = True
        elif low in {"cast", "cast-on"}:
            cur.kept["cast"] = True
        elif low in _SLIPPED:
            cur.kept["slipped"] = True
        elif low in _WRAPPED:
            cur.kept["wrap"] = True
        elif low == "alternately" and bare < 0 and i and stars == 0 and tokens[i - 1].low != "times":
            after = pad[i + 2] if pad[i + 1].low == "," else pad[i + 1]
            if after.low in {
                ".",
                ";",
                "",
                "throughout",
                "across",
                "along",
                "all",
                "to",
                "round",
                "around",
            }:
                bare = i
        elif low in {"in", "into"}:
            if pad[i + 1].low in _INTO_WORDS:
                cur.kept["into"] = True
        elif low in {"*", "**"}:
            stars += 1
            last_star = i
        elif (
            low == "so"
            and bare < 0
            and i
            and tokens[i - 1].low == "and"
            and pad[i + 1].low in {"on", "forth"}
        ):
            bare = i
    if (
        stars == 1
        and last_star > 0
        and bare < 0
        and (pad[last_star + 1].low in {".", ""} and not pad[last_star + 2].kind)
    ):
        bare = last_star
    return bare


def parse_whole_row(cur: Cursor, ctx: Context, start: int) -> Steps | None:
    """whole-row := steps sep ("repeat" | "and repeat" | "and so on" | "*") (times | place)?

    "Make 1, knit 5, knit 2 together, and repeat.", "over, knit 1, over, knit 11 *."
    """
    bare = cur.kept.get("bare")
    if bare is None:
        bare = cur.kept["bare"] = _scan(cur)
        if bare < 0 and (run := _run_to(cur, start)) > 0:
            return _run_across(cur, ctx, start, run)
    if bare <= start:
        return None
    cur.kept["bare"] = -1
    body = reader.parse_steps(cur, ctx, closers=REPEATS | {"*", "so", "alternately"}, depth=1)
    if cur.at == bare - 1 and cur.pad[bare].low == "so":
        cur.at = bare
    if cur.at != bare or not body:
        cur.at = start
        return None
    mark = cur.next().low
    if mark == "so":
        cur.next()
    elif mark == "alternately":
        cur.take(",")
    times = parse_times(cur, ctx)
    place = None
    if times is None and cur.pad[cur.at].low in PLACE_WORDS:
        place = parse_place(cur, ctx)
    cur.any_phrase(
        "throughout the? row|round|needle?", "throughout", "all? along|across the? row|round|needle?"
    )
    said = Said.TO if place is not None else times[1] if times is not None else Said.OPEN
    number = times[0] if times is not None else None
    return (
        Repeat(
            body=body,
            times=number,
            to=place,
            said=said,
            mark="*" if mark == "*" else "",
            star=True,
            span=cur.span_from(start),
        ),
    )


def _run_to(cur: Cursor, start: int) -> int:
    """Where "across" or its like ends a run of counted stitches ("k2, p2 across"); 0 if the row is not of
    that kind.
    """
    pad = cur.pad
    counted = 0
    i = start
    while True:
        t = pad[i]
        if t.kind in {"n", "s"}:
            counted += t.low not in {"k", "p"}
        elif t.low in {"across", "around"} or (t.low == "to" and pad[i + 1].low in {"end", "the"}):
            before = pad[i - 1]
            if before.low == "tbl" and pad[i - 2].low in {"k", "p", "knit", "purl"}:
                return 0
            return i if counted > 1 and (before.kind == "n" or before.low not in {"k", "p"}) else 0
        elif t.low not in _RUN_WORDS:
            return 0
        i += 1


def _run_across(cur: Cursor, ctx: Context, start: int, run: int) -> Steps | None:
    """run-across := counted ("," counted)+ ("across" | "around" | "to end")

    "k2, p2 across": the run over and over, or only its last stitch; the printed counts choose
    """
    inner = Cursor(cur.tokens[:run], start)
    body = reader.parse_steps(inner, ctx, depth=1)
    if not inner.done or len(body) < 2 or not all(isinstance(s, Work) for s in body):
        return None
    cur.at = run
    place = parse_place(cur, ctx)
    if place is None or place.kind is not PlaceKind.END:
        cur.at = start
        return None
    span = cur.span_from(start)
    whole: Steps = (Repeat(body=body, to=place, said=Said.TO, mark="", span=span),)
    last: Steps = (*body[:-1], Fill(body=body[-1:], to=place, span=body[-1].span.cover(place.span)))
    return (
        Choice(
            readings=(whole, last),
            ways=("all of it going on to the end", "only the last stitch going on to the end"),
            usual=True,
            span=span,
        ),
    )
