"""Patterns to begin from: each proves clean in every size and option, at three gauges, and measures what it
should. Garments are tried at one gauge for women, at another for children and at a third for men, and at all of
them by ``pytest -m long``.
"""

import re
from fractions import Fraction
from functools import cache

import pytest

from purlwright.plans.pieces import begun
from purlwright.sizing.starts.asked import Asked, Knit
from purlwright.sizing.starts.kinds import KINDS, who
from purlwright.sizing.starts.pullovers import below_the_underarm
from purlwright.sizing.unknowns import NoPlan
from purlwright.workup import WorkUp

GAUGES = {
    "stockinette stitch": [(22, 30, 4), (18, 25, 5), (28, 38, 3)],
    "garter stitch": [(20, 40, 4), (16, 32, 5), (25, 50, 3)],
}
WHO = {"body": [("woman",), ("child",), ("man",), ("youth",)]}
CASES = [
    pytest.param(
        kind.name, whom, gauge,
        marks=() if kind.part != "body" or gauge == GAUGES[kind.fabric][WHO["body"].index(whom) % 3]
        else pytest.mark.long,
    )
    for kind in KINDS.values()
    for whom in WHO.get(kind.part, [()])
    for gauge in GAUGES[kind.fabric]
]  # fmt: skip


def asked(name, whom, gauge, ease=None):
    kind = KINDS[name]
    bodies, sizes = who(kind, whom)
    sts, rows, needle = gauge
    return Asked(
        sizes=sizes,
        bodies=bodies,
        knit=Knit(stitches=Fraction(sts), rows=Fraction(rows)),
        fabric=kind.fabric,
        needles_mm=Fraction(needle),
        ease_mm=ease,
    )


@cache
def start(name, whom, gauge, ease=None):
    return begun(KINDS[name], asked(name, whom, gauge, ease))[0]


BABIES = [
    pytest.param(name, gauge, marks=() if gauge == (18, 25, 5) and name != "cardigan" else pytest.mark.long)
    for name in ("drop-shoulder", "cardigan", "set-in", "raglan", "round-yoke")
    for gauge in ((18, 25, 5), (22, 30, 4), (24, 32, 4), (28, 38, 3))
    if (name, gauge) != ("cardigan", (18, 25, 5))
]


@pytest.mark.parametrize(("name", "gauge"), BABIES)
def test_nothing_is_found_in_a_baby_s_at_a_coarse_gauge_or_a_fine_one(name, gauge):
    """Their heads are large for their chests, and their sleeves short for their width."""
    assert [f.problem.message() for f in work(name, ("baby",), gauge).proved().findings] == []


@pytest.mark.parametrize("name", ["cardigan", "set-in"])
def test_a_baby_s_that_has_no_room_for_a_neck_is_refused_with_its_size_and_counts(name):
    with pytest.raises(NoPlan, match=r"Size 3 mo: a (?:front|round neck) of \d+ sts .*finer gauge"):
        start(name, ("baby",), (14, 20, 6))


@pytest.mark.parametrize(
    "whom",
    [
        ("child",),
        pytest.param(("woman",), marks=pytest.mark.long),
        pytest.param(("man",), marks=pytest.mark.long),
    ],
)
def test_a_cardigan_with_pockets_is_clean_and_buttons_where_its_bands_meet(whom):
    kind = KINDS["cardigan"]
    bodies, sizes = who(kind, whom)
    planned = Asked(
        sizes=sizes,
        bodies=bodies,
        knit=Knit(stitches=Fraction(22), rows=Fraction(30)),
        fabric=kind.fabric,
        pockets=True,
    )
    found, done = begun(kind, planned)
    assert [f.problem.message() for f in done.proved().findings] == []
    for n, size in enumerate(done.sizes):
        pieces = {p.name: p.rows for p in done.knitted(size).ledger.pieces}
        back, left, right = (pieces[name] for name in ("Back", "Left front", "Right front"))
        assert len(back) == len(left) == len(right)
        holes = next(e for e in pieces["Buttonhole band"] if e.made and e.kind == "row")
        assert holes.made == found.counts["buttons"][n]
        assert holes.end == found.counts["band"][n] == pieces["Button band"][0].end
        assert left[-1].lost == right[-1].lost == found.counts["shoulder"][n]


@cache
def work(name, whom, gauge):
    return WorkUp(start(name, whom, gauge).text)


@pytest.mark.parametrize(("name", "whom", "gauge"), CASES)
def test_nothing_is_found_in_any_size_or_option(name, whom, gauge):
    proved = work(name, whom, gauge).proved()
    assert [(f.code, f.problem.message(), f.sizes) for f in proved.findings] == []
    assert proved.every


