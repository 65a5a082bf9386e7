"""The ledger as a table: one line a row, as a knitter would keep it beside her.

In: a ledger and the source of its words. Out: lines of text. ``made`` and ``lost`` carry their signs, a
nought is a dot, and the row's own words stand beside what came of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from purlwright.needles.ledger import Entry, Kind, Ledger, Piece
from purlwright.proof.said import count
from purlwright.terminal.look import Look, cut, heading, pad, plain, width_of, wrap
from purlwright.text import Source

__all__ = ["show_ledger"]

_HEADS = ("side", "start", "worked", "left", "made", "lost", "end")
_NOUGHT = "·"
_LEAST_WORDS = 14
_ROOMY = 96
"""From so many columns on, two spaces stand between numbers."""


@dataclass(frozen=True, slots=True)
class _Row:
    """A line of the table: label, numbers under their heads, gaps, words, and whether it is in doubt."""

    label: str
    cells: tuple[str, ...]
    places: str
    words: str
    doubt: bool = False
    short: str = ""
    """The words where there is little room: "as Row 3" without its line."""


def show_ledger(ledger: Ledger, title: str, source: Source, look: Look, *, brief: bool = False) -> list[str]:
    """Title, size and options; then each piece as a table; then what was counted in all."""
    out = [look.strong(plain(title) or "A pattern without a title"), _chosen(ledger)]
    for piece in ledger.pieces:
        out += ["", *_piece(piece, source, look, brief=brief)]
    if not ledger.pieces:
        out += ["", "Nothing is cast on, so there is nothing to knit."]
    return [*out, "", *_totals(ledger, look)]


def _chosen(ledger: Ledger) -> str:
    said = [f"{name}: {value}" for name, value in ledger.options]
    size = ledger.size if ledger.size == "one size" else f"size {ledger.size}"
    return plain("; ".join([size, *said]))


# --- a piece -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Widths:
    """Columns of the table: the label, each number, gaps and words (0: none), and the space between."""

    label: int
    numbers: tuple[int, ...]
    places: int
    words: int
    space: str


def _widths(rows: Sequence[_Row], look: Look) -> _Widths:
    label = min(22, max([len("row"), *(width_of(r.label) for r in rows)]))
    numbers = tuple(max([len(h), *(len(r.cells[n]) for r in rows)]) for n, h in enumerate(_HEADS))
    places = max((width_of(r.places) for r in rows), default=0)
    space = "  " if look.width >= _ROOMY else " "
    room = look.width - 2 - label - sum(numbers) - len(space) * len(numbers)
    places = min(max(places, len("gaps")), 14, max(room - 4 - _LEAST_WORDS, 6)) if places else 0
    words = room - (places + 2 if places else 0) - 2
    return _Widths(label, numbers, places, words if words >= _LEAST_WORDS else 0, space)


def _piece(piece: Piece, source: Source, look: Look, *, brief: bool) -> list[str]:
    blocks = list(_sections(piece, source, brief=brief))
    wide = _widths([row for _, block in blocks for row in block], look)
    numbers = (h.rjust(w) for h, w in zip(_HEADS, wide.numbers, strict=True))
    head = wide.space.join([pad("row", wide.label), *numbers])
    head += f"  {pad('gaps', wide.places)}" if wide.places else ""
    head += "  words" if wide.words else ""
    out = [heading(piece.name or "Piece", look), look.faint(f"  {head}".rstrip())]
    for name, block in blocks:
        if name and name != piece.name:
            out.append(f"  {look.strong(plain(name))}")
        for row in block:
            out += _lines(row, wide, look)
    return out


def _lines(row: _Row, wide: _Widths, look: Look) -> list[str]:
    """One row of the table; its words beside it, or under it where there is no room."""
    if not row.cells[-1]:  # "the same again"
        return [look.faint(f"  {cut(row.words, look.width - 2)}")]
    cells = [c.rjust(w) for c, w in zip(row.cells, wide.numbers, strict=True)]
    cells[4] = look.faint(cells[4]) if row.cells[4] == _NOUGHT else look.good(cells[4])
    cells[5] = look.faint(cells[5]) if row.cells[5] == _NOUGHT else look.careful(cells[5])
    cells[-1] = look.strong(cells[-1])
    mark = look.careful("?") if row.doubt else " "
    line = f" {mark}{wide.space.join([pad(cut(row.label, wide.label), wide.label), *cells])}"
    line += f"  {pad(cut(row.places, wide.places), wide.places)}" if wide.places else ""
    if wide.words:
        words = row.words if width_of(row.words) <= wide.words or not row.short else row.short
        return [f"{line}  {look.faint(cut(words, wide.words))}".rstrip()]
    return [line.rstrip(), *([look.faint(f"      {cut(row.words, look.width - 8)}")] if row.words else [])]


def _sections(piece: Piece, source: Source, *, brief: bool) -> Iterator[tuple[str, list[_Row]]]:
    """The rows of each section in turn, repeated ones gathered when brief."""
    start = 0
    rows = piece.rows
    for n in range(1, len(rows) + 1):
        if n == len(rows) or rows[n].section != rows[start].section:
            group = rows[start:n]
            made = list(_briefly(group, source)) if brief else [_row(e, source) for e in group]
            yield rows[start].section, made
            start = n


def _number(value: int, sign: str = "") -> str:
    return f"{sign}{value}" if value else _NOUGHT


def _row(entry: Entry, source: Source) -> _Row:
    again = f" ({entry.pass_})" if entry.pass_ > 1 else ""
    return _Row(
        label=plain(entry.label or entry.kind.value.capitalize()) + again,
        cells=(
            entry.side.value if entry.side else "",
            _number(entry.start),
            _number(entry.worked),
            _number(entry.unworked),
            _number(entry.made, "+"),
            _number(entry.lost, "−"),
            str(entry.end),
        ),
        places=_gaps([g.from_right_rs for g in entry.gaps]),
        words=_words(entry, source),
        doubt=entry.unread or entry.resumed,
        short=f"as {plain(entry.copied.label)}"
        if entry.copied and not (entry.held or entry.returned)
        else "",
    )


def _gaps(places: list[int]) -> str:
    """``4, 8``, and ``4-20 by 4`` for three or more that stand at even steps."""
    steps = {b - a for a, b in pairwise(places)}
    if len(places) > 2 and len(steps) == 1 and min(steps) > 0:
        return f"{places[0]}-{places[-1]} by {min(steps)}"
    return ", ".join(str(n) for n in places)


def _words(entry: Entry, source: Source) -> str:
    """What went to or came from a holder; then the row's own words, without the label in front already."""
    moved = f"[{entry.held} held] " if entry.held else ""
    moved += f"[{entry.returned} back] " if entry.returned else ""
    if entry.copied is not None:
        return f"{moved}as {plain(entry.copied.label)}, line {entry.copied.line}"
    words = " ".join(plain(source.words(entry.span)).split())
    head, colon, rest = words.partition(":")
    label = plain(entry.label)
    labelled = colon and label and head.strip().lower().startswith(label.lower())
    return moved + (rest.strip() if labelled else words)


