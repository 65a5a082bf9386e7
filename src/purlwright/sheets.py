"""One pattern from its text to its sheets, or to the editor's report, on the disk.

In: a pattern and a call. Out: which files were written, and what is to be said of them; or :class:`Unusable`.
What a sheet says and how it looks is made in the rooms below.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, cast

from purlwright.files import NotProved, Unusable, base_name, folder_for, read_picture, safe, write_made
from purlwright.findings import Severity
from purlwright.several import options_asked, size_asked, unusual
from purlwright.wire import SheetFileOut, SheetsOut

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.findings import Finding
    from purlwright.sheet.document import Document
    from purlwright.terminal.arguments import Call
    from purlwright.workup import WorkUp

__all__ = ["report", "sheets"]

_USUAL = ("pdf", "html", "follow", "text")
_ENDINGS = {
    "pdf": (".pdf", "print, A4"),
    "letter": (".letter.pdf", "print, US Letter"),
    "large": (".large-print.pdf", "large print, A4"),
    "html": (".html", "web page"),
    "follow": (".follow.html", "follow-along page: one row at a time, for a telephone"),
    "spoken": (".spoken.txt", "words to be heard: one row at a time, without marks"),
    "text": (".txt", "plain text, which reads back to the same pattern"),
}


def sheets(work: WorkUp, call: Call) -> SheetsOut:
    """Compose the sheet that is asked for and write its forms. Raises Unusable."""
    from purlwright.sheet.compose import HasErrors, NoSheet
    from purlwright.sheet.compose.pictures import named

    size = None if call.size is None else size_asked(work, call.size)
    options = options_asked(work, call.options)
    pictures = {p.file: read_picture(work.source.name, p.file) for p in named(work.pattern.header)}
    kinds = list(dict.fromkeys(call.kinds or _USUAL))

    def composed(*, spoken: bool) -> Document:
        return work.sheet(
            size,
            options,
            terms=cast("Literal['', 'US', 'UK']", call.terms.upper()),
            units=cast("Literal['', 'metric', 'imperial', 'both']", call.units),
            pictures=pictures,
            left_handed=call.left_handed,
            unproved=call.unproved,
            spoken=spoken,
            follow="follow" in kinds,
            cloth=not spoken and bool({"pdf", "letter", "large", "html"}.intersection(kinds)),
        )

    try:
        document = composed(spoken=kinds == ["spoken"])
        heard = composed(spoken=True) if "spoken" in kinds and len(kinds) > 1 else document
    except HasErrors as why:
        raise NotProved(f"{why} --unproved writes a sheet all the same.") from None
    except NoSheet as why:
        raise Unusable(safe(str(why))) from None
    base = _base(work, size, options) + (".left-handed" if call.left_handed else "")
    made = {
        f"{base}{_ENDINGS[kind][0]}": _made(heard if kind == "spoken" else document, kind) for kind in kinds
    }
    paths = write_made(folder_for(work.source.name, call.out), made)
    errors = sum(
        f.severity is Severity.ERROR
        for one in (work.sizes if size is None else (size,))
        for f in work.findings(one, options)
    )
    return SheetsOut(
        title=document.title,
        size=size,
        options={name: options.get(name, values[0]) for name, values in work.options},
        files=_written(kinds, paths, made),
        errors=errors,
        said=_said(document, kinds),
    )


def report(work: WorkUp, call: Call) -> tuple[SheetsOut, Sequence[Finding]]:
    """Prove the pattern and write the editor's report in the forms that are asked for. Raises Unusable."""
    from purlwright.sheet.report import report_document

    every = call.size is None or call.size.casefold() == "all"
    size = None if every else size_asked(work, call.size)
    options = options_asked(work, call.options)
    proved = work.proved(size, options)
    document = report_document(work.report(proved, work.repairs() if proved.errors else ()))
    kinds = list(dict.fromkeys(call.kinds))
    base = _base(work, size, options)
    made = {f"{base}.report{_ENDINGS[kind][0]}": _made(document, kind) for kind in kinds}
    paths = write_made(folder_for(work.source.name, call.out), made)
    written = SheetsOut(
        title=document.title,
        size=size,
        options=options,
        files=_written(kinds, paths, made),
        errors=proved.errors,
        said=_said(document, kinds),
    )
    return written, proved.findings


def _written(kinds: list[str], paths: list[str], made: dict[str, bytes]) -> list[SheetFileOut]:
    return [
        SheetFileOut(kind=kind, file=path, what=_ENDINGS[kind][1], bytes=len(data))
        for kind, path, data in zip(kinds, paths, made.values(), strict=True)
    ]


def _made(document: Document, kind: str) -> bytes:
    """One form of the sheet."""
    if kind == "text":
        from purlwright.sheet.out.text import to_text

        return to_text(document).encode()
    if kind == "spoken":
        from purlwright.sheet.out.spoken import to_spoken

        return to_spoken(document).encode()
    if kind == "html":
        from purlwright.sheet.out.html import to_html

        return to_html(document).encode()
    if kind == "follow":
        from purlwright.sheet.out.follow import to_follow

        return to_follow(document).encode()
    from purlwright.sheet.out.pdf import UnusablePicture, to_pdf

    try:
        return to_pdf(document, paper="letter" if kind == "letter" else "a4", large=kind == "large")
    except UnusablePicture as why:
        raise Unusable(safe(str(why))) from None


def _said(document: Document, kinds: list[str]) -> list[str]:
    """What she should know: letters that no typeface of the package has."""
    if not set(kinds) & {"pdf", "letter", "large"}:
        return []
    from purlwright.sheet.out.pdf import letters_missing

    missing = letters_missing(document)
    if not missing:
        return []
    shown = " ".join(safe(letter) for letter in missing[:12])
    return [f"The print has no letters for: {shown}. Other forms of the sheet show them."]


def _base(work: WorkUp, size: str | None, options: dict[str, str]) -> str:
    """The name that all forms share: the pattern's, the size, and options that are not the usual ones."""
    return base_name(work.source.name, work.title, (size or "", *unusual(work, options)), "sheet")
