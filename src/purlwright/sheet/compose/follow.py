"""The rows one by one, as they are really worked: what the follow-along page shows.

In: the told pattern, its ledger for each size. Out: one :class:`FollowAlong` a size, a step for each worked
row, round, cast-on or bind-off in order. Only what the needles really did is said. What helps one who is lost
is left to ``helping``.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING, Literal, TypeAlias

from purlwright.fabric.query import row_slice
from purlwright.needles.ledger import ROWS, Kind
from purlwright.pattern import tree
from purlwright.rewrite.onesize import NotClear, for_size
from purlwright.sheet.compose.full import in_full
from purlwright.sheet.compose.helping import helping
from purlwright.sheet.compose.left_handed import mirrored_words
from purlwright.sheet.compose.look import look_for
from purlwright.sheet.compose.places import edited
from purlwright.sheet.compose.rows import anchor_of, said, squeezed, words_of
from purlwright.sheet.document import FollowAlong, PlayedRow, Step
from purlwright.sheet.lesson.player import played_by_order

if TYPE_CHECKING:
    from collections.abc import Mapping

    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry, Piece
    from purlwright.sheet.compose.asked import Options
    from purlwright.sheet.compose.worked import Worked

__all__ = ["follow"]

_CHANGE = re.compile(
    r"\s*[(\[]\s*\d+ (?:sts?|stitch(?:es)?) (?:inc|dec|more|fewer|made|lost)[^()\[\]]*[)\]]\.?$",
    re.IGNORECASE,
)
"""A change of the count printed with a row; a step says the counts before and after instead."""
_Place: TypeAlias = tuple[int, str, int, int]
"""A piece, a section, a line of the text, a pass: rows that share them are one line's rows."""


def follow(worked: Worked, sizes: tuple[str, ...], options: Options) -> tuple[FollowAlong, ...]:
    """One for each size. ``sizes`` are their names as she writes them."""
    return tuple(
        FollowAlong(
            size=size,
            options=options,
            steps=_Steps(worked, n).all(),
            help=helping(worked.told, n, size, options),
            played=played,
            played_of=of,
        )
        for n, size in enumerate(sizes)
        for played, of in (_played(worked, n),)
    )


def _played(worked: Worked, n: int) -> tuple[tuple[PlayedRow, ...], tuple[int, ...]]:
    """The different rows of a size to be shown stitch by stitch, and which of them each step is."""
    knitted = worked.told.knitted[n]
    rows: dict[PlayedRow, int] = {}
    of: dict[int, int] = {}
    for order, row in played_by_order(knitted):
        if worked.told.left_handed:
            beats = tuple(replace(b, words=edited(b.words, mirrored_words(b.words))[0]) for b in row.beats)
            row = replace(row, beats=beats)
        row = replace(row, label="", section="", side="")  # the page has these of the step
        of[order] = rows.setdefault(row, len(rows))
    orders = sorted(e.order for piece in knitted.ledger.pieces for e in piece.rows)
    return tuple(rows), tuple(of.get(order, -1) for order in orders)


