"""Lost or wrong: the follow-along page answers off the network what `where` and the tables answer."""

import json
import random
import re
from functools import cache
from pathlib import Path

import pytest

from purlwright.needles.columns import NO_MARK
from purlwright.rescue.letter import read_letter
from purlwright.rescue.observe import Facts
from purlwright.rescue.where import column_of, fact_of
from purlwright.sheet.out.follow import to_follow
from purlwright.sheet.out.helping import as_data
from purlwright.sheet.out.web import asset
from purlwright.workup import WorkUp
from rescue_work import CABLES, SMALL

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))
WEDGE = SMALL["wedge"].replace("# Ebb\n", "# Ebb\nVersion: 2\n")
MANY = 60
"""So many sets of facts are tried beside the true ones, for each example."""


@cache
def work(text, name="a pattern"):
    return WorkUp(text, name)


@cache
def sheet(text, size=None):
    return work(text).sheet(size, follow=True, drawn=False)


@pytest.fixture
def wedge(opened):
    return opened(to_follow(sheet(WEDGE)))


def answer(page, **facts):
    page.locator("#_where").evaluate("panel => { panel.open = true; }")
    page.locator("#_where_form").evaluate("form => form.reset()")
    for fact, said in facts.items():
        if fact == "side":
            page.locator(f"input[name=_fact_side][value={said}]").check()
        elif fact == "yarn":
            page.locator("#_fact_yarn").select_option(said)
        else:
            page.locator(f"#_fact_{fact}").fill(str(said))
    page.get_by_role("button", name="Find my row").click()
    return page.locator("#_where_said").inner_text()


def go_to(page, step):
    page.locator("#_elsewhere").evaluate("panel => { panel.open = true; }")
    page.locator("#_number").fill(str(step))
    page.locator("#_goto button").click()


# --- where am I? ----------------------------------------------------------------------------------


def test_answers_lead_to_the_row_and_the_page_goes_there(wedge):
    assert "3 rows fit" not in answer(wedge, side="RS", waiting=8)
    assert answer(wedge, side="RS", waiting=8, gaps=2).startswith("One row fits: Row 4")
    wedge.locator("#_where_rows button").click()
    assert wedge.locator("#_progress_words").inner_text().startswith("Step 6 of ")
    assert "0 ticked" in wedge.locator("#_progress_words").inner_text()


def test_only_questions_that_tell_rows_apart_are_asked(wedge):
    asked = wedge.locator("#_where_asks [data-question]").evaluate_all(
        "all => all.map(e => e.dataset.question)"
    )
    assert set(asked) == {
        "side",
        "yarn",
        "waiting",
        "gaps",
        "intervals",
        "part_rows",
        "ridges",
    }  # 24 stitches everywhere, no hole, no shaping


def test_several_rows_name_the_next_thing_to_look_at_and_mark_it(wedge):
    words = answer(wedge, side="RS")
    found = re.match(r"(\d+) rows fit\. Look at this next: ", words)
    assert found
    assert int(found[1]) > 3
    assert wedge.locator(".ask.next").count() == 1


def test_a_tap_after_a_number_hits_although_the_answer_changes(opened):
    page = opened(to_follow(sheet(SMALL["shaped"])))
    page.locator("#_where summary").click()
    page.locator("#_fact_sts").fill("36")
    page.locator("input[name=_fact_side][value=WS]").check()
    assert page.locator("input[name=_fact_side][value=WS]").is_checked()


def test_facts_that_cannot_all_be_true_are_named(wedge):
    assert answer(wedge, waiting=8, gaps=1) == (
        "These cannot all be true: 8 stitches beyond the last turning place and 1 turning place. Count again in tens."
    )
    assert answer(wedge, gaps="many") == ""
    assert wedge.locator("#_bad_gaps").inner_text() == "Write a number in figures, or leave it empty."
    assert wedge.locator("#_fact_gaps").get_attribute("aria-invalid") == "true"


