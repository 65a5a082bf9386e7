"""Rows and counts that do not come out.

In: numbers met at the needles. Out: problems in a knitter's words.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from purlwright.findings import Severity
from purlwright.needles.problems.said import Said, number_are, sts

__all__ = [
    "BetweenDiffers",
    "ChangeDiffers",
    "CountDiffers",
    "DefinitionDiffers",
    "DoubleOverWorkedAsOne",
    "EvenlyDoesNotFit",
    "ExplainedByItself",
    "GroupUneven",
    "KnittedOnFromCount",
    "NothingKnitted",
    "NothingOnNeedle",
    "RepeatUneven",
    "StatedPartsDiffer",
    "TotalDiffers",
    "UnknownStitch",
]


@dataclass(frozen=True, slots=True)
class CountDiffers(Said):
    """A row uses more or fewer stitches than are on the needle.

    Every row must use exactly the stitches that are there: none left over, none missing. A knitter who
    reaches the end with stitches left over, or runs out before the words do, cannot tell whose fault it is.

    Example: after ``Row 4: Purl. (24 sts)`` the row ``Row 5: [k3, p1] 5 times.`` uses 20 of the 24.

    Cure: count the row's stitches again; add what is missing, or change how often the group is worked.
    """

    code: ClassVar[str] = "count-differs"
    check: ClassVar[str | None] = "C001"
    row: str
    uses: int
    there: int
    at_least: bool = False
    group: int = 0

    def message(self) -> str:
        more = "at least " if self.at_least else ""
        if self.uses < self.there:
            return f"{self.row} uses {self.uses} of the {sts(self.there)} on the needle."
        return f"{self.row} needs {more}{sts(self.uses)}, but {number_are(self.there)} on the needle."

    def label(self) -> str:
        return f"uses {self.uses}" if self.uses < self.there else f"needs {self.uses}, has {self.there}"

    def help(self) -> str | None:
        off = self.there - self.uses
        if off > 0:
            extra = ""
            if self.group and off % self.group == 0:
                extra = (
                    f", or work the group {off // self.group} more time{'s' if off // self.group > 1 else ''}"
                )
            return f"Work {off} more stitch{'es' if off > 1 else ''}{extra}."
        off = -off
        extra = ""
        if self.group and off % self.group == 0:
            extra = (
                f", or work the group {off // self.group} time{'s' if off // self.group > 1 else ''} fewer"
            )
        return f"Take {sts(off)} out of the row{extra}, or look for a missing increase in an earlier row."


@dataclass(frozen=True, slots=True)
class TotalDiffers(Said):
    """A printed stitch count is not what is on the needle.

    Knitters stop and count where a total is printed; a wrong one sends them back through good rows.

    Example: ``Row 6: K1, M1, k to end. (22 sts)`` when 20 stitches and one increase give 21.

    Cure: correct the total, or the increase or decrease that it counts.
    """

    code: ClassVar[str] = "total-differs"
    check: ClassVar[str | None] = "C002"
    row: str
    stated: int
    knitted: int

    def message(self) -> str:
        return f"{self.row} says {sts(self.stated)}; knitting it gives {self.knitted}."

    def label(self) -> str:
        return f"{self.knitted} here"

    def help(self) -> str | None:
        off = abs(self.stated - self.knitted)
        wrong = "missing" if self.stated > self.knitted else "too many"
        return f"Print {self.knitted}, or find the {sts(off)} that {'are' if off > 1 else 'is'} {wrong}."


@dataclass(frozen=True, slots=True)
class BetweenDiffers(Said):
    """A printed count of the stitches between markers is not what lies between them.

    Example: ``Row 5: K to m, sm, M1L, k to m, M1R, sm, k to end. (7 sts between markers)`` when 3 stitches
    and two increases give 5.

    With three or more markers it is enough that one pair of neighbours has so many.

    Cure: correct the count, or the increase, decrease or marker that it counts from.
    """

    code: ClassVar[str] = "between-markers-differs"
    check: ClassVar[str | None] = "C002"
    row: str
    stated: int
    knitted: tuple[int, ...]

    def message(self) -> str:
        return (
            f"{self.row} says {sts(self.stated)} between markers; knitting it gives {listed(self.knitted)}."
        )

    def label(self) -> str:
        return f"{listed(self.knitted)} here"

    def help(self) -> str | None:
        return (
            f"Print {listed(self.knitted, 'or')}, or look for a marker in another place or a wrong increase."
        )


def listed(numbers: tuple[int, ...], last: str = "and") -> str:
    """The numbers as said in a sentence: "5", "5 and 7", "5, 3 and 7"."""
    each = list(dict.fromkeys(str(n) for n in numbers))
    return f" {last} ".join(x for x in (", ".join(each[:-1]), each[-1]) if x)


@dataclass(frozen=True, slots=True)
class ChangeDiffers(Said):
    """A printed "n sts increased" or "decreased" is not what the row does.

    Example: ``Row 3: K2tog, k to last 2 sts, k2tog. (4 sts dec)`` decreases 2.

    Cure: correct the number, or the row.
    """

    code: ClassVar[str] = "change-differs"
    check: ClassVar[str | None] = "C003"
    row: str
    stated: int
    knitted: int

    def message(self) -> str:
        def say(n: int) -> str:
            return "no change" if n == 0 else f"{abs(n)} {'more' if n > 0 else 'fewer'}"

        return f"{self.row} says {say(self.stated)}; knitting it gives {say(self.knitted)}."

    def label(self) -> str:
        return f"{self.knitted:+d} here"

    def help(self) -> str | None:
        return f"Print {abs(self.knitted)}, or change the row to match."


@dataclass(frozen=True, slots=True)
class RepeatUneven(Said):
    """A repeat does not come out even with the stitches that are there.

    The stitches between the fixed ones must be a whole number of repeats, at every working of the row.

    Example: ``*K3, p1; rep from * to last 2 sts, k2`` with 25 stitches: 23 are no multiple of 4.

    Cure: change the fixed stitches at the edges, or the number cast on.
    """

    code: ClassVar[str] = "repeat-uneven"
    check: ClassVar[str | None] = "C007"
    row: str
    each: int
    there: int

    def message(self) -> str:
        return (
            f"{self.row}: the repeat uses {sts(self.each)} each time, and {self.there} are there for it: "
            f"{self.there // self.each} times leaves {self.there % self.each} over."
        )

    def label(self) -> str:
        return f"{self.each} each time, {self.there} there"

    def help(self) -> str | None:
        over = self.there % self.each
        return f"Put {sts(over)} more outside the repeat, or {self.each - over} fewer."


@dataclass(frozen=True, slots=True)
class RepeatUnsaid(Said):
    """The words of a row use a part of its stitches and go into them a whole number of times.

    They were worked again to the end of the row, as most knitters would. Nothing in the words says so.

    Example: ``Rnd 1: K8, k2tog`` with 80 stitches.

    Cure: write ``*k8, k2tog; rep from * to end``, or say where the row stops. (Common practice; no source.)
    """

    code: ClassVar[str] = "repeat-unsaid"
    check: ClassVar[str | None] = "C007"
    severity: ClassVar[Severity] = Severity.WARNING
    row: str
    uses: int
    times: int

    def message(self) -> str:
        return (
            f"{self.row} uses {sts(self.uses)} and stops, with {self.uses * self.times} there; it was "
            f"worked {self.times} times, to the end."
        )

    def label(self) -> str:
        return f"{self.times} times"

    def help(self) -> str | None:
        return 'Put * before it and "; rep from * to end" after it, or say where the row stops.'


@dataclass(frozen=True, slots=True)
class GroupUneven(RepeatUneven):
    """A stitch or ground worked to the end of the row leaves part of itself over.

    Example: ``K2tog across.`` with 15 stitches leaves one stitch.

    Cure: say what the last stitch does.
    """

    code: ClassVar[str] = "group-uneven"
    check: ClassVar[str | None] = "C007"


@dataclass(frozen=True, slots=True)
class EvenlyDoesNotFit(Said):
    """More increases or decreases are to be spread over a row than it has room for.

    Example: ``Dec 14 sts evenly across`` with 20 stitches on the needle: at most 10 pairs can be made.

    Cure: spread them over two rows, or use double decreases and say so.
    """

    code: ClassVar[str] = "evenly-does-not-fit"
    check: ClassVar[str | None] = "C009"
    row: str
    change: int
    there: int

    def message(self) -> str:
        what = "increases" if self.change > 0 else "decreases"
        over = sts(self.there)
        return f"{self.row} spreads {abs(self.change)} {what} over {over}, which has no room for them."

    def help(self) -> str | None:
        return "Spread them over two rows, or say which stitch is used."


@dataclass(frozen=True, slots=True)
class StatedPartsDiffer(Said):
    """Counts printed for parts of the row do not add up to the stitches there.

    Example: ``[12 + 12 + 14 = 36]``: the parts give 38.

    Cure: correct the parts or the sum.
    """

    code: ClassVar[str] = "parts-differ"
    check: ClassVar[str | None] = "C002"
    parts: int
    knitted: int

    def message(self) -> str:
        return f"The parts printed here add up to {self.parts}; {self.knitted} stitches are there."

    def help(self) -> str | None:
        return "Correct the parts or their sum."


@dataclass(frozen=True, slots=True)
class DoubleOverWorkedAsOne(Said):
    """The two loops of a double yarn over are worked together as one stitch.

    A yarn over made twice gives two loops, and each is a stitch of its own on the next row. Worked together
    they close the hole that the second one was made for.

    Example: ``K4, k2tog, yo twice, ssk, k4`` and then ``P5, p2tog, p5``: the p2tog takes both loops of the
    double over.

    Cure: work "k1, p1" into the two loops, or say that one of them is let drop.
    """

    code: ClassVar[str] = "double-yarn-over"
    check: ClassVar[str | None] = "C016"
    severity: ClassVar[Severity] = Severity.WARNING
    stitch: str

    def message(self) -> str:
        return f"{self.stitch} works both loops of a double yarn over together as one stitch."

    def label(self) -> str:
        return "takes both loops"

    def help(self) -> str | None:
        return 'Work "k1, p1" into the two loops, or say that one of them is let drop.'


@dataclass(frozen=True, slots=True)
class DefinitionDiffers(Said):
    """A stitch of the pattern's own does not take or make what its words say.

    Example: ``MB: [k1, p1, k1] in next st, turn, p3, turn, sl1-k2tog-psso (makes 3 sts)`` ends as 1.

    Cure: correct the number, or the words of the definition.
    """

    code: ClassVar[str] = "definition-differs"
    check: ClassVar[str | None] = "C018"
    name: str
    takes: int
    makes: int
    said: str

    def message(self) -> str:
        knitted = f"takes {sts(self.takes)} and makes {self.makes} when knitted"
        return f"{self.name} {knitted}; its words say {self.said}."

    def help(self) -> str | None:
        return "Correct the number or the definition."


@dataclass(frozen=True, slots=True)
class ExplainedByItself(Said):
    """The words that explain a stitch or a chart use the very name they explain.

    Example: ``Bobble: Knit to the bobble, work bobble.``

    Nobody can work it from these words; the rest of the row was left.

    Cure: say it in stitches that are explained elsewhere.
    """

    code: ClassVar[str] = "explained-by-itself"
    check: ClassVar[str | None] = "C018"
    name: str

    def message(self) -> str:
        return f'"{self.name}" is explained by itself.'

    def label(self) -> str:
        return "the same name again"

    def help(self) -> str | None:
        return "Say it in other stitches, or correct the name here."


@dataclass(frozen=True, slots=True)
class UnknownStitch(Said):
    """A stitch of the pattern's own is used, and its definition could not be knitted.

    Example: ``MB`` whose definition needs more stitches than it takes.

    Cure: mend the definition. It was worked as one stitch from one.
    """

    code: ClassVar[str] = "definition-not-knitted"
    check: ClassVar[str | None] = "C018"
    name: str

    def message(self) -> str:
        return f"{self.name} cannot be knitted from its definition; it was worked as one stitch."

    def help(self) -> str | None:
        return "Mend the definition."


@dataclass(frozen=True, slots=True)
class NothingOnNeedle(Said):
    """A row is written where no stitch is on the needle.

    Example: a pattern that begins ``Row 1: K4, p4`` with nothing cast on, or goes on after binding off.

    Cure: cast on first, or say which stitches are taken up.
    """

    code: ClassVar[str] = "nothing-on-needle"
    check: ClassVar[str | None] = "C001"
    row: str

    def message(self) -> str:
        return f"{self.row} is to be worked, but no stitch is on the needle."

    def label(self) -> str:
        return "nothing cast on"

    def help(self) -> str | None:
        return "Cast on first, or say which held stitches are taken up."


@dataclass(frozen=True, slots=True)
class NothingKnitted:
    """A text in which nothing could be knitted, because no cast-on was found in it.

    The words may be in a language other than English, or the cast-on may be left out or said in words that
    are not understood. Where the text is only the rows of a stitch pattern or a chart, this is a warning.

    Example: ``20 M anschlagen.`` and ``1. Reihe: Alle M rechts stricken.``

    Cure: say in English how many stitches are cast on, as ``Cast on 20 sts.``, and then each row.
    """

    code: ClassVar[str] = "nothing-knitted"
    check: ClassVar[str | None] = None
    explains: bool = False

    @property
    def severity(self) -> Severity:
        return Severity.WARNING if self.explains else Severity.ERROR

    def message(self) -> str:
        return "Nothing here could be knitted: no cast-on was found."

    def label(self) -> str:
        return "no cast-on before this or after it"

    def help(self) -> str | None:
        return 'Say in English how many stitches are cast on, as in "Cast on 20 sts.", before the first row.'


@dataclass(frozen=True, slots=True)
class KnittedOnFromCount(Said):
    """Words before could not be read or did not come out, and the knitting went on from a printed count.

    Everything up to this count is unproved: only the rows after it are.

    Example: an unread row followed by ``(48 sts)``.

    Cure: mend the words that are marked before it.
    """

    code: ClassVar[str] = "knitted-on-from-count"
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.NOTE
    stated: int
    knitted: int

    def message(self) -> str:
        return (
            f"The knitting goes on from the printed {sts(self.stated)} here; "
            f"the words before gave {self.knitted} and are unproved."
        )

    def help(self) -> str | None:
        return "Mend the words marked before this count."
