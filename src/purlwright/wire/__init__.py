"""Everything that leaves as JSON, and its schema.

In: ledgers, findings and verdicts. Out: msgspec structs whose field names, order and nulls are the
contract with other programs, the bytes they encode to, and their JSON Schemas (committed under
``schema/``, and held current by a test). Lines and columns count code points from 1, ends exclusive.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence

import msgspec
from msgspec import UNSET, Struct, UnsetType, field

from purlwright.findings import Finding, Fix, Related, Result, Severity, Verdict
from purlwright.mend.search import Repair
from purlwright.needles.ledger import Entry, Kind, Ledger, Piece
from purlwright.pattern.tree import Side
from purlwright.proof.catalogue import Entry as CatalogueEntry
from purlwright.proof.pages import Page
from purlwright.rewrite.suggestion import Suggestion
from purlwright.text import Source, Span
from purlwright.wire.charts import ChartsOut
from purlwright.wire.cloth import ClothOut
from purlwright.wire.clues import ClueOut, CluePartOut, CluesOut, clues_out
from purlwright.wire.compare import (
    ChangedOut,
    ComparisonOut,
    FactChangedOut,
    FirstRowOut,
    TouchedOut,
    comparison_out,
)
from purlwright.wire.gauge import (
    GaugeAnswerOut,
    GaugeFigureOut,
    GaugeFiguresOut,
    GaugeOut,
    GaugeWashOut,
    GaugeYoursOut,
)
from purlwright.wire.plan import PlanMeasureOut, PlanNumberOut, PlanOut, PlanProofOut
from purlwright.wire.regauge import RegaugeMovedOut, RegaugeOut, RegaugeSizeOut
from purlwright.wire.report import (
    AlsoOut,
    ComparedOut,
    KnittingOut,
    RemarkOut,
    ReportOut,
    ScopeOut,
    report_out,
)
from purlwright.wire.rescue import (
    AskOut,
    CureOut,
    DiagnosisOut,
    FoundOut,
    LeavesOut,
    RescueOut,
    WhereOut,
)
from purlwright.wire.sheets import SheetFileOut, SheetsOut
from purlwright.wire.testknit import TestKnitOut

__all__ = [
    "SCHEMAS",
    "AlsoOut",
    "AskOut",
    "AskedOut",
    "ChangedOut",
    "CheckOut",
    "ClueOut",
    "CluePartOut",
    "CluesOut",
    "ComparedOut",
    "ComparisonOut",
    "CureOut",
    "DiagnosisOut",
    "EditOut",
    "FactChangedOut",
    "FailingOut",
    "FindingOut",
    "FirstRowOut",
    "FixOut",
    "FoundOut",
    "GapOut",
    "GaugeAnswerOut",
    "GaugeFigureOut",
    "GaugeFiguresOut",
    "GaugeOut",
    "GaugeWashOut",
    "GaugeYoursOut",
    "KnittedOut",
    "KnittingOut",
    "LeavesOut",
    "LedgerOut",
    "LedgersOut",
    "MistakePageOut",
    "PageOut",
    "PagesOut",
    "PieceOut",
    "PlanMeasureOut",
    "PlanNumberOut",
    "PlanOut",
    "PlanProofOut",
    "ProofOut",
    "ProofsOut",
    "RegaugeMovedOut",
    "RegaugeOut",
    "RegaugeSizeOut",
    "RelatedOut",
    "RemarkOut",
    "RepairOut",
    "ReportOut",
    "ReportsOut",
    "RescueOut",
    "RowOut",
    "RowWordsOut",
    "ScopeOut",
    "SheetFileOut",
    "SheetsOut",
    "SuggestionOut",
    "SuggestionsOut",
    "SummaryOut",
    "TouchedOut",
    "UnusedOut",
    "WhereOut",
    "clues_out",
    "comparison_out",
    "encode",
    "encode_one",
    "encode_several",
    "finding_out",
    "ledger_out",
    "pages_out",
    "proof_out",
    "report_out",
    "schema",
    "suggestions_out",
]


class GapOut(Struct, frozen=True, kw_only=True):
    """A gap left by a turn, counted in stitches from the right edge as seen on the right side."""

    from_right_rs: int
    turned_on: int
    """``order`` of the row that turned there."""


class RowWordsOut(Struct, frozen=True, kw_only=True):
    """The words that a row copies: their label and line."""

    label: str
    line: int


class RowOut(Struct, frozen=True, kw_only=True):
    """One row or round as worked; also a cast-on, bind-off, pick-up, join, graft or seam (see ``kind``)."""

    order: int
    number: int | None
    """The row's own number; null when its label has none."""
    kind: Kind
    label: str
    section: str
    pass_: int = field(name="pass")
    side: Side | None
    """"RS" or "WS"; null when it cannot be decided."""
    start: int
    worked: int
    unworked: int
    made: int
    lost: int
    held: int
    returned: int
    end: int
    """Always start + made - lost - held + returned."""
    gaps: list[GapOut]
    line: int
    as_: RowWordsOut | UnsetType = field(name="as", default=UNSET)
    """Only when the row copies the words of another."""


