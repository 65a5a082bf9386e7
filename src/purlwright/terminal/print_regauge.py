"""A pattern at another gauge, as a page.

In: the answer and the page to write on. Out: lines of text.
"""

from __future__ import annotations

from purlwright.terminal.look import Look, plain, wrap
from purlwright.wire.regauge import RegaugeOut

__all__ = ["show_regauge"]


def show_regauge(done: RegaugeOut, look: Look) -> list[str]:
    """What moved, what depends on the row gauge, what was left, and the pattern; or why there is none."""
    out = [look.strong(plain(done.title)), f"  from {done.before}", f"  to   {done.after}"]
    if done.refused is not None:
        out += ["", look.bad("No new counts can be offered.")]
        out += wrap(plain(done.refused), look.width)
    if done.moved:
        out += ["", look.strong("What moved")]
        for one in done.moved:
            out += wrap(f"  Line {one.line}, {one.counts}: {one.before} to {one.after}", look.width)
    if done.by_rows:
        out += ["", look.strong("What depends on the row gauge")]
        out += wrap(f"  lines {', '.join(str(n) for n in done.by_rows)}", look.width)
    if done.left and done.pattern is not None:
        out += ["", look.strong("Notes with numbers, left as they are: read them again")]
        out += wrap(f"  lines {', '.join(str(n) for n in done.left)}", look.width)
    if done.measures:
        out += ["", look.strong("The same counts at the new gauge")]
        for measure in done.measures:
            out += wrap(f"  {plain(measure.words)}: {_each(measure.same_counts_cm)} cm", look.width)
    yarn = [s for s in done.sizes if s.metres_before is not None]
    if yarn:
        out += ["", look.strong("Yarn")]
        for size in yarn:
            which = "now" if done.pattern is not None else "at the same counts"
            now = f", {which} {size.metres:.0f} m" if size.metres is not None else ""
            out.append(f"  {plain(size.size)}: {size.metres_before:.0f} m at the pattern's gauge{now}")
    if done.proof is not None:
        found = done.proof.errors + done.proof.warnings + done.proof.notes
        said = "nothing was found" if not found else f"{found} things to look at; proof tells them"
        out += ["", f"Knitted in {done.proof.ways} {'way' if done.proof.ways == 1 else 'ways'}: {said}."]
    for sentence in done.said:
        out += ["", *wrap(plain(sentence), look.width)]
    if done.pattern is not None:
        out += ["", look.faint("─" * min(look.width, 80))]
        out += [plain(line) for line in done.pattern.rstrip("\n").split("\n")]
    return out


def _each(values: list[float]) -> str:
    words = [f"{v:g}" for v in values]
    return words[0] if len(set(words)) == 1 else f"{words[0]} ({', '.join(words[1:])})"
