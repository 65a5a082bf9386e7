"""One pattern from its text to its charts on the disk.

In: a pattern and a call. Out: which charts there are, and which files were written; or :class:`Unusable`.
What stands in a chart and how it looks is made in the rooms below.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, cast

from purlwright.files import Unusable, base_name, folder_for, picture_file, safe, slug, write_made
from purlwright.findings import Severity
from purlwright.several import options_asked, size_asked, unusual
from purlwright.wire import SheetFileOut
from purlwright.wire.charts import (
    ChartKeyOut,
    ChartOut,
    ChartRepeatOut,
    ChartRowOut,
    ChartsOut,
    ChartSquareOut,
)

if TYPE_CHECKING:
    from purlwright.chart.told import Charted
    from purlwright.pattern.words import Terms
    from purlwright.terminal.arguments import Call
    from purlwright.workup import WorkUp

__all__ = ["charts"]

_USUAL = ("svg", "pdf")
_WHAT = {"svg": "picture in shapes", "png": "picture in dots", "pdf": "print, A4"}


def charts(work: WorkUp, call: Call) -> ChartsOut:
    """Make the charts that are asked for and write their files. Raises Unusable."""
    from purlwright.chart.charts import NoSuchRows, too_wide

    size = size_asked(work, call.size)
    options = options_asked(work, call.options)
    terms = cast("Terms", call.terms.upper() or ("UK" if work.pattern.header.terms == "UK" else "US"))
    try:
        found = work.charts(
            size, options, section=call.section, rows=call.rows, terms=terms, left_handed=call.left_handed
        )
    except NoSuchRows as why:
        raise Unusable(safe(str(why))) from None
    wide = [c.name for c in work.pattern.charts if too_wide(c)]
    if not found and wide:
        raise Unusable(safe(_too_wide(wide[0])))
    if not found:
        raise Unusable(
            "No rows of this pattern are more than plain, ribbed or shaped; --section NAME charts a section "
            "all the same."
        )
    kinds = list(dict.fromkeys(call.kinds or _USUAL))
    names = _names(work, found, size if call.size is not None else "", options)
    made = {
        f"{name}.{kind}": _made(one, kind, counts=call.counts)
        for name, one in zip(names, found, strict=True)
        for kind in kinds
    }
    paths = dict(zip(made, write_made(folder_for(work.source.name, call.out), made), strict=True))
    files = [
        [
            SheetFileOut(
                kind=kind, file=paths[f"{name}.{kind}"], what=_WHAT[kind], bytes=len(made[f"{name}.{kind}"])
            )
            for kind in kinds
        ]
        for name in names
    ]
    return ChartsOut(
        title=work.title,
        size=size,
        options={name: options.get(name, values[0]) for name, values in work.options},
        charts=[_out(one, work, of) for one, of in zip(found, files, strict=True)],
        errors=sum(f.severity is Severity.ERROR for f in work.findings(size, options)),
        said=[*_said(found), *map(_too_wide, wide)],
    )


def _too_wide(name: str) -> str:
    from purlwright.chart.charts import MOST_ACROSS

    wide = f"{name} is more than {MOST_ACROSS:,} squares across, too wide to be drawn"
    return f"{wide}; the sheet tells it in words."


def _said(found: tuple[Charted, ...]) -> Iterator[str]:
    """What she should know of the charts."""
    for one in found:
        if one.grid.unread:
            lines = ", ".join(str(line) for line in one.grid.unread)
            yield f"{one.title}: line {lines} could not be read, so those rows are not as you mean them."


# --- files -----------------------------------------------------------------------------------------


def _made(one: Charted, kind: str, *, counts: bool) -> bytes:
    """One chart in one form, marked as ours."""
    from purlwright.chart.draw_key import draw_chart

    if kind == "pdf":
        from purlwright.chart.pages import chart_pages
        from purlwright.sheet.out.pictures import to_pages_pdf

        pages = chart_pages(one.grid, one.key, counts=counts)
        told = [one.description, *[f"{one.title}, continued." for _ in pages[1:]]]
        return to_pages_pdf(pages, one.title or "Chart", told)
    drawing = draw_chart(one.grid, one.key, counts=counts)
    return picture_file(drawing, kind, one.title or "Chart", one.description)


def _names(work: WorkUp, found: tuple[Charted, ...], size: str, options: dict[str, str]) -> list[str]:
    """A name for each chart's files: the pattern's, the size and options if named, then the chart's."""
    base = base_name(work.source.name, work.title, (size, *unusual(work, options)), "pattern")
    out: list[str] = []
    for one in found:
        plain = f"{base}.chart-{slug(one.title) or 'rows'}"
        again = 1 + sum(given == plain or given.startswith(f"{plain}-") for given in out)
        out.append(plain if again == 1 else f"{plain}-{again}")
    return out


# --- as JSON ---------------------------------------------------------------------------------------


def _out(one: Charted, work: WorkUp, files: list[SheetFileOut]) -> ChartOut:
    grid = one.grid
    return ChartOut(
        title=grid.title,
        columns=grid.columns,
        rows=[
            ChartRowOut(
                number=row.number,
                label=row.label,
                kind="round" if row.round else "row",
                side="RS" if row.from_right else "WS",
                start=row.start,
                end=row.end,
                squares=[
                    ChartSquareOut(
                        column=s.column + 1,
                        width=s.width,
                        sign=s.sign,
                        stitch=s.name,
                        own=s.own,
                        yarn=grid.yarns[s.yarn] if grid.colours > 1 and s.yarn >= 0 else None,
                        line=work.source.place(s.span.start)[0] if s.span.end >= 0 else None,
                    )
                    for s in row.squares
                ],
                no_stitch=[c + 1 for c in row.absent],
                not_reached=[c + 1 for c in row.waiting],
                turned=row.turned or None,
                words=words,
            )
            for row, words in zip(grid.rows, one.words, strict=True)
        ],
        repeats=[ChartRepeatOut(column=t.first + 1, width=t.width, times=t.times) for t in grid.tiles],
        key=[ChartKeyOut(sign=e.sign or e.kind, rs=e.rs, ws=e.ws, words=e.words) for e in one.key],
        notes=list(grid.sayings),
        files=files,
    )