class PieceOut(Struct, frozen=True, kw_only=True):
    """One piece, from its cast-on or pick-up until it is off the needles."""

    name: str
    rows: list[RowOut]
    bound_off: int
    live: int


class RelatedOut(Struct, frozen=True, kw_only=True):
    """Another place that matters to a finding. The place is null when it stands nowhere in the text."""

    line: int | None
    column: int | None
    end_line: int | None
    end_column: int | None
    words: str


class EditOut(Struct, frozen=True, kw_only=True):
    """Put ``words`` in place of the stretch."""

    line: int | None
    column: int | None
    end_line: int | None
    end_column: int | None
    words: str


class FixOut(Struct, frozen=True, kw_only=True):
    """A repair that is offered, never made."""

    title: str
    edits: list[EditOut]
    safe: bool


class FindingOut(Struct, frozen=True, kw_only=True):
    """One thing to tell the designer, at one stretch of words (null places: it stands nowhere)."""

    code: str
    check: str | None
    severity: Severity
    line: int | None
    column: int | None
    end_line: int | None
    end_column: int | None
    message: str
    help: str | None
    sizes: list[str]
    """The sizes it was met in; empty when it was met in all that were knitted."""
    options: dict[str, str]
    """The option values it was met with; empty when it was met with all."""
    related: list[RelatedOut]
    fix: FixOut | None


class CheckOut(Struct, frozen=True, kw_only=True):
    """What one check answered, and at how many places it looked."""

    check: str
    result: Result
    places: int
    missing: str | None
    """What would be needed to decide; null when it was decided."""
    told_by: list[str]
    """Codes of other checks' findings that tell why it fails; empty when it has a finding of its own."""


class KnittedOut(Struct, frozen=True, kw_only=True):
    """What was knitted for a proof."""

    sizes: list[str]
    options: dict[str, list[str]]
    ways: int
    """How many times the pattern was knitted, sizes times options."""
    every: bool
    """False when there are so many combinations of options that only every pair was knitted."""


class LedgerOut(Struct, frozen=True, kw_only=True):
    """Answer of ``ledger --json``: one size, one choice of options."""

    title: str
    size: str
    options: dict[str, str]
    pieces: list[PieceOut]
    findings: list[FindingOut]


class LedgersOut(Struct, frozen=True, kw_only=True):
    """Answer of ``ledger --size all --json``."""

    sizes: list[LedgerOut]


class RepairOut(Struct, frozen=True, kw_only=True):
    """Changes that mend one finding, each by itself, without anything else failing; none is made."""

    code: str
    line: int | None
    column: int | None
    fixes: list[FixOut]
    """Likeliest first."""
    all_tried: bool
    """False when there were more likely changes than were knitted."""


class ProofOut(Struct, frozen=True, kw_only=True):
    """Answer of ``proof --json``. ``pieces`` are those of the size and options named before them."""

    file: str | UnsetType = UNSET
    """Only in a list of several patterns."""
    title: str
    size: str
    options: dict[str, str]
    pieces: list[PieceOut]
    findings: list[FindingOut]
    checks: list[CheckOut]
    knitted: KnittedOut
    repairs: list[RepairOut]
    """For the first causes of trouble; empty when none were sought."""


class FailingOut(Struct, frozen=True, kw_only=True):
    """A pattern that does not hold, and where its first error stands (with --strict: error or warning)."""

    file: str
    errors: int
    warnings: int
    line: int | None
    column: int | None
    message: str


class UnusedOut(Struct, frozen=True, kw_only=True):
    """A file about which nothing can be said, and why."""

    file: str
    message: str
    fault: bool
    """True when the fault is Purlwright's, not the file's."""


class SummaryOut(Struct, frozen=True, kw_only=True):
    """How several patterns came out."""

    patterns: int
    hold: int
    fail: int
    unusable: int
    failing: list[FailingOut]
    unused: list[UnusedOut]


class ProofsOut(Struct, frozen=True, kw_only=True):
    """Answer of ``proof --json`` when several files, or a folder, are given."""

    patterns: list[ProofOut]
    summary: SummaryOut


class ReportsOut(Struct, frozen=True, kw_only=True):
    """Answer of ``proof --report --json`` when several files, or a folder, are given."""

    reports: list[ReportOut]
    summary: SummaryOut


