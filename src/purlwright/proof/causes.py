"""Where a count went wrong: the row that lost a stitch, some rows before the one that does not come out.

In: what one knitting found, and its rows. Out: a finding on the row that alone does not keep its count, in
the place of the one on the row where it shows. Only lace and charts are told so: of a row that shapes,
nobody can say from the words that it should not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.problems.stitch_counts import CountDiffers, RepeatUneven
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.ledger import Piece

__all__ = ["RowLosesCount", "at_their_cause"]


@dataclass(frozen=True, slots=True)
class RowLosesCount:
    """One row of a lace or a chart does not keep its count, and a later row does not come out for it.

    The other rows give back every stitch that they take. In this one a yarn over has no decrease, or a
    decrease no yarn over. The knitter ends the row without noticing, and stands some rows later before a row
    that does not come out, though that row is right.

    Example: `Rnd 5: *K1, yo, k1, ssk, k2tog, k1, k2; rep from * around.` in a lace of 9 stitches.

    Cure: look for the yarn over or the decrease that is missing in this row. (Common practice; no source.)
    """

    row: str
    start: int
    end: int
    later: str

    code = "row-loses-count"
    check = "C001"
    severity = Severity.ERROR

    def message(self) -> str:
        gone = "loses" if self.end < self.start else "gains"
        by = abs(self.end - self.start)
        return (
            f"{self.row} {gone} {by} stitch{'' if by == 1 else 'es'} ({self.start} to {self.end}); the rows "
            f"before it keep their count, and {self.later} comes out with {self.start} only."
        )

    def label(self) -> str:
        return f"{self.start} before, {self.end} after"

    def help(self) -> str | None:
        missing = "a yarn over" if self.end < self.start else "a decrease"
        return f"Look for {missing} that is missing in {self.row}."


def at_their_cause(
    findings: Sequence[Finding], pieces: Sequence[Piece], charts: Sequence[Span]
) -> Sequence[Finding]:
    """The same findings, those on a row that does not come out set on the row that causes it, if one does."""
    if not any(isinstance(f.problem, _SHOWS) for f in findings):
        return findings
    return [_caused(f, pieces, charts) if isinstance(f.problem, _SHOWS) else f for f in findings]


_SHOWS = (CountDiffers, RepeatUneven)
_ROWS = {Kind.ROW, Kind.ROUND}


def _caused(f: Finding, pieces: Sequence[Piece], charts: Sequence[Span]) -> Finding:
    for piece in pieces:
        for n, entry in enumerate(piece.rows):
            if entry.span.start <= f.span.start < entry.span.end and entry.kind in _ROWS:
                cause, lost = _cause(piece.rows[:n], entry, charts)
                if cause is None or not _fits(f, cause, lost):
                    continue  # it may have come out the first time
                problem = RowLosesCount(cause.label, cause.start, cause.end, entry.label)
                related = (Related(f.span, f.problem.label()),)
                return Finding(problem=problem, span=cause.span, related=related)
    return f


def _cause(before: Sequence[Entry], shows: Entry, charts: Sequence[Span]) -> tuple[Entry | None, int]:
    """The one numbered row of the section, before the one in which it shows, that does not keep its count.

    It may have been worked more than once; with it, how many stitches its workings lost in all.
    """
    if shows.made != shows.lost or shows.number is None:
        return None, 0
    rows = list(_numbered(before, shows))
    odd = [e for e in rows if e.made != e.lost]
    if not odd or len({e.span for e in odd}) != 1 or len({e.span for e in rows}) < 4 or odd[0].stated:
        return None, 0
    cause = odd[0]
    drawn = any(span.start <= cause.span.start < span.end for span in charts)
    lost = sum(e.lost - e.made for e in odd)
    return (cause, lost) if drawn or (cause.made and cause.lost) else (None, 0)


def _numbered(before: Sequence[Entry], shows: Entry) -> Iterator[Entry]:
    """The numbered rows of the section that lead to a row, the nearest first, back to what is no such row."""
    for e in reversed(before):
        plain = e.kind in _ROWS and not (e.unread or e.resumed or e.held or e.returned or e.unworked)
        if not plain or e.number is None or e.section != shows.section:
            return
        yield e


def _fits(f: Finding, cause: Entry, lost: int) -> bool:
    """Whether the row comes out with the stitches that were there before the cause."""
    if isinstance(f.problem, CountDiffers):
        return not f.problem.at_least and (f.problem.there, f.problem.uses) == (cause.end, cause.end + lost)
    if isinstance(f.problem, RepeatUneven):
        there = f.problem.there + lost
        return there > 0 and there % f.problem.each == 0
    return False
