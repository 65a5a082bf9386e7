"""In mid-row: the follow-along page finds the row as `where` does, on a small page too."""

import json
import random

import pytest

from purlwright.needles.looks import operations, within
from purlwright.rescue.observe import Facts
from purlwright.sheet.out.follow import to_follow
from purlwright.sheet.out.helping import as_data
from purlwright.sheet.out.web import asset
from rescue_work import work

NAMES = ("shaped", "wedge", "lace", "sea-pea")


def table(name):
    return work(name).sheet(None, follow=True, drawn=False)


@pytest.mark.parametrize("name", NAMES)
def test_the_page_finds_the_rows_that_where_finds(opened, name):
    size = work(name).sizes[0]
    d = work(name).desk(size)
    worked = operations(d.knitted)
    chance = random.Random(name)  # noqa: S311 - the same each time
    tried = []
    for _piece, looks in d.pieces:
        for look in chance.sample(looks, min(8, len(looks))):
            states = list(within(look.entry, worked[look.entry.order])) if look.entry.order in worked else []
            if not states:
                continue
            left, right = chance.choice(states)
            tried += [{"on_left": left, "on_right": right}, {"on_right": right, "side": "WS"}]
            tried.append({"on_left": right, "on_right": left, "yarn_on": "left", "side": "RS"})
            tried.append({"on_left": left + 200})
    assert len(tried) > 12
    follow = work(name).sheet(size, follow=True, drawn=False).follow[0]
    page = opened("<!doctype html><title>none</title>")
    page.add_script_tag(content=asset("follow_where.js"))
    answers = page.evaluate(
        "([table, all]) => all.map(facts => whereAmI(table, facts).rows)",
        [json.loads(as_data(follow.help)), tried],
    )
    places = {piece: n for n, (piece, _) in enumerate(d.pieces)}
    for facts, got in zip(tried, answers, strict=True):
        found = d.where(Facts(**facts)).rows
        assert got == [[places[f.piece], f.look.index, f.worked] for f in found], facts
    assert [] in answers


def test_a_learner_in_mid_row_is_led_to_her_row(opened):
    page = opened(to_follow(table("shaped")), width=360)
    page.locator("#_where summary").click()
    assert not page.locator("#_where_mid").is_visible()
    page.get_by_label("No, I am in the middle of it").check()
    assert not page.locator("#_where_asks").is_visible()
    page.locator("#_where_on_left").fill("36")
    page.locator("#_where_on_right").fill("3")
    page.locator("input[name=_where_mid_side][value=RS]").check()
    assert (
        "rows fit" in page.locator("#_where_said").inner_text()
        or "One row" in page.locator("#_where_said").inner_text()
    )
    assert page.locator("#_where_rows li").count()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.locator("input[name=_where_yarn_on][value=left]").check()
    page.locator("#_where_on_right").fill("many")
    page.locator("#_where_form").evaluate("form => form.requestSubmit()")
    assert page.locator("#_where_mid_bad").inner_text() == "Write a number in figures, or leave it empty."
    page.locator("#_where_on_right").fill("300")
    page.locator("#_where_form").evaluate("form => form.requestSubmit()")
    assert page.locator("#_where_said").inner_text().startswith("No row has so many on the needles")
    assert "On the left needle: 36" in page.locator("#_letter").input_value()
