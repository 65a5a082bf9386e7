"""The photographs in the README show the pages as they are today."""

import importlib.util
import re
import shlex
import sys
from pathlib import Path

import pytest
from PIL import Image

ROOT = Path(__file__).resolve().parents[2]
LINES = re.findall(
    r"^    scripts/photograph\.py (.*)$",
    (ROOT / "docs" / "pictures" / "README.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)


@pytest.fixture(scope="module")
def photograph():
    spec = importlib.util.spec_from_file_location("photograph", ROOT / "scripts" / "photograph.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules["photograph"] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("line", LINES, ids=lambda line: line.split()[0])
def test_the_words_in_a_photograph_are_what_the_page_says_today(chromium, photograph, line, monkeypatch):
    """If not, read what has changed, and run `make pictures`."""
    monkeypatch.chdir(ROOT)
    want = photograph.asked(shlex.split(line))
    page = photograph.page_of(Path(want.pattern), want.kind)
    _, words = photograph.photographed(chromium, page, want, dark=False)
    with Image.open(want.out) as picture:
        assert picture.text["Words"] == words
        views = 1 + want.dark_too
        assert picture.size == (want.wide * views + photograph.GAP * (views - 1), want.high)
    assert Path(want.out).stat().st_size < 60_000
