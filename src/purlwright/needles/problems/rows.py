"""Rows, sides, repeats of rows and lengths.

In: numbers met at the needles. Out: problems in a knitter's words.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from purlwright.findings import Severity
from purlwright.needles.problems.said import Said, sts

__all__ = [
    "EndingSideDiffers",
    "HalfNotMirrored",
    "LengthLeftToKnitter",
    "LengthNeedsGauge",
    "LengthPassed",
    "MeasuredFromNowhere",
    "NeverReached",
    "NoSuchRow",
    "PartNotWorked",
    "PatternNotGiven",
    "RowsDiffer",
    "ShapingDoesNotFit",
    "SideDiffers",
    "SideNotAsCounted",
    "SideNotKnown",
    "TooMuchKnitting",
]


@dataclass(frozen=True, slots=True)
class SideDiffers(Said):
    """A printed RS or WS is not the side that faces when the rows are counted from the cast-on.

    A knitter with the other side facing puts every purl on the wrong face from there on.

    Example: ``Row 1 (RS)``, ``Row 2 (WS)``, then ``Row 4 (RS)``: row 3 is missing or the label is wrong.

    Cure: correct the label, add the missing row, or say that the work is slid or the yarn rejoined.
    """

    code: ClassVar[str] = "side-differs"
    check: ClassVar[str | None] = "C021"
    row: str
    stated: str
    knitted: str

    def message(self) -> str:
        return f"{self.row} is labelled {self.stated}, but counting the rows worked the {self.knitted} faces."

    def label(self) -> str:
        return f"{self.knitted} by the rows before"

    def help(self) -> str | None:
        return f"Label it {self.knitted}, or look for a row too many or too few before it."


@dataclass(frozen=True, slots=True)
class SideNotAsCounted(SideDiffers):
    """The first printed RS or WS is not the side reached by counting the rows from the cast-on.

    Some designers count the cast-on as a row, or begin on the wrong side, without saying so.

    Example: ``Cast on 24 sts. Knit 3 rows. Row 1 (RS)``: counted from the cast-on, the wrong side faces.

    Cure: say that the cast-on counts as a row, label the first rows, or add or take out a row.
    """

    code: ClassVar[str] = "side-not-as-counted"
    severity: ClassVar[Severity] = Severity.WARNING

    def message(self) -> str:
        return f"{self.row} is labelled {self.stated}; counted from the cast-on, the {self.knitted} faces."

    def help(self) -> str | None:
        return "Say that the cast-on counts as a row, label the rows before, or work one row more or fewer."


@dataclass(frozen=True, slots=True)
class CastOnCounted(SideNotAsCounted):
    """The first printed RS or WS after plain garter rows is not the side counted from the cast-on.

    After a long-tail cast-on, which looks like a row already worked, most knitters work the first row on the
    wrong side; in garter stitch nothing else tells. (Common practice; no source.)

    Example: ``Cast on 24 sts. Knit 3 rows. Row 1 (RS)``.

    Cure: none is needed; "beginning with a WS row" would tell everybody.
    """

    code: ClassVar[str] = "cast-on-counted"
    severity: ClassVar[Severity] = Severity.NOTE

    def message(self) -> str:
        return (
            f"{self.row} is labelled {self.stated}: so the first row after the cast-on is taken for a "
            "wrong-side row, as after a long-tail cast-on."
        )

    def help(self) -> str | None:
        return 'Write "beginning with a WS row" there, if every knitter is to see it.'


@dataclass(frozen=True, slots=True)
class SideNotKnown(Said):
    """After stitches were held, bound off or taken up again, nothing tells which side faces.

    Example: ``Rejoin yarn to the held sts. Knit 4 rows.``: is the first of them a right-side row?

    Cure: write "with RS facing" where the yarn is joined, or label the first row.
    """

    code: ClassVar[str] = "side-not-known"
    check: ClassVar[str | None] = "C021"
    severity: ClassVar[Severity] = Severity.WARNING
    row: str

    def message(self) -> str:
        return f"{self.row}: nothing tells which side faces after the yarn is joined again."

    def help(self) -> str | None:
        return 'Write "with RS facing" (or WS) where the yarn is joined, or label the row.'


@dataclass(frozen=True, slots=True)
class EndingSideDiffers(Said):
    """The words end with one row ("ending with a WS row", "ending with row 4"), the rows with another.

    Example: ``Knit 7 rows, ending with a WS row`` begun on the right side ends on the right side.

    Cure: work one row more or fewer, or name the other side.
    """

    code: ClassVar[str] = "ending-side-differs"
    check: ClassVar[str | None] = "C022"
    row: str
    stated: str
    knitted: str

    def message(self) -> str:
        return f"{self.row}: the words end with {self.stated}, but the last row worked is {self.knitted}."

    def help(self) -> str | None:
        return "Work one row more or fewer, or correct the words."


@dataclass(frozen=True, slots=True)
class RowsDiffer(Said):
    """The rows named and the rows they repeat do not come out even.

    Example: ``Rows 9-20: rep rows 1-8.`` names 12 rows for repeats of 8.

    Cure: correct the row numbers, or the number of times.
    """

    code: ClassVar[str] = "rows-differ"
    check: ClassVar[str | None] = "C026"
    named: int
    given: int

    def message(self) -> str:
        return f"{self.named} rows are named here, but the words give {self.given}."

    def label(self) -> str:
        return f"{self.given} rows"

    def help(self) -> str | None:
        return "Correct the row numbers, or how often the rows are worked."


@dataclass(frozen=True, slots=True)
class NoSuchRow(Said):
    """The words send the knitter to a row that was not written.

    Example: ``Row 9: as row 7.`` where rows 1 to 6 are given.

    Cure: correct the number, or write the row out.
    """

    code: ClassVar[str] = "no-such-row"
    check: ClassVar[str | None] = "C020"
    what: str

    def message(self) -> str:
        return f"The words send you to {self.what}, which is not written before this place."

    def label(self) -> str:
        return "not written"

    def help(self) -> str | None:
        return "Correct the number, or write the row out here."


@dataclass(frozen=True, slots=True)
class PartNotWorked(Said):
    """A part is told as another one, and which rows these are cannot be told from the words.

    The other part is not written before this place under that name, or the place up to which it is worked
    does not stand in it. Nothing was worked here.

    Example: ``Work as for back to armholes`` where the back has no line that begins its armholes.

    Cure: name the part as its heading does, print the place in it, or write the rows out.
    """

    code: ClassVar[str] = "part-not-worked"
    check: ClassVar[str | None] = "C020"
    name: str

    def message(self) -> str:
        return f'Which rows of "{self.name}" are worked here cannot be told, so none was knitted.'

    def label(self) -> str:
        return "not worked"

    def help(self) -> str | None:
        return (
            "Name the part as its heading does, print in it the place that is meant, or write its rows out."
        )


@dataclass(frozen=True, slots=True)
class HalfNotMirrored(Said):
    """A half is told as the other one reversed, and not every row of it has a mirror that is sure.

    Stitches bound off or cast on at the beginning of a row fall on another row in the other half, and some
    stitches have no partner that leans the other way. Nothing was worked here.

    Example: ``Work as for left front, reversing shaping`` where the left front increases with kfb.

    Cure: write the rows of this half out.
    """

    code: ClassVar[str] = "half-not-mirrored"
    check: ClassVar[str | None] = "C020"
    severity: ClassVar[Severity] = Severity.WARNING
    name: str

    def message(self) -> str:
        return f'Not every row of "{self.name}" has a sure mirror, so this half was not knitted.'

    def label(self) -> str:
        return "not knitted"

    def help(self) -> str | None:
        return "Write the rows of this half out."


@dataclass(frozen=True, slots=True)
class PatternNotGiven(Said):
    """The words call for a chart or stitch pattern that is not in the file.

    Example: ``Work row 3 of chart A over 13 sts`` without chart A.

    Cure: give the rows of the chart in words, or as a fenced chart. Its stitches were worked as they appear.
    """

    code: ClassVar[str] = "pattern-not-given"
    check: ClassVar[str | None] = "C093"
    severity: ClassVar[Severity] = Severity.WARNING
    name: str

    def message(self) -> str:
        return (
            f"{self.name} is called for but not given in the file; its stitches were worked as they appear."
        )

    def help(self) -> str | None:
        return "Give its rows in words or as a chart."


@dataclass(frozen=True, slots=True)
class NeverReached(Said):
    """The words go on until so many stitches remain, a number that the rows never reach.

    Example: ``Rep last 2 rows until 9 sts remain`` when each repeat takes 2 from 24.

    Cure: name a number that the rows reach, or change the row.
    """

    code: ClassVar[str] = "never-reached"
    check: ClassVar[str | None] = "C026"
    wanted: int
    nearest: int
    where: str = ""

    def message(self) -> str:
        wanted = f"{sts(self.wanted)} {self.where}".rstrip()
        return f"The rows never give {wanted}; the nearest they come is {self.nearest}."

    def label(self) -> str:
        return f"nearest is {self.nearest}"

    def help(self) -> str | None:
        return f"Name {self.nearest}, or change the rows that lead there."


@dataclass(frozen=True, slots=True)
class LengthLeftToKnitter(Said):
    """A length is left to the knitter ("to desired length"), so its rows cannot be counted.

    Example: ``Rep rows 1-4 until the scarf is as long as you wish.``

    The rows were knitted once, and everything after goes on from there.

    Cure: none is needed if the knitter may choose; give a number of rows if later counts depend on it.
    """

    code: ClassVar[str] = "length-left-to-knitter"
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.NOTE

    def message(self) -> str:
        return "The length is left to the knitter, so these rows were not repeated here."

    def help(self) -> str | None:
        return "Give a number of rows or a length if later counts depend on it."


@dataclass(frozen=True, slots=True)
class LengthNeedsGauge(Said):
    """A length is given, but no gauge with rows, so nobody can say how many rows it is.

    Example: ``Work until piece measures 20 cm`` in a pattern without ``Gauge:``.

    Cure: add a line such as ``Gauge: 22 sts and 30 rows = 10 cm in stockinette stitch``.
    """

    code: ClassVar[str] = "length-needs-gauge"
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.NOTE
    length: str

    def message(self) -> str:
        return (
            f"How many rows make {self.length} depends on a gauge, and none is given; "
            "these rows were worked once."
        )

    def help(self) -> str | None:
        return "Add a Gauge line with stitches and rows, or give the number of rows."


@dataclass(frozen=True, slots=True)
class LengthPassed(Said):
    """The words go on until a length, and the rows before them have gone past it already.

    A knitter measures, and finds that she should have stopped long ago. Mostly the shaping before is worked
    too often, or too seldom for its length.

    Example: ``Inc 1 st at each end of every 6th row 72 times. Work until sleeve measures 43 cm.`` At 30
    rows in 10 cm the 432 rows of the shaping are 144 cm.

    Cure: correct the number of times, the number of rows between, or the length.

    Source: rows divided by the row gauge; a fifth more than the length is let pass.
    """

    code: ClassVar[str] = "length-passed"
    check: ClassVar[str | None] = "C057"
    severity: ClassVar[Severity] = Severity.WARNING
    rows: int
    cm: str
    length: str

    def message(self) -> str:
        return (
            f"The {self.rows} rows before this are {self.cm} cm at the gauge, past the {self.length} that is "
            "waited for."
        )

    def label(self) -> str:
        return f"{self.cm} cm already"

    def help(self) -> str | None:
        return "Correct how often the rows before are worked, or the length."


@dataclass(frozen=True, slots=True)
class ShapingDoesNotFit(Said):
    """Shaping is worked beside other rows, and those rows are done before the shaping is.

    A knitter comes to the end of her rows with increases or decreases still to make, and does not know
    whether to go on.

    Example: ``Work 20 rows, and at the same time dec 1 st at each end of every 4th row 72 times.`` 20 rows
    have room for 5.

    Cure: correct how often it is shaped, the rows between, or the number of rows.
    """

    code: ClassVar[str] = "shaping-does-not-fit"
    check: ClassVar[str | None] = "C058"
    severity: ClassVar[Severity] = Severity.WARNING
    left: int
    asked: int

    def message(self) -> str:
        return f"The rows end when {self.asked - self.left} of the {self.asked} shapings are worked."

    def label(self) -> str:
        return f"{self.left} left over"

    def help(self) -> str | None:
        return f"Shape {self.asked - self.left} times, or give the rows that {self.asked} times take."


@dataclass(frozen=True, slots=True)
class MeasuredFromNowhere(Said):
    """A length is measured from a place that nothing in the pattern is called.

    Example: ``Knit until work measures 10 cm from fold line`` when nothing says where that is.

    It was measured from where the section in work begins, which may be too many rows or too few.

    Cure: measure from the cast-on edge, a marker, or a part that has a heading, or give the number of rows.
    """

    code: ClassVar[str] = "measured-from-nowhere"
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.WARNING
    place: str
    section: str = ""

    def message(self) -> str:
        where = f'the start of "{self.section}"' if self.section else "the start of the piece"
        return f'Nothing in the pattern is called "{self.place}", so this length was measured from {where}.'

    def label(self) -> str:
        return "measured from where?"

    def help(self) -> str | None:
        return "Measure from the cast-on edge, a marker or a heading, or give the number of rows."


@dataclass(frozen=True, slots=True)
class TooMuchKnitting(Said):
    """The words ask for more knitting than any piece has.

    Example: ``Rep rows 1-4 1,000,000,000 times.``

    Cure: correct the number. The knitting stopped here.
    """

    code: ClassVar[str] = "too-much-knitting"
    check: ClassVar[str | None] = None
    what: str

    def message(self) -> str:
        return f"This asks for {self.what}, more than any piece has; the knitting stopped here."

    def help(self) -> str | None:
        return "Correct the number."
