"""The editor's report as plain text: a letter of at most 80 columns, without colour, to send as it is.

In: a report. Out: lines of text.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from purlwright.proof.report import GRAVITIES, Remark, Report, Scope
from purlwright.terminal.look import plain, width_of, wrap

__all__ = ["show_report"]

_MOST_QUOTED = 400


def show_report(report: Report, width: int = 80) -> list[str]:
    """The letter, section by section."""
    wide = min(width, 80)
    title = _one_line(report.title) or "A pattern without a title"
    out = [*wrap(f"Editor's report on {title}", wide)]
    out += [line for words in report.version for line in wrap(_one_line(words), wide, "  ")]
    out += [*_head("What was knitted", wide), *wrap(_one_line(report.knitting.said), wide)]
    out += [*_head("In short", wide), *wrap(_one_line(report.summary), wide)]
    for gravity, head in GRAVITIES.items():
        remarks = [r for r in report.remarks if r.gravity is gravity]
        if remarks:
            out += _head(head, wide)
            for n, remark in enumerate(remarks):
                out += [""] * bool(n) + list(_remark(remark, wide))
    out += _head("What this report covers", wide)
    out += wrap(_COVERS, wide)
    for scopes, words, each in (
        (report.fails, "These do not hold; the remarks above say where:", _asked),
        (report.proved, "These were proved, each at every place counted here:", _with_places),
        (report.absent, "These do not apply; the pattern has nothing of the kind:", _asked),
    ):
        out += _by_family(scopes, words, each, wide)
    out += _undecided(report.undecided, wide)
    out += _by_family(report.not_made, "These were not looked at; Purlwright cannot do so yet:", _asked, wide)
    if report.person:
        out += ["", *wrap("These only a person can judge:", wide), *_bullets(report.person, _asked, wide)]
    return out


_COVERS = (
    "Every row was worked with the stitches that were really on the needle, and everything below is read off "
    "that knitting or off the words themselves. No check is claimed that was not made."
)

_READABLE = "every line can be read, and knitted as it is written"


def _one_line(words: str) -> str:
    return " ".join(plain(words).split())


def _head(words: str, wide: int) -> list[str]:
    return ["", words, "-" * min(wide, width_of(words)), ""]


def _remark(remark: Remark, wide: int) -> Iterator[str]:
    """Number and place; the words; what was found; where; the smallest repair; what was asked."""
    lead = f"{remark.number}. "
    pad = " " * len(lead)
    yield from wrap(f"{lead}{_one_line(remark.place)}", wide, pad)
    for words in _parts(remark):
        yield from _set_in(words, wide, pad)
    if remark.mends:
        said = "This change" if len(remark.mends) == 1 else "Each of these changes, alone,"
        yield from _set_in(f"{said} was knitted; it mends this and upsets nothing else:", wide, pad)
        for fix in remark.mends:
            yield from _set_in(f"- {_one_line(fix)}", wide, f"{pad}  ")
    asked = (
        f"{remark.asked} ({remark.check}, {remark.code})" if remark.asked else f"{_READABLE} ({remark.code})"
    )
    yield from _set_in(f"What was asked: {asked}", wide, pad)


def _set_in(words: str, wide: int, pad: str) -> Iterator[str]:
    """Wrapped behind ``pad``, later lines two columns further in."""
    yield from (f"{pad}{line}" for line in wrap(words, wide - len(pad), "  "))


def _parts(remark: Remark) -> Iterator[str]:
    if remark.quoted.strip():
        line = f', in the line "{_short(_one_line(remark.in_line))}"' if remark.in_line else ""
        yield f'The words: "{_short(_one_line(remark.quoted))}"{line}'
    yield _one_line(remark.found)
    for other in remark.compared:
        place = f"Compare line {other.line}" if other.line is not None else "Compare"
        quoted = f'"{_short(_one_line(other.quoted))}"' if other.quoted.strip() else ""
        yield f"{place}: " + " ".join(
            filter(None, [quoted, f"({_one_line(other.said)})" if other.said else ""])
        )
    if remark.where:
        yield f"Where: {_one_line(remark.where)}."
    for also in remark.also:
        cure = f" {_one_line(also.repair)}" if also.repair else ""
        yield f"Likewise, {_one_line(also.where)}: {_one_line(also.found)}{cure}"
    if remark.repair:
        yield f"Smallest repair: {_one_line(remark.repair)}"


def _short(words: str) -> str:
    """A long quotation with its middle left out."""
    half = _MOST_QUOTED // 2
    return words if len(words) <= _MOST_QUOTED else f"{words[:half].rstrip()} [...] {words[-half:].lstrip()}"


# --- scope ----------------------------------------------------------------------------------------


def _asked(scope: Scope) -> str:
    return f"{scope.asked} ({scope.check})"


def _with_places(scope: Scope) -> str:
    return f"{scope.asked}: {scope.said} ({scope.check})" if scope.said else _asked(scope)


def _and_else(scope: Scope) -> str:
    """A check that is open in part: how much of it was seen to hold."""
    return (
        f"{_asked(scope)}; elsewhere it holds, at {scope.places:,} places"
        if scope.places > 1
        else _asked(scope)
    )


def _bullets(scopes: Sequence[Scope], say: Callable[[Scope], str], wide: int) -> list[str]:
    return [line for s in scopes for line in _set_in(f"- {say(s)}", wide, "  ")]


def _by_family(scopes: Sequence[Scope], words: str, say: Callable[[Scope], str], wide: int) -> Iterator[str]:
    if not scopes:
        return
    yield ""
    yield from wrap(words, wide)
    for family, of_family in groupby(scopes, key=lambda s: s.family):
        yield ""
        yield f"  {family}"
        yield from _bullets(list(of_family), say, wide)


def _undecided(scopes: Sequence[Scope], wide: int) -> Iterator[str]:
    """What is missing, and the checks that wait for it."""
    by_missing: dict[str, list[Scope]] = {}
    for scope in scopes:
        by_missing.setdefault(scope.said, []).append(scope)
    if by_missing:
        yield ""
        yield from wrap("These could not be decided in full:", wide)
    for missing, waiting in by_missing.items():
        yield ""
        yield from _set_in(f"Because {_one_line(missing)}:", wide, "  ")
        yield from _bullets(waiting, _and_else, wide)
