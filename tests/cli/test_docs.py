"""The page about the commands leaves nothing out."""

import re
from pathlib import Path

import pytest
from msgspec.structs import fields

from purlwright import wire
from purlwright.terminal.arguments import ANSWERING, COMMANDS, OPTIONS

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "commands.md").read_text(encoding="utf-8")
OUT = [kind for name, kind in vars(wire).items() if name.endswith("Out")]


@pytest.mark.parametrize("option", sorted(OPTIONS))
def test_every_option_is_documented(option):
    value = OPTIONS[option][1]
    assert f"`{option} {value}`" in PAGE if value else f"`{option}`" in PAGE


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_a_section(command):
    assert f"\n## {command}\n" in PAGE
    assert (f"\n### {command} --json\n" in PAGE) == (command in ANSWERING)


@pytest.mark.parametrize("kind", OUT, ids=lambda kind: kind.__name__)
def test_every_field_is_documented(kind):
    missing = [f.encode_name for f in fields(kind) if f"`{f.encode_name}`" not in PAGE]
    assert not [name for name in missing if f'"{name}"' not in PAGE]


def test_no_option_is_documented_that_is_not_there():
    assert set(re.findall(r"`(--[a-z-]+)", PAGE)) - {"--"} <= set(OPTIONS)
