"""Two versions set side by side, as a page.

In: a comparison. Out: lines of text. The designer's words stand uncut, so that they can be copied.
"""

from __future__ import annotations

from collections.abc import Iterable

from purlwright.proof.said import count, sizes_said
from purlwright.revision.compare import Changed, Comparison, Touched
from purlwright.revision.notice import edition, who_is_affected
from purlwright.terminal.look import Look, plain, wrap

__all__ = ["show_comparison"]


def show_comparison(found: Comparison, look: Look) -> list[str]:
    """The page: the head, the lines that change the knitting, those that do not, and who is affected."""
    was, now = edition(found.old), edition(found.new)
    out = [look.strong(plain(found.new.pattern.title or found.old.pattern.title))]
    if was or now:
        out.append(plain(f"{was or 'no version'} and {now or 'no version'}"))
    out.append("")
    if found.same and found.knits_the_same:
        return [*out, "Nothing differs, in the words or in the knitting."]
    if found.facts or found.gone or found.added:
        out += [look.strong("At the head of the pattern"), ""]
        for fact in found.facts:
            out += [f"  {plain(fact.key)}", *_both((fact.was,), (fact.now,), look)]
        if found.gone:
            out += [f"  no longer there: {plain(sizes_said(found.gone))}", ""]
        if found.added:
            out += [f"  new: {plain(sizes_said(found.added))}", ""]
    changes = [c for c in found.lines if c.sizes]
    alone = [c for c in found.lines if not c.sizes]
    out += _blocks("Lines that change the knitting", changes, found, look)
    out += _blocks("Lines worded otherwise, with every stitch as it was", alone, found, look)
    out += _blocks("Notes, headings and explanations", found.notes, found, look)
    out += [look.strong("Are you affected?"), ""]
    for said in who_is_affected(found):
        out += _set_in(said, look)
    out += [*_amounts(found.touched, look), ""]
    if found.options_differ:
        out += wrap(
            "The choices that the two versions offer differ; only those in both were set side by side.",
            look.width,
        )
    out += wrap(_standing(found), look.width)
    return out


def _blocks(title: str, blocks: Iterable[Changed], found: Comparison, look: Look) -> list[str]:
    out: list[str] = []
    for block in blocks:
        if not out:
            out += [look.strong(title), ""]
        lines = block.new_lines or block.old_lines
        place = f"line {lines[0]}" if len(lines) == 1 else f"lines {lines[0]} to {lines[-1]}"
        gone = "" if block.new_lines else " of the older version"
        sizes = f" ({sizes_said(block.sizes)})" if block.sizes and len(found.new.sizes) > 1 else ""
        heading = f"{block.heading}, " if block.heading else ""
        out += [f"  {plain(heading)}{place}{gone}{plain(sizes)}", *_both(block.was, block.now, look)]
    return out


def _both(was: Iterable[str], now: Iterable[str], look: Look) -> list[str]:
    return [
        *(look.faint(f"    was  {plain(words)}") for words in was if words),
        *(look.cure(f"    now  {plain(words)}") for words in now if words),
        "",
    ]


def _amounts(touched: Iterable[Touched], look: Look) -> list[str]:
    """For each size that differs: how many rows, and how many stitches in all."""
    out: list[str] = []
    for one in touched:
        if one.first is None:
            continue
        rows = [
            said
            for number, said in (
                (one.changed, f"{count(one.changed, 'row')} changed"),
                (one.put_in, f"{count(one.put_in, 'row')} put in"),
                (one.taken_out, f"{count(one.taken_out, 'row')} taken out"),
            )
            if number
        ]
        choice = f", {', '.join(f'{n} = {v}' for n, v in one.options)}" if one.options else ""
        stitches = (
            f"{one.made_now:,} stitches in all, as before"
            if one.made_now == one.made_was
            else f"{one.made_now:,} stitches in all instead of {one.made_was:,}"
        )
        who = sizes_said((one.size,))
        out += _set_in(f"{who[0].upper()}{who[1:]}{choice}: {', '.join(rows)}; {stitches}.", look)
    return ["", *out] if out else []


def _set_in(said: str, look: Look) -> list[str]:
    return [f"  {line}" for line in wrap(plain(said), look.width - 2, "  ")]


def _standing(found: Comparison) -> str:
    """How the newer version itself stands."""
    ways = len(found.new.knitted)
    knitted = "was knitted" if ways == 1 else f"was knitted in {ways} sizes and choices"
    if found.new.errors:
        errors = count(found.new.errors, "error")
        return f"The newer version {knitted} and has {errors}: see what proof says before you send it out."
    return f"The newer version {knitted}: no error was found in it."
