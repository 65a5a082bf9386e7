"""Check C109, tails: an end of yarn that is kept for a graft or a seam is long enough for it.

In: words that leave a tail of a told length and use it, the gauge, and what is grafted or sewn. Out: findings
where the tail is shorter than the yarn that the join takes at the very least.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import ROWS, Kind
from purlwright.proof.measures import amounts_in
from purlwright.proof.rates import worked_rows
from purlwright.proof.sleeves import main_rate
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.needles.ledger import Entry, Piece
    from purlwright.proof.subject import Subject, Way

__all__ = ["TailTooShort", "tails"]


@dataclass(frozen=True, slots=True)
class TailTooShort:
    """A tail is left for grafting or sewing, and it cannot reach from one end of the join to the other.

    The knitter breaks the yarn where she is told, and finds in the middle of the graft that it does not last.
    A join there leaves two ends in the most visible place.

    Example: `Break yarn, leaving a 20 cm tail, and graft the 40 sts together.` at 20 sts in 10 cm. The graft
    is 20 cm wide and takes three times as much.

    Cure: leave the tail longer, or say that new yarn is joined for it.

    Source: grafting takes 3 to 4 times the width (an encyclopedia citing J. Hiatt, 1988), a seam 1.5 to 2
    times its length (common practice, no source). Here twice the width and once the length are asked, and the
    width of the stitches to draw through.
    """

    tail: str
    needs: str
    use: str

    code = "tail-too-short"
    check = "C109"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"A tail of {self.tail} cm is left here, and {self.use} takes at least {self.needs} cm."

    def label(self) -> str:
        return f"{self.needs} cm at least"

    def help(self) -> str | None:
        return f"Leave at least {self.needs} cm, and some more to weave in."


_TAIL = re.compile(
    r"\b(?:leav(?:e|es|ing)|with|keeping)\b[^.;\n]{0,60}?\b(?:tail|end)\b|\b(?:tail|end) of (?:about )?\d",
    re.IGNORECASE,
)
_GRAFT = re.compile(r"\bgraft\w*|\bkitchener\b|\bweave (?:the )?(?:toe|sts|stitches|two) ", re.IGNORECASE)
_DRAW = re.compile(
    r"\b(?:thread|draw|pull|run|pass)\b[^.;\n]{0,40}\b(?:through|sts|stitches)\b", re.IGNORECASE
)
_SEW = re.compile(r"\b(?:sew|seam(?:ing)?|mattress)\b", re.IGNORECASE)
_NEW_YARN = re.compile(
    r"\b(?:new|another|separate|fresh|second) (?:length|strand|piece|yarn|end)", re.IGNORECASE
)
_AFTER = 240
"""So many letters after the tail its use is looked for, within its section."""


class _Left(NamedTuple):
    """A tail that is left: its length in each size, its words, and what it is for."""

    amount: object
    span: Span
    use: str
    line: int


def tails(subject: Subject) -> tuple[int, list[Finding]]:
    """How many tails of a told length have a use that can be measured, and those that are too short for
    it.
    """
    if "tail" not in subject.low and " end" not in subject.low:
        return 0, []
    rate = main_rate(subject)
    if rate is None or not rate.stitches:
        return 0, []
    places, findings = 0, []
    for left in _left(subject):
        short: list[tuple[Fraction, Fraction]] = []
        seen = False
        for way in subject.ways:
            have = left.amount.cm(subject.size_place(way.size))  # type: ignore[attr-defined]
            needs = _needs(way, left, float(rate.stitches), float(rate.rows or 0))
            if have is None or needs is None:
                continue
            seen = True
            if have < needs:
                short.append((have, Fraction(needs)))
        places += seen
        if short:
            have, most = max(short, key=lambda s: s[1] - s[0])
            use = {"graft": "the graft", "sew": "the seam", "draw": "drawing it through the stitches"}[
                left.use
            ]
            problem = TailTooShort(f"{float(have):.3g}", f"{float(most):.0f}", use)
            findings.append(Finding(problem=problem, span=left.span))
    return places, findings


def _left(subject: Subject) -> Iterator[_Left]:
    text = subject.source.text
    for m in _TAIL.finditer(text):
        line_end = text.find("\n", m.end())
        words = text[m.start() : line_end if line_end >= 0 else len(text)][:120]
        amount = next(amounts_in(words, m.start(), max(1, len(subject.pattern.sizes))), None)
        if amount is None or amount.span.start > m.end() + 12:
            continue
        after = text[m.end() : m.end() + _AFTER]
        heading = after.find("\n#")
        after = after if heading < 0 else after[:heading]
        use = _use(after)
        if use:
            yield _Left(amount, amount.span, use, subject.source.place(m.start())[0])


def _use(after: str) -> str:
    """What the tail is for: the first use that is named after it; "" for none, or if new yarn is taken."""
    if _NEW_YARN.search(after):
        return ""
    found = [
        (m.start(), use)
        for use, words in (("graft", _GRAFT), ("draw", _DRAW), ("sew", _SEW))
        if (m := words.search(after)) is not None
    ]
    return min(found)[1] if found else ""


def _needs(way: Way, left: _Left, stitches: float, rows: float) -> int | None:
    """The yarn that the use takes at the very least, in whole cm; None if it cannot be told."""
    piece = _piece_at(way, left.line)
    if piece is None:
        return None
    before, after = _beside(piece, left.line)
    last = before[-1] if before else None
    if last is None or last.unread or last.resumed:
        return None
    if left.use == "graft":
        graft = next((e for e in after if e.kind is Kind.GRAFT), None)
        many = graft.lost / 2 if graft is not None and graft.lost else last.end / 2
        return round(2 * many / stitches) or None
    if left.use == "draw":
        return round(last.end / stitches) or None
    long = worked_rows(before)
    return round(long / rows) or None if rows and last.kind is Kind.BIND_OFF else None


def _piece_at(way: Way, line: int) -> Piece | None:
    """The last piece that is worked up to a line."""
    return next((p for p in reversed(way.knitted.ledger.pieces) if p.rows and p.rows[0].line <= line), None)


_TO_END = frozenset({*ROWS, Kind.BIND_OFF, Kind.CAST_ON})


def _beside(piece: Piece, line: int) -> tuple[Sequence[Entry], Sequence[Entry]]:
    """What is worked of a piece up to a line, without joins; and what comes from that line on."""
    before = [e for e in piece.rows if e.line <= line and e.kind in _TO_END]
    return before, [e for e in piece.rows if e.line >= line]
