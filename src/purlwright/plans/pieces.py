"""A pattern to begin from: whom it is for, its gauge and its measures, from the words of a call; written
and proved.

In: a call. Out: the answer as it leaves.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.plans.answers import measure_out, numbers_out
from purlwright.plans.said import Call, Said, size_names
from purlwright.sizing.bodies import GROUPS, Body, Size, bodies, heads_hands_feet, own_bodies
from purlwright.sizing.lists import so_many
from purlwright.sizing.reading import ease, lengths_mm, names
from purlwright.sizing.starts.asked import Asked, Knit, Start
from purlwright.sizing.starts.kinds import Kind, clean_start, who
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import half_up
from purlwright.wire.plan import PlanOut, PlanProofOut

if TYPE_CHECKING:
    from purlwright.workup import WorkUp

__all__ = ["begun", "piece"]

MOST_SIZES = 12
"""A list of more numbers cannot be read; own."""


def piece(call: Call, kind: Kind, own: str | None) -> PlanOut:
    """The pattern to begin from, its counts and measures, and its proof. Raises NoPlan, NotRead."""
    said = Said(call, own)
    asked = _asked(said, kind)
    start, work = begun(kind, asked)
    proved = work.proved()
    counted = {"error": 0, "warning": 0, "note": 0}
    for f in proved.findings:
        counted[f.severity.value] += 1
    return PlanOut(
        plan=kind.name,
        title=work.title,
        sizes=list(asked.sizes),
        numbers=numbers_out(start),
        measures=[measure_out(f) for f in start.finished],
        words=[],
        give_up=[],
        said=[*start.said, *(f.problem.message() for f in proved.findings)],
        pattern=start.text,
        proof=PlanProofOut(
            clean=not proved.findings,
            sizes=list(proved.sizes),
            ways=len(proved.knitted),
            errors=counted["error"],
            warnings=counted["warning"],
            notes=counted["note"],
        ),
    )


def begun(kind: Kind, asked: Asked) -> tuple[Start, WorkUp]:
    """The pattern with the yarn it takes, in the first way in which nothing is found, and the work on it."""
    works: dict[str, WorkUp] = {}

    def found(text: str) -> int:
        return len(_work(text, works).proved().findings)

    metres = _metres(_work(kind.make(asked).text, works))
    start = clean_start(kind, replace(asked, metres=metres), found)
    again = _metres(_work(start.text, works))
    if again != metres:  # another way to write it takes a little more or less
        start = clean_start(kind, replace(asked, metres=again), found)
    return start, _work(start.text, works)


def _work(text: str, works: dict[str, WorkUp]) -> WorkUp:
    from purlwright.workup import WorkUp

    if text not in works:
        works[text] = WorkUp(text)
    return works[text]


def _metres(work: WorkUp) -> tuple[int, ...]:
    """What each size takes, a tenth more for safety, to the next ten metres; nothing if it cannot be told."""
    out = []
    for size in work.sizes:
        taken = work.yarn(size)
        if not taken.known:
            return ()
        out.append(-(-int(sum(use.metres for use in taken.uses) * 1.1) // 10) * 10)
    return tuple(out)


def _asked(said: Said, kind: Kind) -> Asked:
    knit = said.knit()
    people, sizes = _people(said, kind)
    ease_mm = ease_share = None
    if said.given("--ease"):
        ease_mm, ease_share = ease(said.words("--ease"))
    lengths: dict[str, tuple[Fraction, ...]] = {}
    for option, name, words in (
        ("--across", "across", said.words("--across")),
        ("--length", "length", said.call.length),
    ):
        if words:
            found = lengths_mm(words, option)
            if name == "across" and not said.given("--sizes"):
                sizes = size_names(len(found))
                people = tuple(Body(group="", name=n) for n in sizes)
            if len(found) == 1:
                found *= len(sizes)
            if len(found) != len(sizes):
                raise NoPlan(
                    f"{option} gives {so_many(len(found), 'length')} for {so_many(len(sizes), 'size')}."
                )
            _in_order(found, sizes, option)
            lengths[name] = found
    if len(sizes) > MOST_SIZES:
        raise NoPlan(
            f"{len(sizes)} sizes are more than one pattern can tell well; {MOST_SIZES} are the most."
        )
    fabric = said.words("--fabric") or kind.fabric
    if fabric not in {"stockinette stitch", "garter stitch"}:
        raise NoPlan(f'--fabric takes stockinette stitch or garter stitch; "{fabric}" cannot be planned in.')
    return Asked(
        sizes=sizes,
        bodies=people,
        knit=knit,
        title=said.words("--title"),
        ease_mm=ease_mm,
        ease_share=ease_share,
        lengths=lengths,
        fabric=fabric,
        needles_mm=_needle(said, knit),
        inches=re.search(r"\d\s*(?:in(?:ch(?:es)?)?\b|[\"”])", said.words("--gauge")) is not None,
        pockets=said.given("--pockets"),
    )


def _people(said: Said, kind: Kind) -> tuple[tuple[Body, ...], tuple[str, ...]]:
    """The bodies and the names of their sizes: from a table, from one's own, or from measures that were
    given.
    """
    given = names(said.words("--sizes"))
    if said.own is not None:
        table = own_bodies(said.own, f'"{said.words("--bodies")}"')
        if given:
            known = {b.name.casefold(): b for b in table}
            lost = [n for n in given if n.casefold() not in known]
            if lost:
                raise NoPlan(f'The table has no size "{lost[0]}"; it has {", ".join(b.name for b in table)}.')
            table = tuple(known[n.casefold()] for n in given)
        sizes = tuple(b.name for b in table)
        table = tuple(_named(b, kind) for b in table)
    else:
        table, sizes = who(kind, names(said.words("--for")))
        if said.given("--to-fit"):
            table, sizes = _to_fit(said, kind, table, given)
        elif given and kind.part:
            if len(given) != len(table):
                raise NoPlan(
                    f"--sizes names {so_many(len(given), 'size')}, and there are {len(table)}: "
                    f"{', '.join(sizes)}."
                )
            sizes = given
        elif given:
            table, sizes = tuple(Body(group="", name=n) for n in given), given
    if kind.measure:
        _in_order(tuple(b.size(kind.measure).mm for b in table), sizes, f"The {kind.measure}")
    return table, sizes


def _named(body: Body, kind: Kind) -> Body:
    """Measures of a table of one's own, under the names that the tables have."""
    known = {"bust": "chest", kind.part: kind.measure, "foot length": "length", "hand length": "length"}
    return replace(body, measures={known.get(k, k): v for k, v in body.measures.items()})


