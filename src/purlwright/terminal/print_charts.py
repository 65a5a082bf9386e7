"""The charts that were written, as a page: each with its files, and its rows in words if they are wanted.

In: the answer and the page to write on. Out: lines of text.
"""

from __future__ import annotations

from purlwright.proof.said import count
from purlwright.terminal.look import Look, pad, plain, width_of, wrap
from purlwright.wire.charts import ChartOut, ChartsOut

__all__ = ["show_charts"]


def show_charts(done: ChartsOut, look: Look, *, words: bool) -> list[str]:
    """Each chart with its size in squares and its files; with ``words`` its rows and its key too."""
    chosen = [f"{value} {name}" for name, value in done.options.items()]
    whom = ", ".join([f"size {done.size}", *chosen])
    out = [f"{look.strong(plain(done.title))} ({plain(whom)})"]
    wide = max((width_of(plain(f.file)) for one in done.charts for f in one.files), default=0)
    for one in done.charts:
        out += ["", f"{look.strong(plain(one.title or 'Chart'))}  {look.faint(_size(one))}"]
        out += [f"  {pad(plain(f.file), wide)}  {look.faint(f.what)}" for f in one.files]
        if words:
            out += ["", *(line for row in one.rows for line in wrap(plain(row.words), look.width))]
            told = [f"{_asks(e.rs, e.ws)}: {e.words}" for e in one.key if e.words and _asks(e.rs, e.ws)]
            if told:
                out += ["", *(line for e in told for line in wrap(plain(e), look.width))]
        for note in one.notes:
            out += wrap(plain(note), look.width)
    for sentence in done.said:
        out += ["", *wrap(plain(sentence), look.width)]
    if done.errors:
        errors = count(done.errors, "error")
        out += ["", look.bad(f"The pattern has {errors} in this size; a chart shows what was knitted.")]
    return out


def _size(one: ChartOut) -> str:
    unit = "round" if all(row.kind == "round" for row in one.rows) else "row"
    framed = "".join(f", {r.width} of them a repeat, {r.times} times" for r in one.repeats[:1])
    return f"{count(len(one.rows), unit)} of {count(one.columns, 'square')}{framed}"


def _asks(rs: str, ws: str) -> str:
    if rs and ws and rs != ws:
        return f"{rs} on RS, {ws} on WS"
    return rs or ws
