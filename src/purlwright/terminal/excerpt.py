"""A finding as an editor's mark: the sentence, the designer's line with the words marked, and the cure.

In: findings and the source. Out: lines of text. Which findings are shown, and in what order, is left to
the pages.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from purlwright.findings import Finding, Severity
from purlwright.mend.search import Repair
from purlwright.proof.said import and_list, count
from purlwright.terminal.look import Look, plain, width_of, wrap
from purlwright.text import Source, Span

__all__ = ["show_findings"]

_MOST_OTHERS = 4


@dataclass(frozen=True, slots=True)
class _Mark:
    """A stretch of one line, its words beside it, and whether it is the one the finding is about."""

    line: int
    start: int
    end: int
    words: str
    main: bool


def show_findings(
    findings: Iterable[Finding], source: Source, look: Look, repairs: Iterable[Repair] = ()
) -> list[str]:
    """Each finding as a block, with what would mend it if that was sought, a blank line after each.

    The same thing said of the same words with other numbers (another size) follows in one line each.
    """
    out: list[str] = []
    mending = {(r.finding.code, r.finding.span): r for r in repairs}
    for key, same in groupby(findings, key=lambda f: (f.code, f.span)):
        group = list(same)
        out += [*_block(group[0], source, look), *_others(group, look)]
        out += [*_repair(mending[key], look), ""] if key in mending else [""]
    return out


def _repair(repair: Repair, look: Look) -> list[str]:
    """``repair: line 8: k5 for k4``; each of several on a line of its own."""
    fixes = [plain(fix.title) for fix in repair.fixes]
    if not fixes:
        return []
    head = look.cure("repair") + ":"
    if len(fixes) == 1:
        first, *rest = wrap(f"repair: {fixes[0]} mends it and upsets nothing else.", look.width, "        ")
        return [head + first[7:], *rest]
    lines = [f"{head} each of these, alone, mends it and upsets nothing else:"]
    return lines + [line for fix in fixes for line in wrap(f"  - {fix}", look.width, "    ")]


def _colour(finding: Finding, look: Look, words: str) -> str:
    if finding.severity is Severity.ERROR:
        return look.bad(words)
    return look.careful(words) if finding.severity is Severity.WARNING else look.strong(words)


def _where(finding: Finding) -> str:
    """``size adult; turns wrapped``; nothing when it was met in all."""
    said = []
    if finding.sizes:
        said.append(f"{'size' if len(finding.sizes) == 1 else 'sizes'} {and_list(finding.sizes)}")
    said += [f"{name} = {value}" for name, value in finding.options]
    return plain("; ".join(said))


def _block(finding: Finding, source: Source, look: Look) -> list[str]:
    where = _where(finding)
    place, message = _place_and_message(finding, source)
    lines = wrap(f"{place}: {message}", look.width - 2, "  ")
    code = f"({finding.code})"
    if width_of(lines[-1]) + len(code) + 3 <= look.width:
        lines[-1] += "   " + look.faint(code)
    else:
        lines.append("  " + look.faint(code))
    lines[0] = _colour(finding, look, place) + lines[0][len(place) :]
    if where:
        lines += [look.faint(line) for line in wrap(f"Only {where}.", look.width, "  ")]
    lines += _excerpt(finding, source, look)
    if finding.help:
        cure = wrap(plain(f"help: {finding.help}"), look.width, "      ")
        lines += [look.cure(cure[0][:5]) + cure[0][5:], *cure[1:]]
    return lines


def _place_and_message(finding: Finding, source: Source) -> tuple[str, str]:
    """``Row 5, line 9`` and "uses 20 of the 24": a row that begins a message joins the place."""
    message = " ".join(plain(finding.message).split())
    if finding.span.end < 0:
        return "The whole pattern", message
    line = source.place(finding.span.start)[0]
    row = " ".join(plain(str(getattr(finding.problem, "row", ""))).split())
    rest = message.removeprefix(row)
    if row and rest != message and rest[:1] in {" ", ":"} and not row.startswith(("The ", "This ")):
        return f"{row}, line {line}", rest.lstrip(": ")
    return f"Line {line}", message


def _others(group: Sequence[Finding], look: Look) -> list[str]:
    """What the same fault is in other sizes: one line each, and how many more there are."""
    rest = group[1:]
    shown = rest if len(rest) <= _MOST_OTHERS + 1 else rest[:_MOST_OTHERS]
    lines = [
        line
        for f in shown
        for line in wrap(f"      {_where(f) or 'also'}: {_said_there(f, group[0])}", look.width - 6, "      ")
    ]
    lines = [f"      {line}" if not line.startswith(" ") else line for line in lines]
    if len(rest) > len(shown):
        lines.append(f"      and {count(len(rest) - len(shown), 'more like it', 'more like it')}")
    return [look.faint(line) for line in lines]


def _said_there(finding: Finding, head: Finding) -> str:
    """The message, and the cure where it is another than that of the finding shown in full."""
    cure = finding.help if finding.help and finding.help != head.help else ""
    return plain(f"{finding.message} {cure}".rstrip())


# --- the lines with their marks -------------------------------------------------------------------------


def _marks(source: Source, span: Span, words: str, *, main: bool) -> list[_Mark]:
    """The stretch, line by line; of a long stretch the first two lines and the last."""
    if span.end < 0:
        return []
    first, last = source.place(span.start)[0], source.place(max(span.start, span.end - 1))[0]
    marks = []
    for line in range(first, last + 1):
        if last - first > 2 and first + 1 < line < last:
            continue
        whole = source.line_span(line)
        start, end = max(span.start, whole.start), min(span.end, whole.end)
        text = source.text[start:end]
        start += len(text) - len(text.lstrip())
        if start < end or line == first == last:
            said = words if line == last else ""
            marks.append(_Mark(line, start - whole.start, max(end, start + 1) - whole.start, said, main))
    return marks


def _excerpt(finding: Finding, source: Source, look: Look) -> list[str]:
    marks = _marks(source, finding.span, finding.problem.label(), main=True)
    for related in finding.related[:3]:
        marks += _marks(source, related.span, related.words, main=False)
    marks.sort(key=lambda m: (m.line, not m.main, m.start))
    gutter = max((len(str(m.line)) for m in marks), default=1)
    out: list[str] = []
    before = 0
    for line, here in groupby(marks, key=lambda m: m.line):
        if before and line > before + 1:
            out.append(look.faint(f"  {' ' * gutter} :"))
        out += _marked_line(source.line(line), line, list(here), gutter, finding, look)
        before = line
    return out


def _marked_line(
    text: str, number: int, marks: list[_Mark], gutter: int, finding: Finding, look: Look
) -> list[str]:
    """The line, shortened round its first mark if it is too long, and under it each mark with its words."""
    room = max(20, look.width - gutter - 5)
    lead, start, end = "", 0, len(text)
    if width_of(plain(text)) > room:
        start, end = _window(text, marks[0], room)
        lead = "…" if start else ""
    shown = lead + plain(text[start:end]) + ("…" if end < len(text) else "")
    out = [f"  {look.faint(f'{number:>{gutter}} |')} {shown}".rstrip()]
    for mark in marks:
        first, last = max(mark.start, start), min(max(mark.end, mark.start + 1), end)
        if first >= end or last <= start:
            continue
        gap = width_of(lead + plain(text[start:first]))
        line = ("^" if mark.main else "-") * max(1, width_of(plain(text[first:last])))
        paint = (lambda w: _colour(finding, look, w)) if mark.main else look.faint
        under = [f"{line} {mark.words}".rstrip()]
        if gap + width_of(under[0]) > room and mark.words:
            back = min(gap, max(0, room - width_of(mark.words)))
            out.append(f"  {' ' * gutter} {look.faint('|')} {' ' * gap}{paint(line)}")
            gap, under = back, [plain(mark.words)]
        out.append(f"  {' ' * gutter} {look.faint('|')} {' ' * gap}{paint(plain(under[0]))}")
    return out


def _window(text: str, mark: _Mark, room: int) -> tuple[int, int]:
    """Which part of a long line to show: the mark with as much as fits before and after it."""
    room -= 2
    wide = min(mark.end - mark.start, room)
    start = max(0, min(mark.start - (room - wide) // 3, len(text) - room))
    end = min(len(text), start + room)
    while end > start + 1 and width_of(plain(text[start:end])) > room:
        end -= 1
    return start, end
