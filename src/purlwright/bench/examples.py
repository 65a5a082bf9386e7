"""The example patterns that ship with Purlwright, to look at and to begin from.

In: nothing. Out: their names, titles and words. They are ordinary pattern files; they are never written to.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from purlwright.bench.paths import PATTERN
from purlwright.bench.refusals import Refused

__all__ = ["Example", "example", "examples"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """One example: the name it is asked for by, its title, what it says of itself first, and its text."""

    name: str
    title: str
    told: str
    text: str


@lru_cache(maxsize=1)
def examples() -> tuple[Example, ...]:
    """Every example, by title."""
    package = Path(__file__).resolve().parents[1]
    # within the package when it was installed, beside it in a clone of the project
    home = next((f for f in (package / "examples", package.parents[1] / "examples") if f.is_dir()), None)
    files = [] if home is None else sorted(home.glob(f"*{PATTERN}"))
    return tuple(sorted((_example(file) for file in files), key=lambda one: one.title))


def example(name: str) -> Example:
    """The example of this name. Raises Refused."""
    for one in examples():
        if one.name == name:
            return one
    raise Refused(404, "There is no such example.")


def _example(file: Path) -> Example:
    from purlwright.pattern.file import read_pattern
    from purlwright.text import Source

    text = file.read_text(encoding="utf-8")
    pattern = read_pattern(Source(text, file.name))
    prose = " ".join(pattern.description) or _first_prose(text)
    prose = " ".join(prose.split())
    sentence = re.match(r".+?[.!?](?=\s|$)", prose)
    return Example(
        name=file.name.removesuffix(PATTERN),
        title=pattern.title,
        told=sentence[0] if sentence else prose,
        text=text,
    )


def _first_prose(text: str) -> str:
    """The first paragraph of which no line is a heading or a line of the header."""
    for paragraph in re.split(r"\n\s*\n", text):
        lines = paragraph.strip().splitlines()
        if lines and not any(re.match(r"#|[A-Z][\w ]*:", line) for line in lines):
            return " ".join(line.lstrip("> ").rstrip() for line in lines)
    return ""
