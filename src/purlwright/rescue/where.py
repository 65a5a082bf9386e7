"""Where am I? The rows that all the facts allow, when nothing went wrong.

In: what is seen after each row of each piece, and facts. Out: :class:`Where`: exactly the rows that fit every
fact, and the one thing to look at that divides them best. Where no row fits, which facts clash, or what the
count might be instead. What may have gone wrong is left to ``rank``.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from purlwright.needles.columns import NO_MARK, UNTOLD
from purlwright.needles.ledger import Kind
from purlwright.needles.looks import LANDMARKS, RowLook, Working, within
from purlwright.pattern.tree import Side
from purlwright.rescue.observe import NO_MARK_WORD, Facts, Said
from purlwright.rescue.questions import QUESTIONS, Question

__all__ = [
    "NOTHING_TELLS", "Clash", "Found", "Where", "ask_up_a_column", "ask_up_this_column", "bits",
    "clash_of", "column_of", "fact_of", "telling_column", "where",
]  # fmt: skip

SEEN_IN_A_ROW = (
    "sts",
    "side",
    "yarn",
    "waiting",
    "gaps",
    "between",
    "intervals",
    "part_rows",
    *(f"since_{mark}" for mark in LANDMARKS),
    "since_stripe",
    "ridges_right",
    "ridges_left",
    "chains_right",
    "chains_left",
)
"""The facts that the row alone decides; beside them stands "column", of which she names the stitch."""
NOTHING_TELLS = frozenset({"side", "yarn", "column"})
"""Facts that some rows leave open: such a row fits whatever she says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A row that fits. ``worked`` is how many loops of it are on the right needle, None if it is done."""

    piece: str
    look: RowLook
    worked: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Facts that cannot all be true. ``nearest`` are the counts next to hers that can be."""

    names: tuple[str, ...]
    nearest: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """The answer. ``near`` are rows that would fit if the count were out by one or two."""

    rows: tuple[Found, ...]
    near: tuple[Found, ...] = ()
    clash: Clash | None = None
    next: Question | None = None
    answers: tuple[tuple[Said, tuple[Found, ...]], ...] = ()
    """For each answer to the next question the rows it leaves."""


def fact_of(look: RowLook, name: str) -> Said | None:
    """What is truly seen after a row; None where there is nothing to tell."""
    if name == "sts":
        return look.stitches
    if name == "side":
        return None if look.side is None else look.side.value
    if name in {"waiting", "gaps"}:
        return look.waiting if name == "waiting" else look.gaps
    if name == "between":
        return look.between or None
    if name == "intervals":
        return look.intervals or None
    if name == "part_rows":
        return look.in_part
    if name == "yarn":
        return look.yarn
    if name == "since_stripe":
        return look.since_stripe if look.since_stripe >= 0 else None
    if name.startswith("since_"):
        since = look.since[LANDMARKS.index(name[6:])]
        return since if since >= 0 else None
    if name.startswith("ridges_"):
        return look.ridges[name.endswith("left")]
    return look.chains[name.endswith("left")]


def column_of(look: RowLook, stitch: int) -> Said | None:
    """What is truly counted in the column of a stitch, from 1; None where nothing tells.

    -1 where the column has no landmark, or there is no such stitch.
    """
    if look.above is None:
        return None
    above = look.above[stitch - 1] if 0 < stitch <= len(look.above) else NO_MARK
    return None if above == UNTOLD else (stitch, above)


def _fits(look: RowLook, name: str, said: Said) -> bool:
    if name == "column":
        true = column_of(look, said[0]) if isinstance(said, tuple) else None
    else:
        true = fact_of(look, name)
    if true is None:
        return name in NOTHING_TELLS
    return true == said