@pytest.mark.parametrize(("name", "whom", "gauge"), CASES)
def test_each_measure_is_within_one_stitch_or_row_of_what_was_wanted(name, whom, gauge):
    for finish in start(name, whom, gauge).finished:
        off = [abs(a - b) for a, b in zip(finish.wanted_mm, finish.mm, strict=True)]
        assert max(off) <= finish.step_mm, finish.name


# What cloth measures beside what the plan says, by the name that cloth gives it.
ROUND = "around at the end, widest"


@pytest.mark.parametrize("name", [n for n, kind in KINDS.items() if kind.part in {"head", "hand", "foot"}])
def test_the_length_round_at_the_gauge_is_that_of_the_knitted_rounds(name):
    """The widest round of the piece, in its stitches, against the finished measure; wedges by their rows."""
    kind = KINDS[name]
    gauge = GAUGES[kind.fabric][0]
    planned, done = start(name, (), gauge), work(name, (), gauge)
    sts, rows, _ = gauge
    for n, size in enumerate(done.sizes):
        piece = done.knitted(size).ledger.pieces[0]
        if name == "wedge-hat":  # the graft is a row of its own
            brim = sum(e.kind == "row" for e in piece.rows) + 1
            assert brim * 100 / rows == pytest.approx(float(planned.finished[0].mm[n]), abs=100 / rows + 0.1)
        else:
            plain = max(
                {e.end for e in piece.rows if e.kind == "round"},
                key=lambda count: sum(e.end == count and e.kind == "round" for e in piece.rows),
            )
            assert plain * 100 / sts == pytest.approx(float(planned.finished[0].mm[n]), rel=0.001)


@pytest.mark.parametrize("name", list(KINDS))
def test_ease_moves_the_measure_or_the_piece_has_none(name):
    kind = KINDS[name]
    gauge = GAUGES[kind.fabric][0]
    usual, wider = (kind.make(asked(name, (), gauge, ease)) for ease in (None, Fraction(60)))
    if kind.part:
        assert usual.finished[0].wanted_mm != wider.finished[0].wanted_mm
    else:
        assert usual.text == wider.text


@pytest.mark.parametrize("name", list(KINDS))
def test_a_gauge_that_cannot_be_is_refused_in_words(name):
    with pytest.raises(NoPlan, match="0 stitches"):
        start(name, (), (0, 30, 4))
    with pytest.raises(NoPlan):
        start(name, (), (1, 1, 4))


def test_measures_from_memory_are_never_printed_without_saying_so():
    text = start("sock", (), GAUGES["stockinette stitch"][0]).text
    assert "from memory" in text
    text = start("raglan", ("woman",), GAUGES["stockinette stitch"][0]).text
    assert "upper arm are from memory" in text
    text = start("raglan", ("child",), GAUGES["stockinette stitch"][0]).text
    assert "from memory" not in text


@pytest.mark.parametrize("kind", list(KINDS.values()), ids=lambda k: k.name)
def test_what_many_rows_depend_on_has_a_name_and_is_called_by_it(kind):
    text = start(kind.name, WHO.get(kind.part, [()])[0], GAUGES[kind.fabric][0]).text
    numbers = text.partition("\n## Numbers\n")[2].partition("\n\n")[0].splitlines()
    names = [line.partition(" = ")[0] for line in numbers]
    assert names
    called = re.findall(r"\{([^{}]+)\}", text) + [line.partition(" = ")[2] for line in numbers]
    assert [name for name in names if not re.search(rf"\b{name}\b", " ".join(called))] == []


def test_a_changed_number_moves_every_row_that_calls_it():
    text = start("crescent-shawl", (), (20, 40, 4)).text
    line = next(x for x in text.splitlines() if x.startswith("edge = "))
    moved = re.sub(r"\d+", lambda m: str(int(m[0]) + 40), line)
    work_up = WorkUp(text.replace(line, moved))
    assert moved != line
    for size, edge in zip(work_up.sizes, re.findall(r"\d+", moved), strict=True):
        assert max(row.end for row in work_up.knitted(size).ledger.entries) == int(edge)


@pytest.mark.parametrize("name", ["drop-shoulder", "set-in", "raglan", "round-yoke"])
def test_two_neighbouring_sizes_alone_are_clean_and_the_larger_is_no_shorter(name):
    kind = KINDS[name]
    bodies, sizes = who(kind, ("woman",))
    planned = Asked(
        sizes=sizes[2:4], bodies=bodies[2:4], knit=Knit(stitches=Fraction(20), rows=Fraction(28)),
        fabric=kind.fabric, needles_mm=Fraction(9, 2),
    )  # fmt: skip
    _, done = begun(kind, planned)
    assert [f.problem.message() for f in done.proved().findings] == []
    assert below_the_underarm(bodies, [b.size("armhole depth").mm for b in bodies])[-1] >= 362
