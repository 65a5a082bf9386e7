"""What can be wrong when the words are knitted, each a small class of facts with its own page.

In: numbers met at the needles. Out: problems that say it in a knitter's words. When to report one is
decided in ``row`` and ``knit``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from purlwright.findings import Severity

__all__ = [
    "AmbiguousTimes", "ChangeDiffers", "CountDiffers", "DefinitionDiffers", "DoubleOverWorkedAsOne", "EndingSideDiffers",
    "EvenlyDoesNotFit", "GroupUneven", "HeldDiffers", "JoinDiffers", "KnittedOnFromCount", "LeavesDiffers", "LeftLive",
    "LengthNeedsGauge", "LengthLeftToKnitter", "MarkerCrossed", "NeverReached", "NoMarker", "NoSuchGap", "NoSuchRow",
    "NothingHeld", "NothingOnNeedle", "PatternNotGiven", "PickUpDiffers", "PlaceBehind", "RepeatUneven", "RowRunsPastTurn",
    "RowsDiffer", "SideDiffers", "SideNotAsCounted", "SideNotKnown", "StatedPartsDiffer", "TooMuchKnitting", "TotalDiffers", "UnknownStitch",
]  # fmt: skip


def _sts(n: int) -> str:
    return f"{n} stitch" if n == 1 else f"{n} stitches"


@dataclass(frozen=True, slots=True)
class _Said:
    """What most problems share."""

    code: ClassVar[str]
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.ERROR

    def message(self) -> str:
        raise NotImplementedError

    def label(self) -> str:
        return ""

    def help(self) -> str | None:
        return None


@dataclass(frozen=True, slots=True)
class CountDiffers(_Said):
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
            return f"{self.row} uses {self.uses} of the {_sts(self.there)} on the needle."
        return f"{self.row} needs {more}{_sts(self.uses)}, but {self.there} {'is' if self.there == 1 else 'are'} on the needle."

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
        return f"Take {_sts(off)} out of the row{extra}, or look for a missing increase in an earlier row."


@dataclass(frozen=True, slots=True)
class TotalDiffers(_Said):
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
        return f"{self.row} says {_sts(self.stated)}; knitting it gives {self.knitted}."

    def label(self) -> str:
        return f"{self.knitted} here"

    def help(self) -> str | None:
        return f"Print {self.knitted}, or find the {_sts(abs(self.stated - self.knitted))} that {'are' if abs(self.stated - self.knitted) > 1 else 'is'} {'missing' if self.stated > self.knitted else 'too many'}."


@dataclass(frozen=True, slots=True)
class ChangeDiffers(_Said):
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
class RepeatUneven(_Said):
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
            f"{self.row}: the repeat uses {_sts(self.each)} each time, and {self.there} are there for it: "
            f"{self.there // self.each} times leaves {self.there % self.each} over."
        )

    def label(self) -> str:
        return f"{self.each} each time, {self.there} there"

    def help(self) -> str | None:
        over = self.there % self.each
        return f"Put {_sts(over)} more outside the repeat, or {self.each - over} fewer."


@dataclass(frozen=True, slots=True)
class GroupUneven(RepeatUneven):
    """A stitch or ground worked to the end of the row leaves part of itself over.

    Example: ``K2tog across.`` with 15 stitches leaves one stitch.

    Cure: say what the last stitch does.
    """

    code: ClassVar[str] = "group-uneven"
    check: ClassVar[str | None] = "C007"


@dataclass(frozen=True, slots=True)
class PlaceBehind(_Said):
    """ "To last n sts" or "to n sts before marker" asks to stop before the place already reached.

    Example: ``K10, knit to last 4 sts`` with 12 stitches: after 10 only 2 are left.

    Cure: take stitches off what comes before, or change the number.
    """

    code: ClassVar[str] = "place-behind"
    check: ClassVar[str | None] = "C006"
    row: str
    wanted: int
    there: int
    place: str

    def message(self) -> str:
        return f"{self.row} wants to stop {_sts(self.wanted)} before the {self.place}, but only {self.there} {'is' if self.there == 1 else 'are'} left before it."

    def label(self) -> str:
        return f"{self.there} left"

    def help(self) -> str | None:
        return f"Take {_sts(self.wanted - self.there)} off what is worked before, or stop {self.there} before the {self.place}."


@dataclass(frozen=True, slots=True)
class NoMarker(_Said):
    """The words go to a marker that is not on the needle.

    Example: ``K to marker, M1`` when no marker was placed, or it was taken off in an earlier row.

    Cure: place the marker in an earlier row, or say where to stop in stitches.
    """

    code: ClassVar[str] = "no-marker"
    check: ClassVar[str | None] = "C037"
    row: str
    name: str = ""

    def message(self) -> str:
        which = f"marker {self.name}" if self.name else "a marker"
        return f"{self.row} goes to {which}, but none is left on the needle."

    def label(self) -> str:
        return "no marker here"

    def help(self) -> str | None:
        return "Place the marker in an earlier row, or give the place in stitches."


@dataclass(frozen=True, slots=True)
class NoSuchGap(_Said):
    """The words go to a gap (a turning point, a wrapped stitch) that is not there.

    A gap stands where an earlier row turned before its end, and closes when a row is worked across it.

    Example: ``Knit to 4 sts before gap, turn`` when no row has turned yet.

    Cure: turn in an earlier row first, or give the place in stitches.
    """

    code: ClassVar[str] = "no-such-gap"
    check: ClassVar[str | None] = "C037"
    row: str

    def message(self) -> str:
        return f"{self.row} goes to a gap, but no turn has left one in front of it."

    def label(self) -> str:
        return "no gap here"

    def help(self) -> str | None:
        return "Turn in an earlier row first, or give the place in stitches."


@dataclass(frozen=True, slots=True)
class RowRunsPastTurn(_Said):
    """A short row is said to stop before a place, and runs past an earlier turn to get there.

    Example: a row that counts stitches out and crosses the gap of the row before.

    Cure: stop at the gap, or say that the row works across it.
    """

    code: ClassVar[str] = "row-runs-past-turn"
    check: ClassVar[str | None] = "C037"
    severity: ClassVar[Severity] = Severity.WARNING
    row: str
    past: int

    def message(self) -> str:
        return f"{self.row} turns {_sts(self.past)} beyond an earlier turn that still stands open."

    def help(self) -> str | None:
        return "Turn before the gap, or say that the row is worked across it."


@dataclass(frozen=True, slots=True)
class LeavesDiffers(_Said):
    """A turn does not leave the stitches that the words say it leaves.

    Example: ``K20, turn, leaving 6 sts unworked`` with 24 stitches leaves 4.

    Cure: correct the number that is worked, or the number left.
    """

    code: ClassVar[str] = "leaves-differs"
    check: ClassVar[str | None] = "C031"
    row: str
    stated: int
    left: int

    def message(self) -> str:
        return f"{self.row} says {_sts(self.stated)} stay unworked; knitting it leaves {self.left}."

    def label(self) -> str:
        return f"{self.left} left"

    def help(self) -> str | None:
        return f"Print {self.left}, or turn {abs(self.left - self.stated)} {'later' if self.left > self.stated else 'sooner'}."


@dataclass(frozen=True, slots=True)
class EvenlyDoesNotFit(_Said):
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
        return f"{self.row} spreads {abs(self.change)} {what} over {_sts(self.there)}, which has no room for them."

    def help(self) -> str | None:
        return "Spread them over two rows, or say which stitch is used."


@dataclass(frozen=True, slots=True)
class SideDiffers(_Said):
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
class SideNotKnown(_Said):
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
class EndingSideDiffers(_Said):
    """ "Ending with a WS row" (or with row n) is not where the rows lead.

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
class AmbiguousTimes(_Said):
    """ "Repeat rows 1-4 three times": three in all or three more? The counts do not tell.

    Both are in use. Half the knitters will work one repeat too many or too few.

    Example: ``Rep rows 1-2 four times.`` in a piece whose count does not change.

    Cure: write "4 more times", or "4 times in all", and best of all both, with the number of rows.
    """

    code: ClassVar[str] = "times-or-more"
    check: ClassVar[str | None] = "C026"
    severity: ClassVar[Severity] = Severity.NOTE
    times: int
    rows: int

    def message(self) -> str:
        return (
            f'"{self.times} times" may mean {self.times} in all or {self.times} more; the counts allow both. '
            f"It was knitted as {self.times} more."
        )

    def help(self) -> str | None:
        return f'Write "{self.times} more times ({self.times + 1} in all)" or "{self.times} times in all".'


