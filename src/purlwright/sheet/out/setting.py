"""A document as the plain values that a page is set from, and the pictures beside them.

In: a document, the paper, and whether the print is large. Out: what ``sheet.typ`` reads as data: words made
ready for paper, blocks of one kind together, and nothing about how they look.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, zip_longest
from typing import TypeAlias, assert_never

from purlwright.drawing import Drawing
from purlwright.sheet.document import (
    Block,
    Cautions,
    Document,
    Facts,
    Figure,
    Glossary,
    Heading,
    Items,
    Note,
    Paragraph,
    Passes,
    Photo,
    Row,
    Run,
    Stamp,
    Table,
    Term,
    Words,
    one_line,
    plain,
)
from purlwright.sheet.out.faces import clusters, legible, missing, spoken
from purlwright.sheet.out.pictures import svg_for_print

__all__ = ["Setter", "Value"]

Value: TypeAlias = "str | int | float | bool | list[Value] | dict[str, Value] | None"

NO_TITLE = "A pattern without a title"

# The longest run of letters without a blank that is sure to fit its place; a longer one may break anywhere.
WORDS, LABEL, CELL = 28, 11, 9
# A row of more letters may fill a page, so that it must be let go over to the next one; so in large print.
LONG, LONG_IN_LARGE = 2000, 420
LINE = 70
"""About how many letters there are in a line."""
FOOT, FOOT_IN_LARGE = 88, 36
CLOSING = 1200
"""So many letters of cautions and of what is said of the pattern fit on one page, with room to spare."""
LONG_TOTAL = 80
"""A total of so many letters never fits beside its row."""
LONG_GLOSSARY = 34
"""A column of more lines may go over to the next page, and both columns with it."""
TWO_COLUMNS = 8
"""From so many abbreviations on, a reader gains by two columns."""


class Setter:
    """Turns blocks into values for the page, and gathers pictures and what cannot be printed on the way."""

    __slots__ = ("anchors", "files", "large", "leads", "level", "lost", "paper", "placed")

    def __init__(self, paper: str, *, large: bool) -> None:
        self.paper = paper
        self.large = large
        self.files: dict[str, bytes] = {}
        self.lost: dict[str, None] = {}
        self.anchors: frozenset[str] = frozenset()
        self.placed: set[str] = set()
        self.level = 0
        self.leads: tuple[Block, ...] = ()

    def whole(self, document: Document) -> dict[str, Value]:
        """The document, its blocks in their order."""
        self.anchors = frozenset(_anchors(document.blocks))
        language, region = spoken(document.language)
        title = one_line(document.title)
        stamp = document.stamp
        blocks = [block for block in document.blocks if _says_something(block)]
        if self.large:
            blocks = list(_enlarged(blocks))
            blocks += _about_large_print(blocks)
        elif _told_already(blocks[-2:], stamp):
            blocks = blocks[:-2]
        self.leads = tuple(_leads(blocks))
        totals = dict.fromkeys(row.total for row in blocks if isinstance(row, Row) and row.total)
        return {
            "title": title or NO_TITLE,
            "printed-title": self._piece(title, CELL),
            "title-length": len(title),
            "under": [self._line(said) for said in _under(document)],
            "foot": self._line(_foot(stamp, FOOT_IN_LARGE if self.large else FOOT)),
            "date": _day(stamp.date),
            "language": language,
            "region": region,
            "paper": self.paper,
            "large": self.large,
            "totals": [self._line(total) for total in totals if len(total) < LONG_TOTAL],
            "together": self._together(blocks),
            "blocks": list(self._blocks(blocks)),
        }

    def _together(self, blocks: Sequence[Block]) -> int:
        """How many of the last blocks share one page: what closes a sheet never stands there alone."""
        heads = [n for n, b in enumerate(blocks) if isinstance(b, Heading)][-2:]
        if self.large or len(heads) < 2 or not _is_closing(blocks[heads[0]]):
            return 0
        last = blocks[heads[0] :]
        letters = sum(len(plain(c.words)) for b in last if isinstance(b, Cautions) for c in b.cautions)
        letters += sum(len(plain(f.words)) for b in last if isinstance(b, Facts) for f in b.facts)
        return len(last) if letters < CLOSING else 0

    # --- words ----------------------------------------------------------------------------------

    def _line(self, words: str) -> str:
        """Words as they can be printed; letters that no face has are noted."""
        self.lost.update(dict.fromkeys(missing(words)))
        return legible(words)

    def _piece(self, words: str, most: int) -> str | list[Value]:
        """The words, in pieces where a run of letters is longer than ``most`` and so must break somewhere."""
        said = self._line(words)
        if not re.search(rf"\S{{{most + 1}}}", said):
            return said
        out: list[Value] = []
        for part in re.split(rf"(\S{{{most + 1},}})", said):
            if len(part) > most and not part[0].isspace():
                letters = list(clusters(part))
                out += ["".join(letters[at : at + 4]) for at in range(0, len(letters), 4)]
            elif part:
                out.append(part)
        return out

    def _words(self, words: Words) -> list[Value]:
        return [self._run(run) for run in words if run.text]

    def _run(self, run: Run) -> dict[str, Value]:
        to = run.to if run.to in self.anchors else None
        return {"text": self._piece(run.text, WORDS), "strong": run.strong, "to": to}

    def _place(self, anchor: str) -> str | None:
        """An anchor the first time it is met: a place has one name, and a name one place."""
        if not anchor or anchor in self.placed:
            return None
        self.placed.add(anchor)
        return anchor

    # --- blocks ---------------------------------------------------------------------------------

    def _blocks(self, blocks: Iterable[Block]) -> Iterator[Value]:
        def together(block: Block) -> str | int:
            return f"rows {bool(block.label)}" if isinstance(block, Row) else id(block)

        groups = [list(group) for _, group in groupby(blocks, key=together)]
        for group, after in zip_longest(groups, groups[1:]):
            first = group[0]
            if isinstance(first, Row):
                yield {
                    "kind": "rows",
                    "labelled": bool(first.label),
                    "rows": [self._row(row) for row in group if isinstance(row, Row)],
                    "keeps": after is not None and isinstance(after[0], Passes),
                }
            else:
                yield self._block(first)

    def _block(
        self,
        block: Heading
        | Paragraph
        | Note
        | Items
        | Facts
        | Table
        | Glossary
        | Passes
        | Figure
        | Photo
        | Cautions,
    ) -> dict[str, Value]:
        match block:
            case Heading():
                # A level is never left out on the way down, or a reader of the tags misses one.
                self.level = min(block.level, self.level + 1)
                return {
                    "kind": "heading",
                    "level": self.level,
                    "text": self._piece(block.text, CELL),
                    "anchor": self._place(block.anchor),
                }
            case Paragraph():
                return {
                    "kind": "paragraph",
                    "words": self._words(block.words),
                    "hers": block.hers,
                    "lead": block.hers and self.level == 0,
                    "keeps": block in self.leads,
                }
            case Note() if self.level == 0:  # before the first heading it says what the piece is
                return self._block(Paragraph(words=block.words))
            case Note():
                return {"kind": "note", "words": self._words(block.words), "keeps": block in self.leads}
            case Items():
                return {
                    "kind": "items",
                    "items": [self._words(item) for item in block.items],
                    "long": self._long(plain(item) for item in block.items),
                }
            case Facts():
                return {
                    "kind": "facts",
                    "long": self._long(plain(fact.words) for fact in block.facts),
                    "facts": [
                        {"label": self._piece(fact.label, LABEL), "words": self._words(fact.words)}
                        for fact in block.facts
                    ],
                }
            case Table():
                return {
                    "kind": "table",
                    "caption": self._piece(block.caption, WORDS) if block.caption else None,
                    "head": [self._piece(cell, CELL) for cell in block.head],
                    "rows": [[self._piece(cell, CELL) for cell in row] for row in block.rows],
                }
            case Glossary():
                halves = _halves(block.terms) if not self.large else [block.terms]
                return {
                    "kind": "glossary",
                    "halves": [[self._term(t) for t in half] for half in halves],
                    "long": max(sum(map(_lines, half)) for half in halves) > LONG_GLOSSARY,
                }
            case Passes():
                return self._passes(block)
            case Figure():
                return self._figure(block)
            case Photo():
                return self._photo(block)
            case Cautions():
                return {
                    "kind": "cautions",
                    "long": sum(len(plain(c.words)) + len(c.source) for c in block.cautions)
                    > (LONG_IN_LARGE if self.large else LONG),
                    "cautions": [
                        {
                            "words": self._words(c.words),
                            "source": self._piece(c.source, WORDS) if c.source else None,
                        }
                        for c in block.cautions
                    ],
                }
            case _:
                assert_never(block)

    def _long(self, listed: Iterable[str]) -> bool:
        """Whether a list may go over to the next page: a short one is kept together."""
        return sum(len(words) + LINE // 2 for words in listed) > LINE * (8 if self.large else 14)

    def _term(self, term: Term) -> dict[str, Value]:
        return {
            "term": self._piece(term.term, LABEL),
            "meaning": self._words(term.meaning),
            "anchor": self._place(term.anchor),
        }

    def _row(self, row: Row) -> dict[str, Value]:
        said = plain(row.words)
        return {
            "label": self._piece(row.label, LABEL) if row.label else None,
            "side": row.side,
            "words": self._words(row.words),
            "total": self._piece(row.total, WORDS) if row.total else None,
            "proved": row.proved,
            "only": self._piece(row.only, WORDS) if row.only else None,
            "boxes": row.boxes,
            "lifeline": row.lifeline,
            "anchor": self._place(row.anchor),
            "letters": len(said),
            "long": len(said) > (LONG_IN_LARGE if self.large else LONG),
        }

    def _passes(self, passes: Passes) -> dict[str, Value]:
        return {
            "kind": "passes",
            "words": self._words(passes.words),
            "first": passes.first,
            "last": max(passes.first, passes.last),
            "counts": [self._piece(count, CELL) for count in passes.counts],
        }

    # --- pictures -------------------------------------------------------------------------------

    def _figure(self, figure: Figure) -> dict[str, Value]:
        name = plain(figure.caption) or "Drawing"
        beside = None
        if figure.beside is not None:
            beside = self._drawing(figure.beside, figure.beside_alternative or f"{name}: key")
        return {
            "kind": "figure",
            **self._drawing(figure.drawing, figure.alternative or name),
            "caption": self._words(figure.caption),
            "beside": beside,
            "said": [self._words(words) for words in figure.said],
            "anchor": self._place(figure.anchor),
        }

    def _drawing(self, drawing: Drawing, alternative: str) -> dict[str, Value]:
        file = f"drawing-{len(self.files)}.svg"
        self.files[file] = svg_for_print(drawing).encode()
        return {
            "file": file,
            "alternative": alternative,
            "size": [max(drawing.width_mm, 0.1), max(drawing.height_mm, 0.1)],
        }

    def _photo(self, photo: Photo) -> dict[str, Value]:
        file = f"photo-{len(self.files)}"
        self.files[file] = photo.data
        return {"kind": "photo", "file": file, "alternative": photo.alternative or photo.name}


# --- what a document says of itself ---------------------------------------------------------------


def _enlarged(blocks: Iterable[Block]) -> Iterator[Block]:
    """Charts in the parts that are meant for a large print, where there are such."""
    replaced = False
    for block in blocks:
        if isinstance(block, Figure):
            replaced = bool(block.larger) or (replaced and block.goes_on)
            if block.larger:
                yield from block.larger
            if replaced:
                continue
        yield block


def _anchors(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Heading | Row | Figure) and block.anchor:
            yield block.anchor
        elif isinstance(block, Glossary):
            yield from (term.anchor for term in block.terms if term.anchor)


def _is_closing(block: Block) -> bool:
    return isinstance(block, Heading) and block.anchor == "cautions"


def _told_already(last: Sequence[Block], stamp: Stamp) -> bool:
    """Whether a sheet would close with nothing but its version and date, which stand under its title."""
    if len(last) < 2 or not isinstance(last[0], Heading) or not isinstance(last[1], Facts):
        return False
    told = {stamp.version.strip(), stamp.date.strip()} - {""}
    return last[0].anchor == "about" and all(plain(f.words).strip() in told for f in last[1].facts)


def _leads(blocks: Sequence[Block]) -> Iterator[Block]:
    """Words right under a heading that lead to what comes next stay on the page with it."""
    for heading, block, after in zip(blocks, blocks[1:], blocks[2:], strict=False):
        if isinstance(heading, Heading) and isinstance(block, Paragraph | Note):
            if not isinstance(after, Heading | Paragraph | Note) and len(plain(block.words)) < LONG_IN_LARGE:
                yield block


def _says_something(block: Block) -> bool:
    match block:
        case Heading():
            return bool(block.text.strip())
        case Paragraph() | Note():
            return bool(plain(block.words).strip())
        case Items():
            return bool(block.items)
        case Facts():
            return bool(block.facts)
        case Glossary():
            return bool(block.terms)
        case Cautions():
            return bool(block.cautions)
        case Table():
            return bool(block.head)
        case Row() | Passes() | Figure() | Photo():
            return True
        case _:
            assert_never(block)


def _edition(stamp: Stamp) -> str:
    version = stamp.version.strip()
    if version and not version.lower().startswith("version"):
        version = f"version {version}"
    return ", ".join(filter(None, [version, stamp.date.strip()]))


def _size(stamp: Stamp) -> str:
    return f"size {stamp.size}" if stamp.size else ""


def _foot(stamp: Stamp, most: int) -> str:
    """The foot of each page, in one line: a long name is cut short, and what follows it falls away."""
    name = one_line(stamp.name)
    rest = " · ".join(filter(None, [_edition(stamp), _size(stamp)]))
    room = most - len(rest) - 3
    if not rest or len(rest) + 3 > most - most // 3:
        return _cut(name, most) or _cut(rest, most)
    return f"{_cut(name, room)} · {rest}" if name else rest


def _cut(words: str, most: int) -> str:
    """The words up to the last blank that fits, and dots for what is left out."""
    if len(words) <= most:
        return words
    head = words[: most - 1]
    return (head.rpartition(" ")[0] or head).rstrip(" ,;:·") + "…"


def _under(document: Document) -> Iterator[str]:
    """What stands under the title: for whom this sheet is, and which one."""
    said = _size(document.stamp)
    if said:
        yield said[0].upper() + said[1:]
    if document.left_handed:
        yield "for left-handed knitting"
    edition = _edition(document.stamp)
    if edition:
        yield edition[0].upper() + edition[1:] if not said and not document.left_handed else edition


def _day(date: str) -> dict[str, Value] | None:
    """The day for the file's own date, when hers is written as a calendar day of ISO 8601."""
    found = re.fullmatch(r"(\d{4})-(0[1-9]|1[0-2])-(0[1-9]|[12]\d)", date.strip())
    return dict(zip(("year", "month", "day"), map(int, found.groups()), strict=True)) if found else None


