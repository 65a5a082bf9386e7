"""Random trees and texts for the laws. New grammar joins in here, so that every law covers it.

Trees are made in the form that reading gives them: what cannot be told apart in print (a knit stitch worked once, and
a count of one) is made in one way only.
"""

from fractions import Fraction

from hypothesis import strategies as st

from purlwright.pattern import tree
from purlwright.pattern.tree import Number, Place, PlaceKind, Said, Side, TurnHow, Unit

SIZES = ("small", "medium", "large")


@st.composite
def numbers(draw, low=1, high=200, sized=True):
    """One value, or one for each of three sizes."""
    if sized and draw(st.integers(0, 4)) == 0:
        return Number(values=tuple(draw(st.integers(max(low, 2), high)) for _ in SIZES))
    return Number(values=(draw(st.integers(low, high)),))


def number(n):
    return Number(values=(n,))


PLAIN = ("k", "p")
COUNTED = ("k tbl", "p tbl", "k below", "sl", "sl kwise", "sl pwise", "brk", "brp")
SINGLE = (
    "k2tog", "ssk", "skp", "p2tog", "k3tog", "sk2p", "s2kp", "kfb", "yo", "M1L", "M1R", "M1P", "p3tog", "sssk",
    "2/2 rc", "2/2 lc", "3/3 rc", "1/1 lpc", "k2tog tbl", "p2tog tbl", "rt", "lt", "kfbf", "sk3p", "ssp",
)  # fmt: skip
GROUNDS = ("garter", "stockinette", "reverse stockinette", "k2, p2 rib", "k1, p1 rib", "k3, p1 rib")


@st.composite
def plain_work(draw, sized=True):
    return tree.Work(stitch=draw(st.sampled_from(PLAIN)), count=draw(numbers(sized=sized)))


@st.composite
def works(draw, sized=True):
    """A stitch of the dictionary, with a count where the trade gives it one."""
    which = draw(st.integers(0, 5))
    if which <= 2:
        return draw(plain_work(sized=sized))
    if which == 3:
        stitch = draw(st.sampled_from(COUNTED))
        yarn = draw(st.sampled_from([None, "front", "back"])) if stitch.startswith("sl") else None
        return tree.Work(stitch=stitch, count=draw(numbers(high=20, sized=False)), yarn=yarn)
    return tree.Work(stitch=draw(st.sampled_from(SINGLE)), count=number(1))


@st.composite
def places(draw):
    kind = draw(
        st.sampled_from(
            [PlaceKind.END, PlaceKind.END, PlaceKind.END, PlaceKind.MARKER, PlaceKind.GAP, PlaceKind.CENTRE]
        )
    )
    before = draw(st.one_of(st.none(), numbers(high=40)))
    return Place(kind=kind, before=before)


@st.composite
def fills(draw):
    body = (tree.Work(stitch=draw(st.sampled_from(PLAIN)), count=number(1)),)
    return tree.Fill(body=body, to=draw(places()))


@st.composite
def groups(draw, depth=0):
    """[k2, p2] 3 times, (k1, p1) twice"""
    inner = works() if depth else st.one_of(works(), groups(depth=1))
    body = apart(draw(st.lists(inner, min_size=1, max_size=4)))
    times = draw(numbers(low=2, high=12))
    return tree.Repeat(body=body, times=times, said=Said.TIMES, mark=draw(st.sampled_from("([")))


@st.composite
def stars(draw):
    """*k3, p1; rep from * to last 2 sts"""
    body = apart(draw(st.lists(st.one_of(works(), groups(depth=1)), min_size=1, max_size=4)))
    which = draw(st.integers(0, 3))
    if which == 0:
        place = Place(kind=PlaceKind.END, before=draw(st.one_of(st.none(), numbers(high=20))))
        return tree.Repeat(body=body, to=place, said=Said.TO, mark="*", star=True)
    if which == 1:
        return tree.Repeat(body=body, times=draw(numbers(high=12)), said=Said.MORE, mark="*", star=True)
    if which == 2:
        return tree.Repeat(
            body=body, times=draw(numbers(low=2, high=12)), said=Said.TIMES, mark="*", star=True
        )
    return tree.Repeat(body=body, to=Place(kind=PlaceKind.END), said=Said.TO, mark="*", star=True)


