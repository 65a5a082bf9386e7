"""The follow-along page: one row at a time on a telephone, the place kept, every row readable without script.

In: a :class:`Document` with its rows one by one. Out: the text of an HTML file. The list of rows stands in
the page as plain words; ``follow.js`` shows what it reads there, and keeps the place. ``follow_help.js``
answers one who is lost, from the tables that stand beside the rows.
"""

from __future__ import annotations

import re
from base64 import b32encode
from collections.abc import Iterator
from hashlib import sha256
from itertools import groupby

from purlwright.sheet.document import Document, FollowAlong, Step, plain
from purlwright.sheet.out.helping import as_data
from purlwright.sheet.out.playing import as_played
from purlwright.sheet.out.web import asset, attribute, hers, isolated, page, said, side, stamp_line, words

__all__ = ["to_follow"]

_SCRIPTS = ("needles.js", "follow_where.js", "follow_help.js", "follow_player.js", "follow.js")
_OF = re.compile(r"((?:Row|Round) (\d+) of \d+)\.")
_STILL = (
    '<p class="message still">This view of the page cannot tick rows or keep your place, because scripts are'
    " not run here. In a web browser that runs them the page shows one row at a time.</p>\n"
)


def to_follow(document: Document) -> str:
    """The follow-along page of every size in the document; one without rows says that there is none."""
    sizes = "".join(_size(document, follow, n) for n, follow in enumerate(document.follow, 1) if follow.steps)
    body = asset("follow.html").format(
        no_mid=" hidden" if document.left_handed else "",
        title=said(document.title),
        title_value=attribute(document.title),
        stamp=stamp_line(document),
        whose=attribute(_sum(8, document.title, document.stamp.name)),
        sizes=_STILL + sizes if sizes else "<p>This pattern has no row to knit.</p>\n",
    )
    return page(
        document,
        title=f"{document.title}, row by row",
        style=asset("follow.css") + asset("needles.css"),
        body=body,
        script="\n".join(map(asset, _SCRIPTS)) if sizes else "",
    )


def size_name(follow: FollowAlong) -> str:
    """How a size and the choices for it are called; nothing where there is nothing to choose."""
    options = [f"{name}: {choice}" for name, choice in follow.options]
    return ", ".join([*([follow.size] if follow.size else []), *options])


def _size(document: Document, follow: FollowAlong, n: int) -> str:
    """One size: its parts as headings, and the rows below them in the order of work.

    Its key says whose place is kept and does not change when she mends a word; the sum of its rows does.
    """
    name = size_name(follow)
    key = _sum(6, document.title, document.stamp.name, name)
    rows = _sum(
        4, *(f"{step.section}|{step.label}|{step.after}|{plain(step.words)}" for step in follow.steps)
    )
    level = 4 if name else 3
    parts = "".join(_parts(follow, n, level))
    head = f"<h3>{'Size ' if follow.size else ''}{isolated(name)}</h3>\n" if name else ""
    known = f'data-key="{key}" data-rows="{rows}" data-name={attribute(name)}'
    data = {
        "help": as_data(follow.help) if follow.help else "",
        "played": as_played(follow, left_handed=document.left_handed),
    }
    tables = "".join(
        f'<script type="application/json" data-of="{what}">{text}</script>\n'
        for what, text in data.items()
        if text
    )
    return f'<div class="size" {known}>\n{head}{parts}{tables}</div>\n'


def _parts(follow: FollowAlong, n: int, level: int) -> Iterator[str]:
    """The steps under the name of their section, and of their piece where a section is worked on several."""
    pieces: dict[str, set[str]] = {}
    for step in follow.steps:
        pieces.setdefault(step.section, set()).add(step.piece)

    def part(step: Step) -> str:
        named = [step.section] if len(pieces[step.section]) == 1 else [step.section, step.piece]
        return ", ".join(filter(None, named)) or step.piece

    first = 1
    for name, steps in groupby(follow.steps, part):
        lines: list[str] = []
        run = first
        for k, step in enumerate(steps, first):
            counted = _counted(step)
            run = run if lines and counted and counted[2] != "1" else k
            lines.append(_step(step, n, k, run))
        heading = hers(f"h{level}", said(name), "part") + "\n" if name else ""
        yield f'{heading}<ol role="list" data-part={attribute(name)}>\n{"".join(lines)}</ol>\n'
        first += len(lines)


def _counted(step: Step) -> re.Match[str] | None:
    """For a line without a name that asks for several rows, "Knit 6 rows.": which of them this is."""
    return None if step.label else _OF.match(step.note)


def _step(step: Step, n: int, k: int, run: int) -> str:
    """One row; ``run`` is the first of those that the same line asks for."""
    label, note = step.label or step.kind[:1].upper() + step.kind[1:], step.note
    counted = _counted(step)
    if counted:
        label, note = counted[1], note[counted.end() :].strip()
    name = f"_{n}-{k}"
    short = words(step.words)
    full = said(step.in_full or plain(step.words))
    time = f' <span class="time">time {step.pass_} of {step.passes}</span>' if step.passes > 1 else ""
    several = f' data-run="{run}"' if counted else ""
    parts = (
        f'<li id="{name}"{several}>',
        f'<a class="go" href="#{name}">{hers("span", said(label), "label")}</a> ',
        side(step.side),
        time,
        f' <span class="words">{hers("span", short, "short")}{hers("span", full, "full")}</span> ',
        f'<span class="after">{_after(step)}</span>',
        f" {hers('span', f'<strong>Look for:</strong> {said(step.look_for)}', 'look')}"
        if step.look_for
        else "",
        f" {hers('span', f'<strong>Note:</strong> {said(note)}', 'note')}" if note else "",
        "</li>\n",
    )
    return "".join(parts)


def _after(step: Step) -> str:
    """The count to have afterwards, what is different from before, and how many wait beyond a turn."""
    if step.after == 0:
        return "No stitches are left."
    told = []
    if step.before and step.after != step.before:
        more = step.after - step.before
        told.append(f"{abs(more)} {'more' if more > 0 else 'fewer'} than before")
    if step.unworked:
        told.append(f"{step.unworked} of them {'waits' if step.unworked == 1 else 'wait'} beyond the turn")
    besides = f', <span class="besides">{", ".join(told)}</span>' if told else ""
    return f"<strong>{step.after}</strong> {'stitch' if step.after == 1 else 'stitches'} afterwards{besides}."


def _sum(letters: int, *parts: str) -> str:
    """A few letters and figures that stand for these words."""
    whole = "\x00".join(f"{len(part)} {part}" for part in parts)
    digest = sha256(whole.encode("utf-8", "surrogatepass")).digest()
    return b32encode(digest).decode("ascii").lower()[:letters]