def where(
    pieces: Sequence[tuple[str, Sequence[RowLook]]], facts: Facts, workings: Mapping[int, Working]
) -> Where:
    """The exact set of rows that the facts allow; ``workings`` is what each row works, by its order."""
    known = {name: v for name, v in facts.known.items() if name in {*SEEN_IN_A_ROW, "column"}}
    if not {"on_left", "on_right", "yarn_on"}.isdisjoint(facts.known):
        return _in_mid_row(pieces, facts, workings)
    every = [
        Found(piece=piece, look=look)
        for piece, looks in pieces
        for look in looks
        if facts.sure is None or look.index + 1 >= facts.sure
    ]
    rows = tuple(f for f in every if all(_fits(f.look, name, v) for name, v in known.items()))
    if not rows:
        near: tuple[Found, ...] = ()
        if facts.sts is not None:
            rest = {name: v for name, v in known.items() if name != "sts"}
            for off in (1, 2):
                near = tuple(
                    f
                    for f in every
                    if abs(f.look.stitches - facts.sts) == off
                    and all(_fits(f.look, n, v) for n, v in rest.items())
                )
                if near:
                    break
        return Where(rows=(), near=near, clash=clash_of([f.look for f in every], known))
    question, stitch = _next(rows, known) if len(rows) > 1 else (None, 0)
    answers = () if question is None else _answers(rows, question, stitch)
    return Where(rows=rows, next=question, answers=answers)


def clash_of(looks: Sequence[RowLook], known: Mapping[str, Said]) -> Clash | None:
    """The fewest facts that no row has together: one, or a pair, or all."""
    if not known:
        return None
    for name, said in known.items():
        if not any(_fits(look, name, said) for look in looks):
            return Clash(names=(name,), nearest=_nearest(looks, said) if name == "sts" else ())
    for a, b in combinations(known, 2):
        if not any(_fits(x, a, known[a]) and _fits(x, b, known[b]) for x in looks):
            return Clash(names=(a, b))
    if not any(all(_fits(x, n, v) for n, v in known.items()) for x in looks):
        return Clash(names=tuple(known))
    return None


def _nearest(looks: Sequence[RowLook], said: Said) -> tuple[int, ...]:
    """The counts below and above that can be."""
    counts = sorted({x.stitches for x in looks})
    below = [n for n in counts if n < int(said)] if isinstance(said, int) else []
    above = [n for n in counts if n > int(said)] if isinstance(said, int) else []
    return (*below[-1:], *above[:1])


def _next(rows: Sequence[Found], known: Mapping[str, Said]) -> tuple[Question | None, int]:
    """The question that leaves the fewest rows for its effort, and the stitch that it names, if it does."""
    best: tuple[float, Question, int] | None = None
    looks = [f.look for f in rows]
    for q in QUESTIONS.values():
        stitch = 0
        if q.name == "column" and "column" not in known:
            stitch, bits = telling_column(looks)
        elif all(name in SEEN_IN_A_ROW and name not in known for name in q.facts):
            bits = _bits(Counter(tuple(fact_of(x, name) for name in q.facts) for x in looks))
        else:
            continue
        worth = bits / (q.effort + 15)
        if bits > 0.01 and (best is None or worth > best[0]):
            best = (worth, q, stitch)
    if best is None:
        return None, 0
    _, question, stitch = best
    return (_at_stitch(question, stitch, looks) if stitch else question), stitch


def telling_column(looks: Sequence[RowLook]) -> tuple[int, float]:
    """The stitch whose column tells most, from 1, and how many bits; 0 where none tells anything."""
    wide = max((len(x.above) for x in looks if x.above is not None), default=0)
    most = (0, 0.0)
    for stitch in range(1, wide + 1):
        bits = _bits(Counter(column_of(x, stitch) for x in looks))
        if bits > most[1] + 1e-9:
            most = (stitch, bits)
    return most


def ask_up_a_column(looks: Sequence[RowLook]) -> Question | None:
    """The count up the column that tells most between these rows, its stitch named; None if none tells."""
    stitch, _ = telling_column(looks)
    return _at_stitch(QUESTIONS["column"], stitch, looks) if stitch else None


def bits(answers: Iterable[Any]) -> float:
    """How much an answer tells, where each of these is given once."""
    return _bits(Counter(answers))


def _bits(parts: Counter[Any]) -> float:
    n = sum(parts.values())
    return math.log2(n) - sum(k * math.log2(k) for k in parts.values()) / n


