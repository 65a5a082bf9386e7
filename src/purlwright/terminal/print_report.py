"""The editor's report as plain text: a letter of at most 80 columns, without colour, to send as it is.

In: a report. Out: lines of text.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.proof.letter import COVERS, READ_SO, Reach, parts, reach, readings, title
from purlwright.proof.report import GRAVITIES, Remark, Report
from purlwright.terminal.look import plain, width_of, wrap

__all__ = ["show_report"]


def show_report(report: Report, width: int = 80) -> list[str]:
    """The letter, section by section."""
    wide = min(width, 80)
    out = [*wrap(_one_line(title(report)), wide)]
    out += [line for words in report.version for line in wrap(_one_line(words), wide, "  ")]
    out += [*_head("What was knitted", wide), *wrap(_one_line(report.knitting.said), wide)]
    out += [*_head("In short", wide), *wrap(_one_line(report.summary), wide)]
    for gravity, head in GRAVITIES.items():
        remarks = [r for r in report.remarks if r.gravity is gravity]
        if remarks:
            out += _head(head, wide)
            for n, remark in enumerate(remarks):
                out += [""] * bool(n) + list(_remark(remark, wide))
    out += _readings(report, wide)
    out += _head("What this report covers", wide)
    out += wrap(COVERS, wide)
    for answer in reach(report):
        out += _answer(answer, wide)
    return out


def _one_line(words: str) -> str:
    return " ".join(plain(words).split())


def _head(words: str, wide: int) -> list[str]:
    return ["", words, "-" * min(wide, width_of(words)), ""]


def _remark(remark: Remark, wide: int) -> Iterator[str]:
    """Number and place, and under it all that the remark says."""
    lead = f"{remark.number}. "
    pad = " " * len(lead)
    yield from wrap(f"{lead}{_one_line(remark.place)}", wide, pad)
    for part in parts(remark):
        name = f"{part.name}: " if part.name else ""
        yield from _set_in(_one_line(f"{name}{part.words}"), wide, pad)
        for words in part.listed:
            yield from _set_in(f"- {_one_line(words)}", wide, f"{pad}  ")


def _readings(report: Report, wide: int) -> Iterator[str]:
    """Words with two readings, and the one that the printed counts chose."""
    part = readings(report)
    if part is not None:
        yield from _head(READ_SO, wide)
        yield from wrap(part.words, wide)
        for words in part.listed:
            yield from _set_in(f"- {_one_line(words)}", wide, "  ")


def _set_in(words: str, wide: int, pad: str) -> Iterator[str]:
    """Wrapped behind ``pad``, later lines two columns further in."""
    yield from (f"{pad}{line}" for line in wrap(words, wide - len(pad), "  "))


def _answer(answer: Reach, wide: int) -> Iterator[str]:
    yield ""
    yield from wrap(answer.words, wide)
    for group in answer.groups:
        if group.head:
            yield ""
            yield from _set_in(_one_line(group.head), wide, "  ")
        for words in group.lines:
            yield from _set_in(f"- {_one_line(words)}", wide, "  ")
