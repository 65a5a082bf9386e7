"""A knitted pattern made into a sheet: what stands on it, in which order, and what is proved of it."""

import re
from pathlib import Path

import pytest

from purlwright.sheet.compose import NoSheet
from purlwright.sheet.document import (
    Cautions,
    Figure,
    Glossary,
    Heading,
    Items,
    Note,
    Paragraph,
    Passes,
    Photo,
    Row,
    Table,
    plain,
)
from purlwright.sheet.out.text import to_text
from purlwright.workup import NoSuchSize, WorkUp, option_choices, work_up

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))
HAT = next(p for p in EXAMPLES if p.name.startswith("skerry"))


def work_on(path: Path) -> WorkUp:
    return work_up(path.read_text(encoding="utf-8"), path.name)


def every_way(work: WorkUp):
    """Each choice of options, for all sizes and for each size alone."""
    for choice in option_choices(list(work.options))[0]:
        yield None, dict(choice)
        if len(work.sizes) > 1:
            yield from ((size, dict(choice)) for size in work.sizes)


def of(document, kind):
    return [b for b in document.blocks if isinstance(b, kind)]


def rows_named(document, label):
    return [r for r in of(document, Row) if r.label == label]


def small(rows: str, header: str = "", **asked):
    return WorkUp(f"# Mat\n{header}\n## Mat\n{rows}\n").sheet(**asked)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_every_example_makes_a_sheet_in_every_size_and_choice(path):
    work = work_on(path)
    for size, choice in every_way(work):
        document = work.sheet(size, choice, follow=size is None)
        assert document.title == work.title
        assert len(document.follow) == (0 if size else len(work.sizes))
        for followed in document.follow:
            ledger = work.knitted(followed.size, choice).ledger
            assert [(s.before, s.after, s.unworked) for s in followed.steps] == [
                (e.start, e.end, e.unworked) for e in ledger.entries
            ]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_anchors_are_unique_and_links_lead_somewhere(path):
    work = work_on(path)
    document = work.sheet(work.sizes[0] if len(work.sizes) > 1 else None, follow=True)
    anchors = [b.anchor for b in document.blocks if getattr(b, "anchor", "")]
    anchors += [t.anchor for g in of(document, Glossary) for t in g.terms if t.anchor]
    assert len(anchors) == len(set(anchors))
    assert {s.row for s in document.follow[0].steps if s.row} <= set(anchors)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_every_span_leads_to_the_words_in_her_own_text(path):
    work = work_on(path)
    for row in of(work.sheet(), Row):
        hers = " ".join(work.source.words(row.span).split())
        if "{" not in hers and "chart" not in row.anchor and plain(row.words) not in hers:
            assert row.label.startswith("Rnd")  # said in words for a chart drawn in squares
            assert "k1" not in hers


def test_the_parts_stand_in_the_order_of_a_good_sheet():
    heads = [h.text for h in of(work_on(HAT).sheet(), Heading)]
    assert heads == [
        "Skills", "Sizes", "Materials", "Notes", "Abbreviations", "Wedge", "Last wedge", "Finishing",
        "The pieces", "How to read your work", "Cautions", "About this pattern",
    ]  # fmt: skip


def test_a_row_has_its_side_its_total_and_a_box():
    document = work_on(HAT).sheet()
    (first,) = rows_named(document, "Row 1")
    (third,) = rows_named(document, "Row 3")
    (last,) = rows_named(document, "Row 12")
    assert (first.side, first.boxes, plain(first.words)) == ("RS", 1, "Knit.")
    assert third.side == "RS"  # she does not say it; the knitting does
    assert (last.total, last.proved) == ("36 (42, 46) sts", False)
    assert plain(last.words) == "Knit to end, leaving the wraps as they are."


def test_a_total_she_does_not_give_is_proved():
    (row,) = rows_named(small("Cast on 4 sts.\nRow 1: K1, m1l, k2, m1l, k1.\nRow 2: Knit."), "Row 1")
    assert (row.total, row.proved) == ("6 sts", True)


