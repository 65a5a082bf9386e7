"""The file as a whole: what stands where, and that spans point at the right words."""

import cProfile
import time

import pytest

from purlwright.findings import Severity
from purlwright.pattern import tree
from purlwright.pattern.file import LineCache, read_pattern
from purlwright.text import Source

HAT = """\
# Skerry Hat
A warm hat for a cold quay,
knitted sideways.
Sizes: child (adult, large)
For: head, child and adult
Yarn: MC, wool, 4 Medium, 200 m per 100 g
Needles: 4.5 mm
Gauge: 18 sts and 36 rows = 10 cm in garter stitch, after washing
Options: turns = wrapped (usual), double stitch
Colourway: lichen on slate

## Numbers
width = 36 (42, 46)
short = (width - 4) / 2

## Wedge
Cast on {width} sts.
Row 1 (RS): Knit.
wrapped only: Row 2 (WS): Knit to last 4 sts, w&t.
double stitch only: Row 2 (WS): Knit to last 4 sts, turn and make a double stitch.
Row 3: Knit to
end.
> The wedge is widest at the brim.
Sizes adult, large only: Row 4: Knit. (36 (42, 46) sts)

## Finishing
Bind off all sts.
"""


def read(text, **more):
    return read_pattern(Source(text), **more)


def texts(pattern):
    return [line.text for line in pattern.lines]


def codes(pattern):
    return [f.code for f in pattern.findings]


def words_of(pattern, code):
    return [pattern.source.words(f.span) for f in pattern.findings if f.code == code]


# --- the example, part by part ---


def test_title_and_description():
    p = read(HAT)
    assert p.title == "Skerry Hat"
    assert p.source.words(p.title_span) == "Skerry Hat"
    assert p.description == ("A warm hat for a cold quay,\nknitted sideways.",)


def test_keys_known_and_kept_in_order():
    p = read(HAT)
    assert [(e.key, e.known) for e in p.header.entries] == [
        ("Sizes", "Sizes"),
        ("For", "For"),
        ("Yarn", "Yarn"),
        ("Needles", "Needles"),
        ("Gauge", "Gauge"),
        ("Options", "Options"),
        ("Colourway", None),
    ]
    for e in p.header.entries:
        assert p.source.words(e.key_span) == e.key
        assert p.source.words(e.value_span) == e.value


def test_sizes_and_options():
    p = read(HAT)
    assert p.sizes == ("child", "adult", "large")
    (turns,) = p.options
    assert (turns.name, turns.values, turns.usual) == ("turns", ("wrapped", "double stitch"), "wrapped")
    assert [p.source.words(s) for s in turns.spans] == ["wrapped", "double stitch"]


def test_sections_in_order():
    p = read(HAT)
    assert [(s.heading, s.level, s.kind, s.topic) for s in p.sections] == [
        ("Numbers", 2, "define", "numbers"),
        ("Wedge", 2, "work", ""),
        ("Finishing", 2, "finishing", ""),
    ]
    assert [p.source.words(s.span) for s in p.sections] == ["Numbers", "Wedge", "Finishing"]


def test_limits_are_told_from_the_line_and_the_line_begins_after_them():
    wedge = read(HAT).sections[1]
    assert [(line.text, line.sizes, line.options) for line in wedge.lines[2:4]] == [
        ("Row 2 (WS): Knit to last 4 sts, w&t.", (), (("turns", "wrapped"),)),
        ("Row 2 (WS): Knit to last 4 sts, turn and make a double stitch.", (), (("turns", "double stitch"),)),
    ]
    assert wedge.lines[-1].sizes == ("adult", "large")
    assert wedge.lines[-1].text.startswith("Row 4:")


def test_a_line_that_goes_on_is_one_line():
    wedge = read(HAT).sections[1]
    assert wedge.lines[4].text == "Row 3: Knit to\nend."
    assert wedge.lines[4].line == 21
    assert wedge.lines[5].line == 23


def test_every_line_stands_where_it_says():
    p = read(HAT)
    for line in p.lines:
        assert p.source.text[line.offset : line.offset + len(line.text)] == line.text
        assert p.source.place(line.offset)[0] == line.line


