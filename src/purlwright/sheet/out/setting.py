"""A document as the plain values that a page is set from, and the pictures beside them.

In: a document, the paper, and whether the print is large. Out: what ``sheet.typ`` reads as data: words made
ready for paper, blocks of one kind together, and nothing about how they look.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise, zip_longest
from math import ceil
from typing import TypeAlias, assert_never

from purlwright.drawing import Drawing
from purlwright.sheet.document import (
    Block,
    Caution,
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
    without_repeated_stamp,
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
LEAD_IN_LARGE = 200
"""In large print words under a heading that are longer than this may stand on another page than a drawing."""
LINE = 70
"""About how many letters there are in a line."""
_COUNTED = re.compile(r"(\d\)?) (?=(?:sts?|rows?|rnds?|rounds?|times?|cm|mm|m|g)\b)")
"""A number and what it counts stay in one line."""
FOOT, FOOT_IN_LARGE = 88, 36
CLOSING = 1200
"""So many letters of cautions and of what is said of the pattern fit on one page, with room to spare."""
SHORT_LIST, GOES_ALONG = 5, 3
"""A list of so many lines goes along with what closes a sheet; of a longer one, so many of its last lines."""
MANY_SHORT = 6
"""A list of so many items of half a line or so stands in two columns."""
FEWEST_IN_COLUMNS = 3
"""So many cautions stand in two columns, in lines that the eye can follow."""
FRONT_MM = 70.0
"""A drawing at the front that is wider stands under the words, not beside them."""
LONG_TOTAL = 80
"""A total of so many letters never fits beside its row."""
LONG_GLOSSARY = 34
"""A column of more lines may go over to the next page, and both columns with it."""
TWO_COLUMNS = 8
"""From so many abbreviations on, a reader gains by two columns."""


class Setter:
    """Turns blocks into values for the page, and gathers pictures and what cannot be printed on the way."""

    __slots__ = (
        "anchors",
        "files",
        "floating",
        "fronted",
        "large",
        "leads",
        "level",
        "lost",
        "paper",
        "parted",
        "placed",
    )

    def __init__(self, paper: str, *, large: bool) -> None:
        self.paper = paper
        self.large = large
        self.files: dict[str, bytes] = {}
        self.lost: dict[str, None] = {}
        self.anchors: frozenset[str] = frozenset()
        self.placed: set[str] = set()
        self.level = 0
        self.leads: tuple[Block, ...] = ()
        self.floating: tuple[Figure, ...] = ()
        self.fronted = 0
        self.parted: tuple[Items, ...] = ()

    def whole(self, document: Document) -> dict[str, Value]:
        """The document, its blocks in their order."""
        self.anchors = frozenset(_anchors(document.blocks))
        language, region = spoken(document.language)
        title = one_line(document.title)
        stamp = document.stamp
        blocks = [_as_row(block) for block in without_repeated_stamp(document) if _says_something(block)]
        if self.large:
            blocks = list(_enlarged(blocks))
            blocks += _about_large_print(blocks)
        together = self._together(blocks)
        closing = len(blocks) - next((n for n, b in enumerate(blocks) if _is_closing(b)), len(blocks))
        self.leads = tuple(_leads(blocks, LEAD_IN_LARGE if self.large else LONG_IN_LARGE))
        self.floating = () if self.large else tuple(_floating(blocks))
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
            "together": together,
            "closing": closing,
            "blocks": [*self._front(blocks), *self._blocks(blocks[self.fronted :])],
        }

    def _front(self, blocks: Sequence[Block]) -> Iterator[Value]:
        """What stands before the first heading, if there is a drawing in it: that goes beside the words."""
        end = next((n for n, b in enumerate(blocks) if isinstance(b, Heading)), len(blocks))
        first = blocks[:end]
        drawn = [b for b in first if isinstance(b, Figure)]
        if any(b.beside is not None or b.said or b.drawing.width_mm > FRONT_MM for b in drawn):
            return
        if self.large or len(drawn) != 1 or not all(isinstance(b, Figure | Note | Paragraph) for b in first):
            return
        self.fronted = end
        words = [b for b in first if not isinstance(b, Figure)]
        yield {
            "kind": "front",
            "blocks": [self._block(b) for b in words if isinstance(b, Note | Paragraph)],
            "figure": self._figure(drawn[0]),
        }

    def _together(self, blocks: list[Block]) -> int:
        """How many of the last blocks share one page: what closes a sheet never stands there alone, but takes
        the end of the list before it along, or all of a short one. A list is parted for that.
        """
        heads = [n for n, b in enumerate(blocks) if isinstance(b, Heading)]
        first = next((n for n in heads if _is_closing(blocks[n])), None)
        if self.large or first is None or len(heads) < 2:
            return 0
        last = blocks[first:]
        letters = sum(len(plain(c.words)) for b in last if isinstance(b, Cautions) for c in b.cautions)
        letters += sum(len(plain(f.words)) for b in last if isinstance(b, Facts) for f in b.facts)
        if letters >= CLOSING:
            return 0
        listed = blocks[first - 1]
        if not isinstance(listed, Items):
            return len(last)
        if len(listed.items) <= SHORT_LIST:
            return len(blocks) - max(n for n in heads if n < first)
        kept = listed.items[:-GOES_ALONG], listed.items[-GOES_ALONG:]
        self.parted = tuple(replace(listed, items=items) for items in kept)
        blocks[first - 1 : first] = self.parted
        return len(last) + 1

    # --- words ----------------------------------------------------------------------------------

    def _line(self, words: str) -> str:
        """Words as they can be printed; letters that no face has are noted."""
        self.lost.update(dict.fromkeys(missing(words)))
        return _COUNTED.sub("\\1\u00a0", legible(words))

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
            if isinstance(block, Figure) and not self.large and not block.anchor and block.beside is None:
                return "gallery"
            return f"rows {bool(block.label)}" if isinstance(block, Row) else id(block)

        groups = list(_kept([list(group) for _, group in groupby(blocks, key=together)]))
        for group, after in zip_longest(groups, groups[1:]):
            first = group[0]
            if isinstance(first, Figure) and len(group) > 1:
                yield self._gallery([figure for figure in group if isinstance(figure, Figure)])
            elif isinstance(first, Row):
                # A named row stays with what goes on from it; a line without a name with any row after it.
                goes_on = after is not None and isinstance(after[0], Passes | Row)
                new = after is not None and isinstance(after[0], Row) and bool(first.label and after[0].label)
                yield {
                    "kind": "rows",
                    "labelled": bool(first.label),
                    "rows": [self._row(row) for row in group if isinstance(row, Row)],
                    "keeps": goes_on and not new,
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
                    "floats": block.anchor == "the-pieces",
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
                    "goes-on": block in self.parted[1:],
                    "parted": block in self.parted[:1],
                    "items": [self._words(item) for item in block.items],
                    "long": block in self.parted[:1] or self._long(plain(item) for item in block.items),
                    "columns": 2 if self._short(block) else 1,
                }
            case Facts():
                return {
                    "kind": "facts",
                    "keeps": block in self.leads,
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
                    "halves": [[self._caution(c) for c in half] for half in self._two(block.cautions)],
                }
            case _:
                assert_never(block)

    def _caution(self, caution: Caution) -> dict[str, Value]:
        source = self._piece(caution.source, WORDS) if caution.source else None
        return {"words": self._words(caution.words), "source": source}

    def _two(self, some: Sequence[Caution]) -> list[Sequence[Caution]]:
        """Cautions in two columns of about the same height, or in one where they are few."""
        if self.large or len(some) < FEWEST_IN_COLUMNS:
            return [some]
        # Where it comes to the same, the first column is the longer one.
        high = [LINE + len(plain(c.words)) + len(c.source) for c in some]
        cut = min(range(1, len(some)), key=lambda n: abs(sum(high[:n]) - sum(high[n:]) - LINE // 2))
        return [some[:cut], some[cut:]]

    def _long(self, listed: Iterable[str]) -> bool:
        """Whether a list may go over to the next page: a short one is kept together."""
        return sum(len(words) + LINE // 2 for words in listed) > LINE * (8 if self.large else 14)

    def _short(self, block: Items) -> bool:
        """Whether a list of a few words each is read more easily in two columns."""
        long = [len(plain(item)) for item in block.items]
        return (
            not self.large
            and block not in self.parted
            and len(long) >= MANY_SHORT
            and max(long) <= LINE
            and sum(long) <= len(long) * LINE // 2
        )

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
            "hangs": list(figure.hangs_mm),
            "floats": figure in self.floating,
            "first": self.level == 0,
            "caption": self._words(figure.caption),
            "beside": beside,
            "said": [self._words(words) for words in figure.said],
            "anchor": self._place(figure.anchor),
        }

    def _gallery(self, figures: Sequence[Figure]) -> dict[str, Value]:
        """Drawings side by side: lines of columns, and a narrow drawing under another narrow one."""
        wide = _WIDE_MM[self.paper]
        lines = _in_lines(figures, wide - EDGE_MM)
        at_edge = len(lines) == len(_in_lines(figures, wide))
        if not at_edge:
            lines = _in_lines(figures, wide)
        return {
            "kind": "gallery",
            "at-edge": at_edge,
            "lines": [
                [
                    {"wide": column.wide_mm, "figures": [self._figure(figure) for figure in column.figures]}
                    for column in line
                ]
                for line in lines
            ],
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


# --- drawings side by side ------------------------------------------------------------------------

EDGE_MM = 34.0
"""From the left edge of the page to the second one, as in ``sheet.typ``."""
_WIDE_MM = {"a4": 166.0, "letter": 171.9}
_GUTTER_MM = 10.0
_SAID_MM = 62.0
"""A drawing that is told in words has a column of at least this width for them."""
_CAPTION_MM = 48.0


@dataclass(slots=True)
class _Column:
    """Drawings one under the other, how wide they are and about how high with what is said under them."""

    wide_mm: float
    high_mm: float
    figures: list[Figure]


def _kept(groups: Sequence[list[Block]]) -> Iterator[list[Block]]:
    """Rows with a name that lines without one go on from: the last one stays with them on a page, so that
    no page opens with a line that is the end of a part.
    """
    for group, after in zip_longest(groups, groups[1:]):
        rows = isinstance(group[0], Row) and bool(group[0].label)
        if rows and after is not None and isinstance(after[0], Row) and len(group) > 1:
            yield group[:-1]
            yield group[-1:]
        else:
            yield group


def _in_lines(figures: Sequence[Figure], wide_mm: float) -> list[list[_Column]]:
    """Lines of drawings, each as wide as the page at most.

    A drawing goes beside the last one if it fits; or under it if that stands beside a higher one.
    """
    lines: list[list[_Column]] = []
    for figure in figures:
        wide = min(wide_mm, max(figure.drawing.width_mm, _SAID_MM if figure.said else _CAPTION_MM))
        letters = sum(len(plain(said)) for said in figure.said)
        high = figure.drawing.height_mm + 12 + 4.2 * ceil(letters * 1.75 / wide)
        new = _Column(wide, high, [figure])
        line = lines[-1] if lines else None
        if line is None:
            lines.append([new])
            continue
        used = sum(column.wide_mm for column in line) + _GUTTER_MM * len(line)
        last = line[-1]
        under = used - _GUTTER_MM - last.wide_mm + max(last.wide_mm, wide) <= wide_mm
        if used + wide <= wide_mm:
            line.append(new)
        elif not figure.said and len(line) > 1 and under and last.high_mm + high < 1.4 * line[0].high_mm:
            last.figures.append(figure)
            last.wide_mm, last.high_mm = max(last.wide_mm, wide), last.high_mm + high
        else:
            lines.append([new])
    return lines


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


def _as_row(block: Block) -> Block:
    """What is done in the finishing looks like any other line that is worked."""
    return (
        Row(label="", words=block.words, span=block.span)
        if isinstance(block, Note) and block.worked
        else block
    )


def _anchors(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Heading | Row | Figure) and block.anchor:
            yield block.anchor
        elif isinstance(block, Glossary):
            yield from (term.anchor for term in block.terms if term.anchor)


def _is_closing(block: Block) -> bool:
    return isinstance(block, Heading) and block.anchor in {"cautions", "about"}


def _leads(blocks: Sequence[Block], most: int) -> Iterator[Block]:
    """Words right under a heading that lead to what comes next stay on the page with it, unless they have
    ``most`` letters or more; so do facts with what is said of them.
    """
    for facts, after in pairwise(blocks):
        if isinstance(facts, Facts) and isinstance(after, Paragraph) and not after.hers:
            yield facts
    for heading, block, after in zip(blocks, blocks[1:], blocks[2:], strict=False):
        if isinstance(heading, Heading) and isinstance(block, Paragraph | Note):
            if not isinstance(after, Heading | Paragraph | Note) and len(plain(block.words)) < most:
                yield block


def _floating(blocks: Sequence[Block]) -> Iterator[Figure]:
    """Charts that may open the next page while what follows fills this one: those with a name, that no
    heading stands over and no other part goes on from.
    """
    for before, block, after in zip(blocks, blocks[1:], (*blocks[2:], None), strict=False):
        if not isinstance(block, Figure) or block.beside is None or isinstance(before, Heading | Figure):
            continue
        if not (isinstance(after, Figure) and after.goes_on):
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
