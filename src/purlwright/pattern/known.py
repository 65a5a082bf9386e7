"""What is known of a pattern before any line is read.

In: the header and the blocks of a text. Out: the :class:`Context` that every line is read with: sizes, named
numbers, yarns, markers, names of rows, of charts and of the pattern's own stitches. Reading the lines is left
to ``read``.
"""

from __future__ import annotations

import re
from itertools import product
from typing import TYPE_CHECKING

from purlwright.pattern.cut import Block, Sort, topic_of
from purlwright.pattern.definitions import Draft, find_drafts, headed_draft, may_define
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.ordinals import ORDINAL
from purlwright.pattern.sources import source_in
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable, Iterator

    from purlwright.pattern.arrange import Raw
    from purlwright.pattern.cache import LineCache
    from purlwright.pattern.header import Entry, Header
    from purlwright.text import Source

__all__ = ["begins_named_row", "chart_name", "fingerprint", "know", "own_stitches"]

_WORDS, _FENCE = Sort.WORDS, Sort.FENCE

_ROW_NAME = re.compile(
    r"(?im)^[ \t]{0,8}(?P<name>(?!next\b|foll(?:owing)?\b)[a-z][a-z .-]{1,30}?"
    r" (?:row|rnd|round)(?: \d{1,2})?)"
    r"[ \t]{0,8}(?:\([^)\n]{1,30}\))?[ \t]{0,8}:"
)
_NUMBERED = re.compile(rf"{ORDINAL} (?:row|rnd|round)")
_MARKER = re.compile(
    r"\b(?:(?P<a>[A-Z])[ -]marker|markers?\s+(?P<b>[A-Z])\b(?!\s*[a-z])|pm(?P<c>[A-Z])\b"
    r"|(?P<d>red|blue|green|white|black|yellow|side|raglan|contrast(?:ing)?|thumb|gusset|bor|beg)\s+markers?)"
)
_COLOUR = re.compile(
    r"\b(?:colou?r|yarn|shade)\s+(?P<a>[A-H]|\d)\b"
    r"|\b(?:[Ww]ith|[Uu]sing|[Jj]oin)\s+(?P<b>[A-H]|MC|CC\d?)\b"
    r"|\b(?:[Ww]ith|[Uu]sing|[Jj]oin) (?P<c>(?!RS|WS|CO|BO|RH|LH|US|UK|DPN|PM|SM)[A-Z]{2,3}\d?)"
    r"(?=[,.;:)]| (?:cast|CO|only|and|k|p|K|P|work|knit|purl)\b)"
)


def chart_name(block: Block, raw: Raw) -> str:
    """What stands after the fence's word "chart", or the section's heading, or "Chart"."""
    named = block.info[len("chart") :].strip(" :")
    return named or raw.heading or "Chart"


def own_stitches(source: Source, raws: list[Raw], entries: tuple[Entry, ...]) -> list[Draft]:
    """The pattern's own stitches, each name once; the first explanation that can define it is taken."""
    table = dictionary()
    out: dict[str, Draft] = {}
    for draft in _explanations(source, raws, entries):
        if may_define(draft, table.compact, table.stitches):
            out.setdefault(draft.name.lower(), draft)
    return list(out.values())


def _explanations(source: Source, raws: list[Raw], entries: tuple[Entry, ...]) -> Iterator[Draft]:
    """Every explanation: lines and headings under Special stitches and the like, keys of the header."""
    for e in entries:
        topic = topic_of(e.key)
        if topic in {"abbreviations", "stitches"}:
            yield from find_drafts(source.words(e.value_span), e.value_span.start, topic)
    for raw in raws:
        if raw.topic not in {"abbreviations", "stitches", "notes"}:
            continue
        named = raw.inner and raw.topic == "stitches"
        for block in raw.blocks:
            if block.sort is not _WORDS or source_in(source.text[block.start : block.end]):
                continue
            drafts = find_drafts(source.text[block.start : block.end], block.start, raw.topic)
            if not drafts and named:
                drafts = (
                    headed_draft(
                        raw.heading, raw.span.start, source.text[block.start : block.end], block.start
                    ),
                )
            named = False
            yield from drafts


