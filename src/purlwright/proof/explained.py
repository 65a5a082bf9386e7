"""Check C018 in the words of an explanation: the steps take off as many stitches as are printed beside them.

In: the lines that explain a decrease and say how many stitches it takes off. Out: findings where the steps,
as the words give them, take off another number. What an explanation makes when it is knitted is looked at
while knitting.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from purlwright.findings import Finding, Severity
from purlwright.pattern.tokens import number_word
from purlwright.proof.answer import Answer, while_knitting
from purlwright.proof.subject import Subject
from purlwright.text import Span

__all__ = ["JUDGES", "StepsTakeOffOther"]


@dataclass(frozen=True, slots=True)
class StepsTakeOffOther:
    """A decrease is explained in steps that take off fewer or more stitches than is printed beside them.

    A step fell out of the explanation, or the number is wrong. Whoever works the steps as printed comes out
    with another number of stitches in every row that has the decrease.

    Example: `dec3: slip 1, knit 1, pass the slipped st over (2 sts decreased).` The steps take off 1.

    Cure: add the step that is missing, or correct the number.

    Source: each stitch passed over takes off one, each "knit 2 together" one, "knit 3 together" two.
    """

    steps: int
    told: int

    code = "steps-take-off-other"
    check = "C018"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"These steps take off {_sts(self.steps)}, and {_sts(self.told)} are told."

    def label(self) -> str:
        return f"the steps take off {self.steps}, not {self.told}"

    def help(self) -> str | None:
        return "Add the step that is missing, or correct the number."


def _sts(n: int) -> str:
    return f"{n} st{'s' if n != 1 else ''}"


_TOLD = re.compile(
    r"\((?:so )?(?P<n>\d|one|two|three|four|five|six) ?-?(?:sts?|stitch(?:es)?) dec(?:reased|['’]?d)?\)",
    re.IGNORECASE,
)
_OFF = re.compile(
    r"\b(?:pass(?:ing)?|lift(?:ing)?|slip|pull|draw)\b(?: the)?(?: (?P<many>2|two|3|three)\b)?[^,;.:]*?"
    r"(?<!yarn )\bover\b(?! the needle| needle| wire)"
    r"|\b(?:k|p|knit|purl)\w* ?(?:the )?(?:next )?(?P<tog>\d|two|three|four|five) ?(?:sts? |stitches )?"
    r"tog(?:ether)?\b"
    r"|\b(?P<one>psso|ssk|ssp|skp|skpo)\b|\b(?P<two>p2sso|sssk|sk2p|s2kp)\b",
    re.IGNORECASE,
)
_UNSURE = re.compile(
    r"\b(?:rep\w*|again|times|until|twice|m1|kfb|pfb|into|inc\w*|cable|each|chart|both|them|these)\b"
    r"|(?<!its )(?<!their )\b(?:yo|yarn over|yarn forward)\b",
    re.IGNORECASE,
)
"""Words after which the steps cannot be counted from the words alone."""


def _number(words: str) -> int:
    return int(words) if words.isdigit() else number_word(words.lower()) or 0


def _takes_off(words: str) -> int | None:
    """How many stitches the steps take off; None if the words leave it open."""
    if _UNSURE.search(words):
        return None
    off = 0
    for m in _OFF.finditer(words):
        if m["tog"]:
            off += _number(m["tog"]) - 1
        elif m["two"]:
            off += 2
        else:
            off += _number(m["many"]) if m["many"] else 1
    return off or None


def _explained(subject: Subject) -> Iterator[tuple[int, int, Span]]:
    """(NAME ":" STEPS "(" NUMBER "sts decreased)"): what the steps take off, what is told, and where."""
    if "dec" not in subject.source.text:
        return
    for line in subject.watched.lines:
        if line.sort not in {"words", "note"} or "dec" not in line.text or ":" not in line.text:
            continue
        told = list(_TOLD.finditer(line.text))
        if len(told) != 1 or line.text[told[0].end() :].strip(" ."):
            continue
        start = line.text.index(":") + 1
        off = _takes_off(line.text[start : told[0].start()])
        if off is not None:
            yield off, _number(told[0]["n"]), Span(line.offset + start, line.offset + told[0].end())


def judge_explained(subject: Subject) -> Answer:
    """C018: what is knitted and what is told in words."""
    knitted = while_knitting("C018")(subject)
    found = list(_explained(subject))
    labels = {line.offset for line in subject.lines if line.label is not None}
    findings = []
    for off, told, span in found:
        start = subject.source.starts[subject.source.place(span.start)[0] - 1]
        if off != told and start not in labels:
            findings.append(Finding(problem=StepsTakeOffOther(off, told), span=span))
    return Answer(places=knitted.places + len(found), findings=tuple(findings), missing=knitted.missing)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C018": judge_explained}
