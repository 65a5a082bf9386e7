"""Lists of abbreviations and the like on a sheet: what begins one, and that the work ends it."""

import pytest

from purlwright.needles.knit import knit
from purlwright.pattern.definitions import find_drafts
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

HEADED = "# Skerry Hat\n\n"
ROWS = "Row 1 (RS): K20.\nRow 2 (WS): P20.\nBind off.\n"
WORK = "CO 20 sts.\n" + ROWS


def read(text):
    return read_pattern(Source(text))


def rows(pattern):
    return [
        e.number
        for p in knit(pattern, size=0, options={}).ledger.pieces
        for e in p.rows
        if e.number is not None
    ]


@pytest.mark.parametrize("marked", [True, False])
@pytest.mark.parametrize(
    "text",
    [
        "## Abbreviations\nk: knit.\np: purl.\n\n" + WORK,
        "## Abbreviations\nk: knit.\np: purl.\n" + WORK,
        "## Abbreviations\nk: knit.\np: purl.\n\nInstructions\n\n" + WORK,
        "## Abbreviations\n- k: knit.\n- p: purl.\n\n- Cast on twenty sts.\n" + ROWS,
        "## Special stitches\nMB: k1, p1, k1 into next st.\n\nUsing 4 mm needles, cast on 20 sts.\n" + ROWS,
        "## Materials\n4 mm needles\n\n" + WORK,
        "Abbreviations\nk: knit.\np: purl.\n\n" + WORK,
        "Abbreviations:\nk = knit\np = purl\n\n" + WORK,
        "ABBREVIATIONS\nk - knit\np - purl\n\nINSTRUCTIONS\n" + WORK,
        "**Abbreviations:**\nk\tknit\np\tpurl\n\n**Pattern**\n\n" + WORK,
        "NOTES:\nA loose cuff is best.\n\nPATTERN\n\n" + WORK,
        "Abbreviations\nk = knit\n\nSpecial stitches\nMB: k1, p1, k1 into next st.\n\n" + WORK,
    ],
)
def test_the_work_ends_a_list(text, marked):
    text = HEADED + text if marked else HEADED[2:] + text.replace("## ", "")
    pattern = read(text)
    assert rows(pattern) == [1, 2]
    assert not [f for f in pattern.findings if f.severity == "error"]
    assert not knit(pattern, size=0, options={}).findings


def test_a_row_ends_a_list_of_abbreviations_when_nothing_is_cast_on_later():
    pattern = read(HEADED + "Cast on 20 sts.\n\n## Abbreviations\nk: knit.\n\n" + ROWS)
    assert rows(pattern) == [1, 2]


@pytest.mark.parametrize(
    "text",
    [
        "## Abbreviations\nSeed st:\nRow 1: K1, p1.\nRow 2: P1, k1.\n\n## Body\n" + WORK,
        "## Abbreviations\nk: knit.\nSeed st: over an even number.\n\nRow 1: K1, p1.\n\n## Body\n" + WORK,
        "## Seed stitch pattern\nRow 1: K1, p1.\nRow 2: P1, k1.\n\n## Body\n" + WORK,
        "## Special stitches\nMB: row 1: k1, p1 in next st, turn.\nRow 2: p2tog.\n\n## Body\n" + WORK,
        "## Special stitches\n### Picot\nCast on 2 sts, bind off 3 sts.\n\n## Body\n" + WORK,
        "## Special stitches\nPicot:\nCast on 2 sts, bind off 3 sts.\n\n## Body\n" + WORK,
        "## Abbreviations\nCO: cast on.\nCO = cast on\nRS: right side.\nrnd 1: the first round.\n\n## Body\n"
        + WORK,
        "## Gauge\nCast on 20 sts.\nRow 1: knit.\n\n## Body\n" + WORK,
    ],
)
def test_recipes_stay_in_their_list(text):
    pattern = read(HEADED + text)
    first, body = pattern.sections[0], pattern.sections[-1]
    assert (first.kind, body.heading) == ("define", "Body")
    assert len({s.heading for s in pattern.sections}) == len(pattern.sections)
    assert "" not in {s.heading for s in pattern.sections}
    assert rows(pattern) == [1, 2]


def test_keys_between_the_lists_of_a_sheet_are_still_keys():
    pattern = read(HEADED + "Abbreviations\nk = knit\nGauge: 18 sts and 24 rows = 10 cm\n\n" + WORK)
    assert len(pattern.gauges) == 1
    assert rows(pattern) == [1, 2]


