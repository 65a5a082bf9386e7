"""A text in which nothing is cast on: said aloud, and no size of it holds."""

import pytest

from purlwright.findings import Result, Severity
from purlwright.workup import WorkUp


def proved(text):
    return WorkUp(text).proved()


@pytest.mark.parametrize(
    "text",
    [
        "# Schal\n\n20 M anschlagen.\n1. Reihe: Alle M rechts stricken.\nAlle M abketten.\n",
        "# Écharpe\n\nMonter 20 mailles.\nRang 1: 20 m endroit.\nRabattre.\n",
        "# Skerry Hat\n\nA warm hat for a cold quay.\n",
        "# Skerry Hat\n",
        "# Skerry Hat\n\n## Abbreviations\nk: knit.\n",
    ],
)
def test_words_without_a_cast_on(text):
    proof = proved(text)
    (found,) = [f for f in proof.findings if f.code == "nothing-knitted"]
    assert found.severity is Severity.ERROR
    assert found.span.end > found.span.start
    assert {v.check: v.result for v in proof.verdicts}["C049"] is Result.UNDECIDED


def test_the_rows_of_a_stitch_pattern_alone_are_a_warning():
    proof = proved("# Seed\n\n## Seed stitch pattern\nRow 1: K1, p1.\nRow 2: P1, k1.\n")
    assert [(f.code, f.severity) for f in proof.findings] == [("nothing-knitted", Severity.WARNING)]


def test_a_row_without_a_cast_on_is_said_once():
    assert [f.code for f in proved("# Seed\n\n## Body\nRow 1: K1, p1.\n").findings] == ["nothing-on-needle"]
