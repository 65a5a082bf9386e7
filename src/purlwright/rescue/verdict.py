"""What to tell her: what most likely happened, why we think so, what mends it, and what to look at next.

In: the tables of a size, facts, and which questions were asked already. Out: a :class:`Verdict`, all in words
and numbers, ready to be shown or sent. How it is laid out is left to ``terminal`` and ``wire``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

import numpy as np

from purlwright.needles.columns import UNTOLD
from purlwright.rescue.asking import next_question
from purlwright.rescue.cure import Cure, before, cures_for
from purlwright.rescue.fit import said_of
from purlwright.rescue.knitted_on import Knit
from purlwright.rescue.mistakes import PATTERN
from purlwright.rescue.naming import name_of, stitches
from purlwright.rescue.observe import COUNTS, ODD_MEANS, Facts, Said
from purlwright.rescue.pairs import Pair, best_pair
from purlwright.rescue.questions import QUESTIONS, Question
from purlwright.rescue.rank import CERTAIN, CLEAR, Ranked, rank, weigh
from purlwright.rescue.table import AT, Table, in_column
from purlwright.rescue.walks import MARKER
from purlwright.rescue.where import Clash, ask_up_a_column, clash_of

__all__ = ["MENDED", "Diagnosis", "Verdict", "diagnose", "says"]

LIKELY = 0.6
MENDED = 0.2
"""Less likely than this, it is only the first of many, and nothing is to be undone for it."""
MOST_TOLD = 3
_WORTH_TELLING = 0.02
"""What is less likely than that is not told."""
MOST_ASKED = 12
"""After so many questions it is told what is known, sure or not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """One thing that may have happened.

    likely : from 0 to 1; ``how_sure`` says it in words. now_row : the row of the piece that she has just
    finished, from 1 (0: the cast-on). made_row : the row of the mistake; 0 where there was none. reasons :
    what speaks for it; against : what does not. alike : mistakes that would show the very same.
    """

    piece: str
    code: str
    name: str
    did: str
    likely: float
    how_sure: str
    now_row: int
    made_row: int
    reasons: tuple[str, ...]
    against: tuple[str, ...]
    alike: tuple[str, ...]
    cures: tuple[Cure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The answer. ``clear`` says that nothing more need be asked."""

    found: tuple[Diagnosis, ...]
    next: Question | None
    clear: bool
    clash: Clash | None
    notes: tuple[str, ...]


def diagnose(
    tables: Sequence[Table], facts: Facts, asked: Iterable[str] = (), knit: Knit | None = None
) -> Verdict:
    """Say what most likely happened; ``knit`` knits the size once more, to make two mistakes at once."""
    asked = tuple(asked)
    clash = _clash(tables, facts)
    weighed = weigh(tables, facts)
    ranked = rank(weighed) if facts.known else []
    clear = bool(ranked) and ranked[0].likely >= CLEAR
    question = None
    if not clear and len(asked) < MOST_ASKED:
        name = next_question(weighed, facts, asked)
        question = _up_one_column(ranked, facts, asked) if name is None else QUESTIONS[name]
    notes = () if clash is not None else _notes(tables, facts)
    told = [r for i, r in enumerate(ranked[:MOST_TOLD]) if i == 0 or r.likely >= _WORTH_TELLING]
    found = tuple(_diagnosis(r, facts, with_cures=i == 0) for i, r in enumerate(told))
    if found and found[0].against:  # one mistake does not explain it all
        pair = best_pair(ranked[0], facts, knit)
        if pair is not None:
            rest = [replace(d, likely=round(d.likely * (1 - pair.some), 4), cures=()) for d in found]
            rest = [replace(d, how_sure=says(d.likely)) for d in rest]
            found = tuple(sorted((_two(pair), *rest), key=lambda d: -d.likely)[:MOST_TOLD])
            notes = (*notes, f"Two mistakes explain it better than one ({round(pair.some * 100)} in 100).")
            clear = False
    if clash is not None:  # nothing is mended on what cannot be
        found = tuple(replace(d, cures=()) for d in found)
    return Verdict(found=found, next=question, clear=clear or question is None, clash=clash, notes=notes)


def _up_one_column(ranked: Sequence[Ranked], facts: Facts, asked: Sequence[str]) -> Question | None:
    """The count up one column, asked for when nothing else tells and she may be in one of several rows."""
    if "column" in asked or facts.column is not None:
        return None
    at = {
        (r.table.piece.name, r.row): r.table.piece.looks[r.row]
        for r in ranked
        if r.likely >= _WORTH_TELLING and 0 <= r.row < len(r.table.piece.looks)
    }
    return ask_up_a_column(tuple(at.values())) if len(at) > 1 else None


def _diagnosis(r: Ranked, facts: Facts, *, with_cures: bool) -> Diagnosis:
    made = r.made
    reasons, against = _reasons(r, facts)
    return Diagnosis(
        piece=r.table.piece.name,
        code=made.kind.code,
        name=made.kind.name,
        did=made.did,
        likely=round(r.likely, 4),
        how_sure=says(r.likely),
        now_row=r.row + 1,
        made_row=made.row + 1,
        reasons=reasons,
        against=against,
        alike=tuple(sorted({m.kind.name for m in r.alike} - {made.kind.name})),
        cures=cures_for(r, tried=bool(facts.off)) if with_cures and r.likely >= MENDED else (),
    )


def _two(pair: Pair) -> Diagnosis:
    """Two mistakes, told as one; the cure goes back before both."""
    table, looks = pair.table, pair.table.piece.looks
    told = []
    for made in (pair.first, pair.second):
        row = name_of(looks[made.row], table.piece.name)
        told.append(f"{made.did}, in {row[0]} ({row[1]})")
    return Diagnosis(
        piece=table.piece.name,
        code=f"{pair.first.kind.code}+{pair.second.kind.code}",
        name=f"two mistakes: {pair.first.kind.name}; {pair.second.kind.name}",
        did=f"two things went wrong: {told[0]}; and {told[1]}",
        likely=round(pair.likely, 4),
        how_sure="perhaps",
        now_row=pair.row + 1,
        made_row=pair.first.row + 1,
        reasons=("together they show what you see",),
        against=(),
        alike=(),
        cures=before(table.piece, pair.first, pair.row) if pair.likely >= MENDED else (),
    )


def says(likely: float) -> str:
    """How sure we are, in words: almost certain, likely, or perhaps."""
    if likely >= CERTAIN:
        return "almost certain"
    return "likely" if likely >= LIKELY else "perhaps"


def _reasons(r: Ranked, facts: Facts) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What she says that is as this would show, and what is not."""
    table, line = r.table, r.line
    good: list[str] = []
    bad: list[str] = []
    for name, said in facts.known.items():
        if name == "column" and isinstance(said, tuple):
            above = int(in_column(table, said[0])[line])
            if above == said[1]:
                good.append(tell(name, said))
            elif above != UNTOLD:
                none = "there would be no mark in that column" if above < 0 else f"it would be {above}"
                bad.append(f"{tell(name, said)}; {none}")
            continue
        if name not in AT or name in {"row", "lies_in"}:
            continue
        true = said_of(table, line, name)
        if true == "":
            continue  # nothing tells it
        if name == "down" and r.made.odd == 0:
            continue
        if true == said:
            good.append(tell(name, said))
        elif name == "off" and true == MARKER and said:
            good.append("the next row stops at a marker")
        else:
            bad.append(f"{tell(name, said)}; it would be {_value(name, true)}")
    if r.made.by and facts.sts is not None and 0 <= r.row < len(table.piece.looks):
        right = table.piece.looks[r.row].stitches
        have = int(table.column("sts")[line])
        if right != have:
            good.append(f"{stitches(right)} would be right here, and this leaves {have}")
    return tuple(good), tuple(bad)


def tell(name: str, said: Said) -> str:
    """A fact in words."""
    if name == "column":
        return _up_a_column(said)
    value = _value(name, said)
    heads = {
        "sts": f"{value} on the needle",
        "side": f"{value} facing",
        "off": _over(said),
        "waiting": f"{value} beyond the last turning place",
        "gaps": f"{value} turning place{'' if said == 1 else 's'}",
        "between": f"{value} from marker to marker",
        "intervals": f"{value} from turning place to turning place",
        "part_rows": f"{value} {'row' if said == 1 else 'rows'} in this part",
        "above_mark": f"{value} {'row' if said == 1 else 'rows'} above the nearest pattern row",
        "odd": ODD_MEANS.get(str(said), value),
        "down": f"{value} above it",
        "cast_on": f"{value} along the cast-on edge",
        "marks_above": f"{value} pattern row{'' if said == 1 else 's'} above it",
        "up": f"row {value} of its part",
        "holes": f"holes {value}",
        "stacks": "each stitch over its like" if said == "yes" else "stitches not over their like",
        "outline": f"outline: {value}",
        "yarn": f"the working yarn {value}",
        "since_stripe": f"{value} since a colour was begun",
    }
    if name in heads:
        return heads[name]
    what, _, which = name.partition("_")
    if what == "since":
        return f"{value} since the last {which}"
    return f"{value} {what} up the {which} edge"


def _up_a_column(said: Said) -> str:
    if not isinstance(said, tuple):
        return str(said)
    stitch, above = said
    if above < 0:
        return f"no mark in the column of stitch {stitch} from the right edge"
    return f"{stitches(above)} above the last mark in the column of stitch {stitch} from the right edge"


def _hangs(where: str) -> str:
    return {"no edge": "at no edge", "middle": "in the middle"}.get(where, f"at the {where}")


def _value(name: str, said: Said) -> str:
    if name in {"sts", "waiting", "cast_on"} and isinstance(said, int):
        return stitches(said)
    if (name == "down" or name.startswith("since_")) and isinstance(said, int):
        return f"{said} row{'' if said == 1 else 's'}" if said >= 0 else "none"
    if name == "off":
        return _over(said)
    if name == "yarn":
        return _hangs(str(said))
    if isinstance(said, tuple):
        none = "no markers" if name == "between" else "no turning places"
        return ", ".join(map(str, said)) or none
    if name == "odd":
        return ODD_MEANS.get(str(said), str(said))
    return str(said)


def _over(said: Said) -> str:
    if not isinstance(said, int) or said == 0:
        return "the rows come out"
    if said == MARKER:
        return "a stop at a marker"
    return f"{stitches(abs(said))} {'left over' if said > 0 else 'short'}"


# --- what cannot be --------------------------------------------------------------------------------


def _notes(tables: Sequence[Table], facts: Facts) -> tuple[str, ...]:
    """What can never be, said first: often it is all that is needed."""
    out: list[str] = []
    if facts.sts is not None:
        looks = [x for t in tables for x in t.piece.looks]
        clash = clash_of(looks, {"sts": facts.sts})
        if clash is not None:
            nearest = " or ".join(map(str, clash.nearest))
            can = f"; {nearest} can" if nearest else ""
            out.append(f"{stitches(facts.sts)} cannot happen anywhere if all is right{can}.")
    return tuple(out)


def _clash(tables: Sequence[Table], facts: Facts) -> Clash | None:
    """Two facts that neither the pattern nor any mistake in it could show together."""
    known = {n: v for n, v in facts.known.items() if n in AT and n not in {"row", "lies_in", "down", "odd"}}
    if len(known) < 1:
        return None
    seen: dict[str, list[Any]] = {name: [] for name in known}
    for t in tables:
        for name, said in known.items():
            seen[name].append(_could_be(t, name, said))
    masks = {name: np.concatenate(parts) for name, parts in seen.items() if parts}
    if not masks or not len(next(iter(masks.values()))):
        return None
    for name, mask in masks.items():
        if not mask.any():
            looks = [x for t in tables for x in t.piece.looks]
            right = clash_of(looks, {"sts": known[name]}) if name == "sts" else None
            return Clash(names=(name,), nearest=() if right is None else right.nearest)
    for a, b in combinations(masks, 2):
        if not (masks[a] & masks[b]).any():
            return Clash(names=(a, b))
    return None


def _could_be(table: Table, name: str, said: Said) -> Any:
    """Lines that would show this fact, a count being out by two at most."""
    column = table.column(name)
    if name in COUNTS:
        fits = [
            i
            for i, b in enumerate(table.counts[name])
            if isinstance(said, tuple)
            and len(b) == len(said)
            and all(abs(x - y) <= 2 for x, y in zip(b, said, strict=True))
        ]
        return np.isin(column, fits)
    if isinstance(said, int):
        near = 2 if name in {"sts", "cast_on", "part_rows"} else 1 if name in {"waiting", "off"} else 0
        return np.abs(column - said) <= near if name != "off" else np.ones(table.n, np.bool_)
    true = np.array([said_of(table, i, name) for i in _one_of_each(column)], object)
    value = column[_one_of_each(column)]
    if name == "yarn":
        return (column < 0) | np.isin(column, value[true == said])
    if name == "side":
        return (column == 2) | np.isin(column, value[true == said])
    return np.isin(column, value[true == said])


def _one_of_each(column: Any) -> Any:
    return np.unique(column, return_index=True)[1]


def at_fault(found: Diagnosis) -> bool:
    """Whether it is the pattern and not the knitter."""
    return found.code == PATTERN.code
