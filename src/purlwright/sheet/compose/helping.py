"""What the follow-along page needs to say where she is, and what a wrong count means, with no one to ask.

In: the told pattern and a size. Out: a :class:`Help`: tables of what is seen after each row, the questions
that tell its rows apart, and what the likely wrong counts mean. All of it is taken from ``rescue``; how it is
asked and looked up is left to the page.
"""

from __future__ import annotations

from itertools import count, pairwise
from typing import TYPE_CHECKING, Literal

from purlwright.needles.columns import NO_MARK
from purlwright.needles.knit import knit
from purlwright.needles.looks import operations, within
from purlwright.pattern.tree import Side
from purlwright.rescue.ahead import SEEN, AheadRow, Likely, ahead
from purlwright.rescue.desk import Desk
from purlwright.rescue.letter import NAMES, write_letter
from purlwright.rescue.observe import COUNTS, YARN_WORDS, Facts, Said
from purlwright.rescue.questions import QUESTIONS, Question
from purlwright.rescue.where import SEEN_IN_A_ROW, ask_up_this_column, bits, column_of, fact_of
from purlwright.sheet.compose.left_handed import mirrored_words
from purlwright.sheet.compose.places import edited
from purlwright.sheet.document import Help, HelpAlso, HelpPiece, HelpQuestion, Remedy, Trouble

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from purlwright.needles.looks import RowLook, Working
    from purlwright.sheet.compose.asked import Options
    from purlwright.sheet.compose.told import Told

__all__ = ["helping"]

_PARTS = {
    "ridges_right": "Right edge", "ridges_left": "Left edge",
    "chains_right": "Right edge", "chains_left": "Left edge",
}  # fmt: skip
_LEAST_BITS = 1.0
"""A count up a column that tells less than one yes or no in the whole piece is not asked for."""
_EDGES = frozenset({"ridges", "chains", "yarn"})


def helping(told: Told, n: int, size: str, options: Options) -> Help | None:
    """The help for the ``n``-th size, called ``size``; None where there is no row."""
    desk = _desk(told, n, options)
    if not desk.pieces:
        return None
    several: dict[str, dict[tuple[int, ...], int]] = {name: {} for name in COUNTS}
    columns = [
        {fact: tuple(_value(look, fact, several) for look in looks) for fact in SEEN_IN_A_ROW}
        for _, looks in desk.pieces
    ]
    questions = [
        q
        for q in QUESTIONS.values()
        if all(fact in SEEN_IN_A_ROW for fact in q.facts)
        and not (told.left_handed and q.name in _EDGES)  # told as the right side shows them, not as she does
        and not (q.name == "yarn" and _as_the_side_tells(columns))
        and any(_tells(fact, [v for c in columns for v in c[fact]]) for fact in q.facts)
    ]
    asked = {fact for q in questions for fact in q.facts}
    stitch = 0 if told.left_handed else _telling_stitch(desk, columns, questions)
    every = [look for _, looks in desk.pieces for look in looks]
    for (_, looks), seen in zip(desk.pieces, columns, strict=True):
        seen["column"] = tuple(_up_the_column(look, stitch) for look in looks)
    steps = _steps(told, n)
    tables = {t.piece.name: t for t in desk.tables}
    say = _mirrored if told.left_handed else str
    midways: dict[tuple[tuple[int, int], ...], int] = {}
    worked = operations(desk.knitted)
    pieces = tuple(
        HelpPiece(
            name=name,
            steps=tuple(steps[look.entry.order] for look in looks),
            nexts=_nexts(told, n, looks, steps),
            columns={
                fact: values
                for fact, values in seen.items()
                if fact in asked or (fact == "column" and stitch)
            },
            worked_on=tuple(-1 if x.entry.side is None else int(x.entry.side is Side.WS) for x in looks),
            midway=tuple(midways.setdefault(_midway(x, worked), len(midways)) for x in looks),
            **_wrong(ahead(tables[name]) if name in tables else (), say),
        )
        for (name, looks), seen in zip(desk.pieces, columns, strict=True)
    )
    return Help(
        letter=write_letter(told.pattern.title, _version(told), size, dict(options), Facts()),
        names={
            fact: NAMES[fact]
            for fact in (
                "piece",
                "row",
                "sts",
                "off",
                "odd",
                "down",
                "on_left",
                "on_right",
                "yarn_on",
                *sorted({*asked, *SEEN, *(["column"] if stitch else [])} - {"sts"}),
            )
        },
        questions=(
            *(_question(q, say) for q in questions),
            *([_question(ask_up_this_column(stitch, every), say, stitch)] if stitch else []),
        ),
        several={name: tuple(counts) for name, counts in several.items() if name in asked},
        pieces=pieces,
        midways=tuple(midways),
        also=tuple(
            HelpAlso(
                fact=name,
                asks=QUESTIONS[name].asks,
                how=say(QUESTIONS[name].how),
                words=QUESTIONS[name].words,
            )
            for name in SEEN
        ),
    )


def _desk(told: Told, n: int, options: Options) -> Desk:
    pattern = told.pattern
    known = {option.name for option in pattern.options}
    chosen = {name: value for name, value in options if name in known}
    others = [(size, told.knitted[k].ledger) for k, size in enumerate(told.work.sizes) if k != n]
    return Desk(told.knitted[n], lambda watch: knit(pattern, size=n, options=chosen, watch=watch), others)