class SuggestionOut(Struct, frozen=True, kw_only=True):
    """Other words for lines ``line`` to ``end_line``, knitted beside the pattern."""

    kind: str
    """"totals", "repeats", "same time", "mirror" or "one size"."""
    title: str
    line: int
    end_line: int
    before: list[str]
    after: list[str]
    """Empty when none is offered."""
    ways: int
    """In how many sizes and choices both were knitted and were the same."""
    refused: str | None
    """Why none is offered; null when one is."""


class SuggestionsOut(Struct, frozen=True, kw_only=True):
    """Answer of ``suggest --json``."""

    title: str
    suggestions: list[SuggestionOut]


class PageOut(Struct, frozen=True, kw_only=True):
    """What one kind of finding means."""

    code: str
    check: str | None
    severity: Severity
    page: str


class AskedOut(Struct, frozen=True, kw_only=True):
    """What one check asks."""

    check: str
    family: str
    needs: str
    """What it is decided from: "text", "gauge", "sizes" or "a person"."""
    title: str
    made: bool
    """Whether Purlwright makes it yet."""
    carried_by: list[str]
    """Checks, or codes, whose findings tell what is wrong, where it has no finding of its own; else empty."""
    fails: str | None
    """A small pattern in which it fails; null when there is none."""
    undecided: str | None
    """One in which it cannot be decided."""
    holds: str | None


class MistakePageOut(Struct, frozen=True, kw_only=True):
    """What ``explain`` tells of a mistake at the needles, such as E16."""

    title: str
    paragraphs: list[str]


class PagesOut(Struct, frozen=True, kw_only=True):
    """Answer of ``explain --json``: the pages asked for (all when none is), and the checks named."""

    pages: list[PageOut]
    checks: list[AskedOut]
    mistakes: list[MistakePageOut] = []


SCHEMAS: Mapping[str, tuple[type[Struct], ...]] = {
    "ledger": (LedgerOut, LedgersOut),
    "proof": (ProofOut, ProofsOut),
    "report": (ReportOut, ReportsOut),
    "sheet": (SheetsOut,),
    "chart": (ChartsOut,),
    "clues": (CluesOut,),
    "lesson": (SheetsOut,),
    "test-knit": (SheetsOut, TestKnitOut),
    "cloth": (ClothOut,),
    "suggest": (SuggestionsOut,),
    "compare": (ComparisonOut,),
    "gauge": (GaugeOut,),
    "plan": (PlanOut,),
    "regauge": (RegaugeOut,),
    "where": (WhereOut,),
    "rescue": (RescueOut,),
    "explain": (PagesOut,),
}


def schema(name: str) -> str:
    """The JSON Schema of a command's answers, as committed in ``schema/NAME.schema.json``."""
    refs, parts = msgspec.json.schema_components(SCHEMAS[name], ref_template="#/$defs/{name}")
    whole = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"purlwright {'proof --report' if name == 'report' else name} --json",
        "anyOf": list(refs),
        "$defs": dict(sorted(parts.items())),
    }
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


def encode(answer: Struct) -> bytes:
    """The answer as indented UTF-8 JSON, with a line end."""
    return msgspec.json.format(msgspec.json.encode(answer), indent=2) + b"\n"


def encode_one(answer: Struct) -> bytes:
    """One answer of several, without a line end; :func:`encode_several` puts them together."""
    return msgspec.json.encode(answer)


def encode_several(name: str, answers: Sequence[bytes], summary: SummaryOut) -> bytes:
    """``{NAME: [answers], "summary": ...}`` from answers encoded before, indented, with a line end."""
    whole = b'{"%s":[%s],"summary":%s}' % (name.encode(), b",".join(answers), msgspec.json.encode(summary))
    return msgspec.json.format(whole, indent=2) + b"\n"


def _place(source: Source, span: Span) -> dict[str, int | None]:
    """Line and column of both ends; all null for words that stand nowhere."""
    if span.end < 0:
        return {"line": None, "column": None, "end_line": None, "end_column": None}
    line, column = source.place(span.start)
    end_line, end_column = source.place(span.end)
    return {"line": line, "column": column, "end_line": end_line, "end_column": end_column}


def _related_out(source: Source, related: Related) -> RelatedOut:
    return RelatedOut(**_place(source, related.span), words=related.words)


def _fix_out(source: Source, fix: Fix) -> FixOut:
    edits = [EditOut(**_place(source, e.span), words=e.words) for e in fix.edits]
    return FixOut(title=fix.title, edits=edits, safe=fix.safe)


