"""The abbreviations that this sheet uses, and no other, each in full.

In: the told pattern, and all that is printed of its rows and notes. Out: a :class:`Glossary` block under its
heading. Her own explanations come first; what she leaves out is taken from the stitch dictionary and the
table of abbreviations.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from purlwright.pattern.definitions import find_drafts
from purlwright.pattern.sources import source_in
from purlwright.pattern.tokens import tokenize
from purlwright.sheet.compose.abbreviations import shorts, stands_in
from purlwright.sheet.compose.rows import said, squeezed
from purlwright.sheet.document import Block, Glossary, Heading, Paragraph, Term
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.pattern.words_names import Terms
    from purlwright.sheet.compose.told import Told

__all__ = ["glossary", "hers"]

_ANCHOR = "term-"


def hers(told: Told, topic: str = "abbreviations") -> tuple[list[Term], list[Paragraph]]:
    """Every abbreviation that she explains, and the lines under that heading that explain none."""
    terms: list[Term] = []
    rest: list[Paragraph] = []
    for section in told.pattern.sections:
        if section.topic != topic:
            continue
        for line in section.lines:
            if topic == "stitches" and source_in(line.text):
                continue  # it stands over the list
            drafts = find_drafts(line.text, line.offset, topic)
            if not drafts:
                whole = Span(line.offset, line.offset + len(line.text))
                rest.append(Paragraph(words=said(squeezed(line.text)), span=told.places.hers(whole)))
            for draft in drafts:
                name = f"{draft.name} ({draft.meaning})" if draft.meaning else draft.name
                span = Span(draft.name_offset, draft.offset + len(draft.words))
                terms.append(
                    Term(
                        term=name,
                        meaning=said(squeezed(draft.words)),
                        anchor=f"{_ANCHOR}{draft.name_offset}",
                        span=told.places.hers(span),
                    )
                )
    return terms, rest


def glossary(told: Told, printed: str, terms: Terms) -> Iterator[Block]:
    """The list under its heading; nothing where the sheet has no abbreviation."""
    known, rest = hers(told)
    used = [t for t in known if _used(t, printed)]
    words = " ".join([printed, *("".join(r.text for r in t.meaning) for t in used)])
    used += [t for t in known if t not in used and _used(t, words)]
    used.sort(key=known.index)
    explained = [_name(t.term).casefold() for t in (*known, *hers(told, "stitches")[0])]
    ours = sorted(_missing(words, explained, terms), key=lambda t: t.term.casefold())
    used += [replace(t, anchor=f"abbreviation-{n}") for n, t in enumerate(ours, 1)]
    if used or rest:
        yield Heading(text="Abbreviations", level=1, anchor="abbreviations")
        if used:
            yield Glossary(terms=tuple(used))
        yield from rest


def _name(term: str) -> str:
    return term.partition(" (")[0]


def _used(term: Term, words: str) -> bool:
    return any(stands_in(name.strip(), words) for name in _name(term.term).split("/ ")) or stands_in(
        _name(term.term), words
    )


def _missing(words: str, explained: list[str], terms: Terms) -> Iterator[Term]:
    """Abbreviations in the words that she does not explain."""
    known = dictionary()
    seen = set(explained)
    for token in tokenize(words, 0, known.compact):
        name = token.low
        if token.kind == "w" and name not in {"k", "p"}:
            continue
        if token.kind not in {"s", "w"} or name in seen:
            continue
        stitch = known.find(token.text)
        if stitch is None or stitch.readings:
            continue
        full = stitch.name_us if terms == "US" else stitch.name_uk
        seen.add(name)
        if _letters(full) != _letters(name):
            shown = (
                stitch.us if stitch.us.casefold() == name else token.text if token.text.islower() else name
            )
            yield Term(term=shown, meaning=said(f"{full}."))
    for short in shorts():
        if short.name.casefold() not in seen and stands_in(short.name, words, any_case=short.any_case):
            full = short.full_uk if terms == "UK" and short.full_uk else short.full
            many = short.many and stands_in(f"{short.name}s", words, any_case=short.any_case)
            yield Term(
                term=f"{short.name}, {short.name}s" if many else short.name,
                meaning=said(f"{full}, {short.many}." if many else f"{full}."),
            )


def _letters(words: str) -> str:
    return "".join(c for c in words.casefold() if c.isalnum())
