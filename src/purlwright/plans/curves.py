"""Questions of a plan about edges along a curve: necks, armholes, caps, crescents, domes, cones, shoulders.

In: the options of one plan. Out: rows in the trade's words. They are read and knitted here before they are
given, and what was knitted is set beside the curve.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from math import hypot, pi

from purlwright.plans.answers import answer
from purlwright.plans.said import EXAMPLES, Said
from purlwright.sizing.caps import cap
from purlwright.sizing.curve_words import at_both_ends, increase_rounds, one_side
from purlwright.sizing.curves import Line, Rounds, armhole, cone, dome, far_from, neck, segment
from purlwright.sizing.lists import so_many
from purlwright.sizing.reading import lengths_mm
from purlwright.sizing.starts.asked import Finish, Knit
from purlwright.sizing.turning import bound_off, slope, slope_rows
from purlwright.sizing.unknowns import NoPlan
from purlwright.wire.plan import PlanOut

__all__ = ["CURVES"]

MOST_STITCHES = 1000
"""Of a piece whose edge is planned, since it is knitted here; own."""

KNITTED = "These words were knitted, and the edge that came out was set beside the curve."
EDGES = "Decrease one stitch in from the edge: ssk where a row begins, k2tog where it ends."


def _knitted(text: str) -> list[list[int]]:
    """Stitches after each row, piece by piece. Raises RuntimeError where our own words do not come out."""
    from purlwright.findings import Severity
    from purlwright.workup import WorkUp  # heavy: loaded when something is knitted

    work = WorkUp(f"# Edge\n\n{text}")
    wrong = [f.problem.message() for f in work.proved().findings if f.severity is Severity.ERROR]
    if wrong:
        raise RuntimeError(f"the rows that were planned do not knit: {wrong[0]}")
    return [[e.end for e in p.rows if e.kind != "join"] for p in work.knitted().ledger.pieces]


def _in_reason(stitches: int) -> int:
    """Stitches of a piece whose edge is planned. Raises NoPlan for more than any has."""
    if stitches > MOST_STITCHES:
        raise NoPlan(f"{stitches} sts are more than one piece has; {MOST_STITCHES} are the most.")
    return stitches


def _one_length(said: Said, option: str, words: str) -> Fraction:
    if not words:
        raise NoPlan(f"Give {option} too, for example: purlwright {EXAMPLES[said.name]}")
    return lengths_mm(words, option, one=True)[0]


def _tall(said: Said) -> Fraction:
    return _one_length(said, "--length", said.call.length)


def _off(mm: float, knit: Knit) -> Finish:
    """How far the knitted edge is from the curve, where it is farthest."""
    return Finish(
        name="from the curve, at most", wanted_mm=(Fraction(0),), mm=(Fraction(mm),), step_mm=knit.stitch_mm
    )


def _measure(name: str, wanted: Fraction, mm: Fraction | float, step: Fraction) -> Finish:
    return Finish(name=name, wanted_mm=(wanted,), mm=(Fraction(mm),), step_mm=step)


def _steps(counts: Sequence[int], line: Line, rows: int, knit: Knit, *, first: float, each: int) -> float:
    """The farthest of the steps of a knitted edge from its curve, in mm.

    counts : after each of the rows, the cast-on or what there was before at their head. first : stitches
    gone at this edge already. each : edges that share the stitches gone. Taken in the middle of the two
    rows of a pair, since a pair is shaped as one.
    """
    points = [(first + (counts[0] - n) / each, float(row)) for row, n in enumerate(counts) if row % 2]
    return far_from(line, rows, points, float(knit.stitch_mm), float(knit.row_mm))


def _armhole(said: Said) -> PlanOut:
    knit = said.knit()
    begin, left = _in_reason(said.count("--from")), said.count("--to")
    tall = _tall(said)
    edge = armhole(begin, left, knit.rws(tall, 2))
    words = at_both_ends(edge, begin)
    (counts,) = _knitted(f"## Back\nCast on {begin} sts.\nKnit 2 rows.\n" + "\n".join(words))
    body = counts[2:]
    off = _steps(body, edge.line, edge.rows, knit, first=0.0, each=2)
    return answer(
        "armhole",
        f"An armhole from {begin} sts to {left}",
        numbers={"rows": [len(body) - 1]},
        measures=[_measure("deep", tall, (len(body) - 1) * knit.row_mm, 2 * knit.row_mm), _off(off, knit)],
        words=words,
        said=[EDGES, KNITTED],
    )


def _neck(said: Said) -> PlanOut:
    return _neckline(said, pointed=False)


def _v_neck(said: Said) -> PlanOut:
    return _neckline(said, pointed=True)


def _neckline(said: Said, *, pointed: bool) -> PlanOut:
    knit = said.knit()
    stitches, wide, deep = _in_reason(said.stitches()), said.across(), _tall(said)
    across = knit.sts(wide, 2, stitches % 2)
    if across > stitches - 4:
        raise NoPlan(
            f"A neck of {across} sts in a front of {so_many(stitches, 'st')} leaves no shoulders; "
            "give a narrower neck or more stitches."
        )
    if knit.rws(deep, 2) > MOST_STITCHES:
        raise NoPlan(f"{float(deep) / 10:g} cm is deeper than any neck; give its depth again.")
    edge = neck(across, knit.rws(deep, 2), pointed=pointed)
    side = (stitches - edge.first) // 2
    middle = "1 st" if edge.first == 1 else f"{edge.first} sts"
    bind = f"bind off {middle}, " if edge.first else ""
    one, other = one_side(edge, side, "WS"), one_side(edge, side, "RS")
    words = [
        f"Next row (RS): K{side}, place the remaining {stitches - side} sts on a holder, turn. ({side} sts)",
        *one,
        "Bind off all sts.",
        (
            "With RS facing, place the held sts on the needle, rejoin the yarn and "
            f"{bind}knit to end. ({side} sts)"
        ),
        *other,
        "Bind off all sts.",
    ]
    front, second = _knitted(f"## Front\nCast on {stitches} sts.\nKnit 2 rows.\n" + "\n".join(words))
    off = max(
        _steps([side, *counts], edge.line, edge.rows, knit, first=edge.first / 2, each=1)
        for counts in (front[4:-1], second[1:-1])
    )
    shoulder = second[-2]
    return answer(
        said.name,
        f"A {'V-neck' if pointed else 'round neck'} of {across} sts in a front of {stitches}",
        numbers={"shoulder": [shoulder], "middle": [edge.first], "rows": [edge.rows]},
        measures=[
            _measure("wide", wide, (stitches - 2 * shoulder) * knit.stitch_mm, 2 * knit.stitch_mm),
            _measure("deep", deep, (len(second) - 1) * knit.row_mm, 2 * knit.row_mm),
            _off(off, knit),
        ],
        words=words,
        said=[EDGES, KNITTED],
    )


def _crescent(said: Said) -> PlanOut:
    knit = said.knit()
    wide, high = said.across(), _tall(said)
    stitches = _in_reason(knit.sts(wide, 2))
    edge = segment(stitches, knit.rws(high, 2), float(knit.stitch_mm), float(knit.row_mm))
    left = stitches - 2 * sum(r.times * r.stitches for r in edge.rates.rates)
    words = [
        f"Cast on {stitches} sts.",
        *at_both_ends(edge, stitches),
        f"Bind off the remaining {left} sts.",
    ]
    (counts,) = _knitted("## Crescent\n" + "\n".join(words))
    body = counts[:-1]
    off = _steps(body, edge.line, edge.rows, knit, first=0.0, each=2)
    return answer(
        "crescent",
        f"A crescent of {stitches} sts from its straight edge",
        numbers={"rows": [len(body) - 1]},
        measures=[
            _measure("wide", wide, stitches * knit.stitch_mm, 2 * knit.stitch_mm),
            _measure("high", high, (len(body) - 1) * knit.row_mm, 2 * knit.row_mm),
            _off(off, knit),
        ],
        words=words,
        said=[EDGES, KNITTED, "Read from the last line to the first, with cast-ons for bind-offs, it grows."],
    )


def _dome(said: Said) -> PlanOut:
    knit = said.knit()
    wide = said.across()
    lines = said.count("--many", 8)
    found = dome(float(wide), float(knit.stitch_mm), float(knit.row_mm), lines)
    return _from_the_middle(said, knit, found, f"A dome {float(wide) / 10:g} cm across", wide)


def _cone(said: Said) -> PlanOut:
    knit = said.knit()
    wide, side = said.across(), _tall(said)
    lines = said.count("--many", 8)
    found = cone(float(wide), float(side), float(knit.stitch_mm), float(knit.row_mm), lines)
    return _from_the_middle(said, knit, found, f"A cone {float(wide) / 10:g} cm across", wide)


def _from_the_middle(said: Said, knit: Knit, found: Rounds, title: str, wide: Fraction) -> PlanOut:
    words = [f"Cast on {found.start} sts. Join to work in the round.", *increase_rounds(found)]
    (counts,) = _knitted("## Middle\n" + "\n".join(words))
    # how far each round lies from the axis, in mm, beside where it should lie
    off = max(
        abs(n - found.line(row + 0.5)) * float(knit.stitch_mm) / (2 * pi) for row, n in enumerate(counts)
    )
    return answer(
        said.name,
        title,
        numbers={"rounds": [len(counts)], "last count": [counts[-1]]},
        measures=[
            _measure("across", wide, float(counts[-1] * knit.stitch_mm) / pi, 2 * knit.row_mm),
            _off(off, knit),
        ],
        words=words,
        said=[
            (
                f"Read from the last round to the first, with decreases for increases, it closes to "
                f"{found.start} sts."
            ),
            "These words were knitted, and each round was set beside the curve, from the axis outwards.",
        ],
    )


def _cap(said: Said) -> PlanOut:
    knit = said.knit()
    armhole_mm = _one_length(said, "--armhole", said.words("--armhole"))
    begin = _in_reason(said.count("--from"))
    found = cap(
        begin,
        underarm=said.count("--underarm"),
        top=said.count("--top"),
        armhole_mm=float(armhole_mm),
        stitch_mm=float(knit.stitch_mm),
        row_mm=float(knit.row_mm),
    )
    (counts,) = _knitted(f"## Sleeve\nCast on {begin} sts.\nKnit 2 rows.\n" + "\n".join(found.lines))
    around = _edge_mm(counts[2:-1], knit)
    return answer(
        "cap",
        f"A sleeve cap from {begin} sts",
        numbers={"rows": [len(counts) - 3]},
        measures=[
            _measure("edge of the cap", armhole_mm, around, knit.stitch_mm),
            _measure("high", high := (len(counts) - 3) * knit.row_mm, high, knit.row_mm),
        ],
        words=list(found.lines),
        said=[EDGES, "These words were knitted, and the edge that came out was measured along its steps."],
    )


def _edge_mm(counts: Sequence[int], knit: Knit) -> float:
    """Along a knitted cap from underarm to underarm: from each shaping to the next, and over the top."""
    wide, high = float(knit.stitch_mm), float(knit.row_mm)
    corners = [(0.0, 0.0)]
    for row, (before, after) in enumerate(itertools.pairwise(counts), 1):
        if before != after:
            corners.append(((counts[0] - after) / 2, float(row)))
    # the two bind-offs of an underarm are one step on each side
    corners = [corners[0], *corners[2:]]
    side = 0.0
    for (x, y), (x2, y2) in itertools.pairwise(corners):
        flat = x2 - x > 1.5
        side += (x2 - x) * wide if flat else hypot((x2 - x) * wide, (y2 - y) * high)
    return 2 * side + counts[-1] * wide


def _shoulder(said: Said) -> PlanOut:
    stitches, rows = _in_reason(said.stitches()), said.rows()
    found = slope(stitches, rows)
    turned, steps = slope_rows(found), bound_off(found)
    (counts,) = _knitted(f"## Shoulder\nCast on {stitches} sts.\nKnit 2 rows.\n" + "\n".join(turned))
    if len(counts) != 3 + rows:
        raise RuntimeError(f"a slope of {rows} rows was knitted in {len(counts) - 3}")
    whole = 2 * stitches + 20
    _knitted(f"## Back\nCast on {whole} sts.\nKnit 2 rows.\n" + "\n".join(steps))
    off = Fraction(max(found.steps), 2)
    words = [
        "On short rows, one shoulder, its outer edge at the end of a right-side row:",
        *(f"  {line}" for line in turned),
        "Or bound off in steps, both shoulders of a back, with the neck between:",
        *(f"  {line}" for line in steps),
    ]
    return answer(
        "shoulder",
        f"A shoulder of {stitches} sts that rises by {rows} rows",
        numbers={"steps": [len(found.steps)]},
        words=words,
        said=[
            (
                f"Steps differ by one stitch at most; no step stands out farther than {float(off):g} sts "
                "from the straight line."
            ),
            "Both ways were knitted.",
        ],
    )


CURVES: Mapping[str, Callable[[Said], PlanOut]] = {
    "armhole": _armhole,
    "neck": _neck,
    "v-neck": _v_neck,
    "cap": _cap,
    "shoulder": _shoulder,
    "crescent": _crescent,
    "dome": _dome,
    "cone": _cone,
}