def finding_out(source: Source, finding: Finding) -> FindingOut:
    """One finding as it leaves."""
    return FindingOut(
        code=finding.code,
        check=finding.check,
        severity=finding.severity,
        **_place(source, finding.span),
        message=finding.message,
        help=finding.help,
        sizes=list(finding.sizes),
        options=dict(finding.options),
        related=[_related_out(source, r) for r in finding.related],
        fix=_fix_out(source, finding.fix) if finding.fix else None,
    )


def _row_out(entry: Entry) -> RowOut:
    copied = entry.copied
    return RowOut(
        order=entry.order,
        number=entry.number,
        kind=entry.kind,
        label=entry.label,
        section=entry.section,
        pass_=entry.pass_,
        side=entry.side,
        start=entry.start,
        worked=entry.worked,
        unworked=entry.unworked,
        made=entry.made,
        lost=entry.lost,
        held=entry.held,
        returned=entry.returned,
        end=entry.end,
        gaps=[GapOut(from_right_rs=g.from_right_rs, turned_on=g.turned_on) for g in entry.gaps],
        line=entry.line,
        as_=UNSET if copied is None else RowWordsOut(label=copied.label, line=copied.line),
    )


def _pieces_out(pieces: Iterable[Piece]) -> list[PieceOut]:
    return [
        PieceOut(name=p.name, rows=[_row_out(e) for e in p.rows], bound_off=p.bound_off, live=p.live)
        for p in pieces
    ]


def ledger_out(source: Source, title: str, ledger: Ledger, findings: Iterable[Finding]) -> LedgerOut:
    """One knitting as it leaves."""
    return LedgerOut(
        title=title,
        size=ledger.size,
        options=dict(ledger.options),
        pieces=_pieces_out(ledger.pieces),
        findings=[finding_out(source, f) for f in findings],
    )


def proof_out(
    source: Source,
    title: str,
    ledger: Ledger,
    findings: Iterable[Finding],
    verdicts: Sequence[Verdict],
    knitted: KnittedOut,
    file: str | UnsetType = UNSET,
    repairs: Iterable[Repair] = (),
) -> ProofOut:
    """A proof as it leaves; ``ledger`` is the knitting whose rows are shown, ``file`` only in a list."""
    return ProofOut(
        file=file,
        title=title,
        size=ledger.size,
        options=dict(ledger.options),
        pieces=_pieces_out(ledger.pieces),
        findings=[finding_out(source, f) for f in findings],
        checks=[
            CheckOut(
                check=v.check, result=v.result, places=v.places, missing=v.missing, told_by=list(v.told_by)
            )
            for v in verdicts
        ],
        knitted=knitted,
        repairs=[_repair_out(source, repair) for repair in repairs],
    )


def _repair_out(source: Source, repair: Repair) -> RepairOut:
    place = _place(source, repair.finding.span)
    return RepairOut(
        code=repair.finding.code,
        line=place["line"],
        column=place["column"],
        fixes=[_fix_out(source, fix) for fix in repair.fixes],
        all_tried=repair.all_tried,
    )


def suggestions_out(title: str, found: Iterable[Suggestion]) -> SuggestionsOut:
    """Rewordings as they leave."""
    return SuggestionsOut(
        title=title,
        suggestions=[
            SuggestionOut(
                kind=s.kind,
                title=s.title,
                line=s.line,
                end_line=s.end_line,
                before=list(s.before),
                after=list(s.after),
                ways=s.ways,
                refused=s.refused or None,
            )
            for s in found
        ],
    )


def _asked_out(entry: CatalogueEntry) -> AskedOut:
    from purlwright.proof.carried import CARRIED, WITHOUT_OWN
    from purlwright.proof.registry import (
        ABOVE,
        JUDGES,
    )  # every judge loads with it, and few answers need them
    from purlwright.proof.two_examples import examples

    both = examples().get(entry.check)
    return AskedOut(
        check=entry.check,
        family=entry.family,
        needs=entry.needs,
        title=entry.title,
        made=entry.check in JUDGES or entry.check in ABOVE,
        carried_by=list(CARRIED[entry.check]) if entry.check in WITHOUT_OWN else [],
        fails=both.fails if both else None,
        undecided=both.undecided if both else None,
        holds=both.holds if both else None,
    )


def pages_out(
    pages: Iterable[Page],
    checks: Iterable[CatalogueEntry],
    mistakes: Iterable[tuple[str, tuple[str, ...]]] = (),
) -> PagesOut:
    """Help pages as they leave."""
    return PagesOut(
        pages=[PageOut(code=p.code, check=p.check, severity=p.severity, page=p.text) for p in pages],
        checks=[_asked_out(c) for c in checks],
        mistakes=[MistakePageOut(title=title, paragraphs=list(words)) for title, words in mistakes],
    )
