"""The page about the bench names every address, every message of one, and no other."""

import re
from pathlib import Path

from purlwright.bench.app import create_app
from purlwright.wire.bench_schema import MESSAGES

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "bench.md").read_text(encoding="utf-8")


def test_every_address_is_told_and_no_other(folder):
    there = {
        (method, re.sub(r"\{.*", "NAME", route.path))
        for route in create_app(folder, key="k", port=1).routes
        for method in route.methods - {"HEAD"}
    }
    told = {(method, path) for method, path in re.findall(r"`(GET|PUT|POST|DELETE) ([^`?]+)[^`]*`", PAGE)}
    assert told == there


def test_every_message_that_is_named_is_there():
    names = {kind.__name__ for kind in MESSAGES}
    named = set(re.findall(r"`(\w+(?:In|Out))`", PAGE))
    assert named
    assert named <= names
