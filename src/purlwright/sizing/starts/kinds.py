"""Every pattern to begin from: its name, for whom, in which cloth, and who writes it.

In: nothing. Out: frozen :class:`Kind` values by name, and the bodies that a kind is for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from purlwright.sizing.bodies import GROUPS, Body, bodies, heads_hands_feet
from purlwright.sizing.starts import cardigan, drop_shoulder, feet, flat, hands, hats, pullovers
from purlwright.sizing.starts import set_in as set_in_sleeves
from purlwright.sizing.starts.asked import Asked, Start
from purlwright.sizing.unknowns import NoPlan

__all__ = ["KINDS", "Kind", "clean_start", "who"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A piece that can be planned.

    part : "head", "hand", "foot", "body", or "" for what fits nobody. usual : whom it is for if nobody is
    named.
    measure : what "to fit" is a measure of. fabric : of its gauge.
    """

    name: str
    told: str
    make: Callable[[Asked], Start]
    part: str
    measure: str
    fabric: str
    usual: tuple[str, ...]
    usual_sizes: tuple[str, ...]


_HEADS = (
    ("toddler 3 mo-3 yr", "child 3-14 yr", "adult", "adult XL"),
    ("toddler", "child", "adult", "large adult"),
)
_HANDS = (("child 3-14 yr", "woman", "man"), ("child", "woman", "man"))
_FEET = (
    ("child US shoe 2-6 / sock 8-9.5", "woman US shoe 6-9 / sock 9-11", "man US shoe 10.5-12 / sock 11-13"),
    ("child", "woman", "man"),
)
_BODY = (("woman",), ())
_NOBODY = ((), ("small", "large"))
_PLAIN, _GARTER = "stockinette stitch", "garter stitch"


def _kind(
    name: str,
    told: str,
    make: Callable[[Asked], Start],
    part: str,
    fabric: str,
    who: tuple[tuple[str, ...], tuple[str, ...]],
) -> Kind:
    measure = {"body": "chest", "": ""}.get(part, "circumference")
    return Kind(
        name=name,
        told=told,
        make=make,
        part=part,
        measure=measure,
        fabric=fabric,
        usual=who[0],
        usual_sizes=who[1],
    )


KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        kind.name: kind
        for kind in (
            _kind("hat", "a hat from the brim up", hats.from_brim, "head", _PLAIN, _HEADS),
            _kind("hat-from-crown", "a hat from the crown down", hats.from_crown, "head", _PLAIN, _HEADS),
            _kind(
                "wedge-hat", "a garter-stitch hat sideways in wedges", hats.wedges, "head", _GARTER, _HEADS
            ),
            _kind("mitten", "mittens with a gusseted thumb", hands.mitten, "hand", _PLAIN, _HANDS),
            _kind("sock", "socks from the cuff down", feet.from_cuff, "foot", _PLAIN, _FEET),
            _kind("sock-from-toe", "socks from the toe up", feet.from_toe, "foot", _PLAIN, _FEET),
            _kind("triangle-shawl", "a triangle from the neck down", flat.triangle, "", _GARTER, _NOBODY),
            _kind("crescent-shawl", "a crescent from the neck down", flat.crescent, "", _GARTER, _NOBODY),
            _kind(
                "half-round-shawl", "a half circle from the neck down", flat.half_round, "", _GARTER, _NOBODY
            ),
            _kind("round-mat", "a flat round from the middle out", flat.round_mat, "", _PLAIN, _NOBODY),
            _kind(
                "drop-shoulder",
                "a pullover in flat pieces",
                drop_shoulder.drop_shoulder,
                "body",
                _PLAIN,
                _BODY,
            ),
            _kind(
                "set-in",
                "a pullover in flat pieces with set-in sleeves",
                set_in_sleeves.set_in,
                "body",
                _PLAIN,
                _BODY,
            ),
            _kind(
                "cardigan",
                "a cardigan in flat pieces with bands and buttonholes",
                cardigan.cardigan,
                "body",
                _PLAIN,
                _BODY,
            ),
            _kind("raglan", "a raglan pullover from the neck down", pullovers.raglan, "body", _PLAIN, _BODY),
            _kind(
                "round-yoke",
                "a round-yoke pullover from the neck down",
                pullovers.round_yoke,
                "body",
                _PLAIN,
                _BODY,
            ),
        )
    }
)


