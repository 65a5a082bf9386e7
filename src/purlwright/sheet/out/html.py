"""A sheet as one web page that stands alone: no script, nothing from outside, fit to be read aloud.

In: a :class:`Document`. Out: the text of an HTML file. Nothing is decided here about the pattern; what stands
in a block is shown, and links are made only to what stands on the page.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import count, groupby
from typing import assert_never

from purlwright.drawing import Drawing, to_svg
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
    Table,
    Words,
    plain,
    without_repeated_stamp,
)
from purlwright.sheet.out.web import (
    asset,
    attribute,
    fragment,
    hers,
    ident,
    isolated,
    page,
    said,
    side,
    stamp_line,
    words,
)

__all__ = ["to_html"]

_WIDE_MM, _TOLD_MM, _BROAD_MM = 100, 140, 220
"""A drawing wider than the first, or the second if it is told in words as well, is not made smaller for a
telephone, but moved under a window; one wider than the third, on any screen."""
_REM_PER_MM = Fraction(28, 100)
"""On a screen a drawing grows with the letters round it, and begins a quarter larger than on paper."""
_SIZE = re.compile(r'^(<svg [^>]*?width=")([\d.]+)mm(" height=")([\d.]+)mm"')
_LONG_COUNT = 12
"""Counts with more letters than this stand in fewer columns."""
_HEADS = 64
"""So many letters of heads stand side by side over a table on a screen."""
_NUMBER = re.compile(r"[-–−±]?[\d.,/ ½⅓⅔¼¾⅛⅜⅝⅞–-]+\s*[^\W\d]{0,3}\.?|[-–—]?")
_KINDS = ((b"\xff\xd8\xff", "image/jpeg"), (b"\x89PNG\r\n\x1a\n", "image/png"))


def to_html(document: Document, *, more: str = "", style: str = "", script: str = "") -> str:
    """The sheet as one page in one file; ``more``, with its own look and script, stands after it."""
    sheet = _Sheet(replace(document, blocks=without_repeated_stamp(document)))
    main = "".join(sheet.parts())
    stamp = stamp_line(document)
    body = (
        '<a class="skip" href="#_sheet">Skip to the text</a>\n'
        f'<header class="top">\n<h1 dir="auto">{said(document.title)}</h1>\n'
        f'<p class="stamp">{stamp}</p>\n<div class="band"></div>\n</header>\n'
        f'{sheet.contents()}<main id="_sheet" tabindex="-1">\n{main}{more}</main>\n'
        f'<footer><div class="band"></div><p>{isolated(document.title)}</p>'
        f'<p class="stamp">{stamp}</p></footer>\n'
    )
    return page(document, title=document.title, style=asset("page.css") + style, body=body, script=script)


class _Sheet:
    """Writes blocks one after another; knows which anchors the page has."""

    __slots__ = ("anchors", "document", "first_use", "headings", "levels", "number", "ticked")

    def __init__(self, document: Document) -> None:
        self.document = document
        self.anchors = frozenset(_anchors(document.blocks))
        self.number = count(1)
        self.first_use = _first_uses(document.blocks)
        self.ticked = frozenset(_ticked(document.blocks))
        self.headings: dict[int, str] = {}
        self.levels: dict[int, int] = {}
        level = 0
        for n, block in enumerate(document.blocks):
            if isinstance(block, Heading):
                self.headings[n] = block.anchor or f"_part{n}"
                level = self.levels[n] = min(block.level, level + 1)

    def contents(self) -> str:
        """The parts of the sheet and what stands in them, as links; nothing for a sheet with one part."""
        if list(self.levels.values()).count(1) < 2:
            return ""
        lines: list[str] = []
        below = 1
        for n, level in self.levels.items():
            if level > 2:
                continue
            heading = self.document.blocks[n]
            assert isinstance(heading, Heading)  # noqa: S101
            lines.append(
                "<ul>" if level > below else "</li></ul></li>" if level < below else "</li>" if lines else ""
            )
            lines.append(f'<li><a dir="auto" href={fragment(self.headings[n])}>{said(heading.text)}</a>')
            below = level
        lines.append("</li></ul></li>" if below == 2 else "</li>")
        return (
            '<nav aria-labelledby="_contents"><p id="_contents">Contents</p>\n'
            f"<ul>{''.join(lines)}</ul></nav>\n"
        )

    def parts(self) -> Iterator[str]:
        """The blocks in order; each part that a heading of the first level opens stands in a section."""
        opened = False
        front = self._front()
        if front:
            yield self._beside(front)
        for kind, group in groupby(
            list(enumerate(self.document.blocks))[len(front) :], lambda at: type(at[1])
        ):
            if kind is Row:
                rows = [(n, block) for n, block in group if isinstance(block, Row)]
                told = "" if rows[0][0] in self.ticked else " told"
                lines = "".join(self._row(row, n) for n, row in rows)
                yield f'<ol class="rows{told}" role="list">\n{lines}</ol>\n'
                continue
            if kind is Figure:
                figures = "".join(self._block(block, n) for n, block in group)
                yield f'<div class="figures">\n{figures}</div>\n'
                continue
            for n, block in group:
                if self.levels.get(n) == 1:
                    yield "</section>\n<section>\n" if opened else "<section>\n"
                    opened = True
                yield self._block(block, n)
        if opened:
            yield "</section>\n"

    def _front(self) -> list[Block]:
        """What stands before the first heading, if there is one drawing in it to stand beside the words."""
        first = min(self.headings, default=len(self.document.blocks))
        blocks = list(self.document.blocks[:first])
        drawn = [b for b in blocks if isinstance(b, Figure)]
        words = all(isinstance(b, Figure | Note | Paragraph) for b in blocks)
        return blocks if words and len(drawn) == 1 and drawn[0].beside is None else []

    def _beside(self, blocks: list[Block]) -> str:
        words = "".join(self._block(b, n) for n, b in enumerate(blocks) if not isinstance(b, Figure))
        drawn = "".join(self._block(b, n) for n, b in enumerate(blocks) if isinstance(b, Figure))
        return f'<div class="front">\n<div>{words}</div>\n<div class="figures">\n{drawn}</div>\n</div>\n'

    def _block(self, block: Block, n: int) -> str:
        match block:
            case Heading():
                level = self.levels[n] + 1
                name = attribute(ident(self.headings[n]))
                return f'<h{level} id={name} dir="auto">{said(block.text)}</h{level}>\n'
            case Paragraph():
                return hers("p", self._words(block.words), "" if block.hers else "ours") + "\n"
            case Note() if block.worked:
                return hers("p", self._words(block.words)) + "\n"
            case Note():
                return hers("p", f"<strong>Note</strong> {self._words(block.words)}", "note") + "\n"
            case Items():
                items = "".join(hers("li", self._words(item)) + "\n" for item in block.items)
                return f"<ul>\n{items}</ul>\n"
            case Facts():
                pairs = "".join(
                    f"<div>{hers('dt', said(fact.label))}{hers('dd', self._words(fact.words))}</div>\n"
                    for fact in block.facts
                )
                return f'<dl class="facts">\n{pairs}</dl>\n'
            case Table():
                return _table(block)
            case Glossary():
                return self._glossary(block)
            case Row():
                raise AssertionError("rows are written together")
            case Passes():
                return self._passes(block)
            case Figure():
                return self._figure(block)
            case Photo():
                return _photo(block)
            case Cautions():
                items = "".join(
                    hers("li", f"{self._words(caution.words)}{_cited(caution.source)}") + "\n"
                    for caution in block.cautions
                )
                return f'<ul class="cautions">\n{items}</ul>\n'
            case _:
                assert_never(block)

    def _words(self, runs: Words) -> str:
        return words(runs, self.anchors)

    def _row(self, row: Row, n: int) -> str:
        name = row.anchor or (f"_row{n}" if n in self.first_use.values() else "")
        kind = (" lifeline" if row.lifeline else "") + ("" if row.label or row.side else " bare")
        called = row.label or "This line"
        boxes = [
            _box(f"{called} done" if row.boxes == 1 else f"{called} done, time {k}") for k in _to(row.boxes)
        ]
        one, many = (boxes[0], "") if len(boxes) == 1 else ("", "")
        if len(boxes) > 1:
            many = (
                '<span class="ticks">'
                + "".join(_numbered(box, k) for k, box in enumerate(boxes, 1))
                + "</span>"
            )
        label = f'<strong class="label" dir="auto">{said(row.label)}</strong> ' if row.label else ""
        total = row.total and (
            f'<span class="total{" counted" if row.proved else ""}"><span class="unseen">Afterwards: </span>'
            f"{isolated(row.total)}</span>"
        )
        parts = (
            f'<li{f" id={attribute(ident(name))}" if name else ""} class="row{kind}">',
            f'<span class="box">{one}</span>',
            f'<span class="name">{label}{side(row.side)}</span> ',
            '<span class="words" dir="auto">',
            f'<strong class="only">{said(row.only)}</strong> ' if row.only else "",
            self._words(row.words),
            "</span>",
            f" {total}" if total else "",
            ' <span class="safe">A lifeline may go here.</span>' if row.lifeline else "",
            f" {many}" if many else "",
            "</li>\n",
        )
        return "".join(parts)

    def _passes(self, passes: Passes) -> str:
        name = f"_passes{next(self.number)}"
        counts = dict(zip(range(passes.last, 0, -1), reversed(passes.counts), strict=False))
        items = []
        for k in range(passes.first, passes.last + 1):
            after = f" {isolated(counts[k])}" if k in counts else ""
            time = f'<strong><span class="unseen">Time </span>{k}</strong>{after}'
            items.append(f'<li><label><input type="checkbox">{time}</label></li>\n')
        wide = max(map(len, passes.counts), default=0)
        kind = " few" if not wide else " long" if wide > _LONG_COUNT else ""
        return (
            f'<div class="passes{kind}" role="group" aria-labelledby="{name}">\n'
            f'<p id="{name}" dir="auto">{self._words(passes.words)}</p>\n'
            f'<ol role="list">\n{"".join(items)}</ol></div>\n'
        )

    def _glossary(self, glossary: Glossary) -> str:
        out = []
        for term in glossary.terms:
            name = f" id={attribute(ident(term.anchor))}" if term.anchor else ""
            back = ""
            if (n := self.first_use.get(term.anchor)) is not None:
                row = self.document.blocks[n]
                assert isinstance(row, Row)  # noqa: S101
                called = f"first in {isolated(row.label)}" if row.label else "where it is first used"
                back = f' <a class="back" href={fragment(row.anchor or f"_row{n}")}>{called}</a>'
            meaning = hers("dd", f"{self._words(term.meaning)}{back}")
            out.append(f"<div{name}>{hers('dt', said(term.term))}{meaning}</div>\n")
        return f'<dl class="glossary">\n{"".join(out)}</dl>\n'

    def _figure(self, figure: Figure) -> str:
        most_mm = _TOLD_MM if figure.said else _WIDE_MM
        drawn = self._drawing(figure.drawing, figure.alternative, most_mm=most_mm)
        if figure.beside is not None:
            drawn += self._drawing(figure.beside, figure.beside_alternative, kind="key")
        name = f" id={attribute(ident(figure.anchor))}" if figure.anchor else ""
        caption = hers("figcaption", self._words(figure.caption)) + "\n" if figure.caption else ""
        spoken = ""
        if figure.said:
            lines = "".join(hers("li", self._words(line)) + "\n" for line in figure.said)
            about = f'<span class="unseen">: {isolated(plain(figure.caption) or figure.alternative)}</span>'
            spoken = (
                f'<details class="spoken"><summary>The same in words{about}</summary>\n'
                f'<ol role="list">\n{lines}</ol></details>\n'
            )
        return (
            f'<div class="figure"{name}>\n<figure>\n<div class="drawings">\n{drawn}</div>\n'
            f"{caption}</figure>\n{spoken}</div>\n"
        )

    def _drawing(
        self, drawing: Drawing, alternative: str, *, kind: str = "drawing", most_mm: int = _WIDE_MM
    ) -> str:
        svg = to_svg(drawing, alternative, prefix=f"_f{next(self.number)}-")
        window = hint = ""
        if drawing.width_mm > most_mm:
            kind += " wide broad" if drawing.width_mm > _BROAD_MM else " wide"
            window = f' tabindex="0" role="region" aria-label={attribute(f"{alternative} Scrolls sideways.")}'
            hint = (
                '<p class="hint" aria-hidden="true">Wider than the screen? Move the drawing sideways.</p>\n'
            )
        return f'<div class="{kind}"{window}>{_SIZE.sub(_in_rem, svg, count=1)}</div>\n{hint}'


def _in_rem(found: re.Match[str]) -> str:
    """The size of a drawing in the measure of letters."""
    wide, high = (f"{float(Fraction(mm) * _REM_PER_MM):.5g}rem" for mm in (found[2], found[4]))
    return f'{found[1]}{wide}{found[3]}{high}"'


def _to(last: int) -> range:
    return range(1, last + 1)


def _box(called: str) -> str:
    return (
        f'<label class="tick"><input type="checkbox"><span class="unseen">{isolated(called)}</span></label>'
    )


def _numbered(box: str, k: int) -> str:
    return box.removesuffix("</label>") + f'<span class="number" aria-hidden="true">{k}</span></label>'


def _anchors(blocks: Sequence[Block]) -> Iterator[str]:
    for block in blocks:
        match block:
            case Heading() | Row() | Figure():
                yield block.anchor
            case Glossary():
                yield from (term.anchor for term in block.terms)
            case _:
                pass


def _ticked(blocks: Sequence[Block]) -> Iterator[int]:
    """The blocks of the parts in which some row has a box or a name: their rows stand in columns."""
    part: list[int] = []
    columns = False
    for n, block in enumerate(blocks):
        if isinstance(block, Heading) and block.level == 1:
            yield from part if columns else ()
            part, columns = [], False
        part.append(n)
        columns |= isinstance(block, Row) and bool(block.boxes or block.label)
    yield from part if columns else ()


def _first_uses(blocks: Sequence[Block]) -> dict[str, int]:
    """For each anchor that the words of a row lead to, which block is the first such row."""
    first: dict[str, int] = {}
    for n, block in enumerate(blocks):
        if isinstance(block, Row):
            for run in block.words:
                if run.to:
                    first.setdefault(run.to, n)
    return first


def _cited(source: str) -> str:
    return f" <cite>{isolated(source)}</cite>" if source else ""


def _table(table: Table) -> str:
    """Columns of numbers stand to the right, each unit under the other; columns of words as words do. A table
    whose heads are too long to stand side by side is turned: its columns are rows then.
    """
    if len(table.rows) > 1 and sum(map(len, table.head)) > _HEADS:
        turned = list(zip(table.head, *table.rows, strict=True))
        table = replace(table, head=turned[0], rows=tuple(turned[1:]))
    columns = list(zip(*table.rows, strict=True)) or [()] * len(table.head)
    kinds = [
        "" if n == 0 or not all(map(_NUMBER.fullmatch, cells)) else "number"
        for n, cells in enumerate(columns)
    ]

    def cell(tag: str, text: str, kind: str, scope: str = "") -> str:
        named = f' class="{kind}"' if kind else ""
        return f'<{tag}{scope}{named} dir="auto">{said(text)}</{tag}>'

    head = "".join(
        cell("th", text, kind, ' scope="col"') if text.strip() else "<td></td>"
        for text, kind in zip(table.head, kinds, strict=True)
    )
    rows = "".join(
        "<tr>"
        + cell("th", row[0], "", ' scope="row"')
        + "".join(cell("td", text, kind) for text, kind in zip(row[1:], kinds[1:], strict=True))
        + "</tr>\n"
        for row in table.rows
    )
    return (
        f'<div class="table" tabindex="0" role="region" aria-label={attribute(table.caption)}>\n<table>'
        f'<caption dir="auto">{said(table.caption)}</caption>\n<thead><tr>{head}</tr></thead>\n'
        f"<tbody>\n{rows}</tbody></table></div>\n"
    )


def _photo(photo: Photo) -> str:
    for opening, kind in _KINDS:
        if photo.data.startswith(opening):
            address = f"data:{kind};base64,{b64encode(photo.data).decode('ascii')}"
            shown = f'<img src="{address}" alt={attribute(photo.alternative)}>'
            return f'<figure class="photo">{shown}</figure>\n'
    raise ValueError(f"{photo.name}: a picture is a JPEG or a PNG")
