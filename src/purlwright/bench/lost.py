"""Where is she, and what went wrong: her answers read, and the desk asked.

In: the work on a pattern and the answers so far. Out: answers of ``wire.bench_lost``. Nothing is kept
between two requests: the page sends all that was said each time.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from purlwright.bench.paths import shown
from purlwright.bench.refusals import Refused
from purlwright.files import Unusable
from purlwright.wire import bench_lost as wire

if TYPE_CHECKING:
    from purlwright.rescue.observe import Facts
    from purlwright.workup import WorkUp

__all__ = ["rescue_told", "where_told"]


class _Call:
    """The size and options, as the rooms that answer ask for them."""

    def __init__(self, size: str, options: Mapping[str, str]) -> None:
        self.size: str | None = size
        self.options = list(options.items())
        self.facts: list[tuple[str, str]] = []


def rescue_told(work: WorkUp, size: str, options: Mapping[str, str], asked: wire.LostIn) -> wire.LostOut:
    """What most likely happened, and what to look at next. Raises Refused where an answer is none."""
    from purlwright.rescues import rescue

    pieces = _pieces(work, size, options)
    facts = _facts(asked, pieces)
    try:
        found = rescue(work, _Call(size, options), facts, tuple(one.fact for one in asked.answers))
    except Unusable as why:
        raise Refused(422, str(why)) from None
    return wire.LostOut(version=asked.version, pieces=pieces, found=found)


def where_told(work: WorkUp, size: str, options: Mapping[str, str], asked: wire.LostIn) -> wire.WhereLostOut:
    """Which rows it may be. Raises Refused where an answer is none."""
    from purlwright.rescues import where

    pieces = _pieces(work, size, options)
    facts = _facts(asked, pieces)
    try:
        found = where(work, _Call(size, options), facts)
    except Unusable as why:
        raise Refused(422, str(why)) from None
    return wire.WhereLostOut(version=asked.version, pieces=pieces, found=found)


def _pieces(work: WorkUp, size: str, options: Mapping[str, str]) -> list[str]:
    if not any(e.worked for e in work.knitted(size, options).ledger.entries):
        raise Refused(422, "Nothing is knitted in this pattern yet, so there is no row to be found.")
    return [name for name, _ in work.desk(size, options).pieces]


def _facts(asked: wire.LostIn, pieces: list[str]) -> Facts:
    from purlwright.rescue.observe import Facts
    from purlwright.rescue.questions import QUESTIONS
    from purlwright.rescues import answer_of

    facts = Facts()
    if asked.piece is not None:
        if asked.piece not in pieces:
            raise Refused(422, f'There is no piece "{shown(asked.piece)}" in this pattern.')
        facts = facts.with_({"piece": asked.piece})
    for one in asked.answers:
        question = QUESTIONS.get(one.fact)
        if question is None:
            raise Refused(400, f'There is no question "{shown(one.fact)}".')
        told = answer_of(question, one.said)
        if isinstance(told, str):
            raise Refused(422, told, fact=one.fact)
        facts = facts.with_(told)
    return facts
