"""A row stitch by stitch, as it is to be shown: what leaves the left needle, what comes onto the right one.

In: one size, knitted. Out: a :class:`Played` for every row, round and bind-off, its :class:`Beat` s in the
order worked. How it is drawn is left to ``needles_drawing`` and the page.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from purlwright.chart.follow import Deed, Followed, follow
from purlwright.fabric.arrays import Seen as Face
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern.tree import Side
from purlwright.proof.said import count
from purlwright.stitches.kinds import Face as Faced
from purlwright.stitches.kinds import Family, Loose

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.needles.knitted import Knitted

__all__ = ["Beat", "Look", "Played", "play"]

Look = Literal["V", "bump", "over", ""]
"""What a loop shows to the knitter: a V, a bump, a yarn over; "" where it is not known, as on a cast-on."""
_NAMES = {"co": "cast on"}
_PLAYED = (Kind.ROW, Kind.ROUND, Kind.PICK_UP, Kind.BIND_OFF)


@dataclass(frozen=True, slots=True, kw_only=True)
class Beat:
    """One stitch, or the turn at the end. ``makes`` are the looks of the loops it puts on the right needle.

    ``yarn`` is where the working yarn lies while it is worked. ``does`` says what sort of stitch it is.
    """

    name: str
    words: str
    takes: int
    makes: tuple[Look, ...]
    yarn: Literal["front", "back", "over"]
    does: Literal["work", "slip", "cross", "close", "turn"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Played:
    """A row. ``left`` are the loops on the left needle in the order they come to be worked, ``behind`` how
    many lie on the right needle already, because the row begins at a turn.
    """

    order: int
    label: str
    section: str
    side: Literal["RS", "WS", ""]
    left: tuple[Look, ...]
    behind: int
    beats: tuple[Beat, ...]
    after: int
    waiting: int


def play(knitted: Knitted) -> tuple[Played, ...]:
    """Every row of every piece. Rows that were not read, or cannot be followed loop by loop, are left out."""
    faces = knitted.fabric.seen_of_stitch.tolist()
    out: list[Played] = []
    for piece in knitted.ledger.pieces:
        entries = [e for e in piece.rows if e.kind in _PLAYED]
        rows = follow(knitted, entries) if entries else []
        done = [_played(r, faces) for r in rows if not (r.entry.unread or r.entry.resumed)]
        ends = {e.order: e for e in entries}
        out += [row for row in done if row.beats and _adds_up(row, ends[row.order])]
    return tuple(out)


def _adds_up(row: Played, e: Entry) -> bool:
    """Whether the loops come out as the ledger has them; what went to a holder or came from one is not told
    here.
    """
    right = row.behind + sum(len(b.makes) for b in row.beats)
    left = len(row.left) - sum(b.takes for b in row.beats)
    return bool(e.held or e.returned) or (left, left + right) == (e.unworked, e.end)


def _played(row: Followed, faces: Sequence[int]) -> Played:
    e = row.entry
    rs = e.side is not Side.WS
    deeds = row.deeds[::-1] if row.from_right else row.deeds
    beats = [_beat(d, faces, rs=rs, from_right=row.from_right) for d in deeds]
    onto_left = _cast_onto_left(deeds, beats)
    taken = [loop.stitch for d in deeds for loop in (d.taken[::-1] if row.from_right else d.taken)]
    waiting = [loop.stitch for loop in row.line if id(loop) in row.waiting] if e.unworked else []
    if row.from_right:
        waiting.reverse()
    if e.unworked:
        beats.append(_turn(row, e))
    new = [-1] * onto_left
    left = tuple(_look(s, faces, rs=rs) for s in (*new, *taken, *waiting[: e.unworked]))
    return Played(
        order=e.order,
        label=e.label or e.kind.value.replace("-", " ").capitalize(),
        section=e.section,
        side="" if e.side is None or e.kind is Kind.ROUND else "RS" if rs else "WS",
        left=left,
        behind=max(e.start - e.worked - e.unworked, 0),
        beats=tuple(beats),
        after=e.end,
        waiting=e.unworked,
    )


def _cast_onto_left(deeds: Sequence[Deed], beats: list[Beat]) -> int:
    """Loops cast on at the beginning of a row go onto the left needle and are worked in the same row: how
    many there are. Their beats put nothing on the right needle, and those that work them take them.
    """
    cast = [n for n, d in enumerate(deeds) if d.name == "co" and not d.taken]
    lacking = {
        n: d.stitch.takes - len(d.taken)
        for n, d in enumerate(deeds)
        if d.stitch is not None and d.stitch.takes > len(d.taken)
    }
    many = sum(lacking.values())
    if not many or many != sum(len(beats[n].makes) for n in cast):
        return 0
    for n in cast:
        words = f"Cast on {count(len(beats[n].makes), 'stitch', 'stitches')} onto the left needle."
        beats[n] = replace(beats[n], makes=(), words=words)
    for n, more in lacking.items():
        takes = beats[n].takes + more
        words = _words(beats[n].name, takes, len(beats[n].makes), beats[n].does)
        beats[n] = replace(beats[n], takes=takes, words=words)
    return many


def _turn(row: Followed, e: Entry) -> Beat:
    wrapped = "The yarn goes round the next stitch. " if row.turned == "turn-wrapped" else ""
    waits = count(e.unworked, "stitch waits", "stitches wait")
    return Beat(
        name="turn",
        words=f"{wrapped}Turn: {waits} on the left needle, and a gap is left beside the first of them.",
        takes=0,
        makes=(),
        yarn="back",
        does="turn",
    )


def _beat(deed: Deed, faces: Sequence[int], *, rs: bool, from_right: bool) -> Beat:
    stitch = deed.stitch
    made = [] if deed.closed else [loop.stitch for loop in deed.made]
    if from_right:
        made.reverse()
    family = stitch.family if stitch is not None else None
    over = stitch is not None and stitch.loose is Loose.OVER and family is Family.LACE
    does: Literal["work", "slip", "cross", "close"] = (
        "close"
        if deed.closed
        else "slip"
        if family is Family.SLIP
        else "cross"
        if family in {Family.CABLE, Family.TWIST}
        else "work"
    )
    purl = stitch is not None and (Faced.PURL in stitch.faces[:1] or "wyif" in stitch.key)
    looks: tuple[Look, ...] = tuple("over" if over else _look(s, faces, rs=rs) for s in made)
    name = stitch.name_us if stitch is not None else _NAMES.get(deed.name, deed.name)
    return Beat(
        name=name,
        words=_words(name, len(deed.taken), len(made), does),
        takes=len(deed.taken),
        makes=looks,
        yarn="over" if over else "front" if purl else "back",
        does=does,
    )


def _words(name: str, takes: int, makes: int, does: str) -> str:
    said = f"{name[:1].upper()}{name[1:]}"
    if does == "close":
        return f"{said}, and bind it off: one loop fewer."
    if does == "slip":
        return f"{said}: the loop moves to the right needle, and no yarn is drawn through it."
    if takes == 0:
        lie = count(makes, "new loop lies", "new loops lie")
        return f"{said}: {lie} on the right needle; none leaves the left."
    if takes == makes == 1:
        return f"{said} 1." if name in {"knit", "purl"} else f"{said}."
    leave = count(takes, "loop leaves", "loops leave")
    lie = count(makes, "lies", "lie")
    return f"{said}: {leave} the left needle, {lie} on the right."


def _look(stitch: int, faces: Sequence[int], *, rs: bool) -> Look:
    if stitch < 0 or faces[stitch] == Face.NONE:
        return ""
    return "V" if (faces[stitch] == Face.KNIT) is rs else "bump"
