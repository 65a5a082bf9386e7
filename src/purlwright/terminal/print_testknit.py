"""What test knitters found, as a page.

In: the answer. Out: lines of text: what differs, and whose it is; what agrees only counted.
"""

from __future__ import annotations

from purlwright.proof.said import ONE_SIZE, count
from purlwright.terminal.look import Look, plain, wrap
from purlwright.wire.testknit import TestKnitLineOut, TestKnitOut

__all__ = ["show_test_knit"]

_HEADS = {
    "gauge": "Gauge",
    "stitches": "Stitches",
    "size": "Size",
    "yarn": "Yarn",
    "time": "Time",
    "words": "Hard to follow",
}


def show_test_knit(done: TestKnitOut, look: Look) -> list[str]:
    """The page."""
    whom = [*([f"size {done.size}"] if done.size != ONE_SIZE else []), *done.options.values()]
    out = [look.strong(plain(done.title)) + (f" ({plain(', '.join(whom))})" if whom else "")]
    if not done.lines:
        return [*out, "", *wrap("The form has no answers yet.", look.width)]
    for about, head in _HEADS.items():
        mine = [x for x in done.lines if x.about == about]
        if not mine:
            continue
        right = sum(x.whose == "agrees" for x in mine)
        rest = [x for x in mine if x.whose != "agrees"]
        out += [
            "",
            look.strong(head) + (f"  {right} of {len(mine)} as expected" if about != "words" else ""),
        ]
        for x in rest:
            out += _line(x, look)
    pattern = sum(x.whose == "the pattern" for x in done.lines)
    words = (
        f"{count(pattern, 'answer')} {'point' if pattern != 1 else 'points'} at the pattern."
        if pattern
        else "Nothing here points at the pattern."
    )
    return [*out, "", *wrap(words, look.width)]


def _line(x: TestKnitLineOut, look: Look) -> list[str]:
    who = f"{plain(x.knitter)}: " if x.knitter else ""
    if x.about == "words":
        return [f"  {line}" for line in wrap(f"{who}{plain(x.told)}", look.width - 2, "  ")]
    expected = f" instead of {plain(x.expected)}" if x.expected else ""
    if x.about == "time" and x.whose != "her pace":
        expected = f"; {plain(x.expected)} at her pace"
    whose = "" if x.whose in {"open", "her pace"} else f" [{x.whose}]"
    head = f"{who}{plain(x.name)}: {plain(x.told)}{expected}{whose}"
    return [
        *(f"  {line}" for line in wrap(head, look.width - 2, "  ")),
        *(f"    {line}" for line in wrap(plain(x.words), look.width - 4) if x.words),
    ]