def _halves(terms: Sequence[Term]) -> list[Sequence[Term]]:
    """One column or two of about the same height."""
    if len(terms) < TWO_COLUMNS:
        return [terms]
    heights = list(map(_lines, terms))
    cut = min(range(1, len(terms)), key=lambda n: abs(sum(heights[:n]) - sum(heights[n:]) - 0.5))
    return [terms[:cut], terms[cut:]]


def _lines(term: Term) -> int:
    """About how many lines a term takes in one of two columns."""
    return 1 + len(plain(term.meaning)) // 38


def _about_large_print(blocks: Sequence[Block]) -> list[Block]:
    """Which of the rules of large print this sheet keeps, and no other."""
    over = any(isinstance(b, Row) and len(plain(b.words)) > LONG_IN_LARGE for b in blocks)
    pictures = any(isinstance(b, Figure | Photo) for b in blocks)
    said = [
        "Letters of 22 points or more, upright, in black on white.",
        "One column, aligned at the left, with margins of an inch and no word divided.",
        "A blank line between rows, and each row under its own name.",
        "Only a row too long for a page goes over to the next."
        if over
        else "No row goes over to the next page.",
        "The page number stands at the left, and the foot of the page says nothing that is not said above.",
    ]
    if pictures:
        said.append("Pictures keep the inks and the lettering of their own; each has its words beside it.")
    return [
        Heading(text="About this print"),
        Paragraph(words=(Run("This is a sheet in large print. It keeps to this:"),), hers=False),
        Items(items=tuple((Run(words),) for words in said)),
    ]
