"""Family I, house style: one way of writing throughout.

In: the house style that was said, in the header or beside the file, and the lines. Out: C101, in notes
only. Where no style was said, only a pattern that clearly contradicts itself gets a note, and one at
most.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.house_style import HouseStyle, read_house_file, read_house_line
from purlwright.proof.subject import Subject
from purlwright.text import NOWHERE, Span

__all__ = ["JUDGES", "HouseStyleDiffers", "HouseStyleNotRead", "StyleUneven"]


@dataclass(frozen=True, slots=True)
class HouseStyleDiffers:
    """The words differ from the house style that was set for this pattern.

    Nothing comes out wrong at the needles; a reader who knows your other patterns stumbles.

    Example: `House style: full stops`, and rows without one.

    Cure: write it as the house style says, or change the house style.
    """

    style: str
    places: int

    code = "house-style-differs"
    check = "C101"
    severity = Severity.NOTE

    def message(self) -> str:
        where = f"in {self.places} places, first here" if self.places > 1 else "here"
        return f'The house style is "{self.style}", and the words differ {where}.'

    def label(self) -> str:
        return self.style

    def help(self) -> str | None:
        return "Write it as the house style says, or change the house style."


@dataclass(frozen=True, slots=True)
class HouseStyleNotRead:
    """A word of the house style was not understood.

    That setting is then not looked at.

    Example: `House style: UK terms, curly brackets`

    Cure: use the settings named in the documentation.
    """

    words: str

    code = "house-style-not-read"
    check = "C101"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.words}" was not understood as a setting of the house style.'

    def label(self) -> str:
        return "not understood"

    def help(self) -> str | None:
        return "Write for example: UK terms, sizes in ( ), repeats in [ ], capitals, full stops, cm, 2½."


@dataclass(frozen=True, slots=True)
class StyleUneven:
    """Nearly all rows are written one way, and one or two another way.

    A row without its full stop looks as if its end were missing.

    Example: 19 rows end in a full stop, and row 7 does not.

    Cure: write the odd row as the others.
    """

    what: str
    most: int
    odd: int

    code = "style-uneven"
    check = "C101"
    severity = Severity.NOTE

    def message(self) -> str:
        does = "does" if self.odd == 1 else "do"
        return f"{self.most} rows {self.what}, and {self.odd} {does} not; this is the first."

    def label(self) -> str:
        return "unlike the others"

    def help(self) -> str | None:
        return "Write this row as the others."


_MANY = 10
"""So many rows alike make a style."""
_ODD = 2
"""More rows than this out of line are another style, not a slip."""


def judge_style(subject: Subject) -> Answer:
    """C101."""
    style, unknown = _style(subject)
    findings = list(unknown)
    rows = [ln for ln in subject.lines if ln.label is not None and ln.actions]
    if style.said:
        findings += _against(subject, style, rows)
    else:
        findings += _uneven(rows)
    return Answer(places=len(rows), findings=tuple(findings))


@lru_cache(maxsize=16)
def _beside(words: str) -> tuple[HouseStyle, tuple[str, ...]]:
    return read_house_file(words) if words else (HouseStyle(), ())


def _style(subject: Subject) -> tuple[HouseStyle, list[Finding]]:
    """The header's style over the one handed in, and what was not understood."""
    style, not_read = _beside(subject.house)
    findings = [Finding(problem=HouseStyleNotRead(words), span=NOWHERE) for words in not_read]
    header = getattr(subject.pattern, "header", None)
    for entry in header.entries if header is not None else ():
        if " ".join(entry.key.lower().split()) == "house style":
            said, unknown = read_house_line(entry.value)
            style = said.over(style)
            for words in unknown:
                start = entry.value_span.start + entry.value.index(words)
                findings.append(
                    Finding(problem=HouseStyleNotRead(words), span=Span(start, start + len(words)))
                )
    return style, findings


# --- rows -------------------------------------------------------------------------------------------------

_COUNT = re.compile(r"\s*[(\[][^()\[\]]*(?:[(\[][^()\[\]]*[)\]][^()\[\]]*)?[)\]]\s*$")


@lru_cache(maxsize=16384)
def _stops(text: str) -> bool:
    """Whether a row ends in a full stop, a printed count after it or not."""
    words = text.rstrip()
    while words and not words.endswith((".", "!", "?", ":")):
        shorter = _COUNT.sub("", words)
        if shorter == words:
            return False
        words = shorter.rstrip()
    return bool(words)


@lru_cache(maxsize=16384)
def _capital(text: str, label_end: int) -> tuple[bool, int] | None:
    """Whether the first word after the label has a capital, and its place; None if its case is its name."""
    colon = text.find(":", label_end)
    m = re.compile(r"\s*(?P<word>[A-Za-z]+)").match(text, colon + 1) if colon >= 0 else None
    if m is None or (m["word"].isupper() and len(m["word"]) > 1):
        return None
    return m["word"][0].isupper(), m.start("word")