def test_no_total_is_put_to_a_row_that_keeps_the_count_or_ends_otherwise_each_time():
    document = small("Cast on 4 sts.\nRow 1: Knit.\nRow 2: K1, m1l, k to end.\nRep rows 1 and 2 twice more.")
    assert [r.total for r in of(document, Row) if r.label] == ["", ""]


def test_only_the_chosen_option_stands_on_the_sheet():
    document = work_on(HAT).sheet(options={"turns": "double stitch"})
    words = " ".join(plain(r.words) for r in of(document, Row))
    assert "double stitch" in words
    assert "w&t" not in words
    assert "only" not in words


def test_a_sheet_of_one_size_has_no_other_number():
    document = work_on(HAT).sheet("adult", follow=True)
    assert document.stamp.size == "adult"
    assert not of(document, Table)
    assert next(plain(r.words) for r in of(document, Row)) == "Cast on 42 sts provisionally."
    assert [f.size for f in document.follow] == ["adult"]


def test_named_numbers_are_printed_as_numbers():
    sock = next(p for p in EXAMPLES if p.name.startswith("harbour"))
    document = work_on(sock).sheet()
    assert all("{" not in plain(r.words) for r in of(document, Row))
    assert "Numbers" not in [h.text for h in of(document, Heading)]


def test_a_repeat_is_a_list_to_tick_with_the_count_after_each_pass():
    document = small("Cast on 4 sts.\nRow 1: K1, m1l, k to end.\nRow 2: Knit.\nRep rows 1 and 2 twice more.")
    (passes,) = of(document, Passes)
    assert plain(passes.words) == "Rows 1 and 2"
    assert (passes.first, passes.last, passes.counts) == (1, 3, ("5 sts", "6 sts", "7 sts"))


def test_a_repeat_worked_more_often_in_one_size_says_so():
    document = work_on(HAT).sheet()
    assert [plain(p.words) for p in of(document, Passes)] == ["Wedges, 13 (14, 16) times in all"]


def test_two_repeats_one_after_the_other_are_told_apart():
    rows = "Cast on 16 sts.\nRow 1: K2tog, k to end.\nRow 2: Knit.\nRep rows 1 and 2 until 12 sts remain.\n"
    document = small(f"{rows}Rep row 1 until 8 sts remain.")
    first, second = of(document, Passes)
    assert first.counts == ("15 sts", "14 sts", "13 sts", "12 sts")
    assert second.counts == ("11 sts", "10 sts", "9 sts", "8 sts")


def test_the_last_rows_are_ticked_pass_by_pass_though_some_stand_in_one_line():
    rows = "Cast on 12 sts and join in the round.\nKnit 3 rnds.\nDec rnd: K2tog, k to end.\n"
    (passes,) = of(small(f"{rows}Rep the last 4 rnds 3 times more."), Passes)
    assert plain(passes.words) == "The last 4 rounds"
    assert passes.counts == ("11 sts", "10 sts", "9 sts", "8 sts")


def test_a_repeat_and_a_part_of_it_once_more_is_a_list_of_the_whole_passes():
    rows = "Cast on 20 sts.\nRow 1: Knit.\nRow 2: Purl.\nRep rows 1 and 2 five more times, then row 1 once more.\n"
    (passes,) = of(small(rows), Passes)
    assert (passes.first, passes.last) == (1, 6)
    first, second = of(small(f"{rows}Rep rows 1-2 3 times more, ending with row 1."), Passes)
    assert (first.last, second.last) == (6, 4)


def test_rows_of_a_chart_have_a_box_each():
    text = (
        "# Hat\nYarn: MC, wool\nYarn: CC, wool\n\n## Chart A\n```chart\n. # 3\n# . 2\n. # 1\n\n. = k in MC\n# = k in CC\n```\n\n"
        "## Hat\nWith MC cast on 8 sts and join to work in the round.\nKnit 1 rnd.\nWork rnds 1-3 of chart A.\n"
        "Knit 1 rnd.\nWork rnds 1-3 of chart A twice.\nBind off.\n"
    )
    boxes = {plain(r.words): r.boxes for r in of(WorkUp(text).sheet(), Row)}
    assert boxes["Work rnds 1-3 of chart A."] == 3
    assert boxes["Work rnds 1-3 of chart A twice."] == 6


