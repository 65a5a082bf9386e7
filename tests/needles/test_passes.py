"""Passes that are copied come to the very same as passes worked row by row, and to what a slow knitter makes."""

from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from needles.patterns import END, number, pattern, plain_line, row, work
from needles.test_laws import agree
from needles.told import bit_for_bit
from purlwright.findings import Severity
from purlwright.needles import passes
from purlwright.needles.hands import MOST_STITCHES
from purlwright.needles.knit import knit
from purlwright.needles.worker import Worker
from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.pattern.tree import Said, Unit
from purlwright.text import Source

SLOW = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.data_too_large]}

# stitches that together leave as many loops as they take: how many, and the words
LEVEL = [
    (1, "k1"), (1, "p1"), (3, "k3"), (1, "sl 1"), (1, "k1 tbl"), (1, "sl 1 wyif"), (2, "k2tog, yo"), (2, "yo, ssk"),
    (3, "yo, sk2p, yo"), (4, "2/2 RC"), (3, "2/1 LPC"), (2, "p2tog, M1"), (3, "kfb, k2tog"), (1, "k1 below"),
    (2, "k2tog, M1L"),
]  # fmt: skip


def row_by_row():
    """While this holds no pass is copied."""
    return patch.object(passes, "FEWEST", 10**9)


def rows_worked(call):
    """How many rows are worked one by one, and what the call gives."""
    worked = []
    real = Worker.row
    with patch.object(Worker, "row", lambda w, part: worked.append(part) or real(w, part)):
        return call(), len(worked)


@st.composite
def a_level_row(draw, loops):
    """The words of a row that leaves as many loops as it takes."""
    kind = draw(st.integers(0, 3))
    if kind == 0:
        return draw(
            st.sampled_from(["Knit", "Purl", "K2, p to last 2 sts, k2", "*K1, p1; rep from * to end"])
        )
    many, words = draw(st.sampled_from([x for x in LEVEL if x[0] <= loops]))
    if kind == 1:
        rest = loops % many
        return f"*{words}; rep from * to {f'last {rest} sts, k{rest}' if rest else 'end'}"
    out, left = [], loops
    for many, words in draw(st.lists(st.sampled_from(LEVEL), min_size=1, max_size=5)):
        if many <= left:
            out.append(words)
            left -= many
    return ", ".join([*out, f"{draw(st.sampled_from('kp'))}{left}"] if left else out)


@st.composite
def texts(draw):
    """A piece whose rows are repeated many times, and after it words that lean on those rows."""
    loops = 2 * draw(st.integers(3, 9))
    around = draw(st.booleans())
    word = "Round" if around else "Row"
    many = draw(st.integers(1, 4))
    rows = [f"{word} {n}: {draw(a_level_row(loops))}." for n in range(1, many + 1)]
    shaped = draw(st.integers(0, 5)) == 0
    if shaped:
        rows[-1] = f"{word} {many}: {draw(st.sampled_from(['K2tog, knit to end', 'Kfb, purl to end']))}."
    times = draw(st.integers(2, 14))
    ways = [
        f"Rep rows 1-{many} {times} more times.", f"Repeat the last {draw(st.integers(1, many))} rows {times} more times.",
        f"Rep rows 1-{many} {times} times.", f"Rep rows 1-{many} until piece measures {4 * times} cm.",
        f"Rep rows 1-{many} until {5 * times} rows have been worked.", f"Knit {times + 8} rows.",
        f"Work {2 * times} rows in pattern.", f"Work in stockinette stitch for {3 * times} cm.",
        f"*Knit 1 row, purl 1 row; rep from * {times} more times.", f"Rep rows 1-{many} {times} times in all.",
    ]  # fmt: skip
    again = [
        way.replace("rows", f"{word.lower()}s")
        for way in draw(st.lists(st.sampled_from(ways), min_size=1, max_size=3))
    ]
    after = [
        "Work 3 rows in pattern.", f"Next {word.lower()}: Knit.", "Knit 4 rows.", f"Rep rows 1-{many} once more.",
        "## Border\nPick up and knit 6 sts along the right edge.\nRow 1: Knit.",
    ]  # fmt: skip
    begin = f"Cast on {loops} sts{' and join in the round' if around else ''}."
    ends = draw(st.lists(st.sampled_from(after), max_size=2))
    gauge = "Gauge: 20 sts and 28 rows = 10 cm\n"
    return f"# Cloth\n{gauge}\n## Cloth\n" + "\n".join([begin, *rows, *again, *ends, "Bind off."]) + "\n"


@settings(max_examples=250, **SLOW)
@given(texts())
def test_passes_at_once_are_passes_row_by_row(text):
    p = read_pattern(Source(text))
    at_once = bit_for_bit(knit(p))
    with row_by_row():
        assert bit_for_bit(knit(p)) == at_once


