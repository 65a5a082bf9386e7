"""Modern wordings: what a designer of today writes, and what of it is no instruction."""

import pytest

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.pattern.tree import (
    Again,
    BindOff,
    Call,
    CastOn,
    Close,
    Edge,
    Fill,
    Gather,
    Hold,
    Label,
    Marker,
    Note,
    Number,
    PassOver,
    PickUp,
    Place,
    PlaceKind,
    Repeat,
    RepeatRows,
    Resolve,
    Return,
    RowRef,
    RowSet,
    Said,
    Stated,
    Turn,
    TurnHow,
    Unread,
    Work,
    WorkRows,
    Wrap,
    Yarn,
    bare,
)
from purlwright.stitches.load import dictionary


def n(*values):
    return Number(values=values)


def work(stitch, *count, **more):
    return Work(stitch=stitch, count=n(*(count or (1,))), **more)


def read(words, sizes=()):
    return read_line(
        words,
        Context(
            sizes=sizes,
            compact=dictionary().compact,
            called={"chart a": "Chart A", "pod chart": "Pod chart"},
            yarns=frozenset({"a", "b", "mc"}),
        ),
    )


END = Place(kind=PlaceKind.END)
K = Fill(body=(work("k"),), to=END)
GAP = Fill(body=(work("k"),), to=Place(kind=PlaceKind.GAP))
WRAPS = Resolve(how=TurnHow.WRAP)
DOUBLES = Resolve(how=TurnHow.DOUBLE)

