"""What went wrong, as a page.

In: the answer. Out: lines of text: what most likely happened, why, what mends it, and what to look at next.
"""

from __future__ import annotations

from collections.abc import Iterable

from purlwright.rescue.naming import stitches
from purlwright.rescue.verdict import MENDED
from purlwright.terminal.look import Look, plain, wrap
from purlwright.wire.rescue import CureOut, DiagnosisOut, FoundOut, RescueOut

__all__ = ["show_rescue"]

PATTERN = "P00"
LOST = "E01"


def show_rescue(answer: RescueOut, look: Look) -> list[str]:
    """The page."""
    out = [
        look.strong(plain(answer.title)),
        *wrap(plain(", ".join([answer.size, *answer.options.values()])), look.width),
        "",
    ]
    for note in answer.notes:
        out += [*wrap(plain(note), look.width), ""]
    if answer.clash is not None:
        out += [look.careful(line) for line in wrap(plain(answer.clash), look.width)]
        out.append("")
    if not answer.facts:
        out += wrap("Say what you see, one thing at a time.", look.width)
    elif answer.found and (answer.clash is None or answer.found[0].likely >= MENDED):
        out += _first(answer, look)
        others = answer.found[1:] if not answer.clear or answer.found[0].how_sure != "almost certain" else []
        if others:
            out += ["It could also be:", ""]
            for d in others:
                out += _set(f"{_sentence(d)} ({_percent(d)})", look)
            out.append("")
    if answer.next is not None:
        out += wrap(f"Look at this next: {answer.next.asks}", look.width)
        out += [look.faint(line) for line in wrap(answer.next.how, look.width)]
        if answer.next.words:
            out += _set(", ".join(answer.next.words), look)
    return out


def _first(answer: RescueOut, look: Look) -> list[str]:
    d = answer.found[0]
    sure = f"{d.how_sure.capitalize()} ({_percent(d)})"
    if d.likely < MENDED:
        sure = f"It is not clear yet. The likeliest of many ({_percent(d)}):"
    out = [look.strong(line) for line in wrap(sure, look.width)]
    out += [*wrap(plain(_sentence(d)), look.width), ""]
    if d.now is not None:
        out += wrap(plain(_now(d.code, d.now)), look.width)
        out.append("")
    if d.alike:
        out += [*wrap(f"The very same would be seen of: {', '.join(d.alike)}.", look.width), ""]
    out += _reasons("For it:", d.reasons, look)
    out += _reasons("Against it:", d.against, look)
    if d.code == PATTERN:
        out += wrap(
            "Do not rip: the next row does not come out on the right stitches either. "
            "proof says what is wrong in the words.",
            look.width,
        )
        return [*out, ""]
    if d.code == LOST:
        follows = d.now.next if d.now is not None else ""
        if follows and d.now is not None:
            mended = "If that is so, nothing is to be mended" if d.against else "Nothing is to be mended"
            out += [*wrap(plain(f"{mended}. Next: {follows}, line {d.now.line}"), look.width)]
            out += [look.faint(f"  {line}") for line in wrap(plain(d.now.next_words), look.width - 2)]
        return [*out, ""]
    if not d.cures:
        return [*out, *wrap(_no_cure(answer), look.width), ""]
    out += ["What mends it:", ""]
    for cure in d.cures:
        out += _cure(cure, look)
    return [*out, ""]


def _now(code: str, now: FoundOut) -> str:
    """The row that she has just finished; where only the place was lost, it has been named already."""
    right = f"the right count there is {now.stitches}."
    if code == LOST:
        return f"{now.side} faces you; {right}" if now.side else f"The{right[3:]}"
    side = f", {now.side} facing" if now.side else ""
    return f"You have just finished {now.name} ({now.number}){side}; {right}"


def _no_cure(answer: RescueOut) -> str:
    """Why nothing is offered, and what to do instead."""
    if answer.clash is not None:
        return "Undo nothing yet: first find what was counted or seen wrong."
    if answer.found[0].likely < MENDED and answer.next is not None:
        return "Undo nothing yet: too much else would look the same."
    if answer.found[0].likely < MENDED:
        return "Too much else would look the same: show it to someone who knits before you rip."
    return "No cure is safe here: show it to someone who knits before you rip."


def _cure(cure: CureOut, look: Look) -> list[str]:
    cost = "costs nothing" if cure.cost == 0 else f"costs about {stitches(cure.cost)}"
    then = (
        f"Then you have {stitches(cure.stitches)}, and {cure.name} is done."
        if cure.row
        else f"Then you have {stitches(cure.stitches)} cast on."
    )
    out = [look.cure(f"  {cure.grade} ({cost})")]
    out += [f"    {line}" for line in wrap(plain(f"{cure.what} {then}"), look.width - 4)]
    if cure.shows != "Nothing.":
        out += [look.faint(f"    {line}") for line in wrap(f"Afterwards: {cure.shows}", look.width - 4)]
    return out


def _sentence(d: DiagnosisOut) -> str:
    """What happened, and where."""
    did = f"{d.did[:1].upper()}{d.did[1:]}"
    if d.made_in is None:
        return f"{did}."
    return f"{did}, in {d.made_in.name} ({d.made_in.number})."


def _reasons(head: str, reasons: Iterable[str], look: Look) -> list[str]:
    said = "; ".join(reasons)
    return [*wrap(plain(f"{head} {said}."), look.width, "  "), ""] if said else []


def _percent(d: DiagnosisOut) -> str:
    n = min(99, max(1, round(d.likely * 100)))
    return f"{n} in 100"


def _set(words: str, look: Look) -> list[str]:
    return [f"  {line}" for line in wrap(plain(words), look.width - 2, "  ")]
