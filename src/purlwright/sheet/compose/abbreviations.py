"""Abbreviations and what they are in full, for words that are no stitches.

In: the table ``data/abbreviations.toml``. Out: frozen entries, and the search for one in words.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

__all__ = ["Short", "shorts", "stands_in"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Short:
    """One abbreviation: in full, in UK terms too if they differ, for several ("" if it has no plural),
    and as it stands in a row.
    """

    name: str
    full: str
    full_uk: str = ""
    many: str = ""
    inline: str = ""
    any_case: bool = True


@cache
def shorts() -> tuple[Short, ...]:
    """Every abbreviation of the table, in its order."""
    table = tomllib.loads(
        files("purlwright.sheet.compose").joinpath("data/abbreviations.toml").read_text("utf-8")
    )
    return tuple(
        Short(
            name=name,
            full=entry["full"],
            full_uk=entry.get("full_uk", ""),
            many=entry.get("many", ""),
            inline=entry.get("short", entry["full"]),
            any_case=entry.get("any_case", True),
        )
        for name, entry in table.items()
        if name != "source"
    )


@cache
def _finder(name: str, any_case: bool) -> re.Pattern[str]:
    parts = r"\s*".join(re.escape(part) for part in name.split())
    return re.compile(
        rf"(?<![A-Za-z0-9'’]){parts}(?:s|\d+)?(?![A-Za-z0-9'’])", re.IGNORECASE if any_case else 0
    )


def stands_in(name: str, words: str, *, any_case: bool = True) -> bool:
    """Whether an abbreviation stands in the words, alone or with its number: "k" in "k4", not in "k2tog"."""
    return _finder(name, any_case).search(words) is not None