@st.composite
def by_slip(draw):
    """The slipped sts, alone or beside the others."""
    slipped = draw(
        st.sampled_from([one("k"), one("p"), tree.Work(stitch="sl", count=number(1), yarn="front")])
    )
    if draw(st.booleans()):
        return tree.Fill(body=(slipped,), to=Place(kind=PlaceKind.SLIPPED))
    return tree.BySlip(slipped=slipped, others=draw(st.sampled_from([None, one("k"), one("p")])))


@st.composite
def endings(draw):
    """What may stand last in a row: a fill, a turn, a ground, the pattern, at times none of them."""
    which = draw(st.integers(0, 9))
    place = Place(kind=PlaceKind.END, before=draw(st.one_of(st.none(), numbers(high=20))))
    if which <= 2:
        return (draw(fills()),)
    if which == 3:
        return (tree.Turn(how=draw(st.sampled_from([TurnHow.PLAIN, TurnHow.WRAP, TurnHow.DOUBLE]))),)
    if which == 4:
        return (tree.Turn(leave=draw(numbers(high=20))),)
    if which == 5:
        return (tree.InGround(ground=draw(st.sampled_from(GROUNDS)), to=place),)
    if which == 6:
        return (tree.InPattern(to=place),)
    if which == 7:
        return (tree.Turn(never=True),)
    if which == 8:
        return (draw(by_slip()),)
    return ()


@st.composite
def markers(draw):
    act = draw(st.sampled_from(["place", "slip", "remove"]))
    return tree.Marker(act=act, name=draw(st.sampled_from([None, None, "A", "red"])))


def one(stitch):
    return tree.Work(stitch=stitch, count=number(1))


@st.composite
def odd_steps(draw):
    """What is met now and then in a row: crossings in words, many into one, picking up, holding, colours."""
    n = draw(st.integers(1, 12))
    return draw(
        st.sampled_from(
            [
                tree.Into(steps=(one("k"), one("p"), one("k")), count=number(1)),
                tree.Into(steps=(one("k"), one("yo"), one("k")), count=number(1)),
                tree.Into(steps=(one("k"), one("p")), count=number(n + 1)),
                tree.Into(steps=(one("k3tog"), one("yo"), one("k3tog")), count=number(1), over=3),
                tree.Cross(
                    held=number(n),
                    front=draw(st.booleans()),
                    first=(tree.Work(stitch="k", count=number(n)),),
                    second=(tree.Work(stitch=draw(st.sampled_from(PLAIN)), count=number(n)),),
                ),
                tree.SlipBack(count=number(n)),
                tree.Drop(count=number(n)),
                tree.Drop(count=number(1), what="yo"),
                tree.Wrap(count=number(n)),
                tree.YarnTo(front=draw(st.booleans())),
                tree.Yarn(
                    act=draw(st.sampled_from(["use", "break"])), colour=draw(st.sampled_from(["A", "MC"]))
                ),
                tree.Work(stitch="k", count=number(n), colour=draw(st.sampled_from(["A", "MC"]))),
                tree.Hold(count=number(n), place=draw(st.sampled_from(["holder", "waste yarn"]))),
                tree.Return(count=number(n + 1)),
                tree.BindOff(count=number(n)),
                tree.PickUp(count=number(n), how=draw(st.sampled_from(["knit", "purl", "lift"]))),
                tree.InGround(ground=draw(st.sampled_from(GROUNDS)), count=number(n)),
                tree.InPattern(count=number(n)),
                tree.Evenly(change=number(draw(st.sampled_from([n, -n])))),
                tree.Call(name="Chart A", row=number(n), over=number(n)),
                tree.RowRule(rule=draw(st.sampled_from(["slip first", "double over"]))),
                tree.EdgeJoin(edge=tree.Edge(words="shawl", kind="live"), at="here", stitch="ssk", live=True),
            ]
        )
    )


def apart(steps):
    """The steps without neighbours of one stitch: "sl1, sl1, k1" is one decrease in print, and "k2, k2" is k4."""
    out = []
    for step in steps:
        if out and getattr(out[-1], "stitch", "") == getattr(step, "stitch", None):
            continue
        if out and isinstance(step, tree.Yarn) and isinstance(out[-1], tree.Yarn):
            continue
        out.append(step)
    return tuple(out)


