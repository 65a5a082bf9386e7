"""What the bench's page and its server say to each other about a pattern that is being written.

In: a work-up, findings, ledgers. Out: msgspec structs whose field names are the contract with the page.
Here, and nowhere else, places are counted in UTF-16 units, as a browser's editor counts them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct, field

from purlwright.findings import Finding, Fix, Result, Severity
from purlwright.needles.ledger import Entry, Kind, Piece
from purlwright.pattern.tree import Side
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.file import Pattern
    from purlwright.text import Source
    from purlwright.workup import WorkUp

__all__ = [
    "BenchCheckOut",
    "BenchGapOut",
    "BenchOptionOut",
    "BenchProofOut",
    "BenchRepairOut",
    "BenchRepairsOut",
    "BenchRowOut",
    "BenchSectionOut",
    "BenchWorkOut",
    "ChangeOut",
    "MarkOut",
    "RepairOfferedOut",
    "SeenOut",
    "StaleOut",
    "StretchOut",
    "Utf16",
    "WorkIn",
    "fix_out",
    "mark_out",
    "notes_out",
    "proof_out",
    "repairs_out",
    "row_out",
    "rows_out",
    "work_out",
]


class Utf16:
    """Places of one text, in code points and in UTF-16 units; the same where all letters are of the usual
    plane.
    """

    __slots__ = ("_after", "_plain")

    def __init__(self, text: str) -> None:
        self._plain = text.isascii() or not any(c > "\uffff" for c in text)
        self._after: list[int] = []
        if not self._plain:
            at = 0
            for c in text:
                self._after.append(at)
                at += 1 + (c > "\uffff")
            self._after.append(at)

    @property
    def plain(self) -> bool:
        """Whether both ways of counting are the same in this text."""
        return self._plain

    def to(self, offset: int) -> int:
        """A place counted in code points, in UTF-16 units."""
        return offset if self._plain else self._after[max(0, min(offset, len(self._after) - 1))]

    def back(self, offset: int) -> int:
        """A place counted in UTF-16 units, in code points; within a letter of two units, before it."""
        if self._plain:
            return offset
        from bisect import bisect_right

        return max(0, bisect_right(self._after, offset) - 1)


# --- what the page asks ----------------------------------------------------------------------------


class WorkIn(Struct, frozen=True, kw_only=True):
    """A text, and the size and option values that are looked at; the first and the usual where none are
    named.
    """

    path: str = ""
    version: int = 0
    """The page's own count of changes; the answer repeats it."""
    text: str
    size: str | None = None
    options: dict[str, str] = {}
    whole: bool = False
    """Of a proof: with the checks that look at the finished sheet, which has to be made for them."""


# --- what is answered --------------------------------------------------------------------------------


class StaleOut(Struct, frozen=True, kw_only=True):
    """No answer: a newer text of the same pattern came before this one was begun."""

    version: int
    stale: bool = True


class StretchOut(Struct, frozen=True, kw_only=True):
    """A stretch of her words."""

    from_: int = field(name="from")
    to: int


class SeenOut(Struct, frozen=True, kw_only=True):
    """Another place that matters to a finding; null places stand nowhere in the text."""

    from_: int | None = field(name="from")
    to: int | None
    words: str


class ChangeOut(Struct, frozen=True, kw_only=True):
    """Put ``insert`` in place of a stretch."""

    from_: int = field(name="from")
    to: int
    insert: str


class RepairOfferedOut(Struct, frozen=True, kw_only=True):
    """A change of the words that is offered, never made by itself."""

    words: str
    edits: list[ChangeOut]


class MarkOut(Struct, frozen=True, kw_only=True):
    """One finding at its words; null places stand nowhere in the text."""

    code: str
    check: str | None
    severity: Severity
    from_: int | None = field(name="from")
    to: int | None
    line: int | None
    message: str
    label: str
    """A few words to stand at the marked ones."""
    help: str | None
    related: list[SeenOut]
    fix: RepairOfferedOut | None
    sizes: list[str]
    """The sizes it was met in; empty when in all that were knitted."""
    options: dict[str, str]


class BenchGapOut(Struct, frozen=True, kw_only=True):
    """A gap left by a turn, in stitches from the right edge as seen on the right side."""

    from_right_rs: int
    turned_on: int


