"""The checks that are answered from the finished sheet: C127 and C129."""

from pathlib import Path

import pytest

from purlwright.findings import Result
from purlwright.proof.registry import NOT_BUILT
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))


def verdict(text: str, check: str, size: str | None = None, *, sheet: bool = True):
    return next(v for v in WorkUp(text).proved(size, sheet=sheet).verdicts if v.check == check)


@pytest.mark.parametrize("check", ["C127", "C129"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_both_hold_for_every_example(path, check):
    assert verdict(path.read_text(encoding="utf-8"), check).result is Result.HOLDS


MAT = "# Mat\nSizes: S (M)\nCast on 4 (6) sts.\nRow 1: Knit.\nBind off.\n"


def test_its_places_are_the_rows_of_the_sheet():
    assert verdict(MAT, "C127").places == 3
    assert verdict(MAT, "C127", "M").result is Result.HOLDS


def test_a_pattern_with_an_error_has_no_sheet_to_look_at():
    text = MAT.replace("Row 1: Knit.", "Row 1: K9.")
    assert verdict(text, "C127").result is Result.NOT_APPLICABLE
    assert verdict(text, "C129").result is Result.NOT_APPLICABLE


def test_the_sheet_is_made_only_when_it_is_asked_for():
    assert verdict(MAT, "C127", sheet=False).missing == NOT_BUILT


def test_a_version_that_is_a_row_is_not_let_into_the_foot():
    text = MAT.replace("Sizes", "Version: Knit\nSizes")
    assert verdict(text, "C129").result is Result.UNDECIDED