def test_a_note_is_kept_in_its_place():
    wedge = read(HAT).sections[1]
    (note,) = wedge.lines[5].actions
    assert note == tree.Note(words="The wedge is widest at the brim.", span=note.span)


def test_the_example_is_clean():
    assert [f.message for f in read(HAT).findings if f.severity is Severity.ERROR] == []


# --- what a paste may look like ---


@pytest.mark.parametrize("text", ["", "\n\n", "   ", "\ufeff", "#", "# ", "> ", "```\n```"])
def test_next_to_nothing_reads(text):
    p = read(text)
    assert p.title == ""
    assert [line for line in p.lines if line.text] == []


def test_only_a_title():
    p = read("# Quay Mitts")
    assert (p.title, p.sections) == ("Quay Mitts", ())


def test_a_paste_without_any_mark():
    p = read(
        "Quay Mitts\nNeedles: 4 mm\n\nCast on 40 sts.\nRow 1: Knit.\nRow 2: Purl\n\nFinishing\nSew the seam.\n"
    )
    assert p.title == "Quay Mitts"
    assert [(s.heading, s.kind) for s in p.sections] == [("", "work"), ("Finishing", "finishing")]
    assert texts(p) == ["Cast on 40 sts.", "Row 1: Knit.", "Row 2: Purl", "Sew the seam."]


def test_a_paste_in_capitals():
    p = read(
        "QUAY CUFFS\nby a friend\n\nSIZE\nOne size, for an adult.\n\nMATERIALS\n50 g of wool\n4 mm needles\n\n"
        "TENSION\n22 sts to 10 cm\n\nABBREVIATIONS\np - purl\nst st - stocking stitch\n\nCUFF\nCast on 40 sts.\n\n"
        "Top:\nRow 1: Knit.\n"
    )
    assert (p.title, p.sizes) == ("QUAY CUFFS", ("One size",))
    assert [(e.known, e.value) for e in p.header.entries] == [
        ("Sizes", "One size, for an adult."),
        ("Yarn", "50 g of wool"),
        ("Yarn", "4 mm needles"),
        ("Gauge", "22 sts to 10 cm"),
    ]
    assert [(s.heading, s.kind) for s in p.sections][-3:] == [
        ("ABBREVIATIONS", "define"),
        ("CUFF", "work"),
        ("Top", "work"),
    ]
    assert len(p.sections[-3].lines) == 2


@pytest.mark.parametrize("mark", ["• ", "- ", "  - "])
def test_marks_of_a_list_are_not_the_words(mark):
    p = read(f"# A\n\n## B\n{mark}Cast on 12 sts\n{mark}Row 1: Knit\n{mark}Row 2: Purl\n")
    assert texts(p) == ["Cast on 12 sts", "Row 1: Knit", "Row 2: Purl"]


def test_a_list_of_numbers_may_go_on_in_the_next_line():
    p = read("# A\nSizes: S (M, L)\n\n## B\nCast on 12 (14,\n16) sts.\n")
    assert texts(p) == ["Cast on 12 (14,\n16) sts."]
    assert p.findings == ()


def test_a_paste_of_rows_alone_has_no_title():
    p = read("Cast on 20 sts.\nRow 1: K2, p2; rep from * to end.")
    assert p.title == ""
    assert texts(p) == ["Cast on 20 sts.", "Row 1: K2, p2; rep from * to end."]