@st.composite
def rows(draw):
    """The steps of one row."""
    start = apart(
        draw(st.lists(st.one_of(works(), works(), groups(), markers(), odd_steps()), min_size=0, max_size=4))
    )
    star = [draw(stars())] if draw(st.booleans()) else []
    end = draw(endings())
    if (
        not star and end and isinstance(end[0], tree.Turn)
    ):  # "wrap next st, turn" and "yo, turn" are ways to turn
        start = tuple(s for s in start if not isinstance(s, tree.Wrap | tree.YarnTo) and s != one("yo"))
    steps = (*start, *star, *end)
    return steps or (draw(plain_work()),)


@st.composite
def labels(draw):
    side = draw(st.sampled_from([None, None, Side.RS, Side.WS]))
    unit = draw(st.sampled_from([Unit.ROW, Unit.ROUND]))
    which = draw(st.integers(0, 4))
    if which == 0:
        count = draw(st.integers(1, 12))
        return tree.Label(next=number(count), unit=unit, side=side)
    if which == 1:
        rule = draw(st.sampled_from(["WS", "RS", "even", "odd"]))
        return tree.Label(rule=rule, unit=unit, side=Side(rule) if rule in {"WS", "RS"} else None)
    if which == 2:
        first = draw(st.integers(1, 40))
        last = first + draw(st.integers(1, 8))
        return tree.Label(numbers=tuple(range(first, last + 1)), unit=unit, side=side)
    return tree.Label(numbers=(draw(st.integers(1, 300)),), unit=unit, side=side)


@st.composite
def stated(draw):
    between = st.one_of(st.none(), numbers(high=40))
    return tree.Stated(total=draw(numbers(high=400)), between=draw(between))


@st.composite
def lines(draw):
    """A labelled row with, at times, a printed count."""
    actions = draw(rows())
    if draw(st.booleans()):
        actions = (*actions, draw(stated()))
    return tree.Line(label=draw(labels()), actions=actions)


# --- statements ----------------------------------------------------------------------------------------------

WHOLE = tuple(
    (tree.Fill(body=(tree.Work(stitch=s, count=number(1)),), to=Place(kind=PlaceKind.END)),) for s in PLAIN
)
BEFORE_COUNT = (Said.TIMES, Said.MORE, Said.IN_ALL)


def lengths():
    values = st.one_of(
        st.integers(1, 80).map(Fraction),
        st.integers(1, 160).map(lambda n: Fraction(n, 2)),
        st.integers(1, 160).map(lambda n: Fraction(n, 4)),
    )
    return st.builds(lambda v, u: tree.Length(values=(v,), unit=u), values, st.sampled_from(["cm", "in"]))


@st.composite
def untils(draw):
    which = draw(st.integers(0, 2))
    side = draw(st.sampled_from([None, Side.RS, Side.WS]))
    if which == 0:
        return tree.Until(stitches=draw(numbers(low=2, high=90)))
    return tree.Until(length=draw(lengths()), side=side)


@st.composite
def work_rows(draw):
    """Knit 6 rows; work 10 rnds in k2, p2 rib; work in garter stitch until piece measures 10 cm"""
    unit = draw(st.sampled_from([Unit.ROW, Unit.ROUND]))
    ground = (tree.InGround(ground=draw(st.sampled_from(GROUNDS))),)
    body = draw(st.sampled_from([*WHOLE, ground, (tree.InPattern(),)]))
    if draw(st.booleans()):
        return tree.WorkRows(body=body, rows=draw(numbers(high=40)), unit=unit)
    side = draw(st.sampled_from([None, Side.RS, Side.WS]))
    return tree.WorkRows(body=ground, until=tree.Until(length=draw(lengths()), side=side))


@st.composite
def repeat_rows(draw):
    """Rep rows 1-4 five times more; rep last 2 rnds until 12 sts rem"""
    first = draw(st.integers(1, 20))
    unit = draw(st.sampled_from([None, Unit.ROUND]))
    rows = draw(
        st.sampled_from(
            [
                tree.RowSet(first=first, last=first + draw(st.integers(1, 9)), unit=unit),
                tree.RowSet(back=draw(st.integers(1, 9)), unit=unit),
            ]
        )
    )
    which = draw(st.integers(0, 4))
    if which == 0:
        return tree.RepeatRows(rows=tree.RowSet(first=first))
    if which == 1:
        return tree.RepeatRows(rows=rows, said=Said.OPEN)
    if which == 2:
        return tree.RepeatRows(rows=rows, until=draw(untils()))
    return tree.RepeatRows(rows=rows, times=draw(numbers(high=30)), said=draw(st.sampled_from(BEFORE_COUNT)))