SAME = [
    # wraps and double stitches
    ("Row 1: Knit to the gap, knit the wrapped st together with its wrap.", (GAP, WRAPS, work("k"))),
    ("Row 1: Knit to the gap, knit the wrapped st together with its wraps.", (GAP, WRAPS, work("k"))),
    ("Row 1: P3, p next st together with its wrap.", (work("p", 3), WRAPS, work("p"))),
    ("Row 1: K3, lift the wrap and knit it together with the st.", (work("k", 3), WRAPS, work("k"))),
    ("Row 1: K to end, working each wrapped st together with its wrap.", (K, WRAPS)),
    ("Work each wrap together with its stitch.", (WRAPS,)),
    ("Pick up each wrap and work it together with its stitch as you come to it.", (WRAPS,)),
    ("Row 1: K to end, working each double stitch as one.", (K, DOUBLES)),
    ("Row 1: K to end, knitting both legs of each double stitch together.", (K, DOUBLES)),
    ("Row 1: K to end, working the double stitches as single stitches.", (K, DOUBLES)),
    # binding off and closing
    ("Bind off as follows: k2, *slip both sts back, k2tog tbl, k1; rep from * to end.", (BindOff(manner="decrease"),)),
    ("Bind off thus: *k2tog tbl, sl st back to left needle; rep from *. Fasten off.", (BindOff(manner="decrease"),)),
    ("Bind off very loosely, knitting each slipped st together with its yarn over.", (BindOff(),)),
    ("BO using stretchy method: k1, *k1, slip both sts back, k2tog tbl; rep from *.", (BindOff(manner="stretchy"),)),
    ("Fasten off.", (Gather(),)),
    ("Break yarn and fasten off.", (Yarn(act="break"), Gather())),
    # charts
    ("K3, work row 1 of chart B over 14 sts, k3.",
     (work("k", 3), Call(name="chart B", row=n(1), over=n(14)), work("k", 3))),
    ("Row 1: Work Chart A row 3 over 12 sts, k3.", (Call(name="Chart A", row=n(3), over=n(12)), work("k", 3))),
    ("Rnd 1: Work rnd 1 of the pod chart to last 3 sts, k3.",
     (Call(name="Pod chart", row=n(1), to=Place(kind=PlaceKind.END, before=n(3))), work("k", 3))),
    ("Work next rnd of the pod chart over 4 sts.", (Call(name="Pod chart", over=n(4)),)),
    ("Row 1: Work row 1 of chart B.", (Call(name="chart B", row=n(1)),)),
    ("Rep rows 1-8 of Chart A 3 times more.",
     (RepeatRows(rows=RowSet(first=1, last=8, section="Chart A"), times=n(3), said=Said.MORE),)),
    # whole rows again
    ("[Knit 5 rounds, then work dec round] 4 times.",
     (Again(body=(WorkRows(body=(K,), rows=n(5), unit="round"), RowRef(name="dec round", unit="round")), times=n(4)),)),
    ("*Knit 5 rounds, work dec round; rep from * 3 more times.",
     (Again(body=(WorkRows(body=(K,), rows=n(5), unit="round"), RowRef(name="dec round", unit="round")),
            times=n(3), said=Said.MORE, star=True),)),
    # what else is worked
    ("Row 6: Cast on 3, k to end.", (CastOn(count=n(3), at="beginning"), K)),
    ("For my square I cast on 23 sts.", (CastOn(count=n(23)),)),
    ("Row 1: K1, LRinc, k to end.", (work("k"), work("rli"), K)),
    ("Row 1: K1 tbl, k tbl to end.", (work("k tbl"), Fill(body=(work("k tbl"),), to=END))),
    ("Row 1: K3, pass first of these 3 sts over the other 2.",
     (work("k", 3), PassOver(count=n(1), over=n(2)))),
    ("Pick up and knit 3 sts for every 4 rows.", (PickUp(rate=(3, 4)),)),
    ("Row 1: Sl 4 sts to cable needle, wrap yarn twice around these sts, k4 from cable needle.",
     (Wrap(count=n(4)), work("k", 4))),
    ("Row 1: K2, (k1, p1) into double yo, k2.", (work("k", 2), work("k"), work("p"), work("k", 2))),
    ("Row 1: Break A, with MC, k to end.", (Yarn(act="break", colour="A"), Yarn(act="use", colour="MC"), K)),
    ("Row 1: Return 1 held st to needle.", (Return(count=n(1)),)),
    ("Row 2 (WS): Knit, removing the markers the last time.", (K, Marker(act="remove", name="all"))),
    ("Row 1: K20 instep sts, p5 held sts.", (work("k", 20), work("p", 5))),
    ("Row 2: K1, remove all markers.", (work("k"), Marker(act="remove", name="all"))),
    ("Row 2: K3, slip the thumb sts onto scrap yarn.", (work("k", 3), Hold(place="scrap yarn", of="marker"))),
    ("Row 2: K3 and turn, leaving rem sts on a holder.",
     (work("k", 3), Hold(place="a holder", of="rest"), Turn())),
    ("Row 1: *K3 in A, k1 in B; rep from * to end.",
     (Repeat(body=(work("k", 3, colour="A"), work("k", 1, colour="B")), to=END, said=Said.TO, mark="*", star=True),)),
    ("Cut yarn leaving a 30 cm tail and graft toe.",
     (Yarn(act="break"), Close(how="graft", a=Edge(words="toe")))),
    ("K across 32 instep sts.", (Return(place="instep", count=n(32), if_held=True), work("k", 32))),
    ("Rep Rnds 1B and 1A twice more.",
     (RepeatRows(rows=RowSet(names=("rnd 1b", "rnd 1a")), times=n(2), said=Said.MORE),)),
    ("Rep rows 1-2 a further 14 times.",
     (RepeatRows(rows=RowSet(first=1, last=2), times=n(14), said=Said.MORE),)),
    ("K2, p2.", (work("k", 2), work("p", 2))),
    ("With a larger needle, cast on 20 sts.", (Note(words="With a larger needle"), CastOn(count=n(20)))),
]  # fmt: skip


@pytest.mark.parametrize(("words", "actions"), SAME)
def test_says_what_a_knitter_reads(words, actions):
    got = read(words)
    assert bare(got.actions) == bare(actions)
    assert got.findings == ()


