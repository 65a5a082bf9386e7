"""Which sign a worked stitch gets, as the right side of the fabric shows it.

In: a :class:`~purlwright.chart.follow.Deed` and the side it was worked on. Out: the name of its sign,
which is ``letters:MB`` where no sign is known: then her own abbreviation stands in the square. How a sign is
drawn is left to ``symbols``.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from purlwright.chart.follow import Deed
from purlwright.chart.symbols import sign
from purlwright.fabric.arrays import Link, Seen
from purlwright.stitches.kinds import Motion, Stitch
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric

__all__ = ["LETTERS", "sign_of", "stitch_of"]

LETTERS = "letters:"
_MOST_LETTERS = 4
_CABLE = re.compile(r"cross-(?!long)")


def sign_of(deed: Deed, fabric: Fabric, *, from_right: bool) -> str:
    """The sign of a stitch worked on the right side (``from_right``) or on the wrong side."""
    if deed.closed:
        return "dropped" if deed.name == "drop" else "close"
    if deed.name in {"co", "pick up k"}:
        return "cast" if deed.name == "co" else "picked-up"
    stitch = stitch_of(deed)
    crossing = _crossing(deed, fabric, from_right=from_right) if _may_cross(deed, stitch) else ""
    if crossing:
        return crossing
    if stitch is not None:
        found = _seen(stitch.key, from_right)
        if found is None:
            found = _into(stitch)
        if found and sign(found) is not None:
            return found
    if len(deed.taken) > 1 and len(deed.made) == 1 and not deed.own:
        number = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven"}.get(len(deed.taken), "")
        if number and deed.name.endswith(("psso", "pass next over")):
            return f"{number}-left-passed"
    return LETTERS + letters(deed.name)


def letters(name: str) -> str:
    """A name as short as a square wants it: the abbreviation itself, or its first letters."""
    plain = re.sub(r"[^\w/&+]", "", name)
    if len(plain) <= _MOST_LETTERS:
        return plain
    words = re.findall(r"[A-Za-z]+|\d+", name)
    short = "".join(word if word.isdigit() else word[0] for word in words)
    return (short if 1 < len(short) <= _MOST_LETTERS else plain[:_MOST_LETTERS]).upper()


def stitch_of(deed: Deed) -> Stitch | None:
    """The stitch of the dictionary that a deed is, also where she explains a usual one herself."""
    if deed.stitch is not None:
        return deed.stitch
    known = dictionary()
    if not deed.own and deed.name.endswith(", psso"):
        *slips, rest, _ = deed.name.split(", ")
        if all(slip.startswith("sl") for slip in slips):
            worked = "k1" if rest == "k" else rest
            found = known.find(f"sl{len(slips)}-{worked}-psso")
            if found is not None and found.takes == len(deed.taken):
                return found
    if deed.own:
        found = known.find(deed.name)
        if found is not None and (found.takes, found.makes) == (len(deed.taken), len(deed.made)):
            return found
        if len(deed.inner) == 1:
            from purlwright.needles.optable import op_table

            t = op_table()
            return t.stitches[t.number[deed.inner[0]]]
    return None


@lru_cache(maxsize=1024)
def _seen(key: str, from_right: bool) -> str | None:
    """The mark of a dictionary stitch as the right side shows it; None for one made up as it is worked."""
    stitches = dictionary().stitches
    stitch = stitches.get(key)
    if stitch is None:
        return None
    if not from_right and stitch.behind and stitch.behind in stitches:
        stitch = stitches[stitch.behind]
    return stitch.chart or ""


def _into(stitch: Stitch) -> str:
    """Several worked into one, or into several together."""
    if stitch.takes == 1 and stitch.makes > 2:
        return f"fan-{stitch.makes}"
    if stitch.takes == 1 and stitch.makes == 2:
        return "fork-two"
    if stitch.takes == stitch.makes:
        return f"star-{stitch.takes}"
    return ""


def _may_cross(deed: Deed, stitch: Stitch | None) -> bool:
    if len(deed.taken) != len(deed.made) or len(deed.made) < 2:
        return False
    if stitch is None:
        return deed.own
    return stitch.motion is Motion.CROSS and bool(_CABLE.match(stitch.chart or "cross-"))


def _crossing(deed: Deed, fabric: Fabric, *, from_right: bool) -> str:
    """The sign of a crossing, read off the fabric: which loops pass in front, which way, what they show."""
    first, links = fabric.first_parent_of_stitch, fabric.link
    place = {loop.stitch: i for i, loop in enumerate(deed.taken)}
    front: list[int] = []
    back: list[int] = []
    from_place: list[int] = []
    for j, loop in enumerate(deed.made):
        if loop.stitch < 0 or loop.stitch in place:
            return ""
        at = int(first[loop.stitch])
        if at == int(first[loop.stitch + 1]):
            return ""
        from_place.append(place.get(int(fabric.parent[at]), -1))
        link = int(links[at])
        if link == Link.CROSSED_FRONT:
            front.append(j)
        elif link == Link.CROSSED_BACK:
            back.append(j)
    if not front or not back or -1 in from_place:
        return ""
    if not from_right:  # what passes in front as it is worked lies behind on the right side
        front, back = back, front
    middle = [j for j in range(len(deed.made)) if j not in front and j not in back]
    right = front[0] > from_place[front[0]]
    purl = [int(fabric.seen_of_stitch[loop.stitch]) == Seen.PURL for loop in deed.made]
    shown = [{purl[j] for j in group} for group in (front, middle, back) if group]
    if any(len(group) > 1 for group in shown):
        return ""
    faces = [True in group for group in shown]
    endings = {
        (False,) * len(faces): "", (True,) * len(faces): "-all-purl",
        (False, True): "-purl", (False, True, False): "-purl",
    }  # fmt: skip
    ending = endings.get(tuple(faces))
    if ending is None:
        return ""
    sizes = "-".join(str(len(group)) for group in (front, middle, back) if group)
    return f"cross-{sizes}-{'right' if right else 'left'}{ending}"