def test_carriage_returns_make_no_difference():
    assert texts(read(HAT.replace("\n", "\r\n"))) == texts(read(HAT))


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("Row 1: K2,\np2.", ["Row 1: K2,\np2."]),
        ("Row 1: K2\nRow 2: P2", ["Row 1: K2", "Row 2: P2"]),
        ("Row 1: K2\n2nd row: P2", ["Row 1: K2", "2nd row: P2"]),
        ("Row 1: Knit to last 3 sts\nMake: 2", ["Row 1: Knit to last 3 sts", "Make: 2"]),
        ("Row 1: K2.\np2.", ["Row 1: K2.", "p2."]),
        ("Row 1: K2\n\np2.", ["Row 1: K2", "p2."]),
        ("Row 1: K2 (24 sts)\np2.", ["Row 1: K2 (24 sts)", "p2."]),
        ("Row 1: K2 [24]\np2.", ["Row 1: K2 [24]", "p2."]),
        ("Row 1: K2\n> a note\np2.", ["Row 1: K2", "a note", "p2."]),
        ("Row 1: K2\nS only: Row 2: P2", ["Row 1: K2", "Row 2: P2"]),
        ("Rounds 1-4: Knit\n5th round: Purl", ["Rounds 1-4: Knit", "5th round: Purl"]),
    ],
)
def test_which_lines_go_on(text, lines):
    assert texts(read(f"# A\nSizes: S (M)\n\n## Body\n{text}\n")) == lines


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("Row 1: Knit. Row 2: Purl.", ["Row 1: Knit.", "Row 2: Purl."]),
        (
            "1st row.--Knit 2, purl 2. 2d row.--Plain; repeat.",
            ["1st row.--Knit 2, purl 2.", "2d row.--Plain; repeat."],
        ),
        ("First row: Plain. Second row: Seamed.", ["First row: Plain.", "Second row: Seamed."]),
        ("Row 1: K2; rep from Row 3: no.", ["Row 1: K2; rep from Row 3: no."]),
        ("Row 1: As row 4. Row 3 of the chart is next.", ["Row 1: As row 4. Row 3 of the chart is next."]),
    ],
)
def test_several_rows_on_one_line(text, lines):
    p = read(f"# A\n\n## Body\n{text}\n")
    assert texts(p) == lines
    assert {line.line for line in p.lines} == {4}


def test_row_text_is_raw():
    p = read("# A\n\n## Body\nRow 1: *k2, _p2_; rep from * to end, `k1` **end**.\n")
    assert texts(p) == ["Row 1: *k2, _p2_; rep from * to end, `k1` **end**."]


def test_a_hash_without_a_space_is_no_heading():
    p = read("# A\n\n## Body\n#2 needles are used here.\nRow 1: Knit.\n")
    assert [s.heading for s in p.sections] == ["Body"]


# --- header values ---


@pytest.mark.parametrize(
    ("value", "sizes"),
    [
        ("child (adult, large)", ("child", "adult", "large")),
        ("S [M, L]", ("S", "M", "L")),
        ("XS, S, M", ("XS", "S", "M")),
        ("to fit chest 81 (86, 91) cm", ("81", "86", "91")),
        ("One size", ("One size",)),
        ("S (S, L)", ("S", "S 2", "L")),
        ("S (M and L)", ("S", "M", "L")),
    ],
)
def test_sizes_lines(value, sizes):
    assert read(f"# A\nSizes: {value}\n").header.sizes == sizes


def test_keys_may_repeat():
    p = read("# A\nYarn: MC, wool\nYarn: CC, cotton\nNeedles: 4 mm\nNeedles: 5 mm\n")
    assert [y.name for y in p.yarns] == ["MC", "CC"]
    assert [e.value for e in p.header.entries if e.known == "Needles"] == ["4 mm", "5 mm"]


@pytest.mark.parametrize(
    ("value", "stitches", "rows", "length", "ground", "round_", "washed"),
    [
        (
            "18 sts and 36 rows = 10 cm in garter stitch, after washing",
            18,
            36,
            "10 cm",
            "garter stitch",
            False,
            True,
        ),
        ("5 sts to 1 inch", 5, None, "1 in", "", None, None),
        ("22 sts x 30 rnds = 4 in in St st worked in the round", 22, 30, "4 in", "St st", True, None),
        (
            "24 sts and 32 rows over 10 cm in moss stitch before washing",
            24,
            32,
            "10 cm",
            "moss stitch",
            False,
            False,
        ),
        ("24 sts and 16 ridges = 10 cm", 24, 32, "10 cm", "", None, None),
    ],
)
def test_gauge_lines(value, stitches, rows, length, ground, round_, washed):
    (g,) = read(f"# A\nGauge: {value}\n").gauges
    assert (g.stitches, g.rows, g.ground, g.round, g.washed) == (stitches, rows, ground, round_, washed)
    assert f"{g.over.values[0]} {g.over.unit}" == length