TWO = ("small", "large")
SIZED = [
    ("Rep rows 3 and 4 seven (eight) times more.",
     (RepeatRows(rows=RowSet(first=3, last=4), times=n(7, 8), said=Said.MORE),)),
    ("Rep the last 8 (7) rnds 5 (6) times more. (36 (40) sts)",
     (RepeatRows(rows=RowSet(back=8), times=n(5, 6), said=Said.MORE), Stated(total=n(36, 40)))),
    ("Break the yarn, draw it through the remaining 5 (6) sts and fasten off.", (Gather(stated=n(5, 6)),)),
    ("Place the 17 (19) held thumb sts on the larger needles.", (Return(place="thumb", count=n(17, 19)),)),
]  # fmt: skip


@pytest.mark.parametrize(("words", "actions"), SIZED)
def test_a_list_of_sizes_stands_anywhere(words, actions):
    got = read(words, TWO)
    assert got.findings == ()
    assert [type(a) for a in got.actions] == [type(a) for a in actions]
    assert bare(got.actions[-1]) == bare(actions[-1])


def test_one_pick_up_over_several_edges():
    got = read(
        "Pick up and knit 12 sts down the left edge, 18 (20) sts from the cast-on and 12 sts up the right edge.",
        TWO,
    )
    assert [bare(a.count) for a in got.actions] == [n(12), n(18, 20), n(12)]
    assert [a.edge.words for a in got.actions] == [
        "down the left edge",
        "from the cast-on",
        "up the right edge",
    ]
    assert got.findings == ()


LABELS = [
    ("F;rst row- Purl.", Label(numbers=(1,), unit="row")),
    ("Row 2 (WS) and row 4: Purl.", Label(numbers=(2, 4), side="WS", unit="row")),
    ("Row 2 (WS) and every WS row: Purl.", Label(numbers=(2,), side="WS", unit="row", rule="WS")),
    ("Next 24 (28) rnds: Knit.", Label(next=n(24, 28), unit="round")),
    ("Bind-off row (RS): K2, pass first st over.", Label(name="bind-off row", unit="row", side="RS")),
]


@pytest.mark.parametrize(("words", "label"), LABELS)
def test_labels(words, label):
    got = read(words, TWO)
    assert (got.label.numbers, got.label.side, got.label.name, got.label.rule) == (
        label.numbers, label.side, label.name, label.rule,
    )  # fmt: skip
    assert got.findings == ()


NOTES = [
    "Unpick the waste yarn and place the cast-on sts on the spare needle.",
    "Undo the provisional cast-on and slip these 36 sts to a spare needle.",
    "Run the tail through the ridges of the crown edge, draw up tightly and fasten off.",
    "Gather the crown edge with the tail and fasten off.",
    "Close the small gaps at the underarms with the yarn ends.",
    "Wash, pat to size and dry flat.",
    "Cut between the 2 centre sts.",
]


@pytest.mark.parametrize("words", NOTES)
def test_works_no_stitch(words):
    got = read(words)
    assert all(isinstance(a, Note) for a in got.actions[:1])
    assert not any(isinstance(a, Unread | Work | Fill | BindOff) for a in got.actions)
    assert got.findings == ()


SLIPS = [
    ("K2, frobnicate, k2.", "frobnicate"),
    ("Row 1: K5, k2tgo, k5.", "k2tgo"),
    ("Work 27 or 19 rows more in stockinette stitch.", "or 19"),
]


@pytest.mark.parametrize(("words", "slip"), SLIPS)
def test_a_slip_is_told_and_never_a_silent_note(words, slip):
    (found,) = read(words).findings
    assert (found.code, words[found.span.start : found.span.end]) == ("not-read", slip)


@pytest.mark.parametrize(("words", "code"), [
    ("Row 1 (RS): [K3, p1 6 times.", "unclosed-bracket"),
    ("Row 1 (RS): K20000000.", "number-too-large"),
])  # fmt: skip
def test_one_fault_is_one_finding(words, code):
    got = read(words)
    assert [f.code for f in got.findings] == [code]
    assert all(isinstance(a, Unread) for a in got.actions)


@pytest.mark.parametrize("words", ["Row 1: [ * * **", "[ * ** ( *", "* * * ** [ , **"])
def test_marks_alone_end(words):
    assert read(words) is not None