def test_an_edge_slipped_or_a_waste_yarn_makes_no_chart():
    edge = "Cast on 12 sts.\nRow 1: Sl1, k to end.\nRep row 1 nine times more.\nBind off."
    assert not of(small(edge), Figure)
    thumb = (
        "Cast on 20 sts and join to work in the round.\nKnit 4 rnds.\n"
        "Next rnd: K4, with waste yarn k6, slip these 6 sts back to the left needle, with the working yarn k to end.\n"
        "Knit 4 rnds.\nBind off."
    )
    document = small(thumb)
    assert not of(document, Figure)
    assert not any("colour" in plain(item) for items in of(document, Items) for item in items.items)


def test_a_yarn_over_in_uk_terms_is_explained():
    document = small("Cast on 5 sts.\nRow 1 (RS): K1, yo, k2tog, k2.\nRow 2: Purl.\nBind off.", terms="UK")
    (glossary,) = of(document, Glossary)
    assert "yarn forward." in {plain(t.meaning) for t in glossary.terms if t.term == "yfwd"}


def test_a_length_is_told_in_rows_too_if_a_gauge_says_how_high_they_are():
    rows = "Cast on 9 sts.\nRow 1: Knit.\nRep row 1 until the mat measures 6 cm from the cast-on edge."
    with_gauge = small(rows, "Gauge: 20 sts and 30 rows = 10 cm\n")
    said = [plain(p.words) for p in of(with_gauge, Paragraph) if "gauge above, these" in plain(p.words)]
    assert said == ["By the gauge above, these are 17 rows."]
    without = " ".join(plain(p.words) for p in of(small(rows), Paragraph))
    assert "gauge above" not in without
    uk = WorkUp(
        "# A\nTerms: UK\nTension: 20 sts and 28 rows = 10 cm in stocking stitch\n\nCast on 40 sts.\n"
        "Work 10 cm in st st, ending with a WS row.\nCast off.\n"
    ).sheet()
    words = " ".join(plain(p.words) for p in uk.blocks if isinstance(p, Paragraph))
    assert "By the tension above, these are 28 rows." in words
    assert "at the tension above" in words
    terms = {t.term: plain(t.meaning) for b in uk.blocks if isinstance(b, Glossary) for t in b.terms}
    assert terms["St st"] == "stocking stitch."


def test_rows_under_no_heading_get_one():
    document = WorkUp("# Mat\nCast on 4 sts.\nRow 1: Knit.\nBind off.").sheet()
    assert "Instructions" in [h.text for h in of(document, Heading)]


def test_a_row_with_shaping_beside_it_says_so_in_the_follow_along():
    pullover = next(p for p in EXAMPLES if p.name.startswith("little"))
    steps = work_on(pullover).sheet(follow=True).follow[0].steps
    beside = [s for s in steps if s.note.startswith("At the same time: increase 1 st at each neck edge")]
    assert [(s.before, s.after) for s in beside] == [(48, 58), (66, 76), (84, 94), (102, 112)]
    assert "increased" not in plain(beside[0].words)


def test_a_row_told_by_another_is_followed_in_that_ones_words():
    cowl = next(p for p in EXAMPLES if p.name.startswith("eel"))
    steps = [s for s in work_on(cowl).sheet(follow=True).follow[0].steps if s.label == "Rnd 4"]
    assert plain(steps[0].words) == "*K6, p2; rep from * to end."
    assert steps[0].in_full == "*Knit 6, purl 2; repeat from * to end."


NASTY = [
    "# hash", "$x$ and #let x = 1", "<script>alert(1)</script>", "\u202eright to left\u202c \u05e9\u05dc\u05d5\u05dd",
    "wool \U0001f9f6 and \U0001f469\u200d\U0001f9b1", "long " * 2000, "`code` **bold** [link](x)", "a | b \\ c",
]  # fmt: skip


@pytest.mark.parametrize("words", NASTY, ids=range(len(NASTY)))
def test_whatever_she_writes_is_on_the_sheet_as_it_stands(words):
    text = (
        f"# Mat {words}\nContact: {words}\n\n> Note {words}\n\n## Part {words}\nCast on 3 sts.\nBind off.\n"
    )
    work = WorkUp(text)
    document = work.sheet(unproved=True)
    said = " ".join(words.split())
    assert said in " ".join(document.title.split())
    assert any(said in plain(n.words) for n in of(document, Note))
    again = WorkUp(to_text(document))
    assert again.title == " ".join(work.title.split())


