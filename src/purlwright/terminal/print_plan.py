"""A plan, as a page.

In: the answer and the page to write on. Out: lines of text.
"""

from __future__ import annotations

from collections.abc import Sequence

from purlwright.terminal.look import Look, plain, wrap
from purlwright.wire.plan import PlanMeasureOut, PlanOut

__all__ = ["show_plan"]


def show_plan(done: PlanOut, look: Look) -> list[str]:
    """Numbers, what they measure and by how much they are off, rows in words, the proof, and the pattern."""
    out = [look.strong(plain(done.title))] if done.title else []
    if len(done.sizes) > 1:
        out += wrap(f"  in sizes {', '.join(plain(s) for s in done.sizes)}", look.width)
    if done.give_up:
        out += ["", look.bad("This cannot be met.")]
        for one in done.give_up:
            out += wrap(plain(one), look.width)
    if done.numbers:
        out.append("")
        wide = max(len(n.name) for n in done.numbers)
        out += [f"  {plain(n.name):<{wide}}  {n.words}" for n in done.numbers]
    if done.measures:
        out.append("")
        for measure in done.measures:
            out += _measure(measure)
    if done.words:
        out.append("")
        for line in done.words:
            indent = line[: len(line) - len(line.lstrip())]
            out += [f"{indent}{part}" for part in wrap(plain(line.strip()), look.width - len(indent))]
    if done.proof is not None:
        out += ["", *_proof(done, look)]
    for sentence in done.said:
        out += ["", *wrap(plain(sentence), look.width)]
    if done.pattern is not None:
        out += [
            "",
            look.faint("─" * min(look.width, 80)),
            *(plain(line) for line in done.pattern.rstrip("\n").split("\n")),
        ]
    return out


def _measure(one: PlanMeasureOut) -> list[str]:
    cm = _list([f"{v:g}" for v in one.cm])
    off = _list([_off(v) for v in one.off_cm])
    inches = _list([_off(v) for v in one.off_in])
    return [f"  {plain(one.name)}: {cm} cm", f"    beside what was wanted: {off} cm / {inches} in"]


def _off(value: float) -> str:
    return "0" if value == 0 else f"{value:+g}".replace("-", "\u2212")


def _list(words: Sequence[str]) -> str:
    if len(set(words)) == 1:
        return words[0]
    return f"{words[0]} ({', '.join(words[1:])})"


def _proof(done: PlanOut, look: Look) -> list[str]:
    proof = done.proof
    assert proof is not None  # noqa: S101 - asked only then
    ways = f"{proof.ways} {'way' if proof.ways == 1 else 'ways'}"
    if proof.clean:
        return [look.good(f"Knitted in {ways}, every size and option: nothing was found.")]
    found = [
        f"{n} {word}{'' if n == 1 else 's'}"
        for n, word in ((proof.errors, "error"), (proof.warnings, "warning"), (proof.notes, "note"))
        if n
    ]
    return [look.careful(f"Knitted in {ways}: {', '.join(found)}.")]