def test_gauge_with_rows_over_another_length():
    (g,) = read("# A\nTension: 20 sts = 10 cm and 8 rows = 1 inch in rib\n").gauges
    assert (g.over.unit, g.rows_over.unit, g.rows_over.values) == ("cm", "in", (1,))


def test_a_gauge_without_numbers_gets_a_note():
    p = read("# A\nGauge: not important here\n")
    assert words_of(p, "gauge-not-read") == ["not important here"]


@pytest.mark.parametrize(("value", "make"), [("2", 2), ("two", 2), ("12 pieces", 12)])
def test_make(value, make):
    assert read(f"# A\nMake: {value}\n").header.make == make


@pytest.mark.parametrize(
    "line", ["Make: a few", "Terms: Scots", "Public side: the top", "Make: 0", "Options: plain or fancy"]
)
def test_a_known_key_with_a_strange_value_gets_a_warning(line):
    p = read(f"# A\n{line}\n")
    assert words_of(p, "header-not-read") == [line.split(": ")[1]]


@pytest.mark.parametrize(("value", "terms"), [("US", "US"), ("uk.", "UK"), ("old", "old")])
def test_terms(value, terms):
    assert read(f"# A\nTerms: {value}\n").header.terms == terms


def test_public_side():
    assert read("# A\nPublic side: purl side\n").header.public_side is tree.Side.WS


def test_a_metre_length_per_weight():
    (y,) = read("# A\nYarn: A, 55 % wool, 4 Medium, 100 m per 50 g\n").yarns
    assert (y.name, y.metres_per_100_g) == ("A", 200)


def test_a_row_under_the_title_ends_the_header():
    p = read("# A\nNeedles: 4 mm\nCast on 12 sts.\nRow 1: Knit.\nRow 2 (WS): Purl.\nNotes: none\n")
    assert [e.key for e in p.header.entries] == ["Needles"]
    assert len(p.sections[0].lines) == 4


def test_a_short_value_never_goes_on_in_the_next_line():
    p = read("# A\nTerms: UK\nA warm hat.\nSizes: S, M, L\nFor the quay.\n")
    assert (p.header.terms, p.sizes) == ("UK", ("S", "M", "L"))
    assert p.description == ("A warm hat.", "For the quay.")


def test_a_heading_may_be_the_key():
    p = read(
        "# A\n\n## Gauge\n5 sts to 1 inch\n\n## Materials\nNeedles: 4 mm\n\nMC, wool\n\n## Body\nCast on 12 sts.\n"
    )
    assert [(e.known, e.value) for e in p.header.entries] == [
        ("Gauge", "5 sts to 1 inch"),
        ("Needles", "4 mm"),
        ("Yarn", "MC, wool"),
    ]
    assert [s.kind for s in p.sections] == ["define", "define", "work"]
    assert len(p.gauges) == 1


# --- sizes without names ---


def test_sizes_are_told_from_lists_when_nobody_names_them():
    p = read("# A\nCast on 36 (42, 46) sts.\nRow 1: K3 (4, 5), purl to end.\n")
    assert p.sizes == ("1", "2", "3")
    assert words_of(p, "sizes-not-named") == ["36 (42, 46)"]


def test_a_count_in_brackets_is_no_size():
    assert read("# A\nCast on 12 sts.\nRow 1: K12 (12)\nRow 2: P6, k6 (12)\nRow 3: K12 (12)\n").sizes == ()


# --- limits ---


def test_a_heading_limits_what_stands_under_it():
    p = read(
        "# A\nOptions: edge = plain, picot\n\n## Edge\n### picot only\nRow 1: Knit.\n### plain only\nRow 1: Purl.\n## Body\nRow 1: Knit.\n"
    )
    assert [line.options for line in p.lines] == [(("edge", "picot"),), (("edge", "plain"),), ()]
    assert [s.options for s in p.sections] == [(), (("edge", "picot"),), (("edge", "plain"),), ()]


