"""The follow-along page as a file: the rows of each size in plain words, and a script that cannot make markup."""

import re
from dataclasses import replace

import pytest

import sheet_documents
from markup import read
from purlwright.sheet.document import FollowAlong, Step
from purlwright.sheet.out.follow import to_follow
from purlwright.sheet.out.web import asset
from sheet_documents import words

HAT = sheet_documents.hat()
STEP = Step(
    section="S",
    piece="",
    kind="row",
    label="Row 1",
    side="RS",
    words=words("K2."),
    in_full="Knit 2.",
    before=2,
    after=2,
)


def page(*steps, **kind):
    document = replace(HAT, follow=(FollowAlong(size=kind.pop("size", ""), steps=steps, **kind),))
    return read(to_follow(document))


def row(**kind):
    return page(replace(STEP, **kind)).one("li", id="_1-1")


def test_every_row_of_every_size_stands_in_the_page():
    found = read(to_follow(HAT))
    sizes = list(found.all("div", class_="size"))
    assert [size.one("h3").text for size in sizes] == [
        "Size child, turns: wrapped",
        "Size adult, turns: wrapped",
    ]
    assert [len(list(size.all("li"))) for size in sizes] == [14, 14]
    assert [h.text for h in sizes[0].all("h4")] == ["Wedge", "Finishing"]
    second = list(sizes[1].all("li"))[2]
    assert " ".join(second.text.split()) == (
        "Row 2 WSwrong side time 1 of 3 Knit to last 4 sts, w&t.Knit to the last 4 stitches, wrap the next stitch and"
        " turn. 42 stitches afterwards, 4 of them wait beyond the turn."
    )


@pytest.mark.parametrize(
    ("before", "after", "unworked", "told"),
    [
        (2, 2, 0, "2 stitches afterwards."),
        (2, 1, 0, "1 stitch afterwards, 1 fewer than before."),
        (0, 40, 0, "40 stitches afterwards."),
        (36, 42, 1, "42 stitches afterwards, 6 more than before, 1 of them waits beyond the turn."),
        (36, 0, 0, "No stitches are left."),
    ],
)
def test_the_count_to_have_afterwards(before, after, unworked, told):
    assert row(before=before, after=after, unworked=unworked).one("span", class_="after").text == told


def parts(*of):
    return [
        h.text
        for h in page(*(replace(STEP, section=section, piece=piece) for section, piece in of)).all("h3")
    ]


def test_a_piece_is_named_where_a_section_is_worked_on_several():
    assert parts(("Wings", "Garter tab"), ("Edging", "Garter tab")) == ["Wings", "Edging"]
    assert parts(("Heel", "left"), ("Heel", "right"), ("Foot", "right")) == [
        "Heel, left",
        "Heel, right",
        "Foot",
    ]
    assert parts(("", "Thumb")) == ["Thumb"]
    assert parts(("", "")) == []


def test_a_row_without_words_in_full_gives_its_own():
    assert row(in_full="").one("span", class_="full").text == "K2."
    assert row(label="", kind="bind-off").one("span", class_="label").text == "Bind-off"


def several(count, what="Row"):
    """The steps of a line such as "Knit 6 rows."."""
    return [replace(STEP, label="", note=f"{what} {k} of {count}.") for k in range(1, count + 1)]


def test_rows_that_one_line_asks_for_are_numbered_and_belong_together():
    found = page(*several(3), STEP, *several(2, "Round"), *several(2), replace(STEP, note="Row 1 of 2."))
    rows = [(one.one("span", class_="label").text, one.attributes.get("data-run")) for one in found.all("li")]
    assert rows == [
        ("Row 1 of 3", "1"),
        ("Row 2 of 3", "1"),
        ("Row 3 of 3", "1"),
        ("Row 1", None),
        ("Round 1 of 2", "5"),
        ("Round 2 of 2", "5"),
        ("Row 1 of 2", "7"),
        ("Row 2 of 2", "7"),
        ("Row 1", None),
    ]
    assert [note.text for note in found.all("span", class_="note")] == ["Note: Row 1 of 2."]


def test_a_place_is_kept_for_a_size_and_outlives_a_mended_word():
    def keys(found):
        return [
            (size.attributes["data-key"], size.attributes["data-rows"])
            for size in found.all("div", class_="size")
        ]

    ((key, rows),) = keys(page(STEP))
    assert keys(page(replace(STEP, note="Slowly.", span=(1, 2)))) == [(key, rows)]
    ((same, others),) = keys(page(replace(STEP, words=words("K3."))))
    assert same == key
    assert others != rows
    assert keys(page(STEP, size="adult"))[0][0] != key
    assert keys(page(STEP, options=(("turns", "wrapped"),)))[0][0] != key


@pytest.mark.parametrize("follow", [(), (FollowAlong(size="adult"),)])
def test_a_pattern_without_rows_says_so(follow):
    found = read(to_follow(replace(HAT, follow=follow)))
    assert "This pattern has no row to knit." in found.one("details", id="_all").text
    assert not list(found.all("script"))


def test_the_same_rows_give_the_same_page():
    assert to_follow(HAT) == to_follow(HAT)


# --- the script -----------------------------------------------------------------------------------

MAKES_MARKUP = (
    "innerHTML outerHTML insertAdjacentHTML document.write DOMParser createContextualFragment srcdoc".split()
)
RUNS_WORDS = ["eval(", "Function(", "import(", "setTimeout(", "setInterval(", "javascript:"]
ASKS_OUTSIDE = [
    "fetch(",
    "XMLHttpRequest",
    "WebSocket",
    "EventSource",
    "sendBeacon",
    "Worker(",
    "http://",
    "https://",
]
SCRIPTS = ("needles.js", "follow_where.js", "follow_help.js", "follow_player.js", "follow.js")
TRACKS = ["cookie", "userAgent", "indexedDB"]


@pytest.mark.parametrize("word", [*MAKES_MARKUP, *RUNS_WORDS, *ASKS_OUTSIDE, *TRACKS])
def test_the_script_does_without(word):
    assert all(word not in asset(name) for name in SCRIPTS)


def test_the_script_is_strict_and_cannot_end_its_own_element():
    assert asset(SCRIPTS[0]).startswith('"use strict";')  # they stand in the page as one
    for script in map(asset, SCRIPTS):
        assert "</" not in script
        assert max(map(len, script.splitlines())) <= 130
        assert len(script.splitlines()) < 700


def test_the_script_and_the_page_agree_on_names():
    """Every element that the script asks for stands in the page, and every one with a name of its own is used."""
    script, style, page_ = "".join(map(asset, SCRIPTS)), asset("follow.css"), asset("follow.html")
    asked = set(re.findall(r'byId\("(\w+)"\)', script)) | set(re.findall(r'put\("(\w+)"', script))
    asked |= {f"play_{name}" for name in re.findall(r'find\("(\w+)"\)', script)}
    there = set(re.findall(r'id="_(\w+)"', page_))
    assert asked <= there
    used = (
        asked
        | set(re.findall(r"#_(\w+)", style + page_))
        | set(re.findall(r'"(?:_\w+ )*_(\w+)(?: _\w+)*"', page_))
    )
    assert there - used == set()
