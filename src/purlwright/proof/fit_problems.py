"""Family G: what is said where a piece does not go on the body it is for. The judges live with the tables
of bodies.
"""

from __future__ import annotations

from dataclasses import dataclass

from purlwright.findings import Severity

__all__ = ["OpeningTooSmall", "PlaceOffBody", "SleeveTooNarrow"]


@dataclass(frozen=True, slots=True)
class OpeningTooSmall:
    """The neck or the brim does not go over the head, even when it is stretched.

    A knitted edge that is bound off loosely stretches to about one and a half times its width at rest, one
    in rib to about twice. If the head is larger, the piece cannot be put on.

    Limit: half as much again, in rib as much again; common practice, no source. Heads: of whom it is to
    fit, else by the trade's tables.

    Example: a neckband of 60 stitches at 22 stitches to 10 cm, for an adult.

    Cure: pick up or cast on more stitches round the neck, or give it an opening.
    """

    part: str
    stitches: str
    cm: str
    head: str
    ribbed: bool = False

    code = "opening-too-small"
    check = "C065"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The {self.part} of {self.stitches} sts is {self.cm} cm round at the gauge, and stretched "
            f"{'to twice that' if self.ribbed else 'by half'} still less than the head, {self.head} cm."
        )

    def label(self) -> str:
        return f"{self.stitches} sts, {self.cm} cm round"

    def help(self) -> str | None:
        return "Give it more stitches, or an opening."


@dataclass(frozen=True, slots=True)
class SleeveTooNarrow:
    """The sleeve at its widest is narrower than the arm of the size it belongs to.

    A sleeve of a pullover is a little wider than the arm. One that is narrower than nine tenths of it
    pinches.

    Limit: nine tenths of the arm; common practice, no source. Arms: the standard's table for the chest
    that the pattern is to fit; the table's figures for adults are from memory and say so here.

    Example: a sleeve of 44 stitches at 22 stitches to 10 cm, to fit a chest of 117 cm.

    Cure: increase the sleeve to more stitches.
    """

    stitches: str
    cm: str
    arm: str

    code = "sleeve-too-narrow"
    check = "C067"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The sleeve has {self.stitches} sts at its widest, {self.cm} cm round; an arm of this size "
            f"is about "
            f"{self.arm} cm."
        )

    def label(self) -> str:
        return f"{self.stitches} sts, {self.cm} cm round"

    def help(self) -> str | None:
        return "Increase the sleeve to more stitches."


@dataclass(frozen=True, slots=True)
class PlaceOffBody:
    """A thumb or a heel stands where no hand or foot has one.

    From the wrist to the fork of the thumb is between a fifth and three fifths of the hand round; a foot
    from heel to toe is between 8 and 33 cm.

    Limits: common practice, no source.

    Example: a thumb that is set aside 20 cm above the cuff.

    Cure: count the rounds up to the thumb, or along the foot.
    """

    what: str
    cm: str
    usual: str

    code = "place-off-body"
    check = "C076"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.what} {self.cm} cm; {self.usual} would be usual."

    def label(self) -> str:
        return f"{self.cm} cm"

    def help(self) -> str | None:
        return "Count the rounds up to here."
