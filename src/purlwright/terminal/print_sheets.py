"""What was written of a pattern, as a page: each file with what it is, and what there is to know of it.

In: the answer and the page to write on. Out: lines of text.
"""

from __future__ import annotations

from purlwright.proof.said import count
from purlwright.terminal.look import Look, pad, plain, width_of, wrap
from purlwright.wire import SheetsOut

__all__ = ["show_sheets"]


def show_sheets(done: SheetsOut, look: Look, *, report: bool = False) -> list[str]:
    """The files in the order they were asked for; a sheet that is not proved says so last, and a report
    how many errors it tells of.
    """
    chosen = [f"{value} {name}" for name, value in done.options.items()]
    whom = ", ".join([*([f"size {done.size}"] if done.size is not None else []), *chosen])
    out = [look.strong(plain(done.title)) + (f" ({plain(whom)})" if whom else ""), ""]
    wide = max((width_of(plain(f.file)) for f in done.files), default=0)
    out += [f"  {pad(plain(f.file), wide)}  {look.faint(f.what)}" for f in done.files]
    for sentence in done.said:
        out += ["", *wrap(plain(sentence), look.width)]
    if done.errors:
        errors = count(done.errors, "error")
        told = f"The pattern has {errors}; the report says where."
        out += [
            "",
            look.bad(told if report else f"Not proved: the pattern has {errors}, and the sheet says so."),
        ]
    return out
