"""Sheets, charts, lessons, pictures and reports made of a pattern: to be looked at, or to be taken away.

In: the work on a pattern and what is asked for. Out: files as bytes with their names. They are made by the
very same rooms as on the command line, in a folder that is gone afterwards; nothing is written beside the
pattern.
"""

from __future__ import annotations

import io
import re
import struct
import tempfile
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import msgspec

from purlwright.bench.refusals import Refused
from purlwright.files import Unusable
from purlwright.findings import Severity
from purlwright.wire import bench_looks as wire
from purlwright.wire.bench import Utf16, mark_out

if TYPE_CHECKING:
    from purlwright.findings import Finding
    from purlwright.terminal.arguments import Call
    from purlwright.workup import WorkUp

__all__ = ["EXPORTS", "PAGES", "export", "packed", "page", "unpacked"]

EXPORTS: Mapping[str, tuple[str, ...]] = {
    "sheet": ("pdf", "letter", "large", "html", "follow", "text", "spoken"),
    "chart": ("svg", "png", "pdf"),
    "lesson": ("pdf", "letter", "html"),
    "cloth": ("svg", "png", "glb"),
    "report": ("pdf", "letter", "large", "html"),
}
"""What can be made, and as what."""
PAGES = ("sheet", "follow", "lesson", "report", "chart")
_TYPES = {
    ".pdf": "application/pdf",
    ".html": "text/html; charset=utf-8",
    ".txt": "text/plain; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".glb": "model/gltf-binary",
    ".zip": "application/zip",
}


@dataclass(frozen=True, slots=True)
class _File:
    name: str
    data: bytes


def export(work: WorkUp, size: str | None, options: Mapping[str, str], asked: wire.ExportIn) -> bytes:
    """One file, packed with its name and type; several are put into one. Raises Refused."""
    known = EXPORTS.get(asked.what)
    if known is None or asked.as_ not in known:
        raise Refused(400, "There is no such thing to export.")
    files, _ = _made(work, size, options, asked.what, asked.as_, asked.extra)
    file = files[0] if len(files) == 1 else _together(files, asked)
    ending = f".{file.name.rpartition('.')[2]}"
    return packed({"name": file.name, "type": _TYPES[ending]}, file.data)


def page(work: WorkUp, size: str | None, options: Mapping[str, str], asked: wire.PageIn) -> bytes:
    """A page to be looked at, packed with its title; of charts, drawings that are linked to the words."""
    if asked.page not in PAGES:
        raise Refused(400, "There is no such page.")
    if asked.page == "chart":
        title, drawings = _charts(work, size, options, asked.extra)
        head = {"title": title, "said": [], "drawings": msgspec.to_builtins(drawings)}
        return packed(head, b"")
    what, kind = ("sheet", "follow") if asked.page == "follow" else (asked.page, "html")
    files, said = _made(work, size, options, what, kind, asked.extra)
    return packed({"title": work.title, "said": said, "drawings": []}, files[0].data)


def packed(head: dict[str, Any], data: bytes) -> bytes:
    """A header and what follows it, for the line between two processes."""
    raw = msgspec.json.encode(head)
    return struct.pack("<I", len(raw)) + raw + data


def unpacked(whole: bytes) -> tuple[dict[str, Any], bytes]:
    """The header and what follows it."""
    (length,) = struct.unpack_from("<I", whole)
    head: dict[str, Any] = msgspec.json.decode(whole[4 : 4 + length])
    return head, whole[4 + length :]


# --- by the rooms of the command line ----------------------------------------------------------------------


def _made(
    work: WorkUp, size: str | None, options: Mapping[str, str], what: str, kind: str, extra: wire.ExtraIn
) -> tuple[list[_File], list[str]]:
    from purlwright.files import NotProved

    with tempfile.TemporaryDirectory(prefix="purlwright-") as folder:
        call = _call(what, kind, size, options, extra, folder)
        try:
            said = _make(work, what, call)
        except NotProved:
            raise _has_errors(work, size, options, what) from None
        except Unusable as why:
            raise Refused(422, _for_the_page(str(why)), findings=[]) from None
        files = [_File(f.name, f.read_bytes()) for f in sorted(Path(folder).iterdir())]
    if not files:
        raise Refused(422, "Nothing came of it: there is nothing of that kind in this pattern.", findings=[])
    return files, said


