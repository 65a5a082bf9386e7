"""The front of a sheet: what it is, the sizes, what is needed, whom to ask.

In: the header of the told pattern. Out: blocks. Keys that mean nothing to us are printed as she wrote them.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.sheet.compose.rows import said, squeezed
from purlwright.sheet.document import Block, Fact, Facts, Heading, Paragraph, Table

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.pattern.header import Entry
    from purlwright.sheet.compose.told import Told

__all__ = ["CHANGED", "closing", "description", "fact_of", "materials", "sizes"]

_SIZES = ("For", "Sizes", "To fit", "Finished size")
_MATERIALS = ("Make", "Yarn", "Needles", "Notions", "Gauge", "Swatch", "Terms", "Public side")
_CLOSING = ("Contact", "Source", "Licence", "Version")
_ELSEWHERE = ("Options", "Picture")
CHANGED = frozenset({"changes", "changed", "what changed", "what is new", "corrections", "corrected"})
DATES = frozenset({"date", "published", "dated", "first published"})


def description(told: Told) -> Iterator[Block]:
    """Her own words on what it is."""
    for words, span in told.pattern.header.description:
        yield Paragraph(words=said(squeezed(words)), span=told.places.hers(span))


def fact_of(entry: Entry, told: Told) -> Fact:
    """A key and its value, as she wrote them."""
    span = told.places.hers(entry.key_span.cover(entry.value_span))
    return Fact(label=squeezed(entry.key), words=said(squeezed(entry.value)), span=span)


def _entries(told: Told, *known: str) -> list[Entry]:
    """The entries of these keys, in the order of the keys."""
    entries = told.pattern.header.entries
    return [e for key in known for e in entries if e.known == key and e.value.strip()]


def sizes(told: Told, more: Sequence[tuple[str, list[str]]] = ()) -> Iterator[Block]:
    """What the sizes are called, whom they fit, how large they come out; in columns if there are several.

    more : further columns, each a head and its cells.
    """
    entries = _entries(told, *_SIZES)
    if not entries:
        return
    yield Heading(text="Sizes", level=1, anchor="sizes")
    table, tabled = _table(told, entries, more)
    yield Facts(facts=tuple(fact_of(e, told) for e in entries if e not in tabled))
    if table is not None:
        yield table


_LIST = re.compile(
    r"(?<![\d.])(?P<first>[\d.]+(?: ?[½¼¾⅓⅔⅛⅜⅝⅞])?|-) ?[(\[](?P<rest>[^()\[\]]*\d[^()\[\]]*)[)\]]"
)
_UNIT = re.compile(
    r"\s*(?P<unit>cm|mm|m|metres?|in|ins|inch|inches|yd|yds|yards|g|oz|balls?|skeins?|years?|yrs?|\")?(?!\w)"
)


def _table(
    told: Told, entries: list[Entry], more: Sequence[tuple[str, list[str]]]
) -> tuple[Table | None, list[Entry]]:
    """One row a size, a column for each list of numbers; and the keys that stand in it with every word."""
    names = told.pattern.sizes
    columns: list[tuple[str, list[str]]] = []
    tabled: list[Entry] = []
    for entry in [*entries, *_entries(told, "Yarn")] if len(names) > 1 else []:
        parts = re.split(r";\s*", entry.value)
        key = f"{squeezed(entry.key)} {_yarn_named(entry, told)}".rstrip()
        mine = [c for c in (_column(key, part, len(names)) for part in parts) if c is not None]
        if entry.known == "Sizes" or not mine:
            continue
        columns += mine
        if len(mine) == len(parts) and entry.known != "Yarn":
            tabled.append(entry)
    columns += more
    if not columns:
        return None, []
    table = Table(
        caption="Size by size",
        head=("Size", *(head for head, _ in columns)),
        rows=tuple((name, *(cells[n] for _, cells in columns)) for n, name in enumerate(names)),
    )
    return table, tabled


def _yarn_named(entry: Entry, told: Told) -> str:
    """The letters by which the words call the yarn of an entry, where there are several: "MC"."""
    found = [y.name for y in told.pattern.yarns if y.name]
    name = entry.value.partition(",")[0].strip()
    return name if entry.known == "Yarn" and len(found) > 1 and name in found else ""


_ABOUT = re.compile(r"\s*\b(?:about|approx\.?|approximately|ca\.?)$", re.IGNORECASE)


def _column(key: str, part: str, sizes: int) -> tuple[str, list[str]] | None:
    """The head and the cells of "46.5 (50, 56.5) cm round the brim"; None if it lists no number a size."""
    m = _LIST.search(part)
    if m is None:
        return None
    numbers, end = _cells(m)
    beside = _LIST.match(part, end + 3) if part[end : end + 3] == " / " else None
    if beside is not None:
        others, end = _cells(beside)
        if len(others) != len(numbers):
            return None
        numbers = [f"{a} / {b}" for a, b in zip(numbers, others, strict=True)]
    if len(numbers) != sizes or _LIST.search(part, end):
        return None
    after = part[end:].strip(" ,.")
    before = _ABOUT.sub("", part[: m.start()].strip(" ,"))
    if before != part[: m.start()].strip(" ,"):
        key = f"{key}, about"
    words = squeezed(" ".join(x for x in (before.strip(" ,"), after) if x))
    return f"{key}: {words}" if words else key, numbers


def _cells(m: re.Match[str]) -> tuple[list[str], int]:
    """Each number of a list with the unit behind it, and where that ends."""
    unit = _UNIT.match(m.string, m.end())
    name = unit["unit"] if unit is not None and unit["unit"] else ""
    numbers = [m["first"], *re.split(r",\s*", m["rest"])]
    return [
        f"{n.strip()} {name}".strip() for n in numbers
    ], unit.end() if name and unit is not None else m.end()


def materials(told: Told) -> Iterator[Block]:
    """Yarn, needles, notions, gauge, and every key of her own."""
    own = [
        e for e in told.pattern.header.entries
        if e.known is None and e.value.strip() and e.key.casefold().strip() not in CHANGED | DATES
    ]  # fmt: skip
    entries = [*_entries(told, *_MATERIALS), *own]
    if entries:
        yield Heading(text="Materials", level=1, anchor="materials")
        yield Facts(facts=tuple(fact_of(e, told) for e in entries))


def closing(told: Told) -> Iterator[Block]:
    """Whom to ask, whose it is, which version, and what changed."""
    changed = [e for e in told.pattern.header.entries if e.key.casefold().strip() in CHANGED | DATES]
    entries = [*_entries(told, *_CLOSING), *changed]
    if entries:
        yield Heading(text="About this pattern", level=1, anchor="about")
        yield Facts(facts=tuple(fact_of(e, told) for e in entries))