@st.composite
def repeated(draw):
    """Rows of the slow knitter's stitches, repeated many times."""
    loops, around = 2 * draw(st.integers(2, 7)), draw(st.booleans())
    unit = Unit.ROUND if around else Unit.ROW
    start = [tree.CastOn(count=number(loops)), *([tree.JoinRound()] if around else [])]
    pairs = st.sampled_from(
        [("k", "k"), ("p", "k"), ("k2tog", "yo"), ("yo", "ssk"), ("sl", "k"), ("1/1 rc",), ("p2tog", "M1")]
    )
    lines = [plain_line(*start, line=1)]
    many = draw(st.integers(1, 4))
    for n in range(1, many + 1):
        star = draw(st.booleans())
        steps = [work(s) for pair in draw(st.lists(pairs, min_size=1, max_size=loops // 2)) for s in pair]
        if star:
            steps = [tree.Repeat(body=tuple(steps[:2]), to=END, said=Said.TO, mark="*", star=True)]
            if steps[0].body[0].stitch == "1/1 rc":
                steps = [work("1/1 rc", loops // 2)]
        else:
            steps.append(tree.Fill(body=(work("k"),), to=END))
        lines.append(row(n, *steps, unit=unit))
    times = number(draw(st.integers(4, 9)))
    lines.append(
        plain_line(tree.RepeatRows(rows=tree.RowSet(back=many), times=times, said=Said.MORE), line=50)
    )
    lines.append(row(60, tree.Fill(body=(work("k"),), to=END), unit=unit))
    lines.append(plain_line(tree.BindOff(), line=99))
    return pattern(*lines)


@settings(max_examples=100, **SLOW)
@given(repeated())
def test_passes_at_once_agree_with_one_loop_at_a_time(p):
    agree(p)


@pytest.mark.parametrize(
    ("rows", "again"),
    [
        ("Row 1: Knit.\nRow 2: Purl.", "Rep rows 1-2 200 more times."),
        ("Row 1: Knit.", "Rep row 1 400 more times."),
        (
            "Row 1: *K2tog, yo, k3, yo, ssk, p1; rep from * to end.\nRow 2: Purl.",
            "Rep rows 1-2 200 more times.",
        ),
        ("Row 1: *Sl 1, k1; rep from * to end.\nRow 2: Purl.", "Rep rows 1-2 200 more times."),
        ("Row 1: *K1, k1 below; rep from * to end.\nRow 2: Purl.", "Rep rows 1-2 200 more times."),
        ("Row 1: *2/2 RC; rep from * to end.\nRow 2: Purl.", "Rep rows 1-2 200 more times."),
        ("Row 1: Knit.\nRow 2: Purl.", "Rep rows 1-2 until 400 rows have been worked."),
        ("Row 1: Knit.\nRow 2: Purl.", "Rep rows 1-2 until piece measures 140 cm."),
        ("Row 1: Knit.", "Purl 400 rows."),
        ("Row 1: Knit.", "Knit for 140 cm."),
    ],
)
@pytest.mark.parametrize("begin", ["Cast on 24 sts.", "Cast on 24 sts and join in the round."])
def test_most_passes_are_copied(begin, rows, again):
    gauge = "Gauge: 20 sts and 28 rows = 10 cm\n"
    text = f"# Cloth\n{gauge}\n## Cloth\n{begin}\n{rows}\n{again}\nBind off.\n"
    if "round" in begin:
        text = text.replace("Row ", "Round ").replace("row", "round")
    p = read_pattern(Source(text))
    knitted, worked = rows_worked(lambda: knit(p))
    assert len(knitted.ledger.entries) > 300
    assert worked < 20
    with row_by_row():
        again, worked = rows_worked(lambda: knit(p))
        assert worked > 300
        assert bit_for_bit(again) == bit_for_bit(knitted)


def test_no_more_is_copied_than_may_be_knitted():
    p = read_pattern(
        Source("# T\n\nCast on 10 sts.\nRow 1: Knit.\nRep row 1 19990 more times.\nKnit 100 rows.\n")
    )
    knitted = knit(p)
    with row_by_row():
        assert bit_for_bit(knit(p)) == bit_for_bit(knitted)
    assert [f.code for f in knitted.findings if f.code == "too-much-knitting"]


def test_rows_worked_before_count_towards_the_most_stitches_as_others_do():
    text = "# T\n\nCast on 5000 sts.\nRow 1: Knit.\nRep row 1 1500 more times.\nBind off.\n"
    for most in (passes.FEWEST, 10**9):
        with patch.object(passes, "FEWEST", most):
            knitted = knit(read_pattern(Source(text)))
        assert [f.code for f in knitted.findings if f.severity is Severity.ERROR] == ["too-much-knitting"]
        assert MOST_STITCHES - 5000 < knitted.fabric.n <= MOST_STITCHES