def test_a_list_on_a_sheet_stands_under_its_own_heading():
    pattern = read(HEADED + "Abbreviations\nMB: k1, p1, k1 into next st.\n\n" + WORK)
    assert [(s.heading, s.topic) for s in pattern.sections] == [("Abbreviations", "abbreviations"), ("", "")]
    assert [d.name for d in pattern.definitions] == ["MB"]
    assert pattern.source.words(pattern.sections[0].span) == "Abbreviations"


HEADING_IN_CAPITALS = [
    ("BODY\nChange to larger needle.\n", "BODY"),
    ("LEFT FRONT:\nChange to larger needle.\n", "LEFT FRONT"),
    ("CROWN\n\nChange to larger needle.\n", "CROWN"),
]


@pytest.mark.parametrize(("text", "heading"), HEADING_IN_CAPITALS)
def test_a_line_of_capitals_apart_is_a_heading_without_its_mark(text, heading):
    pattern = read(
        HEADED + "## Rib\nCO 20 sts.\nRow 1 (RS): K20.\n\n" + text + "Row 2 (WS): P20.\nBind off.\n"
    )
    assert [s.heading for s in pattern.sections] == ["Rib", heading]
    assert not [f for f in pattern.findings if f.severity == "error"]
    assert rows(pattern) == [1, 2]


@pytest.mark.parametrize(
    "text",
    [
        "Row 1 (RS): K20.\n\nKNIT 1 ROW.\n",
        "Row 1 (RS): K20.\n\nRS\n",
        "Row 1 (RS): K20.\n\nBIND OFF.\n",
        "Row 1 (RS): K20, placing a marker\nAFTER TEN\n",
    ],
)
def test_capitals_that_are_worked_or_go_on_are_no_heading(text):
    assert [s.heading for s in read(HEADED + "## Rib\nCO 20 sts.\n" + text).sections] == ["Rib"]


ON_ONE_LINE = [
    ("k - knit; p - purl; rnd(s) - round(s); pm - place marker", ["k", "p", "rnd", "pm"]),
    ("k – knit, ssk – slip, slip, knit, st st – stockinette stitch", ["k", "ssk", "st st"]),
    ("k = knit, p = purl, yo = yarn over", ["k", "p", "yo"]),
    ("K=knit; P=purl; M1=make one", ["K", "P", "M1"]),
    ("k - knit; MB - make bobble", ["k", "MB"]),
    ("C4F - sl 2 sts to cn, hold in front, k2; k2 from cn", ["C4F"]),
]


@pytest.mark.parametrize(("line", "names"), ON_ONE_LINE)
def test_several_abbreviations_stand_on_one_line(line, names):
    assert [d.name for d in find_drafts(line, 0, "abbreviations")] == names


def test_a_row_that_ends_with_its_total_is_whole_without_a_full_stop():
    pattern = read(HEADED + "CO 20 sts.\nRow 1: K18, k2tog. 19 sts\nKnit 2 rows.\nBind off.\n")
    assert [len(line.actions) for s in pattern.sections for line in s.lines] == [1, 3, 1, 1]


@pytest.mark.parametrize("key", ["**Sizes:**", "**Sizes**:", "__Sizes:__", "Sizes:"])
def test_a_key_may_stand_in_bold(key):
    pattern = read(HEADED + key + " S (M, L)\n\n## Body\nCO 20 (22, 24) sts.\nRow 1: Knit.\nBind off.\n")
    assert [e.known for e in pattern.header.entries] == ["Sizes"]
    assert [e.value for e in pattern.header.entries] == ["S (M, L)"]


def test_a_bare_row_does_not_take_in_the_words_that_go_on_from_it():
    pattern = read(HEADED + "CO 20 sts.\nrow 1: k\ncont like this until 8 rows are done.\n")
    assert [line.text for s in pattern.sections for line in s.lines][1:] == [
        "row 1: k",
        "cont like this until 8 rows are done.",
    ]


@pytest.mark.parametrize(
    ("words", "count"),
    [
        ("Knit {plain} rows.", 8),
        ("Purl {plain} rows.", 8),
        ("Knit {plain + 2} more rows.", 10),
        ("K{plain}, k32.", 1),
    ],
)
def test_a_named_number_says_how_many_rows_are_knitted(words, count):
    text = f"{HEADED}## Numbers\nplain = 8\n\n## Body\nCO 40 sts.\n{words}\nBind off.\n"
    pieces = knit(read(text)).ledger.pieces
    assert sum(e.kind == "row" for e in pieces[0].rows) == count