def test_a_count_that_may_be_one_off(opened):
    page = opened(to_follow(sheet(SMALL["shaped"])))
    right = answer(page, sts=31)
    assert right.startswith("No row has 31 stitches on the needle. If you are one stitch off, ")
    assert page.locator("#_where_rows h3").inner_text() == "If you are one stitch off"


def test_by_the_keyboard_alone(wedge):
    wedge.locator("#_where summary").focus()
    wedge.keyboard.press("Enter")
    wedge.keyboard.press("Tab")  # that the row is done is chosen
    wedge.keyboard.press("Tab")  # the side: "I don't know" is chosen
    wedge.keyboard.press("ArrowDown")
    wedge.keyboard.press("Tab")  # where the yarn hangs is left open
    wedge.keyboard.press("Tab")
    wedge.keyboard.type("8")
    wedge.keyboard.press("Tab")
    wedge.keyboard.type("2")
    wedge.keyboard.press("Enter")
    assert wedge.locator("#_where_said").inner_text().startswith("One row fits: Row 4")
    assert wedge.locator("#_where_said").get_attribute("role") == "status"
    for _ in range(7):  # the questions that are left, and the two buttons
        wedge.keyboard.press("Tab")
    assert wedge.evaluate("document.activeElement.closest('#_where_rows') !== null")
    wedge.keyboard.press("Enter")
    assert wedge.locator("#_progress_words").inner_text().startswith("Step 6 of ")


def random_facts(rng, desk, names):
    """True facts of a row, some of them left out, and now and then one that is not true."""
    piece, looks = rng.choice(desk.pieces)
    look = rng.choice(looks)
    told = {}
    for fact in rng.sample(names, rng.randint(1, min(5, len(names)))):
        said = fact_of(rng.choice(looks) if rng.random() < 0.15 else look, fact)
        if said is not None:
            told[fact] = said + rng.choice((0, 0, 1, -1, 2)) if fact == "sts" else said
    if piece and rng.random() < 0.3:
        told["piece"] = piece
    return told


def in_python(desk, facts):
    found = desk.where(Facts().with_(facts))
    places = {name: n for n, (name, _) in enumerate(desk.pieces)}
    rows = [[places[f.piece], f.look.index] for f in found.rows]
    near = [[places[f.piece], f.look.index] for f in found.near]
    clash = None if found.clash is None else [list(found.clash.names), list(found.clash.nearest)]
    return rows, near, clash, None if found.next is None else found.next.name


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
def test_the_page_answers_as_where_does_for_every_row(opened, path):
    """Every row of every example told in full, and many sets of facts, some of them nonsense, through both."""
    text = path.read_text(encoding="utf-8")
    size = work(text).sizes[-1]
    table = sheet(text, size).follow[0].help
    desk = work(text).desk(size)
    names = [fact for q in table.questions for fact, _ in q.facts]
    every = [
        {fact: said for fact in names if (said := fact_of(look, fact)) is not None}
        | ({"piece": piece} if piece else {})
        for piece, looks in desk.pieces
        for look in looks
    ]
    rng = random.Random(path.name)  # noqa: S311 - the same facts each time
    tried = [*every, *(random_facts(rng, desk, names) for _ in range(MANY))]
    page = opened("<!doctype html><title>none</title>")
    page.add_script_tag(content=asset("follow_where.js"))
    told = [
        {f: ",".join(map(str, v)) if isinstance(v, tuple) else v for f, v in facts.items()} for facts in tried
    ]
    answers = page.evaluate(
        "([table, all]) => all.map(facts => whereAmI(table, facts))", [json.loads(as_data(table)), told]
    )
    for facts, got in zip(tried, answers, strict=True):
        rows, near, clash, following = in_python(desk, facts)
        assert got["rows"] == rows, facts
        if not rows:
            assert (got["one"] or got["two"]) == near, facts
            assert [got["clash"]["names"], got["clash"]["nearest"]] == clash, facts
        if following == "column":  # of which the page asks only where nothing as quick tells the rows apart
            assert got["next"]["name"] in {q.name for q in table.questions}, facts
        else:
            assert (got["next"] or {}).get("name") == following, facts