def _value(look: RowLook, fact: str, several: dict[str, dict[tuple[int, ...], int]]) -> int:
    said = fact_of(look, fact)
    if said is None:
        return -1
    if isinstance(said, tuple):
        return several[fact].setdefault(said, len(several[fact]))
    if fact == "yarn":
        return YARN_WORDS[str(said)]
    return said if isinstance(said, int) else int(said == "WS")


def _midway(look: RowLook, worked: Mapping[int, Working]) -> tuple[tuple[int, int], ...]:
    """What lies on each needle after each stitch of a row but the last."""
    w = worked.get(look.entry.order)
    return () if w is None else tuple(within(look.entry, w))


def _tells(fact: str, values: list[int]) -> bool:
    """Whether a fact tells rows apart. A row whose side cannot be told fits either."""
    return len({v for v in values if v >= 0} if fact == "side" else set(values)) > 1


def _as_the_side_tells(columns: Iterable[dict[str, tuple[int, ...]]]) -> bool:
    """Whether the place of the yarn tells no more than the side that faces."""
    pairs = {pair for c in columns for pair in zip(c["side"], c["yarn"], strict=True)}
    return len({side for side, _ in pairs}) == len(pairs)


def _telling_stitch(
    desk: Desk, columns: Iterable[dict[str, tuple[int, ...]]], questions: Iterable[Question]
) -> int:
    """The stitch, from 1, whose column tells most between rows that are alike in all that is sooner counted
    than the rows of a part or of an edge; 0 if none tells.
    """
    facts = [fact for q in questions if q.effort <= QUESTIONS["sts"].effort for fact in q.facts]
    groups: dict[tuple[int, ...], list[RowLook]] = {}
    for (_, looks), seen in zip(desk.pieces, columns, strict=True):
        for n, look in enumerate(looks):
            groups.setdefault(tuple(seen[fact][n] for fact in facts), []).append(look)
    alike = [looks for looks in groups.values() if len(looks) > 1]
    wide = max((len(x.above) for looks in alike for x in looks if x.above is not None), default=0)
    most, best = _LEAST_BITS, 0
    for stitch in range(1, wide + 1):
        told = sum(len(looks) * bits(_up_the_column(x, stitch) for x in looks) for looks in alike)
        if told > most + 1e-9:
            most, best = told, stitch
    return best


def _up_the_column(look: RowLook, stitch: int) -> int:
    """Stitches above the last mark in the column of a stitch; -1 where nothing tells, -2 for none."""
    seen = column_of(look, stitch)
    if not isinstance(seen, tuple):
        return -1
    return -2 if seen[1] == NO_MARK else seen[1]


def _question(q: Question, say: Callable[[str], str], stitch: int = 0) -> HelpQuestion:
    kinds: dict[str, Literal["side", "counts", "word", "column"]] = {
        "side": "side", "yarn": "word", "column": "column", **dict.fromkeys(COUNTS, "counts"),
    }  # fmt: skip
    return HelpQuestion(
        name=q.name,
        asks=q.asks,
        how=say(q.how),
        kind="pair" if q.parts else kinds.get(q.name, "count"),
        facts=tuple((fact, _PARTS.get(fact, "")) for fact in q.facts),
        effort=q.effort,
        words=q.words if q.name == "yarn" else (),
        stitch=stitch,
    )


def _steps(told: Told, n: int) -> dict[int, int]:
    """The number of each step, by the order of its entry in the ledger."""
    orders = sorted(e.order for piece in told.knitted[n].ledger.pieces for e in piece.rows)
    return dict(zip(orders, count(1)))


def _nexts(told: Told, n: int, looks: Iterable[RowLook], steps: dict[int, int]) -> tuple[int, ...]:
    """For each row the step after it: of its own piece, or if that is done the next of all."""
    follows: dict[int, int] = {}
    for piece in told.knitted[n].ledger.pieces:
        orders = sorted(e.order for e in piece.rows)
        follows.update(pairwise(orders))
    return tuple(
        steps[follows[look.entry.order]] if look.entry.order in follows else steps[look.entry.order] + 1
        for look in looks
    )


def _version(told: Told) -> str:
    return next((e.value.strip() for e in told.pattern.header.entries if e.known == "Version"), "")


# --- what is wrong ---------------------------------------------------------------------------------

_Meant = dict[int, tuple[tuple[int, tuple[Trouble, ...]], ...]]


def _wrong(rows: Iterable[AheadRow], say: Callable[[str], str]) -> dict[str, _Meant]:
    counts: _Meant = {}
    off: _Meant = {}
    for row in rows:
        for into, told in ((counts, row.counts), (off, row.off)):
            if told:
                into[row.row] = tuple((v, tuple(_trouble(x, say) for x in likely)) for v, likely in told)
    return {"counts": counts, "off": off}


def _trouble(likely: Likely, say: Callable[[str], str]) -> Trouble:
    made, cure = likely.made, likely.cure
    return Trouble(
        did=say(made.did),
        row=made.row,
        percent=round(likely.share * 100),
        sign=likely.sign,
        down=likely.down,
        seen=tuple([_place(name, said) for name, said in zip(SEEN, likely.seen, strict=True)]),
        remedy=None
        if cure is None
        else Remedy(what=say(cure.what), shows=say(cure.shows), stitches=likely.then, row=likely.done),
    )


def _place(name: str, said: Said | None) -> int:
    """An answer as a number: itself, or its place among the words to choose from."""
    if isinstance(said, int):
        return said
    words = QUESTIONS[name].words
    return words.index(said) if isinstance(said, str) and said in words else -1


def _mirrored(words: str) -> str:
    return edited(words, mirrored_words(words))[0]