def _uneven(rows: list[tree.Line]) -> Iterator[Finding]:
    """The odd row of a pattern that is all but even."""
    if len(rows) <= _MANY:
        return
    without = [ln for ln in rows if not _stops(ln.text)]
    for odd, most, what in ((without, len(rows) - len(without), "end in a full stop"),):
        if 0 < len(odd) <= _ODD and most >= _MANY:
            end = odd[0].offset + len(odd[0].text.rstrip())
            yield Finding(problem=StyleUneven(what, most, len(odd)), span=Span(end - 1, end))
            return
    cases = [
        (ln, found) for ln in rows if ln.label is not None and (found := _capital(ln.text, ln.label.span.end))
    ]
    small = [(ln, at) for ln, (great, at) in cases if not great]
    if 0 < len(small) <= _ODD and len(cases) - len(small) >= _MANY:
        line, at = small[0]
        problem = StyleUneven("begin with a capital after the label", len(cases) - len(small), len(small))
        yield Finding(problem=problem, span=Span(line.offset + at, line.offset + at + 1))


# --- against a style that was said ------------------------------------------------------------------------

# "k1 in next st" and "2 in rib" are no inches: a bare "in" must be followed by what follows a measure.
_IN = (
    r"(?:in(?=\s*(?:[.,;:()\[/]|$|wide|long|deep|high|tall|round|across|from|less|more))"
    r"|ins\b|inch(?:es)?\b|\"|″)"
)
_INCHES = re.compile(rf"(?<![a-z\d])\d+[)\]]?\s?{_IN}", re.IGNORECASE)
_CM = re.compile(r"\d+[)\]]?\s?(?:cm\b|centimet)", re.IGNORECASE)
_LENGTH = rf"(?=[^A-Za-z.;:]{{0,40}}(?:cm\b|{_IN}))"
_NUMBERS = {
    "2 1/2": re.compile(rf"(?:\d+ )?\d/\d+{_LENGTH}"),
    "2½": re.compile(rf"\d* ?[½¼¾⅓⅔⅛⅜⅝⅞]{_LENGTH}"),
    "2.5": re.compile(rf"\d+\.\d+{_LENGTH}"),
}
_LIST = {
    "( )": re.compile(r"\d \(\d[\d.]*(?:, \d[\d.]*)+\)"),
    "[ ]": re.compile(r"\d ?\[\d[\d.]*(?:, \d[\d.]*)+\]"),
}


def _against(subject: Subject, style: HouseStyle, rows: list[tree.Line]) -> Iterator[Finding]:
    """One note for each setting that the words differ from."""
    for words, spans in _places(subject, style, rows):
        if spans:
            yield Finding(problem=HouseStyleDiffers(words, len(spans)), span=spans[0])


def _places(subject: Subject, style: HouseStyle, rows: list[tree.Line]) -> Iterator[tuple[str, list[Span]]]:
    if style.full_stops is not None:
        odd = [ln for ln in rows if _stops(ln.text) is not style.full_stops]
        ends = [ln.offset + len(ln.text.rstrip()) for ln in odd]
        yield "full stops" if style.full_stops else "no full stops", [Span(end - 1, end) for end in ends]
    if style.capitals is not None:
        found = [
            (ln, c) for ln in rows if ln.label is not None and (c := _capital(ln.text, ln.label.span.end))
        ]
        yield (
            "capitals after the label" if style.capitals else "no capitals after the label",
            [
                Span(ln.offset + at, ln.offset + at + 1)
                for ln, (great, at) in found
                if great is not style.capitals
            ],
        )
    if style.repeats:
        marks = {"( )": "[", "[ ]": "("}[style.repeats]
        groups = [(ln, n) for ln, n in subject.nodes(tree.Repeat) if n.mark == marks and not n.star]
        spans = [Span(ln.offset + n.span.start, ln.offset + n.span.end) for ln, n in groups]
        yield f"repeats in {style.repeats}", spans
    if style.sizes:
        other = _LIST["[ ]" if style.sizes == "( )" else "( )"]
        yield f"sizes in {style.sizes}", list(_found(subject, other))
    if style.terms:
        against = (
            ("cast off", "stocking stitch", "wrn")
            if style.terms == "US"
            else ("bind off", "stockinette", "seed stitch")
        )
        spans = sorted(
            (ln.span(h) for ln, h in subject.watched.of(*against, sorts=("words", "note", "header"))),
            key=lambda s: s.start,
        )
        yield f"{style.terms} terms", spans
    if style.units:
        yield (
            {"cm": "cm", "in": "inches", "both": "cm and inches"}[style.units],
            list(_units(subject, style.units)),
        )
    if style.numbers:
        spans = [s for form, e in _NUMBERS.items() if form != style.numbers for s in _found(subject, e)]
        yield f"numbers as {style.numbers}", sorted(spans, key=lambda s: s.start)


def _found(subject: Subject, expression: re.Pattern[str]) -> Iterator[Span]:
    for line in subject.watched.lines:
        if line.sort in {"words", "note", "header"}:
            for m in expression.finditer(line.text):
                yield Span(line.offset + m.start(), line.offset + m.end())


def _units(subject: Subject, units: str) -> Iterator[Span]:
    """Measures in the other unit alone; in one unit alone where both are wanted."""
    for line in subject.watched.lines:
        if line.sort not in {"words", "note", "header"}:
            continue
        cm, inches = _CM.search(line.text), _INCHES.search(line.text)
        odd = inches if units == "cm" and cm is None else cm if units == "in" and inches is None else None
        if units == "both" and (cm is None) != (inches is None):
            odd = cm or inches
        if odd is not None:
            yield Span(line.offset + odd.start(), line.offset + odd.end())


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C101": judge_style}
