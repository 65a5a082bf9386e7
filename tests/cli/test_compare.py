"""`purlwright compare`: the page, the notice, JSON, and calls that cannot be followed."""

import json

import pytest

from purlwright.cli import main

OLD = """\
# Tern Band
Version: 1
Cast on 12 sts.
Row 1: Knit.
Row 2: Purl.
Row 3: K4, k2tog, yo, k6.
Bind off.
"""


@pytest.fixture
def compare(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "80")

    def run(new, *words, old=OLD):
        paths = []
        for name, text in (("old", old), ("new", new)):
            paths.append(tmp_path / f"{name}.pattern.md")
            paths[-1].write_text(text, encoding="utf-8")
        answer = main(["compare", *map(str, paths), *words])
        return (answer, *capsys.readouterr())

    return run


def test_the_page(compare):
    new = (
        OLD.replace("k2tog, yo", "yo, ssk")
        .replace("Row 1: Knit.", "Row 1: K.")
        .replace("Version: 1", "Version: 2")
    )
    assert compare(new) == (
        0,
        """\
Tern Band
version 1 and version 2

At the head of the pattern

  Version
    was  1
    now  2

Lines that change the knitting

  line 6
    was  Row 3: K4, k2tog, yo, k6.
    now  Row 3: K4, yo, ssk, k6.

Lines worded otherwise, with every stitch as it was

  line 4
    was  Row 1: Knit.
    now  Row 1: K.

Are you affected?

  Every copy: affected from Row 3 (row 3 of the whole work); on the needle
    before it: 12 stitches.

  One size: 1 row changed; 60 stitches in all, as before.

The newer version was knitted: no error was found in it.
""",
        "",
    )


def test_the_same_text_twice(compare):
    assert compare(OLD)[:2] == (
        0,
        "Tern Band\nversion 1 and version 1\n\nNothing differs, in the words or in the knitting.\n",
    )


def test_the_notice(compare):
    answer, page, _ = compare(OLD.replace("k2tog, yo", "yo, ssk"), "--notice")
    assert answer == 0
    assert "  Printed:    Row 3: K4, k2tog, yo, k6.\n  Should be:  Row 3: K4, yo, ssk, k6.\n" in page


def test_a_notice_of_nothing_is_refused(compare):
    assert compare(OLD, "--notice") == (
        2,
        "",
        "purlwright: Nothing that changes the knitting was changed, so there is nothing to correct.\n",
    )


def test_json_says_the_same(compare):
    answer, page, _ = compare(OLD.replace("k2tog, yo", "yo, ssk"), "--json")
    said = json.loads(page)
    assert answer == 0
    assert said["touched"][0]["first"] == {
        "number": 3,
        "section": "",
        "label": "Row 3",
        "pass_": 1,
        "start": 12,
    }
    assert said["notice"][0] == "Corrections to Tern Band, version 1"


def test_an_error_in_the_newer_version_is_said_and_answered(compare):
    answer, page, _ = compare(OLD.replace("k6.", "k7."))
    assert answer == 1
    assert "has 1 error: see what proof says before you send it out." in " ".join(page.split())


def test_a_size_that_only_one_has_is_refused(compare):
    old = OLD.replace("Version: 1", "Sizes: S (M)")
    answer, page, complaint = compare(OLD.replace("Version: 1", "Sizes: S (L)"), "--size", "L", old=old)
    assert (answer, page) == (2, "")
    assert "the sizes are" in complaint


@pytest.mark.parametrize("names", [[], ["one.md"], ["a.md", "b.md", "c.md"]])
def test_it_takes_two_files(capsys, names):
    assert main(["compare", *names]) == 2
    assert "compare takes two files: the older version, then the newer one." in capsys.readouterr().err
