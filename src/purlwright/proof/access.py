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
from purlwright.proof.followed import hard_to_follow

if TYPE_CHECKING:
    from purlwright.pattern.header import Entry
    from purlwright.proof.subject import Subject

__all__ = ["JUDGES", "MarksLookAlike", "PictureWithoutWords"]


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


@dataclass(frozen=True, slots=True)
class PictureWithoutWords:
    """A picture has no words in its place that say what it shows.

    Who does not see the picture, or has a sheet without it, is told nothing of what stands in it alone.

    Example: `Picture: mat.jpg`

    Cure: say after an upright line what it shows: `Picture: mat.jpg | the mat from above, its border in
    garter stitch`.

    Source: common practice of accessible print; no picture without a text alternative (PDF/UA-1, WCAG 2).
    """

    file: str

    code = "picture-without-words"
    check = "C128"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'The picture "{self.file}" has no words that say what it shows.'

    def label(self) -> str:
        return "what does it show?"

    def help(self) -> str | None:
        return f"Say it after an upright line: {self.file} | what it shows."


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
    """C125: a chart in plain text says each of its squares in the words of its key; a picture is said by the
    words beside it; and the words can be followed. Places are charts, pictures, and what is hard to follow.
    """
    pictures = _pictures(subject)
    silent = any(not _shows(e) for e in pictures)
    missing = "words for what the picture shows" if silent else None
    found = tuple(hard_to_follow(subject))
    places = len(subject.pattern.charts) + len(pictures) + len(found)
    return Answer(places=places, missing=missing, findings=found)


def judge_pictures(subject: Subject) -> Answer:
    """C128: places are the pictures; whether the words are true only a person can say."""
    pictures = _pictures(subject)
    findings = tuple(
        Finding(problem=PictureWithoutWords(e.value.partition("|")[0].strip()), span=e.value_span)
        for e in pictures
        if not _shows(e)
    )
    return Answer(places=len(pictures), findings=findings)


def _pictures(subject: Subject) -> list[Entry]:
    return [e for e in subject.pattern.header.entries if e.known == "Picture" and e.value.strip()]


def _shows(entry: Entry) -> bool:
    """Whether a picture has words in its place: "Picture: mat.jpg | the mat, from above"."""
    return bool(entry.value.partition("|")[2].strip())


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C125": judge_charts_in_words,
    "C126": judge_marks,
    "C128": judge_pictures,
}
