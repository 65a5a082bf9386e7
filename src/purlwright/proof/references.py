"""Family I, references: "as established", "reverse shaping", and charts, pages and sections that are
referred to.

In: the words heard, the headings and charts, and the knitting. Out: C098, C099, C103.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import ROWS, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject
from purlwright.text import Span

__all__ = ["JUDGES", "NothingEstablished", "NothingToReverse", "ReferenceNotThere", "ShapingReversed"]


@dataclass(frozen=True, slots=True)
class NothingEstablished:
    """Words such as "as established" where nothing has been worked yet.

    There is no row to go back to; a knitter turns the pages for a pattern that was never set.

    Example: `Cast on 40 sts. Row 1: Work in pattern as established.`

    Cure: name the pattern, or write the row out.
    """

    words: str

    code = "nothing-established"
    check = "C098"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.words}" stands here, and no row of this piece has been worked yet.'

    def label(self) -> str:
        return "nothing to go back to"

    def help(self) -> str | None:
        return "Name the pattern, or write the row out."


@dataclass(frozen=True, slots=True)
class ShapingReversed:
    """The second half is told only as the first one reversed.

    The knitter has to mirror every decrease, edge and side in her head, row by row. Beginners cannot, and
    others make mistakes.

    Example: `Work as for left front, reversing shaping.`

    Cure: write the second half out.
    """

    words: str

    code = "shaping-reversed"
    check = "C099"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.words}" leaves it to the knitter to mirror the other half.'

    def label(self) -> str:
        return "not written out"

    def help(self) -> str | None:
        return "Write this half out."


@dataclass(frozen=True, slots=True)
class NothingToReverse:
    """Shaping is to be reversed, and no shaping stands before it.

    Example: `Work as for left front, reversing shaping` in a pattern whose left front comes later.

    Cure: put the half that is written out first.
    """

    words: str

    code = "nothing-to-reverse"
    check = "C099"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.words}" stands here, and no row before it shapes anything.'

    def label(self) -> str:
        return "nothing to reverse"

    def help(self) -> str | None:
        return "Put the half that is written out before this one."


@dataclass(frozen=True, slots=True)
class ReferenceNotThere:
    """The words send the knitter to a chart, section or list that the pattern does not have.

    She looks for it in vain, and cannot tell whether a page is missing.

    Example: `Work chart C` where the charts are A and B; `see Special stitches` and no such heading.

    Cure: correct the name, or add what is missing.
    """

    what: str
    there: tuple[str, ...] = ()

    code = "reference-not-there"
    check = "C103"
    severity = Severity.WARNING

    def message(self) -> str:
        has = f"; the pattern has {', '.join(self.there)}" if self.there else ""
        return f'This refers to "{self.what}", and there is none{has}.'

    def label(self) -> str:
        return "not there"

    def help(self) -> str | None:
        return "Correct the name, or add what is missing."


def judge_established(subject: Subject) -> Answer:
    """C098. Words that go back to a row that is not there are found while knitting."""
    said = list(subject.watched.of("established"))
    if not said:
        return Answer(places=len(subject.nodes(tree.InPattern)))
    worked: set[int] = set()
    first: set[int] = set()
    for _, entry in subject.entries():
        if entry.kind in ROWS and not entry.unread:
            worked.add(entry.line)
    for way in subject.ways:
        for piece in way.knitted.ledger.pieces:
            rows = [e for e in piece.rows if e.kind in ROWS]
            if rows and piece.rows[0].kind is Kind.CAST_ON:
                first.add(rows[0].line)
    defined = any(getattr(s, "topic", "") in {"called", "stitches"} for s in subject.pattern.sections)
    has_charts = bool(getattr(subject.pattern, "charts", ()))
    findings = []
    own = {line.line: line for line, node in subject.nodes(tree.InPattern) if node.how == "set"}
    for line, heard in said:
        row = own.get(line.number)
        if row is None or line.number not in worked or line.number not in first or defined:
            continue
        before = line.text[: heard.start]
        if re.search(r"[.;]", before) is not None or has_charts:
            continue
        findings.append(Finding(problem=NothingEstablished(line.words(heard)), span=line.span(heard)))
    return Answer(places=len(said), findings=tuple(findings[:1]))


def judge_reversed(subject: Subject) -> Answer:
    """C099."""
    said = list(subject.watched.of("reversed"))
    if not said:
        return Answer()
    line, heard = said[0]
    shaped = any(entry.made != entry.lost and entry.line < line.number for _, entry in subject.entries()
                 if entry.kind in ROWS)  # fmt: skip
    words = line.words(heard)
    problem = ShapingReversed(words) if shaped or subject.unread else NothingToReverse(words)
    return Answer(places=len(said), findings=(Finding(problem=problem, span=line.span(heard)),))


def judge_references(subject: Subject) -> Answer:
    """C103. Rows and patterns that are called and not there are found while knitting."""
    watched = subject.watched
    pages = list(watched.of("page", sorts=("words", "note")))
    charts = list(watched.of("chart", sorts=("words", "note")))
    sections = list(watched.of("see", sorts=("words", "note")))
    called = sum(not c.name.lower().startswith("chart") for _, c in subject.nodes(tree.Call)) + len(
        subject.nodes(tree.RowRef)
    )
    places = len(pages) + len(charts) + len(sections) + called
    if not places:
        return Answer()
    findings: list[Finding] = []
    headings = " \n ".join(line.text.lower() for line in watched.lines if line.sort in {"heading", "title"})
    missing = "the printed sheet, for the pages referred to" if pages else None
    if charts:
        found, no_charts = _charts(subject, headings)
        findings += found
        missing = missing or no_charts
    header = getattr(subject.pattern, "header", None)
    keys = " \n ".join(e.key.lower() for e in header.entries) if header is not None else ""
    for line, heard in sections:
        name = re.sub(r"^see (?:the |under |section )*[\"“]?", "", line.words(heard), flags=re.IGNORECASE)
        stem = name.lower().rstrip("s").replace("special ", "").replace("stitch guide", "stitch")
        if stem not in headings and stem not in keys and not _told(subject, stem, line.number):
            findings.append(_reference(name, (), line.span(heard)))
    return Answer(places=places, findings=tuple(findings), missing=missing)


def _told(subject: Subject, stem: str, number: int) -> bool:
    """Whether a line begins with the name, as lists without a heading do."""
    return any(
        line.text.lower().lstrip("> *").startswith(stem) and line.number != number
        for line in subject.watched.lines
    )


_NAMED = re.compile(r"\bchart ([a-z]|\d{1,2})\b", re.IGNORECASE)


def _charts(subject: Subject, headings: str) -> tuple[list[Finding], str | None]:
    """Charts referred to by letter or number, where the pattern has charts by letter or number."""
    known = {m.lower() for m in _NAMED.findall(headings)}
    known |= {m.lower() for c in getattr(subject.pattern, "charts", ()) for m in _NAMED.findall(c.name)}
    if not known:
        has = bool(getattr(subject.pattern, "charts", ()))
        return [], None if has else "the charts, which are not in the file"
    out: dict[str, Finding] = {}
    taken = {(f.span.start, f.span.end) for f in subject.findings}
    there = tuple(f"chart {k.upper()}" for k in sorted(known))
    for line, heard in subject.watched.of("chart", sorts=("words", "note")):
        name = line.words(heard).split()[-1].lower()
        span = line.span(heard)
        if (
            name not in known
            and name not in out
            and not any(a <= span.start and span.end <= b for a, b in taken)
        ):
            out[name] = _reference(line.words(heard), there, span)
    return list(out.values()), None


def _reference(what: str, there: tuple[str, ...], span: Span) -> Finding:
    return Finding(problem=ReferenceNotThere(what, there), span=span)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C098": judge_established,
    "C099": judge_reversed,
    "C103": judge_references,
}