@dataclass(frozen=True, slots=True)
class RowsDiffer(_Said):
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
class NoSuchRow(_Said):
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
class PatternNotGiven(_Said):
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
class NothingOnNeedle(_Said):
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
class HeldDiffers(_Said):
    """More stitches go on hold, or come back, than are there.

    Example: ``Place the next 14 sts on a holder`` with 12 stitches left in the row.

    Cure: correct the number.
    """

    code: ClassVar[str] = "held-differs"
    check: ClassVar[str | None] = "C012"
    row: str
    wanted: int
    there: int

    def message(self) -> str:
        return f"{self.row} names {_sts(self.wanted)} for the holder; {self.there} {'is' if self.there == 1 else 'are'} there."

    def label(self) -> str:
        return f"{self.there} there"

    def help(self) -> str | None:
        return f"Print {self.there}, or correct the row before."


@dataclass(frozen=True, slots=True)
class NothingHeld(_Said):
    """Held stitches are called back that were never put on hold, or came back already.

    Example: ``Place the sleeve sts back on the needle`` when no stitches were held for a sleeve.

    Cure: name the holder as it was named when the stitches went there.
    """

    code: ClassVar[str] = "nothing-held"
    check: ClassVar[str | None] = "C012"
    place: str

    def message(self) -> str:
        which = f'"{self.place}"' if self.place else "a holder"
        return f"Stitches are taken up from {which}, but none wait there."

    def help(self) -> str | None:
        return "Name the holder as it was named when the stitches were put on it."