def test_an_option_may_be_named_to_tell_two_apart():
    p = read(
        "# A\nOptions: edge = plain, picot; cuff = plain, ribbed\n\n## B\ncuff plain only: Row 1: Knit.\nplain only: Row 2: Knit.\n"
        "picot only: Row 3: Knit.\nribbed only: Row 4: Knit.\n"
    )
    assert [line.options[0] for line in p.lines][:2] == [("cuff", "plain"), ("edge", "plain")]
    assert words_of(p, "option-unclear") == ["plain"]


def test_a_choice_that_no_line_is_for_gets_a_finding():
    p = read("# A\nOptions: edge = plain, picot, lace\n\n## B\npicot only: Row 1: Knit.\n")
    assert words_of(p, "option-unused") == ["plain", "lace"]
    assert [f.severity for f in p.findings] == [Severity.NOTE, Severity.WARNING]


def test_an_option_that_no_line_uses_at_all():
    p = read("# A\nOptions: edge = plain, picot\n\n## B\nRow 1: Knit.\n")
    assert words_of(p, "option-unused") == ["plain", "picot"]


def test_several_choices_at_once():
    p = read(
        "# A\nOptions: edge = plain, picot, lace\n\n## B\nplain, lace only: Row 1: Knit.\npicot only: Row 1: Purl.\n"
    )
    assert next(p.lines).options == (("edge", "plain"), ("edge", "lace"))
    assert p.findings == ()


def test_a_size_nobody_named_gets_a_finding():
    p = read("# A\nSizes: S (M, L)\n\n## B\nSizes M, XL only: Row 1: Knit.\n")
    assert words_of(p, "size-unknown") == ["Sizes M, XL"]
    assert next(p.lines).sizes == ("M",)


def test_all_sizes_limits_nothing():
    p = read("# A\nSizes: S (M, L)\n\n## B\nAll sizes: Row 1: Knit.\n")
    (line,) = p.lines
    assert (line.text, line.sizes) == ("Row 1: Knit.", ())


# --- definitions and numbers ---


def test_named_numbers_are_exact_for_each_size():
    p = read(HAT)
    assert [(n.name, n.values) for n in p.numbers] == [("width", (36, 42, 46)), ("short", (16, 19, 21))]


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ("third = 20 / 3", "not-whole", "20 / 3"),
        ("wide = wider - 2", "number-unknown", "wider"),
        ("wide = 20 (24)", "number-not-read", "("),
        ("wide = 20 +", "number-not-read", "+"),
        ("wide = 20 / 0", "number-not-read", "0"),
        ("wide = 999999 * 999999", "number-too-large", "999999 * 999999"),
        ("wide = 20 & 3", "number-not-read", " & 3"),
        ("nothing here", "number-not-read", "nothing here"),
    ],
)
def test_numbers_that_cannot_be_worked_out(line, code, words):
    p = read(f"# A\nSizes: S (M, L)\n\n## Numbers\n{line}\n")
    assert [(f.code, p.source.words(f.span)) for f in p.findings] == [(code, words)]


def test_numbers_nested_without_end_are_refused_quietly():
    p = read("# A\n\n## Numbers\nwide = " + "(" * 400 + "1" + ")" * 400 + "\n")
    assert codes(p) == ["number-not-read"]


def test_a_number_named_twice_gets_a_warning():
    p = read("# A\n\n## Numbers\nwide = 20\nwide = 22\n")
    assert words_of(p, "number-named-twice") == ["wide"]
    assert p.numbers[-1].values == (22,)


@pytest.mark.parametrize("heading", ["Wave Pattern", "Chart A", "Chart", "Harbour stitch", "Notes"])
def test_a_section_that_only_defines(heading):
    p = read(f"# A\n\n## {heading}\nRow 1: Knit.\n\n## Body\nCast on 12 sts.\n")
    assert [s.kind for s in p.sections] == ["define", "work"]


def test_the_same_heading_with_a_cast_on_is_worked():
    p = read("# A\n\n## Wave Pattern\nCast on 12 sts.\nRow 1: Knit.\n")
    assert p.sections[0].kind == "work"


