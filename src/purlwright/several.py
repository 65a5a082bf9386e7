"""One pattern proved from its file to its page, and several of them summed up.

In: a file's name and what was asked. Out: an :class:`Outcome`, small enough to pass from one process to
another: the page as bytes, or one sentence why there is none; how many errors; where the first stands.
Which files, how many hands, and printing are left to ``files``, ``crew`` and ``cli``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from purlwright.files import Unusable, house_style, read_file, safe
from purlwright.findings import Finding, Severity
from purlwright.terminal.look import Look
from purlwright.workup import NoSuchOption, NoSuchSize, Proved, WorkUp, work_up

if TYPE_CHECKING:
    from purlwright.mend.search import Repair
    from purlwright.wire import SummaryOut

__all__ = ["Outcome", "Task", "died", "options_asked", "prove_one", "size_asked", "summary", "unusual"]

OK, PATTERN_ERROR, UNUSABLE = 0, 1, 2
FAULT = "purlwright-fault: a fault in Purlwright, not in your pattern"


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A pattern to prove, and how its answer is wanted."""

    name: str
    text: str | None = None
    """What standard input held; None reads the file."""
    size: str | None
    options: tuple[tuple[str, str], ...]
    look: Look
    several: bool
    json: bool
    report: bool
    everything: bool
    repairs: bool
    strict: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How one pattern came out."""

    name: str
    page: bytes = b""
    code: int = OK
    complaint: str = ""
    """Why there is no page: one sentence about the file, or about a fault of ours."""
    fault: bool = False
    trace: str = ""
    errors: int = 0
    warnings: int = 0
    line: int | None = None
    column: int | None = None
    message: str = ""
    """The first error (with --strict: or warning), and where it stands."""

    def without_page(self) -> Outcome:
        """The same, when its page has been printed."""
        return replace(self, page=b"")


def prove_one(task: Task, *, catch: bool = True) -> Outcome:
    """Prove a pattern. A file that cannot be used is an outcome; so is a fault of ours, if ``catch``."""
    try:
        return _prove(task)
    except Unusable as e:
        said = str(e)
        if task.several and safe(task.name) not in said:
            said = f'"{safe(task.name)}": {said}'
        return Outcome(name=task.name, code=UNUSABLE, complaint=said)
    except Exception as e:
        if not catch:
            raise
        import traceback

        said = f'"{safe(task.name)}": {FAULT} ({type(e).__name__}).'
        return Outcome(
            name=task.name, code=UNUSABLE, complaint=said, fault=True, trace=traceback.format_exc()
        )


def died(task: Task, exit_code: int | None) -> Outcome:
    """The outcome when the process that proved a pattern ended before it answered."""
    how = f"signal {-exit_code}" if exit_code is not None and exit_code < 0 else f"exit code {exit_code}"
    said = f'"{safe(task.name)}": {FAULT} (the process that proved it ended by itself, {how}).'
    return Outcome(name=task.name, code=UNUSABLE, complaint=said, fault=True)


def _prove(task: Task) -> Outcome:
    text = read_file(task.name) if task.text is None else task.text
    work = work_up(text, task.name, house_style(task.name))
    every = task.size is None or task.size.casefold() == "all"
    proved = work.proved(
        None if every else size_asked(work, task.size), options_asked(work, task.options), sheet=True
    )
    repairs = work.repairs() if proved.errors and task.repairs else ()
    grave = {Severity.ERROR, Severity.WARNING} if task.strict else {Severity.ERROR}
    first = next((f for f in proved.findings if f.severity in grave), None)
    line, column = (None, None) if first is None else _place(work, first)
    return Outcome(
        name=task.name,
        page=_page(task, work, proved, repairs),
        code=OK if first is None else PATTERN_ERROR,
        errors=proved.errors,
        warnings=sum(f.severity is Severity.WARNING for f in proved.findings),
        line=line,
        column=column,
        message="" if first is None else first.message,
    )


def _place(work: WorkUp, finding: Finding) -> tuple[int | None, int | None]:
    return work.source.place(finding.span.start) if finding.span.end >= 0 else (None, None)


def _page(task: Task, work: WorkUp, proved: Proved, repairs: Sequence[Repair]) -> bytes:
    """The answer: text or JSON, the proof or the report. One of several is told by its file."""
    if task.json:
        return _json(task, work, proved, repairs)
    if task.report:
        from purlwright.terminal.print_report import show_report

        lines = show_report(work.report(proved, repairs), task.look.width)
    else:
        from purlwright.terminal.print_proof import show_proof

        lines = show_proof(
            proved, work.title, work.source, task.look, everything=task.everything, repairs=repairs
        )
    head = [f"── {safe(task.name)} ──", ""] if task.several else []
    return ("\n".join([*head, *lines]) + "\n").encode("utf-8", "replace")


def _json(task: Task, work: WorkUp, proved: Proved, repairs: Sequence[Repair]) -> bytes:
    from msgspec import UNSET

    from purlwright import wire

    file = task.name if task.several else UNSET
    answer: wire.ProofOut | wire.ReportOut
    if task.report:
        answer = wire.report_out(work.report(proved, repairs), file)
    else:
        answer = wire.proof_out(
            work.source,
            work.title,
            proved.knitted[0].ledger,
            proved.findings,
            proved.verdicts,
            wire.KnittedOut(
                sizes=list(proved.sizes),
                options={name: list(values) for name, values in proved.options},
                ways=len(proved.knitted),
                every=proved.every,
            ),
            file,
            repairs,
        )
    return wire.encode_one(answer) if task.several else wire.encode(answer)


def summary(outcomes: Iterable[Outcome]) -> SummaryOut:
    """How many hold and fail; of each that fails, where; of each that cannot be used, why."""
    from purlwright import wire

    every = list(outcomes)
    failing = [o for o in every if o.code == PATTERN_ERROR]
    unused = [o for o in every if o.code == UNUSABLE]
    return wire.SummaryOut(
        patterns=len(every),
        hold=len(every) - len(failing) - len(unused),
        fail=len(failing),
        unusable=len(unused),
        failing=[
            wire.FailingOut(
                file=o.name,
                errors=o.errors,
                warnings=o.warnings,
                line=o.line,
                column=o.column,
                message=o.message,
            )
            for o in failing
        ],
        unused=[wire.UnusedOut(file=o.name, message=o.complaint, fault=o.fault) for o in unused],
    )


# --- sizes and options -----------------------------------------------------------------------------


def size_asked(work: WorkUp, name: str | None) -> str:
    """The size as the pattern writes it; the first for None. Raises Unusable."""
    try:
        return work.size_named(name)
    except NoSuchSize as e:
        raise Unusable(safe(str(e))) from None


def unusual(work: WorkUp, options: Mapping[str, str]) -> list[str]:
    """The values that are not the usual ones: they are told apart in the name of what is made."""
    usual = {option: values[0] for option, values in work.options}
    return [value for option, value in options.items() if value != usual.get(option)]


def options_asked(work: WorkUp, asked: Iterable[tuple[str, str]]) -> dict[str, str]:
    """The option values as the pattern writes them. Raises Unusable."""
    try:
        return dict(work.option_values(dict(asked)))
    except NoSuchOption as e:
        raise Unusable(safe(str(e))) from None
