"""The sheet in US or in UK terms.

In: a pattern's text that was read. Out: edits, by line: abbreviations changed where the stitch is known, and
the few trade words that differ. What is hers and means the same on both sides stays hers.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.findings import Edit
from purlwright.pattern import tree
from purlwright.pattern.definitions import find_drafts
from purlwright.pattern.words import stitch_words
from purlwright.stitches.kinds import Face
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.pattern.words_names import Terms
    from purlwright.sheet.compose.asked import Work

__all__ = ["in_terms", "terms_of"]

# US words, UK words. Source: Craft Yarn Council, list of US-Canada differences, and publishers' key lists;
# "work even", "weave in" and the moss stitches from common practice.
_PAIRS = (
    ("binding off", "casting off"), ("bind off", "cast off"), ("bind-off", "cast-off"),
    ("bound off", "cast off"), ("bound-off", "cast-off"), ("stockinette stitch", "stocking stitch"),
    ("stockinette", "stocking stitch"), ("gauge", "tension"), ("work even", "work straight"),
    ("weave in", "darn in"), ("moss stitch", "double moss stitch"), ("seed stitch", "moss stitch"),
    ("seed st", "moss st"),
)  # fmt: skip
_US = re.compile(r"\b(?:bind(?:ing)?|bound)[ -]off\b|\bstockinette\b|\bseed st", re.IGNORECASE)
_UK = re.compile(
    r"\bcast(?:ing)?[ -]off\b|\bstocking st|\btension\b|\b(?:yfwd|yrn|yfrn|yon)\b", re.IGNORECASE
)


def terms_of(work: Work) -> Terms:
    """The terms that she writes in: those she names, else those of her words; US if nothing tells."""
    named = work.pattern.header.terms
    if named == "US":
        return "US"
    if named == "UK":
        return "UK"
    text = work.source.text
    return "UK" if _UK.search(text) and not _US.search(text) else "US"


def in_terms(work: Work, terms: Terms) -> dict[int, list[Edit]]:
    """The edits that put the text into these terms, by line; none if it is in them already."""
    if terms_of(work) == terms:
        return {}
    source = work.source
    out: dict[int, list[Edit]] = {}

    def add(edit: Edit) -> None:
        out.setdefault(source.place(edit.span.start)[0], []).append(edit)

    for line in work.pattern.lines:
        for edit in _stitches(line, source.text, terms):
            add(edit)
    for edit in _explained(work, terms):
        add(edit)
    taken = sorted(e.span for group in out.values() for e in group)
    fenced = [c.span for c in work.pattern.charts]
    for edit in _trade_words(source.text, terms):
        if not any(edit.span.start < s.end and s.start < edit.span.end for s in (*taken, *fenced)):
            add(edit)
    for edit in _named(work, terms):
        add(edit)
    return out


def _stitches(line: tree.Line, text: str, terms: Terms) -> Iterator[Edit]:
    """Abbreviations of stitches that are called otherwise in the other terms."""
    works = [n for n in tree.walk(line.actions) if isinstance(n, tree.Work)]
    other: Terms = "UK" if terms == "US" else "US"
    for n, work in enumerate(works):
        stitch = None if work.own else dictionary().stitches.get(work.stitch)
        if stitch is None or work.span.end < 0:
            continue
        new = _over(works, n) if stitch.key == "yo" and terms == "UK" else stitch_words(stitch.key, terms)
        start, end = line.offset + work.span.start, line.offset + work.span.end
        hers = text[start:end]
        for old in {
            stitch_words(stitch.key, other),
            stitch.us,
            stitch.uk,
            *(_OVERS if stitch.key == "yo" else ()),
        }:
            if old.casefold() == hers.casefold() and new.casefold() != hers.casefold():
                capital = hers[0].isupper() and not old[0].isupper()
                yield Edit(Span(start, end), new[0].upper() + new[1:] if capital else new)
                break


_OVERS = ("yfwd", "yrn", "yfrn", "yon")


def _over(works: Sequence[tree.Work], n: int) -> str:
    """What a yarn over is called in UK terms: by what stands before and after it."""
    before = _purls(works[n - 1]) if n else False
    after = _purls(works[n + 1]) if n + 1 < len(works) else False
    return {(False, False): "yfwd", (True, True): "yrn", (False, True): "yfrn", (True, False): "yon"}[
        before, after
    ]


def _purls(work: tree.Work) -> bool:
    stitch = dictionary().stitches.get(work.stitch)
    return stitch is not None and bool(stitch.faces) and stitch.faces[0] is Face.PURL


def _explained(work: Work, terms: Terms) -> Iterator[Edit]:
    """Her explanations of abbreviations that are called otherwise now."""
    for section in work.pattern.sections:
        if section.topic != "abbreviations":
            continue
        for line in section.lines:
            for draft in find_drafts(line.text, line.offset, section.topic):
                stitch = dictionary().find(draft.name)
                if stitch is None or stitch.readings:
                    continue
                new = stitch_words(stitch.key, terms)
                if new.casefold() == draft.name.casefold() or draft.name.casefold() not in {
                    stitch.us.casefold(), stitch.uk.casefold(), *(_OVERS if stitch.key == "yo" else ()),
                }:  # fmt: skip
                    continue
                full = stitch.name_us if terms == "US" else stitch.name_uk
                span = Span(draft.name_offset, draft.offset + len(draft.words))
                yield Edit(span, f"{new}: {full}.")


def _trade_words(text: str, terms: Terms) -> Iterator[Edit]:
    pairs = {(us if terms == "UK" else uk): (uk if terms == "UK" else us) for us, uk in reversed(_PAIRS)}
    known = re.compile(
        rf"\b(?:{'|'.join(sorted(map(re.escape, pairs), key=len, reverse=True))})", re.IGNORECASE
    )
    for m in known.finditer(text):
        new = pairs[m[0].casefold()]
        if m[0].isupper():
            new = new.upper()
        elif m[0][0].isupper():
            new = new[0].upper() + new[1:]
        yield Edit(Span(*m.span()), new)


def _named(work: Work, terms: Terms) -> Iterator[Edit]:
    """The header says which terms these are, where it said so."""
    for entry in work.pattern.header.entries:
        if entry.known == "Terms":
            yield Edit(entry.value_span, terms)
