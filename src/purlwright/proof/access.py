"""Family L, who can read it: charts and pictures in words, symbols that differ in shape.

In: a pattern's charts and header. Out: a finding on marks that look alike. What only a
picture can tell is answered as such; what the printed sheet tells waits for the sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.answer import Answer

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject

__all__ = ["JUDGES", "MarksLookAlike"]


@dataclass(frozen=True, slots=True)
class MarksLookAlike:
    """Two marks of a chart differ by so little that they are taken for each other.

    A small o, a capital O and a nought are one thing to a tired eye, and to some eyes always.

    Example: `o = yo` and `0 = k2tog` in one key.

    Cure: choose another mark for one of them. (Common practice; no source.)
    """

    one: str
    two: str

    code = "marks-look-alike"
    check = "C126"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'The marks "{self.one}" and "{self.two}" of this key look alike and mean different stitches.'

    def label(self) -> str:
        return f'easily taken for "{self.one}"'

    def help(self) -> str | None:
        return "Choose a mark of another shape for one of them."


_SHAPES = str.maketrans(
    {"0": "o", "O": "o", "1": "l", "I": "l", "|": "l", ",": ".", "'": "`", "X": "x", "V": "v"}
)


def _shape(mark: str) -> str:
    return mark.translate(_SHAPES)


def judge_marks(subject: Subject) -> Answer:
    """C126: places are the marks of all keys. Colours on the printed sheet come after."""
    places = 0
    findings: list[Finding] = []
    for chart in subject.pattern.charts:
        seen: dict[str, int] = {}
        for n, key in enumerate(chart.key):
            places += 1
            first = seen.setdefault(_shape(key.mark), n)
            if first != n and not findings and chart.key[first].mark != key.mark:
                other = chart.key[first]
                problem = MarksLookAlike(other.mark, key.mark)
                findings.append(
                    Finding(problem=problem, span=key.span, related=(Related(other.span, "and this"),))
                )
    return Answer(places=places, findings=tuple(findings))


def judge_charts_in_words(subject: Subject) -> Answer:
    """C125: a chart in plain text says each of its squares in the words of its key; a picture does not."""
    missing = "words for what the picture shows" if _pictures(subject) else None
    return Answer(places=len(subject.pattern.charts), missing=missing)


def judge_pictures(subject: Subject) -> Answer:
    """C128."""
    many = _pictures(subject)
    return Answer(places=many, missing="the picture itself" if many else None)


def _pictures(subject: Subject) -> int:
    return sum(e.known == "Picture" for e in subject.pattern.header.entries)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C125": judge_charts_in_words,
    "C126": judge_marks,
    "C128": judge_pictures,
}
