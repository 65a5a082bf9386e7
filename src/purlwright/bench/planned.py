"""Plans and other gauges, as the page asks for them: through the very call that the command line reads.

In: what was filled in. Out: the answers of ``plan`` and ``regauge``; a refusal in the words of the page.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.bench.refusals import Refused
from purlwright.cloth.swatch_words import NotRead
from purlwright.plans import plans
from purlwright.plans.asks import fillable, for_the_page
from purlwright.regauges import regauge
from purlwright.sizing.unknowns import NoPlan
from purlwright.terminal.arguments import BadCall, Call, read_call

if TYPE_CHECKING:
    from purlwright.wire.bench_plans import PlanIn
    from purlwright.wire.plan import PlanOut
    from purlwright.wire.regauge import RegaugeOut
    from purlwright.workup import WorkUp

__all__ = ["planned", "regauged"]

YOURS = "Your table"
MOST_ANSWERS = 80
LONGEST_ANSWER = 2000
"""More than this is no answer to a question; own."""


def planned(asked: PlanIn) -> PlanOut:
    """The answer to a plan that was filled in. Raises Refused."""
    known = next((one for one in fillable() if one.name == asked.plan), None)
    if known is None:
        raise Refused(404, "There is no such plan.")
    takes = {one.option: one.kind for one in known.asks}
    if len(asked.answers) > MOST_ANSWERS or any(len(one.words) > LONGEST_ANSWER for one in asked.answers):
        raise Refused(422, "That is more than a plan can be asked.")
    words = ["plan", asked.plan]
    for one in asked.answers:
        if one.option not in takes:
            raise Refused(422, "This plan has no such question.")
        if takes[one.option] == "table":
            continue  # it comes as a text of its own
        words.append(one.option if takes[one.option] == "yes" else f"{one.option}={one.words}")
    if asked.table is not None:
        words.append(f"--bodies={YOURS}")
    try:
        done = plans(read_call(words), asked.table)
    except (NoPlan, NotRead, BadCall) as why:
        raise Refused(422, for_the_page(str(why), asked.plan)) from None
    return replace(done, said=[for_the_page(sentence, asked.plan) for sentence in done.said])


def regauged(work: WorkUp, gauge: str) -> RegaugeOut:
    """The pattern at another gauge, or the refusal that stands in the answer. Raises Refused."""
    if len(gauge) > LONGEST_ANSWER:
        raise Refused(422, "That is more than a gauge says.")
    call = Call()
    call.plan = {"--gauge": [gauge]}
    try:
        return regauge(work, call)
    except (NoPlan, NotRead) as why:
        raise Refused(422, str(why)) from None
