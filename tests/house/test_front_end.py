"""The page of the bench: what is committed is what its sources make, and its own tests hold."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
STATIC = ROOT / "src" / "purlwright" / "bench" / "static"
NOT_TRIED = 3
"""What `scripts/frontend` ends with where there is no Node.js, or its packages cannot be fetched."""


def tried(want):
    done = subprocess.run(
        [ROOT / "scripts" / "frontend", want],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=900,
    )
    told = done.stdout + done.stderr
    if done.returncode == NOT_TRIED:
        pytest.skip(told.strip().replace("\n", " "))
    return done.returncode, told


def test_the_committed_page_is_what_its_sources_make():
    code, told = tried("--check")
    assert code == 0, told


def test_a_page_that_was_changed_by_hand_would_be_found(tmp_path):
    """The comparison itself, on two folders that differ in one letter."""
    for name, words in (("made", "a"), ("kept", "b")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "page.js").write_text(words)
    line = re.search(r"if ! (diff -rq) ", (ROOT / "scripts" / "frontend").read_text(encoding="utf-8"))
    assert line
    done = subprocess.run(
        [*line[1].split(), tmp_path / "made", tmp_path / "kept"], capture_output=True, check=False
    )
    assert done.returncode == 1


def test_the_tests_of_its_sources_hold():
    code, told = tried("--test")
    assert code == 0, told
    assert re.search(r"^# fail 0$", told, re.MULTILINE)


def test_the_page_asks_nothing_of_any_other_place():
    """No address of somewhere else in what is loaded, but the names of standards, which are not fetched."""
    standards = ("http://www.w3.org/",)
    found = {}
    for path in sorted(STATIC.glob("*.*")):
        if path.suffix in {".js", ".css", ".html"}:
            links = re.findall(r"""(?:https?:|wss?:)//[^\s"'`\\)<>]*""", path.read_text(encoding="utf-8"))
            found[path.name] = [link for link in links if not link.startswith(standards)]
    assert found
    assert {name: links for name, links in found.items() if links} == {}


def test_the_page_has_no_script_or_style_of_its_own_in_it():
    page = (STATIC / "index.html").read_text(encoding="utf-8")
    assert re.findall(r"<script(?![^>]* src=)|<style|\son\w+=|\sstyle=", page) == []


def test_the_lock_names_no_place_to_fetch_from():
    lock = (ROOT / "frontend" / "package-lock.json").read_text(encoding="utf-8")
    assert '"resolved"' not in lock
    assert lock.count('"integrity"') > 20
