#!/usr/bin/env python3
"""Draw what a command prints on a terminal as an SVG picture, for the README.

    scripts/picture.py OUT.svg [--columns N] [--first N] [--last N] -- COMMAND ...

The command is run on a pseudo-terminal, so that the picture shows what a person sees, colours and all. What
was typed stands in the strip above. --first and --last keep so many lines, with an ellipsis for the others.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from xml.sax.saxutils import escape

INK = {"31": "#a3231b", "32": "#256337", "33": "#7d4f00", "34": "#1f4e8c", "35": "#7a3b7a", "36": "#075b66"}
PAPER, STRIP, EDGE, TEXT, FAINT = "#fbf8f1", "#efe8da", "#d9d0c1", "#2b2622", "#655d54"
FONTS = "ui-monospace, 'SF Mono', Menlo, 'DejaVu Sans Mono', 'Liberation Mono', Consolas, monospace"
WIDE, HIGH, SIZE = 8.43, 19, 14  # a column and a line, in the proportions of the fonts above
MARGIN, TOP = 18, 34
PAINT = re.compile(r"\x1b\[([0-9;]*)m")
OTHER = re.compile(r"\x1b\[[0-9;?]*[A-Za-ln-z]")
WORD = re.compile(r"─+|[^\s─]+(?: [^\s─]+)*")


@dataclass(frozen=True, slots=True)
class Style:
    """How a piece is written."""

    ink: str = TEXT
    bold: bool = False

    def after(self, codes: str) -> Style:
        """The style after the numbers of one colour mark, ``1;31``."""
        style = self
        for code in codes.split(";"):
            if code in {"", "0"}:
                style = Style()
            elif code == "1":
                style = replace(style, bold=True)
            elif code == "2":
                style = replace(style, ink=FAINT)
            elif code in INK:
                style = replace(style, ink=INK[code])
        return style


@dataclass(frozen=True, slots=True)
class Piece:
    """Words without a wide blank in them, and the column of the first letter, from 0."""

    column: int
    words: str
    style: Style


def run(command: list[str], columns: int) -> str:
    """What the command prints on a terminal so many columns wide."""
    import fcntl  # these three are not on every system, and only making pictures needs them
    import pty
    import struct
    import termios

    child, master = pty.fork()
    if child == 0:
        os.environ.update(TERM="xterm-256color", COLUMNS=str(columns), LINES="200")
        os.environ.pop("NO_COLOR", None)
        os.execvp(command[0], command)  # noqa: S606 - the command as given, no shell between
    fcntl.ioctl(master, termios.TIOCSWINSZ, struct.pack("HHHH", 200, columns, 0, 0))
    parts = []
    while True:
        try:
            got = os.read(master, 65536)
        except OSError:  # how some systems say that the other end was closed
            break
        if not got:
            break
        parts.append(got)
    os.waitpid(child, 0)
    return b"".join(parts).decode("utf-8", "replace").replace("\r\n", "\n")


def pieces(line: str, style: Style) -> tuple[list[Piece], Style]:
    """The pieces of one line that leave ink, and the style in which the next line begins."""
    out: list[Piece] = []
    column = at = 0
    line = OTHER.sub("", line)
    for mark in [*PAINT.finditer(line), None]:
        words = line[at : mark.start()] if mark else line[at:]
        out += [Piece(column + word.start(), word[0], style) for word in WORD.finditer(words)]
        column += len(words)
        if mark:
            at, style = mark.end(), style.after(mark[1])
    return out, style


def drawn(text: str, typed: str, columns: int) -> str:
    """The text as an SVG, under a strip with the words that were typed."""
    lines = text.strip("\n").split("\n")
    width, height = round(columns * WIDE + 2 * MARGIN), TOP + len(lines) * HIGH + 24
    box = f'width="{width}" height="{height}"'
    sheet = f'x=".5" y=".5" width="{width - 1}" height="{height - 1}" rx="8"'
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {box} viewBox="0 0 {width} {height}" role="img">',
        f"<title>What {escape(typed)} prints</title>",
        f'<rect {sheet} fill="{PAPER}" stroke="{EDGE}"/>',
        f'<path d="M1 {TOP}V9a8 8 0 0 1 8-8H{width - 9}a8 8 0 0 1 8 8V{TOP}z" fill="{STRIP}"/>',
        f'<g font-family="{FONTS}" font-size="{SIZE}" fill="{TEXT}">',
        f'<text x="{MARGIN}" y="22">{escape(typed)}</text>',
    ]
    style = Style()
    for n, line in enumerate(lines):
        found, style = pieces(line, style)
        for piece in found:
            out += _drawn_piece(piece, TOP + 22 + n * HIGH)
    return "\n".join([*out, "</g></svg>", ""])


def _drawn_piece(piece: Piece, y: int) -> Iterator[str]:
    """A rule is a line; a row of one mark has each mark in its own column; other words begin in theirs."""
    x = MARGIN + piece.column * WIDE
    look = f' fill="{piece.style.ink}"' if piece.style.ink != TEXT else ""
    look += ' font-weight="bold"' if piece.style.bold else ""
    words = piece.words
    if set(words) == {"─"}:
        length = len(words) * WIDE
        yield f'<path d="M{x:.1f} {y - 4.5}h{length:.1f}" stroke="{piece.style.ink}" stroke-opacity=".55"/>'
        return
    marks = re.match(r"([\^-])\1*(?= |$)", words)
    if marks:
        places = " ".join(f"{x + n * WIDE:.1f}" for n in range(marks.end()))
        yield f'<text x="{places}" y="{y}"{look}>{marks[0]}</text>'
        x, words = x + (marks.end() + 1) * WIDE, words[marks.end() + 1 :]
    if words:
        yield f'<text x="{x:.1f}" y="{y}"{look}>{escape(words)}</text>'


def part(text: str, first: int | None, last: int | None) -> str:
    """The first so many lines and the last so many, with an ellipsis for what was left out."""
    lines = text.strip("\n").split("\n")
    if (first, last) == (None, None) or (first or 0) + (last or 0) >= len(lines):
        return "\n".join(lines)
    kept = [*lines[: first or 0], "\x1b[2m…\x1b[0m", *lines[len(lines) - (last or 0) :]]
    return "\n".join(kept)


def main(argv: list[str]) -> int:
    """Read the call and write the picture."""
    cut = argv.index("--")
    given, command = argv[:cut], argv[cut + 1 :]
    said = {name: int(number) for name, number in zip(given[1::2], given[2::2], strict=True)}
    columns = said.get("--columns", 80)
    text = part(run(command, columns), said.get("--first"), said.get("--last"))
    typed = " ".join([Path(command[0]).name, *command[1:]])
    Path(given[0]).write_text(drawn(text, typed, columns), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