class BenchRowOut(Struct, frozen=True, kw_only=True):
    """One row or round as worked, or a cast-on, bind-off, pick-up, join, graft or seam."""

    line: int
    from_: int | None = field(name="from")
    to: int | None
    order: int
    piece: str
    kind: Kind
    label: str
    section: str
    pass_: int = field(name="pass")
    passes: int
    """How often these words are worked in all, in this piece."""
    side: Side | None
    start: int
    worked: int
    unworked: int
    made: int
    lost: int
    held: int
    returned: int
    end: int
    gaps: list[BenchGapOut]
    stitches: int
    """Stitches drawn so far in the whole pattern, this row included."""
    copied: str
    """The label of the row whose words it works again; "" where it has words of its own."""
    said: int | None
    """The total printed with it for this size; null where none is printed, or none to be held against it."""
    unread: bool
    """Whether its words were not read, so that its counts stand on the printed ones."""


class BenchOptionOut(Struct, frozen=True, kw_only=True):
    """A choice that the pattern leaves to the knitter."""

    name: str
    values: list[str]
    chosen: str


class BenchSectionOut(Struct, frozen=True, kw_only=True):
    """A heading with all that stands under it."""

    name: str
    level: int
    kind: str
    """"work" if it is knitted, "define" if it only explains."""
    from_: int = field(name="from")
    to: int


class BenchWorkOut(Struct, frozen=True, kw_only=True):
    """One size and choice, read and knitted: what the margin shows."""

    version: int
    title: str
    sizes: list[str]
    size: str
    options: list[BenchOptionOut]
    rows: list[BenchRowOut]
    findings: list[MarkOut]
    sections: list[BenchSectionOut]
    notes: list[StretchOut]
    """Words from which nothing is knitted."""
    stitches: int
    live: int
    """Stitches still on the needles at the end."""
    took_ms: float


class BenchRepairOut(Struct, frozen=True, kw_only=True):
    """Changes that mend one finding, each by itself, likeliest first."""

    code: str
    from_: int | None = field(name="from")
    to: int | None
    fixes: list[RepairOfferedOut]
    all_tried: bool


class BenchRepairsOut(Struct, frozen=True, kw_only=True):
    """What would mend what was found first."""

    version: int
    repairs: list[BenchRepairOut]


class BenchCheckOut(Struct, frozen=True, kw_only=True):
    """What one check answered, and at how many places it looked."""

    check: str
    title: str
    result: Result
    places: int
    missing: str | None


class BenchProofOut(Struct, frozen=True, kw_only=True):
    """Every size and option, proved."""

    version: int
    findings: list[MarkOut]
    checks: list[BenchCheckOut]
    summary: str
    ways: int
    took_ms: float


# --- made ------------------------------------------------------------------------------------------------


def _ends(at: Utf16, span: Span) -> tuple[int, int] | tuple[None, None]:
    return (None, None) if span.end < 0 else (at.to(span.start), at.to(span.end))


def mark_out(source: Source, at: Utf16, finding: Finding) -> MarkOut:
    """One finding, at its words."""
    start, end = _ends(at, finding.span)
    fix = finding.fix
    return MarkOut(
        code=finding.code,
        check=finding.check,
        severity=finding.severity,
        from_=start,
        to=end,
        line=None if start is None else source.place(finding.span.start)[0],
        message=finding.message,
        label=finding.problem.label(),
        help=finding.help,
        related=[
            SeenOut(from_=places[0], to=places[1], words=one.words)
            for one in finding.related
            for places in [_ends(at, one.span)]
        ],
        fix=None if fix is None else fix_out(at, fix),
        sizes=list(finding.sizes),
        options=dict(finding.options),
    )


def row_out(at: Utf16, entry: Entry, piece: str, passes: int) -> BenchRowOut:
    """One entry of the ledger, at its words."""
    start, end = _ends(at, entry.span)
    return BenchRowOut(
        line=entry.line,
        from_=start,
        to=end,
        order=entry.order,
        piece=piece,
        kind=entry.kind,
        label=entry.label,
        section=entry.section,
        pass_=entry.pass_,
        passes=passes,
        side=entry.side,
        start=entry.start,
        worked=entry.worked,
        unworked=entry.unworked,
        made=entry.made,
        lost=entry.lost,
        held=entry.held,
        returned=entry.returned,
        end=entry.end,
        gaps=[BenchGapOut(from_right_rs=g.from_right_rs, turned_on=g.turned_on) for g in entry.gaps],
        stitches=entry.stitches_so_far,
        copied="" if entry.copied is None else entry.copied.label,
        said=_said(entry),
        unread=entry.unread,
    )