class _Steps:
    """The steps of one size."""

    def __init__(self, worked: Worked, size: int) -> None:
        self.worked, self.size = worked, size
        self.knitted: Knitted = worked.told.knitted[size]
        self.count = len(worked.told.pattern.sizes)
        self.own: Mapping[str, str] = {d.name.casefold(): d.meaning for d in worked.told.pattern.definitions}
        self._words: dict[tuple[int, str], tuple[str, str]] = {}
        self._also = self._beside()

    def all(self) -> tuple[Step, ...]:
        ordered = sorted(
            ((entry, piece) for piece in self.knitted.ledger.pieces for entry in piece.rows),
            key=lambda pair: pair[0].order,
        )
        passes = self._passes()
        many: Counter[_Place] = Counter()
        for entry, piece in ordered:
            many[self._place(entry, piece)] += 1
        met: Counter[_Place] = Counter()
        out = []
        for entry, piece in ordered:
            place = self._place(entry, piece)
            met[place] += 1
            out.append(self._step(entry, piece, met[place], many[place], passes[place[:3]]))
        return tuple(out)

    def _place(self, entry: Entry, piece: Piece) -> _Place:
        line = self.worked.line_of(entry)
        return id(piece), entry.section, line.offset if line is not None else -1, entry.pass_

    def _passes(self) -> Counter[tuple[int, str, int]]:
        """How often each line is worked in each piece and section, repeats counted."""
        out: Counter[tuple[int, str, int]] = Counter()
        for piece in self.knitted.ledger.pieces:
            for entry in piece.rows:
                key = self._place(entry, piece)[:3]
                out[key] = max(out[key], entry.pass_)
        return out

    def _step(self, entry: Entry, piece: Piece, nth: int, of: int, passes: int) -> Step:
        line = self.worked.line_of(entry)
        words, full = self._said(entry, line)
        notes = []
        if entry.kind in ROWS and of > 1:
            notes.append(f"{entry.kind.value.capitalize()} {nth} of {of}.")
        if entry.order in self._also:
            notes.append(f"At the same time: {self._also[entry.order]}.")
        return Step(
            section=entry.section,
            piece=piece.name,
            kind=entry.kind.value,
            label=entry.label or ("" if of > 1 else entry.kind.value.capitalize()),
            side=_side(entry),
            words=said(words),
            in_full=full,
            before=entry.start,
            after=entry.end,
            unworked=entry.unworked,
            look_for=self._seen(entry),
            note=" ".join(notes),
            pass_=entry.pass_,
            passes=max(passes, entry.pass_),
            row=anchor_of(line) if line is not None else "",
            span=self.worked.told.places.hers(entry.span),
        )

    def _seen(self, entry: Entry) -> str:
        """What to look for; left and right as she who knits it sees them."""
        words = look_for(self.knitted, entry)
        return edited(words, mirrored_words(words))[0] if self.worked.told.left_handed else words

    def _said(self, entry: Entry, line: tree.Line | None) -> tuple[str, str]:
        """Her words for the row in this size, and the same in full."""
        real = self._real(entry) or line
        if real is None:
            words = squeezed(self.worked.told.work.source.words(entry.span))
        elif entry.kind in ROWS:
            words = _CHANGE.sub("", words_of(real)[0])
        else:
            words = squeezed(self.worked.told.work.source.words(entry.span)) or words_of(real)[0]
        key = (real.offset if real is not None else -1, words)
        if key not in self._words:
            told = self._sized(words)
            self._words[key] = (told, in_full(told, self.own))
        return self._words[key]

    def _sized(self, words: str) -> str:
        if self.count < 2:
            return words
        try:
            return for_size(words, self.size, self.count, 0) or words
        except NotClear:
            return words

    def _beside(self) -> dict[int, str]:
        """For rows that change the count otherwise than their own words do: what is told beside them.

        Only where a repeat of rows and a shaping are told at the same time.
        """
        out: dict[int, str] = {}
        for line in self.worked.told.pattern.lines:
            told = next((a for a in line.actions if isinstance(a, tree.AtSameTime)), None)
            again = self.worked.again(line)[self.size] if told is not None else None
            if told is None or again is None:
                continue
            words = [line.text[part.span.start : part.span.end] for part in told.parts[1:]]
            said_too = self._sized(squeezed(", and ".join(w.strip(" .,;") for w in words)))
            repeated = {e.order for e in again.entries}
            for entry in again.entries:
                own = self.worked.line_of(entry)
                plain = own and next(
                    (e for e in self.worked.of(own)[self.size] if e.order not in repeated), None
                )
                if plain and said_too and entry.end - entry.start != plain.end - plain.start:
                    out[entry.order] = said_too
        return out

    def _real(self, entry: Entry) -> tree.Line | None:
        """The line whose words made the stitches of a row that is told by another ("as row 2")."""
        line = self.worked.line_of(entry)
        if line is None or not any(
            isinstance(n, tree.RowRef | tree.RepeatRows) for n in tree.walk(line.actions)
        ):
            return line
        fabric = self.knitted.fabric
        part = row_slice(fabric, entry.order)
        spans = fabric.span_of_stitch[part]
        if not len(spans):
            return line
        first = int(fabric.span_start[spans[0]])
        found = self.worked.line_at(first)
        return found if found is not None else line


def _side(entry: Entry) -> Literal["RS", "WS", ""]:
    if entry.side is None or entry.kind is Kind.ROUND:
        return ""
    return "WS" if entry.side is tree.Side.WS else "RS"
