"""One pattern from its text to its clues, and to its lesson on the disk.

In: a pattern and a call. Out: the clues of each part, weighed beside the other sizes; or which files of a
lesson were written; or :class:`Unusable`. What they say and how they look is made in the rooms below.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from purlwright.files import (
    MADE,
    PIXELS_PER_MM,
    NotProved,
    Unusable,
    base_name,
    folder_for,
    safe,
    signed_png,
    slug,
    write_made,
)
from purlwright.findings import Severity
from purlwright.several import options_asked, size_asked, unusual
from purlwright.wire import SheetFileOut, SheetsOut

if TYPE_CHECKING:
    from purlwright.lesson.reading import PartClues
    from purlwright.sheet.document import PlayedRow
    from purlwright.sheet.lesson.asked import Material
    from purlwright.terminal.arguments import Call
    from purlwright.workup import WorkUp

__all__ = ["clues", "lesson"]

_USUAL = ("pdf", "html")
_ROW = ("frames", "vtt")
_ENDINGS = {
    "pdf": (".lesson.pdf", "print, A4"),
    "letter": (".lesson.letter.pdf", "print, US Letter"),
    "html": (".lesson.html", "web page, with each row stitch by stitch"),
}
"""A frame is 1280 pixels wide."""
_MOST_FRAMES = 400


def clues(
    work: WorkUp,
    size: str | None = None,
    options: Mapping[str, str] | None = None,
    *,
    section: str | None = None,
) -> tuple[PartClues, ...]:
    """The clues of every part, or of those under one heading. Raises Unusable where there is no such
    heading.
    """
    from purlwright.lesson.reading import NoSuchSection, read_work

    knitted = work.knitted(size, options)
    others = [work.knitted(other, options) for other in work.sizes if other != knitted.size]
    try:
        return read_work(knitted, others, work.pattern.gauges, section=section)
    except NoSuchSection as why:
        raise Unusable(safe(str(why))) from None


def lesson(work: WorkUp, call: Call) -> SheetsOut:
    """Make the lesson, or the frames and captions of one row, and write the files. Raises Unusable."""
    size = size_asked(work, call.size)
    options = options_asked(work, call.options)
    if any(f.severity is Severity.ERROR for f in work.findings(size, options)):
        raise NotProved("The pattern has errors, which a lesson would teach; correct what proof finds.")
    named = size if call.size is not None else ""
    base = base_name(work.source.name, work.title, (named, *unusual(work, options)), "pattern")
    said: list[str] = []
    if call.play is not None:
        kinds = list(dict.fromkeys(call.kinds or _ROW))
        what, made = _of_a_row(work, call, size, options, base, kinds)
    else:
        kinds = list(dict.fromkeys(call.kinds or _USUAL))
        what, made = _pack(work, call, size, options, base, kinds)
    paths = write_made(folder_for(work.source.name, call.out), made)
    files = [
        SheetFileOut(kind=kind, file=path, what=told, bytes=len(data))
        for (kind, told), path, data in zip(what, paths, made.values(), strict=True)
    ]
    return SheetsOut(
        title=work.title,
        size=size,
        options={name: options.get(name, values[0]) for name, values in work.options},
        files=files,
        errors=0,
        said=said,
    )


# --- the pack --------------------------------------------------------------------------------------


def _pack(
    work: WorkUp, call: Call, size: str, options: Mapping[str, str], base: str, kinds: list[str]
) -> tuple[list[tuple[str, str]], dict[str, bytes]]:
    from purlwright.sheet.lesson.asked import Asked
    from purlwright.sheet.lesson.whole import lesson_document

    usual = Asked()
    asked = Asked(
        pace=float(call.pace or usual.pace),
        minutes=float(call.minutes or usual.minutes),
        learners=call.learners or usual.learners,
    )
    document = lesson_document(_material(work, size, options), asked)
    made = {}
    for kind in kinds:
        if kind == "html":
            from purlwright.sheet.out.player import to_lesson

            data = to_lesson(document).encode()
        else:
            from purlwright.sheet.out.pdf import to_pdf

            data = to_pdf(document, paper="letter" if kind == "letter" else "a4")
        made[f"{base}{_ENDINGS[kind][0]}"] = data
    return [(kind, _ENDINGS[kind][1]) for kind in kinds], made


def _material(work: WorkUp, size: str, options: Mapping[str, str]) -> Material:
    from purlwright.cloth.pictures import NoPictures, stitch_and_row_mm
    from purlwright.lesson.clues.first_trouble import first_signs
    from purlwright.lesson.new_moves import new_moves
    from purlwright.lesson.practice import practice_piece
    from purlwright.lesson.rows import parts_of
    from purlwright.sheet.lesson.asked import Material
    from purlwright.workup import WorkUp

    knitted = work.knitted(size, options)
    parts = parts_of(knitted)
    moves = new_moves(knitted, parts)
    practice = practice_piece(
        f"Practice for {work.title or 'this pattern'}",
        moves,
        work.pattern.definitions,
        lambda text: WorkUp(text, "practice").proved().findings,
    )
    taken = work.yarn(size, options)
    try:
        size_mm = stitch_and_row_mm(work.pattern)
    except NoPictures:
        size_mm = None
    return Material(
        pattern=work.pattern,
        knitted=knitted,
        parts=parts,
        clues=clues(work, size, options),
        moves=moves,
        practice=practice,
        follow=work.sheet(size, options, follow=True, drawn=False).follow[0],
        knit=lambda text: WorkUp(text, "practice").knitted(),
        signs=first_signs(
            work.source.text,
            parts,
            lambda text: WorkUp(text, work.source.name).knitted(size, options),
        ),
        size_mm=size_mm,
        yarn=taken if taken.known else None,
        practice_metres=_practice_metres(work, practice.text),
    )


def _practice_metres(work: WorkUp, text: str) -> float | None:
    """What the practice piece takes in her yarn at her gauge; None where no gauge tells."""
    from purlwright.workup import WorkUp

    keys = {"Gauge", "Yarn", "Needles"}
    entries = [e for e in work.pattern.header.entries if e.known in keys]
    head = [f"{e.key}: {' '.join(e.value.split())}" for e in entries]
    title, _, rest = text.partition("\n")
    taken = WorkUp("\n".join([title, *head, rest]), "practice").yarn()
    return sum(use.metres for use in taken.uses) if taken.known else None


# --- one row for a film ----------------------------------------------------------------------------


def _of_a_row(
    work: WorkUp, call: Call, size: str, options: Mapping[str, str], base: str, kinds: list[str]
) -> tuple[list[tuple[str, str]], dict[str, bytes]]:
    from purlwright.sheet.lesson.frames import SECONDS, captions, frames
    from purlwright.sheet.out.pictures import to_png

    row = _row_named(work, call, size, options)
    if len(row.beats) >= _MOST_FRAMES:
        raise Unusable(
            f"{safe(row.label)} has {len(row.beats)} stitches; frames are made of {_MOST_FRAMES} at most."
        )
    name = f"{base}.{slug(row.label) or 'row'}"
    what: list[tuple[str, str]] = []
    made: dict[str, bytes] = {}
    if "frames" in kinds:
        for n, drawing in enumerate(frames(row)):
            made[f"{name}.frame-{n:03d}.png"] = signed_png(to_png(drawing, PIXELS_PER_MM))
            what.append(("frames", "before the row" if n == 0 else f"after stitch {n}"))
    if "vtt" in kinds:
        head, _, rest = captions(row).partition("\n\n")
        made[f"{name}.vtt"] = f"{head}\n\nNOTE Made by {MADE.decode()}.\n\n{rest}".encode()
        what.append(("vtt", f"captions, {SECONDS:g} seconds a frame"))
    return what, made


def _row_named(work: WorkUp, call: Call, size: str, options: Mapping[str, str]) -> PlayedRow:
    from purlwright.sheet.lesson.player import rows_called

    found = rows_called(work.knitted(size, options), call.play or "", call.section)
    if not found:
        raise Unusable(f'No row is called "{safe(call.play or "")}"; the ledger lists their names.')
    if len(found) > 1:
        names = ", ".join(f'"{safe(row.section)}"' for row in found)
        raise Unusable(f'"{safe(call.play or "")}" stands in {names}; say which with --section.')
    return found[0]
