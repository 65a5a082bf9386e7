"""The abbreviations that this sheet uses, and no other, each in full.

In: the told pattern, and all that is printed of its rows and notes. Out: a :class:`Glossary` block under its
heading. Her own explanations keep their order; what she leaves out is taken from the stitch dictionary and
the table of abbreviations, and stands among them by the alphabet.
"""

from __future__ import annotations

import re
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
    ours = sorted(_missing(_without(words, known), explained, terms), key=_by_letters)
    used = _among(used, [replace(t, anchor=f"abbreviation-{n}") for n, t in enumerate(ours, 1)])
    if used or rest:
        yield Heading(text="Abbreviations", level=1, anchor="abbreviations")
        if used:
            yield Glossary(terms=tuple(used))
        yield from rest


def _among(hers: list[Term], ours: list[Term]) -> list[Term]:
    """Both in one list: each of ours after the last of hers that the alphabet has before it."""
    before = [
        max((n for n, t in enumerate(hers, 1) if _by_letters(t) <= _by_letters(o)), default=0) for o in ours
    ]
    out: list[Term] = []
    for n in range(len(hers) + 1):
        out += hers[n - 1 : n] if n else []
        out += [o for o, at in zip(ours, before, strict=True) if at == n]
    return out


def _by_letters(term: Term) -> str:
    return term.term.casefold()


def _without(words: str, known: list[Term]) -> str:
    """The words without her names of several words, of which a part is no abbreviation: "brLsl dec"."""
    for term in known:
        name = _name(term.term)
        if " " in name:
            words = re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", " ", words, flags=re.IGNORECASE)
    return words


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
        if token.kind not in {"s", "w"} or name in seen or _with_number(name, seen):
            continue
        stitch = known.find(token.text)
        if stitch is not None and stitch.readings:  # "yfwd" is told as what it most likely is
            stitch = known.stitches.get(stitch.readings[0])
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
        name = short.name.casefold()
        if name in seen or _with_number(name, seen):
            continue
        if stands_in(short.name, words, any_case=short.any_case):
            full = short.full_uk if terms == "UK" and short.full_uk else short.full
            many = short.many and stands_in(f"{short.name}s", words, any_case=short.any_case)
            yield Term(
                term=f"{short.name}, {short.name}s" if many else short.name,
                meaning=said(f"{full}, {short.many}." if many else f"{full}."),
            )


def _with_number(name: str, seen: set[str]) -> bool:
    """Whether a stitch is explained under its number: "sl1: slip 1 purlwise" explains "sl2" too."""
    alone, one = dictionary().find(name), dictionary().find(f"{name}1")
    return f"{name}1" in seen and alone is not None and one is not None and alone.family is one.family


def _letters(words: str) -> str:
    return "".join(c for c in words.casefold() if c.isalnum())
