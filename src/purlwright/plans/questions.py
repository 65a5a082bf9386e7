"""Questions of a plan: counts, rates, spreading, buttonholes, heels, caps, circles, wedges, bodies.

In: the options of one plan. Out: the answer as it leaves. The arithmetic is in the room ``sizing``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from purlwright.plans.answers import answer
from purlwright.plans.curves import CURVES
from purlwright.plans.said import EXAMPLES, Said, size_names
from purlwright.sizing.bodies import GROUPS, Size, bodies, heads_hands_feet, own_bodies
from purlwright.sizing.lists import so_many, times
from purlwright.sizing.reading import names, rule_of, wanted
from purlwright.sizing.rounds import disc, doubling, wedged
from purlwright.sizing.shaping import compound, even_rates
from purlwright.sizing.shaping_words import rates_words
from purlwright.sizing.solve import Cannot, solve
from purlwright.sizing.spread import buttonholes, pick_up, spread
from purlwright.sizing.starts.asked import Finish
from purlwright.sizing.turning import heel
from purlwright.sizing.unknowns import NoPlan, Question
from purlwright.units import half_up
from purlwright.wire.plan import PlanOut

__all__ = ["QUESTIONS"]

MEMORY = "What is marked as from memory was not checked with the printed standard: measure whom you knit for."


def _counts(said: Said) -> PlanOut:
    wants = said.call.plan.get("--want", [])
    if not wants:
        raise NoPlan(f"Say what to find, for example: purlwright {EXAMPLES['counts']}")
    knit = said.knit() if said.given("--gauge") else None
    per_mm = None if knit is None else knit.stitches / 100
    sizes = names(said.words("--sizes"))
    first = [wanted(words, per_mm, max(len(sizes), 1)) for words in wants]
    many = len(sizes) or max(len(u.targets) for u in first)
    sizes = sizes or size_names(many)
    found = [wanted(words, per_mm, many) for words in wants]
    for u in found:
        if len(u.targets) != many:
            raise NoPlan(f"{u.name}: {so_many(len(u.targets), 'target')} given for {so_many(many, 'size')}.")
    known = tuple(u.name for u in found)
    rules = tuple(rule_of(words, known) for words in said.call.plan.get("--rule", []))
    done = solve(Question(sizes=sizes, unknowns=tuple(found), rules=rules))
    measures = []
    for u in found:
        if knit is not None and all(t is not None for t in u.targets):
            mm = tuple(Fraction(n) * knit.stitch_mm for n in done.counts[u.name])
            aims = tuple((t or Fraction(0)) * knit.stitch_mm for t in u.targets)
            measures.append(Finish(name=u.name, wanted_mm=aims, mm=mm, step_mm=knit.stitch_mm))
    give_up, told = [], []
    if isinstance(done, Cannot):
        give_up = [
            f"Size {one.size}: {one.words}; it would have to be missed by {one.by}." for one in done.give_up
        ]
        told = ["The counts are those with the least given up."]
    elif not done.best:
        told = ["In the time there was it was not proved that no counts are nearer."]
    return answer(
        "counts", "Counts", sizes=sizes, numbers=done.counts, measures=measures, give_up=give_up, said=told
    )


def _shaping(said: Said) -> PlanOut:
    begin, end, rows = said.count("--from"), said.count("--to"), said.rows()
    edges = said.count("--edges", 2)
    if edges not in {1, 2}:
        raise NoPlan("--edges takes 1 or 2.")
    off = abs(end - begin)
    if not off:
        raise NoPlan(f"From {begin} sts to {end} there is nothing to shape.")
    if off % edges:
        raise NoPlan(
            f"{off} sts cannot be shaped alike at both edges; make it {off - 1} or {off + 1}, or shape "
            f"--edges 1."
        )
    rates = even_rates(off // edges, rows, 2 if said.given("--right-side") else 1)
    what = f"{'dec' if end < begin else 'inc'} 1 st {'at each end' if edges == 2 else 'at one edge'}"
    return answer(
        "shaping",
        f"From {begin} to {end} sts over {rows} rows",
        words=[rates_words(rates, what)],
        said=["No other rows are more even: two gaps differ by one step at most."],
    )


def _evenly(said: Said) -> PlanOut:
    if said.given("--increase") == said.given("--decrease"):
        raise NoPlan(f"Give --increase or --decrease, one of them: purlwright {EXAMPLES['evenly']}")
    kind: tuple[str, str] = (
        ("increase", "--increase") if said.given("--increase") else ("decrease", "--decrease")
    )
    many = said.count(kind[1])
    found = spread(
        "increase" if kind[0] == "increase" else "decrease",
        many,
        said.stitches(),
        in_round=said.given("--in-round"),
    )
    return answer(
        "evenly",
        f"{many} {kind[0]}s evenly across {said.stitches()} sts",
        words=[f"{found.words}. ({found.after} sts)"],
    )


def _buttonholes(said: Said) -> PlanOut:
    found = buttonholes(
        said.count("--many"), said.stitches(), wide=said.count("--wide", 2), end=said.count("--end", 3)
    )
    between = f", {of_gaps(found.between)} between" if found.between else ""
    told = [f"{found.first} sts before the first{between}, and {found.last} after the last."]
    if found.wide > 2:
        told.append(f"On the next row cast on {found.wide} sts over each gap.")
    return answer(
        "buttonholes",
        f"{said.count('--many')} buttonholes in {said.stitches()} sts",
        words=[f"{found.words}."],
        said=told,
    )


def of_gaps(gaps: Sequence[int]) -> str:
    """``14``, or ``14 or 13``."""
    return " or ".join(str(n) for n in dict.fromkeys(gaps))


def _pick_up(said: Said) -> PlanOut:
    rows = said.rows()
    if said.call.stitches is None:
        knit = said.knit()
        total = max(1, int(half_up(rows * knit.row_mm / knit.stitch_mm, Fraction(1))))
        told = [f"At this gauge {rows} rows are as long as {total} sts are wide."]
    else:
        total, told = said.call.stitches, []
    found = pick_up(rows, total)
    return answer("pick-up", f"{total} sts along {rows} rows", words=[found.words], said=told)


def _heel(said: Said) -> PlanOut:
    found = heel(said.stitches())
    return answer(
        "heel",
        f"A short-row heel in a sock of {said.stitches()} sts",
        numbers={"heel": [found.stitches], "wrapped on each side": [found.side], "middle": [found.middle]},
        words=[found.words],
        said=[
            "About a third stays unwrapped in the middle, as sock articles and a designer's table have it."
        ],
    )


def _raglan_rates(said: Said) -> PlanOut:
    body, sleeve, rounds = said.count("--body"), said.count("--sleeve"), said.rows()
    found = compound(body, sleeve, rounds)
    words = []
    for gap, one, other, often in found.runs:
        who_is = "body and sleeves" if one and other else "the body alone" if one else "the sleeves alone"
        every = {1: "every row", 2: "every other row"}.get(gap, f"every {gap} rows")
        words.append(f"Shape {who_is} on {every}, {times(often)}.")
    if found.left:
        words.append(f"Work {found.left} {'row' if found.left == 1 else 'rows'} even.")
    return answer(
        "raglan-rates", f"Body {body} times, sleeves {sleeve} times, over {rounds} rows", words=words
    )


def _circle(said: Said) -> PlanOut:
    knit = said.knit()
    fabric = said.words("--fabric")
    if fabric not in {"", "stockinette stitch", "garter stitch"}:
        raise NoPlan(f'--fabric takes stockinette stitch or garter stitch; "{fabric}" cannot be planned in.')
    garter = "garter" in fabric
    found = disc(
        float(said.across()),
        float(knit.stitch_mm),
        float(knit.row_mm),
        every_of=(2,) if garter else (2, 1, 3, 4),
    )
    often = {1: "every round", 2: "every other round"}.get(found.every, f"every {found.every} rounds")
    rings = doubling(float(said.across()), float(knit.row_mm))
    plain = ", ".join(f"{n} to {sts} sts" for n, sts in rings)
    size = Finish(
        name="across", wanted_mm=(said.across(),), mm=(Fraction(found.diameter_mm),), step_mm=2 * knit.row_mm
    )
    exact = f"{found.exact:.2f} sts more a round lie just flat."
    how = "lies flat" if abs(found.turned - 1) < 0.06 else "cups" if found.turned < 1 else "ruffles"
    lies = f"This turns {found.turned * 360:.0f} of 360 degrees: it {how}."
    return answer(
        "circle",
        f"A flat circle of {float(said.across()) / 10:g} cm",
        numbers={
            "cast-on": [found.start],
            "lines": [found.lines],
            "rounds": [found.rounds],
            "last count": [found.last],
        },
        measures=[size],
        words=[
            f"Increase {found.lines} sts on {often}, in {found.lines} lines.",
            f"Or double the stitches, with plain rounds after each doubling: {plain}.",
        ],
        said=[f"{exact} {lies}"],
    )


def _wedges(said: Said) -> PlanOut:
    knit = said.knit()
    found = wedged(
        float(said.across()),
        float(knit.stitch_mm),
        float(knit.row_mm),
        step=said.count("--step") if said.given("--step") else None,
        rim=said.count("--rim", 0),
    )
    size = Finish(
        name="across",
        wanted_mm=(said.across(),),
        mm=(Fraction(found.diameter_mm),),
        step_mm=2 * knit.stitch_mm,
    )
    flat = f"{found.flat:.2f} wedges close just flat as knitted"
    told = [f"{flat}; {found.wedges} turn {found.turned * 360:.0f} of 360 degrees."]
    turns = f"Turn {found.turns} times in each wedge, {found.step} sts further from the middle each time"
    if found.rim:
        told.append(
            f"The {found.rim} sts outside the last turn stand up like the rim of a pan, however many "
            f"wedges there are; "
            "pinned out wet they can be made to lie."
        )
    return answer(
        "wedges",
        f"A flat round of {float(said.across()) / 10:g} cm in short-row wedges",
        numbers={"cast-on": [found.stitches], "turns": [found.turns], "wedges": [found.wedges]},
        measures=[size],
        words=[f"{turns}; work {found.wedges} wedges."],
        said=told,
    )


def _body(said: Said) -> PlanOut:
    if said.own is not None:
        table = own_bodies(said.own, f'"{said.words("--bodies")}"')
    else:
        table = ()
        for name in names(said.words("--for")) or GROUPS:
            if name in {"head", "hand", "foot"}:
                table += heads_hands_feet(name)
            else:
                group, _, size = name.partition(" ")
                table += tuple(b for b in bodies(group) if not size or b.name.lower() == size.lower())
    words = []
    for body in table:
        words.append(f"{body.group} {body.name}".strip() if body.group not in body.name else body.name)
        words += [f"  {name}: {_size_words(size)}" for name, size in body.measures.items()]
    if not words:
        raise NoPlan(
            f'No body is called "{said.words("--for")}"; there are {", ".join(GROUPS)}, head, hand and foot.'
        )
    return answer(
        "body",
        "Bodies, as the tables have them",
        words=words,
        said=[MEMORY],
    )


def _size_words(size: Size) -> str:
    least, most = float(size.least_mm) / 10, float(size.most_mm) / 10
    cm = f"{least:g}" if least == most else f"{least:g} to {most:g}"
    return f"{cm} cm ({'from memory' if size.from_memory else size.status})"


QUESTIONS: Mapping[str, Callable[[Said], PlanOut]] = {
    "counts": _counts,
    "shaping": _shaping,
    "evenly": _evenly,
    "buttonholes": _buttonholes,
    "pick-up": _pick_up,
    "heel": _heel,
    **CURVES,
    "raglan-rates": _raglan_rates,
    "circle": _circle,
    "wedges": _wedges,
    "body": _body,
}