def _said(entry: Entry) -> int | None:
    """The last total printed with a row. One that says the same in other words is the count itself."""
    totals = [s for s in entry.stated if s.kind == "total" and not s.used and not s.approximate]
    if not totals or entry.unread:
        return None
    return entry.end if totals[-1].stated == totals[-1].knitted else totals[-1].stated


def work_out(
    work: WorkUp, asked: WorkIn, size: str, options: Mapping[str, str], took_ms: float
) -> BenchWorkOut:
    """What the margin shows of one size and choice."""
    source, at = work.source, Utf16(work.source.text)
    knitted = work.knitted(size, options)
    sections = [s for s in work.pattern.sections if s.span.end >= 0]
    starts = [source.line_span(s.line).start for s in sections]
    return BenchWorkOut(
        version=asked.version,
        title=work.title,
        sizes=list(work.sizes),
        size=size,
        options=[
            BenchOptionOut(name=name, values=list(values), chosen=options.get(name, values[0]))
            for name, values in work.options
        ],
        rows=rows_out(at, knitted.ledger.pieces),
        findings=[mark_out(source, at, f) for f in work.findings(size, options)],
        sections=[
            BenchSectionOut(
                name=s.heading, level=s.level, kind=s.kind, from_=at.to(start), to=at.to(max(start, end - 1))
            )
            for s, start, end in zip(sections, starts, [*starts[1:], len(source.text)], strict=False)
        ],
        notes=list(notes_out(work.pattern, at)),
        stitches=knitted.fabric.n,
        live=sum(piece.live for piece in knitted.ledger.pieces),
        took_ms=took_ms,
    )


def notes_out(pattern: Pattern, at: Utf16) -> Iterator[StretchOut]:
    """The words from which nothing is knitted: notes within a line, and lines that tell nothing to do."""
    from purlwright.pattern import tree

    for section in pattern.sections:
        for line in section.lines:
            if not line.actions and line.label is None:
                yield StretchOut(from_=at.to(line.offset), to=at.to(line.offset + len(line.text)))
            for action in line.actions:
                if isinstance(action, tree.Note) and action.span.end > action.span.start >= 0:
                    start, end = line.offset + action.span.start, line.offset + action.span.end
                    yield StretchOut(from_=at.to(start), to=at.to(end))


def rows_out(at: Utf16, pieces: Iterable[Piece]) -> list[BenchRowOut]:
    """Every entry of every piece in the order worked, each told how often its words are worked."""
    out: list[BenchRowOut] = []
    for piece in pieces:
        times: dict[tuple[int, str, str], int] = {}
        for e in piece.rows:
            key = (e.line, e.label, e.section)
            times[key] = max(times.get(key, 1), e.pass_)
        out += [row_out(at, e, piece.name, times[e.line, e.label, e.section]) for e in piece.rows]
    out.sort(key=lambda row: row.order)
    return out


def repairs_out(work: WorkUp, version: int) -> BenchRepairsOut:
    """For the first causes of trouble, the changes that mend them; each was knitted, none is made."""
    at = Utf16(work.source.text)
    return BenchRepairsOut(
        version=version,
        repairs=[
            BenchRepairOut(
                code=one.finding.code,
                from_=start,
                to=end,
                fixes=[fix_out(at, fix) for fix in one.fixes],
                all_tried=one.all_tried,
            )
            for one in work.repairs()
            for start, end in [_ends(at, one.finding.span)]
        ],
    )


def fix_out(at: Utf16, fix: Fix) -> RepairOfferedOut:
    """One change of the words that is offered."""
    return RepairOfferedOut(
        words=fix.title,
        edits=[ChangeOut(from_=at.to(e.span.start), to=at.to(e.span.end), insert=e.words) for e in fix.edits],
    )


def proof_out(
    work: WorkUp,
    version: int,
    findings: Sequence[Finding],
    checks: list[BenchCheckOut],
    summary: str,
    ways: int,
    took_ms: float,
) -> BenchProofOut:
    """A proof of every size and choice."""
    at = Utf16(work.source.text)
    return BenchProofOut(
        version=version,
        findings=[mark_out(work.source, at, f) for f in findings],
        checks=checks,
        summary=summary,
        ways=ways,
        took_ms=took_ms,
    )
