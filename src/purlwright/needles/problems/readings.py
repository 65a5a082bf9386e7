"""Words with two readings: which was knitted, and whether the counts chose it.

In: numbers met at the needles. Out: problems in a knitter's words.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from purlwright.findings import Severity
from purlwright.needles.problems.said import Said

__all__ = [
    "AmbiguousTimes",
    "PatternRowNotSaid",
    "PatternRowOnOtherSide",
    "ReadingChosen",
    "ReadsTwoWays",
    "RoundFromHeld",
    "TimesChosen",
]


@dataclass(frozen=True, slots=True)
class AmbiguousTimes(Said):
    """Rows repeated "three times": three in all or three more? The counts do not tell.

    Both are in use. Half the knitters will work one repeat too many or too few.

    Example: ``Rep rows 1-2 four times.`` in a piece whose count does not change.

    Cure: write "4 more times", or "4 times in all", and best of all both, with the number of rows.
    """

    code: ClassVar[str] = "times-or-more"
    check: ClassVar[str | None] = "C026"
    severity: ClassVar[Severity] = Severity.NOTE
    times: int
    rows: int
    more: bool = True

    def message(self) -> str:
        return (
            f'"{self.times} times" may mean {self.times} in all or {self.times} more; the counts allow both. '
            f"It was knitted as {self.times} {'more' if self.more else 'in all'}."
        )

    def help(self) -> str | None:
        return f'Write "{self.times} more times ({self.times + 1} in all)" or "{self.times} times in all".'


@dataclass(frozen=True, slots=True)
class TimesChosen(Said):
    """Rows repeated "three times" were read one way of two, because the printed counts fit no other.

    "Three times" may be three in all or three more. Both were knitted, and only one of them comes to the
    counts printed after it. Nothing is wrong; a knitter who reads the words the other way finds out only at
    the next count.

    Example: ``Rep rows 1-2 four times. (18 sts)`` on 10 stitches, where row 1 increases by two: four more.

    Cure: none is needed. Kinder: "4 more times (5 in all)".
    """

    code: ClassVar[str] = "times-chosen"
    check: ClassVar[str | None] = "C026"
    severity: ClassVar[Severity] = Severity.NOTE
    settled: ClassVar[bool] = True
    times: int
    more: bool
    sort: str = "rows"
    """What is worked so often: "rows", "shaping" or "stitches"."""

    def message(self) -> str:
        mine, other = f"{self.times} more", f"{self.times} in all"
        if not self.more:
            mine, other = other, mine
        return f'"{self.times} times" was knitted as {mine}: with {other} the counts do not come out.'

    def label(self) -> str:
        return f"{self.times} more" if self.more else f"{self.times} in all"

    def help(self) -> str | None:
        if self.more:
            return f'Nothing is wrong; "{self.times} more times ({self.times + 1} in all)" says it outright.'
        return f'Nothing is wrong; "{self.times} times in all" says it outright.'


@dataclass(frozen=True, slots=True)
class ReadingChosen(Said):
    """A row that can be read in two ways was read in the one that the counts allow.

    Nothing is wrong; this says which reading was knitted.

    Example: ``K2, yo and k2tog 3 times, knit to end. (10 sts)`` on 10 stitches: yo and k2tog are both worked
    3 times, for one yo and three k2tog would leave 8.

    Cure: none is needed. Brackets round what is worked again make it plain.
    """

    code: ClassVar[str] = "reading-chosen"
    check: ClassVar[str | None] = "C041"
    severity: ClassVar[Severity] = Severity.NOTE
    settled: ClassVar[bool] = True
    row: str
    mine: str
    other: str

    def message(self) -> str:
        return f"{self.row} was knitted with {self.mine}: with {self.other} the counts do not come out."

    def label(self) -> str:
        return self.mine

    def help(self) -> str | None:
        return "Nothing is wrong; brackets round what is worked again say it outright."


@dataclass(frozen=True, slots=True)
class ReadsTwoWays(Said):
    """A row can be read in two ways, and the counts fit both.

    Half the knitters will work the one and half the other, and no count tells them apart: the stitches lie
    elsewhere in the row.

    Example: ``M1 and k2tog twice, knit to end``: both twice, or the k2tog alone?

    Cure: put brackets round what is worked again.
    """

    code: ClassVar[str] = "reads-two-ways"
    check: ClassVar[str | None] = "C041"
    severity: ClassVar[Severity] = Severity.NOTE
    row: str
    mine: str
    other: str

    def message(self) -> str:
        return (
            f"{self.row} may be read with {self.mine} or with {self.other}; the counts allow both. It was "
            f"knitted with {self.mine}."
        )

    def label(self) -> str:
        return "two ways to read it"

    def help(self) -> str | None:
        return "Put brackets round what is worked again."


@dataclass(frozen=True, slots=True)
class PatternRowNotSaid(Said):
    """A stitch pattern is taken up again after other rows, and its next row belongs to the other side.

    An odd number of rows stands between, so "continue in pattern" cannot go on with the row after the last
    one. Were the rows between meant to count as rows of the pattern? Half the knitters will think so.

    Example: a pattern of 4 rows stopped after row 1, ``Next row: Purl.``, then ``Cont in patt``: row 2 is a
    WS row, and the RS faces.

    Cure: name the row: "Cont in pattern, beginning with row 3", or work one row more or fewer between.
    """

    code: ClassVar[str] = "pattern-row-not-said"
    check: ClassVar[str | None] = "C027"
    severity: ClassVar[Severity] = Severity.WARNING
    last: int
    due: int
    knitted: int
    here: str

    def message(self) -> str:
        other = "WS" if self.here == "RS" else "RS"
        return (
            f"The pattern stopped after its row {self.last}; row {self.due} is a {other} row, and here the "
            f"{self.here} faces. It was knitted on from row {self.knitted}."
        )

    def label(self) -> str:
        return "with which row?"

    def help(self) -> str | None:
        return f'Name the row, as in "beginning with row {self.knitted}".'


@dataclass(frozen=True, slots=True)
class PatternRowOnOtherSide(Said):
    """The row of the stitch pattern that the words name belongs to the other side of the work.

    Its knits and purls fall on the wrong face. A row is missing before it, or another row of the pattern is
    meant.

    Example: ``Cont in patt, beginning with row 3`` with the WS facing, where row 3 was written as a RS row.

    Cure: name the row that belongs to this side, or work one row more or fewer before it.
    """

    code: ClassVar[str] = "pattern-row-on-other-side"
    check: ClassVar[str | None] = "C027"
    severity: ClassVar[Severity] = Severity.WARNING
    row: int
    here: str

    def message(self) -> str:
        other = "WS" if self.here == "RS" else "RS"
        return f"Row {self.row} of the pattern is a {other} row, and here the {self.here} faces."

    def label(self) -> str:
        return f"the {self.here} faces"

    def help(self) -> str | None:
        return "Name a row of this side, or work one row more or fewer before it."


@dataclass(frozen=True, slots=True)
class RoundFromHeld(Said):
    """Stitches were taken up from work in the round, and the words say round: they were joined.

    A thumb or a sleeve that waited is worked in rounds again, and many patterns trust the knitter to join
    it. Nothing is wrong; a knitter who has not done it before may turn and work back.

    Example: ``Place the held sts on needles. Pick up and knit 1 st over the gap. Knit 3 rounds.``

    Cure: none is needed; "join to work in the round" says it.

    Source: common practice, no source.
    """

    code: ClassVar[str] = "round-from-held"
    check: ClassVar[str | None] = None
    severity: ClassVar[Severity] = Severity.NOTE

    def message(self) -> str:
        return "These stitches were taken up again from a ring, so they were joined here for the rounds."

    def help(self) -> str | None:
        return 'Write "join to work in the round" where they are taken up.'