@dataclass(frozen=True, slots=True)
class JoinDiffers(_Said):
    """Two edges that are joined stitch by stitch have different numbers of stitches.

    Example: grafting 30 live stitches to a cast-on edge of 32.

    Cure: bring both to the same number.
    """

    code: ClassVar[str] = "join-differs"
    check: ClassVar[str | None] = "C013"
    a: int
    b: int
    how: str

    def message(self) -> str:
        return f"The {self.how} joins {self.a} stitches to {self.b}; the two edges must have the same number."

    def label(self) -> str:
        return f"{self.a} to {self.b}"

    def help(self) -> str | None:
        return "Bring both edges to the same number of stitches."


@dataclass(frozen=True, slots=True)
class PickUpDiffers(_Said):
    """The number picked up does not suit the edge it is picked up along.

    Along live, cast-on and bound-off stitches it is one for one; along row ends a usual ratio of the rows.

    Example: ``Pick up and knit 40 sts along the cast-on edge`` of 36 stitches.

    Cure: print the number that the edge has, or say what extra stitches are for.
    """

    code: ClassVar[str] = "pick-up-differs"
    check: ClassVar[str | None] = "C014"
    severity: ClassVar[Severity] = Severity.WARNING
    wanted: int
    there: int
    edge: str

    def message(self) -> str:
        return f"{_sts(self.wanted)} are picked up along {self.edge}, which has {self.there}."

    def label(self) -> str:
        return f"edge has {self.there}"

    def help(self) -> str | None:
        return f"Pick up {self.there}, or say where the others come from."


@dataclass(frozen=True, slots=True)
class DoubleOverWorkedAsOne(_Said):
    """The two loops of a double yarn over are worked together, or one is let go, without the words saying so.

    Example: ``yo twice`` in one row and a plain ``Purl.`` in the next keeps both loops: 2 stitches more, not 1.

    Cure: say "k1, p1 into the double yo", or "dropping the extra loop".
    """

    code: ClassVar[str] = "double-yarn-over"
    check: ClassVar[str | None] = "C016"
    severity: ClassVar[Severity] = Severity.NOTE
    row: str

    def message(self) -> str:
        return f"{self.row} works both loops of a double yarn over as separate stitches."

    def help(self) -> str | None:
        return 'Say "k1, p1 into each double yo", or "letting one loop drop".'


