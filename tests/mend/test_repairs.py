"""The soft reader: what it offers, that every offer is true, and that it offers nothing where it should not."""

from pathlib import Path

import pytest

from purlwright.findings import Severity
from purlwright.mend.edits import Words, changes, is_even, operations, repeats_evenly, runs
from purlwright.workup import WorkUp

ROOT = Path(__file__).resolve().parents[2]
FAULTS = sorted((ROOT / "examples" / "faults").glob("*.pattern.md"))

SHAWL = """# Gull Shawl

Cast on 9 sts.
Row 1 (RS): K2, yo, k to last 2 sts, yo, k2. (11 sts)
Row 2 (WS): Purl.
Row 3: K2, yo, k1, yo, ssk, k1, k2tog, yo, k1, yo, k2. (13 sts)
Row 4: Purl.
Row 5: K2, yo, k to last 2 sts, yo, k2. (15 sts)
Bind off.
"""


def titles(text):
    return [[fix.title for fix in repair.fixes] for repair in WorkUp(text).repairs()]


def changed(text, fix):
    for edit in sorted(fix.edits, key=lambda e: -e.span.start):
        text = text[: edit.span.start] + edit.words + text[edit.span.end :]
    return text


def test_a_right_pattern_has_nothing_to_mend():
    assert titles(SHAWL) == []


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("ssk, k1, k2tog, yo, k1, yo, k2. (13", "ssk, k1, k2tog, k1, yo, k2. (13"),
        ("(13 sts)", "(14 sts)"),
        ("Cast on 9", "Cast on 19"),
        ("Row 2 (WS)", "Row 2 (RS)"),
        ("k to last 2 sts, yo, k2. (15", "k to last 3 sts, yo, k2. (15"),
    ],
)
def test_the_true_repair_of_one_slip_comes_first(right, wrong):
    text = SHAWL.replace(right, wrong)
    assert text != SHAWL
    assert changed(text, WorkUp(text).repairs()[0].fixes[0]) == SHAWL


def test_the_lost_word_more_is_found_by_the_total():
    text = "# Cowl\nCast on 5 sts.\nRow 1 (RS): K1, yo, k to last st, yo, k1.\nRow 2 (WS): Knit.\n"
    total = 5 + 2 + 3 * 2
    text += f"Rep rows 1 and 2 twice more. ({total} sts)\nBind off.\n"
    assert "line 5: 3 times for twice" in titles(text)[0]


def test_a_lost_bracket_and_a_lost_star_are_put_back():
    group = "# Mat\nCast on 24 sts.\nRow 1 (RS): [K3, p1 6 times.\nRow 2 (WS): Purl.\nBind off.\n"
    star = "# Mat\nCast on 26 sts.\nRow 1 (RS): K3, p1; rep from * to last 2 sts, k2.\nRow 2 (WS): Purl.\nBind off.\n"
    assert titles(group) == [["line 3: ] after p1"]]
    assert titles(star)[0][0] == "line 3: * before K3"


def test_one_size_is_mended_in_its_own_number():
    text = "# Mitts\nSizes: small (large)\n\nCast on 32 (36) sts.\nRow 1 (RS): K2, p2, k24 (26), p2, k2.\n"
    assert titles(text + "Row 2 (WS): Purl.\nBind off.\n")[0][0] == "line 5: 28 for 26"


@pytest.mark.parametrize("path", FAULTS, ids=lambda path: path.name.removesuffix(".pattern.md"))
def test_every_repair_offered_takes_its_error_away_and_brings_no_other(path):
    text = path.read_text(encoding="utf-8")
    work = WorkUp(text)
    before = {(f.code, work.source.place(f.span.start)[0]) for f in work.proved().findings}
    for repair in work.repairs():
        for fix in repair.fixes:
            after = WorkUp(changed(text, fix))
            got = {
                (f.code, after.source.place(f.span.start)[0])
                for f in after.proved().findings
                if f.severity is Severity.ERROR
            }
            assert got <= before
            assert (repair.finding.code, work.source.place(repair.finding.span.start)[0]) not in got
    assert work.source.text == text


def test_edits_stay_inside_their_line():
    words = Words(
        text="Row 3 (RS): *K2, yo, (k1, p1) 3 times; rep from * twice more. (24 (30) sts)",
        offset=100,
        label_end=12,
    )
    made = changes(words, ("yo", "k1"), [4])
    assert made
    for change in made:
        start, end = change.edit.span.start - 100, change.edit.span.end - 100
        assert 0 <= start <= end <= len(words.text)
        assert words.text[:start] + change.edit.words + words.text[end:] != words.text


def test_operations_are_the_single_stitches_between_commas():
    assert operations(["K2, yo, k1, yo, ssk", "purl to end"]) == ("yo", "k1", "ssk")


def test_a_row_is_even_when_its_ends_mirror_or_its_halves_agree():
    assert is_even("Row 1: K1, yo, ssk, k3, k2tog, yo, k1.")
    assert is_even("Row 3: K3, yo, k2, sk2p, k1, yo, k2, sk2p, k3.")
    assert not is_even("Row 1: K1, yo, ssk, k3, k2tog, k1.")


def test_steps_and_numbers_that_changed_places_are_changed_back():
    titles = {c.title for c in changes(Words(text="K1, ssk, yo, k3", offset=0), (), [])}
    assert {"yo before ssk", "k3 before yo", "K3 and k1 for K1 and k3"} <= titles


def test_a_step_that_stands_twice_is_the_likeliest_to_go():
    made = changes(Words(text="K3, k6, k6, p2", offset=0), (), [])
    assert made[0].title == "without k6"


def test_a_digit_that_was_lost_is_looked_for_in_the_other_numbers():
    made = changes(Words(text="Cast on 14 sts.", offset=0), (), [], frozenset({"144", "98"}))
    assert made[0].title == "144 sts for 14 sts"
    assert not any("98" in c.title for c in made)


def test_a_repeat_that_is_its_own_mirror():
    assert repeats_evenly("Row 1: *Yo, ssk, k1, k2tog, yo, k1; rep from * to end.")
    assert not repeats_evenly("Row 1: *Yo, ssk, k1, yo, k2tog, k1; rep from * to end.")
    assert not repeats_evenly("Row 1: *K2, p2, k1, p2, k1; rep from * to end.")


def test_runs_of_knits_and_purls():
    assert runs(["*K2, p2; rep from *", "K6, p2"]) == ("p2", "k2", "k6")


def test_a_repair_is_not_thrown_out_because_the_text_was_cut_off_after_the_fault():
    rows = "".join(f"Row {n}: K3, sm, k10, sm, k3.\n" for n in range(3, 14))
    work = WorkUp(
        f"# Gull\nCast on 16 sts.\nRow 1: K3, pm, k10, pm, k3.\nRow 2: Sm, k10, sm, k3.\n{rows}Bind off.\n"
    )
    (repair,) = work.repairs()
    assert repair.fixes[0].title == "line 4: k3 before Sm"