@pytest.fixture
def hawser(opened):
    return opened(to_follow(sheet(CABLES)))


def test_the_count_up_one_column_is_asked_where_nothing_as_quick_tells(hawser):
    """Of two cables crossed by turns, each crossing looks like the other's."""
    table = sheet(CABLES).follow[0].help
    (column,) = [q for q in table.questions if q.name == "column"]
    box = hawser.locator("[data-question=column]")
    hawser.locator("#_where").evaluate("panel => { panel.open = true; }")
    assert f"Find stitch {column.stitch}, counted from the right edge" in box.inner_text()
    desk = work(CABLES).desk()
    for _, looks in desk.pieces:
        for look in looks:
            said = column_of(look, column.stitch)[1]
            alone = desk.where(Facts(column=(column.stitch, said))).rows
            words = answer(hawser, column="none" if said == NO_MARK else said)
            many = "One row fits" if len(alone) == 1 else f"{len(alone)} rows fit"
            assert words.startswith(many), (look.index, words)


def test_what_is_said_of_a_column(hawser):
    assert answer(hawser, column="many") == ""
    bad = hawser.locator("#_bad_column").inner_text()
    assert bad == "Write a number in figures, or none, or leave it empty."
    (column,) = [q for q in sheet(CABLES).follow[0].help.questions if q.name == "column"]
    answer(hawser, side="WS", column=3)
    letter = hawser.locator("#_letter").input_value()
    assert read_letter(letter, "Hawser", "") == Facts(side="WS", column=(column.stitch, 3), piece=None)
    answer(hawser, column="None")
    letter = hawser.locator("#_letter").input_value()
    assert read_letter(letter, "Hawser", "").column == (column.stitch, NO_MARK)
    words = answer(hawser, column=77)
    assert words.startswith(
        f"This cannot be if all is right: 77 stitches above the last mark in the column of stitch {column.stitch}"
    )


def test_left_handed_nobody_is_asked_for_a_column():
    follow = work(CABLES).sheet(None, follow=True, drawn=False, left_handed=True).follow[0]
    assert "column" not in {q.name for q in follow.help.questions}


# --- something is wrong ---------------------------------------------------------------------------


def diagnose(page, *, sts=None, off=None, how="over"):
    page.locator("#_wrong").evaluate("panel => { panel.open = true; }")
    if sts is None:
        page.get_by_label("It does not come out").check()
        page.locator("#_wrong_off").fill(str(off))
        page.locator(f"input[name=_wrong_how][value={how}]").check()
    else:
        page.locator("#_wrong_sts").fill(str(sts))
    page.get_by_role("button", name="What may it be?").click()
    return page.locator("#_wrong_said").inner_text(), page.locator("#_wrong_list li").all_inner_texts()


def test_a_wrong_count_is_explained_with_a_cure(opened):
    page = opened(to_follow(sheet(SMALL["lace"])))
    go_to(page, 2)
    head, told = diagnose(page, sts=22)
    assert head == "22 stitches instead of 23. Count once more, in tens. If it stays so:"
    assert any("a yarn over was left out" in one for one in told)
    assert all("Do this:" in one or "No cure is known to be safe" in one for one in told)
    assert re.search(r"After Row 2\b.* you have 23 stitches, as you should", " ".join(told))


def test_a_row_that_does_not_come_out(opened):
    page = opened(to_follow(sheet(SMALL["lace"])))
    go_to(page, 4)
    head, told = diagnose(page, off=1)
    assert head.startswith("1 stitch left over.")
    assert 1 <= len(told) <= 3


def told_of(table, trouble):
    return "".join(table["words"][part] for part in table["said"][trouble[0]])


