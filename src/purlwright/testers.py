"""One pattern and its test knitters: the pack that goes out, and the forms that come back.

In: a work-up and a call. Out: which files were written, or what the answers say; or :class:`Unusable`. What
is asked and how answers are judged is in ``testknit``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.files import NotProved, Unusable, base_name, folder_for, read_file, safe, slug, write_made
from purlwright.findings import Severity
from purlwright.rescue.naming import name_of
from purlwright.several import options_asked, size_asked, unusual
from purlwright.wire import SheetFileOut, SheetsOut
from purlwright.wire.testknit import TestKnitLineOut, TestKnitOut

if TYPE_CHECKING:
    from collections.abc import Mapping

    from purlwright.terminal.arguments import Call
    from purlwright.testknit.compare import Meaning
    from purlwright.testknit.expected import CountAsked, Expected
    from purlwright.workup import WorkUp

__all__ = ["answers", "pack"]

_NEAR = 4
"""A count of a row so near may be meant."""
_WHEN_BACK = (
    "What is expected stands in the sheet only, not in the log and the form. When a form is back: purlwright "
    "test-knit FILE --answers FORM; --answers again for each further form."
)


def pack(work: WorkUp, call: Call) -> SheetsOut:
    """Write the sheet of one size, the log and the form. Raises Unusable."""
    from purlwright.sheet.compose import NoSheet
    from purlwright.sheet.out.pdf import to_pdf
    from purlwright.sheet.testknit.log import log_document
    from purlwright.testknit.form import write_form

    size = size_asked(work, call.size)
    options = options_asked(work, call.options)
    if any(f.severity is Severity.ERROR for f in work.findings(size, options)):
        raise NotProved("The pattern has errors; correct what proof finds before anyone knits it.")
    expected = _expected(work, size, options)
    try:
        sheet = to_pdf(work.sheet(size, options, cloth=True))
    except NoSheet as why:
        raise Unusable(safe(str(why))) from None
    named = slug(size) if len(work.sizes) > 1 else ""
    base = base_name(work.source.name, work.title, (named, *unusual(work, options)), "pattern")
    made = {
        f"{base}.test-knit.sheet.pdf": sheet,
        f"{base}.test-knit.log.pdf": to_pdf(log_document(expected)),
        f"{base}.test-knit.form.txt": write_form(expected).encode(),
    }
    kinds = (
        ("sheet", "the pattern in her size"),
        ("log", "to write into at the needles"),
        ("form", "to fill in and send back: plain text"),
    )
    paths = write_made(folder_for(work.source.name, call.out), made)
    files = [
        SheetFileOut(kind=kind, file=path, what=what, bytes=len(data))
        for (kind, what), path, data in zip(kinds, paths, made.values(), strict=True)
    ]
    return SheetsOut(
        title=work.title,
        size=size,
        options=dict(expected.options),
        files=files,
        errors=0,
        said=[_WHEN_BACK],
    )


def answers(work: WorkUp, call: Call) -> TestKnitOut:
    """Set the forms that came back beside what was expected. Raises Unusable."""
    from purlwright.rescue.letter import read_choice
    from purlwright.testknit.compare import Whose, compare
    from purlwright.testknit.form import NotAForm, read_form

    texts = [(name, read_file(name)) for name in call.answers]
    told_size, told_options = read_choice(texts[0][1])
    size = size_asked(work, call.size or (told_size if told_size in work.sizes else None))
    known = dict(work.options)
    options = options_asked(work, call.options or [(n, v) for n, v in told_options if v in known.get(n, ())])
    expected = _expected(work, size, options)
    forms = []
    for name, text in texts:
        try:
            forms.append(read_form(text, expected))
        except NotAForm as why:
            raise Unusable(f'"{safe(name)}": {safe(str(why))}') from None
    lines = compare(expected, forms, _meaning(work, size, options))
    return TestKnitOut(
        title=work.title,
        size=size,
        options=dict(expected.options),
        forms=len(forms),
        agrees=sum(line.whose is Whose.AGREES for line in lines),
        lines=[
            TestKnitLineOut(
                about=x.about,
                name=x.name,
                knitter=x.knitter,
                expected=x.expected,
                told=x.told,
                whose=x.whose.value,
                words=x.words,
            )
            for x in lines
        ],
    )


def _expected(work: WorkUp, size: str, options: Mapping[str, str]) -> Expected:
    from purlwright.cloth.told import pieces_told
    from purlwright.lesson.rows import parts_of
    from purlwright.rescues import version_of
    from purlwright.testknit.expected import expect

    knitted = work.knitted(size, options)
    desk = work.desk(size, options)
    if not desk.pieces:
        raise Unusable("Nothing is knitted in this pattern, so there is nothing to be tested.")
    taken = work.yarn(size, options)
    return expect(
        knitted,
        parts_of(knitted),
        desk.pieces,
        pieces_told(knitted, work.settled(size, options)) if taken.known else (),
        taken.uses if taken.known else (),
        work.pattern.gauges,
        title=work.title,
        version=version_of(work),
        options={name: options.get(name, values[0]) for name, values in work.options},
    )


def _meaning(work: WorkUp, size: str, options: Mapping[str, str]) -> Meaning:
    """What a wrong count most likely means, as ``rescue`` reckons it for a row that is sure."""
    from functools import cache

    from purlwright.rescue.ahead import AheadRow, ahead
    from purlwright.rescue.mistakes import PATTERN

    desk = work.desk(size, options)

    @cache
    def reckoned(piece: str) -> Mapping[int, AheadRow]:
        return {row.row: row for t in desk.tables if t.piece.name == piece for row in ahead(t)}

    def meaning(row: CountAsked, told: int) -> tuple[bool, str]:
        at = reckoned(row.piece).get(row.row - 1)
        likely = dict(at.counts).get(told, ()) if at is not None else ()
        if likely and likely[0].made.kind.code == PATTERN.code:
            return True, "the pattern itself does not come out there"
        looks = next(looks for piece, looks in desk.pieces if piece == row.piece)
        near = [x for x in looks if x.stitches == told and abs(x.index + 1 - row.row) <= _NEAR]
        said = [f"perhaps {x.made.did}" for x in likely[:1]]
        if near:
            said.append(
                f"perhaps it was counted after {_lower(name_of(near[0], row.piece)[0])}, which has {told}"
            )
        return False, "; or ".join(said) or "no slip that is known leads to that: ask her to count again"

    return meaning


def _lower(name: str) -> str:
    return f"{name[:1].lower()}{name[1:]}"
