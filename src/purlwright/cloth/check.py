"""Family K, what only counted stitches can answer: whether there is enough yarn.

In: a subject of the proof. Out: judges, handed to the proof by ``workup``. What the words say of the yarn is
read in the proof's own ``balls`` and ``yarn_amounts``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, cast

from purlwright.cloth.yarn import yarn_taken
from purlwright.findings import Finding
from purlwright.proof.answer import Answer, not_read
from purlwright.proof.gauges import misshapen
from purlwright.proof.stretches import Cloth, cloths
from purlwright.proof.yarn_amounts import Told, YarnTooLittle, told_metres

if TYPE_CHECKING:
    from purlwright.cloth.yarn import YarnTaken
    from purlwright.needles.knitted import Knitted
    from purlwright.proof.subject import Subject

__all__ = ["JUDGES"]

GRACE = 0.85
"""What is told may be so much of the least: a sample may have been knitted tighter than its gauge.

Own, from published patterns (benchmarks/PUBLISHED.md).
"""


def judge_enough(subject: Subject) -> Answer:
    """C116: places are the yarns of which an amount is told.

    It cannot be decided where words were not read, or where no gauge gives the size of a stitch.
    """
    header = subject.pattern.header
    sizes = max(1, len(subject.pattern.sizes))
    told = {n: one for n, yarn in enumerate(header.yarns) if (one := told_metres(yarn, sizes)) is not None}
    if not told:
        return Answer()
    if not header.gauges:
        return Answer(missing="a gauge")
    if misshapen(subject):
        return Answer(missing="a gauge that can be")
    known = subject.kept(cloths)
    if not all(cloth.sure for cloth in known):
        return Answer(missing=not_read(subject) or "rows that come out as printed")
    taken = [(cloth, _taken(subject, cloth)) for cloth in known]
    if not all(one.known for _, one in taken):
        return Answer(missing="a gauge of stitches and rows")
    findings: list[Finding] = []
    places = 0
    for n, one in told.items():
        by_size = [(cloth.size, _metres(found, n, len(header.yarns))) for cloth, found in taken]
        amounts = [(size, metres) for size, metres in by_size if metres is not None]
        if not amounts:
            continue
        places += 1
        findings += _compared(subject, n, one, amounts)
    missing = None if places else "which of the yarns each stitch is worked in"
    return Answer(places=places, findings=tuple(findings), missing=missing)


def _taken(subject: Subject, cloth: Cloth) -> YarnTaken:
    knitted = cast("Knitted", cloth.way.knitted)
    return yarn_taken(subject.pattern.header, knitted, subject.source.text)


def _metres(found: YarnTaken, n: int, yarns: int) -> tuple[float, float] | None:
    """The least and the most of a yarn of the header; None where it is not known which stitches are in it."""
    uses = [use for use in found.uses if use.entry == n or yarns == 1]
    if not uses or (yarns > 1 and any(use.entry is None for use in found.uses)):
        return None
    return sum(use.least for use in uses), sum(use.most for use in uses)


def _compared(
    subject: Subject, n: int, told: Told, amounts: list[tuple[int, tuple[float, float]]]
) -> Iterator[Finding]:
    """One finding a yarn, with the numbers of the sizes that are short."""
    short = [
        (size, metres, float(have)) for size, metres in amounts
        if (have := told.metres[size]) and have < GRACE * metres[0]
    ]  # fmt: skip
    if not short:
        return
    yarns, names = subject.pattern.header.yarns, subject.pattern.sizes
    problem = YarnTooLittle(
        _list([have for _, _, have in short]),
        _list([metres[0] for _, metres, _ in short]),
        _list([metres[1] for _, metres, _ in short]),
        f" of {yarns[n].name}" if yarns[n].name and len(yarns) > 1 else "",
    )
    sizes = tuple(names[size] for size, _, _ in short) if len(short) < len(names) else ()
    yield Finding(problem=problem, span=told.span, sizes=sizes)


def _list(numbers: list[float]) -> str:
    words = [f"{n:.0f}" for n in numbers]
    return words[0] if len(words) == 1 else f"{words[0]} ({', '.join(words[1:])})"


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C116": judge_enough}
