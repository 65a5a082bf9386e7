"""Two versions side by side: which rows differ, in which size, and what a notice says of it."""

from pathlib import Path

import pytest

from purlwright.revision.compare import compare
from purlwright.revision.notice import notice, who_is_affected
from purlwright.revision.rows import side_by_side
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))

BUOY = """\
# Buoy Square
Sizes: small (large)
Yarn: about 40 (60) m
Version: 1

## Square
Cast on 10 (20) sts.
Row 1 (RS): Knit.
Row 2 (WS): K2, p to last 2 sts, k2.
Rep rows 1 and 2 5 (9) times more.
> It is square now.
Bind off all sts.
"""


def between(old: str, new: str):
    return compare(WorkUp(old).version(), WorkUp(new).version())


def changed(was: str, now: str):
    assert was in BUOY
    return between(BUOY, BUOY.replace(was, now))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_a_pattern_is_the_same_as_itself(path):
    version = WorkUp(path.read_text(encoding="utf-8")).version()
    found = compare(version, version)
    assert found.same
    assert found.knits_the_same
    assert found.touched
    assert not found.must_be_told


def test_a_size_whose_number_changed_is_touched_and_no_other():
    found = changed("5 (9) times", "5 (10) times")
    assert [(c.was, c.now, c.sizes) for c in found.lines] == [
        (("Rep rows 1 and 2 5 (9) times more.",), ("Rep rows 1 and 2 5 (10) times more.",), ("large",))
    ]
    small, large = found.touched
    assert small.first is None
    assert (large.put_in, large.taken_out, large.changed) == (2, 0, 0)
    assert large.made_now - large.made_was == 40


def test_other_words_for_the_same_stitches_touch_nobody():
    found = changed("Row 1 (RS): Knit.", "Row 1 (RS): K to end of row.")
    assert found.knits_the_same
    assert [c.sizes for c in found.lines] == [()]
    assert not found.must_be_told


def test_the_first_row_that_differs_is_named_with_its_place_and_count():
    found = changed("Row 2 (WS): K2, p to last 2 sts, k2.", "Row 2 (WS): K3, p to last 3 sts, k3.")
    assert [t.first.number for t in found.touched] == [2, 2]
    assert who_is_affected(found) == [
        (
            "Every size: affected from Row 2 of Square (row 2 of the whole work); "
            "on the needle before it: 10 (20) stitches."
        )
    ]


def test_a_row_with_as_many_stitches_but_other_ones_differs():
    one = "Cast on 6 sts.\nRow 1: K2, k2tog, yo, k2.\nRow 2: Purl.\nBind off.\n"
    a, b = WorkUp(one), WorkUp(one.replace("k2tog, yo", "yo, k2tog"))
    pairs = side_by_side(a.knitted(), b.knitted())
    assert [p.same for p in pairs][:2] == [True, False]


def test_a_row_put_in_leaves_those_before_it_as_they_were():
    text = "Cast on 6 sts.\nRow 1: Knit.\nRow 2: Purl.\nRow 3: K1, p4, k1.\nBind off.\n"
    longer = text.replace("Row 3:", "Row 3: Knit.\nRow 4:")
    pairs = side_by_side(WorkUp(text).knitted(), WorkUp(longer).knitted())
    assert [p.same for p in pairs[:3]] == [True, True, True]
    assert sum(p.old is None for p in pairs) == 1


def test_notes_and_header_lines_are_told_apart_from_work():
    found = between(
        BUOY, BUOY.replace("It is square", "The piece is square").replace("Version: 1", "Version: 2")
    )
    assert [f.key for f in found.facts] == ["Version"]
    assert [c.was for c in found.notes] == [("> It is square now.",)]
    assert found.lines == ()


def test_sizes_that_only_one_version_has_are_named():
    found = between(BUOY, BUOY.replace("small (large)", "small (wide)"))
    assert (found.gone, found.added) == (("large",), ("wide",))
    assert [t.size for t in found.touched] == ["small"]


def test_versions_without_a_size_in_common_are_not_said_to_be_alike():
    found = between(BUOY, BUOY.replace("small (large)", "A (B)"))
    assert who_is_affected(found) == [
        "No size and choice is in both versions, so no rows were set side by side."
    ]


def test_the_notice_has_what_was_printed_and_what_should_be():
    new = (
        BUOY.replace("5 (9) times", "5 (10) times")
        .replace("Version: 1", "Version: 1.1")
        .replace("(60)", "(64)")
    )
    assert notice(between(BUOY, new)) == [
        "Corrections to Buoy Square, version 1",
        "",
        "They are made in version 1.1.",
        "",
        "At the head of the pattern",
        "  Yarn",
        "  Printed:    about 40 (60) m",
        "  Should be:  about 40 (64) m",
        "",
        "Square",
        "  Printed:    Rep rows 1 and 2 5 (9) times more.",
        "  Should be:  Rep rows 1 and 2 5 (10) times more.",
        "  Size large only.",
        "",
        "Are you affected?",
        "  Size small: not affected; every stitch is as it was.",
        (
            "  Size large: affected from Row 1 of Square, the 11th time it is worked (row 21 of the whole work); "
            "on the needle before it: 20 stitches."
        ),
    ]


def test_there_is_no_notice_without_anything_to_correct():
    with pytest.raises(ValueError, match="nothing to correct"):
        notice(changed("It is square", "The piece is square"))


@pytest.mark.parametrize("text", ["", "# Only a title\n", "no pattern at all"])
def test_texts_in_which_nothing_is_knitted_can_be_compared(text):
    found = between(text, BUOY)
    assert not found.same
    assert between(text, text).same
