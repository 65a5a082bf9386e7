"""What can be wrong when the words are knitted, each a small class of facts with its own page.

In: numbers met at the needles. Out: problems that say it in a knitter's words. When to report one
is decided where the knitting is done.
"""

from __future__ import annotations

from purlwright.needles.problems.joins import (
    HeldDiffers,
    JoinDiffers,
    LeftLive,
    LeftOnHold,
    NothingHeld,
    PickUpDiffers,
    PickUpTooClose,
)
from purlwright.needles.problems.places import (
    LeavesDiffers,
    MarkerCrossed,
    MarkerNotHere,
    NoMarker,
    NoSuchGap,
    PlaceBehind,
)
from purlwright.needles.problems.rows import (
    AmbiguousTimes,
    EndingSideDiffers,
    LengthLeftToKnitter,
    LengthNeedsGauge,
    LengthPassed,
    NeverReached,
    NoSuchRow,
    PatternNotGiven,
    RowsDiffer,
    ShapingDoesNotFit,
    SideDiffers,
    SideNotAsCounted,
    SideNotKnown,
    TooMuchKnitting,
)
from purlwright.needles.problems.stitch_counts import (
    ChangeDiffers,
    CountDiffers,
    DefinitionDiffers,
    DoubleOverWorkedAsOne,
    EvenlyDoesNotFit,
    GroupUneven,
    KnittedOnFromCount,
    NothingKnitted,
    NothingOnNeedle,
    RepeatUneven,
    StatedPartsDiffer,
    TotalDiffers,
    UnknownStitch,
)

__all__ = [
    "AmbiguousTimes",
    "ChangeDiffers",
    "CountDiffers",
    "DefinitionDiffers",
    "DoubleOverWorkedAsOne",
    "EndingSideDiffers",
    "EvenlyDoesNotFit",
    "GroupUneven",
    "HeldDiffers",
    "JoinDiffers",
    "KnittedOnFromCount",
    "LeavesDiffers",
    "LeftLive",
    "LeftOnHold",
    "LengthLeftToKnitter",
    "LengthNeedsGauge",
    "LengthPassed",
    "MarkerCrossed",
    "MarkerNotHere",
    "NeverReached",
    "NoMarker",
    "NoSuchGap",
    "NoSuchRow",
    "NothingHeld",
    "NothingKnitted",
    "NothingOnNeedle",
    "PatternNotGiven",
    "PickUpDiffers",
    "PickUpTooClose",
    "PlaceBehind",
    "RepeatUneven",
    "RowsDiffer",
    "ShapingDoesNotFit",
    "SideDiffers",
    "SideNotAsCounted",
    "SideNotKnown",
    "StatedPartsDiffer",
    "TooMuchKnitting",
    "TotalDiffers",
    "UnknownStitch",
]