@dataclass(frozen=True, slots=True)
class DefinitionDiffers(_Said):
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
        return f"{self.name} takes {_sts(self.takes)} and makes {self.makes} when knitted; its words say {self.said}."

    def help(self) -> str | None:
        return "Correct the number or the definition."


@dataclass(frozen=True, slots=True)
class LeftLive(_Said):
    """Stitches are still live when the words end.

    Every loop must be bound off, grafted, gathered, seamed or joined, or the piece ravels.

    Example: a hat whose last words are ``Knit 1 round.`` with 8 stitches on the needle.

    Cure: say how they are closed: bind off, gather, graft.
    """

    code: ClassVar[str] = "left-live"
    check: ClassVar[str | None] = "C019"
    severity: ClassVar[Severity] = Severity.WARNING
    piece: str
    live: int
    where: str = "on the needle"

    def message(self) -> str:
        return f"{self.piece}: {_sts(self.live)} {'is' if self.live == 1 else 'are'} still {self.where} when the words end."

    def label(self) -> str:
        return f"{self.live} left"

    def help(self) -> str | None:
        return "Say how they are closed: bind off, gather or graft."


@dataclass(frozen=True, slots=True)
class NeverReached(_Said):
    """ "Until n sts remain" names a number that the rows never reach.

    Example: ``Rep last 2 rows until 9 sts remain`` when each repeat takes 2 from 24.

    Cure: name a number that the rows reach, or change the row.
    """

    code: ClassVar[str] = "never-reached"
    check: ClassVar[str | None] = "C026"
    wanted: int
    nearest: int

    def message(self) -> str:
        return f"The rows never give {_sts(self.wanted)}; the nearest they come is {self.nearest}."

    def label(self) -> str:
        return f"nearest is {self.nearest}"

    def help(self) -> str | None:
        return f"Name {self.nearest}, or change the rows that lead there."


@dataclass(frozen=True, slots=True)
class StatedPartsDiffer(_Said):
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
class MarkerCrossed(_Said):
    """A stitch is worked across a marker.

    A marker cannot lie inside a stitch: one loop comes from either side of it.

    Example: ``K2tog`` when the marker sits between the two stitches.

    Cure: remove the marker first and say where it goes again.
    """

    code: ClassVar[str] = "marker-inside-stitch"
    check: ClassVar[str | None] = "C037"
    severity: ClassVar[Severity] = Severity.WARNING
    row: str
    stitch: str

    def message(self) -> str:
        return f"{self.row}: {self.stitch} takes stitches from both sides of a marker."

    def help(self) -> str | None:
        return "Remove the marker before it, and say where to put it back."


@dataclass(frozen=True, slots=True)
class LengthLeftToKnitter(_Said):
    """A length is left to the knitter ("to desired length"), so its rows cannot be counted.

    Example: ``Rep rows 1-4 until the scarf is as long as you wish.``

    The rows were knitted once, and everything after goes on from there.
    """

    code: ClassVar[str] = "length-left-to-knitter"
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.NOTE

    def message(self) -> str:
        return "The length is left to the knitter, so these rows were not repeated here."

    def help(self) -> str | None:
        return "Give a number of rows or a length if later counts depend on it."


@dataclass(frozen=True, slots=True)
class LengthNeedsGauge(_Said):
    """A length is given, but no gauge with rows, so nobody can say how many rows it is.

    Example: ``Work until piece measures 20 cm`` in a pattern without ``Gauge:``.

    Cure: add a line such as ``Gauge: 22 sts and 30 rows = 10 cm in stockinette stitch``.
    """

    code: ClassVar[str] = "length-needs-gauge"
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.NOTE
    length: str

    def message(self) -> str:
        return f"How many rows make {self.length} depends on a gauge, and none is given; these rows were worked once."

    def help(self) -> str | None:
        return "Add a Gauge line with stitches and rows, or give the number of rows."


@dataclass(frozen=True, slots=True)
class KnittedOnFromCount(_Said):
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
        return f"The knitting goes on from the printed {_sts(self.stated)} here; the words before gave {self.knitted} and are unproved."

    def help(self) -> str | None:
        return "Mend the words marked before this count."


@dataclass(frozen=True, slots=True)
class TooMuchKnitting(_Said):
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


@dataclass(frozen=True, slots=True)
class UnknownStitch(_Said):
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
