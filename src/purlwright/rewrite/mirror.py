"""The mirrored half written out: leans, crossings and edges changed over, row by row.

In: a read pattern with a line such as "Work as for left front, reversing shaping." Out: one suggestion
with the rows of the other half. It is knitted, and every stitch must stand in the mirrored place of a
mirrored stitch.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from msgspec.structs import replace as with_fields

from purlwright.pattern import tree
from purlwright.pattern.mirrored import NoMirror, mirrored_actions
from purlwright.pattern.words import actions_words
from purlwright.rewrite.mirrored import not_mirrored
from purlwright.rewrite.suggestion import Read, Suggestion, first_error, in_her_letters, replaced

if TYPE_CHECKING:
    from purlwright.pattern.sections import Section

__all__ = ["mirror"]

_REVERSED = re.compile(r"\brevers\w+\b|\bshap\w+ reversed\b", re.IGNORECASE)


def mirror(read: Read) -> Iterator[Suggestion]:
    """Each line that tells a half as another one reversed, written out."""
    for section in read.pattern.sections:
        for line in section.lines:
            copied = [a for a in line.actions if isinstance(a, tree.RepeatRows) and a.rows.section]
            if len(copied) == 1 and _REVERSED.search(line.text):
                yield _written(read, section, line, copied[0].rows.section or "")


def _written(read: Read, section: Section, line: tree.Line, name: str) -> Suggestion:
    said = Suggestion(
        kind="mirror",
        title=f"{section.heading or 'This half'} written out",
        line=line.line,
        end_line=line.line,
        before=(read.lines[line.line - 1],),
    )
    source = next(
        (s for s in read.pattern.sections if name.lower() in s.heading.lower() and s is not section), None
    )
    if source is None or not section.heading:
        return replace(said, refused=f'the half it copies ("{name}") has no heading of its own')
    terms = read.pattern.header.terms or "US"
    after: list[str] = []
    for old in source.lines:
        try:
            after.append(_line(read, old, "UK" if terms == "UK" else "US"))
        except NoMirror as why:
            return replace(said, refused=f"line {old.line} of the other half: {why}")
    text = replaced(read.lines, line.line, line.line, after)
    pattern, knitted = read.knit(text)
    wrong = first_error(pattern, knitted)
    if wrong:
        return replace(said, refused=f"written out, {wrong}")
    for k in knitted:
        differs = not_mirrored(k, source.heading, section.heading)
        if differs:
            size = f"size {k.size}: " if len(knitted) > 1 else ""
            return replace(said, refused=f"written out, {size}{differs}")
    return replace(said, after=tuple(after), ways=len(knitted))


def _line(read: Read, line: tree.Line, terms: str) -> str:
    """A line of the other half mirrored; in her own words where nothing changes but left and right."""
    actions: Sequence[tree.Action] = mirrored_actions(line.actions)
    if tree.bare(with_fields(line, actions=tuple(actions))) == tree.bare(line):
        return read.lines[line.line - 1]
    words = actions_words(actions, "UK" if terms == "UK" else "US", labelled=line.label is not None)
    if line.label is None:
        return words
    text = read.lines[line.line - 1]
    head, colon, body = text.partition(":")
    if not colon:
        raise NoMirror("its label has no colon")
    if re.match(r"\s*[*\[({]*[A-Z]", body):
        words = re.sub(r"^([*\[({]*)([a-z])", lambda m: m[1] + m[2].upper(), words)
    return f"{head}: {in_her_letters(words, read.text)}"
