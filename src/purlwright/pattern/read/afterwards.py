"""What a line says, put in order once all of it is read: what is held before the turn, what "across" leaves.

In: the actions of one line. Out: the same, changed where later words say more of earlier ones.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace as changed

from purlwright.pattern.read.problems import NotRead
from purlwright.pattern.tree import (
    Action,
    CastOn,
    Choice,
    Fill,
    Hold,
    InGround,
    InPattern,
    Into,
    Note,
    Number,
    PlaceKind,
    Repeat,
    RepeatRows,
    Resume,
    RowSet,
    Stated,
    Turn,
    Unread,
    Work,
)
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context

__all__ = [
    "WORKED",
    "cast_on_first",
    "ending_restated",
    "held_before_turn",
    "rows_in_turn",
    "says_nothing",
    "too_large",
    "up_to_the_rest",
]

WORKED = (Work, Fill, Repeat, Into, InGround, Choice)
"""What works stitches of a row."""


def says_nothing(actions: list[Action], ctx: Context, text: str) -> list[Action]:
    """SAYS-NOTHING: "Row 3: blorp to end": a row with a number works something, so its words are no talk."""
    if not actions or not all(isinstance(a, Note) for a in actions):
        return actions
    span = Span(actions[0].span.start, actions[-1].span.end)
    words = text[span.start : span.end]
    ctx.findings.report(NotRead(words), span)
    return [Unread(words=words[:200], span=span)]


def too_large(action: Action, ctx: Context, text: str) -> Action:
    """A step whose number no needle holds is left out; the number's finding stands already."""
    for f in ctx.findings.findings:
        if (
            f.code == "number-too-large"
            and action.span.start <= f.span.start
            and f.span.end <= action.span.end
        ):
            return Unread(words=text[action.span.start : action.span.end], span=action.span)
    return action


def held_before_turn(actions: list[Action]) -> list[Action]:
    """HELD: "turn, leaving rem sts on a holder": those not worked are put there before the turn."""
    out = list(actions)
    for i in range(1, len(out)):
        turn, held = out[i - 1], out[i]
        if isinstance(turn, Turn) and isinstance(held, Hold) and held.of == "rest" and held.count is None:
            out[i - 1], out[i] = held, turn
    for i in range(2, len(out)):
        turn, some, held = out[i - 2 : i + 1]
        if not (isinstance(turn, Turn) and isinstance(held, Hold) and held.of == "rest"):
            continue
        if isinstance(some, Resume) and some.part == "these" and some.over is None:
            # "turn and work on these sts only, leave rem 13 sts on a spare needle": those others, once
            out[i - 2 : i + 1] = [held, changed(turn, span=turn.span.cover(some.span))]
            break
    return out


def cast_on_first(actions: list[Action], *, later: bool) -> list[Action]:
    """CAST-ON-FIRST: "Row 6: Cast on 3, k to end": in a row that works, at its beginning."""
    first = actions[0] if actions else None
    if (
        isinstance(first, CastOn)
        and first.at == "start"
        and first.count is not None
        and later
        and any(isinstance(a, (*WORKED, InPattern)) for a in actions[1:])
    ):
        return [changed(first, at="beginning"), *actions[1:]]
    return actions


def rows_in_turn(actions: tuple[Action, ...], many: int) -> tuple[Action, ...]:
    """IN-TURN: "Rows 3-5: Repeat rows 1 and 2, then repeat row 1 once more": three rows, told in two parts.

    many : how many rows the label names. Changed only where the parts come to just so many.
    """
    if len(actions) < 2 or many < 2:
        return actions
    numbers: list[int] = []
    for a in actions:
        if (
            not isinstance(a, RepeatRows)
            or a.until is not None
            or a.rows.section
            or a.rows.back
            or a.rows.names
        ):
            return actions
        one = a.rows.numbers or tuple(range(a.rows.first or 1, (a.rows.last or 0) + 1))[:many]
        often = a.times.values if a.times is not None else (1,)
        if len(often) > 1 or not one:
            return actions
        numbers += one * min(often[0] or 1, many)
    if len(numbers) != many:
        return actions
    span = actions[0].span.cover(actions[-1].span)
    return (RepeatRows(rows=RowSet(numbers=tuple(numbers), span=span), span=span),)


def up_to_the_rest(actions: list[Action], text: str) -> list[Action]:
    """UP-TO: "K3, purl across, k3": what goes across leaves the stitches that are told after it."""
    for i, a in enumerate(actions):
        if (
            not isinstance(a, Fill)
            or a.to.kind is not PlaceKind.END
            or a.to.before is not None
            or not text[a.span.start : a.span.end].lower().endswith("across")
        ):
            continue
        after = [x for x in actions[i + 1 :] if not isinstance(x, Stated | Note)]
        counts = [x.count.values for x in after if isinstance(x, Work) and x.stitch in {"k", "p"}]
        if not after or len(counts) < len(after) or len({len(v) for v in counts}) > 1:
            return actions
        left = tuple(
            None if None in each else sum(v or 0 for v in each) for each in zip(*counts, strict=True)
        )
        place = changed(a.to, before=Number(values=left, span=a.to.span))
        return [*actions[:i], changed(a, to=place), *actions[i + 1 :]]
    return actions


def ending_restated(actions: list[Action]) -> list[Action]:
    """RESTATED: "*k2tog, yo; rep from * across, ending with yo, k3": the yarn over is that of the repeat."""
    for i in range(1, len(actions)):
        before, first = actions[i - 1], actions[i]
        if (
            isinstance(before, Repeat)
            and before.cut
            and isinstance(first, Work)
            and first.stitch == "yo"
            and isinstance(before.body[-1], Work)
            and (before.body[-1].stitch, before.body[-1].count.values) == ("yo", first.count.values)
        ):
            whole = changed(before, span=before.span.cover(first.span))
            return [*actions[: i - 1], whole, *actions[i + 1 :]]
    return actions
