"""What a finding or a check means, in paragraphs for the page.

In: a code or the number of a check. Out: an :class:`~purlwright.wire.bench_looks.ExplainOut` from the same
pages that ``explain`` prints.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from purlwright.bench.paths import shown
from purlwright.bench.refusals import Refused
from purlwright.wire.bench_looks import BlockOut, ExplainOut

if TYPE_CHECKING:
    from purlwright.proof.pages import Page

__all__ = ["explained"]


def explained(word: str) -> ExplainOut:
    """The page of a code or check. Raises Refused."""
    from purlwright.proof.catalogue import CATALOGUE
    from purlwright.proof.pages import pages
    from purlwright.proof.two_examples import examples

    code = word.strip()
    check = CATALOGUE.get(code.upper())
    if check is None:
        page = next((p for p in pages() if p.code == code.casefold()), None)
        if page is None:
            raise Refused(404, f'There is no finding or check "{shown(word)}".')
        title = CATALOGUE[page.check].title if page.check in CATALOGUE else page.code
        return ExplainOut(title=title, code=page.code, check=page.check, blocks=list(_blocks(page)))
    blocks = [
        BlockOut(kind="text", text=f"When it holds: {check.title}. What it looks at: {check.noun}."),
    ]
    both = examples().get(check.check)
    if both is not None:
        for head, text in (
            ("It does not hold in this pattern:", both.fails),
            ("It cannot be decided in this one:", both.undecided),
            ("It holds in this one:", both.holds),
        ):
            if text is not None:
                blocks += [BlockOut(kind="head", text=head), BlockOut(kind="pattern", text=text)]
    for page in pages():
        if page.check == check.check:
            blocks += [BlockOut(kind="head", text=page.code), *_blocks(page)]
    return ExplainOut(title=check.title, code=check.check, check=check.check, blocks=blocks)


def _blocks(page: Page) -> Iterator[BlockOut]:
    quoted = re.sub(r"``?([^`]+)``?", lambda m: m[1] if '"' in m[1] else f'"{m[1]}"', page.text)
    for paragraph in re.split(r"\n\s*\n", quoted):
        words = " ".join(paragraph.split())
        head = re.match(r"(Example|Cure): *", words)
        if head:
            yield BlockOut(kind="head", text=head[1])
            words = words[head.end() :]
        if words:
            yield BlockOut(kind="text", text=words)