def _call(
    what: str, kind: str, size: str | None, options: Mapping[str, str], extra: wire.ExtraIn, folder: str
) -> Call:
    from purlwright.terminal.arguments import Call

    call = Call()
    call.command = "proof" if what == "report" else what
    call.kinds = [kind]
    call.size = size
    call.options = list(options.items())
    call.out = folder
    call.terms = extra.terms if extra.terms in {"us", "uk"} else ""
    call.units = extra.units if extra.units in {"metric", "imperial", "both"} else ""
    call.left_handed = extra.left_handed
    call.unproved = extra.unproved
    call.counts = extra.counts
    call.section = extra.section or None
    call.minutes = max(0, min(extra.minutes, 999))
    call.learners = max(0, min(extra.learners, 999))
    return call


def _make(work: WorkUp, what: str, call: Call) -> list[str]:
    """Have the files written; what is to be said of them."""
    if what == "sheet":
        from purlwright.sheets import sheets

        return list(sheets(work, call).said)
    if what == "report":
        from purlwright.sheets import report

        return list(report(work, call)[0].said)
    if what == "chart":
        from purlwright.charts import charts

        return list(charts(work, call).said)
    if what == "lesson":
        from purlwright.lessons import lesson

        return list(lesson(work, call).said)
    from purlwright.cloths import cloths

    cloths(work, call)
    return []


def _together(files: Sequence[_File], asked: wire.ExportIn) -> _File:
    """Several files in one, always the same bytes for the same files."""
    from purlwright.files import base_name

    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as whole:
        for file in files:
            whole.writestr(zipfile.ZipInfo(file.name, (1980, 1, 1, 0, 0, 0)), file.data)
    return _File(f"{base_name(asked.path, '', (), 'pattern')}.{asked.what}.zip", out.getvalue())


def _charts(
    work: WorkUp, size: str | None, options: Mapping[str, str], extra: wire.ExtraIn
) -> tuple[str, list[wire.DrawingOut]]:
    from purlwright.bench.row_told import linked_in_units
    from purlwright.chart.charts import NoSuchRows
    from purlwright.chart.draw_key import draw_chart
    from purlwright.drawing import to_svg

    try:
        found = work.charts(
            size, options, section=extra.section or None, left_handed=extra.left_handed,
            terms="UK" if extra.terms == "uk" or work.pattern.header.terms == "UK" else "US",
        )  # fmt: skip
    except NoSuchRows as why:
        raise Refused(422, str(why)) from None
    at = Utf16(work.source.text)
    drawings = []
    for n, one in enumerate(found):
        drawing = draw_chart(one.grid, one.key, counts=extra.counts, linked=True)
        title = one.title or "Chart"
        svg = to_svg(drawing, title, one.description, prefix=f"k{n}-", linked=True)
        drawings.append(wire.DrawingOut(title=title, svg=linked_in_units(svg, at), words=list(one.words)))
    return work.title, drawings


# --- why not -----------------------------------------------------------------------------------------------


def _has_errors(work: WorkUp, size: str | None, options: Mapping[str, str], what: str) -> Refused:
    sizes = work.sizes if size is None else (size,)
    found: dict[tuple[str, int, str], Finding] = {
        (f.code, f.span.start, f.message): f
        for one in sizes
        for f in work.findings(one, options)
        if f.severity is Severity.ERROR
    }
    at = Utf16(work.source.text)
    many = f"{len(found)} error{'' if len(found) == 1 else 's'}" if found else "errors"
    more = ", or ask for it all the same" if what == "sheet" else ""
    return Refused(
        422,
        f"The pattern has {many}, so no {what} is made of it yet; correct what is marked{more}.",
        findings=msgspec.to_builtins([mark_out(work.source, at, f) for f in found.values()]),
    )


def _for_the_page(words: str) -> str:
    """A complaint without what only the command line has."""
    if "--" not in words:
        return words
    kept = [part for part in re.split(r"(?<=[.;,])\s+", words) if "--" not in part]
    return " ".join(kept).rstrip(";, ").rstrip(".") + "." if kept else words
