"""The lesson as a web page: the pack, and after it each row to be seen stitch by stitch.

In: a :class:`Document` with rows to be played. Out: the text of an HTML file. Each row stands in the page
as a list of what is done, which can be read by itself; ``player.js`` reads that list and draws the needles.
"""

from __future__ import annotations

from itertools import groupby

from purlwright.sheet.document import Beat, Document, PlayedRow
from purlwright.sheet.out.html import to_html
from purlwright.sheet.out.web import SIDES, asset, attribute, isolated, said

__all__ = ["after_said", "rows_said", "to_lesson"]


def to_lesson(document: Document) -> str:
    """The page; without rows to play it is the pack alone."""
    if not document.played:
        return to_html(document)
    sections: list[str] = []
    for n, row in enumerate(document.played, 1):
        sections.append(_row(row, n))
    more = asset("player.html").format(rows="".join(sections))
    style, script = ("needles.css", "player.css"), ("needles.js", "player.js")
    return to_html(
        document, more=more, style="".join(map(asset, style)), script="\n".join(map(asset, script))
    )


def _row(row: PlayedRow, n: int) -> str:
    """A row as a list: what is done, how often, and in marks for the script what it does to the loops."""
    name = f"{row.label}, {SIDES[row.side]}" if row.side else row.label
    named = f"{row.section}: {name}" if row.section else name
    lines = "".join(_line(*line) for line in rows_said(row))
    marks = (
        f'data-left={attribute(" ".join(look or "-" for look in row.left))} data-behind="{row.behind}" '
        f"data-name={attribute(named)} data-after={attribute(after_said(row))}"
    )
    return (
        f'<details class="played" id="_played{n}" {marks}>\n<summary>{isolated(named)}</summary>\n'
        f'<ol role="list">\n{lines}</ol>\n<p>{said(after_said(row))}</p></details>\n'
    )


def rows_said(row: PlayedRow) -> list[tuple[Beat, int]]:
    """What is done, stitches of one kind that follow one another together."""
    return [(beat, len(list(same))) for beat, same in groupby(row.beats)]


def _line(beat: Beat, many: int) -> str:
    makes = attribute(" ".join(look or "-" for look in beat.makes))
    words = _several(beat, many)
    return (
        f'<li data-times="{many}" data-takes="{beat.takes}" data-makes={makes} data-yarn="{beat.yarn}" '
        f'data-does="{beat.does}" data-words={attribute(beat.words)}>{said(words)}</li>\n'
    )


def _several(beat: Beat, many: int) -> str:
    if many == 1:
        return beat.words
    if beat.words.endswith(" 1."):
        return f"{beat.words[:-2]}{many}."
    return f"{many} times: {beat.words}"


def after_said(row: PlayedRow) -> str:
    """How many stitches there are when the row is done."""
    if not row.after:
        return "No stitches are left on the needles."
    return f"{row.after} {'stitch' if row.after == 1 else 'stitches'} on the needles afterwards."