def test_what_else_is_seen_brings_the_right_one_forward(opened):
    """Whichever of the meanings it is: told all that is seen of it, it or its like stands first."""
    text = SMALL["lace"]
    page = opened(to_follow(sheet(text)))
    table = json.loads(as_data(sheet(text).follow[0].help))
    (piece,) = table["pieces"]
    go_to(page, piece["steps"][0])
    right = work(text).desk().pieces[0][1][0].stitches
    moved = 0
    for count, troubles in piece["counts"]["0"].items():
        assert int(count) != right
        for one in troubles:
            before = diagnose(page, sts=count)[1]
            if not page.locator("#_wrong_also").is_visible():
                continue
            for box in page.locator("#_wrong_asks [data-fact]").all():
                fact = box.get_attribute("data-fact")
                place = next((k for k, also in enumerate(table["also"]) if also["fact"] == fact), None)
                value = one[3] if place is None else table["looks"][one[6]][place]
                if box.evaluate("e => e.tagName") == "SELECT":
                    box.select_option(str(value))
                else:
                    box.fill(str(value))
                    box.press("Tab")
            after = page.locator("#_wrong_list li").all_inner_texts()
            alike = [told_of(table, x) for x in troubles if (x[3], x[6]) == (one[3], one[6])]
            assert any(words in after[0] for words in alike), (count, one, after)
            moved += after[0] != before[0]
    assert moved >= 2


def test_what_else_is_seen_goes_to_the_teacher(opened):
    page = opened(to_follow(sheet(SMALL["lace"])))
    go_to(page, 2)
    diagnose(page, sts=22)
    page.locator("#_also_holes").select_option(label="One missing")
    assert "a yarn over was left out" in page.locator("#_wrong_list li").first.inner_text()
    assert page.locator("#_wrong_list strong").first.inner_text().strip() == "Most likely:"
    letter = read_letter(page.locator("#_letter").input_value(), "Foam", "")
    assert (letter.holes, letter.sts, letter.row) == ("one missing", 22, 1)


def test_what_the_table_does_not_know_is_said_and_goes_to_the_teacher(wedge):
    go_to(wedge, 5)
    head, told = diagnose(wedge, sts=9)
    assert head.startswith("This page does not know what leads to that here.")
    assert told == []
    page_says, _ = diagnose(wedge, sts=24)
    assert page_says.startswith("24 stitches is what this row should leave.")
    diagnose(wedge, sts="")
    assert wedge.locator("#_wrong_bad").inner_text() == "Write how many stitches, in figures."


def test_the_letter_is_read_again(wedge):
    answer(wedge, side="WS", waiting=8)
    go_to(wedge, 5)
    diagnose(wedge, sts=23)
    letter = wedge.locator("#_letter").input_value()
    assert "Version: 2\n" in letter
    assert read_letter(letter, "Ebb", "2") == Facts(side="WS", waiting=8, sts=23, row=4, piece=None)


# --- for everybody --------------------------------------------------------------------------------


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_no_barriers(opened, barriers, width, dark):
    page = opened(to_follow(sheet(SMALL["shaped"])), width=width, dark=dark)
    go_to(page, 6)
    answer(page, sts=31)
    diagnose(page, sts=35)
    page.locator("#_teacher").evaluate("panel => { panel.open = true; }")
    assert page.locator("#_where_rows li").count()
    assert page.locator("#_wrong_list li").count()
    page.locator("#_large").evaluate("box => box.click()")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert barriers(page) == []


def test_nothing_of_it_shows_without_script_or_without_tables(opened):
    page = opened(to_follow(sheet(WEDGE)), script=False)
    assert not page.locator("#_where").is_visible()
    assert "Knit to last 4 sts" in page.locator("li").nth(2).inner_text()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
def test_it_adds_less_than_300_kb_for_a_hundred_rows(path):
    text = path.read_text(encoding="utf-8")
    follow = sheet(text, work(text).sizes[-1]).follow[0]
    rows = sum(len(piece.steps) for piece in follow.help.pieces)
    scripts = sum(len(asset(name)) for name in ("follow_where.js", "follow_help.js"))
    assert len(as_data(follow.help)) * 100 / rows + scripts < 300_000
