"""A clue: something true of the rows of a part, in plain words, with the rows it is true of.

In: nothing; the kinds of clue make them. Out: frozen values. Whether a clue is worth telling is left to
``choose``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from purlwright.lesson.facts import Fact, Value, read
from purlwright.lesson.rows import Part, Row
from purlwright.pattern.words_numbers import ordinal_words
from purlwright.proof.said import and_list

__all__ = ["Claim", "Clue", "claim", "rows_said"]

_MOST_LABELS = 12
"""So many labels can be listed in one breath, if they follow one another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """What a clue says, so that it can be tested: after the row with each order, the fact has the value."""

    fact: Fact
    orders: tuple[int, ...]
    values: tuple[Value, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clue:
    """One true thing. ``kind`` is K01 to K31. ``words`` is a sentence; ``claims`` are what it says, one or
    more.

    ``rows`` says in words which rows it holds for and ``stops`` where it does not hold, "" if it holds from
    the first row of the part to the last. ``seconds`` is what it costs to test; ``touch`` whether fingers
    are enough. ``tells_row`` is true where it names the row, false where it says whether all is well.
    """

    kind: str
    words: str
    claims: tuple[Claim, ...]
    rows: str
    stops: str = ""
    seconds: float
    touch: bool = False
    tells_row: bool = False


def claim(fact: Fact, rows: Iterable[Row]) -> Claim:
    """The claim that a fact is after some rows what it is."""
    rows = tuple(rows)
    return Claim(fact=fact, orders=tuple(r.order for r in rows), values=tuple(read(fact, r) for r in rows))


def rows_said(part: Part, rows: Iterable[Row]) -> tuple[str, str]:
    """Which rows of a part a clue holds for, and where it does not: what is not told of the first and the
    last.
    """
    rows = tuple(rows)
    mine = {r.order for r in rows}
    every = list(part.rows)
    what = part.what
    if len(rows) == len(every):
        return f"every {what} of this part", ""
    for side, name in (("RS", "right-side"), ("WS", "wrong-side")):
        sided = [r for r in every if r.seen.side == side]
        if part.even and {r.order for r in sided} == mine:
            return f"every {name} {what}", ""
    labels = part.labels
    met = {label: rs for label, rs in labels.items() if any(r.order in mine for r in rs)}
    begun = {sum(r.order not in mine for r in rs) for rs in met.values()}
    late = max(begun, default=0)
    whole = len(begun) == 1 and all(r.order in mine for rs in met.values() for r in rs[late:])
    if whole and 0 < len(met) <= _MOST_LABELS and all(met):
        said = _listed(list(met))
        if late:
            return f"{said}, from the {ordinal_words(late + 1)} time on", "not before"
        return f"{said}{', each time' if {len(rs) for rs in met.values()} != {1} else ''}", _ends(part, mine)
    if _together(every, mine) and len(rows) > 1 and every[-1].order in mine:
        return f"from {rows[0].name} on", "not before"
    if _together(every, mine):
        said = rows[0].name if len(rows) == 1 else f"from {_short(rows[0], rows[-1])} to {rows[-1].name}"
    else:
        said = f"{len(rows)} of its {len(every)} {what}s"
    return said, _stops(part, rows, mine)


def _ends(part: Part, mine: set[int]) -> str:
    """Which of the first and last row of the part are not among some rows, that are named already."""
    ends = [name for name, r in (("first", part.rows[0]), ("last", part.rows[-1])) if r.order not in mine]
    return f"not after the {' or the '.join(ends)} {part.what} of this part" if ends else ""


def _together(every: list[Row], mine: set[int]) -> bool:
    at = [i for i, r in enumerate(every) if r.order in mine]
    return at == list(range(at[0], at[-1] + 1)) if at else False


def _stops(part: Part, rows: tuple[Row, ...], mine: set[int]) -> str:
    """What is to be said of the first and the last row, if it does not hold there."""
    first, last = part.rows[0], part.rows[-1]
    if _together(list(part.rows), mine):
        said = []
        if first.order not in mine:
            said.append(f"not before {_short(rows[0], rows[-1])}")
        if last.order not in mine:
            said.append(f"no longer after {_short(part.rows[rows[-1].number], rows[-1])}")
        return ", ".join(said)
    ends = [r.name for r in (first, last) if r.order not in mine]
    return f"not after {' or '.join(dict.fromkeys(ends))}" if ends else ""


def _short(row: Row, beside: Row) -> str:
    """What a row is called beside another: "the 1st" of "the 1st row of this part" and "the 6th"."""
    of_part = f" {row.entry.kind.value} of this part"
    other = row is not beside and beside.name.endswith(of_part)
    return row.name.removesuffix(of_part) if other else row.name


def _listed(labels: list[str]) -> str:
    """Labels as one list: row 1 and row 5 are rows 1 and 5; row 2, row 3 and row 4 are rows 2 to 4."""
    numbered = [label.split(" ") for label in labels]
    plain = [int(n) for _, n in (x for x in numbered if len(x) == 2 and x[1].isdecimal())]
    kinds = {x[0] for x in numbered if len(x) == 2 and x[1].isdecimal()}
    if len(plain) < 2 or len(kinds) != 1:
        return and_list(labels)
    kind = kinds.pop()
    in_turn = len(plain) > 2 and plain == list(range(plain[0], plain[-1] + 1))
    together = (
        f"{kind}s {plain[0]} to {plain[-1]}" if in_turn else f"{kind}s {and_list([str(n) for n in plain])}"
    )
    rest = [label for label in labels if not re.fullmatch(rf"{kind} \d+", label)]
    return and_list([together, *rest])
