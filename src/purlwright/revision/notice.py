"""The corrections notice: what to put in the place of what, and who needs to look.

In: a comparison. Out: plain lines of text, ready to send out or to print. Only what knitters must know is in
it: changes of wording alone are left to the comparison.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import groupby

from purlwright.pattern.words_numbers import ordinal_words
from purlwright.proof.said import and_list, sizes_said
from purlwright.revision.compare import QUIET_KEYS, Changed, Comparison, Touched, Version

__all__ = ["edition", "notice", "place_said", "who_is_affected"]


def edition(version: Version) -> str:
    """What a version calls itself: "version 1.1"; "" if it does not say."""
    entries = version.pattern.header.entries
    said = next((e.value.strip() for e in entries if (e.known or e.key).casefold() == "version"), "")
    return said if not said or re.match(r"version\b", said, re.IGNORECASE) else f"version {said}"


def place_said(touched: Touched) -> str:
    """From which row on a size is affected; "" if it is not."""
    first = touched.first
    if first is None:
        return ""
    place = f"{first.label} of {first.section}" if first.section else first.label
    again = f", the {ordinal_words(first.pass_)} time it is worked" if first.pass_ > 1 else ""
    return f"from {place}{again} (row {first.number:,} of the whole work)"


def notice(found: Comparison) -> list[str]:
    """The notice, line by line. Raises ValueError if nothing that a knitter must know was changed."""
    if not found.must_be_told:
        raise ValueError("Nothing that changes the knitting was changed, so there is nothing to correct.")
    facts = [f for f in found.facts if f.key not in QUIET_KEYS]
    lines = [c for c in found.lines if c.sizes]
    was, now = edition(found.old), edition(found.new)
    title = found.new.pattern.title or "this pattern"
    out = [f"Corrections to {title}" + (f", {was}" if was else "")]
    if now:
        out += ["", f"They are made in {now}."]
    if facts or found.gone or found.added:
        out += ["", "At the head of the pattern"]
        for fact in facts:
            out += _instead(f"  {fact.key}", fact.was, fact.now)
        if found.gone:
            out.append(f"  No longer given: {sizes_said(found.gone)}.")
        if found.added:
            out.append(f"  New: {sizes_said(found.added)}.")
    for heading, blocks in groupby(lines, key=lambda c: c.heading):
        out += ["", heading or "Before the first heading"]
        for block in blocks:
            out += _block(block, found)
    out += ["", "Are you affected?", *(f"  {said}" for said in who_is_affected(found))]
    return out


def _block(block: Changed, found: Comparison) -> Iterator[str]:
    if len(block.was) == 1 and len(block.now) == 1:
        yield from _instead("", block.was[0], block.now[0])
    else:
        for words in block.was:
            yield f"  Leave out: {words}"
        for words in block.now:
            yield f"  Put in:    {words}"
    every = set(block.sizes) >= set(found.new.sizes)
    if len(found.new.sizes) > 1:
        said = sizes_said(block.sizes)
        yield "  For every size." if every else f"  {said[0].upper()}{said[1:]} only."


def _instead(name: str, was: str, now: str) -> list[str]:
    head = [name] if name else []
    if not was:
        return [*head, f"  Put in:     {now}"]
    if not now:
        return [*head, f"  Leave out:  {was}"]
    return [*head, f"  Printed:    {was}", f"  Should be:  {now}"]


def who_is_affected(found: Comparison) -> list[str]:
    """A sentence for each set of sizes and choices that are affected alike, or are not."""
    if not found.touched:
        return ["No size and choice is in both versions, so no rows were set side by side."]
    groups: dict[str, list[Touched]] = {}
    for touched in found.touched:
        groups.setdefault(place_said(touched), []).append(touched)
    out = []
    for place, those in groups.items():
        who = _ways_said(those, found)
        if not place:
            out.append(f"{who}: not affected; every stitch is as it was.")
            continue
        counts = [t.first.start for t in those if t.first is not None]
        before = ""
        if any(counts):
            alike = len(set(counts)) == 1
            listed = str(counts[0]) if alike else f"{counts[0]} ({', '.join(map(str, counts[1:]))})"
            before = f"; on the needle before it: {listed} {'stitch' if listed == '1' else 'stitches'}"
        out.append(f"{who}: affected {place}{before}.")
    return out


def _ways_said(those: list[Touched], found: Comparison) -> str:
    """``Sizes S and M``, ``With turns = wrapped``, ``Size S with turns = wrapped``, ``Every size``."""
    every = found.touched
    several = len(found.new.pattern.sizes) > 1
    if len(those) == len(every) and (not several or len({t.size for t in every}) > 1):
        return "Every size" if several else "Every copy"
    sizes = tuple(dict.fromkeys(t.size for t in those))
    choices = tuple(dict.fromkeys(t.options for t in those))
    whole = len(those) == len(sizes) * len(choices)
    said = []
    for group in [(sizes, choices)] if whole else [((t.size,), (t.options,)) for t in those]:
        words = []
        if several and len(found.new.pattern.sizes) > len(group[0]):
            words.append(sizes_said(group[0]))
        if len({t.options for t in every}) > len(group[1]):
            named = [", ".join(f"{name} = {value}" for name, value in choice) for choice in group[1]]
            words.append(f"with {' or '.join(named)}")
        said.append(" ".join(words))
    joined = and_list(said)
    return joined[0].upper() + joined[1:]
