"""Small patterns for a check: one in which it fails or cannot be decided, and one in which it holds.

In: nothing; the files of ``examples/``, one a family. Out: an :class:`Examples` a check. They are shown by
``purlwright explain``, and a test proves both, so that a page never shows what is not so.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from purlwright.proof.catalogue import FAMILIES

__all__ = ["Examples", "examples", "read_examples"]

_HEAD = re.compile(r"^## (C\d{3})$", re.MULTILINE)
_BLOCK = re.compile(
    r"^(Fails|Cannot be decided|Holds):\n\n````pattern\n(.*?)^````$", re.MULTILINE | re.DOTALL
)


class Examples(NamedTuple):
    """The patterns of one check; None where there is none."""

    fails: str | None = None
    undecided: str | None = None
    holds: str | None = None


def read_examples(page: str) -> Iterator[tuple[str, Examples]]:
    """``## C001``, then ``Fails:``, ``Cannot be decided:``, ``Holds:``, each a pattern in four backticks."""
    heads = list(_HEAD.finditer(page))
    for head, after in zip(heads, [*heads[1:], None], strict=True):
        blocks = dict(_BLOCK.findall(page[head.end() : after.start() if after else len(page)]))
        yield (
            head[1],
            Examples(blocks.get("Fails"), blocks.get("Cannot be decided"), blocks.get("Holds")),
        )


@cache
def examples() -> Mapping[str, Examples]:
    """The examples of every check that has them."""
    folder = files("purlwright.proof").joinpath("examples")
    pages = (folder.joinpath(f"{family}.md") for family in FAMILIES)
    return {
        check: both
        for page in pages
        if page.is_file()
        for check, both in read_examples(page.read_text(encoding="utf-8"))
    }