def begins_named_row(words: str) -> bool:
    """Whether a line tells a row by its name: "Buttonhole row (RS): K2, k2tog, yo, k to end."."""
    return _ROW_NAME.match(words) is not None


def names_in(words: str) -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    """The names of yarns, markers and rows that begin in the first of two lines."""
    end = words.find("\n")
    yarns = {(m["a"] or m["b"] or m["c"]).lower() for m in _COLOUR.finditer(words) if m.start() < end}
    markers = {next(g for g in m.groups() if g).lower() for m in _MARKER.finditer(words) if m.start() < end}
    rows = (m["name"] for m in _ROW_NAME.finditer(words) if m.start() < end)
    row_names = {" ".join(name.lower().replace(".", " ").split()) for name in rows}
    row_names = {name for name in row_names if not _NUMBERED.fullmatch(name)}
    return frozenset(yarns), frozenset(markers), frozenset(row_names)


_SHORT = {
    "pattern": ("patt", "pat"),
    "stitch": ("st",),
    "patt": ("pattern", "pat"),
    "pat": ("pattern", "patt"),
}


def _other_spellings(low: str) -> Iterator[str]:
    """How else a stitch pattern may be called: "pattern stitch" is "patt st" in the rows."""
    each = [(word, *_SHORT.get(word, ())) for word in low.split()]
    if sum(len(one) > 1 for one in each) <= 3:
        yield from (" ".join(words) for words in product(*each))


_NO_NAMES = (frozenset[str](), frozenset[str](), frozenset[str]())


def know(
    text: str,
    header: Header,
    sizes: tuple[str, ...],
    raws: list[Raw],
    numbers: dict[str, tuple[int, ...]],
    drafts: Iterable[Draft],
    cache: LineCache,
) -> Context:
    """Everything a line may lean on: sizes, numbers, yarns, names of rows, markers, charts and own
    stitches.
    """
    compact = dictionary().compact
    own = {d.name.lower(): d.name for d in drafts}
    own |= {d.meaning.lower(): d.name for d in drafts if " " in d.meaning and d.meaning.lower() not in own}
    called: dict[str, str] = {}
    for raw in raws:
        if raw.topic == "called":
            low = " ".join(raw.heading.lower().split())
            called[low] = raw.heading
            called.setdefault(re.sub(r"\s*\([^()]*\)$", "", low) or low, raw.heading)
        for block in raw.blocks:
            if block.sort is _FENCE and block.info.lower().startswith("chart"):
                name = chart_name(block, raw)
                called.setdefault(name.lower(), name)
    for low, name in list(called.items()):
        for other in _other_spellings(low):
            called.setdefault(other, name)
    yarns = {y.name.lower() for y in header.yarns if y.name}
    markers: set[str] = set()
    row_names: set[str] = set()
    lines = text.split("\n")
    known = cache.names
    if len(known) > cache.most:
        known.clear()
    for two in zip(lines, [*lines[1:], ""], strict=True):
        here = known.get(two)
        if here is None:
            here = names_in("\n".join(two))
            here = known[two] = here if any(here) else _NO_NAMES
        if here is not _NO_NAMES:
            yarns |= here[0]
            markers |= here[1]
            row_names |= here[2]
    mine = {name: "=" + shown for name, shown in own.items() if " " not in name}
    table = {**compact, **mine} if mine else compact
    return Context(
        sizes=sizes,
        numbers=numbers,
        own=own,
        called=called,
        yarns=frozenset(yarns),
        row_names=frozenset(row_names),
        markers=frozenset(markers),
        compact=table,
        terms=header.terms,
    )


def fingerprint(ctx: Context) -> Hashable:
    """All that a line's reading may lean on, to tell whether a line read before is still good."""
    return (
        ctx.sizes,
        tuple(ctx.numbers.items()),
        tuple(ctx.own.items()),
        tuple(ctx.called.items()),
        ctx.yarns,
        ctx.row_names,
        ctx.markers,
        ctx.terms,
    )
