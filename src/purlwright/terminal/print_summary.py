"""How several patterns came out: how many hold, and a line for each that does not.

In: the summary. Out: lines of text.
"""

from __future__ import annotations

from purlwright.proof.said import and_list, count
from purlwright.terminal.look import Look, heading, plain, wrap
from purlwright.wire import FailingOut, SummaryOut

__all__ = ["show_summary"]


def show_summary(summary: SummaryOut, look: Look) -> list[str]:
    """The counts, then the files that fail, then those that cannot be used."""
    parts = [
        count(summary.hold, "holds", "hold"),
        count(summary.fail, "fails", "fail"),
    ]
    if summary.unusable:
        parts.append(f"{summary.unusable:,} cannot be used")
    out = [heading("In all", look)]
    out += wrap(f"{count(summary.patterns, 'pattern')}: {and_list(parts)}.", look.width)
    for failing in summary.failing:
        out += [f"  {line}" for line in wrap(_failing(failing), look.width - 2, "    ")]
    for unused in summary.unused:
        out += [f"  {line}" for line in wrap(plain(unused.message), look.width - 2, "    ")]
    return out


def _failing(failing: FailingOut) -> str:
    """``hat.pattern.md: 2 errors, 1 warning; line 9: Row 5 uses 20 of the 24 stitches on the needle.``"""
    met = [count(failing.errors, "error")] * bool(failing.errors)
    met += [count(failing.warnings, "warning")] * bool(failing.warnings)
    where = f"line {failing.line}: " if failing.line is not None else ""
    return plain(f"{failing.file}: {', '.join(met)}; first, {where}{' '.join(failing.message.split())}")