def test_only_abbreviations_that_are_used_are_explained_by_the_alphabet():
    document = WorkUp(
        "# Mat\n\n## Abbreviations\nk2tog: knit 2 together, as usual.\nssk: slip 2, knit them together.\n\n"
        "## Mat\nCast on 9 sts.\nRow 1 (RS): K1, k2tog, yo, k to end.\n"
    ).sheet()
    (glossary,) = of(document, Glossary)
    assert [(t.term, plain(t.meaning)) for t in glossary.terms] == [
        ("k", "knit."), ("k2tog", "knit 2 together, as usual."), ("RS", "right side."),
        ("st, sts", "stitch, stitches."), ("yo", "yarn over."),
    ]  # fmt: skip


def test_her_explanations_keep_their_order_and_explain_their_stitch_with_any_number():
    document = WorkUp(
        "# Mat\n\n## Abbreviations\nssk: slip 2, knit them together.\nsl1: slip 1 purlwise.\n"
        "brLsl dec: slip 1 knitwise, k2tog, pass the slipped stitch over.\n\n"
        "## Mat\nCast on 12 sts.\nRow 1 (RS): Sl1, ssk, k1, brLsl dec, sl2, k to end.\n"
    ).sheet()
    (glossary,) = of(document, Glossary)
    assert [t.term for t in glossary.terms] == ["ssk", "sl1", "brLsl dec", "k", "k2tog", "RS", "st, sts"]


def test_skills_are_told_from_what_is_knitted():
    items = of(work_on(HAT).sheet(), Items)[0]
    assert [plain(i) for i in items.items] == [
        "Casting on provisionally", "Knitting back and forth in rows", "Short rows with wrapped turns",
        "Grafting",
    ]  # fmt: skip


def test_the_clues_of_a_sheet_for_all_sizes_are_those_that_all_sizes_share():
    document = work_on(HAT).sheet()
    at = next(
        n for n, b in enumerate(document.blocks) if isinstance(b, Heading) and b.anchor == "how-to-read"
    )
    items = [plain(i) for i in document.blocks[at + 2].items]
    assert items[0] == (
        "Wedge: The open gaps stand 4 stitches apart, 5 at the most. Count them: so many turns are done. "
        "(Rows 4 to 11, each time; not after the first or the last row of this part.)"
    )
    assert not any("Always 36" in i for i in items)  # 36 is the smallest size alone
    one = work_on(HAT).sheet("child")
    at = next(n for n, b in enumerate(one.blocks) if isinstance(b, Heading) and b.anchor == "how-to-read")
    assert any("Always 36 stitches" in plain(i) for i in one.blocks[at + 2].items)
    assert all(
        sum(plain(i).startswith(f"{part}: ") for i in one.blocks[at + 2].items) <= 3
        for part in ("Wedge", "Last wedge")
    )


def test_a_chart_is_said_in_words():
    mitten = next(p for p in EXAMPLES if p.name.startswith("sea-pea"))
    (row, *_) = rows_named(work_on(mitten).sheet(), "Rnd 2")
    assert plain(row.words) == "K4 in MC, k3 in CC, k1 in MC."


def test_a_chart_is_drawn_with_its_key_where_it_is_told_in_words():
    mitten = next(p for p in EXAMPLES if p.name.startswith("sea-pea"))
    blocks = work_on(mitten).sheet().blocks
    at = next(n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.text == "Chart A: pods")
    figure, row = blocks[at + 1], blocks[at + 2]
    assert isinstance(figure, Figure)
    assert figure.beside is not None
    assert (
        figure.alternative == "Chart A: pods: 8 rounds of 8 squares. The same is told in words in the rounds."
    )
    assert "CC" in figure.beside_alternative
    assert row.label == "Rnd 1"


