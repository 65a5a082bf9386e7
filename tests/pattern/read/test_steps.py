"""Rows of words, and the steps that a knitter reads in them. All rows are made up for this file."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.pattern import tree
from purlwright.pattern.read import steps
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.counts import parse_stated
from purlwright.pattern.tokens import Cursor, tokenize
from purlwright.stitches.load import dictionary
from purlwright.text import NOWHERE

COMPACT = dictionary().compact


def read(words, sizes=(), terms="", own=None):
    own = own or {}
    ctx = Context(compact=COMPACT, sizes=sizes, terms=terms, own=own)
    cur = Cursor(tokenize(words, 0, COMPACT))
    out = steps.parse_steps(cur, ctx)
    while cur.take(".", ",", ";"):
        pass
    return out, " ".join(t.text for t in cur.tokens[cur.at :]), [f.code for f in ctx.findings]


def said(node):
    """A tree in a few words, so that a table of rows can be read: "k4 (k2 p2)3 k>end-2"."""
    match node:
        case tuple():
            return " ".join(said(x) for x in node)
        case tree.Number():
            return ",".join("-" if v is None else str(v) for v in node.values)
        case tree.Place():
            back = f"-{said(node.before)}" if node.before else f"+{said(node.past)}" if node.past else ""
            return node.kind.value.split()[0] + back + (f"[{node.name}]" if node.name else "")
        case tree.Work():
            count = said(node.count)
            stitch = node.stitch.replace(" ", "_")
            mark = "" if count == "1" else count if stitch in {"k", "p", "sl"} else f"*{count}"
            extra = f"[{node.colour}]" if node.colour else f"[{node.yarn}]" if node.yarn else ""
            return ("=" if node.own else "") + stitch + mark + extra + ("?" if node.readings else "")
        case tree.Fill():
            return f"{said(node.body)}>{said(node.to)}"
        case tree.Repeat():
            times = said(node.times) if node.times else ""
            how = "" if node.said is tree.Said.TIMES else f"{node.said.value}"
            goal = f">{said(node.to)}" if node.to else ""
            return f"({said(node.body)}){times}{how if not goal else ''}{goal}" + ("!" if node.cut else "")
        case tree.Into():
            over = f"/{node.over}" if node.over > 1 else ""
            return f"<{said(node.steps)}>{said(node.count)}{over}"
        case tree.Cross():
            return f"x{said(node.held)}{'F' if node.front else 'B'}<{said(node.first)}|{said(node.second)}>"
        case tree.Choice():
            return " OR ".join(f"{{{said(r)}}}" for r in node.readings)
        case tree.Stated():
            total = said(node.total) if node.total else ""
            change = (
                f"{node.change.values[0]:+d}" if node.change and node.change.values[0] is not None else ""
            )
            return f"={total}{change}" + ("" if node.kind in {"total", "change"} else f":{node.kind}")
        case tree.Turn():
            how = "" if node.how is tree.TurnHow.PLAIN else f":{node.how.value}"
            return (
                ("never-" if node.never else "")
                + ("slide" if node.slide else "turn")
                + how
                + (f"-{said(node.leave)}" if node.leave else "")
            )
        case tree.Marker():
            return f"{node.act}-m" + (f"[{node.name}]" if node.name else "")
        case tree.PassOver():
            return f"pass{said(node.count)}/{said(node.over)}"
        case tree.Note():
            return "note"
        case tree.InPattern():
            return (
                "patt" + (said(node.count) if node.count else "") + (f">{said(node.to)}" if node.to else "")
            )
        case tree.InGround():
            over = said(node.count) if node.count else ""
            return f"~{node.ground}~{over}" + (f">{said(node.to)}" if node.to else "")
        case tree.RowRef():
            return f"row{node.number or node.name}"
        case tree.Yarn():
            return f"{node.act}[{node.colour}]"
        case tree.YarnTo():
            return "front" if node.front else "back"
        case tree.BindOff():
            return "bo" + (said(node.count) if node.count else "all")
        case tree.CastOn():
            return f"co{said(node.count) if node.count else ''}@{node.at}"
        case tree.PickUp():
            return f"pu{said(node.count) if node.count else ''}-{node.how}"
        case tree.Evenly():
            return f"evenly{said(node.change) if node.change else ''}"
        case tree.AtEdges():
            return f"{node.where}{node.change:+d}"
        case tree.Hold():
            return f"hold{said(node.count) if node.count else node.of}"
        case tree.Call():
            return f"{node.name}:{said(node.row) if node.row else ''}:{said(node.over) if node.over else ''}"
        case _:
            return type(node).__name__.lower()


MODERN = [
    ("K4, p2, k2tog, yo k5.", "k4 p2 k2tog yo k5"),
    ("K 4. P 2. K4.", "k4 p2 k4"),
    ("k3p2k3", "k3 p2 k3"),
    ("Knit four, purl two, 4 plain, 2 purl.", "k4 p2 k4 p2"),
    ("K the next 4, knit a stitch, k1 st.", "k4 k k"),
    ("Knit.", "k>end"),
    ("K all sts.", "k>end"),
    ("Purl back.", "p>end"),
    ("Knit to last 3 sts, k2tog, k1.", "k>end-3 k2tog k"),
    ("K until 3 sts remain, turn.", "k>end-3 turn"),
    ("Knit all but 3, w&t.", "k>end-3 turn:wrap"),
    ("Knit to within 2 sts of the end, turn.", "k>end-2 turn"),
    ("K to 2 sts before next marker, ssk, sm, k to m.", "k>marker-2 ssk slip-m k>marker"),
    ("K to marker A, slip marker, k to end.", "k>marker[A] slip-m k>end"),
    ("K to 1 st before gap, ssk, k1, turn.", "k>gap-1 ssk k turn"),
    ("K to 3 sts past the gap, turn.", "k>gap+3 turn"),
    ("*K3, p1; rep from * to last 2 sts, k2.", "(k3 p)>end-2 k2"),
    ("*K3, p1; rep from *, ending k2.", "(k3 p)open! k2"),
    ("*K5, p1; rep from *, end last rep k2.", "(k5 p)open! k2"),
    ("*K3, yo; rep from * 5 times more, k2.", "(k3 yo)5more k2"),
    ("*K3, k2tog* 6 times.", "(k3 k2tog)6in all"),
    ("*P1, k3* k2.", "(p k3)pair k2"),
    ("* K1, yo.", "(k yo)open"),
    ("*K1, p1*, k6, rep between *s.", "(k p)pair k6 (k p)open"),
    ("[K2, p2] rep from [ to ] to end.", "(k2 p2)>end"),
    ("*[K1, p1] twice, k4; rep from * to end.", "((k p)2 k4)>end"),
    ("(K1, p1) x3, [k2] 3x, (yo) twice.", "(k p)3 (k2)3 (yo)2"),
    ("[K2, p2] to last 3 sts, k3.", "(k2 p2)>end-3 k3"),
    ("*(K2, p2) around.", "(k2 p2)>end"),
    ("K2, p2 across.", "{(k2 p2)>end} OR {k2 p2>end}"),
    ("Sl 1, k1, psso, k to end.", "skp k>end"),
    ("Sl1-k2tog-psso; sl2, k1, p2sso.", "sk2p s2kp"),
    ("Slip 1, k2, psso.", "sl k2 pass1/2"),
    ("Sl1 wyif, slip 2 wyib.", "sl[front] sl2[back]"),
    ("Slip the first stitch as if to purl, knit to end.", "sl_pwise k>end"),
    ("Yo twice, k2tog twice.", "yo*2 k2tog*2"),
    ("K1 tbl, k 2 tog tbl, k1 below.", "k_tbl k2tog_tbl k_below"),
    ("(K1, yo, k1) in next st.", "<k yo k>1"),
    ("K1, p1, k1 all into next st, k2.", "<k p k>1 k2"),
    ("[K1, yo, k1] in each of next 3 sts.", "<k yo k>3"),
    ("(K3tog, yo, k3tog) into the same 3 sts.", "<k3tog yo k3tog>1/3"),
    ("Slip 3 sts to cn and hold in front, k3, k3 from cn.", "x3F<k3|k3>"),
    ("C4F, 2/2 RC, p1.", "2/2_lc 2/2_rc p"),
    ("K2tog, leaving sts on left needle, k first st again, slip both sts off.", "rt"),
    ("Turn, leaving 4 sts unworked.", "turn-4"),
    ("Wrap next st and turn.", "turn:wrap"),
    ("K4, turn and make a double stitch.", "k4 turn:double stitch"),
    ("Yo, turn.", "turn:yarn over"),
    ("Do not turn, slide.", "never-turn slide"),
    ("Knit to end, working wraps together with sts.", "k>end resolve"),
    ("Pm, k4, sm, rm, place marker B.", "place-m k4 slip-m remove-m place-m[B]"),
    ("Place next 14 sts on holder, k4.", "hold14 k4"),
    ("Bind off 6, knit to end.", "bo6 k>end"),
    ("BO all sts loosely in pattern.", "boall"),
    ("K4, cast on 3 sts at end of row.", "k4 co3@end"),
    ("Pick up and knit 16 sts along left edge.", "pu16-knit"),
    ("Knit, increasing 8 sts evenly.", "k>end evenly8"),
    ("Dec 1 st each end.", "each end-1"),
    ("Patt 12, k2tog, patt to end.", "patt12 k2tog patt>end"),
    ("Rib to last 3 sts, p3.", "patt>end-3 p3"),
    ("K3, work in k2, p2 rib to last 3 sts, k3.", "k3 ~k2, p2 rib~>end-3 k3"),
    ("With A, k4; k5 B, k3 in MC.", "use[A] k4 k5[B] k3[MC]"),
    ("4A, 6B.", "k4[A] k6[B]"),
    ("As row 2.", "row2"),
    ("Work row 3 of chart A over 13 sts, k4.", "chart A:3:13 k4"),
    ("Yf, sl 1, yb, k3.", "front sl back k3"),
    ("Needle 1: k to last 3 sts, k2tog, k1.", "note k>needle-3 k2tog k"),
    ("K4 (the edge lies flat), p2.", "k4 note p2"),
    ("K2, p2. (24 sts)", "k2 p2 =24"),
]

OLD = [
    ("Seam 4, pearl two, knit plain.", "p4 p2 k>end"),
    ("Quite plain.", "k>end"),
    ("Make 1, knit 5, narrow, over twice, narrow.", "yo k5 k2tog yo*2 k2tog"),
    ("Slip 1, knit 1, pull the slipped stitch over the knitted one, knit 2.", "skp k2"),
    ("Slip, narrow and bind; slip and bind.", "sk2p skp"),
    ("Knit 2, bring the wool forward, knit 2 together, and repeat.", "(k2 yo k2tog)open"),
    ("Over, knit 1 from behind, over, knit 9 *.", "(yo k_tbl yo k9)open"),
    ("8 times: over, knit 1.", "(yo k)8"),
    ("Alternately knit 1, throw the cotton forward.", "(k yo)open"),
    ("X knit 3, purl 1, X all round.", "(k3 p)>end"),
    ("Knit 2; (a) bring the thread forward, narrow.--Repeat from (a).", "k2 (yo k2tog)open"),
    ("Make 1 and knit 2 together 3 times.", "{(yo k2tog)3} OR {yo k2tog*3}"),
    ("(Make 1 and knit 2 together three times), knit 1.", "(yo k2tog)3 k"),
    ("Turn over, knit two together; turn over twice.", "yo k2tog yo*2"),
    ("Knit plain to the last three stitches, take in one, knit one.", "k>end-3 k2tog k"),
    ("Like the 4th.", "row4"),
    ("Widen, raise 1, take 2 together.", "kfb M1 k2tog"),
    ("Knit 1 putting the thread twice round the pin.", "k_wrap2"),
    ("Cast off all but seven; knit four.", "boall k4"),
]


@pytest.mark.parametrize(("words", "wanted"), MODERN)
def test_a_modern_row_is_read(words, wanted):
    out, rest, findings = read(words)
    assert (said(out), rest, findings) == (wanted, "", [])


@pytest.mark.parametrize(("words", "wanted"), OLD)
def test_an_old_row_is_read(words, wanted):
    out, rest, findings = read(words, terms="old")
    assert (said(out), rest, findings) == (wanted, "", [])


def test_make_1_keeps_both_readings_when_the_age_is_not_known():
    (step,) = read("Make 1.")[0]
    assert isinstance(step, tree.Work)
    assert step.readings == ("M1", "yo")
    assert read("Make 1.", terms="UK")[0][0].readings == ()


def test_sizes_stand_inside_the_steps():
    out, _, findings = read("[K7[9], k2tog] 3[4] times, k0[2].", sizes=("S", "M"))
    assert said(out) == "(k7,9 k2tog)3,4 k0,2"
    assert findings == []


def test_the_patterns_own_stitches_come_first():
    own = {"wheat ear": "Wheat ear", "mb": "MB"}
    assert said(read("K2, wheat ear, mb, k1.", own=own)[0]) == "k2 =Wheat_ear =MB k"


@pytest.mark.parametrize(
    ("words", "total", "kind"),
    [
        ("(24 sts)", (24,), "total"),
        ("[8 + 8 + 8 = 24]", (24,), "total"),
        ("- 24 sts rem", (24,), "total"),
        ("24 stitches.", (24,), "total"),
        ("you should now have 24 sts", (24,), "total"),
        ("12 on each needle, 36 in all", (36,), "total"),
        ("(2 sts remain unworked)", (2,), "unworked"),
        ("(18 sts each side)", (18,), "part"),
        ("14 sts on hold", (14,), "held"),
    ],
)
def test_a_printed_count_is_read(words, total, kind):
    stated = parse_stated(Cursor(tokenize(words, 0, COMPACT)), Context(compact=COMPACT))
    assert stated is not None
    assert stated.total is not None
    assert (stated.total.values, stated.kind) == (total, kind)


def test_a_change_is_no_total():
    stated = parse_stated(Cursor(tokenize("(2 sts dec)", 0, COMPACT)), Context(compact=COMPACT))
    assert stated is not None
    assert stated.total is None
    assert stated.change is not None
    assert stated.change.values == (-2,)


# --- what cannot be read ---


def test_one_bad_stretch_in_a_repeat_gives_one_finding_and_reading_goes_on():
    ctx = Context(compact=COMPACT)
    words = "*K2, k2tgo, k1; rep from * to end."
    out = steps.parse_steps(Cursor(tokenize(words, 0, COMPACT)), ctx)
    assert said(out) == "(k2 unread k)>end"
    (finding,) = ctx.findings
    assert finding.code == "not-read"
    assert words[finding.span.start : finding.span.end] == "k2tgo"


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("[K3, p1 5 times.", "unclosed-bracket"),
        ("K2, rep from * to end.", "repeat-without-star"),
        ("(" * 10_000, "nested-too-deep"),
        ("[k1, " * 10_000 + "]" * 10_000, "nested-too-deep"),
    ],
)
def test_a_slip_with_marks_gives_one_finding(words, code):
    assert read(words)[2] == [code]


@pytest.mark.parametrize(
    "words",
    ["k1-" * 3_000, "* k1 " * 2_000, "slip 1 to cn and hold in front, " * 500, "(k1, (" * 2_000, "work " * 3_000,
     "k1, p1 in " * 500, "make 1 and k2tog 3 times and " * 500],
)  # fmt: skip
def test_no_text_takes_long(words):
    began = time.perf_counter()
    read(words)
    assert time.perf_counter() - began < 60  # a hang, not a slow machine


WORDS = st.sampled_from(
    "k p K2, k4 p2tog yo sl 1 psso * ** ( ) [ ] { } rep from to end last 3 sts twice times x and then turn w&t marker pm "
    "in into next st over knit purl make 1 cast on bind off pick up along edge row 2 24 (24 - = , ; . : & as set patt rib "
    "needle hold front cn with A MC across around until before gap centre 88 (96, 104) two 1st each end evenly inc dec".split()
)


@settings(deadline=None)
@given(st.one_of(st.lists(WORDS, max_size=30).map(" ".join), st.text(max_size=80)))
def test_any_text_reads_and_every_span_lies_inside_it(words):
    ctx = Context(compact=COMPACT)
    cur = Cursor(tokenize(words, 0, COMPACT))
    out = steps.read_on(cur, ctx, frozenset(), 0)
    assert cur.done
    for node in tree.walk(out):
        assert node.span == NOWHERE or 0 <= node.span.start <= node.span.end <= len(words)
    for finding in ctx.findings:
        assert 0 <= finding.span.start <= finding.span.end <= len(words)
        assert finding.message