@st.composite
def shapings(draw):
    """Dec 1 st each end of next and every foll 4th row 5 times"""
    step = tree.AtEdges(
        change=draw(st.sampled_from([1, -1])), where="each end", count=number(draw(st.integers(1, 2)))
    )
    every = draw(st.integers(1, 12))
    start = "next" if every == 1 else draw(st.sampled_from(["next", "every"]))
    unit = draw(st.sampled_from([Unit.ROW, Unit.ROUND]))
    said = draw(st.sampled_from([Said.TIMES, Said.MORE]))
    return tree.Shaping(
        steps=(step,), every=number(every), start=start, times=draw(numbers(high=30)), said=said, unit=unit
    )


@st.composite
def statements(draw):
    """A line that works rows, repeats them, shapes, or closes."""
    other = st.sampled_from(
        [
            tree.JoinRound(),
            tree.Gather(),
            tree.Gather(stated=number(8)),
            tree.Resume(side=Side.WS),
            tree.Resume(row=3),
            tree.Resume(flat=True, over=number(24), part="these"),
            tree.Resume(over=number(8), part="last"),
            tree.Shaping(
                steps=(tree.BindOff(count=number(5), at="beginning"),),
                every=number(1),
                times=number(2),
                said=Said.IN_ALL,
                unit=Unit.ROW,
            ),
            tree.Rejoin(side=Side.RS, place="held sts"),
            tree.BindOff(),
            tree.BindOff(how="pattern"),
            tree.CastOn(count=number(36)),
            tree.CastOn(count=Number(values=(36, 40, 44))),
            tree.CastOn(multiple=number(8), plus=number(2)),
        ]
    )
    action = draw(st.one_of(work_rows(), repeat_rows(), shapings(), other))
    counted = isinstance(action, tree.RepeatRows) and action.until is None and draw(st.booleans())
    actions = (action, draw(stated())) if counted else (action,)
    return tree.Line(actions=actions)


# --- texts ---------------------------------------------------------------------------------------------------

_SCRAPS = (
    "k2 p2 K4, knit purl yo k2tog ssk sl1 wyif psso * ; rep from * to end to last 3 sts ( ) [ ] { } 3 times twice "
    "more Row 5: Rnd 3 (RS): Next row every foll 4th alt dec inc 1 st each end of until piece measures 10 cm 24 sts "
    "(24 sts) 88 (96, 104) - , . : turn w&t pm sm to marker gap cast on bind off all work in garter st patt as set "
    "rep rows 1-4 pick up and along edge place on holder join in the round with MC A break yarn make 1 seam narrow "
    "and with RS facing ending a WS row at same time frobnicate ½ 2d Third _row_ -- ** ‘ ” é 🧶 \t \n # > = | / "
    "make bobble slip cn hold in front 999999999999 0 -1 {width} MB C4F x 1/2 \" ' “4” k2tog,k2 k22og"
).split(" ")


def texts():
    """Texts made of scraps of rows, in any order, and of any characters at all."""
    scraps = st.lists(st.sampled_from(_SCRAPS), max_size=40).map(" ".join)
    close = st.lists(st.sampled_from(_SCRAPS), max_size=12).map("".join)
    return st.one_of(scraps, scraps, close, st.text(max_size=80))


def files():
    """Whole files: a title, keys, headings, notes, fences, rows, in any order."""
    parts = st.one_of(
        texts(),
        st.sampled_from(
            [
                "# Quay Hat", "Sizes: S (M, L)", "Options: edge = plain, picot", "## Body", "## Numbers", "width = 20",
                "half = width / 0", "```chart", "```", "1 | . o / |", ". = k / p", "> a note", "S only: Row 1: k2",
                "### picot only", "## Special stitches", "MB: [k1, p1, k1] in next st", "Gauge: 5 sts to 1 in", "",
                "Make: two", "Cast on 20 sts.", "## Abbreviations", "k: knit; p = purl", "\x00", "~~~", "#", ">", "Terms: old",
            ]
        ),
    )  # fmt: skip
    return st.lists(parts, max_size=25).map("\n".join)