def test_the_same_heading_with_live_loops_is_worked():
    p = read("# A\n\n## Body\nCast on 12 sts.\n\n## Wave Pattern\nRow 1: Knit.\n")
    assert [s.kind for s in p.sections] == ["work", "work"]
    assert p.sections[1].unsure


def test_copies():
    p = read("# A\n\n## Sleeves (make 2)\nCast on 12 sts.\n\n## Cuff\nMake both alike.\nCast on 12 sts.\n")
    assert [s.copies for s in p.sections] == [2, 2]


def test_the_patterns_own_stitches_are_read():
    p = read(
        "# A\n\n## Special stitches\nHarbour knot (hk): k1, yo, k1.\nMB (make bobble): [k1, p1, k1] in next st, turn, p3, turn, sl1-k2tog-psso\n\n"
        "## Body\nCast on 12 sts.\nRow 1: K1, hk, MB, k to end.\n"
    )
    assert [(d.name, d.meaning) for d in p.definitions] == [("hk", "Harbour knot"), ("MB", "make bobble")]
    for d in p.definitions:
        assert p.source.words(d.span).startswith(d.name)
    row = list(p.lines)[-1]
    assert [(w.stitch, w.own) for w in tree.walk(row) if isinstance(w, tree.Work) and w.own] == [
        ("hk", True),
        ("MB", True),
    ]


def test_how_many_stitches_a_definition_is_worked_over():
    p = read("# A\n\n## Special stitches\nhk: worked over 4 sts: k1, yo, k2tog, k1.\n")
    (d,) = p.definitions
    assert (d.takes, [s.stitch for s in d.steps]) == (4, ["k", "yo", "k2tog", "k"])


def test_a_stitch_may_be_explained_under_a_heading_of_its_own_or_in_the_header():
    p = read(
        "# A\nSpecial stitches: hk = k1, yo, k1 in next st\n\n## Special stitches\n### Make bobble (MB)\n"
        "[k1, p1, k1] in next st, turn, p3, turn, sl1-k2tog-psso.\n\n## Body\nCast on 12 sts.\n"
    )
    assert [(d.name, d.meaning) for d in p.definitions] == [("hk", ""), ("MB", "Make bobble")]
    assert [s.kind for s in p.sections] == ["define", "define", "work"]


def test_an_explanation_of_a_known_abbreviation_defines_nothing():
    p = read(
        "# A\n\n## Abbreviations\nk2tog: knit 2 together\nRS: right side\nst(s): stitch(es)\nssk = slip, slip, knit\n"
    )
    assert p.definitions == ()
    assert p.findings == ()


# --- fences ---


def test_a_fence_left_open_gets_a_finding():
    p = read("# A\n\n## Body\n```chart\n1 | . |\n")
    assert "fence-left-open" in codes(p)
    assert words_of(p, "fence-left-open") == ["```chart"]


def test_a_fence_of_another_kind_is_left_alone():
    p = read("# A\n\n## Body\n```\nRow 1: frobnicate\n```\nRow 1: Knit.\n")
    assert texts(p) == ["Row 1: Knit."]


# --- speed and the cache ---


def test_an_edit_reads_one_line_again():
    cache = LineCache()
    rows = [f"Row {n}: K{n}, purl to end." for n in range(1, 60)]
    read("# A\n\n## B\nCast on 80 sts.\n" + "\n".join(rows), cache=cache)
    before = cache.read
    rows[30] = "Row 31: Knit."
    p = read("# A\n\n## B\nAn extra line here.\nCast on 80 sts.\n" + "\n".join(rows), cache=cache)
    assert cache.read == before + 2
    for line in p.lines:
        assert p.source.text[line.offset : line.offset + len(line.text)] == line.text


def test_the_cache_is_bounded():
    cache = LineCache(most=10)
    read("# A\n\n## B\n" + "\n".join(f"Row {n}: K{n}." for n in range(1, 40)), cache=cache)
    assert len(cache) == 10