def _to_fit(
    said: Said, kind: Kind, table: Sequence[Body], given: tuple[str, ...]
) -> tuple[tuple[Body, ...], tuple[str, ...]]:
    """Bodies of given measures; their other measures are those of the nearest body in the table, and it is
    said.
    """
    if not kind.measure:
        raise NoPlan(f"A {kind.name} fits nobody in particular; say --across how wide it is to be.")
    found = lengths_mm(said.words("--to-fit"), "--to-fit")
    sizes = given or size_names(len(found))
    if len(sizes) != len(found):
        raise NoPlan(f"--to-fit gives {so_many(len(found), 'measure')} for {so_many(len(sizes), 'size')}.")
    pool = list(table) if said.given("--for") else _everybody(kind)
    out = []
    for size, mm in zip(sizes, found, strict=True):
        near = min(pool, key=lambda b: abs(b.size(kind.measure).mm - mm))
        if not Fraction(7, 10) <= mm / near.size(kind.measure).mm <= Fraction(13, 10):
            raise NoPlan(
                f"{float(mm / 10):g} cm is no {kind.measure} that the tables know for a {kind.name}; "
                f"the nearest is "
                f"{float(near.size(kind.measure).mm / 10):g} cm."
            )
        yours = Size(least_mm=mm, most_mm=mm, status="yours", source="your own measure")
        out.append(replace(near, name=size, measures={**near.measures, kind.measure: yours}))
    return tuple(out), tuple(sizes)


def _everybody(kind: Kind) -> list[Body]:
    if kind.part == "body":
        return [b for group in GROUPS for b in bodies(group) if "back waist length" in b.measures]
    return [b for b in heads_hands_feet(kind.part) if kind.measure in b.measures]


def _in_order(values: Sequence[Fraction], sizes: Sequence[str], what: str) -> None:
    for n in range(1, len(values)):
        if values[n] < values[n - 1]:
            raise NoPlan(
                f"{what} of size {sizes[n]}, {float(values[n] / 10):g} cm, is less than that of size "
                f"{sizes[n - 1]}, "
                f"{float(values[n - 1] / 10):g} cm: put the sizes in order, from small to large."
            )


def _needle(said: Said, knit: Knit) -> Fraction:
    words = said.words("--needle")
    if words:
        m = re.fullmatch(r"(\d{1,2}(?:\.\d{1,2})?)\s*mm", words)
        if m is None or not Fraction(1) <= Fraction(m[1]) <= 30:
            raise NoPlan(f'--needle takes a size in mm, like "4 mm"; "{words}" is not that.')
        return Fraction(m[1])
    from purlwright.proof.trade import class_by_stitches

    found = class_by_stitches(min(max(half_up(knit.stitches, Fraction(1)), Fraction(2)), Fraction(40)))
    if found is None:
        raise NoPlan(
            f"{float(knit.stitches):g} sts to 10 cm is no gauge of hand knitting; give --needle too."
        )
    (most_sts, least_sts), (thin, thick) = (found.stitches[1], found.stitches[0]), found.needle
    share = (most_sts - knit.stitches) / max(most_sts - least_sts, Fraction(1))
    return half_up(thin + (thick - thin) * min(max(share, Fraction(0)), Fraction(1)), Fraction(1, 2))
