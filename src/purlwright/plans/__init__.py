"""What ``purlwright plan`` is asked, from the words of the call to its answer.

In: a call, and the text of a table of one's own. Out: the answer as it leaves. Nothing is printed. The
arithmetic is in the room ``sizing``; a pattern to begin from is proved here, before it is offered.
"""

from __future__ import annotations

from purlwright.plans.answers import answer
from purlwright.plans.pieces import piece
from purlwright.plans.questions import QUESTIONS
from purlwright.plans.said import EXAMPLES, Call, Said
from purlwright.sizing.starts.kinds import KINDS
from purlwright.wire.plan import PlanOut

__all__ = ["plans"]

PROVED = "A piece is proved in every size before it is given."


def plans(call: Call, own: str | None = None) -> PlanOut:
    """The answer to a call; ``own`` is the text of --bodies. Raises NoPlan, and NotRead for a gauge."""
    if not call.names:
        return _list_all()
    name = call.names[0]
    if name in KINDS:
        return piece(call, KINDS[name], own)
    return QUESTIONS[name](Said(call, own))


def _list_all() -> PlanOut:
    words = [f"plan {kind.name}: {kind.told}" for kind in KINDS.values()]
    return answer("", "", words=[*words, *EXAMPLES.values()], said=[PROVED])