def test_a_line_read_from_the_cache_has_its_findings_in_the_new_place():
    cache = LineCache()
    read("# A\n\n## B\nRow 1: K2, knti 3, k2.\n", cache=cache)
    p = read("# A\n\n## B\nRow 1: Knit.\nRow 1: K2, knti 3, k2.\n", cache=cache)
    assert words_of(p, "not-read") == ["knti 3"]


def test_findings_stand_in_the_order_of_the_words():
    p = read("# A\nMake: a few\n\n## B\nRow 1: knti 3.\nRow 2: K2, knti 3.\n")
    starts = [f.span.start for f in p.findings]
    assert starts == sorted(starts)


@pytest.mark.parametrize(
    "text",
    [
        "# " + " " * 100_000 + "x",
        "```" + " " * 100_000 + "`",
        "# a " + "# " * 100_000,
        "## H\n" * 20_000,
        "# A\nGauge: " + "1" * 100_000,
        "# A\nSizes: " + ", ".join(f"s{n}" for n in range(20_000)),
        "dec row" + " " * 100_000,
        "# A\n\n## Numbers\na = " + "1+" * 50_000,
        "# A\n\n## Special stitches\nMB" + " " * 100_000 + "x",
        "# A\n\n## B\nx" + " " * 100_000 + "only:",
        "# A\n```chart\n. 1\n. =" + " " * 100_000 + "k\n```",
        "\n" * 100_000,
        "(" * 100_000,
    ],
    ids=lambda t: t[:12].replace("\n", " "),
)
def test_nothing_takes_long(text):
    start = time.perf_counter()
    read(text)
    assert time.perf_counter() - start < 60  # a hang, not a slow machine


def test_time_grows_with_the_length_of_the_text_and_no_faster():
    def calls(rows):
        text = "# A\n\n## B\nCast on 80 sts.\n" + "\n".join(f"Row {n}: K{n % 30}, p2" for n in range(rows))
        profile = cProfile.Profile(builtins=False)
        profile.runcall(read, text)
        return sum(entry.callcount for entry in profile.getstats())

    calls(30)  # what is remembered of a row is remembered before
    assert calls(800) < 5 * calls(200)


@pytest.mark.parametrize(
    ("row", "after"), [("Row 2: Purl", "Bind off all sts."), ("Row 2: K2tog to end", "Break yarn.")]
)
def test_the_end_of_the_work_is_no_part_of_a_row_without_its_stop(row, after):
    p = read(f"# A\n\nCast on 20 sts.\n{row}\n{after}\n")
    assert [line.text for line in p.lines][1:] == [row, after]


@pytest.mark.parametrize(
    "row", ["Row 2: K2,\nBind off 3 sts, knit to end.", "Row 2: Knit to last 3 sts\nbind off 3 sts."]
)
def test_a_row_wrapped_before_a_bind_off_is_one_line(row):
    p = read(f"# A\n\nCast on 20 sts.\n{row}\n")
    assert [line.text for line in p.lines][1:] == [row]


def test_the_same_words_after_different_labels_are_read_once():
    rows = "".join(f"Row {n}: {'Knit' if n % 2 else 'P8, frobnicate'}.\n" for n in range(1, 6))
    text = f"# T\n\nCast on 8 sts.\n{rows}"
    pattern = read_pattern(Source(text))
    _, two, three, four, five = (line for line in pattern.lines if line.label is not None)
    assert three.actions is five.actions
    assert two.actions is four.actions
    assert [text[f.span.start : f.span.end] for f in pattern.findings] == ["frobnicate", "frobnicate"]
    assert len({f.span for f in pattern.findings}) == 2


def test_a_line_that_moved_is_kept_and_stands_where_it_is():
    cache = LineCache()
    text = "# T\n\nCast on 8 sts.\nRow 1: Knit.\nRow 2: Purl.\nBind off.\n"
    before = read_pattern(Source(text), cache)
    read = cache.read
    after = read_pattern(Source(text.replace("8 sts", "18 stitches")), cache)
    assert cache.read == read + 1
    first, *rest = zip(before.lines, after.lines, strict=True)
    assert first[0].text != first[1].text
    assert all(
        b.actions is a.actions and b.offset - a.offset == len("18 stitches") - len("8 sts") for a, b in rest
    )