def ask_up_this_column(stitch: int, looks: Sequence[RowLook]) -> Question:
    """The count up the column of a stitch, where that stitch is settled and only the count is to be told."""
    asked = _at_stitch(QUESTIONS["column"], stitch, looks)
    _, _, how = asked.how.partition(". ")
    return replace(asked, how=how.replace(f"{stitch}, {NO_MARK_WORD}", NO_MARK_WORD), numbers=1)


def _at_stitch(question: Question, stitch: int, looks: Sequence[RowLook]) -> Question:
    """The question about a column, with the stitch named, and the landmarks there are."""
    marks = [mark for k, mark in enumerate(LANDMARKS) if any(x.since[k] >= 0 for x in looks)]
    named = f"{', '.join(marks[:-1])} or {marks[-1]}" if len(marks) > 1 else "".join(marks)
    in_rounds = all(x.entry.kind is Kind.ROUND for x in looks)
    edge = "the beginning of the round" if in_rounds else "the right edge, the right side facing"
    asks = (
        f"Find stitch {stitch}, counted from {edge}. How many stitches stand in its column above the last "
        f"{named}?"
    )
    how = (
        f"Answer with both numbers, such as {stitch}, 4. Count up to the needle, its loop included; 0 if "
        f"that {'mark' if len(marks) > 1 else named} was made in the row just worked; {stitch}, "
        f"{NO_MARK_WORD} if the column has no {'such mark' if len(marks) > 1 else named}."
    )
    return replace(question, asks=asks, how=how)


def _answers(
    rows: Sequence[Found], question: Question, stitch: int
) -> tuple[tuple[Said, tuple[Found, ...]], ...]:
    by: dict[Said, list[Found]] = {}
    for f in rows:
        by.setdefault(_answer(f.look, question, stitch), []).append(f)
    return tuple(
        (value, tuple(found)) for value, found in sorted(by.items(), key=lambda x: (str(type(x[0])), x[0]))
    )


def _answer(look: RowLook, question: Question, stitch: int) -> Said:
    """What she would say after a row; "none" where there is nothing to say."""
    if stitch:
        said = column_of(look, stitch)
        return said if isinstance(said, tuple) and said[1] >= 0 else "none"
    seen = [fact_of(look, part) for part in question.facts]
    if len(seen) == 1:
        return "none" if seen[0] is None else seen[0]
    return tuple(int(v) for v in seen if isinstance(v, int))


# --- in mid-row ------------------------------------------------------------------------------------


def _in_mid_row(
    pieces: Sequence[tuple[str, Sequence[RowLook]]], facts: Facts, workings: Mapping[int, Working]
) -> Where:
    """Rows that have so many loops on each needle at some place.

    The stitch that the yarn comes from was worked last, and belongs on the right needle: where it is on the
    left, she holds the work turned round.
    """
    turned = facts.yarn_on == "left"
    if turned:
        side = None if facts.side is None else "WS" if facts.side == "RS" else "RS"
        facts = replace(facts, on_left=facts.on_right, on_right=facts.on_left, side=side)
    rows: list[Found] = []
    for piece, looks in pieces:
        for look in looks:
            side = look.entry.side
            if facts.sure is not None and look.index + 1 < facts.sure:
                continue
            if facts.side is not None and side is not None and side.value != facts.side:
                continue
            w = workings.get(look.entry.order)
            for left, right in [] if w is None else within(look.entry, w):
                if facts.on_left in {None, left} and facts.on_right in {None, right}:
                    rows.append(Found(piece=piece, look=look, worked=right))
                    break
    if facts.side is not None or len({f.look.entry.side for f in rows}) < 2:
        return Where(rows=tuple(rows))
    now = replace(QUESTIONS["side"], asks="Which side faces you, as you hold it now?")
    by: dict[Said, list[Found]] = {}
    for f in rows:
        by.setdefault(_faces_now(f.look.entry.side, turned=turned), []).append(f)
    return Where(
        rows=tuple(rows), next=now, answers=tuple((said, tuple(found)) for said, found in sorted(by.items()))
    )


def _faces_now(side: Side | None, *, turned: bool) -> str:
    """The side that she sees in a row that is worked on this side."""
    if side is None:
        return "none"
    return Side.WS.value if (side is Side.RS) is turned else Side.RS.value
