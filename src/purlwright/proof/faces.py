"""What each column of the cloth shows, and the one row of words that breaks it.

In: the cloth of each choice of options. Out: findings on a row whose stitches show purl bumps on columns
that are smooth in every other row, or the reverse: a knit for a purl, or two numbers of a rib exchanged. All
counts are right in both. A rule is one when at least four other lines of words keep it, above and below.
``period`` asks for this; lace and cables have rules of their own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry
from purlwright.proof.column_faces import (
    OF_SIDE,
    OTHERS,
    Break,
    Cloth,
    as_knitted,
    breaks,
    cloth_of,
    lines_of_spans,
    mixed_rows,
    rows_of,
)
from purlwright.proof.texture import tile_of
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern import tree
    from purlwright.proof.subject import Subject, Way

__all__ = ["FaceUnlikeColumn", "RidgeNotSpokenOf", "face_faults"]

_AS_WORKED = ("knit", "purl")


@dataclass(frozen=True, slots=True)
class FaceUnlikeColumn:
    """Stitches of one row are knitted where the stitches above and below them are purled, or the reverse.

    A k for a p, or two numbers of a rib exchanged: `K2, p4` for `K4, p2`. Every count is right, and a row of
    bumps runs across a smooth column, or a gap in a column of purls. Four other lines or more keep the
    column as it was.

    Example: `K3, sm, p to last m, sm, p3` in a shawl whose borders are knitted in all other rows.

    Cure: work these stitches as they appear, or say that the bump is meant. (Common practice; no source.)
    """

    row: str
    like: str
    many: int
    worked: str
    shows: str
    garter: bool

    code = "face-unlike-column"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        these = "a stitch" if self.many == 1 else f"{self.many} stitches"
        has = "its column is" if self.many == 1 else "their columns are"
        other = "purl" if self.worked == "knit" else "knit"
        if self.garter:
            rule = f"{has} {'knitted' if other == 'knit' else 'purled'} on both sides"
        else:
            rule = f"{'its column shows' if self.many == 1 else 'their columns show'} {self.shows} stitches"
        done = "knitted" if self.worked == "knit" else "purled"
        is_ = "is" if self.many == 1 else "are"
        return f"{self.row}: {these} {is_} {done} here; in {self.like} {rule}."

    def label(self) -> str:
        return "knitted here" if self.worked == "knit" else "purled here"

    def help(self) -> str | None:
        other = "Purl" if self.worked == "knit" else "Knit"
        return f"{other} here as in the other rows, or say that the column is broken on purpose."


@dataclass(frozen=True, slots=True)
class RidgeNotSpokenOf:
    """One row of plain knitting shows the other face all across, and the words never speak of a ridge.

    Where all cloth is stockinette and one line says `Purl` for `Knit`, the row makes a ridge across the work.
    A ridge is often meant, but then the words say so: a ridge, a fold, a welt, garter stitch.

    Example: `Rnd 1: Knit.` and `Rnd 2: Purl.` in a sock whose gauge is in stockinette stitch.

    Cure: work the row as the rows round it, or call it a ridge. (Common practice; no source.)
    """

    row: str
    like: str
    worked: str
    garter: bool

    code = "ridge-not-spoken-of"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        what = "a smooth row" if self.garter else "a ridge"
        ground = "garter stitch" if self.garter else "stockinette"
        done = "knitted" if self.worked == "knit" else "purled"
        return (
            f"{self.row}: {done} all across, which makes {what}; {self.like} are {ground} there, and "
            f"the words speak of nothing else."
        )

    def label(self) -> str:
        return "all across"

    def help(self) -> str | None:
        other = "Purl" if self.worked == "knit" else "Knit"
        return f"{other} this row as the others of its side, or say that it differs."


def face_faults(subject: Subject) -> list[Finding]:
    """The one line, in the whole pattern, that breaks the columns of its cloth; nothing if several do."""
    found: dict[int, Finding] = {}
    for way in _choices(subject):
        if not way.knitted.log or subject.amiss(way):
            continue
        for line, finding in _of_way(subject, way):
            found.setdefault(line, finding)
    return list(found.values()) if len(found) == 1 else []


def _choices(subject: Subject) -> Iterator[Way]:
    """The first size with each choice of options."""
    for way in subject.ways:
        if way.size == subject.ways[0].size:
            yield way


def _of_way(subject: Subject, way: Way) -> list[tuple[int, Finding]]:
    key = (_of_way, way.size, way.options)
    if subject.of_work(key):
        return []
    entries = rows_of(way)
    fabric = way.knitted.fabric
    of_span = lines_of_spans(subject, fabric)
    knitted = as_knitted(fabric, of_span, entries)
    if subject.of_rows(_of_way, knitted) is not None:
        return []
    cloth = cloth_of(fabric, of_span, entries)
    if cloth is None:
        return []
    out = []
    ribs = mixed_rows(cloth)
    broken = False
    for of, garter, at_end in (
        (cloth, False, False),
        (cloth, True, False),
        (ribs, False, False),
        (ribs, False, True),
    ):
        for one in breaks(of, entries, garter=garter, at_end=at_end):
            broken = True
            finding = _finding(subject, way, of, entries, one)
            if finding is not None and not (at_end and not _of_one_width(subject, of, one)):
                out.append((one.line, finding))
    if not broken:  # nor will there be, wherever the same is knitted
        subject.keep_of_rows(_of_way, knitted, 0)
        subject.keep_of_work(key, told=True)
    return out


# --- what is said of them ---------------------------------------------------------------------------------

_RIDGE = re.compile(
    r"\bridge|\bgarter|\brev(?:erse)?\b|\bfold|\bwelt|\bmoss\b|\bseed\b|\bturning|\bhem\b"
    r"|\bpurl (?:side|bump)|\btextur|\bbumps?\b|\bpicot",
    re.IGNORECASE,
)
_STOCKINETTE = re.compile(r"\bstockinette|\bstocking stitch|\bst\.? ?st\b", re.IGNORECASE)
_GARTER = re.compile(r"\bgarter", re.IGNORECASE)


def _finding(
    subject: Subject, way: Way, cloth: Cloth, entries: dict[int, Entry], one: Break
) -> Finding | None:
    orders = np.unique(cloth.row[one.places])
    entry = entries[int(orders[0])]
    of_row = np.flatnonzero((cloth.row == entry.order) & (cloth.line == one.line))
    broken = one.places[cloth.row[one.places] == entry.order]
    text = subject.source.text
    if not _said(way, cloth, entry, text, broken):
        return None
    uniform = len(np.unique(cloth.worked[of_row])) == 1 and len(of_row) > 1
    worked = _AS_WORKED[int(cloth.worked[broken[0]])]
    lines = [subject.in_order[n] for n in one.keep if n != one.line]
    like = _names(lines)
    related = tuple(Related(_label(line), "keeps them") for line in lines[:2])
    if uniform:
        wanted = _GARTER if one.garter else _STOCKINETTE
        other = _STOCKINETTE if one.garter else _RIDGE
        if (
            not wanted.search(text)
            or other.search(text)
            or _at_an_end(cloth, one)
            or not _comes_again(orders)
        ):
            return None
        if not one.garter and int(cloth.seen[broken[0]]) == 0:
            return None  # a smooth row between ribs is no slip that a hand makes
        problem: FaceUnlikeColumn | RidgeNotSpokenOf
        problem = RidgeNotSpokenOf(_name(subject.in_order[one.line]), like, worked, one.garter)
        return Finding(problem=problem, span=_words(subject, way, cloth, one.line, broken), related=related)
    if one.garter and _of_side(cloth, entries, one, entry) < OF_SIDE:
        return None
    in_tile = _repeated(way, cloth, of_row, broken)
    if in_tile and not (_ribbed(cloth, of_row) or _shaped(entry, text)):
        return None
    first = _first_run(cloth, broken)
    if len(orders) == 1 and len(first) > _ONCE and not in_tile and not _shaped(entry, text):
        return None  # a fold or the top of a pocket, worked once
    shows = _AS_WORKED[1 - int(cloth.seen[broken[0]])]
    problem = FaceUnlikeColumn(_name(subject.in_order[one.line]), like, len(first), worked, shows, one.garter)
    return Finding(problem=problem, span=_words(subject, way, cloth, one.line, first), related=related)


def _repeated(way: Way, cloth: Cloth, of_row: Any, broken: Any) -> bool:
    """Whether the words that break the columns are worked more than once across the row."""
    fabric = way.knitted.fabric
    spans = set(fabric.span_of_stitch[cloth.stitch[broken]].tolist())
    passes = fabric.pass_of_stitch[cloth.stitch[of_row]]
    mine = np.isin(fabric.span_of_stitch[cloth.stitch[of_row]], list(spans))
    return bool((passes[mine] > 1).any())


def _of_side(cloth: Cloth, entries: dict[int, Entry], one: Break, odd: Entry) -> int:
    """How many of the lines that keep the columns are worked on the side of the row that breaks them."""
    kept = np.isin(cloth.line, [n for n in one.keep if n != one.line])
    rows = zip(cloth.row[kept].tolist(), cloth.line[kept].tolist(), strict=True)
    return len({line for row, line in set(rows) if entries[row].side is odd.side})


def _comes_again(orders: Any) -> bool:
    """Whether a row comes three times or more, and alone: one ridge is a fold, several are a band."""
    return len(orders) >= OF_SIDE and bool((np.diff(orders) > 1).all())


def _said(way: Way, cloth: Cloth, entry: Entry, text: str, broken: Any) -> bool:
    """Whether the words say knit or purl for these stitches, and do not leave it to custom."""
    fabric = way.knitted.fabric
    words = fabric.span_of_stitch[cloth.stitch[broken]]
    starts, ends = fabric.span_start[words].tolist(), fabric.span_end[words].tolist()
    at = {a if a < b else entry.span.start for a, b in zip(starts, ends, strict=True)}
    return all(_PLAINLY.match(text, place) for place in at)


_PLAINLY = re.compile(r"\W*(?:knit|purl|[kp]\d*)\b", re.IGNORECASE)


def _at_an_end(cloth: Cloth, one: Break) -> bool:
    """Whether the line also begins or ends columns: then it belongs to what lies there."""
    mine = np.flatnonzero(cloth.line == one.line)
    first = (mine == 0) | (cloth.column[mine - 1] != cloth.column[mine])
    after = np.minimum(mine + 1, len(cloth.column) - 1)
    last = (mine == len(cloth.column) - 1) | (cloth.column[after] != cloth.column[mine])
    return bool(np.mean(first) > _MANY or np.mean(last) > _MANY)


_ONCE = 8
"""In a row that is worked once, more stitches than this side by side may well be meant; common practice."""
_MANY = 0.3
"""A line belongs to an end of the work if so large a share of its stitches does; common practice."""


def _shaped(entry: Entry, text: str) -> bool:
    """Whether the row is shaped without lace, so that what it repeats are parts of the piece, no figure."""
    plain = not _LACE.search(text[entry.span.start : entry.span.end])
    return bool(plain and (entry.made or entry.lost or entry.held))


_LACE = re.compile(r"\b(?:yo|yrn|yfwd|yon|yarn over)\b", re.IGNORECASE)


def _ribbed(cloth: Cloth, of_row: Any) -> bool:
    """Whether the cloth has columns of both faces there: every other row of theirs shows one face."""
    shown = set()
    for place in of_row.tolist():
        column = cloth.column[place]
        first, last = np.searchsorted(cloth.column, [column, column + 1])
        others = cloth.seen[first:last][cloth.line[first:last] != cloth.line[place]]
        if len(np.unique(cloth.line[first:last])) > OTHERS and len(np.unique(others)) == 1:
            shown.add(int(others[0]))
    return len(shown) == 2


def _of_one_width(subject: Subject, cloth: Cloth, one: Break) -> bool:
    """Whether a rib at an end of the work has the width of the ribs that it meets, and is a column out."""
    row = next((r for r in subject.worked_rows if r.line is subject.in_order[one.line]), None)
    tile = tile_of(row) if row is not None else None
    if row is None or tile is None:
        return False
    of_row = np.flatnonzero((cloth.row == row.entry.order) & (cloth.line == one.line))
    of_row = of_row[np.argsort(cloth.stitch[of_row])]
    met: dict[int, set[int]] = {}
    for n, place in enumerate(of_row.tolist()):
        first, last = np.searchsorted(cloth.column, [cloth.column[place], cloth.column[place] + 1])
        others = cloth.line[first:last] != one.line
        if len(np.unique(cloth.line[first:last][others])) >= OTHERS:
            met.setdefault(n % tile.width, set()).update(cloth.seen[first:last][others].tolist())
    return len(met) == tile.width and all(len(faces) == 1 for faces in met.values())


def _first_run(cloth: Cloth, broken: Any) -> Any:
    """The broken stitches that stand side by side, from the first worked."""
    stitches = np.sort(cloth.stitch[broken])
    apart = np.flatnonzero(np.diff(stitches) != 1)
    side_by_side = stitches[: int(apart[0]) + 1] if len(apart) else stitches
    return broken[np.isin(cloth.stitch[broken], side_by_side)]


def _words(subject: Subject, way: Way, cloth: Cloth, line: int, places: Any) -> Span:
    fabric = way.knitted.fabric
    of = fabric.span_of_stitch[cloth.stitch[places]]
    whole = subject.in_order[line]
    start, end = int(fabric.span_start[of].min()), int(fabric.span_end[of].max())
    if not whole.offset <= start < end <= whole.offset + len(whole.text):
        return Span(whole.offset, whole.offset + len(whole.text))
    return Span(start, end)


def _label(line: tree.Line) -> Span:
    """Where a line's label stands; all its words if it has none."""
    span = line.label.span if line.label is not None and line.label.span.end > 0 else Span(0, len(line.text))
    return Span(span.start + line.offset, span.end + line.offset)


def _name(line: tree.Line) -> str:
    return line.label.words if line.label is not None and line.label.words else f"The row in line {line.line}"


def _names(lines: Sequence[tree.Line]) -> str:
    """Lines of several sections, whose labels may be the same: "lines 41, 47, 48 and 5 more"."""
    numbers = [str(line.line) for line in sorted(lines, key=lambda line: line.line)]
    if len(numbers) > 5:
        return f"lines {', '.join(numbers[:4])} and {len(numbers) - 4} more"
    return f"lines {', '.join(numbers[:-1])} and {numbers[-1]}"