WAYS = 4
"""How many ways there are to write a piece with the same measures."""


def clean_start(kind: Kind, asked: Asked, found: Callable[[str], int]) -> Start:
    """The pattern in the first way in which nothing is found; else that in which least is found.

    found : how much a proof finds in a text; it is made in a room above.
    """
    best: tuple[int, Start] | None = None
    for way in range(WAYS):
        start = kind.make(replace(asked, way=way))
        if best is not None and start.text == best[1].text:
            continue
        many = found(start.text)
        if best is None or many < best[0]:
            best = (many, start)
        if not many:
            break
    assert best is not None  # noqa: S101 - there is one way at least
    return best[1]


def who(kind: Kind, names: tuple[str, ...]) -> tuple[tuple[Body, ...], tuple[str, ...]]:
    """The bodies that are named, with names for their sizes; the usual ones for no name.

    For a pullover a group, "woman", or one size of it, "woman M"; for the others a row of their table,
    "adult", as far as it is told apart. Raises NoPlan with the names there are.
    """
    if not kind.part:
        return tuple(Body(group="", name=n) for n in kind.usual_sizes), kind.usual_sizes
    asked = names or kind.usual
    sizes = kind.usual_sizes if not names else ()
    found: list[Body] = []
    for name in asked:
        found += _of_the_table(kind, name)
    if sizes and len(sizes) == len(found):
        return tuple(found), sizes
    groups = {b.group for b in found}
    said = [
        b.name if len(groups) == 1 and b.name and kind.part == "body" else f"{b.group} {b.name}".strip()
        for b in found
    ]
    if kind.part != "body":
        said = [b.name for b in found]
    return tuple(found), tuple(_plain(s) for s in said)


def _plain(name: str) -> str:
    return " ".join(name.replace("(", " ").replace(")", " ").replace(",", " ").replace("/", " ").split())


def _of_the_table(kind: Kind, name: str) -> list[Body]:
    word = " ".join(name.lower().split())
    if kind.part == "body":
        group, _, size = word.partition(" ")
        if group in GROUPS:
            one = [b for b in bodies(group) if not size or b.name.lower() == size]
            if one:
                return one
            sizes = ", ".join(b.name for b in bodies(group))
            raise NoPlan(f'There is no size "{size}" in the table for {group}; there are {sizes}.')
        raise NoPlan(
            f'There is no table for "{name}"; there are {", ".join(GROUPS)}, or give one of your own.'
        )
    table = heads_hands_feet(kind.part)
    exact = [b for b in table if b.name.lower() == word]
    near = exact or [b for b in table if b.name.lower().startswith(word)]
    if not near:
        raise NoPlan(_which(kind.part, name, table))
    return near


def _which(part: str, name: str, table: Sequence[Body]) -> str:
    """What to write instead of a name that is not in the table: the sizes of its group, or the groups."""
    groups = list(dict.fromkeys(b.group for b in table))
    group = next((g for g in groups if name.lower().split()[:1] == [g]), None)
    if group is None:
        return f'There is no {part} called "{name}"; there are {", ".join(groups)}.'
    sizes = [b.name.removeprefix(group).strip() for b in table if b.group == group]
    if not any(sizes):
        return f'There is one {part} for {group}: write "{group}".'
    return (
        f"The sizes of a {part} are not those of a garment; for {group} there are {'; '.join(sizes)}. "
        f'Write "{group}" for all of them, or "{group} {sizes[0]}".'
    )