def test_a_chart_that_is_worked_more_often_in_one_size_does_not_say_how_often():
    shawl = next(p for p in EXAMPLES if p.name.startswith("gannet"))
    several, alone = work_on(shawl).sheet(), work_on(shawl).sheet("shawlette")
    assert "16 times" not in " ".join(plain(f.caption) for f in of(several, Figure))
    assert "These rows are worked 16 times." in " ".join(plain(f.caption) for f in of(alone, Figure))


def test_a_note_that_goes_on_in_the_next_line_is_one_note():
    document = small("> One\n> two.\n\nCast on 3 sts.")
    assert "One two." in [plain(n.words) for n in of(document, Note)]


def test_her_picture_stands_once_with_its_words():
    header = "Picture: mat.jpg | the mat, from above\nPicture: mat.jpg | again\n"
    document = small("Cast on 3 sts.", header, pictures={"mat.jpg": b"\xff\xd8\xff"})
    assert [(p.name, p.alternative) for p in of(document, Photo)] == [("mat.jpg", "the mat, from above")]
    without = small("Cast on 3 sts.", header)
    assert [plain(p.words) for p in of(without, Paragraph)] == ["In the picture: the mat, from above"]


def test_a_plain_row_of_lace_may_take_a_lifeline():
    document = small("Cast on 9 sts.\nRow 1 (RS): K1, *yo, k2tog; rep from * to end.\nRow 2: Purl.\n")
    assert [r.lifeline for r in of(document, Row) if r.label] == [False, True]


def test_a_pattern_with_an_error_has_a_sheet_only_if_it_is_asked_for_and_says_so():
    rows = "Cast on 9 sts.\nRow 1: K8.\n"
    with pytest.raises(NoSheet, match="errors"):
        small(rows)
    document = small(rows, unproved=True)
    assert "not proved" in plain(of(document, Paragraph)[0].words)


def test_a_size_that_is_not_there_is_refused():
    with pytest.raises(NoSuchSize):
        work_on(HAT).sheet("giant")


def test_the_same_text_gives_the_same_sheet():
    assert work_on(HAT).sheet() == WorkUp(HAT.read_text(encoding="utf-8"), HAT.name).sheet()


def test_lengths_of_a_gauge_in_inches_are_whole_in_inches():
    """80 stitches at 20 to 4 in are 16 in wide, by the ruler 40.5 cm."""
    text = "# Mat\nGauge: 20 sts and 28 rows = 4 in\n\nCast on 80 sts.\n\nKnit 56 rows.\n\nBind off."
    figures = [b for b in WorkUp(text).sheet().blocks if isinstance(b, Figure)]
    assert "16 in at the beginning; 8 in long" in figures[0].alternative
    figures = [b for b in WorkUp(text).sheet(units="both").blocks if isinstance(b, Figure)]
    assert "16 in" in figures[0].alternative
    assert "40.5 cm" in figures[0].alternative


def squares_of(figure):
    """Which squares a part has, as its caption tells."""
    first, last = re.search(r"squares (\d+) to (\d+) from", plain(figure.caption)).groups()
    return range(int(first), int(last) + 1)


def test_a_wide_chart_comes_in_parts_whose_squares_can_be_read_in_every_print():
    rows = "\n".join(
        f"  {'. x . . ' * 18}{n}" if n % 2 else f"{n} {'. . x . ' * 18}" for n in range(6, 0, -1)
    )
    text = (
        f"# Flag\n## Chart A\n```chart\n{rows}\n\n. = k / p\nx = p / k\n```\n## Flag\nCast on 72 sts.\n"
        "Work rows 1-6 of chart A once.\nBind off all sts.\n"
    )
    parts = [b for b in of(WorkUp(text).sheet(), Figure) if "squares" in plain(b.caption)]
    assert [b.goes_on for b in parts] == [False, True]
    # A print has 166 mm between its margins and 10 mm of each margin; a large one 159 mm. At least 4 and 6 mm.
    for found, most_mm, least_mm in ((parts, 186, 4), (parts[0].larger, 159, 6)):
        assert {n for part in found for n in squares_of(part)} == set(range(1, 73))
        for part in found:
            scale = min(1, most_mm / part.drawing.width_mm)
            assert part.drawing.width_mm * scale >= len(squares_of(part)) * least_mm
        wide = [len(squares_of(part)) for part in found]
        assert max(wide) - min(wide) <= 2


