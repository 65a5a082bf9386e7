"""A list of abbreviations as a witness: a stitch that it lacks, or has in vain, where its counterpart stands.

In: what a list explains and what the rows use. Out: findings on a stitch used once in the whole pattern that
a list, complete else, does not have while it has the stitch that is easily taken for it, and on a leaning
stitch explained and never used whose mirror is. ``words`` asks for them in place of its notes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from purlwright.findings import Severity
from purlwright.proof.texture import look_of_stitch, mirrored
from purlwright.stitches.load import dictionary

__all__ = ["MirrorNeverUsed", "StitchBesideTheList", "mirror_in_use", "taken_for"]


@dataclass(frozen=True, slots=True)
class StitchBesideTheList:
    """A stitch is used once in the whole pattern, and the list, which has all others, does not have it.

    Where the list has a stitch that is easily confused with it (k with p, k2tog with p2tog), the one place is
    more likely a misprint than a stitch that the list forgot.

    Example: a list with k and sl1 for a cloth in garter stitch, and `p3` in one row of it.

    Cure: write the stitch that is meant, or add this one to the list. (Common practice; no source.)
    """

    name: str
    listed: str

    code = "stitch-beside-the-list"
    check = "C093"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f'"{self.name}" is used only here, and the list of abbreviations, which explains everything '
            f'else, does not have it; it has "{self.listed}".'
        )

    def label(self) -> str:
        return "only here"

    def help(self) -> str | None:
        return f'Look whether "{self.listed}" is meant; else add "{self.name}" to the list.'


@dataclass(frozen=True, slots=True)
class MirrorNeverUsed:
    """A stitch that leans one way is explained and never used, and its mirror is used.

    The list was made for a pattern that leans both ways; somewhere one lean was written for the other.

    Example: m1l and m1r are explained, and a gusset says `m1l, k to last st, m1l`.

    Cure: look which of the uses should lean the other way, or take the stitch out of the list. (Common
    practice; no source.)
    """

    name: str
    mirror: str

    code = "mirror-never-used"
    check = "C093"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f'"{self.name}" is explained, and the pattern never uses it; it uses "{self.mirror}", which '
            f"leans the other way."
        )

    def label(self) -> str:
        return "never used"

    def help(self) -> str | None:
        return f'Look whether one "{self.mirror}" should be "{self.name}"; else take it out of the list.'


_TAKEN_FOR: Mapping[str, tuple[str, ...]] = {
    "k": ("p",), "p": ("k",), "k2tog": ("p2tog",), "p2tog": ("k2tog",), "ssk": ("ssp",), "ssp": ("ssk",),
    "k3tog": ("p3tog",), "p3tog": ("k3tog",),
}  # fmt: skip
"""Stitches that a slip of the hand writes for each other; common practice, no source."""
_FEW = 4
"""A list is a witness if it explains so many stitches that are used; common practice, no source."""


def taken_for(key: str, explained: Iterable[str], used: Iterable[str], times: int) -> str | None:
    """The listed stitch that one of another kind, used so many times, may have been written for.

    explained, used : dictionary keys of what the list has, and of all that rows use.
    """
    listed, worked = set(explained), set(used)
    if times != 1 or len(worked & listed) < _FEW or worked - listed != {key}:
        return None
    return next((name for name in _TAKEN_FOR.get(key, ()) if name in listed), None)


def mirror_in_use(name: str, explained: Iterable[str], used: Iterable[str]) -> str | None:
    """The mirror of a leaning stitch, if the list has both and the rows use only that one."""
    stitch = dictionary().find(name)
    if stitch is None:
        return None
    look = look_of_stitch(stitch)
    if not look.lean:
        return None
    for key in sorted(set(explained) & set(used)):
        other = dictionary().find(key)
        if other is not None and other.key != stitch.key and look_of_stitch(other) == mirrored(look):
            return key
    return None