# --- brief -------------------------------------------------------------------------------------------


def _briefly(rows: Sequence[Entry], source: Source) -> Iterator[_Row]:
    """Rows, with each repeat shown once and a line for the other times that are worked just like it."""
    n = 0
    while n < len(rows):
        again = _again(rows, n)
        if again is None:
            yield _row(rows[n], source)
            n += 1
            continue
        length, times = again
        block = rows[n : n + length]
        for entry in block:
            yield _row(entry, source)
        last = rows[n + length * times - 1]
        names = [e.label or f"this {e.kind.value}" for e in (block[0], block[-1])]
        what = names[0] if length == 1 else f"{names[0]} to {names[1]}"
        what = f"these {length} rows" if length > 1 and not (block[0].label and block[-1].label) else what
        kept = "the count stays" if last.end == block[-1].end else f"{last.end} sts at the end"
        unit = "round" if block[0].kind is Kind.ROUND else "row"
        more = f"{count(times - 1, 'more time')}: {count(length * (times - 1), unit)}, {kept}"
        words = f"... {plain(what)} again, {more}"
        yield _Row(label="", cells=("",) * len(_HEADS), places="", words=words)
        n += length * times


def _again(rows: Sequence[Entry], at: int) -> tuple[int, int] | None:
    """How many rows from ``at`` are worked over again at once, and how often in all."""
    first = rows[at]
    same = (n for n in range(at + 1, min(len(rows), at + 200)) if _words_of(rows[n]) == _words_of(first))
    length = next(same, at) - at
    if length == 0:
        return None
    block = [_words_of(e) for e in rows[at : at + length]]
    times = 1
    while [_words_of(e) for e in rows[at + length * times : at + length * (times + 1)]] == block:
        times += 1
    return (length, times) if times > 1 else None


def _words_of(entry: Entry) -> tuple[str, int, Kind]:
    return entry.label, entry.line, entry.kind


# --- totals -------------------------------------------------------------------------------------------


def _totals(ledger: Ledger, look: Look) -> list[str]:
    entries = [e for p in ledger.pieces for e in p.rows]
    rows = sum(e.kind is Kind.ROW for e in entries)
    rounds = sum(e.kind is Kind.ROUND for e in entries)
    sts = max((e.stitches_so_far for e in entries), default=0)
    said = [count(len(ledger.pieces), "piece")]
    said += [count(rows, "row")] if rows or not rounds else []
    said += [count(rounds, "round")] if rounds else []
    said += [f"{count(sts, 'stitch', 'stitches')} worked"] if sts else []
    off = sum(p.bound_off for p in ledger.pieces)
    said += [f"{off:,} bound off"] if off else []
    live = sum(p.live for p in ledger.pieces)
    said += [f"{live:,} still live at the end"] if live else []
    lines = wrap(f"In all: {', '.join(said)}.", look.width)
    if any(e.unread or e.resumed for e in entries):
        lines += wrap(
            "Rows marked ? could not be worked as written; the counts after them are taken from the "
            "next printed total.",
            look.width,
        )
    return lines