def test_what_is_said_over_the_squares_of_a_chart_stands_with_them():
    text = (
        "# Stole\n## Chart A\nOnly RS rows are drawn; purl all WS rows.\n```chart\n. \\ o . 3\n. o / . 1\n\n. = k\n"
        "o = yo\n/ = k2tog\n\\ = ssk\n```\n## Stole\nCast on 12 sts.\nWork rows 1-4 of chart A twice.\nBind off all sts.\n"
    )
    blocks = WorkUp(text).sheet().blocks
    assert [b.text for b in blocks if isinstance(b, Heading)].count("Chart A") == 1
    said = [b for b in blocks if isinstance(b, Paragraph) and "Only RS rows" in plain(b.words)]
    assert len(said) == 1
    assert [b.label for b in blocks if isinstance(b, Row)][:2] == ["Row 1", "Row 3"]


def test_colours_of_a_key_are_said_with_each_stitch():
    text = (
        "# Cap\nYarn: MC, wool\nYarn: CC, wool\n## Chart A\n```chart\nM C C M 1\n\nM = k in MC\nC = k in CC\n```\n"
        "## Cap\nWith MC cast on 12 sts. Join in the round.\nRnd 1: Work row 1 of chart A to end.\nBind off all sts.\n"
    )
    (row, *_) = rows_named(WorkUp(text).sheet(), "Rnd 1")
    assert plain(row.words) == "K1 in MC, k2 in CC, k1 in MC."


def test_amounts_of_several_yarns_are_told_apart():
    mitten = next(p for p in EXAMPLES if p.name.startswith("sea-pea"))
    table = next(b for b in work_on(mitten).sheet().blocks if isinstance(b, Table))
    assert table.head[-4:] == (
        "Yarn MC, about",
        "Yarn CC, about",
        "Yarn MC as computed, give or take 13%",
        "Yarn CC as computed, give or take 8%",
    )


def test_what_is_worked_once_more_has_a_box_to_tick():
    document = small("Cast on 4 sts.\nRow 1: Knit.\nRow 2: Purl.\nRep rows 1 and 2 once more.\nBind off.")
    boxes = {plain(row.words): row.boxes for row in of(document, Row)}
    assert boxes["Rep rows 1 and 2 once more."] == 2
    assert boxes["Bind off."] == 0


def test_notes_under_finishing_are_what_is_done():
    document = work_on(HAT).sheet()
    done = [plain(note.words) for note in of(document, Note) if note.worked]
    assert done == [
        "Unpick the waste yarn and place the cast-on sts on the spare needle.",
        "Run the tail through the ridges of the crown edge, draw up tightly and fasten off.",
    ]
    assert f"> {done[0]}" in to_text(document)


def test_a_caution_names_a_source_only_if_it_can_be_looked_up():
    (found,) = of(work_on(HAT).sheet(), Cautions)
    sources = [c.source for c in found.cautions]
    assert any("Acta Derm. Venereol." in source for source in sources)
    assert "" in sources
    assert not any("practice" in source or "shop" in source for source in sources)


def test_of_many_plain_rows_of_lace_those_far_apart_may_take_a_lifeline():
    lace = "".join(
        f"Row {n}: K1, *yo, k2tog; rep from * to end.\nRow {n + 1}: Purl.\n" for n in range(1, 24, 2)
    )
    marked = [r.label for r in of(small(f"Cast on 9 sts.\n{lace}"), Row) if r.lifeline]
    assert marked == ["Row 8", "Row 16", "Row 24"]


def test_a_row_of_buttonholes_is_no_lace():
    band = "Cast on 42 sts.\nRow 1 (WS): Purl.\nRow 2: [K10, k2tog, yo] 3 times, k to end.\nRow 3: Purl.\n"
    document = small(f"{band}Next row (buttonhole row): Knit.\n")
    assert not [r for r in of(document, Row) if r.lifeline]
    skills = [plain(i) for i in of(document, Items)[0].items]
    assert "Making buttonholes" in skills
    assert not [s for s in skills if s.startswith("Lace")]
